//! A capacity against a load, both figures of one unit, with the shop's share as threshold.

use crate::quantity::{Dimension, number_text, show_pair};
use crate::rules::{Job, Limit, Report};
use crate::source::{Finding, Kind, Relation, Severity};

/// What is compared.
pub(super) struct Against<'a> {
    pub(super) kind: &'static Kind,
    /// Id of what the equipment gives.
    pub(super) gives: String,
    /// Id of what is asked.
    pub(super) asked: String,
    /// Id of the first over the second, %.
    pub(super) share: String,
    pub(super) relation: Relation,
    /// The rule's own share, %, with severity and source.
    pub(super) own: Limit<f64>,
    /// The finding's message, before the figures.
    pub(super) message: &'a dyn Fn(&str) -> String,
    /// What would mend it.
    pub(super) help: &'a str,
    /// Whether it says that it could not be checked, or another rule says so for the same reason.
    pub(super) says: bool,
}

/// Compares them for the unit `name` at `span`.
pub(super) fn compare(
    job: &Job<'_>,
    (name, span): (&str, crate::source::Span),
    what: Against<'_>,
    report: &mut Report,
) {
    let Some(share) = job.ledger.real(&what.share) else {
        if what.says && !job.rests_on_airflow(&what.share) {
            report.not_known(
                what.kind,
                format!("air handler `{name}`"),
                (job.ledger, &what.share),
                span,
            );
        }
        return;
    };
    let (Some(gives), Some(asked)) = (job.ledger.real(&what.gives), job.ledger.real(&what.asked))
    else {
        return;
    };
    let limit = job.limit(
        what.kind,
        ("share", Dimension::Ratio),
        what.relation,
        what.own,
        report,
    );
    let fails = match what.relation {
        Relation::AtMost => share > limit.value * (1.0 + 1e-12),
        _ => share < limit.value * (1.0 - 1e-12),
    };
    if !fails {
        return;
    }
    let (found, needed) = show_pair(gives, asked * limit.value / 100.0, Dimension::HeatFlow);
    let (percent, _) = show_pair(share, limit.value, Dimension::Ratio);
    let finding = Finding::new(
        what.kind,
        span,
        format!(
            "{}: {} of what is asked, where {} % is the limit",
            (what.message)(name),
            percent.text,
            number_text(limit.value, 1)
        ),
        what.help,
    )
    .measured(found, what.relation, needed);
    report.find(limit.mark(finding));
}

/// A limit of the rule's own.
pub(super) fn own(share: f64, source: &str, severity: Severity) -> Limit<f64> {
    Limit::default_of(share, source, severity)
}
