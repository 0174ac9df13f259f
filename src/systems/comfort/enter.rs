//! Enters what follows from the airflow, unit by unit and season by season.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Model};
use crate::systems::Purpose;

use super::design::{Design, Season};
use super::gap::{Gap, put};
use super::settle::{Settled, Told};
use super::{coil, heat, insulation, load, need, readings, settle, way};

/// Runs whose air never got a temperature say why.
fn runs_unknown(
    model: &Model,
    unit: &AirHandler,
    (season, gap): (Season, &Gap),
    ledger: &mut Ledger,
) {
    for run in model.runs.values() {
        let own = model.unit_of(&run.trunk.value);
        if own.is_none_or(|own| own.name != unit.name) {
            continue;
        }
        let id = figure_id(["run.", &run.name, ".supply-temperature", season.suffix()]);
        if ledger.get(&id).is_none() {
            put(ledger, id, Err(gap), |figure: Figure| {
                figure
                    .formula("temperature of the air in the outlet")
                    .source("ASHRAE Handbook—Fundamentals, Heat Transfer")
                    .place(run.span, format!("run {}", run.name))
            });
        }
    }
}

fn season(
    (model, catalog, purpose): (&Model, &Catalog, Purpose),
    unit: &AirHandler,
    (season, winter): (Season, Option<&Design>),
    ledger: &mut Ledger,
) -> Option<Result<Settled, Gap>> {
    let cooled = match season {
        Season::Summer => {
            let cooled = coil::enter((model, catalog), unit, purpose, ledger);
            if purpose == Purpose::Printing {
                readings::enter(model, unit, ledger);
            }
            Some(cooled)
        }
        Season::Winter => None,
    };
    let design = Design::of(model, season).ok()?;
    let leaving = match cooled {
        Some(cooled) => cooled.map(|cooled| {
            (
                cooled.leaving,
                figure_id(["coil.", &unit.name, ".leaving-dry-bulb"]),
            )
        }),
        None => heat::enter(model, catalog, (unit, &design), ledger)
            .map(|air| (air, figure_id(["heat.", &unit.name, ".leaving-dry-bulb"]))),
    };
    let arrivals =
        leaving.and_then(|leaving| way::enter((model, catalog), (unit, &design), leaving, ledger));
    if let Err(gap) = &arrivals {
        runs_unknown(model, unit, (season, gap), ledger);
    }
    need::enter(model, (unit, &design), &arrivals, ledger);
    load::enter((model, catalog), (unit, &design), &arrivals, ledger);
    if need::fed(model, unit).is_empty() {
        return None;
    }
    let told = Told {
        model,
        unit,
        design: &design,
        winter,
        arrivals: &arrivals,
    };
    Some(told.enter(ledger))
}

/// Every unit in summer, then in winter, then the house as a whole.
pub(in crate::systems) fn enter(
    model: &Model,
    catalog: &Catalog,
    purpose: Purpose,
    ledger: &mut Ledger,
) {
    insulation::enter(model, catalog, ledger);
    let winter = Design::of(model, Season::Winter).ok();
    for each in Season::BOTH {
        let settled: Vec<Result<Settled, Gap>> = model
            .air_handlers
            .values()
            .filter(|unit| !unit.flawed)
            .filter_map(|unit| {
                season(
                    (model, catalog, purpose),
                    unit,
                    (each, winter.as_ref()),
                    ledger,
                )
            })
            .collect();
        settle::house(each, &settled, ledger);
    }
}
