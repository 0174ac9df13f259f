//! One piece to cut.

use crate::quantity::Length;
use crate::source::Span;

use super::stock::Shelf;

/// What a piece belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum System {
    /// Trunk.
    Trunk,
    /// A branch of the trunk.
    Branch,
    /// A tube to an outlet.
    Run,
    /// A condensate drain.
    Drain,
    /// Hot water.
    Water,
    /// Refrigerant.
    LineSet,
    /// Power cable.
    Power,
    /// Control cable.
    Control,
}

impl System {
    /// Its word in the lists.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Trunk => "trunk",
            Self::Branch => "branch",
            Self::Run => "run",
            Self::Drain => "drain",
            Self::Water => "water-pipe",
            Self::LineSet => "line-set",
            Self::Power => "circuit",
            Self::Control => "cable",
        }
    }

    /// The letter that its tags start with.
    pub const fn letter(self) -> char {
        match self {
            Self::Trunk => 'T',
            Self::Branch => 'B',
            Self::Run => 'R',
            Self::Drain => 'D',
            Self::Water => 'W',
            Self::LineSet => 'L',
            Self::Power => 'P',
            Self::Control => 'C',
        }
    }
}

/// One piece to cut.
#[derive(Clone, Debug)]
pub struct Piece {
    /// Its tag, in order of build (`T-01`).
    pub tag: String,
    /// What it belongs to.
    pub system: System,
    /// The trunk, run, drain or cable it is part of.
    pub route: String,
    /// The stock it is cut from, as the catalog names it.
    pub item: String,
    /// The shelf that holds the stock.
    pub shelf: Shelf,
    /// The length of the stock; none when the catalog does not say it.
    pub stock: Option<Length>,
    /// Its exact length; none when it is not known.
    pub length: Option<Length>,
    /// The length to saw: the exact one, rounded by `to_saw`.
    pub cut: Option<Length>,
    /// Why it has no length.
    pub reason: Option<String>,
    /// Whether it is cut to fit on site.
    pub field_cut: bool,
    /// Whether it comes off without cutting.
    pub removable: bool,
    /// What is at its start.
    pub from: String,
    /// What is at its end.
    pub to: String,
    /// Its room, for tubes.
    pub room: Option<String>,
    /// The story it stands on.
    pub story: Option<String>,
    /// The statement it comes from.
    pub span: Span,
    /// How many of its ends stand in a fitting.
    pub joints: usize,
}

impl Piece {
    /// The id of its exact length in the ledger.
    pub fn length_figure(&self) -> String {
        format!("piece.{}.length", self.tag.to_ascii_lowercase())
    }

    /// The id of its cut length in the ledger.
    pub fn cut_figure(&self) -> String {
        format!("piece.{}.cut", self.tag.to_ascii_lowercase())
    }
}

/// The length to saw: down to the sixteenth of an inch, which a tape shows and a joint takes up (common practice).
/// The one place where a length of the material is rounded.
pub(super) const fn to_saw(length: Length) -> Length {
    length.round_down_to(Length::sixteenths(1))
}
