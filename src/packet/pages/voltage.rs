//! The voltage setting of an air handler: which conductor on which terminal, jumpers, and what stays empty.

use super::feed::{dead, hot_white, licensed};
use super::role_words::role_words;
use super::source::PageSource;
use super::voltage_strip::strip;
use crate::catalog::{LowSupply, Stated, VoltageSetting};
use crate::model::{AirHandler, Circuit};
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Phrase, Text, say};

/// A page for each air handler.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    for unit in source.model.air_handlers.values() {
        if let Some((name, setting)) = in_force(unit) {
            pages.push(page(source, unit, name, setting));
        }
    }
}

/// The setting that the job names, else the first one, as shipped.
fn in_force(unit: &AirHandler) -> Option<(&str, &VoltageSetting)> {
    let settings = &unit.sheet.electrical.settings;
    match &unit.setting {
        Some(named) => settings.get_key_value(&named.value),
        None => settings.first(),
    }
    .map(|(name, setting)| (name.as_str(), setting))
}

/// What belongs on a terminal at a setting.
pub(super) enum Belongs<'a> {
    /// A conductor of the feed.
    Conductor(Phrase, &'a Stated<String>),
    /// A jumper to this terminal.
    Jumper(&'a Stated<String>),
    /// Nothing: it stays empty.
    Empty,
    /// No jumper: the unit's other settings have one here.
    NoJumper,
    /// The setting does not speak of it.
    Nothing,
}

/// What belongs on the terminal called `name`.
pub(super) fn belongs<'a>(
    unit: &'a AirHandler,
    setting: &'a VoltageSetting,
    name: &str,
) -> Belongs<'a> {
    let is = |stated: &Stated<String>| stated.as_ref().is_some_and(|text| text == name);
    let lands = &setting.lands;
    let conductors = [
        (say("voltage.line-first"), Some(&lands.line_1)),
        (say("voltage.line-second"), lands.line_2.as_ref()),
        (say("voltage.neutral"), lands.neutral.as_ref()),
        (say("voltage.ground"), Some(&lands.ground)),
    ];
    for (words, stated) in conductors {
        if let Some(stated) = stated.filter(|stated| is(stated)) {
            return Belongs::Conductor(words, stated);
        }
    }
    for jumper in setting.jumpers.iter().flatten() {
        if is(&jumper.from) {
            return Belongs::Jumper(&jumper.to);
        }
        if is(&jumper.to) {
            return Belongs::Jumper(&jumper.from);
        }
    }
    if setting.empty.iter().flatten().any(is) {
        return Belongs::Empty;
    }
    let elsewhere = foreign_jumpers(unit, setting);
    if elsewhere.iter().any(|(from, to)| is(from) || is(to)) {
        return Belongs::NoJumper;
    }
    Belongs::Nothing
}

/// The circuit that feeds a unit.
fn circuit<'a>(source: &PageSource<'a>, unit: &AirHandler) -> Option<&'a Circuit> {
    source
        .model
        .circuits
        .values()
        .find(|circuit| circuit.unit.value == unit.name)
}

/// The conductor that the job lands on the terminal called `name`.
pub(super) fn conductor(source: &PageSource<'_>, unit: &AirHandler, name: &str) -> Option<Text> {
    let landing = circuit(source, unit)?
        .landings
        .iter()
        .find(|landing| landing.terminal.value == name)?;
    Some(source.word(&landing.conductor))
}

fn table(source: &PageSource<'_>, unit: &AirHandler, setting: &VoltageSetting) -> Block {
    let mut table = Table::new(vec![
        Column::left(say("voltage.col-terminal")),
        Column::left(say("voltage.col-role")).wide(),
        Column::left(say("voltage.col-lands")),
    ]);
    for (name, terminal) in unit.sheet.electrical.terminals.iter() {
        let first = source.name(terminal.span, name);
        let role = role_words(source, terminal);
        match belongs(unit, setting, name) {
            Belongs::Conductor(words, _) => {
                let colour = conductor(source, unit, name).unwrap_or_else(Text::empty);
                table.row([first, role, Text::listed([colour, words.into()])]);
            }
            Belongs::Jumper(other) => table.row([
                first,
                role,
                say("voltage.jumper-to")
                    .with("other", source.stated(other))
                    .into(),
            ]),
            Belongs::Empty => table.strong_row([first, role, say("voltage.stays-empty").into()]),
            Belongs::NoJumper => table.row([first, role, say("voltage.no-jumper").into()]),
            Belongs::Nothing => table.row([first, role, say("voltage.nothing").into()]),
        }
    }
    Block::Table(table)
}

/// Jumpers of the unit's other settings that this one does not have.
fn foreign_jumpers<'a>(
    unit: &'a AirHandler,
    setting: &VoltageSetting,
) -> Vec<(&'a Stated<String>, &'a Stated<String>)> {
    let ends = |jumper: &crate::catalog::Jumper| (jumper.from.get(), jumper.to.get());
    let own: Vec<_> = setting.jumpers.iter().flatten().map(ends).collect();
    let others = unit.sheet.electrical.settings.values();
    others
        .flat_map(|other| other.jumpers.iter().flatten())
        .filter(|jumper| !own.contains(&ends(jumper)))
        .map(|jumper| (&jumper.from, &jumper.to))
        .collect()
}

/// The setting as delivered, where this one is not it.
fn converted_from<'a>(
    unit: &'a AirHandler,
    setting: &VoltageSetting,
) -> Option<(&'a str, &'a VoltageSetting)> {
    let (name, first) = unit.sheet.electrical.settings.first()?;
    (first.span != setting.span).then_some((name.as_str(), first))
}

/// What the supply of the unit's circuit asks besides, where it lies low in the range of the setting.
fn low_supply<'a>(
    source: &PageSource<'_>,
    unit: &AirHandler,
    setting: &'a VoltageSetting,
) -> Option<&'a LowSupply> {
    let low = setting.low_supply.as_ref()?;
    let volts = circuit(source, unit)?.volts?.value;
    (volts <= low.at_most.get()?.value()).then_some(low)
}

fn steps(source: &PageSource<'_>, unit: &AirHandler, setting: &VoltageSetting) -> Block {
    let wrong = || {
        let words = say("voltage.if-wrong").with("what", source.stated(&setting.if_wrong));
        Caution::new(Hazard::Fire, words)
    };
    let mut steps: Vec<Tick> = dead().into();
    steps.push(Tick::new(say("voltage.step-compare")));
    if let Some((shipped, first)) = converted_from(unit, setting) {
        steps.push(
            Tick::new(
                say("voltage.step-convert").with("shipped", source.name(first.span, shipped)),
            )
            .caution(wrong()),
        );
    }
    if let Some(low) = low_supply(source, unit, setting) {
        steps.push(
            Tick::new(say("voltage.step-low").with("what", source.stated(&low.set))).caution(
                Caution::new(
                    Hazard::Fire,
                    say("voltage.if-left").with("what", source.stated(&low.if_left)),
                ),
            ),
        );
    }
    for (from, to) in foreign_jumpers(unit, setting) {
        steps.push(Tick::new(
            say("voltage.step-no-jumper")
                .with("from", source.stated(from))
                .with("to", source.stated(to)),
        ));
    }
    for jumper in setting.jumpers.iter().flatten() {
        steps.push(
            Tick::new(
                say("voltage.step-jumper")
                    .with("from", source.stated(&jumper.from))
                    .with("to", source.stated(&jumper.to)),
            )
            .caution(wrong()),
        );
    }
    if let Some(white) = circuit(source, unit).and_then(|circuit| hot_white(source, circuit)) {
        steps.push(
            Tick::new(say("feed.step-white").with("white", white))
                .caution(Caution::new(Hazard::Shock, say("feed.caution-white"))),
        );
    }
    // The ground first, so that the cabinet is grounded before anything else is joined.
    let ground = setting.lands.ground.as_ref();
    let mut names: Vec<&String> = unit.sheet.electrical.terminals.keys().collect();
    names.sort_by_key(|name| Some(*name) != ground);
    for name in names {
        if let Belongs::Conductor(words, stated) = belongs(unit, setting, name) {
            let colour = conductor(source, unit, name).unwrap_or_else(Text::blank);
            steps.push(Tick::new(
                say("voltage.step-land")
                    .with("colour", colour)
                    .with("what", words)
                    .with("terminal", source.stated(stated)),
            ));
        }
    }
    for empty in setting.empty.iter().flatten() {
        steps.push(
            Tick::new(say("voltage.step-empty").with("terminal", source.stated(empty)))
                .caution(wrong()),
        );
    }
    steps.push(Tick::new(say("voltage.step-tug")));
    let supply = source.stated(&setting.supply);
    steps.push(
        Tick::new(say("voltage.step-measure").with("supply", supply))
            .caution(Caution::new(Hazard::Shock, say("feed.caution-measure"))),
    );
    steps.push(Tick::new(say("voltage.step-close")));
    Block::Ticks(steps)
}

fn page(source: &PageSource<'_>, unit: &AirHandler, name: &str, setting: &VoltageSetting) -> Page {
    let unit_name = source.name(unit.span, &unit.name);
    let mut page = Page::new(
        format!("voltage-{}", unit.name),
        say("voltage.title").with("unit", unit_name),
    )
    .trades(&[Trade::Electrician, Trade::ServiceTech]);
    page.rests_on(source.files, unit.whole);
    if let Some(circuit) = circuit(source, unit) {
        page.rests_on(source.files, circuit.whole);
    }
    page.put(licensed());
    let mut facts = vec![
        Fact::big(say("voltage.fact-setting"), source.name(setting.span, name)),
        Fact::new(say("voltage.fact-model"), source.word(&unit.model)),
        Fact::new(say("voltage.fact-supply"), source.stated(&setting.supply)),
        Fact::new(say("voltage.fact-wrong"), source.stated(&setting.if_wrong)),
    ];
    if let Some((shipped, first)) = converted_from(unit, setting) {
        facts.push(Fact::new(
            say("voltage.fact-shipped"),
            source.name(first.span, shipped),
        ));
    }
    let airflow = low_supply(source, unit, setting).and_then(|low| low.airflow.as_ref());
    if let Some(airflow) = airflow {
        facts.push(Fact::new(
            say("voltage.low-airflow"),
            source.stated(airflow),
        ));
    }
    page.put(Block::Facts(facts));
    page.put(Block::drawing(
        say("voltage.drawing"),
        strip(source, unit, setting),
    ));
    page.put(table(source, unit, setting));
    page.put(Block::heading(say("feed.steps")));
    page.put(steps(source, unit, setting));
    page
}
