//! Control terminals and conductors of a job, as the pages on controls draw and list them.

use super::source::PageSource;
use crate::catalog::{Named, Terminal};
use crate::model::{Cable, Wire};
use crate::packet::text::Text;
use crate::source::{Span, Spanned};

/// A thing that carries control terminals.
pub(super) struct Holder<'a> {
    /// Its name.
    pub name: String,
    /// Its head in the job, where its name stands.
    pub head: Span,
    /// Whether it is an air handler.
    pub hub: bool,
    /// Whether it is a thermostat.
    pub thermostat: bool,
    /// Its terminals by the catalog; none for a splice or an unknown model.
    pub terminals: Option<&'a Named<Terminal>>,
    /// Names of its terminals: those of the catalog in its order, then those that only the job names.
    pub rows: Vec<(String, Text)>,
}

impl Holder<'_> {
    /// The row of the terminal called `name`.
    pub(super) fn row(&self, name: &str) -> Option<usize> {
        self.rows.iter().position(|(row, _)| row == name)
    }
}

/// `stat.R` as thing and terminal; a splice is both.
pub(super) fn split(end: &Spanned<String>) -> (&str, &str) {
    end.value
        .split_once('.')
        .unwrap_or((end.value.as_str(), end.value.as_str()))
}

/// The terminal of a wire's end, quoted.
pub(super) fn terminal_text(source: &PageSource<'_>, end: &Spanned<String>) -> Text {
    let (holder, terminal) = split(end);
    let after = u32::try_from(holder.len() + 1).unwrap_or(0);
    if holder == terminal || end.span.len() <= after {
        return source.word(end);
    }
    source.quote(Span::new(
        end.span.file,
        end.span.start + after,
        end.span.end,
    ))
}

fn holder<'a>(source: &PageSource<'a>, name: &str) -> Holder<'a> {
    let model = source.model;
    let (head, terminals, hub) = if let Some(unit) = model.air_handlers.get(name) {
        (Some(unit.span), Some(&unit.sheet.control), true)
    } else if let Some(equipment) = model.equipment.get(name) {
        (Some(equipment.span), equipment.terminals.as_ref(), false)
    } else {
        let part = model.parts.iter().find(|p| p.name.as_deref() == Some(name));
        (part.map(|part| part.span), None, false)
    };
    let rows = terminals
        .into_iter()
        .flat_map(|terminals| terminals.iter())
        .map(|(name, terminal)| (name.clone(), source.name(terminal.span, name)))
        .collect();
    Holder {
        name: name.to_owned(),
        head: head.unwrap_or(Span::new(crate::source::FileId::own(0), 0, 0)),
        hub,
        thermostat: model.thermostats.contains_key(name),
        terminals,
        rows,
    }
}

/// All conductors of the job with their cables, in the order written.
pub(super) fn wires<'a>(source: &PageSource<'a>) -> impl Iterator<Item = (&'a Cable, &'a Wire)> {
    let cables = source.model.cables.values();
    cables.flat_map(|cable| cable.wires.iter().map(move |wire| (cable, wire)))
}

/// Everything that a control conductor lands on, in the order in which cables name it.
pub(super) fn holders<'a>(source: &PageSource<'a>) -> Vec<Holder<'a>> {
    let mut out: Vec<Holder<'a>> = Vec::new();
    for (_, wire) in wires(source) {
        for end in [&wire.from, &wire.to] {
            let (name, terminal) = split(end);
            if !out.iter().any(|known| known.name == name) {
                out.push(holder(source, name));
            }
            let Some(found) = out.iter_mut().find(|known| known.name == name) else {
                continue;
            };
            if found.row(terminal).is_none() {
                let text = terminal_text(source, end);
                found.rows.push((terminal.to_owned(), text));
            }
        }
    }
    out
}

/// The things that each air handler's drawing shows: all that lies as near to it as to any other by conductors, so
/// that what two share stands in both. The first one also takes what is wired to none.
pub(super) fn groups(source: &PageSource<'_>, all: &[Holder<'_>]) -> Vec<(String, Vec<bool>)> {
    let at = |name: &str| all.iter().position(|holder| holder.name == name);
    let ways: Vec<(usize, usize)> = wires(source)
        .filter_map(|(_, wire)| Some((at(split(&wire.from).0)?, at(split(&wire.to).0)?)))
        .collect();
    let hubs: Vec<usize> = (0..all.len())
        .filter(|n| all.get(*n).is_some_and(|holder| holder.hub))
        .collect();
    let from = |hub: usize| -> Vec<usize> {
        let mut far = vec![usize::MAX; all.len()];
        let mut next = vec![hub];
        let mut steps = 0;
        while !next.is_empty() {
            for n in &next {
                if let Some(far) = far.get_mut(*n) {
                    *far = steps;
                }
            }
            steps += 1;
            let beside = ways.iter().flat_map(|(a, b)| [(*a, *b), (*b, *a)]);
            let mut beyond: Vec<usize> = beside
                .filter(|(a, b)| next.contains(a) && far.get(*b) == Some(&usize::MAX))
                .map(|(_, b)| b)
                .collect();
            beyond.sort_unstable();
            beyond.dedup();
            next = beyond;
        }
        far
    };
    let far: Vec<Vec<usize>> = hubs.iter().map(|hub| from(*hub)).collect();
    let nearest = |n: usize| {
        let steps = far.iter().filter_map(|far| far.get(n).copied());
        steps.min().unwrap_or(usize::MAX)
    };
    hubs.iter()
        .zip(&far)
        .enumerate()
        .map(|(which, (hub, far))| {
            let shown = far
                .iter()
                .enumerate()
                .map(|(n, steps)| *steps == nearest(n) && (*steps < usize::MAX || which == 0))
                .collect();
            let name = all.get(*hub).map_or(String::new(), |hub| hub.name.clone());
            (name, shown)
        })
        .collect()
}
