//! What start-up reads against on a day that is no design day: what the coil takes off the air's temperature, over
//! outdoor temperature and wet bulb of the returning air.

use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Model};
use crate::physics::coil::{CapacityTable, working};
use crate::physics::psychrometrics::MoistAir;
use crate::quantity::{Dimension, MassFlow, Temperature};

use super::coil::table_of;
use super::design::{Design, Season};
use super::gap::{Gap, known, put};

const TABLE: &str = "the equipment's catalog, linear between its points; airflow by weight as standard air (AHRI 210/240)";

/// Columns that a page holds.
const MOST: usize = 7;

/// The values in order, each once.
fn steps(values: impl Iterator<Item = Temperature>) -> Vec<f64> {
    let mut steps: Vec<f64> = values.map(Temperature::value).collect();
    steps.sort_by(f64::total_cmp);
    steps.dedup_by(|a, b| a.total_cmp(b).is_eq());
    steps
}

struct Grid<'a> {
    table: CapacityTable,
    design: &'a Design,
    airflow: f64,
    density: f64,
}

impl Grid<'_> {
    /// Whole degrees of wet bulb for which the table has an answer at the rooms' temperature, few enough for a page;
    /// its own wet bulbs where it has none, so that the reason is said.
    fn held(&self, own: &[f64], outdoors: &[f64]) -> Vec<f64> {
        let (Some(least), Some(most)) = (own.first(), own.last()) else {
            return Vec::new();
        };
        let (least, most) = (libm::ceil(*least), libm::floor(*most));
        let all: Vec<f64> = (0..200)
            .map(|n| least + f64::from(n))
            .take_while(|wet| *wet <= most)
            .filter(|wet| outdoors.iter().any(|out| self.split(*out, *wet).is_ok()))
            .collect();
        if all.is_empty() {
            return own.to_vec();
        }
        let every = all.len().div_ceil(MOST);
        all.into_iter().step_by(every).collect()
    }

    /// What the coil takes off the air's temperature; why the table does not say.
    fn split(&self, outdoor: f64, wet_bulb: f64) -> Result<f64, Gap> {
        let entering = MoistAir::from_wet_bulb(
            Temperature::new(self.design.indoor.value),
            Temperature::new(wet_bulb),
            self.design.pressure,
        )
        .map_err(|_| Gap::because("no air has this wet bulb at the indoor design temperature"))?;
        let ratio = entering.humidity_ratio().value();
        let dry_air = MassFlow::new(self.airflow * 60.0 * self.density / (1.0 + ratio));
        let found = working(&self.table, &entering, dry_air, Temperature::new(outdoor))
            .map_err(|_| Gap::because("so little air moves over the coil that it would freeze"))?;
        match found.beyond.first() {
            Some(beyond) => Err(Gap::because(format!(
                "the cooling table does not hold this {}",
                beyond.variable.words()
            ))),
            None => Ok(entering.dry_bulb().value() - found.leaving.dry_bulb().value()),
        }
    }
}

fn axis(unit: &AirHandler, word: &str, values: &[f64], ledger: &mut Ledger) {
    for (n, value) in values.iter().enumerate() {
        ledger.enter(
            Figure::number(
                format!("coil.{}.split-{word}-{}", unit.name, n + 1),
                *value,
                Dimension::Temperature,
            )
            .formula("temperature for which the cooling table has entries")
            .source("the equipment's catalog")
            .place(unit.sheet.nominal.span, unit.model.value.clone()),
        );
    }
}

/// Enters the difference at the summer design, and the grid over what the cooling table holds.
pub(super) fn enter(model: &Model, unit: &AirHandler, ledger: &mut Ledger) {
    let id = |what: &str| figure_id(["coil.", &unit.name, ".", what]);
    let (entering, leaving) = (id("entering-dry-bulb"), id("leaving-dry-bulb"));
    if let (Some(before), Some(behind)) = (ledger.real(&entering), ledger.real(&leaving)) {
        ledger.enter(
            Figure::number(
                id("temperature-split"),
                before - behind,
                Dimension::TemperatureDifference,
            )
            .formula("entering − leaving dry bulb of the coil at the summer design")
            .source(TABLE)
            .input(entering)
            .input(leaving),
        );
    }
    let flow_id = figure_id(["air-handler.", &unit.name, ".airflow"]);
    let density_id = "air.supply-density";
    let (Ok(design), Ok(table), Ok(airflow), Ok(density)) = (
        Design::of(model, Season::Summer),
        table_of(unit),
        known(ledger, &flow_id),
        known(ledger, density_id),
    ) else {
        return;
    };
    let rows = unit.sheet.cooling_rows();
    let outdoors = steps(rows.iter().map(|row| row.outdoor));
    let grid = Grid {
        table,
        design: &design,
        airflow,
        density,
    };
    let wet_bulbs = grid.held(&steps(rows.iter().map(|row| row.wet_bulb)), &outdoors);
    axis(unit, "outdoor", &outdoors, ledger);
    axis(unit, "wet-bulb", &wet_bulbs, ledger);
    for (i, outdoor) in outdoors.iter().enumerate() {
        for (j, wet_bulb) in wet_bulbs.iter().enumerate() {
            let own = id(&format!("split-{}-{}", i + 1, j + 1));
            let found = grid.split(*outdoor, *wet_bulb);
            let value = found
                .as_ref()
                .map(|split| Figure::number(own.clone(), *split, Dimension::TemperatureDifference));
            put(ledger, own.clone(), value, |figure| {
                figure
                    .formula("what the coil takes off the air's temperature at this outdoor temperature and wet bulb of the returning air, the rooms at the summer design and the airflow as solved")
                    .source(TABLE)
                    .input(id(&format!("split-outdoor-{}", i + 1)))
                    .input(id(&format!("split-wet-bulb-{}", j + 1)))
                    .input(flow_id.clone())
                    .input(density_id)
                    .place(design.indoor.span, "summer indoor temperature")
            });
        }
    }
}
