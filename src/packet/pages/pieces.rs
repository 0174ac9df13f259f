//! Pieces to cut and the stock lengths they come from, a page for each trade.

use super::cut_bars::bars;
use super::source::PageSource;
use crate::material::{Piece, System};
use crate::packet::page::{Block, Caution, Column, Hazard, Page, Table, Trade};
use crate::packet::text::{Phrase, Text, say};

/// Whose pieces a page holds.
struct Group {
    id: &'static str,
    title: Phrase,
    trade: Trade,
    systems: &'static [System],
}

const GROUPS: &[Group] = &[
    Group {
        id: "pieces-trunk",
        title: say("pieces.trunk"),
        trade: Trade::SheetMetal,
        systems: &[System::Trunk, System::Branch],
    },
    Group {
        id: "pieces-tube",
        title: say("pieces.tube"),
        trade: Trade::SheetMetal,
        systems: &[System::Run],
    },
    Group {
        id: "pieces-pipe",
        title: say("pieces.pipe"),
        trade: Trade::Plumber,
        systems: &[System::Drain, System::Water],
    },
    Group {
        id: "pieces-line-set",
        title: say("pieces.line-set"),
        trade: Trade::Refrigeration,
        systems: &[System::LineSet],
    },
    Group {
        id: "pieces-cable",
        title: say("pieces.cable"),
        trade: Trade::Electrician,
        systems: &[System::Power, System::Control],
    },
];

/// The pages; a trade without pieces has none.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    for group in GROUPS {
        let pieces: Vec<&Piece> = source
            .material
            .pieces
            .iter()
            .filter(|piece| group.systems.contains(&piece.system))
            .collect();
        if !pieces.is_empty() {
            pages.push(page(source, group, &pieces));
        }
    }
}

fn page(source: &PageSource<'_>, group: &Group, pieces: &[&Piece]) -> Page {
    let mut page = Page::new(group.id, group.title.clone()).trades(&[group.trade]);
    page.put(Block::note(say("pieces.not-proven")));
    page.put(Block::Caution(Caution::new(
        Hazard::Cut,
        say("pieces.caution"),
    )));
    page.put(table(source, pieces));
    page.put(Block::note(say("pieces.sixteenth")));
    if group.systems.contains(&System::Run) {
        page.put(Block::note(say("pieces.sound")));
    }
    for list in &source.material.cut_lists {
        let own = pieces
            .iter()
            .any(|piece| piece.item == list.item && piece.shelf == list.shelf);
        if !own {
            continue;
        }
        let item = Text::cut_item(source.files, list);
        page.put(Block::heading(
            say("pieces.stock")
                .with("item", item)
                .with("bars", source.of(&list.bars_figure())),
        ));
        for scene in bars(source, list) {
            page.put(Block::drawing(say("pieces.bars"), scene));
        }
        if !list.unplaced.is_empty() {
            let tags = list.unplaced.iter().map(|tag| Text::tag(tag));
            page.put(Block::paragraph(
                say("pieces.unplaced").with("tags", Text::listed(tags)),
            ));
        }
    }
    page
}

/// The pieces, a row each.
pub(super) fn table(source: &PageSource<'_>, pieces: &[&Piece]) -> Block {
    let rooms = pieces.iter().any(|piece| piece.room.is_some());
    let mut columns = vec![
        Column::left(say("pieces.col-tag")),
        Column::left(say("pieces.col-item")).wide(),
        Column::right(say("pieces.col-cut")),
        Column::left(say("pieces.col-from")),
        Column::left(say("pieces.col-to")),
    ];
    if rooms {
        columns.push(Column::left(say("pieces.col-room")));
    }
    columns.push(Column::center(say("pieces.col-done")));
    let mut table = Table::new(columns);
    for piece in pieces {
        let cut = match source.figure(&piece.cut_figure()) {
            Some(figure) if piece.field_cut => {
                say("pieces.field-cut").with("length", figure).into()
            }
            Some(figure) => Text::figure(figure),
            None => Text::piece_reason(source.files, piece),
        };
        let mut cells = vec![
            Text::tag(&piece.tag),
            Text::piece_item(source.files, piece),
            cut,
            Text::piece_from(source.files, piece),
            Text::piece_to(source.files, piece),
        ];
        if rooms {
            let room = piece.room.as_deref().and_then(|room| {
                let placed = source.model.house.rooms.get(room)?;
                Some(source.name(placed.span, room))
            });
            cells.push(room.unwrap_or_else(Text::empty));
        }
        cells.push(Text::blank());
        table.row(cells);
    }
    Block::Table(table)
}
