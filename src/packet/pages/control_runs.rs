//! What runs when a thermostat calls, what each safety stops, what a contact that sticks leaves running, and the
//! voltage at the end of each control cable: the wiring run case by case, for the meter to confirm.

use super::source::PageSource;
use crate::catalog::Stated;
use crate::model::AirHandler;
use crate::packet::page::{Block, Caution, Column, Hazard, Page, Table, Trade};
use crate::packet::text::{Phrase, Text, say};
use crate::systems::controls::{Circuit, Netlist, Safety, State, slug};

/// The page; none without control cables, or where part of the wiring is not known.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let net = Netlist::of(source.model, source.catalog);
    if source.model.cables.is_empty() || source.model.thermostats.is_empty() || net.flawed {
        return;
    }
    let circuit = Circuit::of(&net, source.model, source.catalog);
    let mut page = Page::new("controls-runs", say("runs.title"))
        .trades(&[Trade::Electrician, Trade::ServiceTech]);
    for cable in source.model.cables.values() {
        page.rests_on(source.files, cable.whole);
    }
    page.put(Block::Caution(Caution::new(
        Hazard::Shock,
        say("runs.caution"),
    )));
    calls(source, &circuit, &mut page);
    ends(source, &mut page);
    safeties(source, &circuit, &mut page);
    pages.push(page);
    let mut page =
        Page::new("controls-sticking", say("runs.title-sticking")).trades(&[Trade::ServiceTech]);
    for cable in source.model.cables.values() {
        page.rests_on(source.files, cable.whole);
    }
    sticking(source, &circuit, &mut page);
    voltages(source, &circuit, &net, &mut page);
    pages.push(page);
}

/// A call in the crew's words.
fn call(state: &State) -> Phrase {
    match state.word {
        "fan" => say("runs.call-fan"),
        "cool" => say("runs.call-cool"),
        "cool-2" => say("runs.call-cool-second"),
        "dehumidify" => say("runs.call-dry"),
        "heat" => say("runs.call-heat"),
        "heat-2" => say("runs.call-heat-second"),
        "emergency" => say("runs.call-emergency"),
        _ => say("runs.call-none"),
    }
}

fn calls(source: &PageSource<'_>, circuit: &Circuit<'_>, page: &mut Page) {
    page.put(Block::heading(say("runs.calls")));
    page.put(Block::paragraph(
        say("runs.calls-note").with("always", source.of("control.thermostats.live-always")),
    ));
    let loops = source.known("control.thermostats.loops");
    if let Some(loops) = loops {
        let words = say("runs.loops-note").with("loops", Text::figure(loops));
        page.put(Block::paragraph(words));
    }
    let mut columns = vec![
        Column::left(say("runs.col-thermostat")),
        Column::left(say("runs.col-call")),
        Column::left(say("runs.col-fed")).wide(),
    ];
    if loops.is_some() {
        columns.push(Column::left(say("runs.col-closed")));
    }
    columns.push(Column::left(say("runs.col-blower")));
    columns.push(Column::center(say("runs.col-seen")));
    let mut table = Table::new(columns);
    for state in circuit.states() {
        let name = state.thermostat.as_deref().unwrap_or("thermostats");
        let thermostat = source.model.thermostats.get(name);
        let mut row = vec![
            thermostat.map_or_else(
                || say("runs.any").into(),
                |thermostat| source.name(thermostat.span, &thermostat.name),
            ),
            call(state).into(),
            source.of(&format!("control.{name}.live-on-{}", state.word)),
        ];
        if loops.is_some() {
            row.push(source.of(&format!("control.{name}.closed-on-{}", state.word)));
        }
        row.push(source.of(&format!("control.{name}.blower-on-{}", state.word)));
        row.push(Text::blank());
        table.row(row);
    }
    page.put(Block::Table(table));
}

/// What is seen after a call has ended: blowers that run on, compressors that stay off.
fn ends(source: &PageSource<'_>, page: &mut Page) {
    let mut table = Table::new(vec![
        Column::left(say("runs.col-unit")),
        Column::left(say("runs.col-then")).wide(),
        Column::right(say("runs.col-time")),
        Column::center(say("runs.col-seen")),
    ]);
    let mut any = false;
    let mut put = |name: Text, id: String, words: Phrase| {
        if source.known(&id).is_some() {
            any = true;
            table.row([name, words.into(), source.of(&id), Text::blank()]);
        }
    };
    for unit in source.model.air_handlers.values() {
        let name = source.name(unit.span, &unit.name);
        let id = |what: &str| format!("control.{}.{what}", unit.name);
        put(
            name.clone(),
            id("blower-after-cool"),
            say("runs.after-cool"),
        );
        put(name, id("blower-after-heat"), say("runs.after-heat"));
    }
    for unit in source.model.equipment.values() {
        let name = source.name(unit.span, &unit.name);
        let id = |what: &str| format!("control.{}.{what}", unit.name);
        put(name.clone(), id("time-off"), say("runs.off"));
        put(name.clone(), id("time-off-asked"), say("runs.off-asked"));
        put(name, id("freeze-starts"), say("runs.freeze-starts"));
    }
    if any {
        page.put(Block::heading(say("runs.ends")));
        page.put(Block::Table(table));
        page.put(Block::note(say("runs.ends-note")));
    }
}

/// The air handler and the catalog's sheet of a safety inside it.
fn sheet<'a>(
    source: &PageSource<'a>,
    safety: &Safety,
) -> Option<(&'a AirHandler, &'a crate::catalog::Safety)> {
    let unit = source.model.air_handlers.get(safety.units.first()?)?;
    // A switch with leads trips the pair of terminals that it is wired to.
    let sheet = unit
        .sheet
        .safeties
        .iter()
        .find(|(name, one)| {
            if safety.has_leads() {
                one.terminals.is_some()
            } else {
                **name == safety.name
            }
        })
        .map(|(_, one)| one)?;
    Some((unit, sheet))
}

fn safeties(source: &PageSource<'_>, circuit: &Circuit<'_>, page: &mut Page) {
    page.put(Block::heading(say("runs.safeties")));
    let mut table = Table::new(vec![
        Column::left(say("runs.col-safety")).wide(),
        Column::left(say("runs.col-stops")),
        Column::left(say("runs.col-leaves")),
        Column::left(say("runs.col-stops-blower")),
    ]);
    let mut after = Table::new(vec![
        Column::left(say("runs.col-safety")).wide(),
        Column::left(say("runs.col-back")),
        Column::left(say("runs.col-lamp")),
    ]);
    for (n, safety) in circuit.safeties().iter().enumerate() {
        let (true, Some(id)) = (safety.can_trip(), circuit.safety_id(n)) else {
            continue;
        };
        let own = sheet(source, safety);
        let back = own
            .and_then(|(_, sheet)| sheet.locks_out.as_ref())
            .and_then(Stated::get)
            .map_or_else(
                || say("quote.not-stated"),
                |locks| {
                    if locks {
                        say("runs.locked")
                    } else {
                        say("runs.comes-back")
                    }
                },
            );
        let lamp = own.and_then(|(_, sheet)| sheet.code.as_ref());
        let name = source.name(safety.span, &safety.name);
        let name = match own {
            Some((unit, _)) if !safety.has_leads() => Text::from(
                say("runs.safety-of")
                    .with("safety", name)
                    .with("unit", source.name(unit.span, &unit.name)),
            ),
            _ => name,
        };
        table.row([
            name.clone(),
            source.of(&format!("{id}.stops")),
            source.of(&format!("{id}.leaves")),
            source.of(&format!("{id}.stops-blower")),
        ]);
        after.row([
            name,
            back.into(),
            lamp.map_or_else(
                || say("quote.not-stated").into(),
                |lamp| source.stated(lamp),
            ),
        ]);
    }
    page.put(Block::Table(table));
    page.put(Block::note(say("runs.heat-note")));
    page.put(Block::heading(say("runs.after")));
    page.put(Block::Table(after));
}

fn sticking(source: &PageSource<'_>, circuit: &Circuit<'_>, page: &mut Page) {
    page.put(Block::paragraph(say("runs.sticking-note")));
    let mut table = Table::new(vec![
        Column::left(say("runs.col-contact")),
        Column::left(say("runs.col-welded")),
        Column::left(say("runs.col-passes")).wide(),
        Column::left(say("runs.col-open")),
    ]);
    for mover in circuit.movers() {
        let id = format!("control.{}", slug(&mover.name));
        table.row([
            Text::tag(&mover.name),
            source.of(&format!("{id}.welded-runs")),
            source.of(&format!("{id}.welded-passes")),
            source.of(&format!("{id}.open-loses")),
        ]);
    }
    page.put(Block::Table(table));
}

fn voltages(source: &PageSource<'_>, circuit: &Circuit<'_>, net: &Netlist, page: &mut Page) {
    page.put(Block::heading(say("runs.voltages")));
    page.put(Block::paragraph(say("runs.voltages-note")));
    let mut table = Table::new(vec![
        Column::left(say("runs.col-terminal")).wide(),
        Column::right(say("runs.col-volts")),
        Column::center(say("runs.col-read")),
    ]);
    for load in circuit.loads() {
        let Some(point) = net.at(load.at) else {
            continue;
        };
        let id = format!("control.{}.volts", slug(&point.name));
        if source.known(&id).is_some() {
            table.row([Text::tag(&point.name), source.of(&id), Text::blank()]);
        }
    }
    page.put(Block::Table(table));
}
