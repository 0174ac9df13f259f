//! The coil's page for the technician: what it takes out, how far it is from ice, and what that means for the filter.

use super::source::PageSource;
use crate::figures::Figure;
use crate::model::AirHandler;
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Phrase, Text, say};

struct Sheet<'c, 's> {
    source: &'c PageSource<'s>,
    unit: &'c AirHandler,
}

impl<'s> Sheet<'_, 's> {
    fn coil(&self, what: &str) -> String {
        format!("coil.{}.{what}", self.unit.name)
    }

    fn known(&self, id: &str) -> Option<&'s Figure> {
        self.source.known(id)
    }

    fn air(&self, what: &str) -> Option<&'s Figure> {
        self.known(&format!("air-handler.{}.{what}", self.unit.name))
    }

    fn facts(&self) -> Vec<Fact> {
        let margin = self.coil("freeze-margin");
        let margin = self.source.big_fact(say("coil.margin"), &margin);
        let mut facts: Vec<Fact> = margin.into_iter().collect();
        let mut put = |name: Phrase, figure: Option<&Figure>| {
            if let Some(figure) = figure {
                facts.push(Fact::new(name, Text::figure(figure)));
            }
        };
        let coil = |what: &str| self.known(&self.coil(what));
        put(say("coil.surface"), coil("surface-temperature"));
        put(say("coil.opens"), self.air("freeze-opens"));
        put(say("coil.closes"), self.air("freeze-closes"));
        put(say("fan.airflow"), self.air("airflow"));
        put(say("coil.freeze-airflow"), coil("freeze-airflow"));
        put(say("coil.moisture"), coil("moisture"));
        for (name, dry, wet) in [
            (
                say("coil.entering"),
                "entering-dry-bulb",
                "entering-wet-bulb",
            ),
            (say("coil.leaving"), "leaving-dry-bulb", "leaving-wet-bulb"),
        ] {
            if let (Some(dry), Some(wet)) = (coil(dry), coil(wet)) {
                let both = say("coil.state")
                    .with("dry", Text::figure(dry))
                    .with("wet", Text::figure(wet));
                facts.push(Fact::new(name, both));
            }
        }
        facts
    }

    fn heat(&self) -> Table {
        let mut table = Table::new(vec![
            Column::left(say("coil.heat")).wide(),
            Column::right(say("coil.gives")),
            Column::right(say("coil.asked")),
            Column::right(say("coil.share")),
        ]);
        for (name, what) in [
            (say("coil.total"), "total"),
            (say("coil.sensible"), "sensible"),
            (say("coil.latent"), "latent"),
        ] {
            let asked = |what: &str| {
                self.source
                    .of_or_mark(&format!("load.{}.{what}", self.unit.name))
            };
            table.row([
                name.into(),
                self.source.of_or_mark(&self.coil(what)),
                asked(what),
                asked(&format!("{what}-share")),
            ]);
        }
        table
    }

    /// What it does at the further conditions that the job names.
    fn further(&self) -> Option<Table> {
        let mut table = Table::new(vec![
            Column::left(say("coil.condition")).wide(),
            Column::right(say("coil.total")),
            Column::right(say("coil.sensible")),
            Column::right(say("coil.surface")),
            Column::right(say("coil.margin")),
        ]);
        let mut any = false;
        for condition in &self.source.model.job.conditions {
            let id = |what: &str| format!("{}@{}", self.coil(what), condition.name);
            if self.source.figure(&id("total")).is_none() {
                continue;
            }
            any = true;
            table.row([
                Text::quote(self.source.files, condition.span),
                self.source.of_or_mark(&id("total")),
                self.source.of_or_mark(&id("sensible")),
                self.source.of_or_mark(&id("surface-temperature")),
                self.source.of_or_mark(&id("freeze-margin")),
            ]);
        }
        any.then_some(table)
    }

    /// In plain words what the margin means for the filter.
    fn words(&self) -> Vec<Block> {
        let mut out = Vec::new();
        let coil = |what: &str| self.known(&self.coil(what));
        if let (Some(flow), Some(freeze)) = (self.air("airflow"), coil("freeze-airflow")) {
            let words = match (flow.real(), freeze.real()) {
                (Some(flow), Some(freeze)) if freeze >= flow => say("coil.freezes-now"),
                _ => say("coil.falls-to"),
            };
            out.push(Block::paragraph(
                words
                    .with("airflow", Text::figure(flow))
                    .with("freeze", Text::figure(freeze)),
            ));
        }
        if let Some(pressure) = coil("freeze-filter-pressure") {
            out.push(Block::paragraph(
                say("coil.filter-may").with("pressure", Text::figure(pressure)),
            ));
        }
        if let Some(dirty) = self.air("airflow-dirty") {
            out.push(Block::paragraph(
                say("coil.filter-due").with("airflow", Text::figure(dirty)),
            ));
        }
        if let (Some(opens), Some(closes)) = (self.air("freeze-opens"), self.air("freeze-closes")) {
            out.push(Block::paragraph(
                say("coil.cut-out")
                    .with("opens", Text::figure(opens))
                    .with("closes", Text::figure(closes)),
            ));
        }
        let ids = [
            "total",
            "surface-temperature",
            "freeze-margin",
            "freeze-airflow",
            "freeze-filter-pressure",
        ];
        for reason in self.source.why_not(ids.map(|what| self.coil(what))) {
            out.push(Block::note(reason));
        }
        out
    }
}

/// One page a unit; none while nothing of its coil is computed.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    for unit in source.model.air_handlers.values() {
        let sheet = Sheet { source, unit };
        if source.figure(&sheet.coil("total")).is_none() {
            continue;
        }
        let title = say("coil.title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("coil-{}", unit.name), title)
            .trades(&[Trade::ServiceTech, Trade::Lead]);
        page.rests_on(source.files, unit.whole);
        let facts = sheet.facts();
        if !facts.is_empty() {
            page.put(Block::Facts(facts));
        }
        for block in sheet.words() {
            page.put(block);
        }
        page.put(Block::Table(sheet.heat()));
        if let Some(table) = sheet.further() {
            page.put(Block::heading(say("coil.further")));
            page.put(Block::Table(table));
        }
        page.put(Block::Ticks(vec![
            Tick::new(say("coil.look")),
            Tick::new(say("coil.thaw"))
                .caution(Caution::new(Hazard::Freezing, say("coil.caution-thaw"))),
        ]));
        page.put(Block::note(say("coil.note")));
        pages.push(page);
    }
}
