//! A page and the packet of pages.

use std::collections::BTreeSet;

use super::block::Block;
use super::job::JobFacts;
use super::trade::Trade;
use crate::figures::Ledger;
use crate::packet::text::{Text, Words};
use crate::source::{Files, Span};

/// One page: one thing in hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Lower case words joined by `-`, unique in the packet (`drain-primary`).
    pub id: String,
    /// What it is.
    pub title: Text,
    /// Whose it is; everyone's when empty.
    pub trades: Vec<Trade>,
    /// Whether it lies on its side on paper.
    pub sideways: bool,
    /// What stands on it.
    pub blocks: Vec<Block>,
    /// Words of spec and catalog that it rests on beside those that its figures name.
    pub rests_on: Vec<String>,
}

impl Page {
    /// An empty page.
    pub fn new(id: impl Into<String>, title: impl Into<Text>) -> Self {
        Self {
            id: id.into(),
            title: title.into(),
            trades: Vec::new(),
            sideways: false,
            blocks: Vec::new(),
            rests_on: Vec::new(),
        }
    }

    /// Says whose it is.
    #[must_use]
    pub fn trades(mut self, trades: &[Trade]) -> Self {
        self.trades = trades.to_vec();
        self
    }

    /// Lays it on its side, for wide drawings.
    #[must_use]
    pub fn sideways(mut self) -> Self {
        self.sideways = true;
        self
    }

    /// Adds a block.
    pub fn put(&mut self, block: Block) {
        self.blocks.push(block);
    }

    /// Adds words that it rests on: the whole statement that it draws, say.
    pub fn rests_on(&mut self, files: &Files, span: Span) {
        self.rests_on.push(files.text(span).to_owned());
    }

    /// Visits every text on it.
    pub fn each_text(&self, visit: &mut dyn FnMut(&Text)) {
        visit(&self.title);
        self.blocks.iter().for_each(|block| block.each_text(visit));
    }
}

/// All pages of a job.
#[derive(Clone, Debug)]
pub struct Packet<'a> {
    /// What every page says.
    pub job: JobFacts,
    /// The pages in order of work.
    pub pages: Vec<Page>,
    /// The figures that pages print.
    pub ledger: &'a Ledger,
    /// The files that the packet rests on.
    pub files: &'a Files,
}

impl Packet<'_> {
    /// The same packet with the pages of one trade, and those of everyone.
    #[must_use]
    pub fn of_trade(mut self, trade: Trade) -> Self {
        self.pages
            .retain(|page| page.trades.is_empty() || page.trades.contains(&trade));
        self
    }

    /// What builders left wrong: absent figures, unknown keys, open slots, rows that do not fit, ids used twice.
    /// Empty for every packet that is fit to print; tests demand it.
    pub fn faults(&self, words: &Words) -> Vec<String> {
        let mut out = Vec::new();
        let mut ids = BTreeSet::new();
        self.job.each_text(&mut |text| text.faults(words, &mut out));
        for page in &self.pages {
            if !ids.insert(&page.id) {
                out.push(format!("two pages named `{}`", page.id));
            }
            let mut here = Vec::new();
            page.each_text(&mut |text| text.faults(words, &mut here));
            page.each_text(&mut |text| {
                text.each_figure(&mut |id| {
                    // Figures of a drawing's own (scale, bar) and counts of the packet's own are not in the ledger.
                    let own = ["drawing.", "packet."]
                        .iter()
                        .any(|own| id.starts_with(own));
                    if !own && self.ledger.get(id).is_none() {
                        here.push(format!("figure `{id}` is not in the ledger"));
                    }
                });
            });
            for block in &page.blocks {
                if let Block::Table(table) = block
                    && table
                        .rows
                        .iter()
                        .any(|row| row.cells.len() != table.columns.len())
                {
                    here.push("a row with more cells than columns".to_owned());
                }
            }
            out.extend(
                here.into_iter()
                    .map(|fault| format!("{}: {fault}", page.id)),
            );
        }
        out
    }
}
