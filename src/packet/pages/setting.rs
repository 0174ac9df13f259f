//! Setting the unit: its service spaces from above and from the side with dimensions, weight, way in, cautions.

use super::PageSource;
use super::setting_spaces::{id, plan, side, spaces};
use crate::catalog::Clearances;
use crate::model::{AirHandler, Direction};
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Text, say};
use crate::source::Span;

/// From this temperature on, °F, the page warns of the heat: common practice.
const HOT: f64 = 90.0;

fn facts(source: &PageSource<'_>, unit: &AirHandler) -> Vec<Fact> {
    let quoted = |span: Span| Text::quote(source.files, span);
    let sheet = &unit.sheet;
    let figure = |quantity: &str| Text::of(source.ledger, &id(unit, quantity));
    let mut facts = vec![Fact::new(say("setting.model"), quoted(unit.model.span))];
    if source.ledger.get(&id(unit, "underside")).is_some() {
        facts.push(Fact::big(
            say("setting.underside").with("story", Text::tag(&unit.story)),
            figure("underside"),
        ));
    }
    if unit.cabinet.is_some() {
        facts.push(Fact::big(say("setting.from-west"), figure("from_west")));
        facts.push(Fact::big(say("setting.from-south"), figure("from_south")));
    }
    let toward = match unit.discharge {
        Direction::North => say("way.north"),
        Direction::South => say("way.south"),
        Direction::East => say("way.east"),
        Direction::West => say("way.west"),
        Direction::Up => say("way.up"),
        Direction::Down => say("way.down"),
    };
    facts.push(Fact::new(say("setting.discharge"), toward));
    if sheet.weight.get().is_some() {
        facts.push(Fact::big(say("setting.weight"), quoted(sheet.weight.span)));
    }
    if let Some(setting) = &unit.setting {
        facts.push(Fact::new(say("setting.voltage"), quoted(setting.span)));
    }
    if let Some(tap) = &unit.tap {
        facts.push(Fact::new(say("setting.tap"), quoted(tap.span)));
    }
    for part in &unit.fitted {
        facts.push(Fact::new(say("setting.fitted"), quoted(part.span)));
    }
    facts
}

/// Largest piece, hatch and way beside each other.
fn way_in(source: &PageSource<'_>, unit: &AirHandler) -> Table {
    let quoted = |span: Span| Text::quote(source.files, span);
    let mut table = Table::new(vec![
        Column::left(say("setting.way")).wide(),
        Column::right(say("setting.clear")),
        Column::right(say("setting.measured")),
    ]);
    let piece = &unit.sheet.largest_piece;
    if piece.size.get().is_some() {
        table.strong_row([
            say("setting.largest")
                .with("what", quoted(piece.what.span))
                .into(),
            quoted(piece.size.span),
        ]);
    }
    let paths = source
        .model
        .house
        .paths
        .iter()
        .filter(|path| path.to.value == unit.name);
    for path in paths {
        if let Some(hatch) = source.model.house.hatches.get(&path.from.value) {
            table.row([
                say("setting.hatch")
                    .with("name", Text::tag(&hatch.name))
                    .into(),
                quoted(hatch.clear.0.span.to(hatch.clear.1.span)),
                Text::blank(),
            ]);
        }
        table.row([
            say("setting.path")
                .with("name", Text::tag(&path.name))
                .into(),
            quoted(path.clear.0.span.to(path.clear.1.span)),
            Text::blank(),
        ]);
    }
    table
}

fn clearances(source: &PageSource<'_>, clear: &Clearances) -> Table {
    let mut table = Table::new(vec![
        Column::left(say("setting.side")).wide(),
        Column::right(say("setting.least")),
    ]);
    for (words, stated) in [
        (say("setting.front"), &clear.front),
        (say("setting.back"), &clear.back),
        (say("setting.left"), &clear.left),
        (say("setting.right"), &clear.right),
        (say("setting.top"), &clear.top),
        (say("setting.bottom"), &clear.bottom),
    ] {
        if stated.get().is_some() {
            table.row([words.into(), Text::quote(source.files, stated.span)]);
        }
    }
    table
}

fn steps(source: &PageSource<'_>, unit: &AirHandler) -> Vec<Tick> {
    let heat = source
        .model
        .house
        .stories
        .get(&unit.story)
        .and_then(|story| story.summer.as_ref());
    let rooms = &source.model.house.rooms;
    let mut first = Tick::new(say("setting.step-way"));
    if !rooms.values().any(|room| room.story.value == unit.story) {
        first = first.caution(Caution::new(Hazard::Fall, say("plan.step-on-joists")));
    }
    if let Some(summer) = heat.filter(|summer| summer.value >= HOT) {
        let words =
            say("setting.attic-heat").with("summer", Text::quote(source.files, summer.span));
        first = first.caution(Caution::new(Hazard::General, words));
    }
    let lift = Caution::new(Hazard::Weight, say("setting.lift"));
    let mut steps = vec![first, Tick::new(say("setting.step-lift")).caution(lift)];
    let mut pans = source.model.pans.values();
    if pans.any(|pan| pan.unit.value == unit.name) {
        steps.push(Tick::new(say("setting.step-pan")));
    }
    steps.extend([
        Tick::new(say("setting.step-place")),
        Tick::new(say("setting.step-level"))
            .caution(Caution::new(Hazard::Water, say("setting.level"))),
        Tick::new(say("setting.step-spaces")),
        Tick::new(say("setting.step-voltage"))
            .caution(Caution::new(Hazard::Shock, say("setting.voltage-first"))),
    ]);
    steps
}

/// Two pages a unit: where it stands, and its spaces with their dimensions.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let hands = [
        Trade::Lead,
        Trade::SheetMetal,
        Trade::Electrician,
        Trade::Plumber,
    ];
    for unit in source.model.air_handlers.values() {
        let title = say("setting.title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("setting-{}", unit.name), title).trades(&hands);
        page.rests_on(source.files, unit.whole);
        page.put(Block::Facts(facts(source, unit)));
        page.put(Block::heading(say("setting.way-in")));
        page.put(Block::Table(way_in(source, unit)));
        page.put(Block::heading(say("setting.steps")));
        page.put(Block::Ticks(steps(source, unit)));
        page.put(Block::heading(say("setting.clearances")));
        page.put(Block::Table(clearances(source, &unit.sheet.clearances)));
        pages.push(page);
        let title = say("setting.spaces-title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("spaces-{}", unit.name), title).trades(&hands);
        if let Some(cabinet) = unit.cabinet {
            let (title, scene) = plan(source, unit, cabinet);
            // What plan and table leave of the page.
            let rest = 545.0 - scene.area().height - 22.0 * unit.spaces.len() as f64;
            let high = rest.clamp(140.0, 260.0);
            page.put(Block::drawing(title, scene));
            if let Some(story) = source.model.house.stories.get(&unit.story) {
                let (title, scene) = side(source, unit, cabinet, story.floor, high);
                page.put(Block::drawing(title, scene));
            }
        }
        if !unit.spaces.is_empty() {
            page.put(Block::Table(spaces(source, unit)));
        }
        pages.push(page);
    }
}
