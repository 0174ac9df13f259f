//! Which air handler a thermostat, switch, relay or outdoor unit belongs to: by drain, by line set, else by the ends of
//! cables.
//!
//! Cables say where they run between, whatever terminals their conductors land on.

use std::collections::VecDeque;

use crate::model::Model;

/// The air handlers that `unit` belongs to, nearest by cables; all of them when nothing says which.
pub fn handlers_of(model: &Model, unit: &str) -> Vec<String> {
    if model.air_handlers.contains_key(unit) {
        return vec![unit.to_owned()];
    }
    if let [only] = model.air_handlers.keys().collect::<Vec<_>>().as_slice() {
        return vec![(*only).clone()];
    }
    // A pump stops every unit whose water it lifts, wherever its cable goes.
    let mut by_drains: Vec<String> = Vec::new();
    for drain in model.drains.values() {
        let ends = drain.ending.as_ref().map(|ending| &ending.to.value);
        if ends.is_some_and(|to| to == unit) && !by_drains.contains(&drain.unit) {
            by_drains.push(drain.unit.clone());
        }
    }
    if !by_drains.is_empty() {
        return by_drains;
    }
    let by_lines: Vec<String> = model
        .entries
        .iter()
        .filter(|entry| entry.word.word == "line-set")
        .filter_map(|entry| Some([entry.text("from").known()?, entry.text("to").known()?]))
        .map(|ends| ends.map(|end| end.value))
        .filter_map(|[from, to]| {
            let other = if from == unit {
                to
            } else if to == unit {
                from
            } else {
                return None;
            };
            model.air_handlers.contains_key(&other).then_some(other)
        })
        .collect();
    if !by_lines.is_empty() {
        return by_lines;
    }
    let by_cables = nearest(model, unit);
    if by_cables.is_empty() {
        model.air_handlers.keys().cloned().collect()
    } else {
        by_cables
    }
}

/// The air handlers that are fewest cables away.
fn nearest(model: &Model, unit: &str) -> Vec<String> {
    let mut seen: Vec<&str> = vec![unit];
    let mut ring: VecDeque<(&str, usize)> = VecDeque::from([(unit, 0)]);
    let mut found: Vec<String> = Vec::new();
    let mut within = usize::MAX;
    while let Some((at, far)) = ring.pop_front() {
        if far > within {
            break;
        }
        if model.air_handlers.contains_key(at) {
            within = far;
            found.push(at.to_owned());
            continue;
        }
        for cable in model.cables.values() {
            let (from, to) = (cable.from.value.as_str(), cable.to.value.as_str());
            for (end, other) in [(from, to), (to, from)] {
                if end == at && !seen.contains(&other) {
                    seen.push(other);
                    ring.push_back((other, far + 1));
                }
            }
        }
    }
    found
}
