//! The service receptacle is GFCI protected, from the edition of 2020 on.

use crate::physics::conductor::Edition;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};
use crate::systems::power::edition_of;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR025",
        name: "receptacle_unprotected",
        title: "service receptacle without GFCI protection",
        severity: Severity::Error,
        source: "NEC 210.8(E), 210.63 (2020 and later); 210.8(A) outdoors in every edition",
        why: Why {
            checks: "Under the electrical code of 2020 and later a service receptacle at equipment is GFCI protected; outdoors it is under every edition.",
            on_site: "A nicked cord on a metal cabinet in a hot attic: wet hands, and nothing trips.",
            fix: "Fit a GFCI receptacle or breaker and write `gfci`.",
        },
    },
    example: Example {
        wrong: "receptacle r2 on attic { at 10 ft, 9 ft }",
        right: "receptacle r2 on attic { at 10 ft, 9 ft, gfci }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let edition = edition_of(job.model);
    for receptacle in job.model.receptacles.values() {
        let asked = receptacle.outdoors || edition >= Edition::new(2020);
        if !asked || receptacle.gfci.is_some() || receptacle.flawed {
            continue;
        }
        let section = if receptacle.outdoors {
            "210.8(A)(3)"
        } else {
            "210.8(E), 210.63"
        };
        // Behind the last word of its block, or nowhere when it has none.
        let whole = job
            .model
            .entries
            .iter()
            .find(|entry| entry.span == receptacle.span);
        let last = whole.and_then(|entry| entry.body.last());
        let mut finding = Finding::new(
            &RULE.kind,
            receptacle.span,
            format!("receptacle `{}` is not GFCI protected", receptacle.name),
            "fit a GFCI receptacle or breaker and write `gfci`",
        )
        .measured(
            Shown::word("no protection"),
            Relation::Equal,
            Shown::word("GFCI"),
        )
        .source(format!("NEC {}, {section}", edition.year()));
        if let Some(last) = last {
            let after = Span::new(last.span.file, last.span.end, last.span.end);
            finding = finding.edit(after, ", gfci");
        }
        report.find(finding);
    }
}
