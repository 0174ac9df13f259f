//! The way back: grille, filter and duct of each `return`, as functions of its flow.

use crate::catalog::{Catalog, FilterSlot};
use crate::language::{Asked, Entry};
use crate::model::{AirHandler, Model};
use crate::physics::duct::{Section, duct_friction, velocity_pressure};
use crate::physics::fitting::bend_miter;
use crate::quantity::{AirFlow, Angle, Area, Length, Pressure};
use crate::source::Span;

use super::gap::{Gap, absent};
use super::items::{duct, known, not_held};
use super::pressure::LossCurve;
use super::weather::{STANDARD_DENSITY, SeasonAir};

/// Inside of a return duct that the job does not name, ft: ASHRAE Handbook—Fundamentals, Duct Design,
/// roughness of flexible duct, fully extended, and of lined duct.
const RETURN_ROUGHNESS: f64 = 0.003;

/// A filter with its loss clean and at its change.
#[derive(Clone, Debug)]
pub(super) struct Filter {
    pub(super) clean: LossCurve,
    pub(super) change: Pressure,
    pub(super) face: Option<Area>,
    /// The flow at which the clean filter's curve ends, with its place.
    pub(super) end: Option<(f64, Span)>,
}

/// A return as the job states it.
#[derive(Clone, Debug)]
pub(super) struct Back {
    pub(super) name: String,
    pub(super) span: Span,
    pub(super) grille: Option<LossCurve>,
    /// The grille's opening, whole.
    pub(super) opening: Option<Area>,
    /// The flow at which the grille's curve ends, with its place.
    pub(super) grille_end: Option<(f64, Span)>,
    /// The duct that the job names.
    pub(super) duct: Option<Span>,
    pub(super) filter: Option<Filter>,
    pub(super) section: Section,
    pub(super) length: Length,
    pub(super) roughness: Length,
    /// Loss coefficient of its bends.
    pub(super) bends: f64,
    pub(super) rests: Vec<(Span, String)>,
}

/// What the filter in the path is like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::systems) enum Dirt {
    /// New.
    Clean,
    /// At the loss at which it is changed.
    AtChange,
}

impl Back {
    /// What its filter takes more at its change than clean, at a flow of returning air.
    pub(super) fn more_when_dirty(&self, flow: AirFlow, air: &SeasonAir) -> Option<Pressure> {
        self.filter.as_ref()?;
        Some(self.loss(flow, air, Dirt::AtChange) - self.loss(flow, air, Dirt::Clean))
    }

    /// Loss at a flow of returning air.
    pub(super) fn loss(&self, flow: AirFlow, air: &SeasonAir, dirt: Dirt) -> Pressure {
        let q = flow.value().abs();
        let rated = air.back.density.value() / STANDARD_DENSITY;
        let grille = self
            .grille
            .as_ref()
            .map_or(0.0, |curve| curve.at(q) * rated);
        let filter = self.filter.as_ref().map_or(0.0, |filter| {
            let clean = filter.clean.at(q) * rated;
            match dirt {
                Dirt::Clean => clean,
                Dirt::AtChange => filter.change.value().max(clean),
            }
        });
        let friction = duct_friction(&self.section, self.roughness, &air.back, AirFlow::new(q));
        let along = friction.per_100_ft.value() * self.length.to_feet() / 100.0;
        let bent = self.bends * velocity_pressure(&air.back, self.section.velocity(flow)).value();
        Pressure::new(grille + filter + along + bent)
    }
}

impl Back {
    /// What stands in for a return where the job draws none, so that the unit's own filter can get dirty.
    pub(super) fn of_own_filter(unit: &AirHandler) -> Option<Self> {
        let opening = duct(unit.sheet.ports.return_air.size.get()?)?;
        Some(Self {
            name: "opening".to_owned(),
            span: unit.span,
            grille: None,
            opening: None,
            grille_end: None,
            duct: None,
            filter: None,
            section: opening,
            length: Length::ZERO,
            roughness: Length::ZERO,
            bends: 0.0,
            rests: Vec::new(),
        })
    }
}

/// What more the unit's own filter takes at its change than clean, which the blower's curve holds already.
pub(super) fn own_filter(unit: &AirHandler) -> Option<(Filter, Span)> {
    let slot: &FilterSlot = unit.sheet.filter.as_ref()?;
    let (clean, change) = (slot.clean.get()?, slot.change.get()?);
    let flow = unit.sheet.design.airflow.get()?;
    let filter = Filter {
        clean: LossCurve::through(flow.value(), clean.value()),
        change,
        face: slot.face.get().and_then(duct).map(|face| face.area()),
        end: None,
    };
    Some((filter, slot.change.span))
}

fn area(shape: crate::catalog::Section) -> Option<Area> {
    duct(shape).map(|section| section.area())
}

/// An amount that may be open, misread, absent or there.
fn amount<T>(
    model: &Model,
    entry: &Entry,
    word: &str,
    what: &str,
    ask: impl Fn(&Entry) -> Asked<T>,
) -> Result<Option<(T, Span)>, Gap> {
    let Some(child) = entry.child(word) else {
        return Ok(None);
    };
    match ask(child) {
        Asked::Known(value) => Ok(Some((value.value, value.span))),
        Asked::Open(_) => Err(absent(model, (entry.span, entry.whole, false), word, what)),
        Asked::Bad => Err(Gap::Silent),
        Asked::Absent => Ok(None),
    }
}

/// Every return of a unit, as far as catalog and job say.
pub(super) fn returns(
    model: &Model,
    catalog: &Catalog,
    unit: &AirHandler,
) -> Result<Vec<Back>, Gap> {
    let mut found = Vec::new();
    for entry in model.blocks("return") {
        let port = entry.text("port").known();
        let of = port.as_ref().and_then(|port| port.value.split('.').next());
        if of != Some(unit.name.as_str()) {
            continue;
        }
        if entry.flawed || entry.body_flawed {
            return Err(Gap::Silent);
        }
        found.push(one(model, catalog, unit, entry)?);
    }
    Ok(found)
}

fn one(model: &Model, catalog: &Catalog, unit: &AirHandler, entry: &Entry) -> Result<Back, Gap> {
    let name = entry
        .text("name")
        .known()
        .map_or(String::new(), |name| name.value);
    let mut rests = vec![(entry.span, format!("return {name}"))];
    let what = |part: &str| format!("the {part} of return `{name}`");
    let grille = match amount(model, entry, "grille", &what("grille"), |e| {
        e.text("grille")
    })? {
        Some((item, span)) => {
            let sheet = catalog
                .grilles
                .get(&item)
                .ok_or_else(|| not_held(catalog, "the grille", &item, span))?;
            let curve = LossCurve::of(&sheet.points).ok_or_else(|| {
                Gap::Unknown(
                    format!("the loss of `{item}`: the catalog does not give it"),
                    sheet.span,
                )
            })?;
            rests.push((span, item));
            if let Some(point) = sheet.points.first() {
                rests.push((point.span, "loss of the grille".to_owned()));
            }
            let end = curve.end().zip(sheet.points.last().map(|point| point.span));
            Some((curve, sheet.opening.get().and_then(area), end))
        }
        None => None,
    };
    let filter = match amount(model, entry, "filter", &what("filter"), |e| {
        e.text("filter")
    })? {
        Some((item, span)) => {
            let sheet = catalog
                .filters
                .get(&item)
                .ok_or_else(|| not_held(catalog, "the filter", &item, span))?;
            let clean = LossCurve::of(&sheet.clean).ok_or_else(|| {
                Gap::Unknown(
                    format!("the loss of `{item}`: the catalog does not give it"),
                    sheet.span,
                )
            })?;
            let (change, change_at) = known(&sheet.change, "the loss at its change", &item)?;
            rests.push((span, item));
            if let Some(point) = sheet.clean.first() {
                rests.push((point.span, "loss of the clean filter".to_owned()));
            }
            rests.push((change_at, "loss at which the filter is changed".to_owned()));
            let face = sheet
                .size
                .get()
                .map(|size| Area::new(size.length.to_inches() * size.width.to_inches()));
            let end = clean.end().zip(sheet.clean.last().map(|point| point.span));
            Some(Filter {
                clean,
                change,
                face,
                end,
            })
        }
        None => None,
    };
    let named = amount(model, entry, "duct", &what("duct"), |e| e.text("duct"))?;
    let named_at = named.as_ref().map(|(_, span)| *span);
    let (section, roughness) = match named {
        Some((item, span)) => {
            let sheet = catalog
                .trunk_pipes
                .get(&item)
                .ok_or_else(|| not_held(catalog, "the return duct", &item, span))?;
            let (shape, at) = known(&sheet.section, "the section", &item)?;
            let (roughness, rough_at) = known(&sheet.roughness, "the roughness", &item)?;
            rests.push((span, item));
            rests.push((at, "section of the return duct".to_owned()));
            rests.push((rough_at, "roughness of the return duct".to_owned()));
            (shape, roughness)
        }
        None => {
            let port = &unit.sheet.ports.return_air.size;
            let (shape, at) = known(port, "the return opening", &unit.name)?;
            rests.push((
                at,
                "the unit's return opening, where no duct is named".to_owned(),
            ));
            (shape, Length::nearest(RETURN_ROUGHNESS * 12.0))
        }
    };
    let section = duct(section).ok_or(Gap::Silent)?;
    let measured = amount(model, entry, "measured", &what("length"), |e| {
        e.length("length")
    })?;
    let length = match measured {
        Some((length, span)) => {
            rests.push((span, "length of the return duct".to_owned()));
            length.max(Length::ZERO)
        }
        None => entry
            .body
            .iter()
            .filter(|leg| crate::model::Direction::named(leg.word.word).is_some())
            .filter_map(|leg| leg.length("run").known())
            .map(|length| length.value)
            .sum(),
    };
    let bends = amount(model, entry, "bends", &what("bends"), |e| e.real("bends"))?;
    if let Some((_, span)) = bends {
        rests.push((span, "bends of the return duct".to_owned()));
    }
    Ok(Back {
        name,
        span: entry.span,
        grille: grille.as_ref().map(|(curve, ..)| curve.clone()),
        grille_end: grille.as_ref().and_then(|(.., end)| *end),
        opening: grille.and_then(|(_, opening, _)| opening),
        duct: named_at,
        filter,
        section,
        length,
        roughness,
        bends: bends.map_or(0.0, |(n, _)| n * bend_miter(Angle::new(90.0))),
        rests,
    })
}
