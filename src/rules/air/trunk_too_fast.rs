//! Air runs no faster in the trunk than it can turn into the first tubes quietly.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

/// Greatest mean velocity in a trunk, fpm (common practice for small-duct trunks).
const MOST: f64 = 2500.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR016",
        name: "trunk_too_fast",
        title: "air too fast in the trunk",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "The solved mean velocity at the start of each leg of trunk is at most 2,500 fpm.",
            on_site: "Pressure is lost in the trunk instead of in the tubes, take-offs near the unit starve, and the trunk roars.",
            fix: "Use a larger pipe from the unit on, or divide the air over two trunks by a tee.",
        },
    },
    example: Example {
        wrong: "trunk second from ah.supply { adapter \"11 in square to 9 in round\", pipe \"7 in round\", east 3 ft, removable, east 15 ft, cap }",
        right: "trunk second from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 3 ft, removable, east 15 ft, cap }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let own = Limit::default_of(MOST, RULE.kind.source, RULE.kind.severity);
    let name = ("velocity", Dimension::Velocity);
    let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
    for trunk in job.model.trunks.values() {
        for (n, leg) in trunk.legs.iter().enumerate() {
            let id = |what: &str| format!("trunk.{}.leg-{}.{what}", trunk.name, n + 1);
            let found = job.ledger.real(&id("velocity"));
            let Some(found) = found.filter(|found| *found > limit.value) else {
                continue;
            };
            let flow = job.ledger.real(&id("airflow")).unwrap_or_default();
            let wider = job
                .catalog
                .trunk_pipes
                .iter()
                .filter_map(|(name, pipe)| {
                    let (w, h) = pipe.section.get()?.extent();
                    let round = w == h
                        && matches!(pipe.section.get(), Some(crate::catalog::Section::Round(_)));
                    let area = w.to_feet()
                        * h.to_feet()
                        * if round {
                            std::f64::consts::FRAC_PI_4
                        } else {
                            1.0
                        };
                    (flow / area <= limit.value).then_some((area, name))
                })
                .min_by(|a, b| a.0.total_cmp(&b.0));
            let (shown, needed) = show_pair(found, limit.value, Dimension::Velocity);
            let mut finding = Finding::new(
                &RULE.kind,
                leg.span,
                format!(
                    "air runs too fast in leg {} of trunk `{}`",
                    n + 1,
                    trunk.name
                ),
                wider.map_or_else(
                    || "divide the air over two trunks by a tee".to_owned(),
                    |(_, name)| {
                        format!("write `pipe \"{name}\"` before it, with the adapter that fits")
                    },
                ),
            )
            .measured(shown, Relation::AtMost, needed);
            if let Some(pipe) = &leg.pipe {
                finding = finding.label(pipe.span, "through this pipe");
            }
            report.find(limit.mark(finding));
        }
    }
}
