//! The air that enters the coil: the rooms', with what it gains or loses in the return, mixed with outdoor air.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger, figure_id};
use crate::language::{Asked, Entry};
use crate::model::{AirHandler, Model};
use crate::physics::air::{DuctAir, viscosity};
use crate::physics::duct_heat::{DuctStream, along_duct};
use crate::physics::psychrometrics::{MoistAir, NoSuchAir};
use crate::quantity::{AirFlow, Dimension, Humidity, HumidityRatio, MassFlow, Temperature};
use crate::source::{Span, Spanned};

use super::design::{Design, Season};
use super::gap::{Gap, known, put};
use super::space::{Space, named};
use super::way::{SOURCE, trunk_duct};

const MIXED: &str =
    "ASHRAE Handbook—Fundamentals, Psychrometrics: adiabatic mixing of two moist airs";

/// The entries of a word that end at a port of a unit.
fn at_unit<'m>(
    model: &'m Model,
    word: &'static str,
    unit: &'m str,
) -> impl Iterator<Item = &'m Entry> {
    model.entries.iter().filter(move |entry| {
        let port = entry.text("port").known();
        entry.word.word == word
            && port.is_some_and(|port| port.value.split('.').next() == Some(unit))
    })
}

/// Outdoor air brought into the return, cfm; why it is not known.
fn ventilation(model: &Model, unit: &str) -> Result<Vec<(f64, Span)>, Gap> {
    at_unit(model, "ventilation", unit)
        .map(|entry| {
            let name = entry.text("name").known();
            let name = name.map_or(String::new(), |name| name.value);
            match entry.child("flow").map(|flow| flow.real("flow")) {
                Some(Asked::Known(flow)) => Ok((flow.value.max(0.0), flow.span)),
                Some(Asked::Open(_)) => Err(Gap::because(format!(
                    "the flow of ventilation `{name}` is not known yet"
                ))),
                _ => Err(Gap::Silent),
            }
        })
        .collect()
}

/// Where a unit's air comes from at one operating point.
#[derive(Clone, Copy)]
pub(super) struct Intake<'a> {
    pub(super) model: &'a Model,
    pub(super) catalog: &'a Catalog,
    pub(super) unit: &'a AirHandler,
    pub(super) design: &'a Design,
    /// What the ids of the operating point end in.
    pub(super) suffix: &'a str,
    /// What the ids of its airflow end in.
    pub(super) air: &'a str,
}

/// Outdoor air brought in.
pub(super) struct Brought {
    /// Its dry air, lb/h.
    dry_air: f64,
    state: MoistAir,
    room: MoistAir,
    /// The words that say how much.
    pub(super) spans: Vec<Span>,
}

impl Brought {
    /// Sensible heat that it adds to the rooms' air, Btu/h; below zero in winter.
    pub(super) fn sensible(&self) -> f64 {
        let apart = self.state.dry_bulb().value() - self.room.dry_bulb().value();
        self.dry_air * (0.240 + 0.444 * self.state.humidity_ratio().value()) * apart
    }

    /// Latent heat that it adds, Btu/h.
    pub(super) fn latent(&self) -> f64 {
        let apart = self.state.humidity_ratio().value() - self.room.humidity_ratio().value();
        self.dry_air * apart * (1061.0 + 0.444 * self.room.dry_bulb().value())
    }
}

/// Outdoor air of the season; as moist as the rooms', as far as it can be, where the job does not say.
fn outdoors(design: &Design, room: &MoistAir) -> Result<MoistAir, Gap> {
    let dry = Temperature::new(design.outdoor.value);
    let none = |why: NoSuchAir| Gap::because(format!("no such air is found outdoors: {why}"));
    match &design.wet_bulb {
        Some(wet) => {
            MoistAir::from_wet_bulb(dry, Temperature::new(wet.value), design.pressure).map_err(none)
        }
        None => MoistAir::from_humidity_ratio(dry, room.humidity_ratio(), design.pressure)
            .or_else(|_| {
                MoistAir::from_relative_humidity(dry, Humidity::new(100.0), design.pressure)
            })
            .map_err(none),
    }
}

/// What outdoor air is brought into a unit's return in a season; none where none is.
pub(super) fn brought(
    model: &Model,
    (unit, design): (&AirHandler, &Design),
) -> Result<Option<Brought>, Gap> {
    let intakes = ventilation(model, &unit.name)?;
    let flow: f64 = intakes.iter().map(|(flow, _)| flow).sum();
    if flow <= 0.0 {
        return Ok(None);
    }
    let room = design.room_air()?;
    let state = outdoors(design, &room)?;
    Ok(Some(Brought {
        dry_air: flow * 60.0 / state.specific_volume().value(),
        state,
        room,
        spans: intakes.into_iter().map(|(_, span)| span).collect(),
    }))
}

/// What is said of outdoor air's moisture.
pub(super) fn cite_moisture(design: &Design, figure: Figure) -> Figure {
    let word = &design.name;
    match &design.wet_bulb {
        Some(wet) => figure.place(wet.span, format!("{word} outdoor wet bulb")),
        None => figure.standard(format!(
            "no outdoor wet bulb is given for {word}: as moist as the rooms' air, or saturated where it can't hold that"
        )),
    }
}

impl Intake<'_> {
    fn air(&self, what: &str) -> String {
        figure_id(["air-handler.", &self.unit.name, ".", what, self.air])
    }

    /// Whether this is the set tap's own point, whose figures are entered once.
    fn own(&self) -> bool {
        self.suffix == self.design.season.suffix()
    }

    /// The space that a return's duct lies in: the one it passes through farthest from the rooms' temperature, else
    /// where the unit stands.
    fn around(&self, entry: &Entry) -> Result<Space, Gap> {
        let through: Vec<Spanned<String>> = entry
            .children("through")
            .filter_map(|child| child.text("space").known())
            .collect();
        let indoor = self.design.indoor.value;
        let mut worst: Option<Space> = None;
        for space in through {
            let space = named(self.model, &space.value, self.design)?;
            let off = (space.temperature - indoor).abs();
            if worst
                .as_ref()
                .is_none_or(|worst| off > (worst.temperature - indoor).abs())
            {
                worst = Some(space);
            }
        }
        match worst {
            Some(space) => Ok(space),
            None => named(self.model, &self.unit.story, self.design),
        }
    }

    /// Heat that a return's named duct gains, Btu/h, entered as a figure; none where no duct is named.
    fn gain(&self, entry: &Entry, room: &MoistAir, ledger: &mut Ledger) -> Option<(String, f64)> {
        let name = entry.text("name").known()?.value;
        let duct_name = entry.child("duct")?.text("duct").known()?;
        let season = self.design.season.suffix();
        let id = figure_id(["return.", &name, ".gain", season]);
        let flow_id = figure_id(["return.", &name, ".airflow", season]);
        let length_id = figure_id(["return.", &name, ".length"]);
        let found = (|| {
            let whole = figure_id(["air-handler.", &self.unit.name, ".airflow", season]);
            let share = known(ledger, &self.air("airflow"))? / known(ledger, &whole)?;
            let flow = known(ledger, &flow_id)? * share;
            let length = ledger.length(&length_id).ok_or(Gap::Silent)?;
            let (duct, insulated_at) = trunk_duct(self.catalog, &duct_name.value)?;
            let space = self.around(entry)?;
            let w = room.humidity_ratio().value();
            let density = room.density();
            let stream = DuctStream {
                flow: AirFlow::new(flow),
                air: DuctAir {
                    density,
                    viscosity: viscosity(room.dry_bulb(), density),
                },
                dry_air: MassFlow::new(flow * 60.0 * density.value() / (1.0 + w)),
                heat_per_pound: 0.240 + 0.444 * w,
            };
            let around = Temperature::new(space.temperature);
            let end = along_duct(&duct, length, around, room.dry_bulb(), &stream)
                .ok_or_else(|| Gap::because(format!("no air flows through return `{name}`")))?;
            Ok((end.gain.value(), insulated_at, space))
        })();
        let gain = found.as_ref().ok().map(|(gain, ..)| *gain);
        if self.own() {
            let value = found
                .as_ref()
                .map(|(gain, ..)| Figure::number(id.clone(), *gain, Dimension::HeatFlow));
            put(ledger, id.clone(), value, |figure| {
                let mut figure = figure
                    .formula("heat that the air gains in the return duct, by the exponential approach to the temperature around it")
                    .source(SOURCE)
                    .input(flow_id.clone())
                    .input(length_id.clone())
                    .place(duct_name.span, duct_name.value.clone());
                if let Ok((_, insulated_at, space)) = &found {
                    figure = figure
                        .place(*insulated_at, "insulation of the return duct")
                        .place(space.span, space.words.clone());
                }
                figure
            });
        }
        gain.map(|gain| (id, gain))
    }

    /// Gains of all returns of the unit, with their ids.
    pub(super) fn gains(&self, ledger: &mut Ledger) -> Result<Vec<(String, f64)>, Gap> {
        let room = self.design.room_air()?;
        Ok(at_unit(self.model, "return", &self.unit.name)
            .filter(|entry| !entry.flawed && !entry.body_flawed)
            .filter_map(|entry| self.gain(entry, &room, ledger))
            .collect())
    }

    /// Enters the state of the air before the coil as `kind.unit.entering-…` and gives it.
    pub(super) fn enter(&self, kind: &str, ledger: &mut Ledger) -> Result<MoistAir, Gap> {
        let design = self.design;
        let room = design.room_air()?;
        let brought = brought(self.model, (self.unit, design))?;
        let gains = self.gains(ledger)?;
        let mut air = room;
        if brought.is_some() || !gains.is_empty() {
            let flow = known(ledger, &self.air("airflow"))?;
            let season = design.season.suffix();
            let density = known(ledger, &figure_id(["air.supply-density", season]))?;
            air = mixed(
                &room,
                brought.as_ref(),
                (&gains, design),
                flow * 60.0 * density,
            )?;
        }
        for (what, value, words) in [
            ("entering-dry-bulb", air.dry_bulb(), "dry bulb"),
            ("entering-wet-bulb", air.wet_bulb(), "wet bulb"),
        ] {
            let id = figure_id([kind, ".", &self.unit.name, ".", what, self.suffix]);
            let mut formula = format!("{words} of the rooms' air");
            if gains.is_empty() {
                formula.push_str("; what a return gains whose duct is not named is left out");
            } else {
                formula.push_str(", + what the return duct adds ÷ what the air carries");
            }
            if brought.is_some() {
                formula.push_str(
                    ", mixed with outdoor air: heat content and moisture in proportion to dry air",
                );
            }
            let mut figure = design.cite(
                Figure::number(id, value.value(), Dimension::Temperature)
                    .formula(formula)
                    .source(MIXED),
            );
            for (id, _) in &gains {
                figure = figure.input(id.clone());
            }
            if let Some(brought) = &brought {
                figure = design.cite_outdoor(figure).input(self.air("airflow"));
                figure = cite_moisture(design, figure);
                for span in &brought.spans {
                    figure = figure.place(*span, "outdoor air");
                }
            }
            ledger.enter(figure);
        }
        Ok(air)
    }
}

/// Mixes the returning air with outdoor air; `moist` is all of it in lb/h, its moisture with it.
fn mixed(
    room: &MoistAir,
    brought: Option<&Brought>,
    (gains, design): (&[(String, f64)], &Design),
    moist: f64,
) -> Result<MoistAir, Gap> {
    let (t, w) = (room.dry_bulb().value(), room.humidity_ratio().value());
    let gain: f64 = gains.iter().map(|(_, gain)| gain).sum();
    let mut found = (t, w);
    // All of it in dry air hangs on how moist it is, by less than a hundredth: twice is enough.
    for _ in 0..3 {
        let whole = moist / (1.0 + found.1);
        let fresh = brought.map_or(0.0, |brought| brought.dry_air.min(whole));
        let back = whole - fresh;
        let warm = if back > 0.0 {
            t + gain / (back * (0.240 + 0.444 * w))
        } else {
            t
        };
        let heat_of = |t: f64, w: f64| 0.240 * t + w * (1061.0 + 0.444 * t);
        let (out_t, out_w) = brought.map_or((t, w), |brought| {
            (
                brought.state.dry_bulb().value(),
                brought.state.humidity_ratio().value(),
            )
        });
        let mix_w = (back * w + fresh * out_w) / whole;
        let heat = (back * heat_of(warm, w) + fresh * heat_of(out_t, out_w)) / whole;
        found = ((heat - 1061.0 * mix_w) / (0.240 + 0.444 * mix_w), mix_w);
    }
    MoistAir::from_humidity_ratio(
        Temperature::new(found.0),
        HumidityRatio::new(found.1),
        design.pressure,
    )
    .map_err(|why| {
        Gap::because(match design.season {
            Season::Summer => format!("no such air is found before the coil: {why}"),
            Season::Winter => format!("rooms' and outdoor air mixed would make fog: {why}"),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::psychrometrics::standard_pressure;
    use crate::quantity::Length;

    /// A quarter of outdoor air by weight lies a quarter of the way to it in moisture and heat content.
    #[test]
    fn a_mixture_lies_between_what_is_mixed_as_their_weights_say() {
        let pressure = standard_pressure(Length::ZERO).unwrap();
        let state = |t: f64, humid: f64| {
            let (t, humid) = (Temperature::new(t), Humidity::new(humid));
            MoistAir::from_relative_humidity(t, humid, pressure).unwrap()
        };
        let (room, out) = (state(75.0, 50.0), state(95.0, 45.0));
        let at = Span::new(crate::source::FileId::own(0), 0, 0);
        let said = |value: f64| Spanned { value, span: at };
        let design = Design {
            name: "summer".to_owned(),
            season: Season::Summer,
            outdoor: said(95.0),
            wet_bulb: None,
            indoor: said(75.0),
            humidity: None,
            altitude: None,
            pressure,
        };
        let brought = Brought {
            dry_air: 1000.0,
            state: out,
            room,
            spans: Vec::new(),
        };
        let quarter = |a: f64, b: f64| a + (b - a) / 4.0;
        let w = quarter(room.humidity_ratio().value(), out.humidity_ratio().value());
        let air = mixed(&room, Some(&brought), (&[], &design), 4000.0 * (1.0 + w)).unwrap();
        assert!((air.humidity_ratio().value() - w).abs() < 1e-9);
        let heat = quarter(room.enthalpy().value(), out.enthalpy().value());
        assert!((air.enthalpy().value() - heat).abs() < 1e-6);
        let load = brought.sensible() + brought.latent();
        let by_heat = 1000.0 * (out.enthalpy().value() - room.enthalpy().value());
        assert!((load - by_heat).abs() < 1e-6, "{load} {by_heat}");
    }
}
