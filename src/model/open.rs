//! Values that are not known yet: who is to say them, and from which stage on they have to be there.

use std::collections::BTreeSet;

use crate::language::{Entry, Unknown, Value};
use crate::source::{Finding, Span};

use super::builder::Builder;
use super::job::Stage;
use super::mistakes::STILL_OPEN;

/// A value that is not known yet.
#[derive(Clone, Debug)]
pub struct Open {
    /// Why not.
    pub unknown: Unknown,
    /// What it is, in words.
    pub what: String,
    /// Where it is said.
    pub span: Span,
    /// Whether something is bought by it.
    pub bought: bool,
}

/// Values of slots that no typed reader asks for: those said to be open are still to be listed.
pub(super) fn open_values(entries: &[Entry], seen: &mut BTreeSet<Span>, out: &mut Vec<Open>) {
    for entry in entries {
        for field in &entry.fields {
            if let Value::Unknown(unknown) = field.value.value
                && seen.insert(field.value.span)
            {
                let what = format!("`{}`", entry.word.word);
                out.push(Open {
                    unknown,
                    what,
                    span: field.value.span,
                    bought: false,
                });
            }
        }
        open_values(&entry.body, seen, out);
    }
}

/// From a stage on, open values are errors.
pub(super) fn still_open(builder: &mut Builder<'_>) {
    let stage = builder.model.job.stage;
    let late: Vec<Finding> = builder
        .model
        .open
        .iter()
        .filter(|open| stage >= Stage::RoughIn || stage == Stage::Order && open.bought)
        .map(|open| {
            Finding::new(
                &STILL_OPEN,
                open.span,
                format!(
                    "{} is still `{}` at stage `{}`",
                    open.what,
                    open.unknown.words(),
                    stage.word()
                ),
                "write the value, or set the job's stage back",
            )
        })
        .collect();
    builder.findings.extend(late);
}
