//! A filter at its change leaves enough air to keep the coil from ice.

use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR036",
        name: "filter_freezes_coil",
        title: "a dirty filter freezes the coil",
        severity: Severity::Warning,
        source: "the equipment's catalog",
        why: Why {
            checks: "The airflow with the filter at the loss at which it is changed against the airflow at which the coil's surface reaches the opening temperature of the freeze cut-out.",
            on_site: "The house cools well after each change of the filter and freezes up before the next.",
            fix: "Give the filter a larger face, change it at a lower loss, or raise the airflow.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"24 x 24 in filter\", duct \"9 in round\", measured 30 ft, bends 4 }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"24 x 24 in filter\", measured 8 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
        let real = |id: String| job.ledger.real(&id);
        let (Some(dirty), Some(clean), Some(freezes)) = (
            real(figure_id(["air-handler.", &unit.name, ".airflow-dirty"])),
            real(figure_id(["air-handler.", &unit.name, ".airflow"])),
            real(figure_id(["coil.", &unit.name, ".freeze-airflow"])),
        ) else {
            continue;
        };
        // A coil that freezes with a clean filter has its own finding.
        if dirty > freezes || clean <= freezes {
            continue;
        }
        let (found, needed) = show_pair(dirty, freezes, Dimension::AirFlow);
        report.find(
            Finding::new(
                &RULE.kind,
                unit.span,
                format!(
                    "with its filter at the change `{}` moves too little air to keep its coil from ice",
                    unit.name
                ),
                "give it a larger filter, one that is changed at a lower loss, or a higher `tap`",
            )
            .measured(found, Relation::AtLeast, needed),
        );
    }
}
