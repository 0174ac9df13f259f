//! What comes back to a boiler against where the water of its flue gas condenses, as two sorts of boiler need it.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Job, Limit, Report, Rule};
use crate::source::{Finding, Relation, Severity};

/// Return water at which the water of the flue gas of natural gas condenses, °F: about.
const CONDENSES: f64 = 130.0;

/// What one sort of boiler asks of its return.
pub(super) struct Asked {
    pub(super) rule: &'static Rule,
    /// The sort of boiler, as the job names it.
    pub(super) sort: &'static str,
    /// How the return has to stand to the condensing point.
    pub(super) relation: Relation,
    pub(super) severity: Severity,
    /// The report's message, by the boiler's name.
    pub(super) message: fn(&str) -> String,
    pub(super) help: &'static str,
}

/// Judges every boiler of that sort whose return is known.
pub(super) fn check(job: &Job<'_>, asked: &Asked, report: &mut Report) {
    let boilers = job.model.water.boilers.values();
    for boiler in boilers.filter(|boiler| !boiler.flawed) {
        let kind = boiler.kind.as_ref().filter(|kind| kind.value == asked.sort);
        let id = format!("boiler.{}.return-water", boiler.name);
        let (Some(kind), Some(back)) = (kind, job.ledger.real(&id)) else {
            continue;
        };
        let limit = job.limit(
            &asked.rule.kind,
            ("return", Dimension::Temperature),
            asked.relation,
            Limit::default_of(CONDENSES, asked.rule.kind.source, asked.severity),
            report,
        );
        let holds = match asked.relation {
            Relation::AtLeast => back >= limit.value,
            _ => back <= limit.value,
        };
        if holds {
            continue;
        }
        let (found, needed) = show_pair(back, limit.value, Dimension::Temperature);
        let at = boiler.water.map_or(boiler.span, |water| water.span);
        let finding = Finding::new(
            &asked.rule.kind,
            at,
            (asked.message)(&boiler.name),
            asked.help,
        )
        .measured(found, asked.relation, needed)
        .label(kind.span, "its kind");
        report.find(limit.mark(finding));
    }
}
