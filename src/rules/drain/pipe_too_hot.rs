//! A drain stands in no more heat than its pipe is made for.

use crate::catalog::Stated;
use crate::quantity::{Dimension, show_pair, trade_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN046",
        name: "pipe_too_hot",
        title: "drain pipe in more heat than it stands",
        severity: Severity::Error,
        source: "the stock's catalog",
        why: Why {
            checks: "Where the catalog gives the hottest air that a pipe may stand in, no level leg lies in a space that is hotter in summer.",
            on_site: "Soft pipe bellies between its hangers in the first August, and stays so.",
            fix: "Use pipe that stands the heat, or lead it another way.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        for (n, leg) in drain.legs.iter().enumerate() {
            let id = format!("drain.{}.leg-{}-summer", drain.name, n + 1);
            let Some(pipe) = leg.pipe.as_ref().or(drain.pipe.as_ref()) else {
                continue;
            };
            let stated = job.catalog.pipes.get(&pipe.value);
            let hottest = stated.and_then(|pipe| pipe.hottest.as_ref());
            let (Some(found), Some((most, place))) = (
                job.ledger.real(&id),
                hottest.and_then(|hottest| Some((Stated::get(hottest)?.value(), hottest.span))),
            ) else {
                continue;
            };
            if found <= most {
                continue;
            }
            let (found, needed) = show_pair(found, most, Dimension::Temperature);
            report.find(
                Finding::new(
                    &RULE.kind,
                    pipe.span,
                    format!(
                        "leg `{} {}` of drain `{}` lies hotter than its pipe stands",
                        leg.direction.word(),
                        trade_length(leg.length),
                        drain.name
                    ),
                    "use pipe that stands the heat",
                )
                .measured(found, Relation::AtMost, needed)
                .label(place, "the hottest air for the pipe"),
            );
            break;
        }
    }
}
