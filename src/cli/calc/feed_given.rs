//! What a row of `feed` gives: plate or loads, how the cable lies, how far it goes.

use super::row::{Fault, Row};
use crate::physics::conductor::{Column as Rating, Edition};
use crate::physics::feed::{Laid, Loads};
use crate::quantity::{Current, Temperature};

/// What a circuit feeds, which settles whether the general rule of small conductors holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Equipment {
    /// Air-conditioning: Article 440, freed by 240.4(G).
    Cooling,
    /// A motor: Article 430, freed by 240.4(G).
    Motor,
    /// Electric heat: not freed.
    Heat,
    /// Anything else: not freed.
    Other,
}

impl Equipment {
    /// Whether its breaker goes by Article 430 or 440 and not by its conductors.
    pub(super) const fn is_freed(self) -> bool {
        matches!(self, Self::Cooling | Self::Motor)
    }
}

/// The edition of the code; 2020 where none is named.
pub(super) fn edition(row: &Row) -> Result<Edition, Fault> {
    match row.word("edition") {
        None => Ok(Edition::default()),
        Some("2017") => Ok(Edition::new(2017)),
        Some("2020") => Ok(Edition::new(2020)),
        Some("2023") => Ok(Edition::new(2023)),
        Some(other) => Err(Fault::new(format!(
            "`edition` is `{other}`, not one of 2017, 2020, 2023"
        ))),
    }
}

/// `12.6` or `12.6+1.4`: each load of its kind.
fn list(row: &Row, name: &str, most: f64) -> Result<Vec<Current>, Fault> {
    let Some(text) = row.word(name) else {
        return Ok(Vec::new());
    };
    text.split('+')
        .map(|part| {
            let part = part.trim();
            let part = part.strip_suffix('A').map_or(part, str::trim);
            part.parse::<f64>()
                .ok()
                .filter(|value| value.is_finite() && *value > 0.0 && *value <= most)
                .map(Current::new)
                .ok_or_else(|| {
                    Fault::new(format!(
                        "`{name}` is `{text}`, not amperes as in 12.6 or 12.6+1.4"
                    ))
                })
        })
        .collect()
}

/// The loads of the row.
pub(super) fn loads(row: &Row, supply: f64) -> Result<Loads, Fault> {
    let mut heat = list(row, "heater_A", 1000.0)?;
    if let Some(kilowatts) = row.number("heater_kW")?
        && kilowatts > 0.0
    {
        heat.push(Current::new(kilowatts * 1000.0 / supply));
    }
    Ok(Loads {
        compressors: list(row, "compressor_A", 1000.0)?,
        motors: list(row, "motor_A", 1000.0)?,
        heat,
        lasting: list(row, "other_A", 1000.0)?,
    })
}

/// What the circuit feeds: as stated, else by its loads.
pub(super) fn equipment(row: &Row, loads: &Loads) -> Result<Equipment, Fault> {
    Ok(match row.word("equipment") {
        Some("air-conditioning") if loads.heat.is_empty() => Equipment::Cooling,
        Some("motor") if loads.heat.is_empty() => Equipment::Motor,
        Some("air-conditioning" | "motor" | "heat") => Equipment::Heat,
        Some("other") => Equipment::Other,
        Some(word) => {
            return Err(Fault::new(format!(
                "`equipment` is `{word}`, not one of air-conditioning, motor, heat, other"
            )));
        }
        None if !loads.heat.is_empty() => Equipment::Heat,
        None if !loads.compressors.is_empty() => Equipment::Cooling,
        None if !loads.motors.is_empty() && loads.lasting.is_empty() => Equipment::Motor,
        None if !loads.is_empty() => Equipment::Other,
        None => {
            return Err(Fault::new(
                "with a plate say `equipment`: one of air-conditioning, motor, heat, other",
            ));
        }
    })
}

fn column(row: &Row, name: &str, own: Rating) -> Result<Rating, Fault> {
    let Some(value) = row.number(name)? else {
        return Ok(own);
    };
    [Rating::C60, Rating::C75, Rating::C90]
        .into_iter()
        .find(|column| column.name() == value.to_string())
        .ok_or_else(|| Fault::new(format!("`{name}` is {value}, not one of 60, 75, 90")))
}

/// How the cable lies, and its sheath.
pub(super) fn laid(row: &Row) -> Result<(Laid, &'static str), Fault> {
    let (sheath, insulation, cable) = match row.word("cable") {
        None | Some("NM-B") => ("NM-B", Rating::C90, Some(Rating::C60)),
        Some("UF-B") => ("UF-B", Rating::C90, Some(Rating::C60)),
        Some("MC") => ("MC", Rating::C90, None),
        Some("THHN") => ("THHN", Rating::C90, None),
        Some("THWN") => ("THWN", Rating::C75, None),
        Some(word) => {
            return Err(Fault::new(format!(
                "`cable` is `{word}`, not one of NM-B, UF-B, MC, THHN, THWN"
            )));
        }
    };
    let count = |name: &str, own: u32| -> Result<u32, Fault> {
        let value = row.number(name)?.unwrap_or_else(|| f64::from(own));
        (1..=1000_u32)
            .find(|whole| f64::from(*whole).to_bits() == value.to_bits())
            .ok_or_else(|| Fault::new(format!("`{name}` is {value}, not a count")))
    };
    let together = count("cables_together", 1)? * count("carrying_conductors", 2)?;
    let laid = Laid {
        insulation: column(row, "insulation_C", insulation)?,
        cable,
        terminals: column(row, "terminal_C", Rating::C60)?,
        ambient: Temperature::new(row.number("ambient_F")?.unwrap_or(86.0)),
        together,
    };
    Ok((laid, sheath))
}
