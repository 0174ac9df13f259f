//! The order of pages is the order of work: holds and pull list first, sources last.

use super::source::PageSource;
use super::{
    air_schematic, checked, coil, controls, cover, cut_tags, drain, fan_chart, feed, hot_water,
    line_set, notes, order_list, other, pan, pieces, plan, pump, return_air, room_air, schedule,
    setting, sources, start_up, trouble, trunk_chart, voltage, zones,
};
use crate::packet::page::Page;

/// Adds the pages of one matter; none when the job has nothing of it.
type AddPages = fn(&PageSource<'_>, &mut Vec<Page>);

/// One line a file.
const ORDER: &[AddPages] = &[
    cover::add,
    notes::add,
    order_list::add_pull,
    plan::add,
    schedule::add,
    setting::add,
    air_schematic::add,
    trunk_chart::add,
    pieces::add,
    cut_tags::add,
    return_air::add,
    drain::add,
    pan::add,
    pump::add,
    feed::add,
    voltage::add,
    controls::add,
    line_set::add,
    hot_water::add,
    other::add,
    order_list::add_order,
    start_up::add,
    room_air::add,
    fan_chart::add,
    zones::add,
    coil::add,
    trouble::add,
    checked::add,
    sources::add,
];

/// All pages of a job.
pub fn pages(source: &PageSource<'_>) -> Vec<Page> {
    let mut pages = Vec::new();
    for add in ORDER {
        add(source, &mut pages);
    }
    pages
}
