//! A column of a table: its name, what part it plays, its unit and its range.

/// What part a column plays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    /// Names the row; copied.
    Key,
    /// Copied as it is.
    Text,
    /// A word that selects.
    Choice,
    /// Given.
    Input,
    /// Used when filled, computed when empty.
    Property,
    /// Always computed, never read.
    Result,
}

/// A column of a table.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    /// As the header spells it.
    pub(super) name: &'static str,
    /// Its part.
    pub(super) role: Role,
    /// The unit of its numbers; empty for words and bare numbers.
    pub(super) unit: &'static str,
    /// Whether it holds words and not numbers.
    pub(super) words: bool,
    /// Least and most that is accepted.
    pub(super) range: (f64, f64),
    /// A result that is given instead when this choice column names it with this word.
    pub(super) given: Option<(&'static str, &'static str)>,
}

impl Column {
    const fn of(name: &'static str, role: Role, unit: &'static str, words: bool) -> Self {
        Self {
            name,
            role,
            unit,
            words,
            range: (-1e12, 1e12),
            given: None,
        }
    }

    /// A name of the row.
    pub(super) const fn key(name: &'static str) -> Self {
        Self::of(name, Role::Key, "", true)
    }

    /// Copied words.
    pub(super) const fn text(name: &'static str) -> Self {
        Self::of(name, Role::Text, "", true)
    }

    /// A word that selects.
    pub(super) const fn choice(name: &'static str) -> Self {
        Self::of(name, Role::Choice, "", true)
    }

    /// A number that is given.
    pub(super) const fn input(name: &'static str, unit: &'static str) -> Self {
        Self::of(name, Role::Input, unit, false)
    }

    /// Words that are given.
    pub(super) const fn input_words(name: &'static str) -> Self {
        Self::of(name, Role::Input, "", true)
    }

    /// A number that is used when filled and computed when empty.
    pub(super) const fn property(name: &'static str, unit: &'static str) -> Self {
        Self::of(name, Role::Property, unit, false)
    }

    /// A number or word that is computed.
    pub(super) const fn result(name: &'static str, unit: &'static str) -> Self {
        Self::of(name, Role::Result, unit, false)
    }

    /// With the range that is accepted.
    pub(super) const fn within(self, least: f64, most: f64) -> Self {
        Self {
            range: (least, most),
            ..self
        }
    }

    /// A result that is an input in rows whose `choice` column says `word`.
    pub(super) const fn given_when(self, choice: &'static str, word: &'static str) -> Self {
        Self {
            given: Some((choice, word)),
            ..self
        }
    }
}
