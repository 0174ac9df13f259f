//! The pan is of sheet that keeps its shape.

use crate::quantity::{Length, length_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN037",
        name: "pan_sheet_thin",
        title: "pan of sheet that is too thin",
        severity: Severity::Error,
        source: "IRC M1411.3.1; IMC 307.2.3",
        why: Why {
            checks: "The sheet of a pan is at least 0.0236 in where it is steel, and 1/16 in where it is plastic.",
            on_site: "A thin pan buckles when the unit is slid over it, and leaks at the corner.",
            fix: "Use a pan of thicker sheet.",
        },
    },
    example: Example {
        wrong: "pan p2 under ah { size 54 in x 31 in, depth 2 in, item \"27 x 50 in pan\", switch \"Test pan float switch\" }",
        right: "pan p2 under ah { size 54 in x 31 in, depth 2 in, item \"31 x 54 in pan\", switch \"Test pan float switch\" }",
    },
    check,
};

/// Least thickness of steel, 24 gage, and of plastic (IRC M1411.3.1).
const STEEL: Length = Length::from_nm(599_440);
const PLASTIC: Length = Length::from_nm(1_587_500);

fn check(job: &Job<'_>, report: &mut Report) {
    for pan in job.model.pans.values() {
        let Some(item) = &pan.item else { continue };
        let Some(sheet) = job.catalog.pans.get(&item.value) else {
            continue;
        };
        let (Some(thick), Some(material)) = (sheet.thickness.get(), sheet.material.get()) else {
            continue;
        };
        let needed = if material.contains("steel") {
            STEEL
        } else if material.contains("plastic") {
            PLASTIC
        } else {
            report.not_checked(
                &RULE.kind,
                format!("pan {}", pan.name),
                format!("no least thickness is held for {material}"),
                Some(item.span),
            );
            continue;
        };
        if thick >= needed {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                item.span,
                format!("the {material} of pan `{}` is too thin", pan.name),
                format!("use a pan of {} or thicker", length_text(needed)),
            )
            .measured(show_length(thick), Relation::AtLeast, show_length(needed))
            .label(sheet.thickness.span, "its thickness"),
        );
    }
}
