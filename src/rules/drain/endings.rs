//! Where drains and the tubes of pumps end: what both are held to alike.

use crate::model::Ending;
use crate::quantity::{Length, length_text};
use crate::rules::Job;
use crate::source::{Scalar, Shown};

/// `drain` or `pump`, its name, its end where it has one, and whether part of it was misread.
type End<'a> = (&'static str, &'a str, Option<&'a Ending>, bool);

/// The ends of all drains, then those of all pumps.
pub(super) fn endings<'a>(job: &Job<'a>) -> impl Iterator<Item = End<'a>> {
    let model = job.model;
    let drains = model
        .drains
        .values()
        .map(|one| ("drain", one.name.as_str(), one.ending.as_ref(), one.flawed));
    let pumps = model
        .pumps
        .values()
        .map(|one| ("pump", one.name.as_str(), one.ending.as_ref(), one.flawed));
    drains.chain(pumps)
}

/// The words of an air gap as wide as an end needs it: that of its figure, else 2 in.
pub(super) fn gap_words(job: &Job<'_>, kind: &str, name: &str) -> String {
    let needed = job.ledger.length(&format!("{kind}.{name}.air-gap-needed"));
    let gap = needed.map_or(Length::inches(2), |gap| {
        gap.round_up_to(Length::sixteenths(2))
    });
    format!("air gap {}", length_text(gap))
}

/// The ends that are no solid joint.
pub(super) fn gap_or_break() -> Shown {
    let either = ["air gap", "air break"].map(str::to_owned).to_vec();
    Shown {
        text: either.join(", "),
        value: Scalar::Words(either),
        unit: None,
    }
}
