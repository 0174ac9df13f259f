//! The design conditions of a season, and the air of the rooms at the job's altitude.

use crate::figures::Figure;
use crate::model::{Condition, Model};
use crate::physics::psychrometrics::{MoistAir, standard_pressure};
use crate::quantity::{Humidity, Length, Pressure, Temperature};
use crate::source::Spanned;

use super::gap::Gap;

/// Relative humidity indoors where the job does not say, summer and winter, %: common practice.
const USUAL_HUMIDITY: [f64; 2] = [50.0, 30.0];

/// A design season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::systems) enum Season {
    /// Cooling.
    Summer,
    /// Heating.
    Winter,
}

impl Season {
    pub(in crate::systems) const BOTH: [Self; 2] = [Self::Summer, Self::Winter];

    pub(in crate::systems) const fn word(self) -> &'static str {
        match self {
            Self::Summer => "summer",
            Self::Winter => "winter",
        }
    }

    /// What a figure's id ends in.
    pub(in crate::systems) const fn suffix(self) -> &'static str {
        match self {
            Self::Summer => "",
            Self::Winter => "@winter",
        }
    }
}

/// A season's design.
#[derive(Clone, Debug)]
pub(in crate::systems) struct Design {
    /// `summer`, `winter`, or the name of a further condition.
    pub(in crate::systems) name: String,
    pub(in crate::systems) season: Season,
    pub(in crate::systems) outdoor: Spanned<f64>,
    pub(in crate::systems) wet_bulb: Option<Spanned<f64>>,
    pub(in crate::systems) indoor: Spanned<f64>,
    pub(in crate::systems) humidity: Option<Spanned<f64>>,
    pub(in crate::systems) altitude: Option<Spanned<Length>>,
    pub(in crate::systems) pressure: Pressure,
}

fn stated(
    condition: &Condition,
    value: Option<Spanned<f64>>,
    what: &str,
) -> Result<Spanned<f64>, Gap> {
    value.ok_or_else(|| {
        Gap::because(format!(
            "the {} design does not say the temperature {what}",
            condition.name
        ))
    })
}

impl Design {
    /// As the job states it.
    pub(in crate::systems) fn of(model: &Model, season: Season) -> Result<Self, Gap> {
        let word = season.word();
        let Some(condition) = model.job.condition(word) else {
            return Err(Gap::because(format!("no {word} design is given")));
        };
        Self::at(model, condition, season)
    }

    /// At a condition of the job, with what is usual in a season where it says no humidity.
    pub(in crate::systems) fn at(
        model: &Model,
        condition: &Condition,
        season: Season,
    ) -> Result<Self, Gap> {
        let altitude = model.job.altitude;
        let site = model
            .job
            .site_altitude()
            .ok_or_else(|| Gap::because("the altitude is not known"))?;
        let pressure = standard_pressure(site)
            .ok_or_else(|| Gap::because("the altitude lies outside the standard atmosphere"))?;
        Ok(Self {
            name: condition.name.clone(),
            season,
            outdoor: stated(condition, condition.outdoor, "outdoors")?,
            wet_bulb: condition.wet_bulb,
            indoor: stated(condition, condition.indoor, "indoors")?,
            humidity: condition.humidity,
            altitude,
            pressure,
        })
    }

    /// The air of the rooms.
    pub(in crate::systems) fn room_air(&self) -> Result<MoistAir, Gap> {
        let [summer, winter] = USUAL_HUMIDITY;
        let usual = match self.season {
            Season::Summer => summer,
            Season::Winter => winter,
        };
        MoistAir::from_relative_humidity(
            Temperature::new(self.indoor.value),
            Humidity::new(self.humidity.map_or(usual, |humidity| humidity.value)),
            self.pressure,
        )
        .map_err(|why| Gap::because(format!("no such air is found indoors: {why}")))
    }

    /// Adds what the rooms' air rests on.
    pub(in crate::systems) fn cite(&self, figure: Figure) -> Figure {
        let word = &self.name;
        let mut figure = figure.place(self.indoor.span, format!("{word} indoor temperature"));
        figure = match &self.humidity {
            Some(humidity) => figure.place(humidity.span, format!("{word} indoor humidity")),
            None => {
                let [summer, winter] = USUAL_HUMIDITY;
                let usual = if self.season == Season::Summer {
                    summer
                } else {
                    winter
                };
                figure.standard(format!(
                    "no indoor humidity is given for {word}: {usual} %, common practice"
                ))
            }
        };
        match &self.altitude {
            Some(altitude) => figure.place(altitude.span, "altitude"),
            None => figure.standard("no altitude is given: sea level"),
        }
    }

    /// The outdoor temperature's words.
    pub(in crate::systems) fn cite_outdoor(&self, figure: Figure) -> Figure {
        figure.place(
            self.outdoor.span,
            format!("{} outdoor temperature", self.name),
        )
    }
}
