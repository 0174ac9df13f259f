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

/// A conductor of a cable that a wire can take.
pub(super) struct Free {
    /// Its colour.
    pub(super) colour: String,
    /// Whether the job calls it spare so far.
    pub(super) spare: bool,
}

/// The conductors that nothing uses yet: those that are not mentioned before those called spare.
pub(super) fn free_colours(job: &Job<'_>, cable: &Cable) -> Vec<Free> {
    let item = cable
        .item
        .as_ref()
        .and_then(|item| job.catalog.cables.get(&item.value));
    let spare = |colour: &str| cable.spares.iter().any(|spare| spare.value == colour);
    let mut out: Vec<Free> = item
        .iter()
        .flat_map(|item| item.colours.iter())
        .filter_map(crate::catalog::Stated::get)
        .filter(|colour| !cable.wires.iter().any(|wire| wire.colour.value == *colour))
        .map(|colour| Free {
            spare: spare(&colour),
            colour,
        })
        .collect();
    out.sort_by_key(|free| free.spare);
    out
}

/// The first of them.
pub(super) fn free_colour(job: &Job<'_>, cable: &Cable) -> Option<Free> {
    free_colours(job, cable).into_iter().next()
}

/// The wire to add between two terminals: its words, a help that names them, and the place to type them, when the
/// conductor is not called spare so far.
pub(super) fn wire_to_add(
    job: &Job<'_>,
    cable: Option<&Cable>,
    from: &str,
    to: &str,
) -> (String, Option<(Span, String)>) {
    let free = cable.and_then(|cable| free_colour(job, cable));
    let colour = free.as_ref().map_or("…", |free| free.colour.as_str());
    let words = format!("wire {colour} from {from} to {to}");
    match (&free, cable.and_then(|cable| cable.wires.last())) {
        (Some(free), _) if free.spare => {
            (format!("add `{words}` in place of `spare {colour}`"), None)
        }
        (Some(_), Some(wire)) => {
            let after = Span::new(wire.span.file, wire.span.end, wire.span.end);
            (
                format!("add `{words}`"),
                Some((after, format!(", {words}"))),
            )
        }
        _ => (format!("add `{words}`"), None),
    }
}

/// What a call asks for, as reports say it.
pub(super) const fn asked(call: Call) -> &'static str {
    match call {
        Call::Fan => "the fan",
        Call::Cool => "cooling",
        Call::Cool2 => "second-stage cooling",
        Call::Heat => "heat",
        Call::Heat2 => "second-stage heat",
        Call::Dehumidify => "drier air",
        Call::Emergency => "emergency heat",
        Call::Reversing => "the reversing valve",
    }
}
