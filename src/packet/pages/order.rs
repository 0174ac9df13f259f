//! The order of pages is the order of work: holds and pull list first, sources last.

use super::cover;
use super::source::PageSource;
use crate::packet::page::Page;

/// Adds the pages of one matter; none when the job has nothing of it.
type AddPages = fn(&PageSource<'_>, &mut Vec<Page>);

/// One line a file.
const ORDER: &[AddPages] = &[cover::add];

/// All pages of a job.
pub fn pages(source: &PageSource<'_>) -> Vec<Page> {
    let mut pages = Vec::new();
    for add in ORDER {
        add(source, &mut pages);
    }
    pages
}
