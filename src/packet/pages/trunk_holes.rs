//! The holes and fittings of a trunk, from the unit on: one a row with rooms, or two a row below the chart.

use super::PageSource;
use super::cut_tags::{room_of, runs_of};
use super::schedule::figure_or_empty;
use super::trunk_chart::fitting_words;
use crate::model::{FittingKind, Trunk};
use crate::packet::page::{Column, Table};
use crate::packet::text::{Text, Words, say};
use crate::quantity::Length;

/// A hole or a fitting: from the unit, what, side, hole, room.
pub(super) struct Hole {
    fitting: bool,
    start: bool,
    cells: [Text; 5],
}

impl Hole {
    fn diameter(&self) -> &Text {
        let [_, _, _, hole, _] = &self.cells;
        hole
    }
}

/// Every hole and fitting in the order in which the tape passes it; fittings stand out.
pub(super) fn holes(source: &PageSource<'_>, trunk: &Trunk) -> Vec<Hole> {
    let mut rows: Vec<(Length, Hole)> = Vec::new();
    for (n, fitting) in trunk.fittings.iter().enumerate() {
        let id = format!("trunk.{}.fitting_{}.station", trunk.name, n + 1);
        let none = Text::empty;
        let cells = [
            Text::of(source.ledger, &id),
            fitting_words(fitting),
            none(),
            none(),
            none(),
        ];
        rows.push((
            fitting.station,
            Hole {
                fitting: true,
                start: matches!(fitting.kind, FittingKind::Unit | FittingKind::Start),
                cells,
            },
        ));
    }
    for run in runs_of(source, trunk) {
        let Some(station) = run.station else { continue };
        let figure =
            |quantity: &str| figure_or_empty(source, &format!("run.{}.{quantity}", run.name));
        let side = run
            .side
            .as_ref()
            .map_or_else(Text::empty, |side| Text::quote(source.files, side.span));
        let cells = [
            figure("station"),
            Text::tag(&run.name),
            side,
            figure("hole"),
            room_of(source, run),
        ];
        rows.push((
            station.value,
            Hole {
                fitting: false,
                start: false,
                cells,
            },
        ));
    }
    rows.sort_by_key(|(station, _)| *station);
    rows.into_iter().map(|(_, hole)| hole).collect()
}

/// What stands in a row behind the hole: a blank for each step, none for a fitting.
fn done(strong: bool) -> Text {
    if strong { Text::empty() } else { Text::blank() }
}

/// The holes with their rooms, one a row.
pub(super) fn long_table(rows: Vec<Hole>) -> Table {
    let mut table = Table::new(vec![
        Column::right(say("trunk.from-unit")),
        Column::left(say("trunk.what")),
        Column::left(say("trunk.side")),
        Column::right(say("trunk.hole")),
        Column::left(say("trunk.room")).wide(),
        Column::center(say("trunk.cut")),
        Column::center(say("trunk.fitted")),
    ]);
    for Hole { fitting, cells, .. } in rows {
        let cells = cells.into_iter().chain([done(fitting), done(fitting)]);
        if fitting {
            table.strong_row(cells);
        } else {
            table.row(cells);
        }
    }
    table
}

/// The diameter of all holes, where they are alike.
pub(super) fn alike(rows: &[Hole]) -> Option<Text> {
    let mut holes = rows.iter().filter(|row| !row.fitting).map(Hole::diameter);
    let first = holes.next()?;
    let same = holes.all(|hole| hole.plain(Words::english()) == first.plain(Words::english()));
    same.then(|| first.clone())
}

/// The holes three a row, going down, all of one diameter; the rooms stand on the tags and in the schedule.
pub(super) fn folded_table(rows: &[Hole]) -> Table {
    let third = || {
        [
            Column::right(say("trunk.from-unit")),
            Column::left(say("trunk.what")).wide(),
            Column::center(say("trunk.done")),
        ]
    };
    let cells = |row: Option<&Hole>| match row.map(|row| (row.fitting, &row.cells)) {
        Some((fitting, [station, what, side, ..])) => {
            let what = [what, side].into_iter().filter(|text| !text.is_empty());
            [station.clone(), Text::listed(what.cloned()), done(fitting)]
        }
        None => std::array::from_fn(|_| Text::empty()),
    };
    // The tape starts at the unit or the tee: no row is needed to find it.
    let rows: Vec<&Hole> = rows.iter().filter(|row| !row.start).collect();
    let deep = rows.len().div_ceil(3);
    let columns = [third(), third(), third()].into_iter().flatten().collect();
    let mut table = Table::new(columns);
    for n in 0..deep {
        table.row((0..3).flat_map(|part| cells(rows.get(n + part * deep).copied())));
    }
    table
}
