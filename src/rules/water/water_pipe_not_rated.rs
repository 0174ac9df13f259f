//! Pipe of a heating loop is made for hot water.

use crate::catalog::PipeMaterial;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD014",
        name: "water_pipe_not_rated",
        title: "pipe not made for hot water",
        severity: Severity::Error,
        source: "IRC M2101.1, Table M2101.1; ASTM F876",
        why: Why {
            checks: "The material of each hot-water pipe is one of the heating table's (copper for water, steel, cross-linked polyethylene), and its water is no hotter than the catalog allows, PEX 200 °F.",
            on_site: "Drain pipe goes soft and comes apart at its joints above the ceiling.",
            fix: "Choose copper, steel or PEX for the temperature.",
        },
    },
    example: Example {
        wrong: r#"water-pipe hot from heater to wc { pipe "3/4 in PVC", up 9 ft }"#,
        right: r#"water-pipe hot from heater to wc { pipe "3/4 in copper L", up 9 ft }"#,
    },
    check,
};

/// Materials of IRC Table M2101.1 that the catalog knows, refrigerant tube left out.
pub(super) const RATED: [PipeMaterial; 6] = [
    PipeMaterial::CopperL,
    PipeMaterial::CopperM,
    PipeMaterial::Steel,
    PipeMaterial::Galvanized,
    PipeMaterial::Pex,
    PipeMaterial::Cpvc,
];
/// Hottest water in PEX, °F, at 80 psi.
const PEX_HOTTEST: f64 = 200.0;

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for pipe in water.pipes.values() {
        let hot = water
            .loop_of(&pipe.name)
            .and_then(|found| water.boiler_water(&found.boiler));
        let mut told: Vec<&str> = Vec::new();
        for named in pipe
            .pipe
            .iter()
            .chain(pipe.legs.iter().filter_map(|leg| leg.pipe.as_ref()))
        {
            let Some(sheet) = job.catalog.pipes.get(&named.value) else {
                continue;
            };
            let Some(material) = sheet
                .material
                .get()
                .filter(|_| !told.contains(&named.value.as_str()))
            else {
                continue;
            };
            told.push(&named.value);
            let rated = RATED.contains(&material);
            if !rated {
                report.find(
                    Finding::new(
                        &RULE.kind,
                        named.span,
                        format!("`{}` is no pipe for a heating loop", named.value),
                        "write a pipe of copper for water, steel or PEX",
                    )
                    .measured(
                        Shown::word(material.word()),
                        Relation::OneOf,
                        Shown::word("copper L, copper M, steel, PEX, CPVC"),
                    )
                    .label(sheet.material.span, "its material"),
                );
                continue;
            }
            let stated = sheet
                .hottest_water
                .as_ref()
                .and_then(|stated| Some((stated.get()?.value(), stated.span)));
            let most = stated
                .map(|(most, _)| most)
                .or((material == PipeMaterial::Pex).then_some(PEX_HOTTEST));
            let (Some(most), Some(hot)) = (most, hot) else {
                continue;
            };
            if hot.value <= most {
                continue;
            }
            let (found, needed) = show_pair(hot.value, most, Dimension::Temperature);
            let mut finding = Finding::new(
                &RULE.kind,
                named.span,
                format!("the water is hotter than `{}` may carry", named.value),
                "write a pipe that may carry it, or set the boiler cooler",
            )
            .measured(found, Relation::AtMost, needed)
            .label(hot.span, "the boiler's water");
            if let Some((_, span)) = stated {
                finding = finding.label(span, "the hottest it may carry");
            }
            report.find(finding);
        }
    }
}
