//! Ways along conductors, as findings about wiring name them.

use crate::catalog::Call;
use crate::model::Cable;
use crate::rules::Job;
use crate::source::Span;
use crate::systems::controls::Netlist;

/// The way from one point to another in words.
pub(super) fn from_to(net: &Netlist, from: usize, to: usize) -> String {
    net.path(from, to)
        .map_or_else(String::new, |path| net.path_words(&path))
}

/// The words of the job that name the end of the way from one point to another.
pub(super) fn last_words(net: &Netlist, from: usize, to: usize) -> Option<Span> {
    let path = net.path(from, to)?;
    path.windows(2)
        .rev()
        .find_map(|pair| net.words_between(*pair.first()?, *pair.last()?))
}

/// A colour that the cable has and that nothing uses yet; a spare one counts as free.
pub(super) fn free_colour(job: &Job<'_>, cable: &Cable) -> Option<String> {
    let item = cable
        .item
        .as_ref()
        .and_then(|item| job.catalog.cables.get(&item.value))?;
    item.colours
        .iter()
        .filter_map(crate::catalog::Stated::get)
        .find(|colour| !cable.wires.iter().any(|wire| wire.colour.value == *colour))
}

/// What a call asks for, as reports say it.
pub(super) const fn asked(call: Call) -> &'static str {
    match call {
        Call::Fan => "the fan",
        Call::Cool => "cooling",
        Call::Cool2 => "second-stage cooling",
        Call::Heat => "heat",
        Call::Heat2 => "second-stage heat",
        Call::Reversing => "the reversing valve",
    }
}
