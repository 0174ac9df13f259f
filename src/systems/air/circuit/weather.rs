//! The air of a season: what the blower moves and what comes back to it, at the job's altitude.

use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{Condition, Model};
use crate::physics::air::{DuctAir, viscosity};
use crate::physics::psychrometrics::{MoistAir, standard_pressure};
use crate::quantity::{Density, Dimension, Humidity, Pressure, Temperature};
use crate::systems::water::WARMED;

/// Density that catalogs rate at, lb/ft³: standard air.
pub(super) const STANDARD_DENSITY: f64 = 0.075;
/// Supply air in cooling, °F: common practice for small-duct coils.
const SUMMER_SUPPLY: f64 = 55.0;
/// Supply air in heating, °F: common practice.
const WINTER_SUPPLY: f64 = 110.0;
/// Rooms where the job says nothing, °F and % RH: common practice.
const SUMMER_ROOM: (f64, f64) = (75.0, 50.0);
const WINTER_ROOM: (f64, f64) = (70.0, 30.0);

/// The two design seasons.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::systems) enum Season {
    /// Cooling.
    Summer,
    /// Heating.
    Winter,
}

impl Season {
    /// Its word in the language.
    pub(in crate::systems) const fn word(self) -> &'static str {
        match self {
            Self::Summer => "summer",
            Self::Winter => "winter",
        }
    }

    /// What a figure's id ends in: summer is the plain one.
    pub(super) const fn suffix(self) -> &'static str {
        match self {
            Self::Summer => "",
            Self::Winter => "@winter",
        }
    }
}

/// Air on both sides of the coil.
#[derive(Clone, Copy, Debug)]
pub(in crate::systems) struct SeasonAir {
    /// What the blower moves.
    pub(in crate::systems) supply: DuctAir,
    /// What comes back from the rooms.
    pub(in crate::systems) back: DuctAir,
}

impl SeasonAir {
    /// Density of the supply air over that of standard air.
    pub(super) fn rated(&self) -> f64 {
        self.supply.density.value() / STANDARD_DENSITY
    }
}

fn duct_air(state: &MoistAir) -> DuctAir {
    DuctAir {
        density: state.density(),
        viscosity: viscosity(state.dry_bulb(), state.density()),
    }
}

fn room(season: Season, condition: Option<&Condition>, at: Pressure) -> Option<MoistAir> {
    let usual = match season {
        Season::Summer => SUMMER_ROOM,
        Season::Winter => WINTER_ROOM,
    };
    let said =
        |value: fn(&Condition) -> Option<f64>, usual| condition.and_then(value).unwrap_or(usual);
    let dry = said(|c| c.indoor.map(|v| v.value), usual.0);
    let humid = said(|c| c.humidity.map(|v| v.value), usual.1);
    MoistAir::from_relative_humidity(Temperature::new(dry), Humidity::new(humid), at).ok()
}

/// The air of a season; none when no such air exists. In winter it is warmed to `warmed`, where that is known.
pub(super) fn season_air(model: &Model, season: Season, warmed: Option<f64>) -> Option<SeasonAir> {
    let at = standard_pressure(model.job.site_altitude()?)?;
    let back = room(season, model.job.condition(season.word()), at)?;
    let supply = match season {
        Season::Summer => {
            let cold = Temperature::new(SUMMER_SUPPLY.min(back.dry_bulb().value()));
            let wet = MoistAir::from_relative_humidity(cold, Humidity::new(100.0), at).ok()?;
            if wet.humidity_ratio().value() < back.humidity_ratio().value() {
                wet
            } else {
                MoistAir::from_humidity_ratio(cold, back.humidity_ratio(), at).ok()?
            }
        }
        Season::Winter => MoistAir::from_humidity_ratio(
            Temperature::new(warmed.unwrap_or(WINTER_SUPPLY)),
            back.humidity_ratio(),
            at,
        )
        .ok()?,
    };
    Some(SeasonAir {
        supply: duct_air(&supply),
        back: duct_air(&back),
    })
}

/// Why a season has no air.
pub(super) const fn no_air(model: &Model) -> &'static str {
    if model.job.altitude_unknown {
        "the altitude is not known"
    } else {
        "no such air exists at the job's altitude and indoor design"
    }
}

/// Id of the density of the supply air.
pub(super) fn density_id(season: Season) -> String {
    figure_id(["air.supply-density", season.suffix()])
}

/// A density's name, the air it is of in words, and the air.
type Side = (&'static str, String, fn(&SeasonAir) -> Density);

/// Enters both densities of a season.
pub(super) fn enter(model: &Model, season: Season, air: Option<&SeasonAir>, ledger: &mut Ledger) {
    let condition = model.job.condition(season.word());
    let warmed = (season == Season::Winter)
        .then(|| ledger.get(WARMED).map(|_| WARMED))
        .flatten();
    let (supply, usual) = match season {
        Season::Summer => (
            format!("air cooled to {SUMMER_SUPPLY} °F, saturated or as dry as the room's"),
            SUMMER_ROOM,
        ),
        Season::Winter if warmed.is_some() => (
            "the room's air as its hot-water coils warm it".to_owned(),
            WINTER_ROOM,
        ),
        Season::Winter => (
            format!("the room's air warmed to {WINTER_SUPPLY} °F"),
            WINTER_ROOM,
        ),
    };
    let sides: [Side; 2] = [
        ("supply-density", supply, |air| air.supply.density),
        ("return-density", "the room's air".to_owned(), |air| {
            air.back.density
        }),
    ];
    for (what, words, of) in sides {
        let id = figure_id(["air.", what, season.suffix()]);
        let mut figure = match air {
            Some(air) => Figure::number(id, of(air).value(), Dimension::Density),
            None => Figure::unknown(id, no_air(model)),
        }
        .formula(format!(
            "density of {words}, at the standard pressure of the altitude"
        ))
        .source("ASHRAE Handbook—Fundamentals, Psychrometrics; supply temperature common practice");
        if let (Some(warmed), "supply-density") = (warmed, what) {
            figure = figure.input(warmed);
        }
        figure = match &model.job.altitude {
            Some(altitude) => figure.place(altitude.span, "altitude"),
            None if model.job.altitude_unknown => figure,
            None => figure.standard("no altitude is given: sea level"),
        };
        figure = match condition {
            Some(condition) => figure.place(condition.span, format!("{} design", season.word())),
            None => figure.standard(format!(
                "no {} design is given: {} °F at {} % relative humidity indoors",
                season.word(),
                usual.0,
                usual.1
            )),
        };
        ledger.enter(figure);
    }
}
