//! The model in the making: what its readers ask of an entry, and where they put names, findings and open values.

use std::collections::BTreeSet;

use crate::catalog::Catalog;
use crate::language::{Asked, Entry};
use crate::quantity::{Length, length_text};
use crate::source::{Finding, Spanned};

use super::build::Model;
use super::mistakes::{LEG_MISSING, NEGATIVE_SIZE};
use super::names::Names;
use super::open::Open;
use super::stock::Lacking;

/// The model in the making.
pub(super) struct Builder<'a> {
    pub(super) model: Model,
    pub(super) names: Names,
    pub(super) catalog: &'a Catalog,
    pub(super) findings: &'a mut Vec<Finding>,
    pub(super) lacking: Lacking,
    /// Units and trunks that lie where they cannot be: what is measured from them stays silent.
    pub(super) beyond: BTreeSet<String>,
    /// Things named whose own lines were misread or are not known: what refers to them stays silent.
    half: BTreeSet<(&'static str, String)>,
}

impl<'a> Builder<'a> {
    pub(super) fn new(model: Model, catalog: &'a Catalog, findings: &'a mut Vec<Finding>) -> Self {
        Self {
            model,
            names: Names::default(),
            catalog,
            findings,
            lacking: Lacking::default(),
            beyond: BTreeSet::new(),
            half: BTreeSet::new(),
        }
    }
}

impl Builder<'_> {
    pub(super) fn report(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    pub(super) fn enter(&mut self, kind: &'static str, name: &Spanned<String>) -> bool {
        self.names.enter(kind, name, self.findings)
    }

    pub(super) fn expect(&mut self, kinds: &[&'static str], name: &Spanned<String>) -> bool {
        // A thing whose own lines were misread is known by name, but not to be spoken of.
        if kinds
            .iter()
            .any(|kind| self.half.contains(&(*kind, name.value.clone())))
        {
            return false;
        }
        if self.model.misread.contains(&name.value) && !self.names.has(kinds, &name.value) {
            return false;
        }
        self.names.expect(kinds, name, self.findings)
    }

    /// Something is named but part of it is unknown: what refers to it stays silent.
    pub(super) fn half_known(&mut self, kind: &'static str, name: &str) {
        self.half.insert((kind, name.to_owned()));
    }

    /// Whether anything of `kind` was misread or is half known.
    pub(super) fn misread(&self, kind: &str) -> bool {
        self.half.iter().any(|(half, _)| *half == kind)
    }

    fn settle<T>(&mut self, entry: &Entry, asked: Asked<T>) -> Option<Spanned<T>> {
        match asked {
            Asked::Known(value) => Some(value),
            Asked::Open(open) => {
                let what = entry.word.word;
                let bought = matches!(
                    what,
                    "pipe"
                        | "model"
                        | "cable"
                        | "tube"
                        | "type"
                        | "measured"
                        | "adapter"
                        | "item"
                        | "run"
                );
                self.model.open.push(Open {
                    unknown: open.value,
                    what: format!("`{what}`"),
                    span: open.span,
                    bought,
                });
                None
            }
            Asked::Bad | Asked::Absent => None,
        }
    }

    pub(super) fn length(&mut self, entry: &Entry, slot: &str) -> Option<Spanned<Length>> {
        self.settle(entry, entry.length(slot))
    }

    /// A length that has to be above zero.
    pub(super) fn size(&mut self, entry: &Entry, slot: &str) -> Option<Spanned<Length>> {
        let length = self.length(entry, slot)?;
        if length.value > Length::ZERO {
            return Some(length);
        }
        self.report(Finding::new(
            &NEGATIVE_SIZE,
            length.span,
            format!(
                "`{}` is {} here, and is to be above zero",
                entry.word.word,
                length_text(length.value)
            ),
            "give the true size",
        ));
        None
    }

    pub(super) fn real(&mut self, entry: &Entry, slot: &str) -> Option<Spanned<f64>> {
        self.settle(entry, entry.real(slot))
    }

    pub(super) fn text(&mut self, entry: &Entry, slot: &str) -> Option<Spanned<String>> {
        self.settle(entry, entry.text(slot))
    }

    /// Two lengths of one statement, such as a place on plan; none where either is not known.
    pub(super) fn lengths(
        &mut self,
        entry: &Entry,
        slots: [&str; 2],
    ) -> Option<[Spanned<Length>; 2]> {
        let [one, other] = slots;
        Some([self.length(entry, one)?, self.length(entry, other)?])
    }

    /// Two lengths that have to be above zero; none where either is not known.
    pub(super) fn sizes(
        &mut self,
        entry: &Entry,
        slots: [&str; 2],
    ) -> Option<[Spanned<Length>; 2]> {
        let [one, other] = slots;
        Some([self.size(entry, one)?, self.size(entry, other)?])
    }

    /// Reports a word that belongs to a leg, where no leg stands before it.
    pub(super) fn no_leg(&mut self, entry: &Entry) {
        self.report(Finding::new(
            &LEG_MISSING,
            entry.span,
            format!(
                "`{}` belongs to the leg before it, and there is none",
                entry.word.word
            ),
            "put a leg such as `east 3 ft` before it",
        ));
    }
}
