//! Blowers, cooling tables and design points agree with their unit.

use super::curve::{Runs, curve, plural};
use crate::catalog::blower::{Blower, BlowerType, CoolingBlock, Tap};
use crate::catalog::{AirHandler, Stated};
use crate::quantity::{Dimension, show_pair};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

/// A blower tap without what its type needs.
pub(in crate::catalog) const BLOWER_WITHOUT_CURVE: Kind = Kind {
    code: "CAT015",
    name: "blower_without_curve",
    title: "a speed tap does not hold what the blower's type needs",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That a tap of a `curve` blower has points, and a tap of a `constant airflow` blower has `holds` and `up-to`, and neither has the other's.",
        on_site: "No airflow can be computed for the tap, and nothing that follows from it.",
        fix: "Give the tap the fields of its type, or set the blower's `type`.",
    },
};

/// More sensible heat than heat.
pub(in crate::catalog) const SENSIBLE_OVER_TOTAL: Kind = Kind {
    code: "CAT017",
    name: "sensible_over_total",
    title: "a coil takes out more sensible heat than heat in all",
    severity: Severity::Error,
    source: "definition of sensible and total heat",
    why: Why {
        checks: "That each entry of a cooling table has no more sensible than total capacity.",
        on_site: "The moisture that the drain has to carry would come out below zero.",
        fix: "Look at the sheet again: the two columns are most often swapped.",
    },
};

/// A design point outside the unit's own range.
pub(in crate::catalog) const DESIGN_OUTSIDE_RANGE: Kind = Kind {
    code: "CAT019",
    name: "design_outside_range",
    title: "a unit's design airflow lies outside its own range",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That the design airflow over the nominal tons lies within `airflow-per-ton`.",
        on_site: "One of the two figures is wrong, and rooms get outlets for the wrong airflow.",
        fix: "Compare nominal size, design airflow and range with the maker's sheet.",
    },
};

/// A cooling table with holes.
pub(in crate::catalog) const INCOMPLETE_TABLE: Kind = Kind {
    code: "CAT023",
    name: "incomplete_table",
    title: "a cooling table has holes",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That every airflow of the table stands with every outdoor temperature, and every block holds the same entering states.",
        on_site: "Between the points of a table with holes nothing can be interpolated, and the capacity at the job's conditions stays unknown.",
        fix: "Add the missing blocks or entries, or leave out an airflow or outdoor temperature that is not complete.",
    },
};

fn tap(name: &str, tap: &Tap, of: BlowerType, findings: &mut Vec<Finding>) {
    let wrong = |span: Span, message: String, help: &str| {
        Finding::new(&BLOWER_WITHOUT_CURVE, span, message, help)
    };
    match of {
        BlowerType::Curve => {
            if let Some(holds) = &tap.holds {
                findings.push(wrong(
                    holds.span,
                    format!("tap `{name}` holds an airflow, and the blower follows a curve"),
                    "set the blower's `type: constant airflow`, or take the line out",
                ));
            }
            match &tap.points {
                Some(points) => {
                    let what = format!("tap `{name}`");
                    curve(points, tap.span, &what, Runs::FlowFalls, findings);
                }
                None if tap.holds.is_none() => findings.push(wrong(
                    tap.span,
                    format!("tap `{name}` of a blower with a curve has no points"),
                    "add `points: [620 cfm at 1.5 inwc, 480 cfm at 2 inwc]` with the maker's figures",
                )),
                None => {}
            }
        }
        BlowerType::ConstantAirflow => {
            if let Some(first) = tap.points.as_ref().and_then(|points| points.first()) {
                findings.push(wrong(
                    first.span,
                    format!("tap `{name}` has points, and the blower holds its airflow"),
                    "set the blower's `type: curve`, or write `holds` and `up-to` instead",
                ));
            } else if tap.holds.is_none() || tap.up_to.is_none() {
                findings.push(wrong(
                    tap.span,
                    format!(
                        "tap `{name}` of a blower that holds its airflow lacks `holds` or `up-to`"
                    ),
                    "add `holds: 700 cfm, up-to: 2 inwc` with the maker's figures",
                ));
            }
        }
    }
}

fn blower(blower: &Blower, findings: &mut Vec<Finding>) {
    let Some(of) = blower.type_of.get() else {
        return;
    };
    for (name, one) in blower.taps.iter() {
        tap(name, one, of, findings);
    }
}

fn table(blocks: &[CoolingBlock], findings: &mut Vec<Finding>) {
    for entry in blocks.iter().flat_map(|block| &block.entering) {
        let Some(value) = entry.get() else { continue };
        if value.sensible > value.total {
            let (found, needed) = show_pair(
                value.sensible.value(),
                value.total.value(),
                Dimension::HeatFlow,
            );
            findings.push(
                Finding::new(
                    &SENSIBLE_OVER_TOTAL,
                    entry.span,
                    "the sensible capacity is more than the total",
                    "swap the two figures, or look them up again",
                )
                .measured(found, Relation::AtMost, needed),
            );
        }
    }
    holes(blocks, findings);
}

/// The entering states of a block, by bits so that they compare exactly.
fn states(block: &CoolingBlock) -> Vec<(u64, u64)> {
    let mut states: Vec<(u64, u64)> = block
        .entering
        .iter()
        .filter_map(Stated::get)
        .map(|entry| {
            (
                entry.dry_bulb.value().to_bits(),
                entry.wet_bulb.value().to_bits(),
            )
        })
        .collect();
    states.sort_unstable();
    states
}

fn holes(blocks: &[CoolingBlock], findings: &mut Vec<Finding>) {
    let whole = blocks.iter().all(|block| {
        block.airflow.as_ref().is_some()
            && block.outdoor.as_ref().is_some()
            && block.entering.iter().all(|entry| entry.as_ref().is_some())
    });
    let Some(first) = blocks.first().filter(|_| whole) else {
        return;
    };
    let wanted = states(first);
    for block in blocks {
        if states(block) != wanted {
            findings.push(
                Finding::new(
                    &INCOMPLETE_TABLE,
                    block.airflow.span,
                    "this block does not hold the entering states of the first one",
                    "add the entries that are missing, so that every block has the same",
                )
                .measured(
                    Shown::count(block.entering.len()),
                    Relation::Equal,
                    Shown::count(wanted.len()),
                )
                .label(first.airflow.span, "the first block"),
            );
            return;
        }
    }
    let mut flows: Vec<u64> = blocks
        .iter()
        .filter_map(|b| b.airflow.get())
        .map(|q| q.value().to_bits())
        .collect();
    let mut outdoors: Vec<u64> = blocks
        .iter()
        .filter_map(|b| b.outdoor.get())
        .map(|t| t.value().to_bits())
        .collect();
    for list in [&mut flows, &mut outdoors] {
        list.sort_unstable();
        list.dedup();
    }
    let needed = flows.len() * outdoors.len();
    if blocks.len() != needed {
        findings.push(
            Finding::new(
                &INCOMPLETE_TABLE,
                first.airflow.span,
                format!(
                    "the table has {} airflow{} and {} outdoor temperature{}, and {} block{}",
                    flows.len(),
                    plural(flows.len()),
                    outdoors.len(),
                    plural(outdoors.len()),
                    blocks.len(),
                    plural(blocks.len())
                ),
                "give each airflow one block for each outdoor temperature",
            )
            .measured(
                Shown::count(blocks.len()),
                Relation::Equal,
                Shown::count(needed),
            ),
        );
    }
}

/// The air side of one unit.
pub(super) fn air_handler(unit: &AirHandler, findings: &mut Vec<Finding>) {
    blower(&unit.blower, findings);
    for (points, what) in [
        (&unit.suction.clean, "the suction with a clean filter"),
        (
            &unit.suction.dirty,
            "the suction with a filter at its change",
        ),
    ] {
        if let Some(points) = points {
            let at = points.first().map_or(unit.suction.span, |p| p.span);
            curve(points, at, what, Runs::BothRise, findings);
        }
    }
    table(&unit.cooling, findings);
    let (Some(tons), Some(airflow), Some(range)) = (
        unit.tons().filter(|tons| *tons > 0.0),
        unit.design.airflow.get(),
        unit.air.airflow_per_ton.get(),
    ) else {
        return;
    };
    let each = airflow / tons;
    if range.holds(each) {
        return;
    }
    let low = each < range.least;
    let limit = if low { range.least } else { range.most };
    let (found, needed) = show_pair(airflow.value(), limit.value() * tons, Dimension::AirFlow);
    let help = format!("give the design airflow a figure from {}", {
        let text = |per_ton: f64| {
            show_pair(per_ton * tons, per_ton * tons, Dimension::AirFlow)
                .0
                .text
        };
        format!(
            "{} to {}",
            text(range.least.value()),
            text(range.most.value())
        )
    });
    findings.push(
        Finding::new(
            &DESIGN_OUTSIDE_RANGE,
            unit.design.airflow.span,
            "the design airflow lies outside the unit's own range per ton",
            help,
        )
        .measured(
            found,
            if low {
                Relation::AtLeast
            } else {
                Relation::AtMost
            },
            needed,
        )
        .label(unit.air.airflow_per_ton.span, "the range per ton"),
    );
}
