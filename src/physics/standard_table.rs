//! Reads the data file of a published table: `#` comments, one header line, rows of plain cells.

/// The rows of one data file.
pub(super) struct StandardTable {
    columns: Vec<&'static str>,
    rows: Vec<Vec<&'static str>>,
}

/// One row, read by column name.
#[derive(Clone, Copy)]
pub(super) struct Entry<'a> {
    table: &'a StandardTable,
    cells: &'a [&'static str],
}

impl StandardTable {
    /// Reads a data file that is part of the program.
    pub(super) fn read(text: &'static str) -> Self {
        let mut lines = text
            .lines()
            .filter(|line| !line.starts_with('#') && !line.is_empty())
            .map(|line| line.split(',').collect());
        Self {
            columns: lines.next().unwrap_or_default(),
            rows: lines.collect(),
        }
    }

    /// Its rows in the order of the file.
    pub(super) fn entries(&self) -> impl Iterator<Item = Entry<'_>> {
        self.rows.iter().map(|cells| Entry { table: self, cells })
    }

    /// The row whose `column` reads `word`.
    pub(super) fn entry(&self, column: &str, word: &str) -> Option<Entry<'_>> {
        self.entries()
            .find(|entry| entry.text(column) == Some(word))
    }
}

impl Entry<'_> {
    /// The words of a cell; none when it is blank.
    pub(super) fn text(&self, column: &str) -> Option<&'static str> {
        let at = self.table.columns.iter().position(|name| *name == column)?;
        self.cells.get(at).copied().filter(|cell| !cell.is_empty())
    }

    /// The number in a cell; none when it is blank.
    pub(super) fn number(&self, column: &str) -> Option<f64> {
        self.text(column)?.parse().ok()
    }
}

#[cfg(test)]
impl StandardTable {
    /// Fails when a row has not one cell a column, or a cell of `numbers` is neither blank nor a number.
    pub(super) fn assert_whole(&self, numbers: &[&str]) {
        assert!(!self.rows.is_empty());
        for (row, entry) in self.rows.iter().zip(self.entries()) {
            assert_eq!(row.len(), self.columns.len(), "{row:?}");
            for column in numbers {
                assert!(self.columns.contains(column), "{column}");
                assert_eq!(entry.text(column).is_some(), entry.number(column).is_some());
            }
        }
    }
}
