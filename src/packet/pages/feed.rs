//! A page for each circuit: the line from the panel to the unit, what was compared, and the steps.

use super::feed_line::{breaker, disconnect, one_line, positions};
use super::source::PageSource;
use crate::model::Circuit;
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Text, say};

/// A page for each circuit.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let circuits = source.model.circuits.values();
    pages.extend(circuits.map(|circuit| page(source, circuit)));
}

/// The caution that stands on every page of line voltage.
pub(super) fn licensed() -> Block {
    Block::Caution(Caution::new(Hazard::Shock, say("feed.licensed")))
}

/// Lock out and test dead: the first steps of all work on line voltage.
pub(super) fn dead() -> [Tick; 2] {
    [
        Tick::new(say("feed.step-lock"))
            .caution(Caution::new(Hazard::Shock, say("feed.caution-lock"))),
        Tick::new(say("feed.step-dead"))
            .caution(Caution::new(Hazard::Shock, say("feed.caution-dead"))),
    ]
}

fn facts(source: &PageSource<'_>, circuit: &Circuit) -> Block {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    let mut facts = vec![
        Fact::big(say("feed.fact-breaker"), breaker(source, circuit)),
        Fact::big(
            say("feed.fact-cable"),
            source.word_or_not(circuit.cable.as_ref()),
        ),
        Fact::new(say("feed.fact-length"), source.of(&id("length"))),
    ];
    if let Some(marks) = positions(source, circuit) {
        facts.push(Fact::new(say("feed.fact-positions"), marks));
    }
    if let Some(enters) = &circuit.enters {
        facts.push(Fact::new(say("feed.fact-enters"), source.word(enters)));
    }
    if !circuit.through.is_empty() {
        let spaces = circuit.through.iter().map(|space| source.word(space));
        facts.push(Fact::new(say("feed.fact-through"), Text::listed(spaces)));
    }
    if let Some(entry) = disconnect(source, circuit) {
        let said = entry.body.iter().map(|line| source.quote(line.span));
        facts.push(Fact::new(say("feed.fact-disconnect"), Text::listed(said)));
    }
    Block::Facts(facts)
}

fn compared(source: &PageSource<'_>, circuit: &Circuit) -> Block {
    let figure = |what: &str| source.figure(&format!("circuit.{}.{what}", circuit.name));
    let text = |what: &str| figure(what).map_or_else(Text::empty, Text::figure);
    let at_most = |what: &str| {
        figure(what).map_or_else(Text::empty, |f| say("feed.at-most").with("value", f).into())
    };
    let at_least = |what: &str| {
        figure(what).map_or_else(Text::empty, |f| {
            say("feed.at-least").with("value", f).into()
        })
    };
    let supply = match (figure("supply-least"), figure("supply-most")) {
        (Some(least), Some(most)) => say("feed.between")
            .with("least", least)
            .with("most", most)
            .into(),
        _ => Text::empty(),
    };
    let drop = match (figure("drop"), figure("drop-volts")) {
        (Some(share), Some(volts)) => Text::listed([Text::figure(share), Text::figure(volts)]),
        (Some(share), None) => Text::figure(share),
        _ => Text::empty(),
    };
    let mut table = Table::new(vec![
        Column::left(say("feed.col-what")).wide(),
        Column::right(say("feed.col-here")),
        Column::right(say("feed.col-plate")),
    ]);
    for (name, here, plate) in [
        (say("feed.row-volts"), text("volts"), supply),
        (
            say("feed.row-breaker"),
            text("breaker"),
            at_most("most-breaker"),
        ),
        (say("feed.row-poles"), text("poles"), text("poles-needed")),
        (
            say("feed.row-ampacity"),
            text("ampacity"),
            at_least("least-ampacity"),
        ),
        (say("feed.row-gauge"), text("gauge"), Text::empty()),
        (say("feed.row-ground"), Text::empty(), text("ground-needed")),
        (say("feed.row-running"), Text::empty(), text("running")),
        (say("feed.row-drop"), drop, Text::empty()),
    ] {
        if !(here.is_empty() && plate.is_empty()) {
            table.row([name.into(), here, plate]);
        }
    }
    Block::Table(table)
}

fn steps(source: &PageSource<'_>, circuit: &Circuit) -> Block {
    let mut steps: Vec<Tick> = dead().into();
    steps.push(
        Tick::new(say("feed.step-cable"))
            .caution(Caution::new(Hazard::Fire, say("feed.caution-cable"))),
    );
    match &circuit.enters {
        Some(enters) => steps.push(Tick::new(
            say("feed.step-enter").with("port", source.word(enters)),
        )),
        None => steps.push(Tick::new(say("feed.step-enter-any"))),
    }
    let two_pole = circuit
        .poles
        .as_ref()
        .is_some_and(|poles| poles.value.starts_with('2'));
    let white = circuit
        .landings
        .iter()
        .find(|landing| landing.conductor.value == "white");
    if let Some(white) = white.filter(|_| two_pole) {
        steps.push(
            Tick::new(say("feed.step-white").with("white", source.word(&white.conductor)))
                .caution(Caution::new(Hazard::Shock, say("feed.caution-white"))),
        );
    }
    if source.model.air_handlers.contains_key(&circuit.unit.value) {
        steps.push(
            Tick::new(say("feed.step-setting").with("unit", source.word(&circuit.unit)))
                .caution(Caution::new(Hazard::Fire, say("feed.caution-setting"))),
        );
    } else {
        steps.push(Tick::new(say("feed.step-ground")));
        for landing in &circuit.landings {
            steps.push(Tick::new(
                say("feed.step-land")
                    .with("conductor", source.word(&landing.conductor))
                    .with("terminal", source.word(&landing.terminal)),
            ));
        }
        if circuit.landings.is_empty() {
            steps.push(Tick::new(say("feed.step-land-by-plate")));
        }
    }
    let measure = if disconnect(source, circuit).is_some() {
        say("feed.step-measure")
    } else {
        say("feed.step-measure-unit")
    };
    steps.push(Tick::new(say("feed.step-tug")));
    steps.push(
        Tick::new(measure.with(
            "volts",
            source.of(&format!("circuit.{}.volts", circuit.name)),
        ))
        .caution(Caution::new(Hazard::Shock, say("feed.caution-measure"))),
    );
    Block::Ticks(steps)
}

fn page(source: &PageSource<'_>, circuit: &Circuit) -> Page {
    let title = say("feed.title")
        .with("name", source.name(circuit.span, &circuit.name))
        .with("unit", source.word(&circuit.unit));
    let mut page = Page::new(format!("feed-{}", circuit.name), title).trades(&[Trade::Electrician]);
    page.rests_on(source.files, circuit.whole);
    if let Some(entry) = disconnect(source, circuit) {
        page.rests_on(source.files, entry.whole);
    }
    page.put(licensed());
    page.put(facts(source, circuit));
    page.put(Block::drawing(
        say("feed.drawing"),
        one_line(source, circuit),
    ));
    page.put(Block::heading(say("feed.compared")));
    page.put(compared(source, circuit));
    page.put(Block::note(say("feed.compared-note")));
    page.put(Block::heading(say("feed.steps")));
    page.put(steps(source, circuit));
    page
}
