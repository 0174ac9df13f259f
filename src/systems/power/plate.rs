//! What a circuit's unit says on its plate, whichever sort of equipment it is.

use crate::catalog::{Catalog, Loads, Poles, Range, Stated, VoltageSetting};
use crate::model::{AirHandler, Circuit, Model};
use crate::physics::feed;
use crate::quantity::{Current, Voltage};
use crate::source::{Span, Spanned};

/// A unit's plate, at the voltage setting in force where it has settings.
#[derive(Clone, Copy, Debug)]
pub struct Plate<'a> {
    /// The air handler's setting: its name and what it asks.
    pub setting: Option<(&'a str, &'a VoltageSetting)>,
    /// Supply voltages.
    pub supply: &'a Stated<Range<Voltage>>,
    /// Minimum circuit ampacity; none on a plate that gives running current alone.
    pub least_ampacity: Option<&'a Stated<Current>>,
    /// Maximum breaker or fuse.
    pub most_breaker: Option<&'a Stated<Current>>,
    /// Whether only fuses protect it.
    pub fuses_only: Option<&'a Stated<bool>>,
    /// Running current.
    pub running: Option<&'a Stated<Current>>,
    /// What it carries, where the catalog says.
    pub loads: Option<&'a Loads>,
    /// Poles of the breaker.
    pub poles: Option<&'a Stated<Poles>>,
    /// Whether it is air-conditioning equipment, whose breaker goes by its plate (NEC 240.4(G), Article 440).
    pub conditions_air: bool,
    /// Where it stands in the catalog.
    pub span: Span,
}

impl Plate<'_> {
    /// Every load that the catalog states, with its words; a motor's running current where it states no loads.
    pub fn load_places(&self) -> Vec<(&Stated<Current>, &'static str)> {
        let Some(loads) = self.loads else {
            return self
                .running
                .map(|running| (running, "running current"))
                .into_iter()
                .collect();
        };
        [
            (&loads.compressors, "compressor"),
            (&loads.motors, "motor"),
            (&loads.heaters, "electric heat"),
            (&loads.other, "other load"),
        ]
        .into_iter()
        .flat_map(|(all, words)| all.iter().flatten().map(move |one| (one, words)))
        .collect()
    }

    /// What it carries; none while one of its loads is not known.
    pub fn carries(&self) -> Option<feed::Loads> {
        let mut out = feed::Loads::default();
        for (stated, words) in self.load_places() {
            let current = stated.get()?;
            match words {
                "compressor" => out.compressors.push(current),
                "electric heat" => out.heat.push(current),
                "other load" => out.lasting.push(current),
                _ => out.motors.push(current),
            }
        }
        (!out.is_empty()).then_some(out)
    }

    /// How many poles it asks for, and where it says so.
    pub fn poles_needed(&self) -> Option<(usize, Span)> {
        let stated = self.poles?;
        let count = match stated.get()? {
            Poles::One => 1,
            Poles::Two => 2,
        };
        Some((count, stated.span))
    }

    /// Whether its breaker goes by its plate and not by its conductors: air-conditioning without electric heat
    /// (NEC 240.4(G)).
    pub fn is_freed(&self) -> bool {
        self.conditions_air && !self.heats()
    }

    /// Whether electric heat is among its loads, which 240.4(G) does not free.
    pub fn heats(&self) -> bool {
        self.loads
            .and_then(|loads| loads.heaters.as_ref())
            .is_some_and(|heaters| !heaters.is_empty())
    }
}

/// The voltage setting in force: the one that the job names, else the first, as shipped. None when the named one
/// is not in the sheet.
pub fn setting_of(unit: &AirHandler) -> Option<(&str, &VoltageSetting)> {
    let settings = &unit.sheet.electrical.settings;
    match &unit.setting {
        Some(named) => settings.get_key_value(&named.value),
        None => settings.first(),
    }
    .map(|(name, setting)| (name.as_str(), setting))
}

fn of_plate(plate: &crate::catalog::Plate, conditions_air: bool) -> Plate<'_> {
    Plate {
        setting: None,
        supply: &plate.supply,
        least_ampacity: Some(&plate.least_ampacity),
        most_breaker: Some(&plate.most_breaker),
        fuses_only: plate.fuses_only.as_ref(),
        running: None,
        loads: plate.loads.as_ref(),
        poles: Some(&plate.poles),
        conditions_air,
        span: plate.span,
    }
}

fn of_motor<'a>(supply: &'a Stated<Range<Voltage>>, running: &'a Stated<Current>) -> Plate<'a> {
    Plate {
        setting: None,
        supply,
        least_ampacity: None,
        most_breaker: None,
        fuses_only: None,
        running: Some(running),
        loads: None,
        poles: None,
        conditions_air: false,
        span: supply.span,
    }
}

/// Whether a circuit enters another unit than it is said to feed: then no plate is its own.
pub fn is_astray(circuit: &Circuit) -> bool {
    circuit
        .enters
        .as_ref()
        .and_then(|enters| enters.value.split_once('.'))
        .is_some_and(|(unit, _)| unit != circuit.unit.value)
}

/// The plate of the unit that a circuit feeds; none when the circuit enters another one, or when unit, model or setting is not known.
pub fn plate_of<'a>(
    model: &'a Model,
    catalog: &'a Catalog,
    circuit: &Circuit,
) -> Option<Plate<'a>> {
    if is_astray(circuit) {
        return None;
    }
    plate_of_unit(model, catalog, &circuit.unit.value)
}

/// The plates of all units on a circuit, with the words that name them: the unit that it goes to, then the further
/// ones. Left out is what is not known, and a further unit fed at a voltage that it does not take: that is one mistake,
/// and what else does not fit follows from it. Empty when the circuit enters another unit.
pub fn plates_of<'a>(
    model: &'a Model,
    catalog: &'a Catalog,
    circuit: &'a Circuit,
) -> Vec<(&'a Spanned<String>, Plate<'a>)> {
    let Some(own) = plate_of(model, catalog, circuit) else {
        return Vec::new();
    };
    let taken = |plate: &Plate<'_>| {
        let ends = plate.supply.get().zip(circuit.volts);
        ends.is_none_or(|(range, volts)| range.holds(Voltage::new(volts.value)))
    };
    let further = circuit.feeds.iter().filter_map(|unit| {
        let plate = plate_of_unit(model, catalog, &unit.value)?;
        taken(&plate).then_some((unit, plate))
    });
    std::iter::once((&circuit.unit, own))
        .chain(further)
        .collect()
}

/// The plate of the unit called `name`; none when unit, model or setting is not known.
pub fn plate_of_unit<'a>(model: &'a Model, catalog: &'a Catalog, name: &str) -> Option<Plate<'a>> {
    if let Some(unit) = model.air_handlers.get(name) {
        let (name, setting) = setting_of(unit)?;
        return Some(Plate {
            setting: Some((name, setting)),
            supply: &setting.supply,
            least_ampacity: Some(&setting.least_ampacity),
            most_breaker: Some(&setting.most_breaker),
            fuses_only: None,
            running: Some(&setting.running),
            loads: setting.loads.as_ref(),
            poles: Some(&setting.poles),
            conditions_air: true,
            span: setting.span,
        });
    }
    let unit = model.equipment.get(name)?;
    let named = &unit.model.as_ref()?.value;
    match unit.kind {
        "outdoor-unit" => catalog
            .outdoor_units
            .get(named)
            .map(|sheet| of_plate(&sheet.plate, true)),
        "chiller" => catalog
            .chillers
            .get(named)
            .map(|sheet| of_plate(&sheet.plate, true)),
        "boiler" => catalog
            .boilers
            .get(named)
            .map(|sheet| of_plate(&sheet.plate, false)),
        "pump" => catalog
            .pumps
            .get(named)
            .map(|sheet| of_motor(&sheet.supply, &sheet.running)),
        "circulator" => catalog
            .circulators
            .get(named)
            .map(|sheet| of_motor(&sheet.supply, &sheet.running)),
        _ => None,
    }
}

/// Whether a circuit feeds this unit at a voltage outside its setting: that is one mistake, and what else does not
/// fit the setting follows from it.
pub fn is_fed_outside(model: &Model, unit: &AirHandler) -> bool {
    let supply = setting_of(unit).and_then(|(_, setting)| setting.supply.get());
    supply.is_some_and(|range| {
        model
            .circuits
            .values()
            .filter(|circuit| circuit.serves(&unit.name))
            .filter_map(|circuit| circuit.volts)
            .any(|volts| !range.holds(Voltage::new(volts.value)))
    })
}
