//! What each room's load asks of the air, and what it gets.

use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Model, Outlet, Room, Run};
use crate::quantity::Dimension;
use crate::source::{Span, Spanned};
use crate::systems::water::radiators_id;

use super::design::{Design, Season};
use super::gap::{Gap, known, put};
use super::way::Arrivals;

const SENSIBLE: &str = "ASHRAE Handbook—Fundamentals: sensible heat of moist air";

/// Heat that warms one pound of moist air by one degree, Btu/(lb·°F): (0.240 + 0.444 W)/(1 + W), alike within
/// 0.2 % from dry winter air to what leaves a wet coil.
const MOIST: f64 = 0.241;

/// A room's air of one unit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Delivered {
    /// What one degree of it carries, Btu/(h·°F).
    pub(super) rate: f64,
    /// Its temperature, mixed over the outlets, °F.
    pub(super) supply: f64,
}

/// The runs to a room's outlets that hang on a unit.
pub(super) fn runs_to<'m>(
    model: &'m Model,
    room: &'m Room,
    unit: &'m AirHandler,
) -> impl Iterator<Item = (&'m Outlet, &'m Run)> {
    room.outlets.iter().filter_map(|outlet| {
        let run = model
            .runs
            .values()
            .find(|run| run.outlet.as_ref() == Some(&outlet.name))?;
        let own = model.unit_of(&run.trunk.value)?;
        (own.name == unit.name).then_some((outlet, run))
    })
}

/// The rooms that a unit feeds.
pub(super) fn fed<'m>(model: &'m Model, unit: &'m AirHandler) -> Vec<&'m Room> {
    model
        .house
        .rooms
        .values()
        .filter(|room| !room.unconditioned && !room.flawed)
        .filter(|room| runs_to(model, room, unit).next().is_some())
        .collect()
}

/// Rooms that take their air from `room`.
fn served<'m>(model: &'m Model, room: &str) -> impl Iterator<Item = &'m Room> {
    model
        .house
        .rooms
        .values()
        .filter(move |other| other.served_by.as_ref().is_some_and(|by| by.value == room))
}

/// The load of a season and its word in reports.
pub(super) const fn load_of(room: &Room, season: Season) -> (Option<Spanned<f64>>, &'static str) {
    match season {
        Season::Summer => (room.sensible, "sensible cooling load"),
        Season::Winter => (room.heating, "heat loss"),
    }
}

/// A room's load with that of the rooms it serves, Btu/h, and the words that say so.
fn load(model: &Model, room: &Room, season: Season) -> Result<(f64, Vec<(Span, String)>), Gap> {
    let (own, what) = load_of(room, season);
    let Some(own) = own else {
        let word = match season {
            Season::Summer => "cooling",
            Season::Winter => "heating",
        };
        return Err(if model.is_open(room.span, word) {
            Gap::because(format!(
                "the {what} of room `{}` is not known yet",
                room.name
            ))
        } else {
            Gap::because(format!("no {what} is given for room `{}`", room.name))
        });
    };
    let mut sum = own.value;
    let mut places = vec![(own.span, format!("{what} of {}", room.name))];
    for other in served(model, &room.name) {
        if let (Some(load), _) = load_of(other, season) {
            sum += load.value;
            places.push((load.span, format!("{what} of {}, served by it", other.name)));
        }
    }
    Ok((sum, places))
}

/// What old radiators give in a room and in those that it serves, Btu/h, with the figures that say so.
pub(super) fn radiators(
    model: &Model,
    room: &Room,
    season: Season,
    ledger: &Ledger,
) -> (f64, Vec<String>) {
    if season == Season::Summer || model.water.radiators.is_empty() {
        return (0.0, Vec::new());
    }
    let mut sum = 0.0;
    let mut ids = Vec::new();
    for room in std::iter::once(room).chain(served(model, &room.name)) {
        let id = radiators_id(&room.name);
        if let Some(heat) = ledger.real(&id) {
            sum += heat;
            ids.push(id);
        }
    }
    (sum, ids)
}

pub(super) fn id(room: &Room, what: &str, season: Season) -> String {
    figure_id(["room.", &room.name, ".", what, season.suffix()])
}

/// Enters load, airflow, supply temperature, airflow needed and share of every room of a unit, and gives what each
/// gets.
pub(super) fn enter(
    model: &Model,
    (unit, design): (&AirHandler, &Design),
    arrivals: &Result<Arrivals, Gap>,
    ledger: &mut Ledger,
) {
    for room in fed(model, unit) {
        let season = design.season;
        let loaded = load(model, room, season);
        let load_id = id(room, "load", season);
        let (given, kept) = radiators(model, room, season, ledger);
        let value = loaded
            .as_ref()
            .map(|(sum, _)| Figure::number(load_id.clone(), *sum - given, Dimension::HeatFlow));
        put(ledger, load_id, value, |figure| {
            let mut figure = figure
                .formula(if kept.is_empty() {
                    "its own load and those of the rooms that it serves"
                } else {
                    "its own load and those of the rooms that it serves, less what old radiators give"
                })
                .source("the job");
            for id in kept {
                figure = figure.input(id);
            }
            match &loaded {
                Ok((_, places)) => {
                    for (span, words) in places {
                        figure = figure.place(*span, words.clone());
                    }
                    figure
                }
                Err(_) => figure.place(room.span, format!("room {}", room.name)),
            }
        });
        airflow(model, room, (unit, season), ledger);
        supply(model, room, (unit, design), arrivals, ledger);
        needed(room, design, ledger);
    }
    parts(model, (unit, design.season), ledger);
}

/// What the unit delivers over what its rooms need, and each room's part of what is delivered.
fn parts(model: &Model, (unit, season): (&AirHandler, Season), ledger: &mut Ledger) {
    let rooms = fed(model, unit);
    let sum = |what: &str, ledger: &Ledger| -> Result<f64, Gap> {
        rooms
            .iter()
            .map(|room| known(ledger, &id(room, what, season)))
            .sum()
    };
    let own = figure_id(["air-handler.", &unit.name, ".share", season.suffix()]);
    let found = sum("airflow", ledger).and_then(|got| {
        let needed = sum("airflow-needed", ledger)?;
        if needed > 0.0 {
            Ok(100.0 * got / needed)
        } else {
            Err(Gap::because("its rooms need no air"))
        }
    });
    let value = found
        .as_ref()
        .map(|share| Figure::number(own.clone(), *share, Dimension::Ratio));
    put(ledger, own.clone(), value, |figure| {
        rooms.iter().fold(
            figure
                .formula("air delivered to its rooms ÷ air that they need")
                .source(SENSIBLE),
            |figure, room| {
                figure
                    .input(id(room, "airflow", season))
                    .input(id(room, "airflow-needed", season))
            },
        )
    });
    for room in rooms {
        let part_id = id(room, "airflow-part", season);
        let needed_id = id(room, "airflow-needed", season);
        let part = found
            .clone()
            .and_then(|share| Ok(known(ledger, &needed_id)? * share / 100.0));
        let value = part
            .as_ref()
            .map(|part| Figure::number(part_id.clone(), *part, Dimension::AirFlow));
        put(ledger, part_id.clone(), value, |figure| {
            figure
                .formula("airflow needed × the unit's share: its part of the air that is delivered, with which every room would be kept alike")
                .source(SENSIBLE)
                .input(needed_id.clone())
                .input(own.clone())
        });
    }
}

/// The sum over the outlets, unless another system has entered it.
fn airflow(model: &Model, room: &Room, (unit, season): (&AirHandler, Season), ledger: &mut Ledger) {
    let own = id(room, "airflow", season);
    if ledger.get(&own).is_some() {
        return;
    }
    let runs: Vec<&Run> = runs_to(model, room, unit).map(|(_, run)| run).collect();
    let ids: Vec<String> = runs
        .iter()
        .map(|run| figure_id(["run.", &run.name, ".airflow", season.suffix()]))
        .collect();
    let sum: Result<f64, Gap> = ids.iter().map(|id| known(ledger, id)).sum();
    let value = sum
        .as_ref()
        .map(|sum| Figure::number(own.clone(), *sum, Dimension::AirFlow));
    put(ledger, own.clone(), value, |figure| {
        ids.iter().fold(
            figure
                .formula("sum over the runs to its outlets")
                .source("the solved circuit"),
            |figure, id| figure.input(id.clone()),
        )
    });
}

/// What reaches a room, mixed over its outlets.
pub(super) fn delivered(
    model: &Model,
    room: &Room,
    unit: &AirHandler,
    arrivals: &Arrivals,
) -> Result<Delivered, Gap> {
    let mut sum = Delivered::default();
    let mut warm = 0.0;
    for (_, run) in runs_to(model, room, unit) {
        let Some((supply, rate)) = arrivals.runs.get(&run.name) else {
            return Err(arrivals.lacking.clone().unwrap_or(Gap::Silent));
        };
        sum.rate += rate;
        warm += rate * supply;
    }
    if sum.rate <= 0.0 {
        return Err(Gap::Silent);
    }
    sum.supply = warm / sum.rate;
    Ok(sum)
}

fn supply(
    model: &Model,
    room: &Room,
    (unit, design): (&AirHandler, &Design),
    arrivals: &Result<Arrivals, Gap>,
    ledger: &mut Ledger,
) {
    let own = id(room, "supply-temperature", design.season);
    let found = match arrivals {
        Ok(arrivals) => delivered(model, room, unit, arrivals),
        Err(gap) => Err(gap.clone()),
    };
    let value = found
        .as_ref()
        .map(|found| Figure::number(own.clone(), found.supply, Dimension::Temperature));
    put(ledger, own.clone(), value, |figure| {
        runs_to(model, room, unit).fold(
            figure
                .formula("supply temperatures of its outlets, weighed with what their air carries")
                .source(SENSIBLE),
            |figure, (_, run)| {
                let suffix = design.season.suffix();
                figure
                    .input(figure_id([
                        "run.",
                        &run.name,
                        ".supply-temperature",
                        suffix,
                    ]))
                    .input(figure_id(["run.", &run.name, ".airflow", suffix]))
            },
        )
    });
}

fn needed(room: &Room, design: &Design, ledger: &mut Ledger) {
    let season = design.season;
    let own = id(room, "airflow-needed", season);
    let (load_id, supply_id) = (
        id(room, "load", season),
        id(room, "supply-temperature", season),
    );
    let density_id = figure_id(["air.supply-density", season.suffix()]);
    let found = (|| {
        let (load, supply) = (known(ledger, &load_id)?, known(ledger, &supply_id)?);
        let density = known(ledger, &density_id)?;
        let difference = match season {
            Season::Summer => design.indoor.value - supply,
            Season::Winter => supply - design.indoor.value,
        };
        if difference <= 0.0 {
            return Err(Gap::because(match season {
                Season::Summer => "its air arrives no colder than the room",
                Season::Winter => "its air arrives no warmer than the room",
            }));
        }
        // What old radiators give over the loss asks no air.
        Ok(load.max(0.0) / (60.0 * density * MOIST * difference))
    })();
    let value = found
        .as_ref()
        .map(|needed| Figure::number(own.clone(), *needed, Dimension::AirFlow));
    put(ledger, own.clone(), value, |figure| {
        figure
            .formula("load ÷ (60 × density × 0.241 Btu/(lb·°F) × difference between room and supply air at its outlets)")
            .source(SENSIBLE)
            .input(load_id)
            .input(supply_id)
            .input(density_id)
            .place(
                design.indoor.span,
                format!("{} indoor temperature", season.word()),
            )
    });
    let share_id = id(room, "share", season);
    let airflow_id = id(room, "airflow", season);
    let share = (|| {
        let needed = found.clone()?;
        if needed <= 0.0 {
            return Err(Gap::because("its load needs no air"));
        }
        Ok(100.0 * known(ledger, &airflow_id)? / needed)
    })();
    let value = share
        .as_ref()
        .map(|share| Figure::number(share_id.clone(), *share, Dimension::Ratio));
    put(ledger, share_id.clone(), value, |figure| {
        figure
            .formula("airflow ÷ airflow needed")
            .source(SENSIBLE)
            .input(airflow_id)
            .input(own)
    });
}
