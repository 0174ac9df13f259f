//! The lists as text, in the columns that other programs rely on.

use crate::catalog::Price;
use crate::figures::Ledger;
use crate::quantity::{Length, length_text, number_text};

use super::take_off::Material;

/// A list with its rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct List {
    /// The file's name.
    pub name: &'static str,
    /// Its columns.
    pub columns: &'static [&'static str],
    /// Its rows, a cell for every column.
    pub rows: Vec<Vec<String>>,
}

fn inches(length: Option<Length>) -> String {
    length.map_or_else(String::new, |length| number_text(length.to_inches(), 4))
}

fn words(text: Option<&String>) -> String {
    text.cloned().unwrap_or_default()
}

impl Material {
    /// Every list; `ledger` holds the figures that readings expect.
    pub fn lists(&self, ledger: &Ledger) -> Vec<List> {
        vec![
            self.pieces_list(),
            self.holes_list(),
            self.order_list(),
            self.wires_list(),
            self.outlets_list(ledger),
            self.readings_list(ledger),
        ]
    }

    fn pieces_list(&self) -> List {
        let rows = self.pieces.iter().map(|piece| {
            vec![
                piece.tag.clone(),
                piece.system.word().to_owned(),
                piece.item.clone(),
                piece.stock.map_or_else(String::new, length_text),
                match (&piece.cut, &piece.reason) {
                    (Some(cut), _) => length_text(*cut),
                    (None, reason) => words(reason.as_ref()),
                },
                inches(piece.cut),
                piece.from.clone(),
                piece.to.clone(),
                words(piece.room.as_ref()),
                words(piece.story.as_ref()),
            ]
        });
        List {
            name: "pieces.csv",
            columns: &[
                "tag",
                "system",
                "item",
                "stock",
                "length",
                "length_in",
                "from",
                "to",
                "room",
                "story",
            ],
            rows: rows.collect(),
        }
    }

    fn holes_list(&self) -> List {
        let rows = self.holes.iter().map(|hole| {
            vec![
                hole.tag.clone(),
                hole.trunk.clone(),
                words(hole.piece.as_ref()),
                inches(Some(hole.distance)),
                inches(hole.diameter),
                hole.side.clone(),
            ]
        });
        List {
            name: "holes.csv",
            columns: &[
                "tag",
                "trunk",
                "piece",
                "distance_in",
                "diameter_in",
                "side",
            ],
            rows: rows.collect(),
        }
    }

    fn order_list(&self) -> List {
        let rows = self
            .needs
            .iter()
            .filter(|need| need.quantity() != Some(0))
            .map(|need| {
                vec![
                    need.item.clone(),
                    need.pack.clone(),
                    need.quantity()
                        .map_or_else(|| "as needed".to_owned(), |n| n.to_string()),
                    need.unit.word().to_owned(),
                    need.price.map_or_else(String::new, Price::text),
                    match &need.missing {
                        Some(reason) => format!("{} ({reason})", need.uses.join(", ")),
                        None => need.uses.join(", "),
                    },
                ]
            });
        List {
            name: "order.csv",
            columns: &["item", "pack", "quantity", "unit", "price", "for"],
            rows: rows.collect(),
        }
    }

    fn wires_list(&self) -> List {
        let rows = self.wires.iter().map(|wire| {
            vec![
                wire.cable.clone(),
                wire.conductor.to_string(),
                wire.colour.clone(),
                wire.from.clone(),
                wire.to.clone(),
            ]
        });
        List {
            name: "wires.csv",
            columns: &["cable", "conductor", "colour", "from", "to"],
            rows: rows.collect(),
        }
    }

    fn outlets_list(&self, ledger: &Ledger) -> List {
        let rows = self.outlets.iter().map(|outlet| {
            let airflow = outlet.airflow.as_ref().and_then(|id| ledger.real(id));
            vec![
                outlet.name.clone(),
                outlet.room.clone(),
                outlet.story.clone(),
                outlet.surface.clone(),
                inches(outlet.x),
                inches(outlet.y),
                words(outlet.trunk.as_ref()),
                inches(outlet.take_off),
                words(outlet.side.as_ref()),
                inches(outlet.run),
                outlet.bends.map_or_else(String::new, |n| n.to_string()),
                airflow.map_or_else(String::new, |flow| number_text(flow, 1)),
            ]
        });
        List {
            name: "outlets.csv",
            columns: &[
                "outlet",
                "room",
                "story",
                "surface",
                "x_in",
                "y_in",
                "trunk",
                "take_off_in",
                "side",
                "run_in",
                "bends",
                "airflow_cfm",
            ],
            rows: rows.collect(),
        }
    }

    fn readings_list(&self, ledger: &Ledger) -> List {
        let number = |id: &Option<String>| {
            id.as_ref()
                .and_then(|id| ledger.real(id))
                .map_or_else(String::new, |value| number_text(value, 2))
        };
        let rows = self.readings.iter().map(|reading| {
            vec![
                reading.reading.to_owned(),
                reading.at.clone(),
                number(&reading.expected),
                reading.unit.to_owned(),
                number(&reading.least),
                number(&reading.most),
                String::new(),
            ]
        });
        List {
            name: "readings.csv",
            columns: &[
                "reading", "at", "expected", "unit", "least", "most", "measured",
            ],
            rows: rows.collect(),
        }
    }
}
