//! What warms the air in winter: a hot-water coil in the unit, from its rated point; without one, the heat pump
//! outdoors.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Model};
use crate::physics::fluid::Fluid;
use crate::physics::hot_water_coil::{
    Form, HeatPerDegree, Scaling, Streams, coil_output, conductance_with, rated_conductance,
};
use crate::physics::psychrometrics::MoistAir;
use crate::physics::water::CLOSED_LOOP;
use crate::quantity::{AirFlow, Dimension, Ratio, Temperature, WaterFlow};
use crate::systems::water::carry_rate;

use super::design::Design;
use super::entering::Intake;
use super::gap::{Gap, known, put};
use super::heat_pump;

const SOURCE: &str = "Kays and London, Compact Heat Exchangers: crossflow, both sides unmixed; the water side by Dittus and Boelter";
/// Heat of standard air, 60 × 0.075 × 0.24 Btu/(h·°F) for each cfm.
const STANDARD_AIR: f64 = 1.08;

fn water_rate(fluid: Fluid, water: f64, flow: f64) -> Result<f64, Gap> {
    carry_rate(fluid, water, flow)
        .ok_or_else(|| Gap::because("the coil's water is not liquid at 40 psia"))
}

/// Enters the heat that the unit gives at winter design, and the air behind it.
pub(super) fn enter(
    model: &Model,
    catalog: &Catalog,
    (unit, design): (&AirHandler, &Design),
    ledger: &mut Ledger,
) -> Result<MoistAir, Gap> {
    let id = figure_id(["heat.", &unit.name, ".total"]);
    let found = match (
        model.water.coil_in(&unit.name),
        heat_pump::of(model, catalog, unit),
    ) {
        (None, Some(pump)) => pump.enter((model, catalog), (unit, design), ledger),
        _ => of_water(model, catalog, (unit, design), ledger),
    };
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
    let Some(coil) = model.water.coil_in(&unit.name) else {
        return Err(Gap::because(format!(
            "nothing is stated that warms the air of `{}` with figures that the catalog gives",
            unit.name
        )));
    };
    let named = coil.model.as_ref().ok_or(Gap::Silent)?;
    let sheet = catalog.water_coils.get(&named.value).ok_or(Gap::Silent)?;
    if coil.flawed {
        return Err(Gap::Silent);
    }
    let water_id = figure_id(["water-coil.", &coil.name, ".entering-water"]);
    let gpm_id = figure_id(["water-coil.", &coil.name, ".flow"]);
    let (water, gpm) = (known(ledger, &water_id)?, known(ledger, &gpm_id)?);
    if coil.glycol_said && coil.glycol.is_none() {
        return Err(Gap::because("the share of glycol is not known yet"));
    }
    let fluid = Fluid::with_glycol(coil.glycol.map(|share| Ratio::new(share.value)))
        .ok_or_else(|| Gap::because("properties of more than 60 % glycol are not held"))?;
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
        water_rate: HeatPerDegree::new(water_rate(
            Fluid::Water,
            rated_water.value(),
            rated_gpm.value(),
        )?),
    };
    let conductance = rated_conductance(Form::Exact, output, rated_water, rated_air, &at_rating)
        .ok_or_else(|| Gap::because("the coil's rating asks for more than its flows can give"))?;
    let flow_id = figure_id(["air-handler.", &unit.name, ".airflow@winter"]);
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
        water: WaterFlow::new(gpm),
        air_rate: HeatPerDegree::new(dry_air * (0.240 + 0.444 * w)),
        water_rate: HeatPerDegree::new(water_rate(fluid, water, gpm)?),
    };
    let film = |fluid: Fluid, water: f64| {
        fluid
            .film(Temperature::new(water), CLOSED_LOOP)
            .ok_or_else(|| Gap::because("the coil's water is not liquid at 40 psia"))
    };
    let film = film(fluid, water)? / film(Fluid::Water, rated_water.value())?;
    let conductance = conductance_with(conductance, &Scaling::TYPICAL, &at_rating, &now, film);
    let given = coil_output(
        Form::Exact,
        conductance,
        Temperature::new(water),
        room.dry_bulb(),
        &now,
    );
    let leaving =
        MoistAir::from_humidity_ratio(given.leaving_air, room.humidity_ratio(), design.pressure)
            .map_err(|why| Gap::because(format!("no such air is found behind the coil: {why}")))?;
    let id = |what: &str| figure_id(["heat.", &unit.name, ".", what]);
    let cite = |figure: Figure| {
        design
            .cite(figure)
            .source(SOURCE)
            .input(flow_id.clone())
            .input("air.supply-density@winter")
            .input(figure_id([
                "heat.",
                &unit.name,
                ".entering-dry-bulb@winter",
            ]))
            .input(water_id.clone())
            .input(gpm_id.clone())
            .place(rated.output.span, "rated output of the coil")
    };
    ledger.enter(cite(
        Figure::number(id("total"), given.capacity.value(), Dimension::HeatFlow).formula(
            "effectiveness × smaller capacity rate × (water − air entering), with the conductance of the rated point scaled: three quarters of its resistance with airflow^−0.6, one quarter with water flow^−0.8 and with how the liquid takes heat (typical of finned coils, from memory)",
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
    ledger.enter(
        cite(
            Figure::number(
                figure_id(["water-coil.", &coil.name, ".leaving-water"]),
                given.leaving_water.value(),
                Dimension::Temperature,
            )
            .formula("water entering − heat ÷ what its flow carries for each degree"),
        )
        .input(id("total")),
    );
    Ok(leaving)
}
