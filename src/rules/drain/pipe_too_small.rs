//! A drain starts with pipe of 3/4 in, and never smaller than the pan's outlet.

use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN013",
        name: "pipe_too_small",
        title: "drain pipe too small",
        severity: Severity::Error,
        source: "IRC M1411.3.2; IMC 307.2.2",
        why: Why {
            checks: "The drain's pipe is at least 3/4 in, and no smaller than the unit's drain port.",
            on_site: "Small pipe clogs, and a reducer at the pan holds a ring of standing water.",
            fix: "Use the pipe size of the port or larger.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"1/2 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Least size of a condensate drain (IRC M1411.3.2).
const LEAST: Length = Length::sixteenths(12);

fn check(job: &Job<'_>, report: &mut Report) {
    let own = Limit::default_of(LEAST, RULE.kind.source, RULE.kind.severity);
    let least = job.limit(
        &RULE.kind,
        ("size", Dimension::Length),
        Relation::AtLeast,
        own,
        report,
    );
    for drain in job.model.drains.values() {
        let Some(pipe) = &drain.pipe else { continue };
        let id = |what: &str| format!("drain.{}.{what}", drain.name);
        let Some(size) = job.ledger.length(&id("pipe-size")) else {
            let thing = format!("drain {}", drain.name);
            report.not_known(&RULE.kind, thing, (job.ledger, &id("pipe-size")), pipe.span);
            continue;
        };
        let port = job.ledger.length(&id("port-size"));
        let (needed, why) = match port {
            Some(port) if port > least.value => (port, "the unit's drain port"),
            _ => (least.value, "the least size of a drain"),
        };
        if size >= needed {
            continue;
        }
        let material = job
            .catalog
            .pipes
            .get(&pipe.value)
            .and_then(|pipe| pipe.material.get());
        let better = job
            .catalog
            .pipes
            .iter()
            .filter(|(_, other)| other.material.get() == material)
            .filter_map(|(name, other)| Some((other.size.get()?, name)))
            .filter(|(other, _)| *other >= needed)
            .min();
        let mut finding = Finding::new(
            &RULE.kind,
            pipe.span,
            format!("the pipe of drain `{}` is smaller than {why}", drain.name),
            better.map_or_else(
                || format!("use pipe of {} or larger", length_text(needed)),
                |(_, name)| format!("write `pipe \"{name}\"`"),
            ),
        )
        .measured(show_length(size), Relation::AtLeast, show_length(needed));
        if let Some((_, name)) = better {
            finding = finding.edit(pipe.span, format!("\"{name}\""));
        }
        let stated = job
            .model
            .air_handlers
            .get(&drain.unit)
            .zip(drain.port.value.split_once('.'))
            .and_then(|(unit, (_, port))| unit.sheet.ports.named(port));
        match stated {
            Some(port) if needed > least.value => {
                finding = finding.label(port.size.span, "the port");
            }
            _ => finding = finding.source(least.source.clone()),
        }
        report.find(finding);
    }
}
