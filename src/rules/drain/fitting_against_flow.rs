//! The branch of a drain's fitting leads in the direction of the flow.

use super::endings;
use crate::model::{Branch, Mark};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN050",
        name: "fitting_against_flow",
        title: "drain fitting turned against the flow",
        severity: Severity::Error,
        source: "IPC 706.3 and 708.1; IRC P3005.1 and P3005.2 (numbers from memory)",
        why: Why {
            checks: "A sanitary tee or wye by which a drain joins another leads its water in with the flow, and one that holds a cleanout opens the way with the flow. A straight tee has no way, and is not held to one.",
            on_site: "A branch turned back throws its water up the pipe: slime settles at the joint, and the lower of two units drains into the other's pan. Through a cleanout turned back the cable runs up into the trap instead of down to the clog.",
            fix: "Turn the fitting round: `facing with flow`.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout in wye facing against flow, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout in wye facing with flow, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Judges one fitting of `drain`; `words` say what stands in it.
fn fitting(drain: &str, branch: &Branch, words: &str, report: &mut Report) {
    let kind = branch.fitting.value.replace('-', " ");
    match &branch.facing {
        Some(way) if branch.against_flow() => report.find(
            Finding::new(
                &RULE.kind,
                way.span,
                format!("the {kind} {words} of drain `{drain}` faces against the flow"),
                format!("turn the {kind} round, and write `facing with flow`"),
            )
            .measured(
                Shown::word("against flow"),
                Relation::Equal,
                Shown::word("with flow"),
            )
            .edit(way.span, "with"),
        ),
        None if branch.fitting.value != "tee" => {
            let reason = format!("which way the {kind} {words} faces is not said");
            unsaid(drain, reason, branch.fitting.span, report);
        }
        _ => {}
    }
}

fn unsaid(drain: &str, reason: String, span: Span, report: &mut Report) {
    report.not_checked(&RULE.kind, format!("drain {drain}"), reason, Some(span));
}

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        for happening in &drain.happenings {
            if let Mark::Cleanout {
                branch: Some(branch),
                ..
            } = &happening.mark
            {
                fitting(&drain.name, branch, "of a cleanout", report);
            }
        }
    }
    for (kind, name, ending, _) in endings(job) {
        let Some(ending) = ending.filter(|_| kind == "drain") else {
            continue;
        };
        let other = &ending.to.value;
        let solid = ending
            .how
            .as_ref()
            .is_some_and(|how| how.value.starts_with("solid"));
        if !job.model.drains.contains_key(other) {
            continue;
        }
        match &ending.branch {
            Some(branch) => fitting(name, branch, "at the end", report),
            None if solid => {
                let reason = format!("the fitting by which it joins drain `{other}` is not said");
                unsaid(name, reason, ending.span, report);
            }
            None => {}
        }
    }
}
