//! Water with glycol stays liquid in the coldest place that it lies in.

use crate::quantity::{Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD009",
        name: "mixture_freezes",
        title: "glycol too thin for the winter",
        severity: Severity::Error,
        source: "Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010)",
        why: Why {
            checks: "The freezing point of the mixture against the coldest space that the coil or its pipes lie in at winter design.",
            on_site: "The mixture turns to slush, the circulator stands, and the coil splits at the next cold night.",
            fix: "Mix more glycol in, and reckon with the heat that it takes.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, glycol 10 %, freeze-protection glycol }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, glycol 30 %, freeze-protection glycol }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for coil in job.model.water.coils.values().filter(|coil| !coil.flawed) {
        let id = |what: &str| format!("water-coil.{}.{what}", coil.name);
        let Some(glycol) = coil.glycol.filter(|glycol| glycol.value > 0.0) else {
            continue;
        };
        let (Some(freezes), Some(coldest)) = (
            job.ledger.real(&id("freezing-point")),
            job.ledger.real(&id("coldest-space")),
        ) else {
            continue;
        };
        if freezes <= coldest {
            continue;
        }
        let (found, needed) = show_pair(freezes, coldest, Dimension::Temperature);
        let share = job.ledger.real(&id("glycol-least")).map(libm::ceil);
        let help = share.map_or_else(
            || "glycol alone does not keep it liquid there".to_owned(),
            |share| format!("write `glycol {} %`", number_text(share, 0)),
        );
        let mut finding = Finding::new(
            &RULE.kind,
            glycol.span,
            format!("the mixture in coil `{}` freezes where it lies", coil.name),
            help,
        )
        .measured(found, Relation::AtMost, needed);
        if let Some(place) = job
            .ledger
            .get(&id("coldest-space"))
            .and_then(|f| f.places().next())
        {
            finding = finding.label(place.0, "the coldest space");
        }
        if let Some(share) = share {
            finding = finding.edit(glycol.span, format!("{} %", number_text(share, 0)));
        }
        report.find(finding);
    }
}
