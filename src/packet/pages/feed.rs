//! A page for each circuit: the line from the panel to the unit, what was compared, and the steps.

use super::contact::Contact;
use super::feed_line::{breaker, disconnect, one_line, positions};
use super::notes::notes_of;
use super::source::PageSource;
use crate::model::Circuit;
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Text, say};
use crate::systems::power::{cable_of, colour_of, is_white, setting_of, started};

/// A page for each circuit, after one of everything that takes power.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    if !source.model.circuits.is_empty() {
        pages.push(glance(source));
    }
    let circuits = source.model.circuits.values();
    pages.extend(circuits.map(|circuit| page(source, circuit)));
}

/// Everything that takes power, with its circuit or the word that this job has none for it.
fn glance(source: &PageSource<'_>) -> Page {
    let mut page = Page::new("power", say("feed.glance-title")).trades(&[Trade::Electrician]);
    let mut table = Table::new(vec![
        Column::left(say("feed.glance-unit")),
        Column::left(say("feed.glance-circuit")).wide(),
        Column::right(say("feed.fact-breaker")),
        Column::left(say("feed.fact-cable")),
        Column::right(say("feed.row-volts")),
        Column::right(say("feed.glance-least")),
        Column::right(say("feed.glance-most")),
    ]);
    let handlers = source.model.air_handlers.values();
    let others = source.model.equipment.values().filter(|unit| {
        matches!(
            unit.kind,
            "outdoor-unit" | "chiller" | "boiler" | "pump" | "circulator"
        )
    });
    let units = handlers
        .map(|unit| (&unit.name, unit.span))
        .chain(others.map(|unit| (&unit.name, unit.span)));
    for (name, span) in units {
        let unit = source.name(span, name);
        let of_unit = |circuit: &&Circuit| {
            circuit.unit.value == *name || circuit.feeds.iter().any(|one| one.value == *name)
        };
        let Some(circuit) = source.model.circuits.values().find(of_unit) else {
            table.strong_row([
                unit,
                say("feed.no-circuit").into(),
                Text::empty(),
                Text::empty(),
                Text::empty(),
                Text::empty(),
                Text::empty(),
            ]);
            continue;
        };
        page.rests_on(source.files, circuit.whole);
        let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
        table.row([
            unit,
            source.name(circuit.span, &circuit.name),
            breaker(source, circuit),
            source.word_or_not(circuit.cable.as_ref()),
            source.of_or_empty(&id("volts")),
            source.of_or_mark(&id("least-ampacity")),
            source.of_or_mark(&id("most-breaker")),
        ]);
    }
    page.put(licensed());
    page.put(Block::Table(table));
    page.put(Block::note(say("feed.glance-note")));
    if let Some(block) = panels(source) {
        page.put(Block::heading(say("feed.panels")));
        page.put(block);
    }
    page
}

/// What each panel carries already and what the job adds, where the job says it.
fn panels(source: &PageSource<'_>) -> Option<Block> {
    let mut table = Table::new(vec![
        Column::left(say("feed.panel-name")).wide(),
        Column::right(say("feed.panel-rating")),
        Column::right(say("feed.panel-load")),
        Column::right(say("feed.panel-added")),
        Column::right(say("feed.panel-whole")),
        Column::right(say("feed.panel-taken")),
        Column::right(say("feed.panel-free")),
    ]);
    let mut any = false;
    for panel in source.model.panels.values() {
        let figure = |what: &str| source.of_or_empty(&format!("panel.{}.{what}", panel.name));
        any |= panel.load.is_some() || panel.free.is_some();
        table.row([
            source.name(panel.span, &panel.name),
            figure("rating"),
            figure("load"),
            figure("load-added"),
            figure("load-whole"),
            figure("positions-taken"),
            figure("positions-free"),
        ]);
    }
    any.then_some(Block::Table(table))
}

/// From the table of ampacity to what the cable carries, each correction on its line with its section.
fn corrections(source: &PageSource<'_>, circuit: &Circuit) -> Option<Block> {
    let mut table = Table::new(vec![
        Column::left(say("feed.col-what")).wide(),
        Column::right(say("feed.col-here")),
        Column::left(say("feed.col-section")),
    ]);
    let mut any = false;
    for (name, what) in [
        (say("feed.row-table"), "ampacity-table"),
        (say("feed.row-ambient"), "ambient"),
        (say("feed.row-heat"), "ambient-factor"),
        (say("feed.row-bundle"), "bundle-factor"),
        (say("feed.row-corrected"), "ampacity-corrected"),
        (say("feed.row-sheath"), "ampacity-cable"),
        (say("feed.row-terminals"), "ampacity-terminals"),
        (say("feed.row-least"), "ampacity"),
        (say("feed.row-small"), "small-conductor-limit"),
        (say("feed.row-start"), "start-drop"),
    ] {
        if let Some(figure) = source.known(&format!("circuit.{}.{what}", circuit.name)) {
            any = true;
            table.row([name.into(), Text::figure(figure), Text::source(figure)]);
        }
    }
    any.then_some(Block::Table(table))
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
    if !circuit.feeds.is_empty() {
        let further = circuit.feeds.iter().map(|unit| source.word(unit));
        facts.push(Fact::new(say("feed.fact-feeds"), Text::listed(further)));
    }
    if let Some(gfci) = circuit.gfci {
        facts.push(Fact::new(say("feed.fact-gfci"), source.quote(gfci)));
    }
    if !circuit.through.is_empty() {
        let spaces = circuit.through.iter().map(|space| source.word(space));
        facts.push(Fact::new(say("feed.fact-through"), Text::listed(spaces)));
    }
    for one in started(source.model, circuit) {
        let contact = Contact::of(source, circuit, &one);
        let words = Text::listed([contact.relay, contact.common, contact.open]);
        facts.push(Fact::new(say("feed.fact-contact"), words));
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
        (
            say("feed.row-ground"),
            text("ground"),
            text("ground-needed"),
        ),
        (say("feed.row-running"), Text::empty(), text("running")),
        (say("feed.row-drop"), drop, Text::empty()),
        (
            say("feed.row-start-volts"),
            text("start-volts"),
            at_least("starts-at"),
        ),
    ] {
        if !(here.is_empty() && plate.is_empty()) {
            table.row([name.into(), here, plate]);
        }
    }
    Block::Table(table)
}

/// The white conductor of a circuit of two hot conductors without a neutral; none where no white one is hot.
pub(super) fn hot_white(source: &PageSource<'_>, circuit: &Circuit) -> Option<Text> {
    let two_pole = circuit.poles.as_ref()?.value.starts_with('2');
    let neutral = source
        .model
        .air_handlers
        .get(&circuit.unit.value)
        .and_then(setting_of)
        .and_then(|(_, setting)| setting.lands.neutral.as_ref()?.get());
    if !two_pole {
        return None;
    }
    let landed = circuit
        .landings
        .iter()
        .find(|landing| is_white(&landing.conductor.value));
    if let Some(landing) = landed {
        let hot = neutral.as_ref() != Some(&landing.terminal.value);
        return hot.then(|| source.word(&landing.conductor));
    }
    // With a third conductor the white one may be a neutral: then the job has to say where it lands.
    let cable = cable_of(source.catalog, circuit)?;
    let two = cable.conductors.get()?.0 == 2;
    let white = colour_of(source.catalog, circuit, true)?;
    two.then(|| source.stated(white))
}

/// How the conductors land where a relay's contact starts a unit, and what a meter shows there.
fn contact_steps(source: &PageSource<'_>, circuit: &Circuit, steps: &mut Vec<Tick>) {
    for one in started(source.model, circuit) {
        let contact = Contact::of(source, circuit, &one);
        steps.push(
            Tick::new(
                say("feed.step-contact")
                    .with("relay", contact.relay)
                    .with("colour", contact.colour)
                    .with("common", contact.common)
                    .with("open", contact.open)
                    .with("unit", contact.unit.clone()),
            )
            .caution(Caution::new(Hazard::Shock, say("feed.caution-contact"))),
        );
        steps.push(Tick::new(
            say("feed.step-contact-past").with("unit", contact.unit),
        ));
    }
}

/// Measures before and behind each contact of the circuit; whether the circuit's own unit is among what they start.
fn measure_contacts(source: &PageSource<'_>, circuit: &Circuit, steps: &mut Vec<Tick>) -> bool {
    let volts = || source.of(&format!("circuit.{}.volts", circuit.name));
    let mut own = false;
    for one in started(source.model, circuit) {
        own |= one.unit.name == circuit.unit.value;
        let contact = Contact::of(source, circuit, &one);
        let live = || Caution::new(Hazard::Shock, say("feed.caution-measure"));
        steps.push(
            Tick::new(
                say("feed.step-measure-contact")
                    .with("common", contact.common)
                    .with("relay", contact.relay.clone())
                    .with("volts", volts()),
            )
            .caution(live()),
        );
        steps.push(
            Tick::new(
                say("feed.step-measure-open")
                    .with("open", contact.open)
                    .with("unit", contact.unit)
                    .with("relay", contact.relay)
                    .with("volts", volts()),
            )
            .caution(live()),
        );
    }
    own
}

fn steps(source: &PageSource<'_>, circuit: &Circuit) -> Block {
    let mut steps: Vec<Tick> = dead().into();
    steps.push(
        Tick::new(say("feed.step-cable"))
            .caution(Caution::new(Hazard::Fire, say("feed.caution-cable"))),
    );
    let figure = |what: &str| source.figure(&format!("circuit.{}.{what}", circuit.name));
    if let (Some(apart), Some(first), Some(count)) = (
        figure("supports"),
        figure("first-support"),
        figure("support-count"),
    ) {
        steps.push(Tick::new(
            say("feed.step-support")
                .with("first", first)
                .with("apart", apart)
                .with("count", count),
        ));
    }
    if let Some(within) = figure("guard-within") {
        steps.push(Tick::new(say("feed.step-guard").with("within", within)));
    }
    steps.push(Tick::new(say("feed.step-alone")));
    if disconnect(source, circuit).is_some() {
        steps.push(Tick::new(say("feed.step-disconnect")));
    }
    match &circuit.enters {
        Some(enters) => steps.push(Tick::new(
            say("feed.step-enter").with("port", source.word(enters)),
        )),
        None => steps.push(Tick::new(say("feed.step-enter-any"))),
    }
    if let Some(white) = hot_white(source, circuit) {
        steps.push(
            Tick::new(say("feed.step-white").with("white", white))
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
        contact_steps(source, circuit, &mut steps);
        if circuit.landings.is_empty() {
            steps.push(Tick::new(say("feed.step-land-by-plate")));
        }
    }
    steps.push(Tick::new(say("feed.step-tug")));
    if measure_contacts(source, circuit, &mut steps) {
        return Block::Ticks(steps);
    }
    let measure = if disconnect(source, circuit).is_some() {
        say("feed.step-measure")
    } else {
        say("feed.step-measure-unit")
    };
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
    for one in started(source.model, circuit) {
        page.rests_on(source.files, one.relay.span);
    }
    page.put(licensed());
    page.put(facts(source, circuit));
    for note in notes_of(source, circuit.whole) {
        page.put(Block::note(note));
    }
    page.put(Block::drawing(
        say("feed.drawing"),
        one_line(source, circuit),
    ));
    page.put(Block::heading(say("feed.compared")));
    page.put(compared(source, circuit));
    page.put(Block::note(say("feed.compared-note")));
    if let Some(block) = corrections(source, circuit) {
        page.put(Block::heading(say("feed.corrections")));
        page.put(block);
    }
    page.put(Block::heading(say("feed.steps")));
    page.put(steps(source, circuit));
    page
}
