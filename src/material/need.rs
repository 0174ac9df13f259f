//! What has to be there: how many, in which packs, at what price, and for what.

use indexmap::IndexMap;

use crate::catalog::{Count, Price, Stated};
use crate::source::Span;

/// How an item is bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// One by one.
    Each,
    /// In packs.
    Pack,
    /// In stock lengths.
    Length,
    /// In coils.
    Coil,
}

impl Unit {
    /// Its word in the order.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Each => "each",
            Self::Pack => "pack",
            Self::Length => "length",
            Self::Coil => "coil",
        }
    }
}

/// Something to bring to the job.
#[derive(Clone, Debug)]
pub struct Need {
    /// Its name in the catalog, else what it is in words.
    pub item: String,
    /// Its figures' name: the item in lower case with dashes.
    pub key: String,
    /// How many are used: pieces, bars or coils; none when as much as is needed.
    pub count: Option<usize>,
    /// How many of them lie on hand already.
    pub on_hand: usize,
    /// What one unit of the order holds, in words (`10 in a pack`, `5 ft`).
    pub pack: String,
    /// How many pieces one unit of the order holds.
    pub per_pack: u32,
    /// How it is bought.
    pub unit: Unit,
    /// Price of one unit of the order, where the catalog states it.
    pub price: Option<Price>,
    /// Where the price stands.
    pub price_span: Option<Span>,
    /// Its name's place in the catalog.
    pub catalog: Option<Span>,
    /// What it is for, in order.
    pub uses: Vec<String>,
    /// The places it was counted from, with what each says and adds.
    pub places: Vec<(Span, String)>,
    /// Why the catalog cannot supply it.
    pub missing: Option<String>,
}

impl Need {
    /// Units to order: what is used less what lies on hand, in whole packs.
    pub fn quantity(&self) -> Option<usize> {
        let per_pack = usize::try_from(self.per_pack.max(1)).unwrap_or(1);
        self.count
            .map(|count| count.saturating_sub(self.on_hand).div_ceil(per_pack))
    }

    /// The id of the count in the ledger.
    pub fn count_figure(&self) -> String {
        format!("item.{}.needed", self.key)
    }

    /// The id of the ordered quantity in the ledger.
    pub fn quantity_figure(&self) -> String {
        format!("item.{}.ordered", self.key)
    }
}

/// What the catalog says of how an item is sold.
#[derive(Clone, Debug, Default)]
pub(super) struct Sold {
    pub(super) catalog: Option<Span>,
    pub(super) price: Option<Price>,
    pub(super) price_span: Option<Span>,
    pub(super) per_pack: u32,
    pub(super) unit: Option<Unit>,
    pub(super) pack: Option<String>,
}

impl Sold {
    /// Sold at `price`, in packs of `pack` when it is more than one.
    pub(super) fn at(
        span: Span,
        price: Option<&Stated<Price>>,
        pack: Option<&Stated<Count>>,
    ) -> Self {
        Self {
            catalog: Some(span),
            price: price.and_then(Stated::get),
            price_span: price.filter(|p| p.get().is_some()).map(|p| p.span),
            per_pack: pack.and_then(Stated::get).map_or(1, |count| count.0),
            unit: None,
            pack: None,
        }
    }
}

/// All needs by item, in the order in which they came up.
#[derive(Debug, Default)]
pub(super) struct Needs {
    all: IndexMap<String, Need>,
}

/// `9 in elbow` as `9-in-elbow`: a name that an id can hold.
pub(super) fn key_of(item: &str) -> String {
    let mut key = String::new();
    for c in item.chars() {
        if c.is_ascii_alphanumeric() {
            key.push(c.to_ascii_lowercase());
        } else if !key.is_empty() && !key.ends_with('-') {
            key.push('-');
        }
    }
    key.trim_end_matches('-').to_owned()
}

impl Needs {
    fn entry(&mut self, item: &str, sold: Sold) -> &mut Need {
        let key = self.free_key(item);
        self.all.entry(item.to_owned()).or_insert_with(|| {
            let per_pack = sold.per_pack.max(1);
            let unit = if per_pack > 1 { Unit::Pack } else { Unit::Each };
            let pack = if per_pack > 1 {
                format!("{per_pack} in a pack")
            } else {
                String::new()
            };
            Need {
                item: item.to_owned(),
                key,
                count: Some(0),
                on_hand: 0,
                pack: sold.pack.unwrap_or(pack),
                per_pack,
                unit: sold.unit.unwrap_or(unit),
                price: sold.price,
                price_span: sold.price_span,
                catalog: sold.catalog,
                uses: Vec::new(),
                places: Vec::new(),
                missing: None,
            }
        })
    }

    /// The item's key, with a number behind it when another item has the same.
    fn free_key(&self, item: &str) -> String {
        let plain = key_of(item);
        let taken = |key: &str| self.all.values().any(|need| need.key == key);
        let mut key = plain.clone();
        let mut n = 2;
        while taken(&key) {
            key = format!("{plain}-{n}");
            n += 1;
        }
        key
    }

    /// Adds `count` of `item`.
    pub(super) fn add(
        &mut self,
        item: &str,
        sold: Sold,
        count: usize,
        what_for: &str,
        place: Option<(Span, String)>,
    ) {
        if count == 0 {
            return;
        }
        let need = self.entry(item, sold);
        need.count = need.count.map(|before| before + count);
        need.note(what_for, place);
    }

    /// Adds `item`, which no catalog holds, for the reason given; nothing counted is as much as is needed.
    pub(super) fn add_missing(
        &mut self,
        item: &str,
        count: usize,
        reason: String,
        what_for: &str,
        place: Option<(Span, String)>,
    ) {
        let need = self.entry(item, Sold::default());
        need.count = need
            .count
            .filter(|_| count > 0)
            .map(|before| before + count);
        need.missing.get_or_insert(reason);
        need.note(what_for, place);
    }

    /// Adds `item` without a count: as much as is needed.
    pub(super) fn as_needed(&mut self, item: &str, sold: Sold, what_for: &str) {
        let need = self.entry(item, sold);
        need.count = None;
        need.note(what_for, None);
    }

    /// Names a further use of an item that is counted already.
    pub(super) fn also_for(&mut self, item: &str, what_for: &str) {
        if let Some(need) = self.all.get_mut(item) {
            need.note(what_for, None);
        }
    }

    /// Says how many of `item` lie on hand.
    pub(super) fn on_hand(&mut self, item: &str, count: usize) {
        if let Some(need) = self.all.get_mut(item) {
            need.on_hand += count;
        }
    }

    /// Everything, in order.
    pub(super) fn finish(self) -> Vec<Need> {
        self.all.into_values().collect()
    }
}

impl Need {
    fn note(&mut self, what_for: &str, place: Option<(Span, String)>) {
        if !self.uses.iter().any(|known| known == what_for) {
            self.uses.push(what_for.to_owned());
        }
        self.places.extend(place);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_are_whole_and_what_lies_on_hand_is_not_bought() {
        let mut needs = Needs::default();
        let sold = || Sold {
            per_pack: 10,
            ..Sold::default()
        };
        needs.add("2 in take-off", sold(), 10, "runs", None);
        needs.add("2 in take-off", sold(), 1, "runs", None);
        needs.add("2 in, take-off", sold(), 1, "runs", None);
        let all = needs.finish();
        assert_eq!(all[0].quantity(), Some(2));
        assert_eq!(all[0].pack, "10 in a pack");
        assert_eq!(all[0].uses, ["runs"]);
        assert_eq!(all[1].key, "2-in-take-off-2");
        let mut needs = Needs::default();
        needs.add("3/4 in PVC", Sold::default(), 3, "drains", None);
        needs.on_hand("3/4 in PVC", 2);
        assert_eq!(needs.finish()[0].quantity(), Some(1));
    }
}
