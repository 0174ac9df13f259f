//! A heat pump in winter: the heat that its sheet gives at the temperature outdoors, on the air of the unit.

use crate::catalog::{Catalog, Heating, HeatingPoint, Stated};
use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Equipment, Model};
use crate::physics::psychrometrics::MoistAir;
use crate::quantity::{Dimension, Temperature, number_text};
use crate::systems::curve::between;

use super::design::Design;
use super::entering::Intake;
use super::gap::{Gap, known};

const SOURCE: &str = "the outdoor unit's sheet, on the straight line between its points";

/// The heat pump behind a unit.
pub(super) struct HeatPump<'m> {
    outdoor: &'m Equipment,
    sheet: &'m Heating,
}

/// The outdoor units on a unit's line sets; the job's only one goes to its only air handler.
fn outdoor<'m>(model: &'m Model, unit: &AirHandler) -> Option<&'m Equipment> {
    let all = || {
        let known = model.equipment.values();
        known.filter(|one| one.kind == "outdoor-unit" && !one.flawed)
    };
    let joined = |one: &&Equipment| {
        let sets = model.blocks("line-set");
        sets.filter_map(|set| Some([set.text("from").known()?, set.text("to").known()?]))
            .any(|ends| {
                let end = |name: &str| {
                    ends.iter()
                        .any(|end| end.value.split('.').next() == Some(name))
                };
                end(&one.name) && end(&unit.name)
            })
    };
    all().find(joined).or_else(|| {
        let alone = model.air_handlers.len() == 1 && all().count() == 1;
        all().next().filter(|_| alone)
    })
}

/// The heat pump that warms a unit's air, where the catalog says what it gives.
pub(super) fn of<'m>(
    model: &'m Model,
    catalog: &'m Catalog,
    unit: &AirHandler,
) -> Option<HeatPump<'m>> {
    let outdoor = outdoor(model, unit)?;
    let model = outdoor.model.as_ref()?;
    let sheet = catalog.outdoor_units.get(&model.value)?.heating.as_ref()?;
    Some(HeatPump { outdoor, sheet })
}

fn point_text(point: &HeatingPoint) -> String {
    format!(
        "{} Btu/h at {} F",
        number_text(point.heat.value(), 0),
        number_text(point.outdoor.value(), 1)
    )
}

/// The temperatures that a sheet reaches from and to, °F.
fn reach(points: &[Stated<HeatingPoint>]) -> Option<(f64, f64)> {
    let known = points.iter().filter_map(Stated::get);
    let outdoors = known.map(|point| point.outdoor.value());
    outdoors.fold(None, |reach, t| match reach {
        None => Some((t, t)),
        Some((low, high)) => Some((t.min(low), t.max(high))),
    })
}

impl HeatPump<'_> {
    /// Enters the heat given at the condition, and gives the air behind the coil.
    pub(super) fn enter(
        &self,
        (model, catalog): (&Model, &Catalog),
        (unit, design): (&AirHandler, &Design),
        ledger: &mut Ledger,
    ) -> Result<MoistAir, Gap> {
        let outdoor = design.outdoor.value;
        let read = between(
            &self.sheet.points,
            outdoor,
            |point| (point.outdoor.value(), point.heat.value()),
            point_text,
        );
        let Some(read) = read else {
            return Err(Gap::because(match reach(&self.sheet.points) {
                Some((low, high)) => format!(
                    "{} °F outdoors lies beyond the heating of `{}` in the catalog, which goes from {} °F to {} °F",
                    number_text(outdoor, 1),
                    self.outdoor.name,
                    number_text(low, 1),
                    number_text(high, 1)
                ),
                None => format!(
                    "the catalog does not say what heat `{}` gives",
                    self.outdoor.name
                ),
            }));
        };
        let suffix = design.season.suffix();
        let flow_id = figure_id(["air-handler.", &unit.name, ".airflow", suffix]);
        let density_id = figure_id(["air.supply-density", suffix]);
        let (flow, density) = (known(ledger, &flow_id)?, known(ledger, &density_id)?);
        let intake = Intake {
            model,
            catalog,
            unit,
            design,
            suffix,
            air: suffix,
        };
        let room = intake.enter("heat", ledger)?;
        let w = room.humidity_ratio().value();
        let dry_air = flow * 60.0 * density / (1.0 + w);
        let warmer = read.value / (dry_air * (0.240 + 0.444 * w));
        let leaving = MoistAir::from_humidity_ratio(
            Temperature::new(room.dry_bulb().value() + warmer),
            room.humidity_ratio(),
            design.pressure,
        )
        .map_err(|why| Gap::because(format!("no such air is found behind the coil: {why}")))?;
        let id = |what: &str| figure_id(["heat.", &unit.name, ".", what]);
        let [low, high] = read.points;
        let mut total = design
            .cite_outdoor(Figure::number(id("total"), read.value, Dimension::HeatFlow))
            .formula(self.words())
            .source(SOURCE)
            .place(low.0, low.1.clone());
        if high != low {
            total = total.place(high.0, high.1);
        }
        ledger.enter(total.place(
            self.outdoor.span,
            format!("outdoor unit {}", self.outdoor.name),
        ));
        ledger.enter(
            design
                .cite(Figure::number(
                    id("leaving-dry-bulb"),
                    leaving.dry_bulb().value(),
                    Dimension::Temperature,
                ))
                .formula("air entering + heat ÷ (dry air × (0.240 + 0.444 W))")
                .source("ASHRAE Handbook—Fundamentals, Psychrometrics: heat of moist air")
                .input(flow_id)
                .input(density_id)
                .input(figure_id([
                    "heat.",
                    &unit.name,
                    ".entering-dry-bulb",
                    suffix,
                ]))
                .input(id("total")),
        );
        Ok(leaving)
    }

    /// How the heat was found, with the air that the sheet is for, which is not reckoned off.
    fn words(&self) -> String {
        let air = self.sheet.airflow.get().zip(self.sheet.indoor.get());
        let sheet = air.map_or_else(String::new, |(flow, indoor)| {
            format!(
                ", for {} cfm that enters at {} °F",
                number_text(flow.value(), 0),
                number_text(indoor.value(), 1)
            )
        });
        format!(
            "heat of the sheet at the temperature outdoors{sheet}: other air changes it little and is not reckoned; electric heat beside it is not counted"
        )
    }
}
