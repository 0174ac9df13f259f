//! The coil's table holds the state that the job asks it for.

use crate::quantity::{Dimension, show_pair, show_real};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "SIZ006",
        name: "coil_table_left",
        title: "the coil's table does not hold the job's state",
        severity: Severity::Warning,
        source: "the equipment's catalog",
        why: Why {
            checks: "That airflow (by weight, as standard air), outdoor temperature, entering dry bulb and entering wet bulb at summer design lie within the coil's table. Outside, the table's edge is held: nothing is extrapolated.",
            on_site: "Capacity, leaving air and surface temperature are those of the table's edge, and the coil may do less or be colder than printed.",
            fix: "Bring the airflow into the table with another tap or more outlets, check the design temperatures, or ask the maker for a table that holds them.",
        },
    },
    example: Example {
        wrong: "ventilation fresh to ah.return { flow 300 cfm }",
        right: "ventilation fresh to ah.return { flow 30 cfm }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let real = |what: &str| job.ledger.real(&format!("coil.{}.{what}", unit.name));
        for (word, name, dimension) in [
            ("airflow", "airflow, as standard air,", Dimension::AirFlow),
            ("outdoor", "outdoor temperature", Dimension::Temperature),
            ("dry-bulb", "entering dry bulb", Dimension::Temperature),
            ("wet-bulb", "entering wet bulb", Dimension::Temperature),
        ] {
            let (Some(wanted), Some(edge)) = (
                real(&format!("beyond-{word}")),
                real(&format!("edge-{word}")),
            ) else {
                continue;
            };
            let below = wanted < edge;
            let (found, needed) = show_pair(wanted, edge, dimension);
            let apart = if dimension == Dimension::Temperature {
                Dimension::TemperatureDifference
            } else {
                dimension
            };
            let (place, label) = match word {
                "outdoor" => job
                    .model
                    .job
                    .condition("summer")
                    .and_then(|summer| summer.outdoor)
                    .map_or((unit.span, "the unit"), |outdoor| {
                        (outdoor.span, "the unit")
                    }),
                _ => (unit.span, "the unit"),
            };
            let by = show_real((wanted - edge).abs(), apart);
            let mut finding = Finding::new(
                &RULE.kind,
                place,
                format!(
                    "the {name} of `{}` lies {} {} the coil's table, whose edge is used",
                    unit.name,
                    by.text,
                    if below { "below" } else { "above" }
                ),
                match word {
                    "airflow" if below => "raise the airflow: a higher `tap`, more outlets or shorter runs",
                    "airflow" => "lower the airflow with a lower `tap`",
                    _ => "check the design temperatures, or ask the maker for a table that holds them",
                },
            )
            .measured(
                found,
                if below { Relation::AtLeast } else { Relation::AtMost },
                needed,
            );
            if place != unit.span {
                finding = finding.label(unit.span, label);
            }
            if let Some(block) = unit.sheet.cooling.first() {
                finding = finding.label(block.airflow.span, "the coil's table");
            }
            report.find(finding);
        }
    }
}
