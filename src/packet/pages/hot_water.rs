//! Hot water: a page for each loop with its diagram and what to expect, then the steps with their cautions and what
//! was written.

use super::as_written::{of_kinds, table};
use super::source::PageSource;
use super::water_diagram::diagram;
use crate::model::{Boiler, WaterLoop, WaterMark};
use crate::packet::page::{Blank, Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Text, say};
use crate::systems::water::high_points;

/// The pages on hot water; none when the job has none.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let kinds = [
        "water-coil",
        "water-pipe",
        "circulator",
        "boiler",
        "radiators",
        "chiller",
    ];
    let parts = of_kinds(source, &kinds);
    if parts.is_empty() {
        return;
    }
    let loops = &source.model.water.loops;
    pages.extend(loops.iter().map(|water| of_loop(source, water)));
    let mut page =
        Page::new("hot-water", say("water.title")).trades(&[Trade::Plumber, Trade::ServiceTech]);
    page.put(Block::heading(say("feed.steps")));
    page.put(steps(source));
    page.put(Block::heading(say("water.written")));
    page.put(table(source, &parts));
    pages.push(page);
}

fn of_loop(source: &PageSource<'_>, water: &WaterLoop) -> Page {
    let first = source.model.water.pipes.get(&water.name);
    let name = first.map_or_else(Text::empty, |pipe| source.name(pipe.span, &pipe.name));
    let mut page = Page::new(
        format!("hot-water-{}", water.name),
        say("loop.title").with("name", name),
    )
    .trades(&[Trade::Plumber, Trade::ServiceTech]);
    for name in water.pipes() {
        if let Some(pipe) = source.model.water.pipes.get(name) {
            page.rests_on(source.files, pipe.whole);
        }
    }
    page.put(facts(source, water));
    page.put(Block::drawing(say("loop.drawing"), diagram(source, water)));
    page.put(Block::note(say("loop.legend")));
    page.put(Block::Caution(Caution::new(
        Hazard::Fire,
        say("loop.caution-scald"),
    )));
    let reasons = source.why_not(
        std::iter::once(format!("water-loop.{}.flow", water.name)).chain(
            water
                .coils()
                .iter()
                .map(|coil| format!("water-coil.{coil}.leaving-water")),
        ),
    );
    for reason in reasons {
        page.put(Block::paragraph(reason));
    }
    page.put(Block::heading(say("loop.pipes")));
    page.put(pipes(source, water));
    page.put(Block::heading(say("loop.heads")));
    page.put(heads(source, water));
    page.put(Block::heading(say("loop.bleed")));
    page.put(bleed(source, water));
    page.put(Block::heading(say("loop.readings")));
    page.put(readings(source, water));
    page
}

fn facts(source: &PageSource<'_>, water: &WaterLoop) -> Block {
    let id = |what: &str| format!("water-loop.{}.{what}", water.name);
    let mut facts: Vec<Fact> = Vec::new();
    facts.extend(source.big_fact(say("loop.fact-flow"), &id("flow")));
    facts.extend(source.big_fact(say("loop.fact-head"), &id("head")));
    facts.extend(source.big_fact(say("loop.fact-fill"), &id("fill-needed")));
    let boiler = source.model.water.boilers.get(&water.boiler);
    if let Some(fill) = boiler.and_then(|boiler| boiler.fill) {
        facts.push(Fact::new(say("loop.fact-fill-set"), source.word(&fill)));
    }
    facts.push(Fact::new(
        say("loop.fact-height"),
        source.of_or_mark(&id("height")),
    ));
    facts.push(Fact::new(
        say("loop.fact-volume"),
        source.of_or_mark(&id("volume")),
    ));
    for radiators in source.model.water.radiators.values() {
        if radiators.boiler.value == water.boiler {
            let name = source.name(radiators.span, &radiators.name);
            let flow = source.known(&format!("radiators.{}.flow", radiators.name));
            let words = say("loop.fact-radiators").with("name", name);
            facts.extend(flow.map(|flow| Fact::new(words, Text::figure(flow))));
        }
    }
    for name in water.coils() {
        let Some(coil) = source.model.water.coils.get(name) else {
            continue;
        };
        let own = |what: &str| format!("water-coil.{name}.{what}");
        let heat = format!("heat.{}.total", coil.unit.value);
        facts.push(Fact::new(say("loop.fact-heat"), source.of_or_mark(&heat)));
        facts.push(Fact::new(
            say("loop.fact-coldest"),
            source.of_or_mark(&own("coldest-space")),
        ));
        facts.push(Fact::new(
            say("loop.fact-freezes"),
            source.of_or_mark(&own("freezing-point")),
        ));
        let kept = coil.freeze_protection.as_ref();
        facts.push(Fact::new(say("loop.fact-kept"), source.word_or_not(kept)));
        if let Some(glycol) = coil.glycol {
            facts.push(Fact::new(say("loop.fact-glycol"), source.word(&glycol)));
        }
    }
    Block::Facts(facts)
}

fn pipes(source: &PageSource<'_>, water: &WaterLoop) -> Block {
    let mut table = Table::new(vec![
        Column::left(say("loop.col-pipe")),
        Column::left(say("loop.col-size")),
        Column::right(say("loop.col-length")),
        Column::right(say("loop.col-flow")),
        Column::right(say("loop.col-speed")),
        Column::right(say("loop.col-head")),
        Column::right(say("loop.col-loss")),
    ]);
    for name in water.pipes() {
        let Some(pipe) = source.model.water.pipes.get(name) else {
            continue;
        };
        let of = |what: &str| source.of_or_mark(&format!("water-pipe.{name}.{what}"));
        table.row([
            source.name(pipe.span, name),
            source.word_or_not(pipe.pipe.as_ref()),
            of("length"),
            of("flow"),
            of("velocity"),
            of("head"),
            of("heat-loss"),
        ]);
    }
    Block::Table(table)
}

fn heads(source: &PageSource<'_>, water: &WaterLoop) -> Block {
    let mut table = Table::new(vec![
        Column::left(say("loop.col-part")).wide(),
        Column::right(say("loop.col-flow")),
        Column::right(say("loop.col-head")),
    ]);
    let model = &source.model.water;
    let pipes = water.pipes();
    for name in water.coils() {
        if let Some(coil) = model.coils.get(name) {
            let of = |what: &str| source.of_or_mark(&format!("water-coil.{name}.{what}"));
            table.row([source.name(coil.span, name), of("flow"), of("head")]);
        }
    }
    for pump in model.circulators.values() {
        if pipes.contains(&pump.pipe.value.as_str()) {
            let of = |what: &str| source.of_or_mark(&format!("circulator.{}.{what}", pump.name));
            table.row([
                say("loop.circulator")
                    .with("name", source.name(pump.span, &pump.name))
                    .into(),
                of("flow"),
                of("head"),
            ]);
        }
    }
    let whole = |what: &str| source.of_or_mark(&format!("water-loop.{}.{what}", water.name));
    table.strong_row([say("loop.whole").into(), whole("flow"), whole("head")]);
    Block::Table(table)
}

/// The pressure to which the boiler is filled cold: as set, else what the highest of all its loops needs, since they
/// share one water.
fn cold_fill(source: &PageSource<'_>, water: &WaterLoop) -> Text {
    let boiler = source.model.water.boilers.get(&water.boiler);
    if let Some(fill) = boiler.and_then(|boiler| boiler.fill) {
        return source.word(&fill);
    }
    let needed = |name: &str| format!("water-loop.{name}.fill-needed");
    let highest = source
        .model
        .water
        .loops
        .iter()
        .filter(|other| other.boiler == water.boiler)
        .filter_map(|other| Some((source.ledger.real(&needed(&other.name))?, &other.name)))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map_or(&water.name, |(_, name)| name);
    source.of_or_mark(&needed(highest))
}

/// How air is let out of a loop, place by place.
fn bleed(source: &PageSource<'_>, water: &WaterLoop) -> Block {
    let mut ticks = vec![
        Tick::new(say("loop.bleed-off"))
            .caution(Caution::new(Hazard::Fire, say("loop.caution-open-hot"))),
        Tick::new(say("loop.bleed-fill").with("fill", cold_fill(source, water))),
    ];
    for point in high_points(source.model, source.catalog, water) {
        ticks.push(Tick::new(
            say("loop.bleed-here").with("place", source.quote(point.span)),
        ));
    }
    ticks.push(Tick::new(say("loop.bleed-run")));
    let glycol = source.model.water.glycol_of(water);
    if let Some(glycol) = glycol.filter(|glycol| glycol.value > 0.0) {
        ticks.push(
            Tick::new(say("loop.bleed-glycol").with("share", source.word(&glycol)))
                .caution(Caution::new(Hazard::Water, say("loop.caution-glycol"))),
        );
    }
    let checks = water.pipes().into_iter().any(|name| {
        let pipe = source.model.water.pipes.get(name);
        pipe.is_some_and(|pipe| pipe.count(WaterMark::FlowCheck) > 0)
    });
    if checks {
        ticks.push(Tick::new(say("loop.bleed-check")));
    }
    Block::Ticks(ticks)
}

fn readings(source: &PageSource<'_>, water: &WaterLoop) -> Block {
    let fahrenheit = || say("unit.fahrenheit");
    let mut blanks = Vec::new();
    let id = |what: &str| format!("boiler.{}.{what}", water.boiler);
    let mut blank = |words: crate::packet::text::Phrase, id: &str, unit| {
        blanks.push(Blank::new(words).expected(source.of_or_mark(id)).unit(unit));
    };
    blank(say("loop.read-boiler-out"), &id("water"), fahrenheit());
    let back = format!("water-loop.{}.return-water", water.name);
    blank(say("loop.read-boiler-in"), &back, fahrenheit());
    for coil in water.coils() {
        let own = |what: &str| format!("water-coil.{coil}.{what}");
        blank(say("start.water-in"), &own("entering-water"), fahrenheit());
        blank(say("start.water-out"), &own("leaving-water"), fahrenheit());
        if let Some(coil) = source.model.water.coils.get(coil) {
            let air = format!("heat.{}.leaving-dry-bulb", coil.unit.value);
            blank(say("loop.read-air"), &air, fahrenheit());
        }
    }
    blanks.push(
        Blank::new(say("loop.read-fill"))
            .expected(cold_fill(source, water))
            .unit(say("unit.psig")),
    );
    Block::Blanks(blanks)
}

fn steps(source: &PageSource<'_>) -> Block {
    let water = &source.model.water;
    let mut ticks = vec![
        Tick::new(say("water.step-supply"))
            .caution(Caution::new(Hazard::Freezing, say("water.caution-cold"))),
        Tick::new(say("water.step-join"))
            .caution(Caution::new(Hazard::Fire, say("water.caution-torch"))),
        Tick::new(say("water.step-hang")),
        Tick::new(say("water.step-test"))
            .caution(Caution::new(Hazard::Water, say("water.caution-test"))),
        Tick::new(say("water.step-safeties")),
        Tick::new(say("water.step-bleed")),
        Tick::new(say("water.step-relay")),
        Tick::new(say("water.step-hot"))
            .caution(Caution::new(Hazard::Fire, say("water.caution-hot"))),
    ];
    let says = |what: fn(&Boiler) -> bool| water.boilers.values().any(what);
    if says(|boiler| boiler.mixing_valve.is_some()) {
        ticks.push(
            Tick::new(say("water.step-mixing"))
                .caution(Caution::new(Hazard::Fire, say("loop.caution-scald"))),
        );
    }
    if says(|boiler| boiler.backflow_preventer.is_some()) {
        ticks.push(Tick::new(say("water.step-backflow")));
    }
    if says(|boiler| boiler.air_separator.is_some()) {
        ticks.push(Tick::new(say("water.step-separator")));
    }
    ticks.push(Tick::new(say("water.step-insulate")));
    Block::Ticks(ticks)
}
