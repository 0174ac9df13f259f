//! Control wiring: the drawing, the from–to table to tick off, what each terminal is for, and the checks before power.

use super::control_drawing::drawings;
use super::control_net::{holders, split, wires};
use super::notes::notes_of;
use super::role_words::role_words;
use super::source::PageSource;
use crate::catalog::{CallSide, Role, Stated};
use crate::model::Cable;
use crate::packet::page::{Block, Caution, Column, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Text, say};
use crate::systems::controls::{Netlist, Place};

const TRADES: &[Trade] = &[Trade::Electrician, Trade::ServiceTech];

/// The pages on controls; none when the job has no control cables.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    if source.model.cables.is_empty() {
        return;
    }
    let drawings = drawings(source);
    let several = drawings.len() > 1;
    for (unit, scene) in drawings {
        let (id, title) = match unit.filter(|_| several) {
            Some(unit) => (
                format!("controls-drawn-{unit}"),
                say("controls.title-drawn-unit").with("unit", Text::tag(&unit)),
            ),
            None => ("controls-drawn".to_owned(), say("controls.title-drawn")),
        };
        let mut page = Page::new(&id, title).trades(TRADES).sideways();
        rest(source, &mut page);
        page.put(Block::drawing(say("controls.drawing"), scene));
        page.put(Block::note(say("controls.drawing-note")));
        let line = super::contact::circuits(source);
        if !line.is_empty() {
            let words = say("feed.contact-note").with("circuits", Text::listed(line));
            page.put(Block::Caution(Caution::new(Hazard::Shock, words)));
        }
        pages.push(page);
    }
    pages.push(from_to(source));
    super::control_runs::add(source, pages);
    pages.push(terminals(source));
}

fn rest(source: &PageSource<'_>, page: &mut Page) {
    for cable in source.model.cables.values() {
        page.rests_on(source.files, cable.whole);
    }
}

fn from_to(source: &PageSource<'_>) -> Page {
    let mut page = Page::new("controls-from-to", say("controls.title-from-to")).trades(TRADES);
    rest(source, &mut page);
    page.put(Block::Caution(Caution::new(
        Hazard::Shock,
        say("controls.caution-off"),
    )));
    let mut table = Table::new(vec![
        Column::left(say("controls.col-cable")).wide(),
        Column::left(say("controls.col-colour")),
        Column::left(say("controls.col-from")),
        Column::left(say("controls.col-to")),
        Column::center(say("controls.col-done")),
    ]);
    for (cable, wire) in wires(source) {
        table.row([
            source.name(cable.span, &cable.name),
            source.word(&wire.colour),
            source.word(&wire.from),
            source.word(&wire.to),
            Text::blank(),
        ]);
    }
    page.put(Block::Table(table));
    let mut cables = Table::new(vec![
        Column::left(say("controls.col-cable")).wide(),
        Column::left(say("controls.col-type")),
        Column::left(say("controls.col-ends")),
        Column::right(say("controls.col-length")),
        Column::left(say("controls.col-spare")),
    ]);
    for cable in source.model.cables.values() {
        let ends = say("controls.ends")
            .with("from", source.word(&cable.from))
            .with("to", source.word(&cable.to));
        cables.row([
            source.name(cable.span, &cable.name),
            source.word_or_not(cable.item.as_ref()),
            ends.into(),
            source.word_or_not(cable.measured.as_ref()),
            Text::listed(cable.spares.iter().map(|spare| source.word(spare))),
        ]);
    }
    for block in super::contact::blocks(source) {
        page.put(block);
    }
    page.put(Block::heading(say("controls.cables")));
    page.put(Block::Table(cables));
    page.put(Block::note(say("controls.spare-note")));
    for cable in source.model.cables.values() {
        for note in notes_of(source, cable.whole) {
            let name = source.name(cable.span, &cable.name);
            page.put(Block::note(Text::named(name, note)));
        }
    }
    for cable in source.model.cables.values() {
        let colors = unmentioned(source, cable);
        if !colors.is_empty() {
            let words = say("controls.unmentioned")
                .with("cable", Text::tag(&cable.name))
                .with("colors", Text::listed(colors));
            page.put(Block::note(words));
        }
    }
    for (conductor, cable, terminal) in loose_ends(source) {
        let words = say("controls.loose-end")
            .with("color", conductor)
            .with("cable", cable)
            .with("terminal", terminal);
        page.put(Block::note(words));
    }
    page.put(Block::heading(say("controls.checks")));
    page.put(checks(source));
    page
}

/// Conductors of a cable that the job neither lands nor calls spare.
fn unmentioned(source: &PageSource<'_>, cable: &Cable) -> Vec<Text> {
    let item = cable.item.as_ref();
    let Some(item) = item.and_then(|item| source.catalog.cables.get(&item.value)) else {
        return Vec::new();
    };
    let said = |colour: &String| {
        cable.wires.iter().any(|wire| wire.colour.value == *colour)
            || cable.spares.iter().any(|spare| spare.value == *colour)
    };
    let colours = item.colours.iter().filter_map(Stated::get);
    colours
        .filter(|colour| !said(colour))
        .map(|colour| Text::tag(&colour))
        .collect()
}

/// Conductors that land at one end only: color, cable, and the terminal that they come from.
fn loose_ends(source: &PageSource<'_>) -> Vec<(Text, Text, Text)> {
    let net = Netlist::of(source.model, source.catalog);
    let tag = |name: &str| Text::tag(name);
    net.loose_ends()
        .into_iter()
        .filter_map(|(conductor, end)| {
            let Place::Conductor { cable, colour } = &net.at(conductor)?.place else {
                return None;
            };
            Some((tag(colour), tag(cable), tag(&net.at(end)?.name)))
        })
        .collect()
}

/// Terminals of air handlers behind the safeties, as `ah.YO`, with the wires that leave from them.
fn outputs(source: &PageSource<'_>) -> Vec<Text> {
    let model = source.model;
    let mut out = Vec::new();
    for (_, wire) in wires(source) {
        for end in [&wire.from, &wire.to] {
            let (holder, terminal) = split(end);
            let role = model
                .air_handlers
                .get(holder)
                .and_then(|unit| unit.sheet.control.get(terminal))
                .and_then(|terminal| terminal.role.get());
            if role
                .and_then(Role::call)
                .is_some_and(|(side, _)| side == CallSide::Output)
            {
                out.push(source.word(end));
            }
        }
    }
    out
}

/// How the meter proves each float switch that control conductors land on.
fn float_switches(source: &PageSource<'_>) -> Vec<Tick> {
    let landed = |name: &str| {
        wires(source).any(|(_, wire)| split(&wire.from).0 == name || split(&wire.to).0 == name)
    };
    let units = source.model.equipment.values();
    units
        .filter(|unit| matches!(unit.kind, "switch" | "pump") && landed(&unit.name))
        .map(|unit| {
            let sheet = unit
                .model
                .as_ref()
                .and_then(|model| source.catalog.float_switches.get(&model.value));
            let closes = sheet.is_some_and(|sheet| sheet.opens_on_rise.get() == Some(false));
            let words = if closes {
                say("controls.check-float-closes")
            } else {
                say("controls.check-float")
            };
            Tick::new(words.with("switch", source.name(unit.span, &unit.name)))
                .caution(Caution::new(Hazard::Water, say("controls.caution-float")))
        })
        .collect()
}

fn checks(source: &PageSource<'_>) -> Block {
    let mut steps = vec![
        Tick::new(say("controls.check-off"))
            .caution(Caution::new(Hazard::Shock, say("controls.caution-line"))),
        Tick::new(say("controls.check-short")),
        Tick::new(say("controls.check-through")),
    ];
    let outputs = outputs(source);
    if !outputs.is_empty() {
        steps.push(
            Tick::new(say("controls.check-outputs").with("outputs", Text::listed(outputs)))
                .caution(Caution::new(
                    Hazard::Freezing,
                    say("controls.caution-outputs"),
                )),
        );
    }
    steps.extend(float_switches(source));
    steps.push(
        Tick::new(say("controls.check-transformers")).caution(Caution::new(
            Hazard::Fire,
            say("controls.caution-transformers"),
        )),
    );
    steps.push(Tick::new(say("controls.check-apart")));
    steps.push(Tick::new(say("controls.check-power")));
    Block::Ticks(steps)
}

fn terminals(source: &PageSource<'_>) -> Page {
    let mut page = Page::new("controls-terminals", say("controls.title-terminals")).trades(TRADES);
    rest(source, &mut page);
    for holder in holders(source) {
        page.put(Block::heading(source.name(holder.head, &holder.name)));
        let mut table = Table::new(vec![
            Column::left(say("voltage.col-terminal")),
            Column::left(say("voltage.col-role")).wide(),
            Column::left(say("voltage.col-lands")),
        ]);
        for (name, label) in &holder.rows {
            let terminal = holder.terminals.and_then(|all| all.get(name));
            let role = terminal.map_or_else(
                || say("quote.not-stated").into(),
                |terminal| role_words(source, terminal),
            );
            let landed: Vec<Text> = wires(source)
                .filter_map(|(_, wire)| {
                    let other = match (split(&wire.from), split(&wire.to)) {
                        (own, _) if own == (holder.name.as_str(), name) => &wire.to,
                        (_, own) if own == (holder.name.as_str(), name) => &wire.from,
                        _ => return None,
                    };
                    let words = say("controls.landed")
                        .with("colour", source.word(&wire.colour))
                        .with("other", source.word(other));
                    Some(words.into())
                })
                .collect();
            let over = super::contact::landed(source, &holder.name, name, false);
            let landed = match over {
                Some(over) if landed.is_empty() => over,
                _ if landed.is_empty() => say("controls.unused").into(),
                _ => Text::listed(landed),
            };
            table.row([label.clone(), role, landed]);
        }
        page.put(Block::Table(table));
        let idle = format!("control.{}.never-called", holder.name);
        if source.known(&idle).is_some() {
            let words = say("controls.never-called").with("terminals", source.of(&idle));
            page.put(Block::note(words));
        }
    }
    page
}
