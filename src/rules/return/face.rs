//! The velocity at a face of a return against what common practice allows.

use crate::language::Entry;
use crate::quantity::{Dimension, number_text, show_pair};
use crate::rules::{Job, Limit, Report};
use crate::source::{Finding, Kind, Relation};

/// Checks one face of every return: the word it stands under, the figure's name, what it is called, the most, fpm.
pub(super) fn check(
    job: &Job<'_>,
    report: &mut Report,
    kind: &'static Kind,
    (word, figure, what, most): (&str, &str, &str, f64),
) {
    let own = Limit::default_of(most, kind.source, kind.severity);
    let name = ("velocity", Dimension::Velocity);
    let limit = job.limit(kind, name, Relation::AtMost, own, report);
    for entry in returns(job) {
        let Some(name) = entry.text("name").known() else {
            continue;
        };
        let id = |what: &str| format!("return.{}.{what}", name.value);
        let found = job.ledger.real(&id(figure));
        let Some(found) = found.filter(|found| *found > limit.value) else {
            continue;
        };
        let at = entry
            .child(word)
            .and_then(|child| child.fields.first())
            .map_or(entry.span, |field| field.value.span);
        let area = job
            .ledger
            .real(&id("airflow"))
            .map(|flow| flow / limit.value * 144.0);
        let (shown, needed) = show_pair(found, limit.value, Dimension::Velocity);
        let finding = Finding::new(
            kind,
            at,
            format!("air passes the {what} of return `{}` too fast", name.value),
            area.map_or_else(
                || format!("use a larger {what}"),
                |area| {
                    // The next square of whole inches that passes.
                    let side = libm::ceil(libm::sqrt(area) - 1e-9);
                    let side = number_text(side, 0);
                    format!("use a {what} of {side} x {side} in or larger, or a second return")
                },
            ),
        )
        .measured(shown, Relation::AtMost, needed);
        report.find(limit.mark(finding));
    }
}

/// The returns of a job.
pub(super) fn returns<'j>(job: &Job<'j>) -> impl Iterator<Item = &'j Entry> + use<'j> {
    job.model.blocks("return")
}
