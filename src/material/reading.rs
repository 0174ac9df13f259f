//! What to measure at start-up, with the figure that is expected where the ledger has one.

use crate::model::{AirHandler, Model};
use crate::source::Span;

use super::desk::Desk;

/// A blank of the start-up record.
#[derive(Clone, Debug)]
pub struct Reading {
    /// What is read, in words.
    pub reading: &'static str,
    /// At what: the unit, outlet, circuit or drain.
    pub at: String,
    /// The unit it is written in.
    pub unit: &'static str,
    /// The figure that is expected.
    pub expected: Option<String>,
    /// The figure of the least that is in order.
    pub least: Option<String>,
    /// The figure of the most that is in order.
    pub most: Option<String>,
    /// The thing's statement.
    pub span: Span,
}

struct Asked {
    reading: &'static str,
    unit: &'static str,
    /// Names of the quantity in the ledger, the first known one counts.
    expected: &'static [&'static str],
    least: &'static [&'static str],
    most: &'static [&'static str],
}

const fn asked(reading: &'static str, unit: &'static str) -> Asked {
    Asked {
        reading,
        unit,
        expected: &[],
        least: &[],
        most: &[],
    }
}

/// In the order in which they are taken: supply voltage before anything runs, air before refrigerant.
const UNIT: &[Asked] = &[
    asked("voltage at the unit, standing", "V"),
    asked("voltage at the unit, running", "V"),
    asked("control voltage between power and common", "V"),
    Asked {
        expected: &["blower_current", "running_current"],
        ..asked("blower current", "A")
    },
    Asked {
        expected: &["plenum_pressure"],
        least: &["plenum_pressure_least"],
        most: &["plenum_pressure_most"],
        ..asked("pressure in the trunk at the unit", "in. w.c.")
    },
    Asked {
        expected: &["pan-suction@clean", "pan-suction"],
        ..asked("suction at the drain pan", "in. w.c.")
    },
    Asked {
        expected: &["airflow", "design-airflow"],
        least: &["airflow_least"],
        most: &["airflow_most"],
        ..asked("airflow", "cfm")
    },
    Asked {
        expected: &["entering_dry_bulb"],
        ..asked("air entering, dry bulb", "F")
    },
    Asked {
        expected: &["entering_wet_bulb"],
        ..asked("air entering, wet bulb", "F")
    },
    Asked {
        expected: &["leaving_dry_bulb", "supply_temperature"],
        ..asked("air leaving", "F")
    },
];

const OUTDOOR: &[Asked] = &[
    asked("voltage at the outdoor unit, running", "V"),
    asked("compressor current", "A"),
    asked("suction pressure", "psig"),
    asked("suction line temperature", "F"),
    asked("liquid pressure", "psig"),
    asked("liquid line temperature", "F"),
    asked("air entering the outdoor unit", "F"),
];

const DRAIN: &[Asked] = &[
    asked("trap filled, water runs with the blower on", "yes/no"),
    asked("float switch lifted: cooling stops", "yes/no"),
];

/// All readings, unit by unit.
pub(super) fn take_off(desk: &Desk<'_>) -> Vec<Reading> {
    let model: &Model = desk.model;
    let mut rows = Vec::new();
    for unit in model.air_handlers.values() {
        let prefixes = [
            format!("air-handler.{}", unit.name),
            format!("unit.{}", unit.name),
            format!("air.{}", unit.name),
        ];
        rows.extend(UNIT.iter().map(|asked| row(desk, asked, unit, &prefixes)));
    }
    for room in model.house.rooms.values() {
        for outlet in &room.outlets {
            let run = model
                .runs
                .values()
                .find(|run| run.outlet.as_ref() == Some(&outlet.name));
            let solved = run.map(|run| format!("run.{}.airflow", run.name));
            let shared = format!("room.{}.outlet_airflow", room.name);
            let expected = solved
                .into_iter()
                .chain([shared])
                .find(|id| desk.ledger.get(id).is_some());
            rows.push(Reading {
                reading: "airflow at the outlet",
                at: outlet.name.clone(),
                unit: "cfm",
                expected,
                least: None,
                most: None,
                span: outlet.span,
            });
        }
    }
    for drain in model.drains.values() {
        let plain = DRAIN.iter().map(|asked| Reading {
            reading: asked.reading,
            at: format!("drain {}", drain.name),
            unit: asked.unit,
            expected: None,
            least: None,
            most: None,
            span: drain.span,
        });
        rows.extend(plain);
    }
    for unit in model.equipment.values() {
        if unit.kind == "outdoor-unit" {
            rows.extend(OUTDOOR.iter().map(|asked| Reading {
                reading: asked.reading,
                at: unit.name.clone(),
                unit: asked.unit,
                expected: None,
                least: None,
                most: None,
                span: unit.span,
            }));
        }
    }
    rows
}

fn row(desk: &Desk<'_>, asked: &Asked, unit: &AirHandler, prefixes: &[String; 3]) -> Reading {
    let figure = |names: &[&str]| {
        let mut ids = names.iter().flat_map(|name| {
            prefixes
                .iter()
                .map(move |prefix| format!("{prefix}.{name}"))
        });
        ids.find(|id| desk.ledger.get(id).is_some())
    };
    Reading {
        reading: asked.reading,
        at: unit.name.clone(),
        unit: asked.unit,
        expected: figure(asked.expected),
        least: figure(asked.least),
        most: figure(asked.most),
        span: unit.span,
    }
}
