//! Before the control side of a unit somebody can stand and work.

use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::blame::{blame, quoted};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC004",
        name: "working_space_blocked",
        title: "working space at the control side too narrow",
        severity: Severity::Error,
        source: "the equipment's catalog; IRC M1305.1",
        why: Why {
            checks: "The widest clear stretch before the control side, for the depth and height of the catalog's working space, against the width that it asks \
                     (30 in by IRC M1305.1 where it is silent). What stands in a service space is reported there.",
            on_site: "The electrician works bent over a live box, or does not reach it at all.",
            fix: "Move the unit or the thing that stands before it, or turn the unit the other way.",
        },
    },
    example: Example {
        wrong: "obstacle tank on attic { corner 5 ft, 1 ft 6 in, size 2 ft x 11 in, height 30 in }",
        right: "obstacle tank on attic { corner 5 ft, 1 ft, size 2 ft x 11 in, height 30 in }",
    },
    check,
};

const CODE: Length = Length::inches(30);

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let id = format!("unit.{}.working_width", unit.name);
        let (Some(figure), Some(clear)) = (job.ledger.get(&id), job.ledger.length(&id)) else {
            continue;
        };
        let space = &unit.sheet.working_space;
        let own = Limit::default_of(CODE, "IRC M1305.1", Severity::Error);
        let Some(own) = Limit::stated_or(&space.width, own) else {
            continue;
        };
        let name = ("width", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtLeast, own, report);
        if clear >= limit.value {
            continue;
        }
        let things: Vec<_> = figure
            .places()
            .filter(|(span, _)| *span != space.depth.span && *span != space.height.span)
            .collect();
        let words: Vec<String> = things.iter().map(|(_, words)| quoted(words)).collect();
        let (found, needed) = show_length_pair(clear, limit.value);
        let Some(&(own, first)) = things.first() else {
            continue;
        };
        let (at, (beside, beside_words)) = blame(unit, own, first);
        let mut finding = Finding::new(
            &RULE.kind,
            at,
            format!(
                "{} leaves too narrow a working space before the control side of `{}`",
                words.join(" and "),
                unit.name
            ),
            format!(
                "keep {} clear there, {} deep: move `{}`, or what stands before it",
                trade_length(limit.value),
                space.depth.get().map_or_else(String::new, trade_length),
                unit.name
            ),
        )
        .measured(found, Relation::AtLeast, needed);
        finding = finding.label(beside, beside_words);
        for (span, words) in things.into_iter().skip(1) {
            finding = finding.label(span, quoted(words));
        }
        report.find(limit.mark(finding));
    }
}
