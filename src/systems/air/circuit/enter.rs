//! Enters what the solved circuits give: airflow, pressures and velocities, with what each rests on.

use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, Model};
use crate::quantity::Dimension;
use crate::systems::curve::read_off;
use crate::systems::water::WARMED;

use super::back::Dirt;
use super::gap::Gap;
use super::network::{Circuit, RunPart};
use super::operating::{Point, UnitAir};
use super::parts::loss_coefficients;
use super::suction;
use super::weather::{self, Season, SeasonAir, density_id, season_air};

/// Whose equations the network stands on.
pub(super) const SOLVED: &str = "Darcy–Weisbach with Colebrook's friction; tees and take-offs by Crane TP-410 (2009), other fittings by the catalog, else Rennels and Hudson, Pipe Flow (2012); blower by the fan laws";

/// Enters the figures of all units.
pub(in crate::systems::air) fn enter(model: &Model, units: &[UnitAir], ledger: &mut Ledger) {
    let seasons = [Season::Summer, Season::Winter];
    let warmed = ledger.real(WARMED);
    let airs = seasons.map(|season| season_air(model, season, warmed));
    for (season, air) in seasons.into_iter().zip(&airs) {
        weather::enter(model, season, air.as_ref(), ledger);
    }
    for air in units {
        let Some(unit) = model.air_handlers.get(&air.unit) else {
            continue;
        };
        let desk = Desk {
            model,
            unit,
            air,
            airs: &airs,
        };
        desk.unit(ledger);
    }
}

pub(super) struct Desk<'a> {
    pub(super) model: &'a Model,
    pub(super) unit: &'a AirHandler,
    pub(super) air: &'a UnitAir,
    airs: &'a [Option<SeasonAir>; 2],
}

impl Desk<'_> {
    pub(super) fn id(&self, what: &str, suffix: &str) -> String {
        figure_id(["air-handler.", &self.unit.name, ".", what, suffix])
    }

    pub(super) fn season_air(&self, season: Season) -> Option<&SeasonAir> {
        let [summer, winter] = self.airs;
        match season {
            Season::Summer => summer.as_ref(),
            Season::Winter => winter.as_ref(),
        }
    }

    fn unit(&self, ledger: &mut Ledger) {
        let circuit = match &self.air.circuit {
            Ok(circuit) => circuit,
            Err(gap) => {
                for season in [Season::Summer, Season::Winter] {
                    self.none("airflow", season.suffix(), gap, ledger);
                }
                self.fault(gap, ledger);
                self.runs_unknown(gap, ledger);
                return;
            }
        };
        loss_coefficients(circuit, ledger);
        for tap in self.unit.sheet.blower.taps.keys() {
            let suffix = format!("@summer.tap{tap}");
            self.point(circuit, (tap, Season::Summer, Dirt::Clean), &suffix, ledger);
        }
        self.kept(circuit, ledger);
        let Some(set) = &self.unit.tap else {
            let gap = if self.model.is_open(self.unit.span, "tap") {
                Gap::Unknown("the tap is not known yet".to_owned(), self.unit.span)
            } else {
                Gap::Unknown("no tap is set".to_owned(), self.unit.span)
            };
            for season in [Season::Summer, Season::Winter] {
                self.none("airflow", season.suffix(), &gap, ledger);
            }
            self.runs_unknown(&gap, ledger);
            return;
        };
        for season in [Season::Summer, Season::Winter] {
            self.point(
                circuit,
                (&set.value, season, Dirt::Clean),
                season.suffix(),
                ledger,
            );
            match self.air.answer(&set.value, season, Dirt::Clean) {
                Some(Ok(point)) => self.parts(circuit, point, season, ledger),
                Some(Err(gap)) if season == Season::Summer => {
                    self.fault(gap, ledger);
                    self.runs_unknown(gap, ledger);
                }
                _ => {}
            }
        }
        self.zones(ledger);
        self.point(
            circuit,
            (&set.value, Season::Summer, Dirt::AtChange),
            "-dirty",
            ledger,
        );
    }

    /// At each tap, the part of its airflow at the set tap that the run keeps which loses most.
    fn kept(&self, circuit: &Circuit, ledger: &mut Ledger) {
        let at = |tap: &str| match self.air.answer(tap, Season::Summer, Dirt::Clean) {
            Some(Ok(point)) => Some(point),
            _ => None,
        };
        let Some((set, own)) = self
            .unit
            .tap
            .as_ref()
            .and_then(|set| Some((&set.value, at(&set.value)?)))
        else {
            return;
        };
        for tap in self.unit.sheet.blower.taps.keys().filter(|tap| *tap != set) {
            let Some(point) = at(tap) else { continue };
            let least = circuit
                .runs
                .iter()
                .filter_map(|run| {
                    let (before, after) =
                        (own.flows.get(run.segment)?, point.flows.get(run.segment)?);
                    Some(100.0 * after.value() / before.value())
                })
                .fold(f64::INFINITY, f64::min);
            if least.is_finite() {
                ledger.enter(
                    Figure::number(
                        self.id("airflow-kept", &format!("@summer.tap{tap}")),
                        least,
                        Dimension::Ratio,
                    )
                    .formula(
                        "airflow of a run at this tap ÷ that at the set tap, least of all runs",
                    )
                    .source(SOLVED)
                    .input(self.id("airflow", &format!("@summer.tap{tap}")))
                    .input(self.id("airflow", "")),
                );
            }
        }
    }

    /// Enters that a figure is not known.
    pub(super) fn none(&self, what: &str, suffix: &str, gap: &Gap, ledger: &mut Ledger) {
        let (Gap::Unknown(reason, span) | Gap::Fault(reason, span, _)) = gap else {
            return;
        };
        ledger.enter(
            Figure::unknown(self.id(what, suffix), reason.clone())
                .formula("flow at which blower and ducts meet")
                .source(SOLVED)
                .place(*span, reason.clone()),
        );
    }

    /// Enters what keeps the circuit from having a solution, for the rule that reports it.
    fn fault(&self, gap: &Gap, ledger: &mut Ledger) {
        if let Gap::Fault(reason, span, flows) = gap {
            let flows = flows.map(|(flow, end)| [("air-fault-flow", flow), ("air-fault-end", end)]);
            for (what, flow) in flows.into_iter().flatten() {
                let formula = if what == "air-fault-flow" {
                    "flow that the system takes on the curve drawn on beyond its end"
                } else {
                    "flow at the end of the curve"
                };
                ledger.enter(
                    Figure::number(self.id(what, ""), flow.value(), Dimension::AirFlow)
                        .formula(formula)
                        .source(SOLVED)
                        .place(*span, "the part that is to blame"),
                );
            }
            ledger.enter(
                Figure::text(self.id("air-fault", ""), reason.clone())
                    .formula("what keeps blower and ducts from a solution")
                    .source(SOLVED)
                    .place(*span, "the part that is to blame"),
            );
        }
    }

    fn runs_unknown(&self, gap: &Gap, ledger: &mut Ledger) {
        let (Gap::Unknown(reason, span) | Gap::Fault(reason, span, _)) = gap else {
            return;
        };
        for run in self.model.runs.values() {
            let unit = self.model.unit_of(&run.trunk.value);
            if unit.is_some_and(|unit| unit.name == self.unit.name) {
                ledger.enter(
                    Figure::unknown(figure_id(["run.", &run.name, ".airflow"]), reason.clone())
                        .formula("flow of the solved circuit")
                        .source(SOLVED)
                        .place(*span, reason.clone()),
                );
            }
        }
    }

    /// One operating point: the unit's own figures.
    fn point(
        &self,
        circuit: &Circuit,
        (tap, season, dirt): (&str, Season, Dirt),
        suffix: &str,
        ledger: &mut Ledger,
    ) {
        let Some(answer) = self.air.answer(tap, season, dirt) else {
            return;
        };
        let point = match answer {
            Ok(point) => point,
            Err(gap) => {
                let what = match dirt {
                    Dirt::Clean => "airflow",
                    Dirt::AtChange => "cabinet-suction",
                };
                self.none(what, suffix, gap, ledger);
                return;
            }
        };
        let Some(air) = self.season_air(season) else {
            return;
        };
        let flow_id = self.id("airflow", suffix);
        let density = density_id(season);
        ledger.enter(self.airflow(circuit, (tap, season, dirt), point, flow_id.clone()));
        let curves = &self.unit.sheet.suction;
        let (filter, curve) = match dirt {
            Dirt::Clean => ("clean", curves.clean.as_ref()),
            Dirt::AtChange => ("dirty", curves.dirty.as_ref()),
        };
        suction::enter(
            self.unit,
            (self.id("cabinet-suction", suffix), &flow_id, &density),
            (filter, curve),
            (point, air.rated()),
            ledger,
        );
        if dirt == Dirt::AtChange {
            let more = circuit
                .returns
                .iter()
                .filter_map(|(back, at)| {
                    let (flow, _) = circuit.flow_in(point, *at)?;
                    let warm = flow * (air.supply.density / air.back.density);
                    Some((back.more_when_dirty(warm, air)?, back))
                })
                .max_by(|a, b| a.0.value().total_cmp(&b.0.value()));
            if let Some((more, back)) = more {
                suction::enter_dirty_return(
                    self.unit,
                    &self.id("cabinet-suction", suffix),
                    &flow_id,
                    (point, air.rated()),
                    (more, &back.rests),
                    ledger,
                );
            }
            return;
        }
        let put = |what: &str, value: f64, dimension: Dimension, formula: &str, inputs: &[&str]| {
            let mut figure = Figure::number(self.id(what, suffix), value, dimension)
                .formula(formula)
                .source(SOLVED);
            for input in inputs {
                figure = figure.input(*input);
            }
            figure
        };
        let external = point.plenum + point.back;
        let plenum_id = self.id("plenum-pressure", suffix);
        ledger.enter(put(
            "plenum-pressure",
            point.plenum.value(),
            Dimension::Pressure,
            "pressure at the supply opening above the rooms', at the solved airflow: what adapter, trunk, take-off, tube and outlet of every run use up; velocity pressure in the opening is not counted on",
            &[&flow_id],
        ));
        let mut external_figure = put(
            "external-static",
            external.value(),
            Dimension::Pressure,
            "plenum pressure + what grille, filter and duct of the return use up at the solved airflow",
            &[&plenum_id],
        );
        for (back, _) in &circuit.returns {
            external_figure = external_figure.input(figure_id(["return.", &back.name, ".loss"]));
        }
        if circuit.returns.is_empty() {
            external_figure = external_figure
                .standard("no return is drawn: the unit draws from the space around it");
        }
        ledger.enter(external_figure);
        ledger.enter(put(
            "residual",
            point.residual,
            Dimension::Count,
            "largest pressure that any part of the solved circuit leaves open ÷ largest pressure in it",
            &[&flow_id],
        ));
        self.power(tap, air, &self.id("blower-power", suffix), &density, ledger);
        if let Some(tons) = self.unit.sheet.tons().filter(|tons| *tons > 0.0) {
            ledger.enter(
                put(
                    "airflow-per-ton",
                    point.airflow.value() / tons,
                    Dimension::AirFlow,
                    "airflow ÷ nominal tons",
                    &[&flow_id],
                )
                .place(self.unit.sheet.nominal.span, "nominal"),
            );
        }
    }

    fn power(&self, tap: &str, air: &SeasonAir, id: &str, density: &str, ledger: &mut Ledger) {
        let Some(sheet) = self.unit.sheet.blower.taps.get(tap) else {
            return;
        };
        let formula = "power of the tap × density over 0.075 lb/ft³";
        let figure = match sheet.watts.get() {
            Some(watts) => Figure::number(id, watts.value() * air.rated(), Dimension::Power),
            None => Figure::unknown(id, sheet.watts.reason().unwrap_or("not given")),
        };
        ledger.enter(
            figure
                .formula(formula)
                .source("the equipment's catalog; fan laws")
                .place(sheet.watts.span, format!("watts of tap {tap}"))
                .input(density),
        );
    }

    fn airflow(
        &self,
        circuit: &Circuit,
        (tap, season, dirt): (&str, Season, Dirt),
        point: &Point,
        id: String,
    ) -> Figure {
        let formula = match dirt {
            Dirt::Clean => {
                "flow at which the tap's pressure, by the fan laws in this air, is what return, adapter, trunk, take-offs, tubes and outlets use up: all flows solved together"
            }
            Dirt::AtChange => "the same with the filter at the loss at which it is changed",
        };
        let mut figure = Figure::number(id, point.airflow.value(), Dimension::AirFlow)
            .formula(formula)
            .source(SOLVED);
        if let Some(set) = self.unit.tap.as_ref().filter(|set| set.value == tap) {
            figure = figure.place(set.span, format!("tap {tap}"));
        }
        figure = self.tap_points(tap, point, figure);
        figure = figure.input(density_id(season));
        let mut trunks: Vec<&str> = circuit
            .trunk_segments
            .iter()
            .map(|(name, ..)| name.as_str())
            .collect();
        trunks.dedup();
        for trunk in trunks {
            figure = figure.input(figure_id(["trunk.", trunk, ".length"]));
        }
        for (span, words) in &circuit.trunk_rests {
            figure = figure.place(*span, words.clone());
        }
        for (back, _) in &circuit.returns {
            for (span, words) in &back.rests {
                figure = figure.place(*span, words.clone());
            }
        }
        if let (Dirt::AtChange, Some((_, span))) = (dirt, &self.air.own_filter) {
            figure = figure.place(*span, "loss at which the unit's filter is changed");
        }
        for RunPart { name, .. } in &circuit.runs {
            if let Some(run) = self.model.runs.get(name) {
                figure = figure.place(run.span, format!("run {name}"));
            }
        }
        figure
    }

    /// The points of the tap's curve that the operating point lies between, or what its motor holds.
    fn tap_points(&self, tap: &str, point: &Point, mut figure: Figure) -> Figure {
        let Some(sheet) = self.unit.sheet.blower.taps.get(tap) else {
            return figure;
        };
        let read = sheet.points.as_ref().and_then(|points| {
            read_off(points, point.airflow.value(), |p| {
                (p.flow.value(), p.pressure.value())
            })
        });
        match read {
            Some(read) => {
                for (span, words) in read.points {
                    figure = figure.place(span, words);
                }
            }
            None => {
                for (span, words) in &point.rests {
                    figure = figure.place(*span, words.clone());
                }
            }
        }
        figure
    }
}
