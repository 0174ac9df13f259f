//! The desk that routes are taken off at: tags, pieces, holes, needs and figures as they come.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::quantity::Length;
use crate::source::Span;

use super::hole::Hole;
use super::need::Needs;
use super::piece::{Piece, System, to_saw};
use super::stock::{Shelf, Stock};

pub(super) struct Desk<'a> {
    pub(super) model: &'a Model,
    pub(super) catalog: &'a Catalog,
    pub(super) ledger: &'a Ledger,
    pub(super) pieces: Vec<Piece>,
    pub(super) holes: Vec<Hole>,
    pub(super) needs: Needs,
    pub(super) figures: Vec<Figure>,
    /// Length of joints that are sealed, by what is sealed.
    pub(super) sealed: Length,
    pub(super) gaskets: Length,
    /// What the catalog says of the fittings looked up since this was last emptied: inputs of the pieces beside them.
    pub(super) looked_up: Vec<(Span, String)>,
    /// Models that are there already, with the heads of their blocks.
    pub(super) existing: Vec<(Span, Span)>,
    tags: BTreeMap<System, usize>,
}

/// What is known of a piece before it has its tag.
pub(super) struct Draft {
    pub(super) system: System,
    pub(super) route: String,
    pub(super) item: String,
    pub(super) shelf: Shelf,
    /// Its exact length, or why it has none.
    pub(super) length: Result<Length, String>,
    /// How the length comes about, in words, with the places it rests on.
    pub(super) formula: String,
    pub(super) places: Vec<(Span, String)>,
    pub(super) source: &'static str,
    pub(super) from: String,
    pub(super) to: String,
    pub(super) room: Option<String>,
    pub(super) story: Option<String>,
    pub(super) span: Span,
    pub(super) field_cut: bool,
    pub(super) removable: bool,
    pub(super) joints: usize,
}

impl<'a> Desk<'a> {
    pub(super) fn new(model: &'a Model, catalog: &'a Catalog, ledger: &'a Ledger) -> Self {
        Self {
            model,
            catalog,
            ledger,
            pieces: Vec::new(),
            holes: Vec::new(),
            needs: Needs::default(),
            figures: Vec::new(),
            sealed: Length::ZERO,
            gaskets: Length::ZERO,
            looked_up: Vec::new(),
            existing: Vec::new(),
            tags: BTreeMap::new(),
        }
    }

    fn tag(&mut self, system: System) -> String {
        let number = self.tags.entry(system).or_insert(0);
        *number += 1;
        format!("{}-{number:02}", system.letter())
    }

    /// The tag of the piece after the next one of a system.
    pub(super) fn tag_after_next(&self, system: System) -> String {
        let number = self.tags.get(&system).copied().unwrap_or(0) + 2;
        format!("{}-{number:02}", system.letter())
    }

    /// Enters a piece with its two lengths as figures, and returns its tag.
    pub(super) fn piece(&mut self, draft: Draft) -> String {
        let tag = self.tag(draft.system);
        let stock = Stock::find(self.catalog, draft.shelf, &draft.item);
        let (length, reason) = match draft.length {
            Ok(length) => (Some(length), None),
            Err(reason) => (None, Some(reason)),
        };
        let piece = Piece {
            tag: tag.clone(),
            system: draft.system,
            route: draft.route,
            item: draft.item,
            shelf: draft.shelf,
            stock: stock.and_then(|stock| stock.length),
            length,
            cut: length.map(to_saw),
            reason,
            field_cut: draft.field_cut,
            removable: draft.removable,
            from: draft.from,
            to: draft.to,
            room: draft.room,
            story: draft.story,
            span: draft.span,
            joints: draft.joints,
        };
        let exact = match (length, &piece.reason) {
            (Some(length), _) => Figure::length(piece.length_figure(), length),
            (None, reason) => {
                Figure::unknown(piece.length_figure(), reason.clone().unwrap_or_default())
            }
        };
        let exact = draft.places.into_iter().fold(
            exact.formula(draft.formula).source(draft.source),
            |figure, (span, text)| figure.place(span, text),
        );
        if let Some(cut) = piece.cut {
            let figure = Figure::length(piece.cut_figure(), cut)
                .formula("length of the piece, down to the sixteenth of an inch")
                .source("common practice")
                .input(piece.length_figure());
            self.figures.extend([exact, figure]);
        } else {
            self.figures.push(exact);
        }
        self.pieces.push(piece);
        tag
    }

    /// Why a length is not known: what the job says of it at `whole`, else that it is not given.
    pub(super) fn open_reason(&self, whole: Span, word: &str) -> String {
        let quoted = format!("`{word}`");
        let open = self.model.open.iter().find(|open| {
            open.what == quoted
                && open.span.file == whole.file
                && whole.start <= open.span.start
                && open.span.end <= whole.end
        });
        match open {
            Some(open) => format!("`{word}` is still `{}`", open.unknown.words()),
            None => format!("`{word}` is not given"),
        }
    }

    /// The story at a height.
    pub(super) fn story_at(&self, z: Length) -> Option<String> {
        self.model.house.story_at(z).map(|story| story.name.clone())
    }
}
