//! Control cables and their conductors, terminal to terminal.

use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::references::TERMINAL_HOLDERS;

/// A conductor from one terminal to another.
#[derive(Clone, Debug)]
pub struct Wire {
    /// Its colour.
    pub colour: Spanned<String>,
    /// `thing.terminal`, or a splice's name.
    pub from: Spanned<String>,
    /// `thing.terminal`, or a splice's name.
    pub to: Spanned<String>,
    /// The statement.
    pub span: Span,
}

/// A control cable.
#[derive(Clone, Debug)]
pub struct Cable {
    /// Its name.
    pub name: String,
    /// The thing at one end.
    pub from: Spanned<String>,
    /// The thing at the other end.
    pub to: Spanned<String>,
    /// The cable, as the catalog names it.
    pub item: Option<Spanned<String>>,
    /// Its taped length.
    pub measured: Option<Spanned<Length>>,
    /// Stories, rooms, trunks and returns that it passes through.
    pub through: Vec<Spanned<String>>,
    /// Openings by which it enters units.
    pub enters: Vec<Spanned<String>>,
    /// Its conductors.
    pub wires: Vec<Wire>,
    /// Colours that stay unused.
    pub spares: Vec<Spanned<String>>,
    /// Where the job says that it lies outdoors.
    pub outdoors: Option<Span>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

pub(super) fn cable(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("cable", &name) {
        return;
    }
    let (Some(from), Some(to)) = (entry.text("from").known(), entry.text("to").known()) else {
        return;
    };
    let mut flawed = entry.flawed || entry.body_flawed;
    for end in [&from, &to] {
        flawed |= !builder.expect(TERMINAL_HOLDERS, end);
    }
    let wires: Vec<Wire> = entry
        .children("wire")
        .filter_map(|c| {
            Some(Wire {
                colour: c.text("colour").known()?,
                from: c.text("from").known()?,
                to: c.text("to").known()?,
                span: c.span,
            })
        })
        .collect();
    let before = builder.findings.len();
    for wire in &wires {
        for end in [&wire.from, &wire.to] {
            builder.terminal(end);
        }
    }
    flawed |= builder.findings.len() > before;
    let cable = Cable {
        name: name.value.clone(),
        from,
        to,
        item: entry.child("type").and_then(|c| builder.text(c, "type")),
        measured: entry
            .child("measured")
            .and_then(|c| builder.size(c, "length")),
        through: entry
            .children("through")
            .filter_map(|c| c.text("way").known())
            .collect(),
        enters: entry
            .children("enters")
            .filter_map(|c| c.text("port").known())
            .collect(),
        wires,
        spares: entry
            .children("spare")
            .filter_map(|c| c.text("colour").known())
            .collect(),
        outdoors: entry.child("outdoors").map(|c| c.span),
        span: entry.span,
        whole: entry.whole,
        flawed,
    };
    builder.model.cables.insert(name.value, cable);
}
