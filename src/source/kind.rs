//! What every sort of finding declares once, beside the function that raises it.

/// How bad it is on site.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Severity {
    /// A better way exists.
    Advice,
    /// A call-back is likely.
    Warning,
    /// Can't be built, or does harm.
    Error,
}

impl Severity {
    /// The word that reports print.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Advice => "advice",
        }
    }

    /// Reads the word, as shop standards write it.
    pub fn from_word(word: &str) -> Option<Self> {
        match word {
            "error" => Some(Self::Error),
            "warning" => Some(Self::Warning),
            "advice" => Some(Self::Advice),
            _ => None,
        }
    }
}

/// The reason page of a rule: four fixed parts, the fourth being the kind's source.
#[derive(Clone, Copy, Debug)]
pub struct Why {
    /// What it checks.
    pub checks: &'static str,
    /// What happens on site when it is broken.
    pub on_site: &'static str,
    /// How to put it right.
    pub fix: &'static str,
}

/// A sort of finding: its code is never reused once released.
#[derive(Clone, Copy, Debug)]
pub struct Kind {
    /// Three letters of the system and three digits.
    pub code: &'static str,
    /// The fault in one or more words joined by `_`; equals the file's name for rules.
    pub name: &'static str,
    /// The fault as a person would say it, lower case.
    pub title: &'static str,
    /// Severity unless shop standards say otherwise.
    pub severity: Severity,
    /// Standard, edition and section; or `common practice`.
    pub source: &'static str,
    /// The reason page.
    pub why: Why,
}
