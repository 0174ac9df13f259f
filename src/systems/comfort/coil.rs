//! The cooling coil at the solved airflow: capacity, leaving air, moisture, surface, and how far that is from ice.

use std::cell::Cell;

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Condition, Model};
use crate::physics::coil::{
    CapacityTable, CoilState, FreezeFlow, Regime, TablePoint, Variable, standard_airflow, working,
};
use crate::physics::psychrometrics::MoistAir;
use crate::quantity::{Dimension, MassFlow, Temperature};
use crate::source::Span;
use crate::systems::{Purpose, taps};

use super::design::{Design, Season};
use super::entering::Intake;
use super::gap::{Gap, known, put};
use super::ice;
use crate::systems::weather::season_at;

const TABLE: &str = "the equipment's catalog, linear between its points; airflow by weight as standard air (AHRI 210/240)";
const BALANCE: &str = "ASHRAE Handbook—Fundamentals, Psychrometrics";
/// What the coil does to the air, for what follows from it.
#[derive(Clone, Debug)]
pub(super) struct Cooled {
    pub(super) leaving: MoistAir,
}

/// The coil's table; why there is none.
pub(super) fn table_of(unit: &AirHandler) -> Result<CapacityTable, Gap> {
    let points: Vec<TablePoint> = unit
        .sheet
        .cooling_rows()
        .iter()
        .map(|row| TablePoint {
            airflow: row.airflow,
            outdoor: row.outdoor,
            dry_bulb: row.dry_bulb,
            wet_bulb: row.wet_bulb,
            total: row.total,
            sensible: row.sensible,
        })
        .collect();
    if points.is_empty() {
        return Err(Gap::because(format!(
            "the catalog gives no cooling table for `{}`",
            unit.model.value
        )));
    }
    CapacityTable::new(&points).map_err(|_| Gap::Silent)
}

/// The coil's table, where the catalog gives a whole one.
pub(in crate::systems) fn held_table(unit: &AirHandler) -> Option<CapacityTable> {
    table_of(unit).ok()
}

/// What one unit's taps have in common.
pub(super) struct Desk<'a> {
    pub(super) unit: &'a AirHandler,
    pub(super) design: &'a Design,
    pub(super) suffix: &'a str,
    /// What the ids of its airflow end in.
    pub(super) air: &'a str,
    pub(super) table: &'a CapacityTable,
    pub(super) frost: &'a Frost,
}

/// The flow at which ice begins hangs on the air that enters, not on the tap: the last one found, with its air.
#[derive(Default)]
pub(super) struct Frost(Cell<Option<(MoistAir, FreezeFlow)>>);

impl Frost {
    pub(super) fn at(&self, entering: &MoistAir, find: impl FnOnce() -> FreezeFlow) -> FreezeFlow {
        match self.0.get() {
            Some((known, flow)) if known == *entering => flow,
            _ => {
                let flow = find();
                self.0.set(Some((*entering, flow)));
                flow
            }
        }
    }
}

impl Desk<'_> {
    pub(super) fn id(&self, what: &str) -> String {
        figure_id(["coil.", &self.unit.name, ".", what, self.suffix])
    }

    pub(super) fn air(&self, what: &str) -> String {
        figure_id(["air-handler.", &self.unit.name, ".", what, self.air])
    }

    /// The blocks of the table around an airflow and an outdoor temperature.
    pub(super) fn blocks(&self, airflow: f64, outdoor: f64) -> Vec<(Span, String)> {
        let around = |values: Vec<f64>, x: f64| {
            let under = values
                .iter()
                .copied()
                .filter(|v| *v <= x)
                .fold(f64::NAN, f64::max);
            let over = values
                .iter()
                .copied()
                .filter(|v| *v >= x)
                .fold(f64::NAN, f64::min);
            let first = values.iter().copied().fold(f64::NAN, f64::min);
            let last = values.iter().copied().fold(f64::NAN, f64::max);
            (
                if under.is_nan() { first } else { under },
                if over.is_nan() { last } else { over },
            )
        };
        let table = &self.unit.sheet.cooling;
        let flows = around(
            table
                .iter()
                .filter_map(|b| Some(b.airflow.get()?.value()))
                .collect(),
            airflow,
        );
        let outdoors = around(
            table
                .iter()
                .filter_map(|b| Some(b.outdoor.get()?.value()))
                .collect(),
            outdoor,
        );
        let is = |(a, b): (f64, f64), x: f64| x.total_cmp(&a).is_eq() || x.total_cmp(&b).is_eq();
        table
            .iter()
            .filter_map(|block| {
                let (flow, out) = (block.airflow.get()?.value(), block.outdoor.get()?.value());
                (is(flows, flow) && is(outdoors, out)).then(|| {
                    (
                        block.airflow.span,
                        format!("cooling table at {flow} cfm and {out} °F outdoors"),
                    )
                })
            })
            .collect()
    }

    fn numbers(&self, found: &CoilState, dry_air: MassFlow, ledger: &mut Ledger) {
        let standard = standard_airflow(dry_air).value();
        ledger.enter(
            Figure::number(self.id("standard-airflow"), standard, Dimension::AirFlow)
                .formula("airflow × density × 60 less its moisture, ÷ 4.5 lb/h of dry air in one cfm of standard air")
                .source(TABLE)
                .input(self.air("airflow"))
                .input("air.supply-density")
                .input(self.id("entering-wet-bulb")),
        );
        let regime = match found.regime {
            Regime::Wet => "the coil is wet",
            Regime::Dry => {
                "the coil stays dry: total is sensible, at the wet bulb at which the table's two are one"
            }
            Regime::Carried => {
                "the airflow lies outside the table: its edge gives the total, the share of air that passes untouched is b^(m₀/m)"
            }
            Regime::Saturated => {
                "the table asks for more than air can be: it leaves saturated at its heat content"
            }
        };
        let table = |figure: Figure| {
            let mut figure = self
                .design
                .cite_outdoor(figure)
                .source(TABLE)
                .input(self.id("standard-airflow"))
                .input(self.id("entering-dry-bulb"))
                .input(self.id("entering-wet-bulb"));
            for (span, words) in self.blocks(standard, self.design.outdoor.value) {
                figure = figure.place(span, words);
            }
            figure
        };
        for (what, heat, words) in [
            ("total", found.total, "total"),
            ("sensible", found.sensible, "sensible"),
        ] {
            ledger.enter(table(
                Figure::number(self.id(what), heat.value(), Dimension::HeatFlow).formula(format!(
                    "{words} capacity in the table at standard airflow, outdoor temperature, entering dry and wet bulb; {regime}"
                )),
            ));
        }
        ledger.enter(
            Figure::number(
                self.id("latent"),
                found.latent().value(),
                Dimension::HeatFlow,
            )
            .formula("total less sensible capacity")
            .source(TABLE)
            .input(self.id("total"))
            .input(self.id("sensible")),
        );
        let balance = |figure: Figure| {
            figure
                .source(BALANCE)
                .input(self.id("total"))
                .input(self.id("sensible"))
                .input(self.id("standard-airflow"))
                .input(self.id("entering-dry-bulb"))
                .input(self.id("entering-wet-bulb"))
        };
        for (what, value, words) in [
            (
                "leaving-dry-bulb",
                found.leaving.dry_bulb(),
                "entering dry bulb − sensible ÷ (dry air × (0.240 + 0.444 W)), with W behind the coil; the blower's own heat counts with the table",
            ),
            (
                "leaving-wet-bulb",
                found.leaving.wet_bulb(),
                "wet bulb of the leaving dry bulb and of W less latent ÷ (dry air × (1061 + 0.444 t))",
            ),
        ] {
            ledger.enter(balance(
                Figure::number(self.id(what), value.value(), Dimension::Temperature).formula(words),
            ));
        }
        ledger.enter(balance(
            Figure::number(
                self.id("moisture"),
                found.moisture.value(),
                Dimension::MassFlow,
            )
            .formula("dry air × (W entering − W leaving)"),
        ));
        for beyond in &found.beyond {
            let (word, dimension, from) = match beyond.variable {
                Variable::Airflow => ("airflow", Dimension::AirFlow, self.id("standard-airflow")),
                Variable::Outdoor => ("outdoor", Dimension::Temperature, String::new()),
                Variable::DryBulb => (
                    "dry-bulb",
                    Dimension::Temperature,
                    self.id("entering-dry-bulb"),
                ),
                Variable::WetBulb => (
                    "wet-bulb",
                    Dimension::Temperature,
                    self.id("entering-wet-bulb"),
                ),
            };
            let asked =
                Figure::number(self.id(&format!("beyond-{word}")), beyond.wanted, dimension)
                    .formula(format!(
                        "{} that the table is asked for and does not hold",
                        beyond.variable.words()
                    ))
                    .source("the equipment's catalog");
            ledger.enter(if from.is_empty() {
                self.design.cite_outdoor(asked)
            } else {
                asked.input(from)
            });
            let mut edge = Figure::number(self.id(&format!("edge-{word}")), beyond.edge, dimension)
                .formula(format!(
                    "end of the table's {} that is held instead: nothing is extrapolated",
                    beyond.variable.words()
                ))
                .source("the equipment's catalog");
            for (span, words) in self.blocks(standard, self.design.outdoor.value) {
                edge = edge.place(span, words);
            }
            ledger.enter(edge);
        }
    }
}

/// Enters the coil's figures at one operating point.
fn at(
    (model, catalog): (&Model, &Catalog),
    desk: &Desk<'_>,
    tap: Option<&str>,
    ledger: &mut Ledger,
) -> Result<Cooled, Gap> {
    let flow = known(ledger, &desk.air("airflow"))?;
    let density = known(ledger, "air.supply-density")?;
    let intake = Intake {
        model,
        catalog,
        unit: desk.unit,
        design: desk.design,
        suffix: desk.suffix,
        air: desk.air,
    };
    let entering = intake.enter("coil", ledger)?;
    let dry_air = MassFlow::new(flow * 60.0 * density / (1.0 + entering.humidity_ratio().value()));
    if dry_air.value() <= 0.0 {
        return Err(Gap::because("no air moves over the coil"));
    }
    let outdoor = Temperature::new(desk.design.outdoor.value);
    let found = working(desk.table, &entering, dry_air, outdoor).map_err(|_| {
        Gap::because(
            "so little air moves over the coil that the table's heat would freeze all of it",
        )
    })?;
    desk.numbers(&found, dry_air, ledger);
    ice::enter(desk, (&found, &entering), tap, ledger);
    Ok(Cooled {
        leaving: found.leaving,
    })
}

/// Enters the coil at the set tap and at every tap of the blower, in summer.
pub(super) fn enter(
    (model, catalog): (&Model, &Catalog),
    unit: &AirHandler,
    purpose: Purpose,
    ledger: &mut Ledger,
) -> Result<Cooled, Gap> {
    let design = Design::of(model, Season::Summer);
    let none = |gap: &Gap, ledger: &mut Ledger| {
        for what in ["total", "sensible", "surface-temperature", "freeze-margin"] {
            let id = figure_id(["coil.", &unit.name, ".", what]);
            put(ledger, id, Err(gap), |figure| {
                figure
                    .formula("from the coil's table at the solved airflow")
                    .source(TABLE)
                    .place(unit.span, format!("air handler {}", unit.name))
            });
        }
    };
    let design = match design {
        Ok(design) => design,
        Err(gap) => {
            none(&gap, ledger);
            return Err(gap);
        }
    };
    let table = match table_of(unit) {
        Ok(table) => table,
        Err(gap) => {
            none(&gap, ledger);
            return Err(gap);
        }
    };
    let set = unit.tap.as_ref().map(|tap| tap.value.as_str());
    let whole = Desk {
        unit,
        design: &design,
        suffix: "",
        air: "",
        table: &table,
        frost: &Frost::default(),
    };
    let cooled = at((model, catalog), &whole, set, ledger);
    if let Err(gap) = &cooled {
        none(gap, ledger);
    }
    for tap in taps::wanted(unit, purpose) {
        let suffix = format!("@summer.tap{tap}");
        let desk = Desk {
            suffix: &suffix,
            air: &suffix,
            ..whole
        };
        // A tap that has no operating point has no coil either; the airflow says why.
        let _ = at((model, catalog), &desk, Some(tap), ledger);
    }
    for zone in model.entries.iter().filter(|e| e.word.word == "zone") {
        let Some(name) = zone.text("name").known() else {
            continue;
        };
        let suffix = format!("@zone-{}", name.value);
        let desk = Desk {
            suffix: &suffix,
            air: &suffix,
            ..whole
        };
        let _ = at((model, catalog), &desk, set, ledger);
    }
    conditions(model, catalog, (&whole, set), ledger);
    cooled
}

/// The coil at the further conditions for which the house as a whole asks no cooling, should it cool all the same:
/// with the airflow of the set tap at summer design.
fn conditions(
    model: &Model,
    catalog: &Catalog,
    (whole, set): (&Desk<'_>, Option<&str>),
    ledger: &mut Ledger,
) {
    let own = |condition: &&Condition| !matches!(condition.name.as_str(), "summer" | "winter");
    for condition in model.job.conditions.iter().filter(own) {
        if season_at(model, condition) == Some(Season::Summer) {
            continue;
        }
        let Ok(design) = Design::at(model, condition, Season::Summer) else {
            continue;
        };
        let suffix = format!("@{}", condition.name);
        let desk = Desk {
            design: &design,
            suffix: &suffix,
            frost: &Frost::default(),
            ..*whole
        };
        let _ = at((model, catalog), &desk, set, ledger);
    }
}
