//! The pan under a unit: its size around the cabinet, its rim and its switch, and how both are proved.

use super::source::PageSource;
use crate::model::Pan;
use crate::packet::page::{Block, Caution, Fact, Hazard, Page, Tick, Trade};
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scale, Scene};
use crate::packet::text::{Text, say};

/// A page for each pan.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let pans = source.model.pans.values();
    pages.extend(pans.map(|pan| page(source, pan)));
}

fn id(pan: &Pan, what: &str) -> String {
    format!("pan.{}.{what}", pan.name)
}

/// From above and to scale: the pan with the unit in its middle.
fn plan(source: &PageSource<'_>, pan: &Pan) -> Option<(Text, Scene)> {
    let (x, y) = pan.size?;
    let cabinet = source.model.air_handlers.get(&pan.unit.value)?.cabinet?;
    let (wide, deep, _) = cabinet.size();
    let scale = Scale::fit(x.value, y.value, 300.0, 112.0);
    let (w, h) = (scale.points(x.value), scale.points(y.value));
    let mut scene = Scene::new(470.0, h + 92.0);
    let outer = Area::new(70.0, 34.0, w, h);
    scene.rectangle(outer, Pen::HEAVY, Fill::Hatch(Hatch::Level));
    let middle = outer.middle();
    let (a, b) = (scale.points(wide), scale.points(deep));
    let inner = Area::new(middle.x - a / 2.0, middle.y - b / 2.0, a, b);
    scene.rectangle(inner, Pen::MEDIUM, Fill::White);
    scene.text(
        middle.moved(0.0, 4.0),
        Lettering::NAME,
        source.word(&pan.unit),
    );
    let (left, right) = (outer.corner.x, outer.corner.x + w);
    let (top, bottom) = (outer.corner.y, outer.corner.y + h);
    scene.dimension(
        Point::at(left, top),
        Point::at(right, top),
        16.0,
        source.of(&id(pan, "size-east")),
    );
    scene.dimension(
        Point::at(left, bottom),
        Point::at(left, top),
        16.0,
        source.of(&id(pan, "size-north")),
    );
    scene.scale_bar(Point::at(left, bottom + 34.0), scale);
    scene.north(Point::at(right + 34.0, top + 22.0), 0.0);
    let title = say("pan.plan").with("scale", &scale.figure("drawing.pan.scale"));
    Some((title.into(), scene))
}

/// Whether the unit over the pan hangs.
fn hangs(source: &PageSource<'_>, pan: &Pan) -> bool {
    let unit = source.model.air_handlers.get(&pan.unit.value);
    unit.is_some_and(|unit| unit.hung)
}

/// Seen from the side, heights in proportion: pan, feet, unit and switch.
fn side(source: &PageSource<'_>, pan: &Pan) -> Option<Scene> {
    let depth = source.ledger.length(&id(pan, "depth"))?.to_inches();
    let above = source
        .ledger
        .length(&id(pan, "unit-above-rim"))?
        .to_inches();
    let per_inch = (86.0 / (depth + above.max(0.0) + 1.0)).min(16.0);
    let mut scene = Scene::new(470.0, 150.0);
    let floor = 134.0;
    let (left, right) = (90.0, 360.0);
    let rim = floor - depth * per_inch;
    let unit = rim - above * per_inch;
    scene.line(
        Point::at(20.0, floor + 1.5),
        Point::at(450.0, floor + 1.5),
        Pen::MEDIUM,
    );
    scene.path(
        [(left, rim), (left, floor), (right, floor), (right, rim)].map(|(x, y)| Point::at(x, y)),
        Pen::HEAVY,
    );
    let body = Area::new(left + 34.0, unit - 28.0, right - left - 68.0, 28.0);
    scene.rectangle(body, Pen::HEAVY, Fill::White);
    scene.text(
        body.middle().moved(0.0, 4.0),
        Lettering::NAME,
        source.word(&pan.unit),
    );
    for x in [left + 50.0, right - 50.0] {
        if hangs(source, pan) {
            scene.line(Point::at(x, unit - 28.0), Point::at(x, 2.0), Pen::MEDIUM);
        } else {
            let foot = Area::new(x - 7.0, unit, 14.0, floor - unit);
            scene.rectangle(foot, Pen::THIN, Fill::Hatch(Hatch::Crossed));
        }
    }
    if pan.switch.is_some() {
        let switch = Area::new(right - 26.0, rim - 8.0, 14.0, floor - rim + 5.0);
        scene.rectangle(switch, Pen::MEDIUM, Fill::White);
        scene.leader(switch.middle(), say("pan.switch"));
        scene.keep_clear(switch);
    }
    scene.line(Point::at(20.0, rim), Point::at(left, rim), Pen::CENTER);
    scene.dimension(
        Point::at(60.0, rim),
        Point::at(60.0, floor),
        0.0,
        Text::empty(),
    );
    scene.text(
        Point::at(54.0, f64::midpoint(rim, floor) + 4.0),
        Lettering::NAME.anchored(Anchor::End),
        source.of(&id(pan, "depth")),
    );
    scene.line(Point::at(right, rim), Point::at(440.0, rim), Pen::CENTER);
    scene.line(
        Point::at(right - 34.0, unit),
        Point::at(440.0, unit),
        Pen::CENTER,
    );
    if above * per_inch > 12.0 {
        scene.dimension(
            Point::at(410.0, unit),
            Point::at(410.0, rim),
            0.0,
            Text::empty(),
        );
    }
    scene.text(
        Point::at(418.0, f64::midpoint(unit, rim) + 4.0),
        Lettering::NAME.anchored(Anchor::Start),
        source.of(&id(pan, "unit-above-rim")),
    );
    Some(scene)
}

fn facts(source: &PageSource<'_>, pan: &Pan) -> Block {
    let mut facts = vec![
        Fact::big(
            say("pan.size-east"),
            source.of_or_mark(&id(pan, "size-east")),
        ),
        Fact::big(
            say("pan.size-north"),
            source.of_or_mark(&id(pan, "size-north")),
        ),
        Fact::new(say("pan.depth"), source.of_or_mark(&id(pan, "depth"))),
    ];
    for (words, what) in [
        (say("pan.needed-east"), "needed-east"),
        (say("pan.needed-north"), "needed-north"),
        (say("pan.above-rim"), "unit-above-rim"),
        (say("pan.volume"), "volume"),
    ] {
        if let Some(figure) = source.known(&id(pan, what)) {
            facts.push(Fact::new(words, Text::figure(figure)));
        }
    }
    if let Some(item) = &pan.item {
        facts.push(Fact::new(say("pan.item"), source.word(item)));
    }
    facts.push(Fact::new(
        say("pan.switch-model"),
        source.word_or_not(pan.switch.as_ref()),
    ));
    Block::Facts(facts)
}

fn page(source: &PageSource<'_>, pan: &Pan) -> Page {
    let title = say("pan.title").with("name", source.name(pan.span, &pan.name));
    let mut page = Page::new(format!("pan-{}", pan.name), title).trades(&[
        Trade::Lead,
        Trade::Plumber,
        Trade::ServiceTech,
    ]);
    page.rests_on(source.files, pan.whole);
    page.put(facts(source, pan));
    if let Some((title, scene)) = plan(source, pan) {
        page.put(Block::drawing(title, scene));
    }
    if let Some(scene) = side(source, pan) {
        page.put(Block::drawing(say("pan.side"), scene));
    }
    page.put(Block::heading(say("drain.steps")));
    let mut steps = vec![
        Tick::new(say("pan.step-level")),
        Tick::new(if hangs(source, pan) {
            say("pan.step-hung")
        } else {
            say("pan.step-feet")
        })
        .caution(Caution::new(Hazard::Weight, say("pan.caution-lift"))),
    ];
    let own = source
        .model
        .drains
        .values()
        .find(|drain| drain.pan.as_ref() == Some(&pan.name));
    if let Some(drain) = own {
        let name = source.name(drain.span, &drain.name);
        steps.push(Tick::new(say("pan.step-drain").with("drain", name)));
    }
    if pan.switch.is_some() {
        steps.push(
            Tick::new(say("pan.step-switch"))
                .caution(Caution::new(Hazard::Shock, say("feed.licensed"))),
        );
        steps.push(
            Tick::new(say("pan.step-trip"))
                .caution(Caution::new(Hazard::Water, say("drain.caution-pour"))),
        );
        steps.push(Tick::new(say("pan.step-dry")));
    }
    page.put(Block::Ticks(steps));
    page
}
