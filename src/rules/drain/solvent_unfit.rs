//! Plastic pipe is joined with the cement made for it.

use crate::catalog::{PipeMaterial, SealantType, Stated};
use crate::model::{Drain, Stage};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Spanned, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN029",
        name: "solvent_unfit",
        title: "cement that is not for the pipe",
        severity: Severity::Error,
        source: "IRC P3003.9.2; ASTM D2564 for PVC",
        why: Why {
            checks: "From the rough-in on, a drain of PVC, CPVC or ABS names its cement, and the cement is made for that plastic. A cement that is not named is a warning.",
            on_site: "Cement for another plastic holds until the pipe is pulled on, or warm: the joint lets go over the ceiling.",
            fix: "Name the cement of the pipe's own plastic.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// The cement of the catalogs that is made for a plastic.
fn made_for<'a>(job: &Job<'a>, material: PipeMaterial) -> Option<&'a str> {
    let found = job.catalog.sealants.iter().find(|(_, sealant)| {
        sealant.type_of.get() == Some(SealantType::Cement)
            && sealant.material.as_ref().and_then(Stated::get) == Some(material)
    });
    found.map(|(name, _)| name.as_str())
}

fn not_named(
    job: &Job<'_>,
    drain: &Drain,
    pipe: &Spanned<String>,
    material: PipeMaterial,
    report: &mut Report,
) {
    if job.model.job.stage < Stage::RoughIn || drain.flawed {
        return;
    }
    let good = made_for(job, material);
    let mut finding = Finding::new(
        &RULE.kind,
        pipe.span,
        format!(
            "drain `{}` does not say what its pipe is joined with",
            drain.name
        ),
        good.map_or_else(
            || format!("add `solvent` with the cement for {}", material.word()),
            |good| format!("add `solvent \"{good}\"`"),
        ),
    )
    .measured(
        Shown::word("no cement"),
        Relation::Equal,
        Shown::word(format!("cement for {}", material.word())),
    )
    .severity(Severity::Warning);
    if let Some(good) = good {
        let after = Span::new(pipe.span.file, pipe.span.end, pipe.span.end);
        finding = finding.edit(after, format!(", solvent \"{good}\""));
    }
    report.find(finding);
}

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some(pipe) = &drain.pipe else { continue };
        let Some(sheet) = job.catalog.pipes.get(&pipe.value) else {
            continue;
        };
        let Some(material @ (PipeMaterial::Pvc | PipeMaterial::Cpvc | PipeMaterial::Abs)) =
            sheet.material.get()
        else {
            continue;
        };
        let Some(solvent) = &drain.solvent else {
            not_named(job, drain, pipe, material, report);
            continue;
        };
        let Some(sealant) = job.catalog.sealants.get(&solvent.value) else {
            continue;
        };
        let made = sealant.material.as_ref().and_then(Stated::get);
        let found = match (sealant.type_of.get(), made) {
            (Some(SealantType::Cement), None) => {
                report.not_checked(
                    &RULE.kind,
                    format!("drain {}", drain.name),
                    format!("the catalog does not say what `{}` joins", solvent.value),
                    Some(solvent.span),
                );
                continue;
            }
            (Some(SealantType::Cement), Some(made)) if made == material => continue,
            (Some(SealantType::Cement), Some(made)) => format!("cement for {}", made.word()),
            (Some(other), _) => other.word().to_owned(),
            (None, _) => continue,
        };
        let good = made_for(job, material);
        let mut finding = Finding::new(
            &RULE.kind,
            solvent.span,
            format!(
                "the pipe of drain `{}` is {}, and `{}` does not join it",
                drain.name,
                material.word(),
                solvent.value
            ),
            good.map_or_else(
                || format!("name the cement for {}", material.word()),
                |good| format!("write `solvent \"{good}\"`"),
            ),
        )
        .measured(
            Shown::word(found),
            Relation::Equal,
            Shown::word(format!("cement for {}", material.word())),
        )
        .label(sheet.material.span, "the pipe");
        if let Some(good) = good {
            finding = finding.edit(solvent.span, format!("\"{good}\""));
        }
        report.find(finding);
    }
}
