//! The trap stands next to the unit.

use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN005",
        name: "trap_too_far",
        title: "trap too far from the unit",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "The first trap lies no further along the pipe than the unit's catalog allows; 6 in where it says nothing.",
            on_site: "The pipe up to the trap is part of the cabinet: it sweats, slime grows in it, and a sag in it is a second trap.",
            fix: "Move the trap up to the unit and let the length follow behind it.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, down 9 in, trap drop 10 in, seal 5 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, down 5 in, trap drop 10 in, seal 5 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Usual distance where the catalog says nothing (common practice).
const USUAL: Length = Length::inches(6);

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some((trap, ..)) = drain.traps().next() else {
            continue;
        };
        let Some(unit) = job.model.air_handlers.get(&drain.unit) else {
            continue;
        };
        let stated = &unit.sheet.trap.most_distance;
        let own = match stated.get() {
            Some(most) => Limit::of_catalog(most, stated.span),
            None => Limit::default_of(USUAL, RULE.kind.source, Severity::Warning),
        };
        let most = job.limit(
            &RULE.kind,
            ("distance", Dimension::Length),
            Relation::AtMost,
            own,
            report,
        );
        if trap.station <= most.value {
            continue;
        }
        let before: Vec<_> = drain.legs.iter().take(trap.after_legs).collect();
        let mut finding = Finding::new(
            &RULE.kind,
            trap.span,
            format!(
                "the trap of drain `{}` is too far from unit `{}`",
                drain.name, unit.name
            ),
            format!(
                "move the trap to {} or less from the unit",
                length_text(most.value)
            ),
        )
        .measured(
            show_length(trap.station),
            Relation::AtMost,
            show_length(most.value),
        )
        .severity(most.severity)
        .source(most.source);
        if let Some(span) = most.span {
            finding = finding.label(span, "the greatest distance");
        }
        if let [only] = before.as_slice() {
            let words = format!("{} {}", only.direction.word(), length_text(most.value));
            finding.help = format!("{}: `{words}` before it", finding.help);
            finding = finding.edit(only.span, words);
        }
        report.find(finding);
    }
}
