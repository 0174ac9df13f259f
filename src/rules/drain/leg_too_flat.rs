//! Every level leg falls at least 1/8 in per ft toward the end.

use crate::model::{Drain, DrainLeg};
use crate::quantity::{Dimension, Length, Slope, length_text, show_slope, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};
use crate::systems::drain::{LEAST_FALL, USUAL_FALL};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN010",
        name: "leg_too_flat",
        title: "drain leg with too little fall",
        severity: Severity::Error,
        source: "IRC M1411.3; IMC 307.2.1",
        why: Why {
            checks: "Every level leg of a drain falls at least 1/8 in per ft toward the end. A leg behind the trap that is longer than 6 in and whose fall is not stated counts as flat.",
            on_site: "Water stands in the leg, slime settles, and the line clogs; what stands in an attic also freezes.",
            fix: "Give the leg the fall named in the report. Start it higher or end it lower where there is no room.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 3/8 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// A leg up to this length needs no stated fall: the fittings at its ends give it one (common practice).
const STUB: Length = Length::inches(6);

/// The least slope in force.
pub(super) fn least(job: &Job<'_>, report: &mut Report) -> Limit<Slope> {
    let own = Limit::default_of(LEAST_FALL, RULE.kind.source, RULE.kind.severity);
    job.limit(
        &RULE.kind,
        ("slope", Dimension::Slope),
        Relation::AtLeast,
        own,
        report,
    )
}

/// A fall that passes, up to the next eighth of an inch.
pub(super) fn fall_for(slope: Slope, leg: &DrainLeg) -> Length {
    slope
        .fall_over(leg.length)
        .round_up_to(Length::sixteenths(2))
}

fn report_flat(
    drain: &Drain,
    leg: &DrainLeg,
    fall: Length,
    least: &Limit<Slope>,
    report: &mut Report,
) {
    let Some(found) = Slope::of(fall, leg.length) else {
        return;
    };
    let words = format!("{} {}", leg.direction.word(), trade_length(leg.length));
    let usual = fall_for(
        if least.value > USUAL_FALL {
            least.value
        } else {
            USUAL_FALL
        },
        leg,
    );
    let message = match leg.fall {
        Some(_) => format!(
            "leg `{words}` of drain `{}` falls {}",
            drain.name,
            length_text(fall)
        ),
        None => format!(
            "leg `{words}` of drain `{}` has no stated fall and counts as flat",
            drain.name
        ),
    };
    let help = format!(
        "write `fall {}`; the least that passes is `fall {}`",
        length_text(usual),
        length_text(fall_for(least.value, leg))
    );
    let span = leg.fall.map_or(leg.span, |fall| fall.span);
    let mut finding = Finding::new(&RULE.kind, span, message, help)
        .measured(
            show_slope(found),
            Relation::AtLeast,
            show_slope(least.value),
        )
        .severity(least.severity)
        .source(least.source.clone());
    finding = match leg.fall {
        Some(fall) => finding
            .label(leg.span, "over this length")
            .edit(fall.span, format!("fall {}", length_text(usual))),
        None => finding.edit(
            Span::new(leg.span.file, leg.span.end, leg.span.end),
            format!(", fall {}", length_text(usual)),
        ),
    };
    report.find(finding);
}

fn check(job: &Job<'_>, report: &mut Report) {
    let least = least(job, report);
    for drain in job.model.drains.values() {
        // The stub up to the trap has a rule of its own for its length.
        let stub = drain.traps().next().map_or(0, |(trap, ..)| trap.after_legs);
        for (n, leg) in drain.legs.iter().enumerate() {
            if !leg.direction.is_level() {
                continue;
            }
            let Some(fall) = leg.fall else {
                if leg.length <= STUB || n < stub {
                    continue;
                }
                if let Some(open) = job.model.open_in(drain.whole) {
                    let reason = format!("{} is `{}`", open.what, open.unknown.words());
                    report.not_checked(
                        &RULE.kind,
                        format!("drain {}", drain.name),
                        reason,
                        Some(leg.span),
                    );
                } else if !drain.flawed {
                    report_flat(drain, leg, Length::ZERO, &least, report);
                }
                continue;
            };
            let flat = Slope::of(fall.value, leg.length).is_some_and(|slope| slope < least.value);
            if flat && fall.value >= Length::ZERO {
                report_flat(drain, leg, fall.value, &least, report);
            }
        }
    }
}
