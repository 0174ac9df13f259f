//! All figures of a job, in the order in which they were computed.

use std::borrow::Borrow;
use std::hash::{Hash, Hasher};

use foldhash::fast::RandomState;
use indexmap::IndexSet;

use super::{Figure, FigureValue};
use crate::quantity::{Length, Slope};

/// The figures of one job by id.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    figures: IndexSet<ById, RandomState>,
}

/// A figure that is told from others by its id alone, which so stands once in memory.
#[derive(Clone, Debug)]
struct ById(Figure);

impl PartialEq for ById {
    fn eq(&self, other: &Self) -> bool {
        self.0.id == other.0.id
    }
}

impl Eq for ById {}

impl Hash for ById {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.0.id.hash(state);
    }
}

impl Borrow<str> for ById {
    fn borrow(&self) -> &str {
        &self.0.id
    }
}

impl Ledger {
    /// Enters a figure; a second one under the same id replaces the first in its place.
    pub fn enter(&mut self, figure: Figure) {
        self.figures.replace(ById(figure));
    }

    /// The figure named `id`.
    pub fn get(&self, id: &str) -> Option<&Figure> {
        self.figures.get(id).map(|found| &found.0)
    }

    /// The number of figure `id` in its canonical unit; none if absent or not known.
    pub fn real(&self, id: &str) -> Option<f64> {
        self.get(id).and_then(Figure::real)
    }

    /// The exact length of figure `id`.
    pub fn length(&self, id: &str) -> Option<Length> {
        match self.get(id)?.value {
            FigureValue::Length(length) => Some(length),
            _ => None,
        }
    }

    /// The exact slope of figure `id`.
    pub fn slope(&self, id: &str) -> Option<Slope> {
        match self.get(id)?.value {
            FigureValue::Slope(slope) => Some(slope),
            _ => None,
        }
    }

    /// The word of figure `id`.
    pub fn word(&self, id: &str) -> Option<&str> {
        match &self.get(id)?.value {
            FigureValue::Text(text) => Some(text),
            _ => None,
        }
    }

    /// Why figure `id` is not known; none when it is known or absent.
    pub fn reason(&self, id: &str) -> Option<&str> {
        match &self.get(id)?.value {
            FigureValue::Unknown(reason) => Some(reason),
            _ => None,
        }
    }

    /// All figures in order.
    pub fn iter(&self) -> impl Iterator<Item = &Figure> {
        self.figures.iter().map(|entered| &entered.0)
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.figures.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.figures.is_empty()
    }

    /// The known id nearest to `id`.
    pub fn nearest(&self, id: &str) -> Option<&str> {
        self.figures
            .iter()
            .map(|ById(known)| (strsim::osa_distance(&known.id, id), known.id.as_str()))
            .min()
            .filter(|(distance, known)| *distance <= known.len() / 2)
            .map(|(_, known)| known)
    }
}
