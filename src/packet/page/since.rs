//! What an earlier revision of the packet held, and which pages stand as they were in it.

use std::collections::BTreeMap;

use super::block::Block;
use super::sheet::Page;
use crate::figures::Figure;
use crate::packet::text::{Text, plural, say};

/// Pages that say of themselves what the packet holds; they change with it and are not counted.
const OF_THE_PACKET: [&str; 2] = ["cover", "contents"];

/// An earlier revision of the packet.
#[derive(Clone, Debug, PartialEq)]
pub struct Since {
    /// Its letter, as the job's list of revisions has it.
    pub mark: Text,
    /// Its date, from the same line.
    pub date: Text,
    /// The printed digest of each of its pages, by id.
    pub pages: BTreeMap<String, String>,
}

impl Since {
    fn counts(page: &Page) -> bool {
        !OF_THE_PACKET.contains(&page.id.as_str())
    }

    /// Whether `page`, now of `digest`, stands as it was.
    pub(super) fn holds(&self, page: &Page, digest: &str) -> bool {
        Self::counts(page) && self.pages.get(&page.id).is_some_and(|was| was == digest)
    }

    /// What the contents say beside a page that stands as it was.
    pub(super) fn mark(&self) -> Text {
        say("since.as-in").with("mark", self.mark.clone()).into()
    }

    /// What the cover says: which pages to exchange and how many to keep.
    pub(super) fn blocks(&self, pages: &[(&Page, String)]) -> Vec<Block> {
        let counted = || pages.iter().filter(|(page, _)| Self::counts(page));
        let changed: Vec<Text> = counted()
            .filter(|(page, digest)| !self.holds(page, digest))
            .map(|(page, _)| page.title.clone())
            .collect();
        let kept = counted().count() - changed.len();
        let gone = self
            .pages
            .keys()
            .filter(|id| !pages.iter().any(|(page, _)| page.id == **id))
            .count();
        let mut blocks = vec![Block::heading(
            say("since.title")
                .with("mark", self.mark.clone())
                .with("date", self.date.clone()),
        )];
        blocks.push(Block::paragraph(if changed.is_empty() {
            say("since.none")
        } else {
            say("since.changed").with("pages", Text::listed(changed))
        }));
        let kept = Figure::count("packet.pages-kept", kept);
        blocks.push(Block::paragraph(plural(
            say("since.kept-one"),
            say("since.kept-many"),
            &kept,
        )));
        if gone > 0 {
            let gone = Figure::count("packet.pages-gone", gone);
            blocks.push(Block::paragraph(plural(
                say("since.gone-one"),
                say("since.gone-many"),
                &gone,
            )));
        }
        blocks
    }
}
