//! What a job has, as its steps ask: a step about a part that is not there teaches the crew to skip steps.

use super::source::PageSource;

/// The word of a figure that lists things when there is none.
const NONE: &str = "nothing";

/// Whether something runs when a thermostat calls so, under any of `calls`; also where the wiring does not say.
fn runs_on(source: &PageSource<'_>, calls: &[&str]) -> bool {
    let thermostats = source.model.thermostats.keys();
    let known: Vec<&str> = thermostats
        .flat_map(|name| {
            calls
                .iter()
                .map(move |call| format!("control.{name}.runs-on-{call}"))
        })
        .filter_map(|id| source.ledger.word(&id))
        .collect();
    known.is_empty() || known.iter().any(|word| *word != NONE)
}

/// Whether a call for cooling runs anything.
pub(super) fn cools(source: &PageSource<'_>) -> bool {
    runs_on(source, &["cool", "cool-2"])
}

/// Whether a call for heat runs anything.
pub(super) fn heats(source: &PageSource<'_>) -> bool {
    runs_on(source, &["heat", "heat-2", "emergency"])
}

/// Whether a switch watches for water: in a pan, in a pump, at a drain.
pub(super) fn watches_water(source: &PageSource<'_>) -> bool {
    let mut units = source.model.equipment.values();
    units.any(|unit| matches!(unit.kind, "switch" | "pump"))
        || source.model.pans.values().any(|pan| pan.switch.is_some())
}

/// Whether a drain has a trap.
pub(super) fn traps(source: &PageSource<'_>) -> bool {
    let mut drains = source.model.drains.values();
    drains.any(|drain| drain.traps().next().is_some())
}
