//! The trunk is built for the pressure that stands in it.

use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR039",
        name: "trunk_over_pressure",
        title: "trunk built for less pressure than stands in it",
        severity: Severity::Error,
        source: "the trunk pipe's catalog",
        why: Why {
            checks: "The greater of the plenum pressures at summer and winter design, as solved, is at most the pressure that the catalog builds each trunk pipe for.",
            on_site: "Seams and joints open or the board bulges, air blows into the attic, and no room gets its share.",
            fix: "Use a trunk pipe of a higher pressure class, or bring the pressure down with a lower tap or a wider trunk.",
        },
    },
    example: Example {
        wrong: "trunk second from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in light round\", east 3 ft, removable, east 15 ft, cap }",
        right: "trunk second from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 3 ft, removable, east 15 ft, cap }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for trunk in job.model.trunks.values() {
        let Some(unit) = trunk.unit.as_ref() else {
            continue;
        };
        let real = |suffix: &str| {
            let id = figure_id(["air-handler.", unit, ".plenum-pressure", suffix]);
            job.ledger.real(&id)
        };
        let Some(pressure) = real("").into_iter().chain(real("@winter")).reduce(f64::max) else {
            continue;
        };
        let mut told: Vec<&str> = Vec::new();
        for pipe in trunk.legs.iter().filter_map(|leg| leg.pipe.as_ref()) {
            let stated = job
                .catalog
                .trunk_pipes
                .get(&pipe.value)
                .and_then(|sheet| sheet.pressure.as_ref());
            let Some((stated, class)) = stated.and_then(|stated| Some((stated, stated.get()?)))
            else {
                continue;
            };
            if told.contains(&pipe.value.as_str()) {
                continue;
            }
            told.push(&pipe.value);
            let own = Limit::of_catalog(class.value(), stated.span);
            let name = ("pressure", Dimension::Pressure);
            let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
            if pressure <= limit.value {
                continue;
            }
            let (found, needed) = show_pair(pressure, limit.value, Dimension::Pressure);
            let finding = Finding::new(
                &RULE.kind,
                pipe.span,
                format!(
                    "more pressure stands in trunk `{}` than its pipe is built for",
                    trunk.name
                ),
                "use a pipe of a higher pressure class, or a lower `tap`",
            )
            .measured(found, Relation::AtMost, needed);
            report.find(limit.mark(finding));
        }
    }
}
