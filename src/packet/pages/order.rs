//! The order of pages is the order of work: holds and pull list first, sources last.

use super::source::PageSource;
use super::{cover, cut_tags, plan, return_air, schedule, setting, trunk_chart};
use crate::packet::page::Page;

/// Adds the pages of one matter; none when the job has nothing of it.
type AddPages = fn(&PageSource<'_>, &mut Vec<Page>);

/// One line a file.
const ORDER: &[AddPages] = &[
    cover::add,
    plan::add,
    schedule::add,
    setting::add,
    trunk_chart::add,
    cut_tags::add,
    return_air::add,
];

/// All pages of a job.
pub fn pages(source: &PageSource<'_>) -> Vec<Page> {
    let mut pages = Vec::new();
    for add in ORDER {
        add(source, &mut pages);
    }
    pages
}
