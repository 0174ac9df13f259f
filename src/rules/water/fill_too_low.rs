//! A loop is filled to the pressure that its highest point takes.

use crate::physics::water_loop::FILL_MARGIN;
use crate::quantity::{Dimension, number_text, show_length, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD019",
        name: "fill_too_low",
        title: "fill pressure too low for the height",
        severity: Severity::Warning,
        source: "hydrostatics; 4 psi at the top is common practice",
        why: Why {
            checks: "The cold fill on the boiler's gauge against the height of the loop's highest point: 0.433 psi for each foot, and 4 psi over it at the top. Where no fill is given, 12 psi, as fill valves are sold. Below the bare height it is an error.",
            on_site: "The top of the coil stands under the air's pressure: air is drawn in at the vent, and the coil never fills.",
            fix: "Set the fill valve and the expansion tank's cushion to the pressure named in the report.",
        },
    },
    example: Example {
        wrong: r#"boiler low { model "Test boiler", on first, center 20 ft, 10 ft, water 160 F, fill 5 psi }
water-pipe hot from low to wc { pipe "3/4 in copper L", up 9 ft }"#,
        right: r#"boiler low { model "Test boiler", on first, center 20 ft, 10 ft, water 160 F, fill 12 psi }
water-pipe hot from low to wc { pipe "3/4 in copper L", up 9 ft }"#,
    },
    check,
};

/// What fill valves are set to as sold, psi.
const AS_SOLD: f64 = 12.0;

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for boiler in water.boilers.values().filter(|boiler| !boiler.flawed) {
        if boiler.fill.is_none() && job.model.is_open(boiler.span, "fill") {
            continue;
        }
        let highest = water
            .loops
            .iter()
            .filter(|found| found.boiler == boiler.name && found.open_at.is_none())
            .filter_map(|found| {
                let needed = job
                    .ledger
                    .real(&format!("water-loop.{}.fill-needed", found.name))?;
                let height = job
                    .ledger
                    .length(&format!("water-loop.{}.height", found.name))?;
                Some((needed, height, found))
            })
            .fold(None, |most: Option<(f64, _, _)>, one| match most {
                Some(most) if most.0 >= one.0 => Some(most),
                _ => Some(one),
            });
        let Some((needed, height, found)) = highest else {
            continue;
        };
        let has = boiler.fill.map_or(AS_SOLD, |fill| fill.value);
        let limit = job.limit(
            &RULE.kind,
            ("over", Dimension::WaterPressure),
            Relation::AtLeast,
            Limit::default_of(FILL_MARGIN, RULE.kind.source, Severity::Warning),
            report,
        );
        let needed = needed - FILL_MARGIN + limit.value;
        if has >= needed {
            continue;
        }
        let (shown, least) = show_pair(has, needed, Dimension::WaterPressure);
        let message = match boiler.fill {
            Some(_) => format!(
                "boiler `{}` is filled too low for its highest pipe",
                boiler.name
            ),
            None => format!(
                "no fill pressure is given for boiler `{}`, and what valves are set to as sold is too low",
                boiler.name
            ),
        };
        let mut finding = Finding::new(
            &RULE.kind,
            boiler.fill.map_or(boiler.span, |fill| fill.span),
            message,
            format!(
                "write `fill {} psi`: the top stands {} above the boiler's base",
                number_text(libm::ceil(needed), 0),
                show_length(height).text
            ),
        )
        .measured(shown, Relation::AtLeast, least);
        if let Some(pipe) = water.pipes.get(&found.name) {
            finding = finding.label(pipe.span, "its loop");
        }
        let finding = limit.mark(finding);
        let bare = boiler.fill.is_some() && has < needed - limit.value;
        report.find(if bare {
            finding.severity(Severity::Error)
        } else {
            finding
        });
    }
}
