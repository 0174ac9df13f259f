//! What is read at start-up, with the figures expected: one list for the record on paper and for the file.

use super::feed_line::disconnect;
use super::source::PageSource;
use crate::packet::text::{Text, say};
use crate::systems::power::started;

/// One reading.
pub(in crate::packet) struct Reading {
    /// What is read.
    pub what: Text,
    /// Where.
    pub at: Text,
    /// What the figures expect; empty when nothing.
    pub expected: Text,
    /// The unit behind the blank; empty for words.
    pub unit: Text,
    /// The least that passes; empty when none is known.
    pub least: Text,
    /// The most that passes; empty when none is known.
    pub most: Text,
}

impl Reading {
    fn new(what: impl Into<Text>, at: Text, unit: impl Into<Text>) -> Self {
        Self {
            what: what.into(),
            at,
            expected: Text::empty(),
            unit: unit.into(),
            least: Text::empty(),
            most: Text::empty(),
        }
    }

    fn expected(self, expected: Text) -> Self {
        Self { expected, ..self }
    }

    fn between(self, least: Text, most: Text) -> Self {
        Self {
            least,
            most,
            ..self
        }
    }

    /// The range in which it passes.
    pub(super) fn range(&self) -> Text {
        match (self.least.is_empty(), self.most.is_empty()) {
            (true, true) => Text::empty(),
            (false, true) => say("feed.at-least")
                .with("value", self.least.clone())
                .into(),
            (true, false) => say("feed.at-most").with("value", self.most.clone()).into(),
            (false, false) => say("feed.between")
                .with("least", self.least.clone())
                .with("most", self.most.clone())
                .into(),
        }
    }

    /// Expected, and the range in which it passes, as one text.
    pub(super) fn wanted(&self) -> Text {
        let range = self.range();
        match (self.expected.is_empty(), range.is_empty()) {
            (true, _) => range,
            (false, true) => self.expected.clone(),
            (false, false) => Text::listed([self.expected.clone(), range]),
        }
    }
}

/// The airflow as solved; where it is not, what the drain's figures take.
fn flow(source: &PageSource<'_>, unit: &str) -> Text {
    let of = |what: &str| source.known(&format!("air-handler.{unit}.{what}"));
    of("airflow")
        .or_else(|| of("design-airflow"))
        .map_or_else(Text::empty, Text::figure)
}

/// The readings on air, in the order in which they are taken.
pub(super) fn air(source: &PageSource<'_>) -> Vec<Reading> {
    let mut out = Vec::new();
    for unit in source.model.air_handlers.values() {
        let at = || source.name(unit.span, &unit.name);
        let of = |what: &str| source.of_or_empty(&format!("air-handler.{}.{what}", unit.name));
        out.push(
            Reading::new(say("start.tap"), at(), Text::empty()).expected(
                unit.tap
                    .as_ref()
                    .map_or_else(Text::empty, |tap| source.word(tap)),
            ),
        );
        out.push(
            Reading::new(say("start.plenum"), at(), say("unit.inwc"))
                .expected(of("plenum-pressure"))
                .between(of("plenum-least"), of("plenum-most")),
        );
        out.push(
            Reading::new(say("start.external"), at(), say("unit.inwc"))
                .expected(of("external-static")),
        );
        out.push(
            Reading::new(say("start.suction-clean"), at(), say("unit.inwc"))
                .expected(of("pan-suction@clean")),
        );
        out.push(
            Reading::new(say("start.watts"), at(), say("unit.watts")).expected(of("blower-power")),
        );
        out.push(
            Reading::new(say("start.airflow"), at(), say("unit.cfm"))
                .expected(flow(source, &unit.name))
                .between(of("airflow-least"), of("airflow-most")),
        );
    }
    out
}

/// The readings on power.
pub(super) fn power(source: &PageSource<'_>) -> Vec<Reading> {
    let mut out = Vec::new();
    for circuit in source.model.circuits.values() {
        let of = |what: &str| source.of_or_empty(&format!("circuit.{}.{what}", circuit.name));
        let at = || source.word(&circuit.unit);
        let what = match started(source.model, circuit)
            .iter()
            .find(|one| one.unit.name == circuit.unit.value)
        {
            _ if disconnect(source, circuit).is_some() => say("start.volts"),
            Some(one) => say("start.volts-contact")
                .with("common", source.name(one.common.1.span, one.common.0))
                .with("relay", source.word(one.relay)),
            None => say("start.volts-terminals"),
        };
        out.push(
            Reading::new(what, at(), say("unit.volts"))
                .expected(of("volts"))
                .between(of("supply-least"), of("supply-most")),
        );
        out.push(
            Reading::new(say("start.amperes"), at(), say("unit.amperes")).expected(of("running")),
        );
    }
    for unit in source.model.air_handlers.values() {
        out.push(Reading::new(
            say("start.control-volts"),
            source.name(unit.span, &unit.name),
            say("unit.volts"),
        ));
    }
    out
}

/// The readings on temperature.
pub(super) fn temperature(source: &PageSource<'_>) -> Vec<Reading> {
    let mut out = Vec::new();
    let fahrenheit = || say("unit.fahrenheit");
    for unit in source.model.air_handlers.values() {
        let at = || source.name(unit.span, &unit.name);
        let of = |what: &str| source.of_or_empty(&format!("air-handler.{}.{what}", unit.name));
        out.push(Reading::new(say("start.return"), at(), fahrenheit()));
        out.push(Reading::new(say("start.supply"), at(), fahrenheit()));
        let split = source.known(&format!("coil.{}.temperature-split", unit.name));
        out.push(
            Reading::new(say("start.split"), at(), fahrenheit())
                .expected(split.map_or_else(Text::empty, Text::figure)),
        );
        out.push(Reading::new(say("start.opens"), at(), fahrenheit()).expected(of("freeze-opens")));
        out.push(
            Reading::new(say("start.closes"), at(), fahrenheit()).expected(of("freeze-closes")),
        );
    }
    for entry in source
        .model
        .entries
        .iter()
        .filter(|e| e.word.word == "water-coil")
    {
        let name = entry
            .text("name")
            .known()
            .map_or_else(Text::empty, |name| source.word(&name));
        let own = |what: &str| {
            let coil = entry.text("name").known().map(|name| name.value);
            let id = format!("water-coil.{}.{what}", coil.unwrap_or_default());
            source.known(&id).map_or_else(Text::empty, Text::figure)
        };
        out.push(
            Reading::new(say("start.water-in"), name.clone(), fahrenheit())
                .expected(own("entering-water")),
        );
        out.push(
            Reading::new(say("start.water-out"), name, fahrenheit()).expected(own("leaving-water")),
        );
    }
    if !source.model.air_handlers.is_empty() {
        out.push(Reading::new(
            say("start.outdoors"),
            Text::empty(),
            fahrenheit(),
        ));
    }
    out
}

/// The readings on refrigerant, at each outdoor unit.
pub(super) fn refrigerant(source: &PageSource<'_>) -> Vec<Reading> {
    let units = source.model.equipment.values();
    let outdoor = units.filter(|unit| unit.kind == "outdoor-unit");
    outdoor
        .flat_map(|unit| {
            let at = || source.name(unit.span, &unit.name);
            [
                Reading::new(say("start.suction-pressure"), at(), say("unit.psig")),
                Reading::new(say("start.suction-line"), at(), say("unit.fahrenheit")),
                Reading::new(say("start.liquid-pressure"), at(), say("unit.psig")),
                Reading::new(say("start.liquid-line"), at(), say("unit.fahrenheit")),
                Reading::new(say("start.charge"), at(), say("unit.ounces")),
            ]
        })
        .collect()
}

/// All readings, in the order in which they are taken.
pub(in crate::packet) fn all(source: &PageSource<'_>) -> Vec<Reading> {
    [
        power(source),
        air(source),
        temperature(source),
        refrigerant(source),
        outlets(source),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn known(source: &PageSource<'_>, id: &str) -> Text {
    source.known(id).map_or_else(Text::empty, Text::figure)
}

/// The flow of every outlet.
pub(super) fn outlets(source: &PageSource<'_>) -> Vec<Reading> {
    let runs = source.model.runs.values();
    runs.map(|run| {
        Reading::new(
            say("start.outlet"),
            source.name(run.span, &run.name),
            say("unit.cfm"),
        )
        .expected(known(source, &format!("run.{}.airflow", run.name)))
        .between(
            known(source, &format!("run.{}.reading-least", run.name)),
            known(source, &format!("run.{}.reading-most", run.name)),
        )
    })
    .collect()
}
