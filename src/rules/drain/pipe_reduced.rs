//! A drain is not reduced on its way.

use crate::model::Mark;
use crate::quantity::show_length;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Spanned, Why};
use crate::systems::drain::pipe_size;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN014",
        name: "pipe_reduced",
        title: "drain reduced on its way",
        severity: Severity::Error,
        source: "IMC 307.2.2",
        why: Why {
            checks: "From the pan to the end the pipe of a drain keeps its size or grows.",
            on_site: "Slime collects where the pipe gets smaller, and the water backs up from there.",
            fix: "Keep the first size to the end.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"1 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, reduce to \"3/4 in PVC\", south 4 ft, fall 1 in, discharge to tub, air gap 3 in }",
        right: "drain second from ah.secondary-drain { pipe \"1 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 3 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let size = |pipe: &Spanned<String>| pipe_size(job.catalog, &pipe.value);
    for drain in job.model.drains.values() {
        let mut before = drain.pipe.clone();
        for happening in &drain.happenings {
            let Mark::Reduce(to) = &happening.mark else {
                continue;
            };
            let from = before.replace(to.clone());
            let Some(from) = from else { continue };
            let (Some(old), Some(new)) = (size(&from), size(to)) else {
                let unknown = if size(to).is_none() { to } else { &from };
                report.not_checked(
                    &RULE.kind,
                    format!("drain {}", drain.name),
                    format!(
                        "no catalog of the job gives the size of pipe `{}`",
                        unknown.value
                    ),
                    Some(unknown.span),
                );
                continue;
            };
            if new >= old {
                continue;
            }
            report.find(
                Finding::new(
                    &RULE.kind,
                    to.span,
                    format!("drain `{}` gets smaller on its way", drain.name),
                    format!("take `reduce` out and keep `{}` to the end", from.value),
                )
                .measured(show_length(new), Relation::AtLeast, show_length(old))
                .label(from.span, "the pipe before it")
                .edit(to.span, format!("\"{}\"", from.value)),
            );
            before = Some(from);
        }
    }
}
