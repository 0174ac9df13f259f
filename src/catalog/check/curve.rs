//! Curves of blowers, pumps and losses run one way and hold enough points.

use crate::catalog::{CurvePoint, HeatingPoint, Measured, Stated};
use crate::quantity::{Dimension, show_pair};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

/// A curve that runs back.
pub(in crate::catalog) const TURNED_BACK_CURVE: Kind = Kind {
    code: "CAT010",
    name: "turned_back_curve",
    title: "a curve turns back on itself",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That along a curve, from the lowest pressure to the highest, the flow of a blower or pump falls at every point, and the loss of a filter, grille or cabinet rises with its flow; that a heat pump gives more heat the warmer it is outdoors.",
        on_site: "The operating point has two answers, and the airflow printed for the crew may be the wrong one.",
        fix: "Look at the maker's sheet: most often two digits are swapped or two points stand in the wrong order. A motor that holds its airflow is `type: constant airflow` with `holds`.",
    },
};

/// A curve of one point.
pub(in crate::catalog) const SHORT_CURVE: Kind = Kind {
    code: "CAT016",
    name: "short_curve",
    title: "a curve has fewer than two points",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That a curve has at least two points that can be read.",
        on_site: "Between one point and nothing there is no operating point.",
        fix: "Add the points of the maker's sheet on both sides of the design point.",
    },
};

/// Which way the second figure of a point runs as the first one does.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Runs {
    /// Flow falls while pressure rises: blowers, pumps.
    FlowFalls,
    /// Flow and pressure rise together: losses.
    BothRise,
}

/// One curve: long enough, and running one way.
pub(super) fn curve<A: Measured, B: Measured>(
    points: &[Stated<CurvePoint<A, B>>],
    at: Span,
    what: &str,
    runs: Runs,
    findings: &mut Vec<Finding>,
) {
    let known: Vec<(Span, f64, f64)> = points
        .iter()
        .filter_map(|point| {
            let value = point.get()?;
            Some((point.span, value.flow.number(), value.pressure.number()))
        })
        .collect();
    if known.len() < 2 {
        // Points that could not be read have their own findings; none at all is a maker who says nothing.
        if known.len() == points.len() && !points.is_empty() {
            findings.push(
                Finding::new(
                    &SHORT_CURVE,
                    at,
                    format!(
                        "the curve of {what} has {} point{}",
                        known.len(),
                        plural(known.len())
                    ),
                    "add points on both sides of the design point, as in `620 cfm at 1.5 inwc`",
                )
                .measured(
                    Shown::count(known.len()),
                    Relation::AtLeast,
                    Shown::count(2),
                ),
            );
        }
        return;
    }
    for pair in known.windows(2) {
        let [(first, flow_1, pressure_1), (second, flow_2, pressure_2)] = pair else {
            continue;
        };
        let (found, needed, relation, dimension, words) = if pressure_2 <= pressure_1 {
            (
                pressure_2,
                pressure_1,
                Relation::AtLeast,
                B::DIMENSION,
                "pressure does not rise",
            )
        } else if runs == Runs::FlowFalls && flow_2 >= flow_1 {
            (
                flow_2,
                flow_1,
                Relation::AtMost,
                A::DIMENSION,
                "flow does not fall",
            )
        } else if runs == Runs::BothRise && flow_2 <= flow_1 {
            (
                flow_2,
                flow_1,
                Relation::AtLeast,
                A::DIMENSION,
                "flow does not rise",
            )
        } else {
            continue;
        };
        // Neither more nor less: it is the same.
        let relation = if found.total_cmp(needed).is_eq() {
            Relation::Not
        } else {
            relation
        };
        findings.push(turned_back(
            (*second, *first),
            what,
            words,
            show_pair(*found, *needed, dimension),
            relation,
        ));
        // One wrong point makes the next pair look wrong too.
        return;
    }
}

/// The heating of a heat pump: long enough, colder to warmer, more heat as it is warmer.
pub(super) fn heating(
    points: &[Stated<HeatingPoint>],
    at: Span,
    what: &str,
    findings: &mut Vec<Finding>,
) {
    let known: Vec<(Span, HeatingPoint)> = points
        .iter()
        .filter_map(|point| Some((point.span, point.get()?)))
        .collect();
    if known.len() < 2 && known.len() == points.len() {
        let (found, needed) = (Shown::count(known.len()), Shown::count(2));
        let message = format!("{what} has {} point{}", known.len(), plural(known.len()));
        let help = "add points on both sides of the winter design, as in `38 kBtu/h at 47 F`";
        let finding = Finding::new(&SHORT_CURVE, at, message, help);
        findings.push(finding.measured(found, Relation::AtLeast, needed));
    }
    for pair in known.windows(2) {
        let [(before, a), (span, b)] = pair else {
            continue;
        };
        let (found, needed, dimension, words) = if b.outdoor <= a.outdoor {
            (
                b.outdoor.value(),
                a.outdoor.value(),
                Dimension::Temperature,
                "temperature does not rise",
            )
        } else if b.heat < a.heat {
            (
                b.heat.value(),
                a.heat.value(),
                Dimension::HeatFlow,
                "heat does not rise",
            )
        } else {
            continue;
        };
        let shown = show_pair(found, needed, dimension);
        findings.push(turned_back(
            (*span, *before),
            what,
            words,
            shown,
            Relation::AtLeast,
        ));
        return;
    }
}

fn turned_back(
    (at, before): (Span, Span),
    what: &str,
    words: &str,
    (found, needed): (Shown, Shown),
    relation: Relation,
) -> Finding {
    let side = if words.ends_with("fall") {
        "below"
    } else {
        "above"
    };
    let help = format!(
        "give it a figure {side} {}, or put the points in order",
        needed.text
    );
    Finding::new(
        &TURNED_BACK_CURVE,
        at,
        format!("the curve of {what} turns back here: its {words}"),
        help,
    )
    .measured(found, relation, needed)
    .label(before, "the point before")
}

/// The ending of a counted word.
pub(super) const fn plural(n: usize) -> &'static str {
    if n == 1 { "" } else { "s" }
}
