//! A condensate pump: what comes, what it moves at its lift, its tube, and how its switch is proved.

use super::drain::end_step;
use super::source::PageSource;
use crate::model::Pump;
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};

/// A page for each pump.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let pumps = source.model.pumps.values();
    pages.extend(pumps.map(|pump| page(source, pump)));
}

fn id(pump: &Pump, what: &str) -> String {
    format!("pump.{}.{what}", pump.name)
}

fn facts(source: &PageSource<'_>, pump: &Pump) -> Block {
    let of = |what: &str| source.of_or_mark(&id(pump, what));
    let mut facts = vec![
        Fact::big(say("pump.lift"), of("lift")),
        Fact::big(say("pump.moves"), of("moves-hour")),
        Fact::new(say("pump.comes"), of("inflow-hour")),
        Fact::new(say("pump.head"), of("head")),
        Fact::new(say("pump.head-most"), of("head-most")),
        Fact::new(say("pump.cycles"), of("cycles")),
        Fact::new(say("pump.cycle"), of("cycle")),
        Fact::new(say("pump.run-off"), of("run-off")),
        Fact::new(say("pump.reserve"), of("reserve")),
        Fact::new(say("pump.tube-water"), of("tube-water")),
        Fact::new(say("pump.model"), source.word_or_not(pump.model.as_ref())),
        Fact::new(say("pump.tube"), source.word_or_not(pump.pipe.as_ref())),
    ];
    if let Some(measured) = &pump.measured {
        facts.push(Fact::new(say("pump.length"), source.word(measured)));
    }
    if let Some(bends) = &pump.bends {
        facts.push(Fact::new(say("pump.bends"), source.word(bends)));
    }
    if let Some(freeze) = &pump.freeze {
        facts.push(Fact::new(say("drain.fact-freeze"), source.word(freeze)));
    }
    Block::Facts(facts)
}

/// Pump, drain and tube from the side, not to scale.
fn drawing(source: &PageSource<'_>, pump: &Pump) -> Scene {
    let mut scene = Scene::new(470.0, 250.0);
    let floor = 220.0;
    scene.line(Point::at(20.0, floor), Point::at(450.0, floor), Pen::MEDIUM);
    let tank = Area::new(130.0, floor - 60.0, 110.0, 60.0);
    scene.rectangle(tank, Pen::HEAVY, Fill::White);
    let water = Area::new(130.0, floor - 26.0, 110.0, 26.0);
    scene.rectangle(water, Pen::THIN, Fill::Hatch(Hatch::Level));
    scene.text(
        tank.middle().moved(0.0, -14.0),
        Lettering::NAME,
        source.name(pump.span, &pump.name),
    );
    // The drain, from above into the tank.
    for x in [150.0, 162.0] {
        scene.line(
            Point::at(x, floor - 150.0),
            Point::at(x, floor - 68.0),
            Pen::HEAVY,
        );
    }
    scene.leader(Point::at(156.0, floor - 120.0), say("pump.drain-in"));
    // The tube, up and over to its end.
    let (up, top, over) = (215.0, 40.0, 390.0);
    scene.path(
        [(up, floor - 60.0), (up, top), (over, top), (over, 84.0)].map(|(x, y)| Point::at(x, y)),
        Pen::solid(3.0),
    );
    let valve = Area::new(up - 7.0, floor - 90.0, 14.0, 16.0);
    scene.rectangle(valve, Pen::MEDIUM, Fill::White);
    scene.leader(valve.middle(), say("pump.check-valve"));
    scene.keep_clear(valve);
    scene.line(Point::at(up, top), Point::at(300.0, top), Pen::CENTER);
    scene.dimension(
        Point::at(290.0, top),
        Point::at(290.0, floor),
        0.0,
        Text::empty(),
    );
    scene.text(
        Point::at(298.0, f64::midpoint(top, floor) + 4.0),
        Lettering::NAME.anchored(Anchor::Start),
        source.of_or_mark(&id(pump, "lift")),
    );
    if let Some(ending) = &pump.ending {
        scene.path(
            [
                (345.0, 104.0),
                (355.0, 134.0),
                (425.0, 134.0),
                (435.0, 104.0),
            ]
            .map(|(x, y)| Point::at(x, y)),
            Pen::HEAVY,
        );
        scene.text(
            Point::at(390.0, 124.0),
            Lettering::NAME,
            source.word(&ending.to),
        );
        if let Some(how) = &ending.how {
            let gap = ending.distance.as_ref();
            let words = gap.map_or_else(
                || source.word(how),
                |gap| Text::named(source.word(how), source.word(gap)),
            );
            scene.text(
                Point::at(398.0, 98.0),
                Lettering::LABEL.anchored(Anchor::Start),
                words,
            );
        }
    }
    scene
}

/// The pump's curve as the catalog lists it.
fn curve(source: &PageSource<'_>, pump: &Pump) -> Option<Block> {
    let model = pump.model.as_ref()?;
    let sheet = source.catalog.pumps.get(&model.value)?;
    let mut table = Table::new(vec![Column::left(say("pump.col-point"))]);
    for point in &sheet.points {
        table.row([source.quote(point.span)]);
    }
    Some(Block::Table(table))
}

fn steps(source: &PageSource<'_>, pump: &Pump) -> Block {
    let mut steps = vec![
        Tick::new(say("pump.step-set")),
        Tick::new(say("pump.step-drain"))
            .caution(Caution::new(Hazard::Water, say("drain.caution-pour"))),
        Tick::new(say("pump.step-tube").with("lift", source.of_or_mark(&id(pump, "lift")))),
        Tick::new(say("pump.step-valve")),
    ];
    if let Some(ending) = &pump.ending {
        steps.push(end_step(source, ending));
    }
    steps.push(
        Tick::new(say("pump.step-wire")).caution(Caution::new(Hazard::Shock, say("feed.licensed"))),
    );
    steps.push(
        Tick::new(say("pump.step-pour"))
            .caution(Caution::new(Hazard::Shock, say("pump.caution-shock"))),
    );
    steps.push(Tick::new(say("pump.step-trip")));
    Block::Ticks(steps)
}

fn page(source: &PageSource<'_>, pump: &Pump) -> Page {
    let title = say("pump.title").with("name", source.name(pump.span, &pump.name));
    let mut page = Page::new(format!("pump-{}", pump.name), title).trades(&[
        Trade::Lead,
        Trade::Plumber,
        Trade::Electrician,
        Trade::ServiceTech,
    ]);
    page.rests_on(source.files, pump.whole);
    page.put(facts(source, pump));
    for reason in source.why_not(
        ["moves-hour", "inflow-hour", "reserve"]
            .into_iter()
            .map(|what| id(pump, what)),
    ) {
        page.put(Block::note(reason));
    }
    page.put(Block::drawing(say("pump.drawing"), drawing(source, pump)));
    if let Some(curve) = curve(source, pump) {
        page.put(Block::heading(say("pump.curve")));
        page.put(curve);
    }
    page.put(Block::heading(say("drain.steps")));
    page.put(steps(source, pump));
    page
}
