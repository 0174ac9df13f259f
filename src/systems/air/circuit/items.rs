//! What the catalog says of the parts that air passes: sections, roughness, loss coefficients.

use crate::catalog::{
    Catalog, Outlet as OutletItem, Section as Shape, Shelf, Stated, TrunkFitting, TrunkFittingType,
    TrunkPipe,
};
use crate::model::{Outlet, TrunkLeg};
use crate::physics::duct::Section;
use crate::quantity::{Length, trade_length};
use crate::source::Span;

use super::gap::{Gap, unstated};

/// A stated figure that is known, with its place.
pub(super) fn known<T: Clone>(stated: &Stated<T>, what: &str, of: &str) -> Result<(T, Span), Gap> {
    stated
        .get()
        .map(|value| (value, stated.span))
        .ok_or_else(|| unstated(what, of, stated.reason(), stated.span))
}

/// A catalog's section as a duct.
pub(super) fn duct(shape: Shape) -> Option<Section> {
    match shape {
        Shape::Round(d) | Shape::Pipe(d) => Section::round(d),
        Shape::Rectangular(w, h) => Section::rectangular(w, h),
    }
}

/// The round duct of the same area.
pub(super) fn as_round(section: &Section) -> Length {
    Length::nearest((section.area().value() * 4.0 / std::f64::consts::PI).sqrt())
}

/// The pipe of a leg: its catalog sheet and its section.
pub(super) struct Pipe<'c> {
    pub(super) sheet: &'c TrunkPipe,
    pub(super) shape: Shape,
    pub(super) section: Section,
    pub(super) roughness: Length,
}

/// Looks a leg's pipe up.
pub(super) fn pipe<'c>(catalog: &'c Catalog, leg: &TrunkLeg) -> Result<Pipe<'c>, Gap> {
    let Some(named) = &leg.pipe else {
        return Err(Gap::Unknown(
            "no pipe is named for this leg".to_owned(),
            leg.span,
        ));
    };
    let Some(sheet) = catalog.trunk_pipes.get(&named.value) else {
        return Err(not_held(catalog, "the pipe", &named.value, named.span));
    };
    let (shape, span) = known(&sheet.section, "the section", &named.value)?;
    let section = duct(shape).ok_or(Gap::Unknown(
        format!("the section of `{}` is nothing", named.value),
        span,
    ))?;
    let (roughness, _) = known(&sheet.roughness, "the roughness", &named.value)?;
    Ok(Pipe {
        sheet,
        shape,
        section,
        roughness,
    })
}

/// A name that no catalog holds; silent where a catalog could not be read.
pub(super) fn not_held(catalog: &Catalog, what: &str, name: &str, span: Span) -> Gap {
    if catalog.gaps {
        Gap::Silent
    } else {
        Gap::Unknown(format!("no catalog of the job holds {what} `{name}`"), span)
    }
}

/// A trunk fitting of a kind that fits, either way round for a reducer, with its stated loss.
pub(super) fn fitting(
    catalog: &Catalog,
    kind: TrunkFittingType,
    (section, to): (Shape, Option<Shape>),
) -> Option<(&TrunkFitting, f64)> {
    catalog.trunk_fittings.values().find_map(|fitting| {
        let ends = (
            fitting.section.get()?,
            fitting.to.as_ref().and_then(Stated::get),
        );
        let fits = ends == (section, to) || to.is_some_and(|to| ends == (to, Some(section)));
        (fits && fitting.type_of.get() == Some(kind)).then_some(())?;
        Some((fitting, fitting.loss.get()?.0))
    })
}

/// The one item of a shelf that fits a tube.
pub(super) fn fitting_tube<'c, T>(
    shelf: &'c Shelf<T>,
    what: &str,
    inside: Length,
    (tube, at): (impl Fn(&T) -> Option<Length>, Span),
) -> Result<(&'c str, &'c T), Gap> {
    let mut fitting = shelf.iter().filter(|(_, item)| tube(item) == Some(inside));
    let size = trade_length(inside);
    match (fitting.next(), fitting.next()) {
        (Some((name, item)), None) => Ok((name.as_str(), item)),
        (Some(_), Some(_)) => Err(Gap::Unknown(
            format!("several {what}s of the catalog fit {size} tube, and the job names none"),
            at,
        )),
        (None, _) => Err(Gap::Unknown(
            format!("no {what} of the catalog fits {size} tube"),
            at,
        )),
    }
}

/// The outlet that the job names, else the one that fits the tube.
pub(super) fn outlet<'c>(
    catalog: &'c Catalog,
    outlet: &Outlet,
    inside: Length,
) -> Result<(&'c str, &'c OutletItem), Gap> {
    match &outlet.model {
        Some(named) => catalog
            .outlets
            .get_key_value(&named.value)
            .map(|(name, item)| (name.as_str(), item))
            .ok_or_else(|| not_held(catalog, "the outlet", &named.value, named.span)),
        None => fitting_tube(
            &catalog.outlets,
            "outlet",
            inside,
            (|item: &OutletItem| item.tube.get(), outlet.span),
        ),
    }
}
