//! What sits on a trunk at a station: the unit's face, tees, elbows, its end.

use crate::quantity::Length;
use crate::source::Span;

/// What sits on a trunk at a station.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FittingKind {
    /// The unit's face.
    Unit,
    /// The tee that a branch starts at.
    Start,
    /// A tee, by the branch's name.
    Tee(String),
    /// An elbow, or a change of direction.
    Elbow,
    /// The end cap.
    Cap,
    /// An end without a cap.
    End,
}

impl FittingKind {
    /// Its name in reports.
    pub fn words(&self) -> String {
        match self {
            Self::Unit => "the unit's face".to_owned(),
            Self::Start => "the tee that the branch starts at".to_owned(),
            Self::Tee(name) => format!("tee `{name}`"),
            Self::Elbow => "the elbow".to_owned(),
            Self::Cap => "the end cap".to_owned(),
            Self::End => "the end of the trunk".to_owned(),
        }
    }
}

/// A fitting on a trunk.
#[derive(Clone, Debug)]
pub struct Fitting {
    /// What it is.
    pub kind: FittingKind,
    /// Where, along the trunk.
    pub station: Length,
    /// The words that put it there.
    pub span: Span,
}
