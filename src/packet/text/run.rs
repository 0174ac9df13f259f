//! Printed text as it is laid: pieces of one kind each.

/// Where a piece of printed text comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RunKind {
    /// The figure with this id.
    Figure(String),
    /// Words of a spec or catalog, at `file:line`.
    Quote(String),
    /// Words of the table.
    Words,
    /// Words of the finding or rule with this code.
    Report(&'static str),
    /// The tag of a piece.
    Tag,
    /// A blank to write on.
    Blank,
}

impl RunKind {
    /// The word for it in JSON and templates.
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Figure(_) => "figure",
            Self::Quote(_) => "quote",
            Self::Words => "words",
            Self::Report(_) => "report",
            Self::Tag => "tag",
            Self::Blank => "blank",
        }
    }
}

/// A piece of printed text of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Where it comes from.
    pub kind: RunKind,
    /// What is printed.
    pub text: String,
}
