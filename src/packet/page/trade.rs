//! Whose hands a page is for.

use crate::packet::text::{Phrase, say};

/// A trade of the crew.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trade {
    /// Leads the crew, signs off.
    Lead,
    /// Trunk, tubes, return, setting the unit.
    SheetMetal,
    /// Drain, hot water.
    Plumber,
    /// Feed and controls.
    Electrician,
    /// Line set and charge.
    Refrigeration,
    /// Start-up and fault finding.
    ServiceTech,
}

impl Trade {
    /// All of them in the order of work.
    pub const ALL: [Self; 6] = [
        Self::Lead,
        Self::SheetMetal,
        Self::Plumber,
        Self::Electrician,
        Self::Refrigeration,
        Self::ServiceTech,
    ];

    /// The word for it on the command line and in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Lead => "lead",
            Self::SheetMetal => "sheet-metal",
            Self::Plumber => "plumber",
            Self::Electrician => "electrician",
            Self::Refrigeration => "refrigeration",
            Self::ServiceTech => "service-tech",
        }
    }

    /// Reads the word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|trade| trade.word() == word)
    }

    /// The word for it on paper.
    pub const fn title(self) -> Phrase {
        match self {
            Self::Lead => say("trade.lead"),
            Self::SheetMetal => say("trade.sheet-metal"),
            Self::Plumber => say("trade.plumber"),
            Self::Electrician => say("trade.electrician"),
            Self::Refrigeration => say("trade.refrigeration"),
            Self::ServiceTech => say("trade.service-tech"),
        }
    }
}
