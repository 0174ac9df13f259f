//! Several units on one circuit: what they ask of its conductors together, and which of them allows the breaker least.

use crate::catalog::{Catalog, Stated};
use crate::model::{Circuit, Model};
use crate::physics::conductor::Edition;
use crate::physics::feed::Breaker;
use crate::quantity::{Current, Voltage};
use crate::source::{Span, Spanned};

use super::code::edition_of;
use super::plate::{Plate, plates_of};

/// Whether the plate leaves a current out, so that loads have to say it.
pub(super) fn is_silent(stated: Option<&Stated<Current>>) -> bool {
    stated.is_none_or(Stated::is_silent)
}

/// What a unit adds beside others: its running current, else that of its loads, else its minimum circuit ampacity,
/// which is no less.
pub(super) fn share_of(plate: &Plate<'_>) -> Option<(Span, f64)> {
    let of = |stated: &Stated<Current>| Some((stated.span, stated.get()?.value()));
    if let Some(running) = plate.running {
        return of(running);
    }
    let loads = plate
        .carries()
        .map(|loads| (plate.span, loads.running().value()));
    loads.or_else(|| of(plate.least_ampacity?))
}

/// The minimum circuit ampacity of a unit by itself: of its plate, else by its loads.
fn least_of(plate: &Plate<'_>) -> Option<f64> {
    match plate.least_ampacity {
        Some(stated) if !is_silent(Some(stated)) => Some(stated.get()?.value()),
        _ => Some(plate.carries()?.least_ampacity()?.current.value()),
    }
}

/// What several units ask of their conductors: the minimum circuit ampacity of the one with the largest current, and
/// the currents of the others whole.
pub(super) fn least_together(plates: &[Plate<'_>]) -> Option<f64> {
    let shares: Option<Vec<f64>> = plates
        .iter()
        .map(|plate| share_of(plate).map(|(_, share)| share))
        .collect();
    let shares = shares?;
    let all: f64 = shares.iter().sum();
    let (plate, share) = plates
        .iter()
        .zip(&shares)
        .max_by(|a, b| a.1.total_cmp(b.1))?;
    Some(all - share + least_of(plate)?)
}

/// What bounds a breaker from above.
pub(super) enum Bound<'a> {
    /// The maximum on a plate.
    Plate(&'a Stated<Current>),
    /// The loads, where the plate says nothing.
    Loads(Breaker),
}

impl Bound<'_> {
    /// The most that it allows; none while that is not known.
    fn amperes(&self) -> Option<f64> {
        match self {
            Self::Plate(stated) => Some(stated.get()?.value()),
            Self::Loads(breaker) => Some(breaker.rating.value()),
        }
    }
}

/// What bounds the breaker for one unit beside `others`; none where nothing does.
fn bound_of<'a>(
    circuit: &Circuit,
    plate: &Plate<'a>,
    others: &[&Plate<'_>],
    edition: Edition,
) -> Option<Bound<'a>> {
    let loads = plate.carries();
    if let Some(stated) = plate.most_breaker
        && (!is_silent(Some(stated)) || loads.is_none())
    {
        return Some(Bound::Plate(stated));
    }
    let (mut loads, volts) = (loads?, Voltage::new(circuit.volts?.value));
    // Heat and lasting loads set a least breaker, not a largest one: the conductors do.
    if loads.compressors.is_empty() && (!loads.heat.is_empty() || loads.motors.is_empty()) {
        return None;
    }
    // A small motor stands on a general circuit, whatever else does.
    if !loads.is_small_motors() {
        for other in others {
            match (other.carries(), share_of(other)) {
                (Some(more), _) => loads.and(more),
                (None, Some((_, more))) => loads.lasting.push(Current::new(more)),
                (None, None) => return None,
            }
        }
    }
    Some(Bound::Loads(loads.most_breaker(volts, edition, false)?))
}

/// What bounds the breaker for each unit of a circuit, the unit's number with it.
pub(super) fn bounds<'a>(
    circuit: &Circuit,
    plates: &[Plate<'a>],
    edition: Edition,
) -> Vec<(usize, Bound<'a>)> {
    plates
        .iter()
        .enumerate()
        .filter_map(|(n, plate)| {
            let others: Vec<&Plate<'_>> = plates
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != n)
                .map(|(_, plate)| plate)
                .collect();
            Some((n, bound_of(circuit, plate, &others, edition)?))
        })
        .collect()
}

/// The unit on a circuit that allows its breaker least, and where its plate says so; none while one is not known.
pub fn tightest<'a>(
    model: &'a Model,
    catalog: &'a Catalog,
    circuit: &'a Circuit,
) -> Option<(&'a Spanned<String>, Span)> {
    let units = plates_of(model, catalog, circuit);
    let plates: Vec<Plate<'_>> = units.iter().map(|(_, plate)| *plate).collect();
    let (n, _) = bounds(circuit, &plates, edition_of(model))
        .into_iter()
        .map(|(n, bound)| Some((n, bound.amperes()?)))
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .min_by(|a, b| a.1.total_cmp(&b.1))?;
    let (unit, plate) = units.get(n)?;
    let at = plate.most_breaker.map_or(plate.span, |stated| stated.span);
    Some((unit, at))
}
