//! Holes and tees of a trunk, by distance.

use crate::quantity::Length;
use crate::source::Span;

/// What a place on a trunk is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HoleKind {
    /// The take-off of a run, by its name.
    TakeOff(String),
    /// The tee of a branch, by its name: a fitting, no hole to cut.
    Tee(String),
}

/// A hole to cut, or a tee, on a trunk.
#[derive(Clone, Debug)]
pub struct Hole {
    /// The tag of the run's tube (`R-05`), or the branch's name.
    pub tag: String,
    /// What it is for.
    pub kind: HoleKind,
    /// The trunk or branch it is on.
    pub trunk: String,
    /// The piece it is cut in; none on a tee and where the pieces are not known.
    pub piece: Option<String>,
    /// Distance along its trunk's middle: from the unit's face, or from the tee for a branch.
    pub distance: Length,
    /// Distance along the trunks from the unit's face.
    pub from_unit: Option<Length>,
    /// Distance from the end of its piece that looks to the unit.
    pub in_piece: Option<Length>,
    /// Diameter to cut.
    pub diameter: Option<Length>,
    /// On which side.
    pub side: String,
    /// Whether it meets a joint of two pieces.
    pub on_joint: bool,
    /// Why the diameter or the piece is not known.
    pub reason: Option<String>,
    /// The statement.
    pub span: Span,
}

impl Hole {
    fn id(&self, what: &str) -> String {
        format!("hole.{}.{what}", self.tag.to_ascii_lowercase())
    }

    /// The id of the distance along its trunk in the ledger.
    pub fn distance_figure(&self) -> String {
        self.id("distance")
    }

    /// The id of the distance from the end of its piece.
    pub fn in_piece_figure(&self) -> String {
        self.id("in_piece")
    }

    /// The id of the distance from the unit's face along the trunks.
    pub fn from_unit_figure(&self) -> String {
        self.id("from_unit")
    }

    /// The id of whether it meets a joint, entered where its piece is known.
    pub fn on_joint_figure(&self) -> String {
        self.id("on_joint")
    }

    /// The id of its diameter.
    pub fn diameter_figure(&self) -> String {
        self.id("diameter")
    }
}
