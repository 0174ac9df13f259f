//! The loads of a unit's rooms with what its ducts and its outdoor air add, against what the unit can do.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Model, Room};
use crate::quantity::Dimension;
use crate::source::Span;

use super::design::{Design, Season};
use super::entering::{Intake, brought, cite_moisture};
use super::gap::{Gap, known, put};
use super::need::{fed, id, runs_to};
use super::way::Arrivals;

const SUM: &str = "ASHRAE Handbook—Fundamentals: loads of the rooms as the job states them, ducts and outdoor air beside";

/// The part of a room's air that comes from this unit: one, where it is fed by this one alone.
fn part(model: &Model, room: &Room, unit: &AirHandler) -> f64 {
    let own = runs_to(model, room, unit).count() as f64;
    let all: usize = model
        .air_handlers
        .values()
        .map(|unit| runs_to(model, room, unit).count())
        .sum();
    if all == 0 { 1.0 } else { own / all as f64 }
}

/// A figure's id and its heat.
type Added = (String, f64);

/// What comes to the rooms' sensible load beside the ducts, and to their latent load.
type Beside = (Result<Vec<Added>, Gap>, Result<Option<Added>, Gap>);

/// A sum and the ids of what was summed.
type Summed = (f64, Vec<String>);

struct Desk<'a> {
    model: &'a Model,
    unit: &'a AirHandler,
    design: &'a Design,
}

impl Desk<'_> {
    fn id(&self, what: &str) -> String {
        figure_id(["load.", &self.unit.name, ".", what])
    }

    /// Sensible and latent heat that outdoor air brings, with their ids.
    fn outdoor_air(&self, ledger: &mut Ledger) -> Result<[Option<Added>; 2], Gap> {
        let Some(brought) = brought(self.model, (self.unit, self.design))? else {
            return Ok([None, None]);
        };
        let suffix = self.design.season.suffix();
        let sign = match self.design.season {
            Season::Summer => 1.0,
            Season::Winter => -1.0,
        };
        let parts = [
            (
                "ventilation",
                sign * brought.sensible(),
                "dry air of the outdoor air × (0.240 + 0.444 W) × difference of outdoors and indoors",
            ),
            (
                "ventilation-latent",
                sign * brought.latent(),
                "dry air of the outdoor air × difference of moisture outdoors and indoors × (1061 + 0.444 t)",
            ),
        ];
        Ok(parts.map(|(what, heat, formula)| {
            let own = self.id(&format!("{what}{suffix}"));
            let mut figure = Figure::number(own.clone(), heat, Dimension::HeatFlow)
                .formula(formula)
                .source("ASHRAE Handbook—Fundamentals, Psychrometrics: heat of moist air");
            figure = self.design.cite(figure);
            figure = self.design.cite_outdoor(figure);
            figure = cite_moisture(self.design, figure);
            for span in &brought.spans {
                figure = figure.place(*span, "outdoor air");
            }
            ledger.enter(figure);
            Some((own, heat))
        }))
    }

    /// Heat that the returns gain in summer or lose in winter, where their ducts are named.
    fn returns(&self, catalog: &Catalog, ledger: &mut Ledger) -> Result<Option<Added>, Gap> {
        let intake = Intake {
            model: self.model,
            catalog,
            unit: self.unit,
            design: self.design,
            suffix: self.design.season.suffix(),
            air: self.design.season.suffix(),
        };
        let gains = intake.gains(ledger)?;
        if gains.is_empty() {
            return Ok(None);
        }
        let (what, sign) = match self.design.season {
            Season::Summer => ("return-gain", 1.0),
            Season::Winter => ("return-loss", -1.0),
        };
        let own = self.id(what);
        let heat = sign * gains.iter().map(|(_, gain)| gain).sum::<f64>();
        let figure = Figure::number(own.clone(), heat, Dimension::HeatFlow)
            .formula("sum over the returns of what their air gains or loses in its duct")
            .source("ASHRAE Handbook—Fundamentals, Heat Transfer");
        ledger.enter(
            gains
                .into_iter()
                .fold(figure, |figure, (id, _)| figure.input(id)),
        );
        Ok(Some((own, heat)))
    }

    /// Heat that the ducts gain in summer or lose in winter.
    fn ducts(&self, arrivals: &Result<Arrivals, Gap>, ledger: &mut Ledger) -> Result<f64, Gap> {
        let (what, sign) = match self.design.season {
            Season::Summer => ("duct-gain", 1.0),
            Season::Winter => ("duct-loss", -1.0),
        };
        let own = self.id(what);
        let found = match arrivals {
            Err(gap) => Err(gap.clone()),
            Ok(Arrivals {
                lacking: Some(gap), ..
            }) => Err(gap.clone()),
            Ok(arrivals) => Ok(sign * arrivals.gain),
        };
        let value = found
            .as_ref()
            .map(|heat| Figure::number(own.clone(), *heat, Dimension::HeatFlow));
        let suffix = self.design.season.suffix();
        put(ledger, own.clone(), value, |figure| {
            let mut figure = figure
                .formula("sum over trunks and runs of what their air gains or loses before it leaves them")
                .source("ASHRAE Handbook—Fundamentals, Heat Transfer");
            for trunk in self.model.trunks.values() {
                if trunk.unit.as_ref() == Some(&self.unit.name) {
                    figure = figure.input(figure_id(["trunk.", &trunk.name, ".gain", suffix]));
                }
            }
            for run in self.model.runs.values() {
                let of = self.model.unit_of(&run.trunk.value);
                if of.is_some_and(|unit| unit.name == self.unit.name) {
                    figure = figure.input(figure_id([
                        "run.",
                        &run.name,
                        ".supply-temperature",
                        suffix,
                    ]));
                }
            }
            figure
        });
        found
    }

    /// The rooms' loads of a season, with their ids.
    fn rooms(&self, ledger: &Ledger) -> Result<Summed, Gap> {
        // A room whose lines were misread is missing from the sum.
        if self
            .model
            .house
            .rooms
            .values()
            .any(|room| room.flawed && !room.unconditioned)
        {
            return Err(Gap::Silent);
        }
        let mut ids = Vec::new();
        let mut sum = 0.0;
        for room in fed(self.model, self.unit) {
            let own = id(room, "load", self.design.season);
            // What old radiators give over one room's loss helps no other.
            sum += known(ledger, &own)?.max(0.0) * part(self.model, room, self.unit);
            ids.push(own);
        }
        Ok((sum, ids))
    }

    /// Rooms' latent loads, as far as the job states them.
    fn latent(&self) -> Result<(f64, Vec<(Span, String)>), Gap> {
        let mut places = Vec::new();
        let mut sum = 0.0;
        for room in fed(self.model, self.unit) {
            let served = self.model.house.rooms.values().filter(|other| {
                other
                    .served_by
                    .as_ref()
                    .is_some_and(|by| by.value == room.name)
            });
            let Some(own) = room.latent else {
                return Err(Gap::because(format!(
                    "no latent cooling load is given for room `{}`",
                    room.name
                )));
            };
            let share = part(self.model, room, self.unit);
            sum += own.value * share;
            places.push((own.span, format!("latent cooling load of {}", room.name)));
            for other in served {
                if let Some(load) = other.latent {
                    sum += load.value * share;
                    places.push((load.span, format!("latent cooling load of {}", other.name)));
                }
            }
        }
        Ok((sum, places))
    }

    fn sum(
        &self,
        (what, words): (&str, &str),
        rooms: &Result<Summed, Gap>,
        (ducts, duct_id): (&Result<f64, Gap>, &str),
        air: &Result<Vec<Added>, Gap>,
        ledger: &mut Ledger,
    ) -> Result<f64, Gap> {
        let own = self.id(what);
        let found = rooms.as_ref().map_err(Clone::clone).and_then(|(sum, _)| {
            let ducts = ducts.clone()?;
            let air = air.as_ref().map_err(Clone::clone)?;
            Ok(sum + ducts + air.iter().map(|(_, heat)| heat).sum::<f64>())
        });
        let value = found
            .as_ref()
            .map(|heat| Figure::number(own.clone(), *heat, Dimension::HeatFlow));
        put(ledger, own.clone(), value, |figure| {
            let mut figure = figure
                .formula(format!(
                    "{words} of the rooms, + what the ducts add, + that of outdoor air and of the return's duct where there are such"
                ))
                .source(SUM);
            if let Ok((_, ids)) = rooms {
                for id in ids {
                    figure = figure.input(id.clone());
                }
            }
            figure = figure.input(self.id(duct_id));
            for (id, _) in air.iter().flatten() {
                figure = figure.input(id.clone());
            }
            figure
        });
        found
    }

    /// What the unit gives over what is asked, %.
    fn share(&self, (what, gives, asked): (&str, &str, &str), ledger: &mut Ledger) {
        let (have, need) = (known(ledger, gives), known(ledger, asked));
        let own = self.id(what);
        let found = match (have, need) {
            (Ok(have), Ok(need)) if need > 0.0 => Ok(100.0 * have / need),
            (Ok(_), Ok(_)) => Err(Gap::because("nothing is asked of it")),
            (Err(Gap::Unknown(reason)), _) | (_, Err(Gap::Unknown(reason))) => {
                Err(Gap::Unknown(reason))
            }
            _ => Err(Gap::Silent),
        };
        let value = found
            .as_ref()
            .map(|share| Figure::number(own.clone(), *share, Dimension::Ratio));
        put(ledger, own.clone(), value, |figure| {
            figure
                .formula("what the equipment gives at design ÷ what is asked of it")
                .source(SUM)
                .input(gives)
                .input(asked)
        });
    }
}

/// Enters the loads of a unit in a season, and their share of what it gives.
pub(super) fn enter(
    (model, catalog): (&Model, &Catalog),
    (unit, design): (&AirHandler, &Design),
    arrivals: &Result<Arrivals, Gap>,
    ledger: &mut Ledger,
) {
    if fed(model, unit).is_empty() {
        return;
    }
    let desk = Desk {
        model,
        unit,
        design,
    };
    let ducts = desk.ducts(arrivals, ledger);
    let rooms = desk.rooms(ledger);
    let outdoor = desk.outdoor_air(ledger);
    let back = desk.returns(catalog, ledger);
    // What is added to the rooms' sensible load beside the ducts.
    let air = match (&outdoor, back) {
        (Ok([sensible, _]), Ok(back)) => Ok(sensible.iter().cloned().chain(back).collect()),
        (Err(gap), _) => Err(gap.clone()),
        (_, Err(gap)) => Err(gap),
    };
    let moist = outdoor.map(|[_, latent]| latent);
    match design.season {
        Season::Winter => {
            let _ = desk.sum(
                ("heating", "heat loss"),
                &rooms,
                (&ducts, "duct-loss"),
                &air,
                ledger,
            );
            let (gives, asked) = (
                figure_id(["heat.", &unit.name, ".total"]),
                desk.id("heating"),
            );
            desk.share(("heating-share", &gives, &asked), ledger);
        }
        Season::Summer => summer(&desk, (&rooms, &ducts), &(air, moist), ledger),
    }
}

fn summer(
    desk: &Desk<'_>,
    (rooms, ducts): (&Result<Summed, Gap>, &Result<f64, Gap>),
    (air, moist): &Beside,
    ledger: &mut Ledger,
) {
    let sensible = desk.sum(
        ("sensible", "sensible cooling loads"),
        rooms,
        (ducts, "duct-gain"),
        air,
        ledger,
    );
    let fresh = moist.as_ref().map_err(Clone::clone);
    let latent = desk.latent().and_then(|(sum, places)| {
        let fresh = fresh?.as_ref().map_or(0.0, |(_, heat)| *heat);
        Ok((sum + fresh, places))
    });
    let latent_id = desk.id("latent");
    let value = latent
        .as_ref()
        .map(|(heat, _)| Figure::number(latent_id.clone(), *heat, Dimension::HeatFlow));
    put(ledger, latent_id.clone(), value, |figure| {
        let mut figure = figure
            .formula(
                "latent cooling loads of the rooms, + that of outdoor air where some is brought in",
            )
            .source(SUM);
        match &latent {
            Ok((_, places)) => {
                for (span, words) in places {
                    figure = figure.place(*span, words.clone());
                }
                if let Ok(Some((id, _))) = moist {
                    figure = figure.input(id.clone());
                }
                figure
            }
            Err(_) => figure.place(desk.unit.span, format!("air handler {}", desk.unit.name)),
        }
    });
    let both = match (&sensible, &latent) {
        (Ok(sensible), Ok((latent, _))) => Ok((sensible + latent, *sensible)),
        (Err(gap), _) | (_, Err(gap)) => Err(gap.clone()),
    };
    let (sensible_id, total_id) = (desk.id("sensible"), desk.id("total"));
    let value = both
        .as_ref()
        .map(|(total, _)| Figure::number(total_id.clone(), *total, Dimension::HeatFlow));
    put(ledger, total_id.clone(), value, |figure| {
        figure
            .formula("sensible + latent")
            .source(SUM)
            .input(sensible_id.clone())
            .input(latent_id)
    });
    let ratio_id = desk.id("sensible-ratio");
    let ratio = both.and_then(|(total, sensible)| {
        if total > 0.0 {
            Ok(100.0 * sensible / total)
        } else {
            Err(Gap::because("nothing is asked of it"))
        }
    });
    let value = ratio
        .as_ref()
        .map(|ratio| Figure::number(ratio_id.clone(), *ratio, Dimension::Ratio));
    put(ledger, ratio_id.clone(), value, |figure| {
        figure
            .formula("sensible ÷ total load")
            .source(SUM)
            .input(sensible_id)
            .input(total_id)
    });
    gain_share(desk, ledger);
    for what in ["total", "sensible", "latent"] {
        let (gives, asked) = (
            figure_id(["coil.", &desk.unit.name, ".", what]),
            desk.id(what),
        );
        desk.share((&format!("{what}-share"), &gives, &asked), ledger);
    }
}

/// How much of the sensible load is what the supply ducts gain.
fn gain_share(desk: &Desk<'_>, ledger: &mut Ledger) {
    let (gain_id, whole_id) = (desk.id("duct-gain"), desk.id("sensible"));
    let (Ok(gain), Ok(whole)) = (known(ledger, &gain_id), known(ledger, &whole_id)) else {
        return;
    };
    if whole > 0.0 {
        ledger.enter(
            Figure::number(
                desk.id("duct-gain-share"),
                100.0 * gain / whole,
                Dimension::Ratio,
            )
            .formula("heat gained by the supply ducts ÷ sensible load with it")
            .source(SUM)
            .input(gain_id)
            .input(whole_id),
        );
    }
}
