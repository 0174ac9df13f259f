//! `pieces.csv`: every piece to cut, in the order of build.

use crate::packet::pages::PageSource;
use crate::packet::set::{List, PIECES};
use crate::packet::text::Text;

/// Every piece.
pub(super) fn rows(source: &PageSource<'_>) -> List {
    let mut list = List::new(&PIECES);
    for piece in &source.material.pieces {
        let cut = source.figure(&piece.cut_figure());
        let house = &source.model.house;
        let room = piece.room.as_ref().and_then(|name| house.rooms.get(name));
        let story = piece
            .story
            .as_ref()
            .and_then(|name| house.stories.get(name));
        list.row([
            Text::tag(&piece.tag),
            Text::piece_system(source.files, piece),
            Text::piece_item(source.files, piece),
            Text::piece_stock(source.files, piece),
            cut.map_or_else(|| Text::piece_reason(source.files, piece), Text::figure),
            cut.map_or_else(Text::empty, Text::figure),
            Text::piece_from(source.files, piece),
            Text::piece_to(source.files, piece),
            room.map_or_else(Text::empty, |room| source.name(room.span, &room.name)),
            story.map_or_else(Text::empty, |story| source.name(story.span, &story.name)),
        ]);
    }
    list
}
