//! A drain is of a material that the code lists for it.

use crate::catalog::PipeMaterial;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN027",
        name: "pipe_material_unfit",
        title: "drain of a material that is not for drains",
        severity: Severity::Warning,
        source: "IMC 307.2.2",
        why: Why {
            checks: "The pipe of a drain is ABS, copper water tube, CPVC, PEX, PE, PVC, galvanized or cast iron. Soft vinyl tube and copper for refrigerant are not listed.",
            on_site: "Soft tube sags into a row of traps; the inspector refuses the rest.",
            fix: "Use pipe of a listed material.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/8 in vinyl tube\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let reduced = drain.happenings.iter().filter_map(|happening| {
            if let crate::model::Mark::Reduce(pipe) = &happening.mark {
                Some(pipe)
            } else {
                None
            }
        });
        for pipe in drain.pipe.iter().chain(reduced) {
            let made = job
                .catalog
                .pipes
                .get(&pipe.value)
                .and_then(|sheet| Some((sheet.material.get()?, sheet.material.span)));
            let Some((material @ (PipeMaterial::Vinyl | PipeMaterial::CopperRefrigerant), place)) =
                made
            else {
                continue;
            };
            report.find(
                Finding::new(
                    &RULE.kind,
                    pipe.span,
                    format!(
                        "drain `{}` is of {}, which is not listed for drains",
                        drain.name,
                        material.word()
                    ),
                    "use PVC, CPVC, ABS, PEX or copper water pipe",
                )
                .measured(
                    Shown::word(material.word()),
                    Relation::Not,
                    Shown::word(material.word()),
                )
                .label(place, "its material"),
            );
        }
    }
}
