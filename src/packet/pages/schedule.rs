//! Room schedule and outlet schedule.

use super::PageSource;
use crate::model::{Outlet, Room, Run, Story, Surface};
use crate::packet::page::{Block, Caution, Column, Hazard, Page, Table, Trade};
use crate::packet::text::{Phrase, Text, say};
use crate::source::Spanned;

/// Where an outlet sits, in words.
pub(in crate::packet) fn surface(outlet: &Outlet) -> Phrase {
    use crate::model::Direction::{East, North, South};
    match outlet.surface {
        Surface::Ceiling => say("surface.ceiling"),
        Surface::Floor => say("surface.floor"),
        Surface::Wall(North) => say("surface.north-wall"),
        Surface::Wall(South) => say("surface.south-wall"),
        Surface::Wall(East) => say("surface.east-wall"),
        Surface::Wall(_) => say("surface.west-wall"),
    }
}

/// The run that feeds an outlet.
pub(in crate::packet) fn run_to<'m>(source: &PageSource<'m>, outlet: &Outlet) -> Option<&'m Run> {
    source
        .model
        .runs
        .values()
        .find(|run| run.outlet.as_deref() == Some(&outlet.name))
}

/// Stories with something on them, the uppermost first.
fn stories<'m>(source: &PageSource<'m>) -> Vec<&'m Story> {
    let mut stories: Vec<&Story> = source.model.house.stories.values().collect();
    stories.sort_by_key(|story| std::cmp::Reverse(story.floor));
    stories
}

fn rooms<'m>(source: &PageSource<'m>, story: &Story) -> Vec<&'m Room> {
    source
        .model
        .house
        .rooms
        .values()
        .filter(|room| room.story.value == story.name)
        .collect()
}

/// A figure of the ledger, an empty cell where nothing computes it.
pub(in crate::packet) fn figure_or_empty(source: &PageSource<'_>, id: &str) -> Text {
    source.ledger.get(id).map_or_else(Text::empty, Text::figure)
}

fn load(source: &PageSource<'_>, load: Option<&Spanned<f64>>) -> Text {
    load.map_or_else(Text::empty, |load| Text::quote(source.files, load.span))
}

fn room_row(source: &PageSource<'_>, room: &Room, needed: bool) -> Vec<Text> {
    let id = |quantity: &str| format!("room.{}.{quantity}", room.name);
    let size = if room.extent.is_some() {
        say("plan.room-size")
            .with("wide", Text::of(source.ledger, &id("wide")))
            .with("deep", Text::of(source.ledger, &id("deep")))
            .into()
    } else {
        Text::empty()
    };
    let fed = if let Some(by) = &room.served_by {
        say("rooms.served-by")
            .with("room", Text::tag(&by.value))
            .into()
    } else if room.unconditioned {
        say("rooms.unconditioned").into()
    } else {
        figure_or_empty(source, &id("outlets"))
    };
    let mut row = vec![
        Text::tag(&room.name),
        size,
        load(source, room.sensible.as_ref()),
        load(source, room.latent.as_ref()),
        load(source, room.heating.as_ref()),
        fed,
    ];
    if needed {
        row.push(figure_or_empty(source, &id("outlets_needed")));
        row.push(figure_or_empty(source, &id("outlet_airflow")));
    }
    row
}

fn room_page(source: &PageSource<'_>) -> Page {
    let needed = source.model.house.rooms.values().any(|room| {
        let id = format!("room.{}.outlets_needed", room.name);
        source.ledger.get(&id).is_some()
    });
    let mut page = Page::new("rooms", say("rooms.title")).trades(&[Trade::Lead]);
    if needed {
        page = page.sideways();
    }
    for story in stories(source) {
        let rooms = rooms(source, story);
        if rooms.is_empty() {
            continue;
        }
        let mut columns = vec![
            Column::left(say("rooms.room")).wide(),
            Column::left(say("rooms.size")),
            Column::right(say("rooms.sensible")),
            Column::right(say("rooms.latent")),
            Column::right(say("rooms.heating")),
            Column::right(say("rooms.outlets")),
        ];
        if needed {
            columns.push(Column::right(say("rooms.needed")));
            columns.push(Column::right(say("rooms.airflow")));
        }
        let mut table = Table::new(columns);
        for room in rooms {
            page.rests_on(source.files, room.span);
            table.row(room_row(source, room, needed));
        }
        page.put(Block::heading(Text::tag(&story.name)));
        page.put(Block::Table(table));
    }
    page.put(Block::note(say("rooms.note")));
    page
}

fn outlet_row(source: &PageSource<'_>, outlet: &Outlet) -> Vec<Text> {
    let id = |quantity: &str| format!("outlet.{}.{quantity}", outlet.name);
    let place = |quantity: &str| figure_or_empty(source, &id(quantity));
    let (first, second) = match outlet.surface {
        Surface::Ceiling | Surface::Floor => (place("from_west"), place("from_south")),
        Surface::Wall(crate::model::Direction::North | crate::model::Direction::South) => (
            place("from_west"),
            say("outlets.up")
                .with("height", place("above_floor"))
                .into(),
        ),
        Surface::Wall(_) => (
            say("outlets.up")
                .with("height", place("above_floor"))
                .into(),
            place("from_south"),
        ),
    };
    let mut row = vec![
        Text::tag(&outlet.name),
        Text::tag(&outlet.room),
        surface(outlet).into(),
        first,
        second,
    ];
    if let Some(run) = run_to(source, outlet) {
        let of_run =
            |quantity: &str| figure_or_empty(source, &format!("run.{}.{quantity}", run.name));
        row.extend([
            Text::tag(&run.trunk.value),
            of_run("station"),
            run.side
                .as_ref()
                .map_or_else(Text::empty, |side| Text::quote(source.files, side.span)),
            of_run("length"),
        ]);
    } else {
        row.extend([Text::empty(), Text::empty(), Text::empty(), Text::empty()]);
    }
    row.push(Text::blank());
    row
}

fn outlet_page(source: &PageSource<'_>, story: &Story) -> Option<Page> {
    let rooms = rooms(source, story);
    if rooms.iter().all(|room| room.outlets.is_empty()) {
        return None;
    }
    let title = say("outlets.title").with("story", Text::tag(&story.name));
    let mut page = Page::new(format!("outlets-{}", story.name), title).trades(&[Trade::SheetMetal]);
    let mut table = Table::new(vec![
        Column::left(say("outlets.tag")),
        Column::left(say("rooms.room")).wide(),
        Column::left(say("outlets.in")),
        Column::right(say("outlets.from-west")),
        Column::right(say("outlets.from-south")),
        Column::left(say("outlets.trunk")),
        Column::right(say("outlets.take-off")),
        Column::left(say("outlets.side")),
        Column::right(say("outlets.length")),
        Column::center(say("outlets.done")),
    ]);
    for outlet in rooms.iter().flat_map(|room| &room.outlets) {
        page.rests_on(source.files, outlet.span);
        table.row(outlet_row(source, outlet));
    }
    page.put(Block::paragraph(say("outlets.how")));
    page.put(Block::Table(table));
    page.put(Block::Caution(Caution::new(
        Hazard::Dust,
        say("outlets.dust"),
    )));
    let moves: Vec<&Outlet> = rooms
        .iter()
        .flat_map(|room| &room.outlets)
        .filter(|outlet| outlet.may_move.is_some())
        .collect();
    if !moves.is_empty() {
        page.put(Block::heading(say("outlets.may-move")));
        for outlet in moves {
            page.put(Block::paragraph(Text::line(source.files, outlet.span)));
        }
    }
    page.put(Block::note(say("outlets.note")));
    Some(page)
}

/// Rooms, then the outlets of each story.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    if source.model.house.rooms.is_empty() {
        return;
    }
    pages.push(room_page(source));
    for story in stories(source) {
        pages.extend(outlet_page(source, story));
    }
}
