//! Water that a coil takes out of the air, at the design and in the wettest hour, and what each drain carries of it.

use std::collections::BTreeSet;

use crate::figures::{Figure, FigureValue, Ledger};
use crate::model::{AirHandler, Condition, Drain, Model};
use crate::physics::coil::{CapacityTable, working};
use crate::physics::psychrometrics::{MoistAir, standard_pressure};
use crate::quantity::{Dimension, MassFlow, Pressure, Temperature};
use crate::systems::comfort::held_table;

/// Weight of a gallon of water near 60 °F, lb: 62.37 lb/ft³.
pub(super) const GALLON: f64 = 62.37 * 231.0 / 1728.0;

/// Dry air in one cfm of standard air, lb/h: 60 × 0.075 (AHRI 210/240).
const STANDARD: f64 = 4.5;

const BALANCE: &str = "ASHRAE Handbook—Fundamentals, Psychrometrics";

/// A state of the air that may be the wettest hour.
struct Hour {
    moisture: f64,
    words: String,
    condition: Option<(crate::source::Span, String)>,
}

/// Water out of the air of a condition that names its humidity.
fn at_condition(unit: &AirHandler, condition: &Condition, ledger: &Ledger) -> Option<Hour> {
    condition.humidity?;
    let from = format!("coil.{}.moisture@{}", unit.name, condition.name);
    Some(Hour {
        moisture: ledger.real(&from)?,
        words: format!("condition `{}` of the job", condition.name),
        condition: Some((condition.span, from)),
    })
}

/// Water at the edge of the catalog's table: the wettest air and the coolest outdoors that it holds.
fn at_edge(
    unit: &AirHandler,
    (table, pressure, dry_air): (&CapacityTable, Pressure, MassFlow),
    indoor: f64,
) -> Option<Hour> {
    let rows = unit.sheet.cooling_rows();
    let wet = rows
        .iter()
        .map(|row| row.wet_bulb.value())
        .fold(f64::NAN, f64::max);
    let outdoor = rows
        .iter()
        .map(|row| row.outdoor.value())
        .fold(f64::NAN, f64::min);
    let dry = indoor.max(wet);
    let air =
        MoistAir::from_wet_bulb(Temperature::new(dry), Temperature::new(wet), pressure).ok()?;
    let found = working(table, &air, dry_air, Temperature::new(outdoor)).ok()?;
    Some(Hour {
        moisture: found.moisture.value(),
        words: format!(
            "edge of the catalog's table: {dry:.0} °F with a wet bulb of {wet:.0} °F, {outdoor:.0} °F outdoors; the job names no wetter condition"
        ),
        condition: None,
    })
}

fn wettest(model: &Model, unit: &AirHandler, ledger: &Ledger) -> Option<Hour> {
    let named = model
        .job
        .conditions
        .iter()
        .filter(|condition| !matches!(condition.name.as_str(), "summer" | "winter"))
        .filter_map(|condition| at_condition(unit, condition, ledger))
        .max_by(|a, b| a.moisture.total_cmp(&b.moisture));
    let found = named.or_else(|| {
        let table = held_table(unit)?;
        let pressure = standard_pressure(model.job.site_altitude()?)?;
        let standard = ledger.real(&format!("coil.{}.standard-airflow", unit.name))?;
        let indoor = model.job.condition("summer")?.indoor?.value;
        let given = (&table, pressure, MassFlow::new(standard * STANDARD));
        at_edge(unit, given, indoor)
    })?;
    let design = ledger.real(&format!("coil.{}.moisture", unit.name))?;
    if found.moisture >= design {
        return Some(found);
    }
    Some(Hour {
        moisture: design,
        words: "the summer design: no state known of is wetter".to_owned(),
        condition: None,
    })
}

/// Enters the water of a unit's coil.
pub(super) fn unit(model: &Model, unit: &AirHandler, ledger: &mut Ledger) {
    if unit.sheet.cooling.is_empty() {
        return;
    }
    let id = |what: &str| format!("air-handler.{}.{what}", unit.name);
    let coil = format!("coil.{}.moisture", unit.name);
    let source_id = format!("coil.{}.total", unit.name);
    let place = |figure: Figure| figure.place(unit.span, format!("air handler {}", unit.name));
    let reason = ledger
        .reason(&source_id)
        .unwrap_or("the coil's state is not known")
        .to_owned();
    let design = match ledger.real(&coil) {
        Some(moisture) => {
            Figure::number(id("condensate"), moisture, Dimension::MassFlow).input(coil.clone())
        }
        None => place(Figure::unknown(id("condensate"), reason.clone())),
    };
    ledger.enter(
        design
            .formula("water that the coil takes out of the air at the summer design")
            .source(BALANCE),
    );
    let words = "water that the coil takes out of the air in the wettest hour";
    match wettest(model, unit, ledger) {
        Some(hour) => {
            let mut state = Figure::text(id("wettest-state"), hour.words)
                .formula("the wettest of the job's named conditions with a humidity; where there is none, the edge of the catalog's table")
                .place(unit.sheet.span, unit.model.value.clone());
            let mut from = format!("coil.{}.standard-airflow", unit.name);
            if let Some((span, moisture)) = hour.condition {
                state = state.place(span, "condition");
                from = moisture;
            }
            ledger.enter(state);
            ledger.enter(
                Figure::number(id("condensate-wettest"), hour.moisture, Dimension::MassFlow)
                    .formula(words)
                    .source(BALANCE)
                    .input(id("wettest-state"))
                    .input(from),
            );
        }
        None => ledger.enter(place(
            Figure::unknown(id("condensate-wettest"), reason).formula(words),
        )),
    }
    for (what, from) in [
        ("condensate-hour", "condensate"),
        ("condensate-wettest-hour", "condensate-wettest"),
    ] {
        gallons(id(what), id(from), ledger);
    }
}

/// Enters the volume that a flow of weight makes in an hour.
fn gallons(id: String, from: String, ledger: &mut Ledger) {
    let figure = match ledger.get(&from).map(|figure| &figure.value) {
        Some(FigureValue::Number(pounds, _)) => {
            Figure::number(id, pounds / GALLON, Dimension::Volume)
        }
        Some(FigureValue::Unknown(reason)) => Figure::unknown(id, reason.clone()),
        _ => return,
    };
    ledger.enter(
        figure
            .formula("what comes in one hour, at 8.34 lb a gallon")
            .input(from),
    );
}

/// The drains that run into `drain`, themselves with those before them; each once.
fn joined<'a>(model: &'a Model, drain: &'a Drain, seen: &mut BTreeSet<&'a str>) {
    if !seen.insert(&drain.name) {
        return;
    }
    for other in model.drains.values() {
        let here = other
            .ending
            .as_ref()
            .is_some_and(|ending| ending.to.value == drain.name);
        if here {
            joined(model, other, seen);
        }
    }
}

/// The units whose water a drain carries, each once.
pub(super) fn units<'a>(model: &'a Model, drain: &'a Drain) -> Vec<&'a AirHandler> {
    let mut seen = BTreeSet::new();
    joined(model, drain, &mut seen);
    let names: BTreeSet<&str> = seen
        .iter()
        .filter_map(|name| model.drains.get(*name))
        .map(|drain| drain.unit.as_str())
        .collect();
    names
        .into_iter()
        .filter_map(|name| model.air_handlers.get(name))
        .collect()
}

/// A sum of one figure over units: none when one of them is not known.
fn sum(ledger: &Ledger, units: &[&AirHandler], what: &str) -> Result<f64, String> {
    let mut all = 0.0;
    for unit in units {
        let id = format!("air-handler.{}.{what}", unit.name);
        all += ledger.real(&id).ok_or_else(|| {
            let reason = ledger
                .reason(&id)
                .unwrap_or("the coil's water is not known");
            reason.to_owned()
        })?;
    }
    Ok(all)
}

/// Enters what a drain carries, and the tons that hang on it.
pub(super) fn drain(model: &Model, drain: &Drain, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let units = units(model, drain);
    if units.is_empty() {
        return;
    }
    let name = if drain.is_second_line() {
        "when the first way is stopped"
    } else {
        "of the units that drain into it, summed"
    };
    for (what, from, words) in [
        ("flow", "condensate", "at the summer design"),
        ("flow-wettest", "condensate-wettest", "in the wettest hour"),
    ] {
        let figure = match sum(ledger, &units, from) {
            Ok(flow) => Figure::number(id(what), flow, Dimension::MassFlow),
            Err(reason) => Figure::unknown(id(what), reason),
        };
        let figure = units.iter().fold(figure, |figure, unit| {
            figure.input(format!("air-handler.{}.{from}", unit.name))
        });
        ledger.enter(figure.formula(format!("water {words} {name}")));
        gallons(id(&format!("{what}-hour")), id(what), ledger);
    }
    let nominal: Option<f64> = units
        .iter()
        .map(|unit| Some(unit.sheet.nominal.get()?.value()))
        .sum();
    let figure = match nominal {
        Some(heat) => Figure::number(id("nominal"), heat, Dimension::HeatFlow),
        None => Figure::unknown(id("nominal"), "the catalog does not give a nominal size"),
    };
    let figure = units.iter().fold(figure, |figure, unit| {
        figure.place(unit.sheet.nominal.span, "nominal")
    });
    ledger.enter(figure.formula("nominal cooling of the units that drain into it, summed"));
}
