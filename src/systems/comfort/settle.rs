//! The temperature that each room settles at while the thermostat's room is kept, and how far apart they are.

use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Model, Room, Thermostat};
use crate::physics::hot_water_coil::HeatPerDegree;
use crate::physics::room_balance::{
    Balance, NoBalance, RoomHeat, balance, spread, uncertain_spread,
};
use crate::quantity::{Dimension, HeatFlow, Temperature, TemperatureDifference};

use super::design::{Design, Season};
use super::gap::{Gap, known, put};
use super::need::{Delivered, delivered, fed, id, load_of, radiators};
use super::way::Arrivals;

const SOURCE: &str = "heat balance of ASHRAE Handbook—Fundamentals, steady state";
/// Parts by which loads are taken to be uncertain, %: common practice of load calculations.
const UNCERTAIN: [u32; 2] = [10, 20];

/// How much of a cooling load is taken to change with the room's own temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Slope {
    /// What the heat loss says; the rest (sun, people, lamps) stays.
    Stated,
    /// Nothing.
    None,
    /// All of it.
    Whole,
}

/// The rooms of one unit, ready for the balance.
struct Group<'m> {
    unit: &'m AirHandler,
    rooms: Vec<&'m Room>,
    heats: Vec<RoomHeat>,
    thermostat: &'m Thermostat,
    governing: usize,
}

/// What one degree of the room's own temperature changes of its load, Btu/(h·°F).
fn slope(room: &Room, design: &Design, winter: Option<&Design>, load: f64, how: Slope) -> f64 {
    let apart = (design.outdoor.value - design.indoor.value).abs();
    let whole = if apart > 0.0 { load / apart } else { 0.0 };
    match (design.season, how) {
        (Season::Winter, _) | (Season::Summer, Slope::Whole) => whole,
        (Season::Summer, Slope::None) => 0.0,
        (Season::Summer, Slope::Stated) => {
            let loss = load_of(room, Season::Winter).0.map(|load| load.value);
            let over = winter.map(|w| w.indoor.value - w.outdoor.value);
            match (loss, over) {
                (Some(loss), Some(over)) if over > 0.0 => loss / over,
                _ => whole,
            }
        }
    }
}

fn heat(
    room: &Room,
    (design, winter): (&Design, Option<&Design>),
    air: Delivered,
    (load, given, how): (f64, f64, Slope),
) -> RoomHeat {
    let sign = if design.season == Season::Summer {
        1.0
    } else {
        -1.0
    };
    RoomHeat {
        gain: HeatFlow::new(sign * load),
        // Radiators give alike however warm the room: what changes with it is the loss itself.
        slope: HeatPerDegree::new(slope(room, design, winter, load + given, how)),
        air: HeatPerDegree::new(air.rate),
        supply: Temperature::new(air.supply),
    }
}

/// The room whose air a thermostat feels: its own, or the one that serves it.
fn felt<'m>(model: &'m Model, thermostat: &'m Thermostat) -> Option<&'m Room> {
    let room = model.house.rooms.get(&thermostat.room.value)?;
    match &room.served_by {
        Some(by) if room.outlets.is_empty() => model.house.rooms.get(&by.value),
        _ => Some(room),
    }
}

fn group<'m>(
    model: &'m Model,
    unit: &'m AirHandler,
    (design, winter): (&Design, Option<&Design>),
    (arrivals, ledger): (&Arrivals, &Ledger),
    how: Slope,
) -> Result<Group<'m>, Gap> {
    let rooms = fed(model, unit);
    let found = model.thermostats.values().find_map(|thermostat| {
        let room = felt(model, thermostat)?;
        let at = rooms.iter().position(|own| own.name == room.name)?;
        Some((thermostat, at))
    });
    let Some((thermostat, governing)) = found else {
        return Err(Gap::because(format!(
            "no thermostat stands in a room that `{}` feeds",
            unit.name
        )));
    };
    let mut heats = Vec::new();
    for room in &rooms {
        let others = model
            .air_handlers
            .values()
            .filter(|other| other.name != unit.name);
        for other in others {
            if fed(model, other).iter().any(|same| same.name == room.name) {
                return Err(Gap::because(format!(
                    "room `{}` is fed by two units, which no single thermostat keeps",
                    room.name
                )));
            }
        }
        let load = known(ledger, &id(room, "load", design.season))?;
        let air = delivered(model, room, unit, arrivals)?;
        let (given, _) = radiators(model, room, design.season, ledger);
        let load = (load, given, how);
        heats.push(heat(room, (design, winter), air, load));
    }
    Ok(Group {
        unit,
        rooms,
        heats,
        thermostat,
        governing,
    })
}

fn reason(why: NoBalance) -> Gap {
    Gap::because(match why {
        NoBalance::NoThermostat => "no thermostat stands in a room that the unit feeds",
        NoBalance::NoAir => "the room of the thermostat gets no air",
        NoBalance::WrongWay => {
            "the room of the thermostat gets no heat or cold that its load asks for"
        }
    })
}

/// What a season's figures of one unit rest on.
pub(super) struct Told<'a> {
    pub(super) model: &'a Model,
    pub(super) unit: &'a AirHandler,
    pub(super) design: &'a Design,
    pub(super) winter: Option<&'a Design>,
    pub(super) arrivals: &'a Result<Arrivals, Gap>,
}

/// Spreads of one unit's rooms.
#[derive(Clone, Debug, Default)]
pub(super) struct Settled {
    /// Every room's temperature.
    temperatures: Vec<(String, f64)>,
    /// With loads uncertain by each part.
    uncertain: Vec<f64>,
    /// By other slopes of the cooling load.
    slopes: Vec<f64>,
}

impl Told<'_> {
    fn group(&self, ledger: &Ledger, how: Slope) -> Result<Group<'_>, Gap> {
        let arrivals = self.arrivals.as_ref().map_err(Clone::clone)?;
        group(
            self.model,
            self.unit,
            (self.design, self.winter),
            (arrivals, ledger),
            how,
        )
    }

    /// Enters running share and room temperatures, and gives what the house's spread rests on.
    pub(super) fn enter(&self, ledger: &mut Ledger) -> Result<Settled, Gap> {
        let set = Temperature::new(self.design.indoor.value);
        let found = self.group(ledger, Slope::Stated).and_then(|group| {
            let found = balance(&group.heats, group.governing, set).map_err(reason)?;
            Ok((group, found))
        });
        match found {
            Err(gap) => {
                for room in fed(self.model, self.unit) {
                    let own = id(room, "temperature", self.design.season);
                    put(ledger, own, Err(&gap), |figure| {
                        figure
                            .formula("temperature at which its load and its air balance")
                            .source(SOURCE)
                            .place(room.span, format!("room {}", room.name))
                    });
                }
                Err(gap)
            }
            Ok((group, found)) => {
                self.running(&group, &found, ledger);
                let mut settled = self.rooms(&group, &found, ledger);
                for part in UNCERTAIN {
                    let part = f64::from(part) / 100.0;
                    let far = uncertain_spread(&group.heats, group.governing, set, part)
                        .map_err(reason)?;
                    settled.uncertain.push(far.value());
                }
                if self.design.season == Season::Summer {
                    for how in [Slope::None, Slope::Whole] {
                        let other = self.group(ledger, how)?;
                        let found = balance(&other.heats, other.governing, set).map_err(reason)?;
                        let far = spread(found.temperatures.into_iter().flatten());
                        settled
                            .slopes
                            .push(far.map_or(0.0, TemperatureDifference::value));
                    }
                }
                Ok(settled)
            }
        }
    }

    fn running_id(&self) -> String {
        figure_id([
            "air-handler.",
            &self.unit.name,
            ".running",
            self.design.season.suffix(),
        ])
    }

    fn running(&self, group: &Group<'_>, found: &Balance, ledger: &mut Ledger) {
        let Some(room) = group.rooms.get(group.governing) else {
            return;
        };
        let season = self.design.season;
        let own = self.running_id();
        let wanted = figure_id([
            "air-handler.",
            &group.unit.name,
            ".running-wanted",
            season.suffix(),
        ]);
        let stat = group.thermostat;
        ledger.enter(
            Figure::number(wanted.clone(), 100.0 * found.wanted, Dimension::Ratio)
                .formula("share of the time for which the air of the thermostat's room meets its load: load ÷ (what its air carries × difference of room and supply)")
                .source(SOURCE)
                .input(id(room, "load", season))
                .input(id(room, "airflow", season))
                .input(id(room, "supply-temperature", season))
                .place(stat.room.span, format!("thermostat {} stands in {}", stat.name, stat.room.value))
                .place(self.design.indoor.span, format!("{} indoor temperature", season.word())),
        );
        ledger.enter(
            Figure::number(own, 100.0 * found.running, Dimension::Ratio)
                .formula("share of the time that the unit runs at design: what the thermostat's room asks, all of it at most")
                .source(SOURCE)
                .input(wanted),
        );
    }

    fn rooms(&self, group: &Group<'_>, found: &Balance, ledger: &mut Ledger) -> Settled {
        let season = self.design.season;
        let mut settled = Settled::default();
        for (room, t) in group.rooms.iter().zip(&found.temperatures) {
            let own = id(room, "temperature", season);
            let none = Gap::because("nothing holds its temperature");
            let value = t
                .map(|t| Figure::number(own.clone(), t.value(), Dimension::Temperature))
                .ok_or(&none);
            put(ledger, own.clone(), value, |figure| {
                let figure = figure
                    .formula(match season {
                        Season::Summer => "(load + U × set point + running share × what its air carries × supply temperature) ÷ (U + running share × what its air carries), with U its heat loss ÷ winter's difference of indoors and outdoors: sun, people and lamps stay, no air passes between rooms",
                        Season::Winter => "(U × set point − heat loss + running share × what its air carries × supply temperature) ÷ (U + running share × what its air carries), with U its heat loss ÷ difference of indoors and outdoors; no air passes between rooms",
                    })
                    .source(SOURCE)
                    .input(id(room, "load", season))
                    .input(id(room, "airflow", season))
                    .input(id(room, "supply-temperature", season))
                    .input(self.running_id())
                    .place(self.design.indoor.span, format!("{} indoor temperature", season.word()));
                let mut figure = self.design.cite_outdoor(figure);
                if let (Season::Summer, (Some(loss), words), Some(winter)) =
                    (season, load_of(room, Season::Winter), self.winter)
                {
                    figure = figure
                        .place(loss.span, format!("{words} of {}", room.name))
                        .place(winter.indoor.span, "winter indoor temperature")
                        .place(winter.outdoor.span, "winter outdoor temperature");
                }
                figure
            });
            if let Some(t) = t {
                settled.temperatures.push((room.name.clone(), t.value()));
            }
        }
        settled
    }
}

/// Enters the spread over the house from what its units settle at.
pub(super) fn house(season: Season, units: &[Result<Settled, Gap>], ledger: &mut Ledger) {
    if units.is_empty() {
        return;
    }
    let suffix = season.suffix();
    let own = figure_id(["house.spread", suffix]);
    let mut all: Vec<(&str, f64)> = Vec::new();
    for unit in units {
        match unit {
            Ok(settled) => {
                all.extend(
                    settled
                        .temperatures
                        .iter()
                        .map(|(name, t)| (name.as_str(), *t)),
                );
            }
            Err(gap) => {
                put(ledger, own, Err(gap), |figure| {
                    figure
                        .formula("warmest room less coldest room, the thermostat's room kept")
                        .source(SOURCE)
                });
                return;
            }
        }
    }
    let Some(far) = spread(all.iter().map(|(_, t)| Temperature::new(*t))) else {
        return;
    };
    let cite = |figure: Figure| {
        all.iter().fold(figure, |figure, (name, _)| {
            figure.input(figure_id(["room.", name, ".temperature", suffix]))
        })
    };
    ledger.enter(cite(
        Figure::number(own.clone(), far.value(), Dimension::TemperatureDifference)
            .formula("warmest room less coldest room while the thermostat's room is kept")
            .source(SOURCE),
    ));
    let end = |pick: fn(&f64, &f64) -> std::cmp::Ordering| {
        all.iter()
            .max_by(|a, b| pick(&a.1, &b.1))
            .map(|(name, _)| *name)
    };
    for (what, name) in [
        ("warmest", end(f64::total_cmp)),
        ("coldest", end(|a, b| b.total_cmp(a))),
    ] {
        if let Some(name) = name {
            ledger.enter(cite(
                Figure::text(figure_id(["house.", what, "-room", suffix]), name)
                    .formula(format!(
                        "the {what} room while the thermostat's room is kept"
                    ))
                    .source(SOURCE),
            ));
        }
    }
    let settled = || units.iter().filter_map(|unit| unit.as_ref().ok());
    for (n, part) in UNCERTAIN.into_iter().enumerate() {
        let most = settled()
            .filter_map(|unit| unit.uncertain.get(n))
            .fold(far.value(), |most, far| most.max(*far));
        ledger.enter(
            cite(
                Figure::number(
                    format!("house.spread-loads-{part}{suffix}"),
                    most,
                    Dimension::TemperatureDifference,
                )
                .formula(format!(
                    "the largest spread over the rooms of a unit when each room's load is {part} % more or less than stated, each by itself in the worst way"
                ))
                .source(SOURCE)
                .input(own.clone()),
            )
            .standard(format!("loads uncertain by {part} %, common practice")),
        );
    }
    let slopes: Vec<f64> = settled()
        .flat_map(|unit| unit.slopes.iter().copied())
        .collect();
    if !slopes.is_empty() {
        let most = slopes.into_iter().fold(far.value(), f64::max);
        ledger.enter(cite(
            Figure::number(
                figure_id(["house.spread-slopes", suffix]),
                most,
                Dimension::TemperatureDifference,
            )
            .formula("the largest spread, whether none or all of each room's cooling load is taken to change with its own temperature: the bound of what that assumption does")
            .source(SOURCE)
            .input(own),
        ));
    }
}
