//! Hot-water pipes: rigid copper with fittings, or flexible pipe in one length.

use crate::catalog::{PipeFittingType, PipeMaterial};
use crate::language::Entry;
use crate::model::Direction;
use crate::quantity::{Length, trade_length};
use crate::source::Spanned;

use super::desk::{Desk, Draft};
use super::line_set::route_length;
use super::piece::System;
use super::pipe_fitting::stock_length;
use super::pipe_route::{self, Coupled, PipeLeg, PipeMark, PipeRoute};
use super::stock::Shelf;

/// All water pipes.
pub(super) fn take_off(desk: &mut Desk<'_>) {
    let model = desk.model;
    for entry in model.blocks("water-pipe") {
        let Some(name) = entry.text("name").known() else {
            continue;
        };
        let pipe = entry.child("pipe").and_then(|c| c.text("pipe").known());
        let bends = desk
            .pipe(pipe.as_ref())
            .is_ok_and(|pipe| pipe.material.get() == Some(PipeMaterial::Pex));
        let legs = legs(entry);
        let legs = legs.filter(|route| !bends && !route.0.is_empty());
        match legs {
            Some((legs, nodes)) => {
                let route = PipeRoute {
                    system: System::Water,
                    name: name.value.clone(),
                    legs,
                    nodes,
                    threaded_start: None,
                    from: end(entry, "from"),
                    to: end(entry, "to"),
                };
                pipe_route::take_off(desk, &route);
                let stated = entry
                    .child("hanger")
                    .and_then(|child| child.length("spacing").known());
                super::hanger::pipe(desk, &route, stated);
                beyond(desk, entry, &route, stated);
            }
            None => {
                on_it(desk, entry, &name.value, pipe.as_ref());
                in_one(desk, entry, &name.value, pipe);
            }
        }
    }
}

fn end(entry: &Entry, slot: &str) -> String {
    entry
        .text(slot)
        .known()
        .map_or_else(String::new, |end| end.value)
}

/// The fitting that a word of a water pipe asks for.
fn kind(word: &str) -> Option<PipeFittingType> {
    Some(match word {
        "elbow" => PipeFittingType::Elbow,
        "vent" => PipeFittingType::Vent,
        "valve" => PipeFittingType::Valve,
        "flow-check" => PipeFittingType::FlowCheck,
        _ => return None,
    })
}

/// Legs and what stands between them; none when a leg's length is not known.
fn legs(entry: &Entry) -> Option<(Vec<PipeLeg>, Vec<Vec<PipeMark>>)> {
    let mut pipe: Option<Spanned<String>> = None;
    let mut legs: Vec<PipeLeg> = Vec::new();
    let mut nodes: Vec<Vec<PipeMark>> = vec![Vec::new()];
    for child in &entry.body {
        match child.word.word {
            "pipe" | "reduce" => pipe = child.text("pipe").known(),
            "field-cut" => {
                if let Some(leg) = legs.last_mut() {
                    leg.field_cut = true;
                }
            }
            word => {
                if let Some(direction) = Direction::named(word) {
                    legs.push(PipeLeg {
                        direction,
                        length: child.length("run").known()?.value,
                        pipe: pipe.clone(),
                        height: None,
                        field_cut: false,
                        span: child.span,
                    });
                    nodes.push(Vec::new());
                } else if let (Some(kind), Some(node)) = (kind(word), nodes.last_mut()) {
                    node.push(PipeMark::Fitting(kind, child.span));
                }
            }
        }
    }
    Some((legs, nodes))
}

/// What the tape found beyond the drawn legs: pipe in stock lengths with a coupling each, fitted on site, and its
/// supports at the spacing of level pipe.
fn beyond(desk: &mut Desk<'_>, entry: &Entry, route: &PipeRoute, stated: Option<Spanned<Length>>) {
    let taped = entry
        .child("measured")
        .and_then(|child| child.length("length").known());
    let (Some(taped), Some(last)) = (taped, route.legs.last()) else {
        return;
    };
    let drawn: Length = route.legs.iter().map(|leg| leg.length).sum();
    let rest = taped.value - drawn;
    if rest <= Length::ZERO {
        return;
    }
    let words = route.words();
    let said = format!("{} beyond the drawn legs", trade_length(rest));
    let draft = |desk: &Desk<'_>, length| {
        let mut draft = route.draft(desk, last, length);
        draft.places = vec![(
            taped.span,
            format!("measured {}", trade_length(taped.value)),
        )];
        draft
            .places
            .extend(route.legs.iter().map(|leg| (leg.span, leg.said())));
        Draft {
            formula: "length by tape, less the drawn legs, in stock lengths".to_owned(),
            from: "coupling".to_owned(),
            to: "coupling".to_owned(),
            story: None,
            span: taped.span,
            field_cut: true,
            joints: 2,
            ..draft
        }
    };
    let plan = desk.pipe(last.pipe.as_ref()).and_then(|pipe| {
        let stock = stock_length(pipe)?;
        let spacing = stated.map(|s| s.value).or(pipe.support.get());
        Ok((stock, spacing, pipe.size.get()))
    });
    let coupled = plan.and_then(|(stock, spacing, size)| {
        let joined = Coupled {
            pipe: last.pipe.as_ref(),
            stock,
            socket: None,
            beyond: 1,
        };
        let lengths = joined.split(desk, rest, &words, taped.span)?;
        Ok((lengths, spacing, size))
    });
    let (lengths, spacing, size) = match coupled {
        Ok(coupled) => coupled,
        Err(reason) => {
            desk.piece(draft(desk, Err(reason)));
            return;
        }
    };
    desk.looked_up.clear();
    for length in lengths {
        desk.piece(draft(desk, Ok(length)));
    }
    if let (Some(spacing), Some(size)) = (spacing, size) {
        super::hanger::line(desk, size, (rest, spacing), &words, (taped.span, said));
    }
}

/// What stands on a pipe that is bent or only taped, and its supports along the whole of it.
fn on_it(desk: &mut Desk<'_>, entry: &Entry, name: &str, pipe: Option<&Spanned<String>>) {
    let words = format!("{} {name}", System::Water.word());
    for child in &entry.body {
        // Bends are made by hand, and an elbow of a taped way is one of its bends.
        let kind = kind(child.word.word).filter(|kind| *kind != PipeFittingType::Elbow);
        if let Some(kind) = kind {
            let _ = desk.pipe_fitting(kind, (pipe, None), &words, child.span);
        }
    }
    desk.looked_up.clear();
    let stated = entry
        .child("hanger")
        .and_then(|child| child.length("spacing").known())
        .map(|spacing| spacing.value);
    let sheet = desk
        .pipe(pipe)
        .map(|pipe| (pipe.size.get(), pipe.support.get()));
    let (Ok((Some(size), support)), Ok((length, _))) = (sheet, route_length(desk, entry)) else {
        return;
    };
    if let Some(spacing) = stated.or(support) {
        let place = (entry.span, trade_length(length));
        super::hanger::line(desk, size, (length, spacing), &words, place);
    }
}

/// Pipe that bends, or whose way is only taped.
fn in_one(desk: &mut Desk<'_>, entry: &Entry, name: &str, pipe: Option<Spanned<String>>) {
    let known = desk.pipe(pipe.as_ref()).map(|_| ());
    let (length, places) = match known.and_then(|()| route_length(desk, entry)) {
        Ok((length, places)) => (Ok(length), places),
        Err(reason) => (Err(reason), Vec::new()),
    };
    desk.piece(Draft {
        system: System::Water,
        route: name.to_owned(),
        item: pipe.map_or_else(String::new, |pipe| pipe.value),
        shelf: Shelf::Pipe,
        length,
        formula: "length of the route".to_owned(),
        places,
        source: "geometry",
        from: end(entry, "from"),
        to: end(entry, "to"),
        room: None,
        story: None,
        span: entry.span,
        field_cut: false,
        removable: false,
        joints: 2,
    });
}
