//! Insulation of cooling ducts outside what is heated and cooled is covered by a vapor retarder.

use crate::catalog::Stated;
use crate::figures::figure_id;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR040",
        name: "vapor_retarder_missing",
        title: "duct without a vapor retarder outside the envelope",
        severity: Severity::Error,
        source: "IRC M1601.4.6",
        why: Why {
            checks: "That no tube or trunk pipe in a space that is neither heated nor cooled is one of which the catalog says that no vapor retarder covers its insulation.",
            on_site: "Moist air reaches the cold metal or liner, water fills the insulation and drips on the ceiling.",
            fix: "Use a tube or pipe whose insulation has a retarder of at most 0.05 perm, or wrap it in one.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in open tube\", measured 14 ft, bends 2, through attic }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2, through attic }",
    },
    check,
};

fn report_one(
    report: &mut Report,
    (at, what): (Span, String),
    stated: Option<&Stated<bool>>,
    outside: bool,
) {
    let Some(stated) = stated.filter(|stated| outside && stated.get() == Some(false)) else {
        return;
    };
    report.find(
        Finding::new(
            &RULE.kind,
            at,
            format!("{what} runs cold through a space that is not kept, without a vapor retarder"),
            "name one whose catalog says `vapor-retarder: yes`",
        )
        .measured(
            Shown::word("no vapor retarder"),
            Relation::Equal,
            Shown::word("vapor retarder"),
        )
        .label(stated.span, "the catalog says so"),
    );
}

fn check(job: &Job<'_>, report: &mut Report) {
    // Insulation is asked for exactly where a duct lies outside.
    let outside = |id: String| {
        job.ledger
            .get(&figure_id([&id, ".insulation-least"]))
            .is_some()
    };
    for run in job.model.runs.values() {
        let Some(tube) = &run.tube else { continue };
        let stated = job.catalog.tubes.get(&tube.value);
        report_one(
            report,
            (tube.span, format!("run `{}`", run.name)),
            stated.and_then(|sheet| sheet.vapor_retarder.as_ref()),
            outside(figure_id(["run.", &run.name])),
        );
    }
    for trunk in job.model.trunks.values() {
        let mut told: Vec<Span> = Vec::new();
        for (n, leg) in trunk.legs.iter().enumerate() {
            let Some(pipe) = leg.pipe.as_ref().filter(|pipe| !told.contains(&pipe.span)) else {
                continue;
            };
            told.push(pipe.span);
            let stated = job.catalog.trunk_pipes.get(&pipe.value);
            report_one(
                report,
                (pipe.span, format!("trunk `{}`", trunk.name)),
                stated.and_then(|sheet| sheet.vapor_retarder.as_ref()),
                outside(format!("trunk.{}.leg-{}", trunk.name, n + 1)),
            );
        }
    }
}
