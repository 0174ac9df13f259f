//! Supports of a pipe against the greatest distance that it allows: drains and water pipes are held to it alike.

use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::source::{Finding, Kind, Relation, Spanned};

use super::{Job, Limit, Report};

/// Reports supports that stand farther apart than `own`, or what the shop sets instead, allows.
pub(super) fn too_far(
    (job, kind): (&Job<'_>, &'static Kind),
    spacing: Spanned<Length>,
    own: Limit<Length>,
    message: impl FnOnce() -> String,
    report: &mut Report,
) {
    let name = ("spacing", Dimension::Length);
    let most = job.limit(kind, name, Relation::AtMost, own, report);
    if spacing.value <= most.value {
        return;
    }
    let good = length_text(most.value);
    let help = format!("write `hanger every {good}`");
    let mut finding = Finding::new(kind, spacing.span, message(), help)
        .measured(
            show_length(spacing.value),
            Relation::AtMost,
            show_length(most.value),
        )
        .severity(most.severity)
        .source(most.source)
        .edit(spacing.span, good);
    if let Some(span) = most.span {
        finding = finding.label(span, "the greatest distance");
    }
    report.find(finding);
}
