//! Pieces packed into stock lengths, what lies on hand first.

use indexmap::IndexMap;

use crate::catalog::Price;
use crate::figures::Figure;
use crate::language::Entry;
use crate::physics::packing::{Stock as Bars, pack};
use crate::quantity::{Length, trade_length};
use crate::source::Span;

use super::desk::Desk;
use super::need::Sold;
use super::stock::{Shelf, Stock};

/// One bar or coil and what is cut from it.
#[derive(Clone, Debug)]
pub struct CutBar {
    /// Its number in the list, from 1.
    pub number: usize,
    /// Its length.
    pub stock: Length,
    /// Whether it lies on hand.
    pub on_hand: bool,
    /// Price, where it is bought and the catalog states it.
    pub price: Option<Price>,
    /// Tags of its pieces, in the order of cutting.
    pub pieces: Vec<String>,
    /// What is left.
    pub offcut: Length,
}

/// The bars of one stock item.
#[derive(Clone, Debug)]
pub struct CutList {
    /// The stock, as the catalog names it.
    pub item: String,
    /// The name that its figures carry.
    pub key: String,
    /// Its shelf.
    pub shelf: Shelf,
    /// Width of a cut.
    pub kerf: Length,
    /// The bars, in the order of cutting.
    pub bars: Vec<CutBar>,
    /// Tags of pieces that are longer than any stock.
    pub unplaced: Vec<String>,
    /// Price of the bars to buy; without a price in the catalog, their number.
    pub cost: u64,
    /// No cut list costs less than this.
    pub bound: u64,
    /// Whether the cost equals the bound. First-fit decreasing is not proven otherwise.
    pub proven: bool,
    /// The catalog's item.
    pub span: Span,
}

impl CutList {
    /// The id of the offcut of a bar in the ledger.
    pub fn offcut_figure(&self, bar: &CutBar) -> String {
        format!("bar.{}-{}.offcut", self.key, bar.number)
    }

    /// The id of the number of bars in the ledger.
    pub fn bars_figure(&self) -> String {
        format!("cut-list.{}.bars", self.key)
    }

    /// `proven` or `not proven`.
    pub const fn label(&self) -> &'static str {
        if self.proven { "proven" } else { "not proven" }
    }
}

struct OnHand {
    length: Length,
    count: u64,
    span: Span,
}

/// Stock on hand by item, in the order written.
fn on_hand(entries: &[Entry]) -> IndexMap<String, Vec<OnHand>> {
    let mut all: IndexMap<String, Vec<OnHand>> = IndexMap::new();
    for entry in entries.iter().filter(|entry| entry.word.word == "on-hand") {
        let (Some(item), Some(length)) =
            (entry.text("item").known(), entry.length("length").known())
        else {
            continue;
        };
        let count = entry
            .real("count")
            .known()
            .and_then(|count| super::hanger::whole(count.value))
            .and_then(|count| u64::try_from(count).ok())
            .unwrap_or(0);
        if length.value > Length::ZERO && count > 0 {
            all.entry(item.value).or_default().push(OnHand {
                length: length.value,
                count,
                span: entry.span,
            });
        }
    }
    all
}

fn whole(length: Length) -> u64 {
    u64::try_from(length.nm()).unwrap_or(0)
}

/// Packs every piece that has a length, stock by stock, and adds the bars to what is needed.
pub(super) fn take_off(desk: &mut Desk<'_>) -> Vec<CutList> {
    let mut groups: IndexMap<(Shelf, String), Vec<usize>> = IndexMap::new();
    for (n, piece) in desk.pieces.iter().enumerate() {
        if piece.cut.is_some_and(|cut| cut > Length::ZERO) && piece.stock.is_some() {
            groups
                .entry((piece.shelf, piece.item.clone()))
                .or_default()
                .push(n);
        }
    }
    let held = on_hand(&desk.model.entries);
    let mut lists = Vec::new();
    for ((shelf, item), pieces) in groups {
        let Some(stock) = Stock::find(desk.catalog, shelf, &item) else {
            continue;
        };
        let held = held.get(&item).map_or(&[][..], Vec::as_slice);
        if let Some(list) = one(desk, shelf, &item, &stock, &pieces, held) {
            lists.push(list);
        }
    }
    lists
}

fn one(
    desk: &mut Desk<'_>,
    shelf: Shelf,
    item: &str,
    stock: &Stock,
    pieces: &[usize],
    held: &[OnHand],
) -> Option<CutList> {
    let bar = stock.length?;
    let mut stocks: Vec<Bars> = held
        .iter()
        .map(|held| Bars {
            length: whole(held.length),
            price: 0,
            count: Some(held.count),
        })
        .collect();
    // Without a price the number of bars is what is kept small.
    let price = stock.price.map_or(1, |price| price.0.max(1));
    stocks.push(Bars {
        length: whole(bar),
        price: u64::try_from(price).unwrap_or(1),
        count: None,
    });
    let known: Vec<&super::Piece> = pieces.iter().filter_map(|&n| desk.pieces.get(n)).collect();
    let cuts: Vec<Length> = known
        .iter()
        .map(|piece| piece.cut.unwrap_or_default())
        .collect();
    let tags: Vec<String> = known.iter().map(|piece| piece.tag.clone()).collect();
    let lengths: Vec<u64> = cuts.iter().map(|cut| whole(*cut)).collect();
    let plan = pack(&stocks, &lengths, whole(stock.kerf));
    let mut bars: Vec<CutBar> = plan
        .bars
        .iter()
        .map(|used| {
            let on_hand = held.get(used.stock);
            let length = on_hand.map_or(bar, |held| held.length);
            let cut: Length = used
                .pieces
                .iter()
                .filter_map(|&n| cuts.get(n))
                .copied()
                .sum();
            let saw = stock.kerf * i64::try_from(used.pieces.len()).unwrap_or(0);
            CutBar {
                number: 0,
                stock: length,
                on_hand: on_hand.is_some(),
                price: stock.price.filter(|_| on_hand.is_none()),
                pieces: used
                    .pieces
                    .iter()
                    .filter_map(|&n| tags.get(n))
                    .cloned()
                    .collect(),
                // The last cut may run into the end of the bar.
                offcut: (length - cut - saw).max(Length::ZERO),
            }
        })
        .collect();
    bars.sort_by_key(|bar| !bar.on_hand);
    for (n, bar) in bars.iter_mut().enumerate() {
        bar.number = n + 1;
    }
    let uses = uses(&known);
    let sold = Sold {
        catalog: Some(stock.span),
        price: stock.price,
        price_span: Some(stock.price_span),
        per_pack: 1,
        unit: Some(shelf.unit()),
        pack: Some(trade_length(bar)),
    };
    let place = (stock.length_span, format!("stock {}", trade_length(bar)));
    let count = bars.len();
    let first = uses.first().cloned().unwrap_or_default();
    desk.needs.add(item, sold, count, &first, Some(place));
    for use_for in uses.iter().skip(1) {
        desk.needs.also_for(item, use_for);
    }
    desk.needs
        .on_hand(item, bars.iter().filter(|bar| bar.on_hand).count());
    let list = CutList {
        item: item.to_owned(),
        key: super::need::key_of(item),
        shelf,
        kerf: stock.kerf,
        unplaced: plan
            .unplaced
            .iter()
            .filter_map(|&n| tags.get(n))
            .cloned()
            .collect(),
        cost: plan.cost,
        bound: plan.bound,
        proven: plan.proven(),
        bars,
        span: stock.span,
    };
    figures(desk, &list, stock, held);
    Some(list)
}

/// What the pieces of a stock are for: runs and cables together, other routes by name.
fn uses(pieces: &[&super::Piece]) -> Vec<String> {
    let mut uses = Vec::new();
    for piece in pieces {
        let use_for = match piece.shelf {
            Shelf::Tube => "runs".to_owned(),
            Shelf::Cable => "cables".to_owned(),
            Shelf::TrunkPipe | Shelf::Pipe => format!("{} {}", piece.system.word(), piece.route),
        };
        if !uses.contains(&use_for) {
            uses.push(use_for);
        }
    }
    uses
}

fn figures(desk: &mut Desk<'_>, list: &CutList, stock: &Stock, held: &[OnHand]) {
    let said = |span: Span, length: Length| (span, format!("stock {}", trade_length(length)));
    let mut bars = Figure::count(list.bars_figure(), list.bars.len())
        .formula("bars that the pieces are packed into, longest first, each into the first bar with room")
        .source("first-fit decreasing");
    for bar in &list.bars {
        let (span, text) = held
            .iter()
            .find(|held| bar.on_hand && held.length == bar.stock)
            .map_or_else(
                || said(stock.length_span, bar.stock),
                |held| said(held.span, held.length),
            );
        let mut offcut = Figure::length(list.offcut_figure(bar), bar.offcut)
            .formula("bar, less its pieces and one cut for each")
            .place(span, text);
        for tag in &bar.pieces {
            let id = format!("piece.{}.cut", tag.to_ascii_lowercase());
            bars = bars.input(id.clone());
            offcut = offcut.input(id);
        }
        desk.figures.push(offcut);
    }
    desk.figures.push(bars);
}
