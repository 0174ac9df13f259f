//! Ducts in attics and other spaces outside the envelope carry the insulation that the energy code asks.

use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR035",
        name: "duct_insulation_thin",
        title: "duct outside the envelope with too little insulation",
        severity: Severity::Error,
        source: "IECC and IRC R403.3.1 (N1103.3.1)",
        why: Why {
            checks: "Insulation of every tube and trunk leg in a space that is neither heated nor cooled. Editions 2015 and 2018: R-8 in attics from 3 in of diameter, R-6 below; elsewhere R-6 and R-4.2. From 2021 on R-8 and R-6 anywhere outside (from memory). Some places ask more.",
            on_site: "The air arrives warm in summer and cool in winter, and the duct drips in a damp attic.",
            fix: "Choose a tube or pipe with more insulation, or wrap it.",
        },
    },
    example: Example {
        wrong: "run d1 from main at 2 ft, side south { tube \"2 in thin tube\", measured 12 ft, bends 2, through attic }",
        right: "run d1 from main at 2 ft, side south { tube \"2 in sound tube\", measured 12 ft, bends 2, through attic }",
    },
    check,
};

fn one(job: &Job<'_>, (id, thing, item): (&str, String, &str), span: Span, report: &mut Report) {
    let own_id = figure_id([id, ".insulation"]);
    let least_id = figure_id([id, ".insulation-least"]);
    let (Some(has), Some(least)) = (job.ledger.real(&own_id), job.ledger.real(&least_id)) else {
        report.not_known(&RULE.kind, thing, (job.ledger, &own_id), span);
        return;
    };
    let source = job
        .ledger
        .get(&least_id)
        .map_or(RULE.kind.source, |figure| figure.source.as_ref());
    let own = Limit::default_of(least, source, Severity::Error);
    let name = ("insulation", Dimension::RValue);
    let limit = job.limit(&RULE.kind, name, Relation::AtLeast, own, report);
    if has >= limit.value {
        return;
    }
    let (found, needed) = show_pair(has, limit.value, Dimension::RValue);
    let mut finding = Finding::new(
        &RULE.kind,
        span,
        format!("{thing} has too little insulation where it is neither heated nor cooled"),
        format!(
            "choose a duct with at least {} in place of `{item}`, or wrap it",
            needed.text
        ),
    )
    .measured(found, Relation::AtLeast, needed);
    if let Some(figure) = job.ledger.get(&own_id) {
        for (place, words) in figure.places().skip(1) {
            finding = finding.label(place, words);
        }
    }
    report.find(limit.mark(finding));
}

fn check(job: &Job<'_>, report: &mut Report) {
    for run in job.model.runs.values() {
        let Some(tube) = &run.tube else { continue };
        let id = figure_id(["run.", &run.name]);
        if job.ledger.get(&figure_id([&id, ".insulation"])).is_some() {
            let thing = format!("run `{}`", run.name);
            one(job, (&id, thing, &tube.value), tube.span, report);
        }
    }
    for trunk in job.model.trunks.values() {
        // The legs of one pipe are one fault.
        let mut said: Vec<&str> = Vec::new();
        for (n, leg) in trunk.legs.iter().enumerate() {
            let id = format!("trunk.{}.leg-{}", trunk.name, n + 1);
            let Some(pipe) = &leg.pipe else { continue };
            if job.ledger.get(&figure_id([&id, ".insulation"])).is_none()
                || said.contains(&pipe.value.as_str())
            {
                continue;
            }
            said.push(&pipe.value);
            let thing = format!("trunk `{}`", trunk.name);
            one(job, (&id, thing, &pipe.value), pipe.span, report);
        }
    }
}
