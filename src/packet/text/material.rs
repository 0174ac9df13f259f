//! Texts of the take-off: names of items, ends of pieces, packs and uses, each with the statement they come from.

use super::printed::Text;
use crate::material::{CutList, Need, Piece};
use crate::source::{Files, Span};

impl Text {
    /// The item's name.
    pub fn item(files: &Files, need: &Need) -> Self {
        Self::said(files, place_of(need), &need.item)
    }

    /// What one unit of the order holds.
    pub fn pack(files: &Files, need: &Need) -> Self {
        Self::said_or_empty(files, place_of(need), &need.pack)
    }

    /// What the item is for.
    pub fn uses(files: &Files, need: &Need) -> Self {
        Self::said_or_empty(files, place_of(need), &need.uses.join(", "))
    }

    /// Why the catalog cannot supply the item.
    pub fn missing_item(files: &Files, need: &Need) -> Option<Self> {
        let reason = need.missing.as_ref()?;
        Some(Self::said(files, place_of(need), reason))
    }

    /// The stock that a piece is cut from.
    pub fn piece_item(files: &Files, piece: &Piece) -> Self {
        Self::said(files, Some(piece.span), &piece.item)
    }

    /// The length of the stock that a piece is cut from.
    pub fn piece_stock(files: &Files, piece: &Piece) -> Self {
        let stock = piece.stock.map(crate::quantity::length_text);
        Self::said_or_empty(files, Some(piece.span), stock.as_deref().unwrap_or(""))
    }

    /// What is at the start of a piece.
    pub fn piece_from(files: &Files, piece: &Piece) -> Self {
        Self::said_or_empty(files, Some(piece.span), &piece.from)
    }

    /// What is at the end of a piece.
    pub fn piece_to(files: &Files, piece: &Piece) -> Self {
        Self::said_or_empty(files, Some(piece.span), &piece.to)
    }

    /// What a piece belongs to.
    pub fn piece_system(files: &Files, piece: &Piece) -> Self {
        Self::said(files, Some(piece.span), piece.system.word())
    }

    /// How an item is bought.
    pub fn need_unit(files: &Files, need: &Need) -> Self {
        Self::said(files, place_of(need), need.unit.word())
    }

    /// Price of one unit of the order, without its sign.
    pub fn price(files: &Files, need: &Need) -> Self {
        let price = need.price.map(crate::catalog::Price::text);
        Self::said_or_empty(files, need.price_span, price.as_deref().unwrap_or(""))
    }

    /// Why a piece has no length.
    pub fn piece_reason(files: &Files, piece: &Piece) -> Self {
        let reason = piece.reason.as_deref().unwrap_or("");
        Self::said_or_empty(files, Some(piece.span), reason)
    }

    /// The stock of a cut list.
    pub fn cut_item(files: &Files, list: &CutList) -> Self {
        Self::said(files, Some(list.span), &list.item)
    }

    fn said_or_empty(files: &Files, span: Option<Span>, words: &str) -> Self {
        if words.is_empty() {
            Self::empty()
        } else {
            Self::said(files, span, words)
        }
    }
}

fn place_of(need: &Need) -> Option<Span> {
    need.catalog
        .or_else(|| need.places.first().map(|(span, _)| *span))
}
