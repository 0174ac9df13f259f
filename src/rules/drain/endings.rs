//! Where drains and the tubes of pumps end: what both are held to alike.

use crate::model::Ending;
use crate::rules::Job;

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
