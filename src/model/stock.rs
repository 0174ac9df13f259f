//! Stock named in a job stands in a catalog of the job: what no catalog holds is reported, each name once.

use crate::catalog::{CableUse, Catalog, PipeMaterial, Shelf as Sheets, Stated, nearest};
use crate::language::{Entry, Value, with_article};
use crate::quantity::{Dimension, read_all};
use crate::source::{Edit, Finding, Span, Spanned};

use super::builder::Builder;
use super::mistakes::MODEL_UNKNOWN;

/// Where the text of a slot is to stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kept {
    /// On this shelf of the catalogs.
    On(Shelf),
    /// On this shelf; what resembles nothing there is left to a rule.
    OnWhenNear(Shelf),
    /// On any shelf that is bought from.
    AnyShelf,
    /// The model's own reader looks it up.
    ByItsReader,
    /// The words are the planner's own.
    Words,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shelf {
    TrunkPipes,
    Tubes,
    Outlets,
    Orifices,
    Grilles,
    Filters,
    Pipes,
    LineSetSizes,
    Valves,
    Sealants,
    Pans,
    FloatSwitches,
    Cables,
    /// A circuit's: held among all cables, meant among those for power.
    PowerCables,
}

impl Shelf {
    const fn one(self) -> &'static str {
        match self {
            Self::TrunkPipes => "trunk pipe",
            Self::Tubes => "tube",
            Self::Outlets => "outlet",
            Self::Orifices => "orifice",
            Self::Grilles => "grille",
            Self::Filters => "filter",
            Self::Pipes => "pipe",
            Self::LineSetSizes => "refrigerant line",
            Self::Valves => "pipe fitting",
            Self::Sealants => "sealant or cement",
            Self::Pans => "pan",
            Self::FloatSwitches => "float switch",
            Self::Cables | Self::PowerCables => "cable",
        }
    }

    fn names(self, catalog: &Catalog) -> Vec<&str> {
        macro_rules! keys {
            ($shelf:ident) => {
                catalog.$shelf.keys().map(String::as_str).collect()
            };
        }
        match self {
            Self::TrunkPipes => keys!(trunk_pipes),
            Self::Tubes => keys!(tubes),
            Self::Outlets => keys!(outlets),
            Self::Orifices => keys!(orifices),
            Self::Grilles => keys!(grilles),
            Self::Filters => keys!(filters),
            Self::Pipes => keys!(pipes),
            Self::LineSetSizes => catalog
                .pipes
                .iter()
                .filter(|(_, pipe)| {
                    pipe.material
                        .get()
                        .is_none_or(|made| made == PipeMaterial::CopperRefrigerant)
                })
                .map(|(name, _)| name.as_str())
                .collect(),
            Self::Valves => keys!(pipe_fittings),
            Self::Sealants => keys!(sealants),
            Self::Pans => keys!(pans),
            Self::FloatSwitches => keys!(float_switches),
            Self::Cables => keys!(cables),
            Self::PowerCables => catalog
                .cables
                .iter()
                .filter(|(_, cable)| cable.use_for.get() != Some(CableUse::Control))
                .map(|(name, _)| name.as_str())
                .collect(),
        }
    }
}

/// Where the text in `slot` of `word`, in the block of `block`, is to stand. None for a slot that nobody has settled.
fn kept(block: &str, word: &str, slot: &str) -> Option<Kept> {
    Some(match (block, word, slot) {
        ("trunk" | "tee" | "branch", "pipe", _) => Kept::On(Shelf::TrunkPipes),
        ("return" | "ventilation", "duct", _) => Kept::On(Shelf::TrunkPipes),
        ("line-set", "suction" | "liquid" | "reduce", _) => Kept::On(Shelf::LineSetSizes),
        // A pipe that is smaller is one rule's question, whether it is held or not.
        ("drain", "reduce", _) => Kept::OnWhenNear(Shelf::Pipes),
        (_, "pipe" | "reduce", _) => Kept::On(Shelf::Pipes),
        // Whether an adapter is held and fits is one rule's question.
        (_, "adapter", _) => Kept::ByItsReader,
        (_, "tube", _) => Kept::On(Shelf::Tubes),
        (_, "orifice", _) => Kept::On(Shelf::Orifices),
        (_, "outlet", "model") => Kept::On(Shelf::Outlets),
        (_, "grille", _) => Kept::On(Shelf::Grilles),
        (_, "filter", _) => Kept::On(Shelf::Filters),
        (_, "solvent", _) => Kept::On(Shelf::Sealants),
        (_, "valve", _) => Kept::On(Shelf::Valves),
        ("pan", "switch", _) | (_, "float-switch", _) => Kept::On(Shelf::FloatSwitches),
        ("pan", "item", _) => Kept::On(Shelf::Pans),
        (_, "item" | "on-hand", _) => Kept::AnyShelf,
        ("circuit", "cable", _) => Kept::On(Shelf::PowerCables),
        ("cable", "type", _) => Kept::On(Shelf::Cables),
        (_, "model" | "voltage-setting" | "fitted" | "catalog" | "standards" | "include", _) => {
            Kept::ByItsReader
        }
        (_, "joint" | "insulation" | "seen", _) => Kept::Words,
        (_, "job" | "revision" | "prepared-by" | "address" | "origin", _) => Kept::Words,
        (_, "waive" | "note", _) => Kept::Words,
        _ => return None,
    })
}

/// Whether `size` is the outside diameter of a refrigerant line.
fn is_line_size(catalog: &Catalog, size: &str) -> bool {
    let outside = read_all(size, Dimension::Length)
        .ok()
        .and_then(|quantity| quantity.length());
    outside.is_some()
        && catalog.pipes.values().any(|pipe| {
            pipe.material
                .get()
                .is_none_or(|made| made == PipeMaterial::CopperRefrigerant)
                && Stated::get(&pipe.outside).is_none_or(|held| Some(held) == outside)
        })
}

/// A name that no catalog holds, wherever the job writes it.
#[derive(Clone, Debug)]
struct Unheld {
    what: String,
    name: String,
    places: Vec<Span>,
    near: Option<String>,
}

/// What the catalogs of the job lack.
#[derive(Clone, Debug, Default)]
pub(super) struct Lacking {
    unheld: Vec<Unheld>,
    /// Shelves that stand empty, with the first name that was to be on each.
    empty: Vec<(String, Span, String)>,
}

impl Lacking {
    /// Notes a name that no catalog holds; `any` says whether its shelf holds anything.
    fn note(&mut self, what: &str, name: &str, at: Span, near: Option<&str>, any: bool) {
        if !any {
            if self.empty.iter().all(|(shelf, ..)| shelf != what) {
                self.empty.push((what.to_owned(), at, name.to_owned()));
            }
            return;
        }
        if let Some(known) = self.unheld.iter_mut().find(|known| known.name == name) {
            known.places.push(at);
            return;
        }
        self.unheld.push(Unheld {
            what: what.to_owned(),
            name: name.to_owned(),
            places: vec![at],
            near: near.map(str::to_owned),
        });
    }

    fn walk(&mut self, catalog: &Catalog, block: &str, entries: &[Entry]) {
        for entry in entries {
            let word = entry.word.word;
            for field in &entry.fields {
                if let (Value::Text(text), false) = (&field.value.value, entry.flawed)
                    && let Some(kept) = kept(block, word, field.slot)
                {
                    self.look(catalog, kept, text, field.value.span);
                }
            }
            self.walk(catalog, word, &entry.body);
        }
    }

    fn look(&mut self, catalog: &Catalog, kept: Kept, text: &str, span: Span) {
        let (what, known) = match kept {
            Kept::On(Shelf::LineSetSizes) if is_line_size(catalog, text) => return,
            // A control cable on a circuit is one rule's question.
            Kept::On(Shelf::PowerCables) if catalog.cables.contains_key(text) => return,
            Kept::On(shelf) | Kept::OnWhenNear(shelf) => (shelf.one(), shelf.names(catalog)),
            Kept::AnyShelf => ("stock item", catalog.stock_names()),
            Kept::ByItsReader | Kept::Words => return,
        };
        if !known.contains(&text) {
            let near = nearest(known.iter().copied(), text).or_else(|| {
                known
                    .iter()
                    .copied()
                    .find(|name| name.starts_with(&format!("{text} ")))
            });
            if near.is_none() && matches!(kept, Kept::OnWhenNear(_)) {
                return;
            }
            self.note(what, text, span, near, !known.is_empty());
        }
    }

    /// One finding for all shelves that stand empty: most often one `catalog` line is what is lacking.
    fn of_empty_shelves(&self) -> Option<Finding> {
        let (what, span, name) = self.empty.iter().min_by_key(|(_, span, _)| *span)?;
        let shelves: Vec<&str> = self
            .empty
            .iter()
            .map(|(shelf, ..)| shelf.as_str())
            .collect();
        let shelves = match shelves.as_slice() {
            [rest @ .., last] if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
            _ => what.clone(),
        };
        Some(Finding::new(
            &MODEL_UNKNOWN,
            *span,
            format!(
                "no catalog of the job holds {} `{name}`",
                with_article(what)
            ),
            format!(
                "no catalog of the job holds {}: add a line `catalog \"…\"`",
                with_article(&shelves)
            ),
        ))
    }

    fn findings(self) -> Vec<Finding> {
        let mut findings: Vec<Finding> = self.of_empty_shelves().into_iter().collect();
        for unheld in self.unheld {
            let Some(first) = unheld.places.iter().min() else {
                continue;
            };
            let help = unheld.near.as_ref().map_or_else(
                || "name it as the catalog does".to_owned(),
                |near| format!("write `{near}`"),
            );
            let mut finding = Finding::new(
                &MODEL_UNKNOWN,
                *first,
                format!(
                    "no catalog of the job holds {} `{}`",
                    with_article(&unheld.what),
                    unheld.name
                ),
                help,
            );
            if let Some(near) = &unheld.near {
                finding.edits = unheld
                    .places
                    .iter()
                    .map(|place| Edit {
                        span: *place,
                        text: format!("\"{near}\""),
                    })
                    .collect();
            }
            findings.push(finding);
        }
        findings
    }
}

impl<'a> Builder<'a> {
    /// The sheet of a model on its shelf; notes a model that stands on none.
    pub(super) fn sheet<T>(
        &mut self,
        what: &str,
        shelf: &'a Sheets<T>,
        model: &Spanned<String>,
    ) -> Option<&'a T> {
        let found = shelf.get(&model.value);
        if found.is_none() {
            let near = shelf.nearest(&model.value);
            self.lacking
                .note(what, &model.value, model.span, near, !shelf.is_empty());
        }
        found
    }
}

/// Reports the stock and models that no catalog of the job holds.
pub(super) fn settle(builder: &mut Builder<'_>, entries: &[Entry]) {
    let mut lacking = std::mem::take(&mut builder.lacking);
    // It may stand in the catalog that could not be read, which is reported already.
    if builder.catalog.gaps {
        return;
    }
    lacking.walk(builder.catalog, "", entries);
    for finding in lacking.findings() {
        builder.report(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::{Element, SlotType, all_words};

    fn text_slots(elements: &[Element], out: &mut Vec<&'static str>) {
        for element in elements {
            match element {
                Element::Slot(slot) if slot.kind == SlotType::Text => out.push(slot.name),
                Element::Group { parts, .. } => text_slots(parts, out),
                _ => {}
            }
        }
    }

    #[test]
    fn every_quoted_text_of_the_language_is_settled() {
        let mut seen = 0;
        for (path, word) in all_words() {
            let mut slots = Vec::new();
            text_slots(&word.shape().elements, &mut slots);
            for slot in slots {
                let block = path.last().copied().unwrap_or("");
                assert!(
                    kept(block, word.word, slot).is_some(),
                    "where does `{slot}` of `{block}` `{}` stand?",
                    word.word
                );
                seen += 1;
            }
        }
        assert!(seen > 40, "{seen} slots");
    }
}
