//! Breaker positions of a panel in the usual numbering: odd ones on the left, even ones on the right, from the top.

use crate::model::Circuit;
use crate::rules::Job;

/// Positions of a panel that are taken by other circuits than `circuit`.
pub(super) fn taken(job: &Job<'_>, circuit: &Circuit) -> Vec<u32> {
    let panel = circuit.panel.as_ref().map(|panel| &panel.value);
    job.model
        .circuits
        .values()
        .filter(|other| {
            other.name != circuit.name && other.panel.as_ref().map(|panel| &panel.value) == panel
        })
        .flat_map(numbers)
        .collect()
}

/// The positions of a circuit that are numbers.
pub(super) fn numbers(circuit: &Circuit) -> impl Iterator<Item = u32> {
    circuit
        .positions
        .iter()
        .filter_map(|position| position.value.parse().ok())
}

/// How many positions the breaker takes; none when its poles are not known.
pub(super) fn needed(circuit: &Circuit) -> Option<usize> {
    let poles = circuit.poles.as_ref()?;
    Some(usize::from(poles.value.starts_with('2')) + 1)
}

/// Whether the circuit's positions fit its breaker's poles; true where that can't be judged.
pub(super) fn fits(circuit: &Circuit) -> bool {
    let own: Vec<u32> = numbers(circuit).collect();
    let Some(count) = needed(circuit).filter(|_| own.len() == circuit.positions.len()) else {
        return true;
    };
    match own.as_slice() {
        [_] => count == 1,
        [one, other] => count == 2 && one.abs_diff(*other) == 2,
        _ => true,
    }
}

/// Free positions for the circuit's breaker, nearest to the ones that it has, those first that keep one of them.
pub(super) fn free_place(circuit: &Circuit, taken: &[u32]) -> Option<Vec<u32>> {
    let own: Vec<u32> = numbers(circuit).collect();
    let first = *own.first()?;
    let count = needed(circuit)?;
    let top = taken.iter().chain(&own).copied().max()? + 4;
    (1..=top)
        .map(|at| -> Vec<u32> {
            (0..count)
                .map(|n| at + 2 * u32::try_from(n).unwrap_or(0))
                .collect()
        })
        .filter(|place| place.iter().all(|at| !taken.contains(at)))
        .min_by_key(|place| {
            let kept = place.iter().filter(|at| own.contains(at)).count();
            let at = place.first().copied().unwrap_or(0);
            (std::cmp::Reverse(kept), at.abs_diff(first), at)
        })
}

/// Positions as the job writes them.
pub(super) fn place_words(place: &[u32]) -> String {
    place
        .iter()
        .map(u32::to_string)
        .collect::<Vec<_>>()
        .join(" ")
}
