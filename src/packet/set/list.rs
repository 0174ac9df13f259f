//! Lists for machines and spreadsheets: fixed columns, one CSV file each.

use serde_json::{Value, json};

use crate::packet::text::{Text, Words};

/// How a column writes its texts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cell {
    /// As people read it (`12 ft 6 in`).
    Shown(&'static str),
    /// A figure as the bare number in its canonical unit (`150`).
    Number(&'static str),
}

impl Cell {
    /// The column's name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Shown(name) | Self::Number(name) => name,
        }
    }
}

/// The name and columns of a list.
#[derive(Debug)]
pub struct ListForm {
    /// The file's name without `.csv`.
    pub name: &'static str,
    /// Its columns in order.
    pub columns: &'static [Cell],
}

/// Pieces to cut.
pub const PIECES: ListForm = ListForm {
    name: "pieces",
    columns: &[
        Cell::Shown("tag"),
        Cell::Shown("system"),
        Cell::Shown("item"),
        Cell::Shown("stock"),
        Cell::Shown("length"),
        Cell::Number("length_in"),
        Cell::Shown("from"),
        Cell::Shown("to"),
        Cell::Shown("room"),
        Cell::Shown("story"),
    ],
};

/// Holes in trunks.
pub const HOLES: ListForm = ListForm {
    name: "holes",
    columns: &[
        Cell::Shown("tag"),
        Cell::Shown("trunk"),
        Cell::Shown("piece"),
        Cell::Number("distance_in"),
        Cell::Number("diameter_in"),
        Cell::Shown("side"),
    ],
};

/// Control wires, from terminal to terminal.
pub const WIRES: ListForm = ListForm {
    name: "wires",
    columns: &[
        Cell::Shown("cable"),
        Cell::Shown("conductor"),
        Cell::Shown("colour"),
        Cell::Shown("from"),
        Cell::Shown("to"),
    ],
};

/// What to buy.
pub const ORDER: ListForm = ListForm {
    name: "order",
    columns: &[
        Cell::Shown("item"),
        Cell::Shown("pack"),
        Cell::Number("quantity"),
        Cell::Shown("unit"),
        Cell::Number("price"),
        Cell::Shown("for"),
    ],
};

/// Outlets and their runs.
pub const OUTLETS: ListForm = ListForm {
    name: "outlets",
    columns: &[
        Cell::Shown("outlet"),
        Cell::Shown("room"),
        Cell::Shown("story"),
        Cell::Shown("surface"),
        Cell::Number("x_in"),
        Cell::Number("y_in"),
        Cell::Shown("trunk"),
        Cell::Number("take_off_in"),
        Cell::Shown("side"),
        Cell::Number("run_in"),
        Cell::Number("bends"),
        Cell::Number("airflow_cfm"),
    ],
};

/// Readings of the start-up record.
pub const READINGS: ListForm = ListForm {
    name: "readings",
    columns: &[
        Cell::Shown("reading"),
        Cell::Shown("at"),
        Cell::Number("expected"),
        Cell::Shown("unit"),
        Cell::Number("least"),
        Cell::Number("most"),
        Cell::Shown("measured"),
    ],
};

/// A list with its rows.
#[derive(Clone, Debug)]
pub struct List {
    form: &'static ListForm,
    rows: Vec<Vec<Text>>,
}

impl List {
    /// A list without rows.
    pub const fn new(form: &'static ListForm) -> Self {
        Self {
            form,
            rows: Vec::new(),
        }
    }

    /// Adds a row; cells that are missing stay empty.
    pub fn row(&mut self, cells: impl IntoIterator<Item = Text>) {
        self.rows.push(cells.into_iter().collect());
    }

    /// Where it stands in the set.
    pub fn file(&self) -> String {
        format!("lists/{}.csv", self.form.name)
    }

    fn written(&self, words: &Words) -> Vec<Vec<String>> {
        let row = |row: &Vec<Text>| {
            let mut cells = row.iter();
            let columns = self.form.columns.iter();
            columns
                .map(|column| match (cells.next(), column) {
                    (None, _) => String::new(),
                    (Some(text), Cell::Shown(_)) => text.plain(words),
                    (Some(text), Cell::Number(_)) => text.value(words),
                })
                .collect()
        };
        self.rows.iter().map(row).collect()
    }

    /// The list as CSV; none when memory ran out.
    pub fn csv(&self, words: &Words) -> Option<String> {
        let mut out = csv::Writer::from_writer(Vec::new());
        out.write_record(self.form.columns.iter().map(|column| column.name()))
            .ok()?;
        for row in self.written(words) {
            out.write_record(row.iter().map(|cell| harmless(cell)))
                .ok()?;
        }
        String::from_utf8(out.into_inner().ok()?).ok()
    }

    /// The list as JSON.
    pub fn json(&self, words: &Words) -> Value {
        let columns: Vec<_> = self
            .form
            .columns
            .iter()
            .map(|column| column.name())
            .collect();
        json!({ "file": self.file(), "columns": columns, "rows": self.written(words) })
    }
}

/// A spreadsheet takes a cell that starts like this for a formula; an apostrophe keeps it a text.
fn harmless(cell: &str) -> String {
    let risky = match cell.chars().next() {
        Some('=' | '+' | '@' | '\t') => true,
        Some('-') => cell.parse::<f64>().is_err(),
        _ => false,
    };
    if risky {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::Figure;
    use crate::packet::text::say;
    use crate::quantity::Length;

    #[test]
    fn lengths_stand_in_both_ways() {
        let length = Text::figure(&Figure::length("piece.m1.length", Length::sixteenths(2401)));
        let mut list = List::new(&PIECES);
        list.row([
            Text::tag("m1"),
            Text::tag("supply"),
            Text::tag("trunk"),
            Text::empty(),
            length.clone(),
            length,
        ]);
        assert_eq!(
            list.csv(Words::english()).as_deref(),
            Some(
                "tag,system,item,stock,length,length_in,from,to,room,story\n\
                 m1,supply,trunk,,12 ft 6 1/16 in,150.0625,,,,\n"
            )
        );
    }

    #[test]
    fn a_cell_is_never_a_formula_and_commas_stay_in_it() {
        assert_eq!(harmless("=1+1"), "'=1+1");
        assert_eq!(harmless("-north"), "'-north");
        assert_eq!(harmless("-2.5"), "-2.5");
        let mut list = List::new(&WIRES);
        list.row([Text::listed([
            Text::tag("a"),
            Text::from(say("drawing.north")),
        ])]);
        let csv = list.csv(Words::english()).unwrap_or_default();
        assert!(csv.ends_with("\"a, N\",,,,\n"), "{csv}");
    }
}
