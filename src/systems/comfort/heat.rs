//! What warms the air in winter: a hot-water coil in the unit, from its rated point.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::language::Entry;
use crate::model::{AirHandler, Model};
use crate::physics::hot_water_coil::{
    Form, HeatPerDegree, Streams, coil_output, rated_conductance,
};
use crate::physics::psychrometrics::MoistAir;
use crate::physics::water::{CLOSED_LOOP, Water};
use crate::quantity::{AirFlow, Dimension, Temperature, WaterFlow};
use crate::source::Spanned;

use super::design::Design;
use super::entering::Intake;
use super::gap::{Gap, known, put};

const SOURCE: &str = "Kays and London, Compact Heat Exchangers: crossflow, both sides unmixed; conductance as rated in the catalog";
/// Heat of standard air, 60 × 0.075 × 0.24 Btu/(h·°F) for each cfm.
const STANDARD_AIR: f64 = 1.08;
/// Cubic feet an hour in one gallon a minute.
const FT3_H_PER_GPM: f64 = 231.0 / 1728.0 * 60.0;

fn coil_of<'m>(model: &'m Model, unit: &str) -> Option<&'m Entry> {
    model
        .entries
        .iter()
        .filter(|entry| entry.word.word == "water-coil")
        .find(|entry| {
            entry
                .text("unit")
                .known()
                .is_some_and(|on| on.value == unit)
        })
}

fn water_rate(water: Temperature, flow: f64) -> Result<f64, Gap> {
    let liquid = Water::at(water, CLOSED_LOOP)
        .ok_or_else(|| Gap::because("the coil's water is not liquid at 40 psia"))?;
    Ok(flow * FT3_H_PER_GPM * liquid.density.value() * liquid.specific_heat.value())
}

fn amount(entry: &Entry, word: &str, slot: &str, what: &str) -> Result<Spanned<f64>, Gap> {
    let Some(child) = entry.child(word) else {
        return Err(Gap::because(format!("{what} is not given")));
    };
    child
        .real(slot)
        .known()
        .ok_or_else(|| Gap::because(format!("{what} is not known yet")))
}

/// Enters the heat that the unit gives at winter design, and the air behind it.
pub(super) fn enter(
    model: &Model,
    catalog: &Catalog,
    (unit, design): (&AirHandler, &Design),
    ledger: &mut Ledger,
) -> Result<MoistAir, Gap> {
    let id = format!("heat.{}.total", unit.name);
    let found = of_water(model, catalog, (unit, design), ledger);
    match found {
        Ok(air) => Ok(air),
        Err(gap) => {
            put(ledger, id, Err(&gap), |figure| {
                figure
                    .formula("heat given to the air at winter design")
                    .source(SOURCE)
                    .place(unit.span, format!("air handler {}", unit.name))
            });
            Err(gap)
        }
    }
}

fn of_water(
    model: &Model,
    catalog: &Catalog,
    (unit, design): (&AirHandler, &Design),
    ledger: &mut Ledger,
) -> Result<MoistAir, Gap> {
    let Some(entry) = coil_of(model, &unit.name) else {
        return Err(Gap::because(format!(
            "nothing is stated that warms the air of `{}` with figures that the catalog gives",
            unit.name
        )));
    };
    let named = entry
        .child("model")
        .and_then(|child| child.text("model").known())
        .ok_or(Gap::Silent)?;
    let sheet = catalog.water_coils.get(&named.value).ok_or(Gap::Silent)?;
    let water = amount(
        entry,
        "water",
        "temperature",
        "the temperature of the coil's water",
    )?;
    let gpm = amount(entry, "flow", "flow", "the flow of the coil's water")?;
    if entry.child("glycol").is_some() {
        return Err(Gap::because(
            "the coil's water holds glycol, which is not reckoned with yet",
        ));
    }
    let rated = &sheet.rated;
    let all = (
        rated.output.get(),
        rated.entering_water.get(),
        rated.entering_air.get(),
        rated.airflow.get(),
        rated.flow.get(),
    );
    let (Some(output), Some(rated_water), Some(rated_air), Some(rated_flow), Some(rated_gpm)) = all
    else {
        return Err(Gap::because(format!(
            "the catalog does not rate `{}`",
            named.value
        )));
    };
    let at_rating = Streams {
        air: rated_flow,
        water: rated_gpm,
        air_rate: HeatPerDegree::new(STANDARD_AIR * rated_flow.value()),
        water_rate: HeatPerDegree::new(water_rate(rated_water, rated_gpm.value())?),
    };
    let conductance = rated_conductance(Form::Exact, output, rated_water, rated_air, &at_rating)
        .ok_or_else(|| Gap::because("the coil's rating asks for more than its flows can give"))?;
    let flow_id = format!("air-handler.{}.airflow@winter", unit.name);
    let flow = known(ledger, &flow_id)?;
    let density = known(ledger, "air.supply-density@winter")?;
    let intake = Intake {
        model,
        catalog,
        unit,
        design,
        suffix: design.season.suffix(),
        air: design.season.suffix(),
    };
    // The rooms' air, with what the return and outdoor air make of it.
    let room = intake.enter("heat", ledger)?;
    let w = room.humidity_ratio().value();
    let dry_air = flow * 60.0 * density / (1.0 + w);
    let now = Streams {
        air: AirFlow::new(dry_air / 4.5),
        water: WaterFlow::new(gpm.value),
        air_rate: HeatPerDegree::new(dry_air * (0.240 + 0.444 * w)),
        water_rate: HeatPerDegree::new(water_rate(Temperature::new(water.value), gpm.value)?),
    };
    let given = coil_output(
        Form::Exact,
        conductance,
        Temperature::new(water.value),
        room.dry_bulb(),
        &now,
    );
    let leaving =
        MoistAir::from_humidity_ratio(given.leaving_air, room.humidity_ratio(), design.pressure)
            .map_err(|why| Gap::because(format!("no such air is found behind the coil: {why}")))?;
    let id = |what: &str| format!("heat.{}.{what}", unit.name);
    let cite = |figure: Figure| {
        design
            .cite(figure)
            .source(SOURCE)
            .input(flow_id.clone())
            .input("air.supply-density@winter")
            .input(format!("heat.{}.entering-dry-bulb@winter", unit.name))
            .place(water.span, "water entering the coil")
            .place(gpm.span, "water flow of the coil")
            .place(rated.output.span, "rated output of the coil")
    };
    ledger.enter(cite(
        Figure::number(id("total"), given.capacity.value(), Dimension::HeatFlow).formula(
            "effectiveness × smaller capacity rate × (water − air entering), with the conductance of the rated point",
        ),
    ));
    ledger.enter(
        cite(
            Figure::number(
                id("leaving-dry-bulb"),
                leaving.dry_bulb().value(),
                Dimension::Temperature,
            )
            .formula("air entering + heat ÷ (dry air × (0.240 + 0.444 W))"),
        )
        .input(id("total")),
    );
    Ok(leaving)
}
