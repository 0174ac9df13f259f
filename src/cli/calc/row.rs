//! One case: the inputs of a row as words and numbers, and the answers that go back into it.

use super::column::{Column, Role};
use super::number::ten_digits;

/// What is wrong with a row, in words that follow the row's place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Fault(String);

impl Fault {
    /// A fault of the row as a whole.
    pub(super) fn new(text: impl Into<String>) -> Self {
        Self(text.into())
    }

    /// The words.
    pub(super) fn text(&self) -> &str {
        &self.0
    }
}

/// The inputs of one case. Results are not in it, save the one that a choice declares as given.
pub(super) struct Row {
    columns: &'static [Column],
    cells: Vec<(&'static str, String)>,
    /// Typed on the command line, not read from a table.
    pub(super) typed: bool,
}

impl Row {
    /// From the words of every column; result columns are dropped here, so that nothing can read them.
    pub(super) fn new(columns: &'static [Column], text_of: impl Fn(&str) -> String) -> Self {
        let readable = |column: &Column| {
            column.role != Role::Result
                || column.given.is_some_and(|(choice, word)| {
                    text_of(choice).split('+').any(|given| given.trim() == word)
                })
        };
        let cells = columns
            .iter()
            .filter(|column| readable(column))
            .map(|column| (column.name, text_of(column.name).trim().to_owned()))
            .filter(|(_, text)| !text.is_empty())
            .collect();
        Self {
            columns,
            cells,
            typed: false,
        }
    }

    /// The words of a column; none when empty.
    pub(super) fn word(&self, name: &str) -> Option<&str> {
        self.cells
            .iter()
            .find(|(column, _)| *column == name)
            .map(|(_, text)| text.as_str())
    }

    /// The words of a column that is needed.
    pub(super) fn needed_word(&self, name: &str) -> Result<&str, Fault> {
        self.word(name)
            .ok_or_else(|| Fault(format!("`{name}` is empty")))
    }

    /// The number in a column; none when empty.
    pub(super) fn number(&self, name: &str) -> Result<Option<f64>, Fault> {
        let Some(text) = self.word(name) else {
            return Ok(None);
        };
        let value: f64 = text
            .parse()
            .ok()
            .filter(|value: &f64| value.is_finite())
            .ok_or_else(|| Fault(format!("`{name}` is `{text}`, which is not a number")))?;
        let range = self
            .columns
            .iter()
            .find(|column| column.name == name)
            .map_or((f64::MIN, f64::MAX), |column| column.range);
        if value < range.0 || value > range.1 {
            return Err(Fault(format!(
                "`{name}` is {text}, outside {} to {}",
                ten_digits(range.0),
                ten_digits(range.1)
            )));
        }
        Ok(Some(value))
    }

    /// The number in a column that is needed.
    pub(super) fn needed(&self, name: &str) -> Result<f64, Fault> {
        self.number(name)?
            .ok_or_else(|| Fault(format!("`{name}` is empty")))
    }

    /// Everything that is no number or out of range, whether this row needs it or not.
    pub(super) fn faults(&self) -> Vec<Fault> {
        self.columns
            .iter()
            .filter(|column| !column.words)
            .filter_map(|column| self.number(column.name).err())
            .collect()
    }
}

/// The result of one case: texts by column. What is left out does not apply.
#[derive(Default)]
pub(super) struct Answers(Vec<(&'static str, String)>);

impl Answers {
    /// With a number.
    pub(super) fn number(mut self, name: &'static str, value: f64) -> Self {
        self.0.push((name, ten_digits(value)));
        self
    }

    /// With words.
    pub(super) fn words(mut self, name: &'static str, text: impl Into<String>) -> Self {
        self.0.push((name, text.into()));
        self
    }

    /// With `true` or `false`.
    pub(super) fn flag(self, name: &'static str, value: bool) -> Self {
        self.words(name, if value { "true" } else { "false" })
    }

    /// The text for a column; none where it does not apply.
    pub(super) fn get(&self, name: &str) -> Option<&str> {
        self.0
            .iter()
            .find(|(column, _)| *column == name)
            .map(|(_, text)| text.as_str())
    }

    /// Whether each number is one: overflow is a fault of the row, not a result.
    pub(super) fn finite(&self) -> bool {
        self.0
            .iter()
            .all(|(_, text)| !matches!(text.as_str(), "inf" | "-inf" | "NaN"))
    }
}
