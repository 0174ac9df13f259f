//! Enters what the solved circuit says of runs, outlets, trunk legs and returns.

use crate::figures::{Figure, Ledger, figure_id};
use crate::quantity::{Dimension, Length};

use super::enter::{Desk, SOLVED};
use super::network::{Circuit, RunPart};
use super::operating::Point;
use super::weather::{STANDARD_DENSITY, Season, density_id};

impl Desk<'_> {
    /// Runs, trunk legs and returns at the set tap.
    pub(super) fn parts(
        &self,
        circuit: &Circuit,
        point: &Point,
        season: Season,
        ledger: &mut Ledger,
    ) {
        let plenum = self.id("plenum-pressure", season.suffix());
        let whole = self.id("airflow", season.suffix());
        for RunPart { name, segment, .. } in &circuit.runs {
            let Some((flow, velocity)) = circuit.flow_in(point, *segment) else {
                continue;
            };
            let id = |what: &str| figure_id(["run.", name, ".", what, season.suffix()]);
            let mut figure = Figure::number(id("airflow"), flow.value(), Dimension::AirFlow)
                .formula("flow through the tube of the solved circuit: friction over its length and its losses use up what the plenum's pressure leaves at its take-off, less the velocity pressure of the trunk there")
                .source(SOLVED)
                .input(plenum.clone())
                .input(figure_id(["run.", name, ".length"]))
                .input(figure_id(["run.", name, ".loss-coefficient"]));
            if let Some(run) = self.model.runs.get(name) {
                if let Some(station) = &run.station {
                    figure = figure.place(station.span, "distance of the take-off along the trunk");
                }
                figure = figure.place(run.trunk.span, format!("trunk {}", run.trunk.value));
            }
            ledger.enter(figure);
            ledger.enter(
                Figure::number(id("velocity"), velocity.value(), Dimension::Velocity)
                    .formula("airflow ÷ inside area of the tube")
                    .input(id("airflow"))
                    .input(figure_id(["run.", name, ".loss-coefficient"])),
            );
        }
        if season == Season::Summer {
            self.orifices(circuit, ledger);
            reaches(circuit, point, ledger);
            faces(circuit, point, ledger);
        }
        self.legs(point, season, &whole, ledger);
        self.returns(circuit, point, season, &whole, ledger);
    }

    /// What runs with an orifice are held against.
    fn orifices(&self, circuit: &Circuit, ledger: &mut Ledger) {
        for RunPart { name, least, .. } in &circuit.runs {
            let Some((least, span)) = least else { continue };
            ledger.enter(
                Figure::number(
                    figure_id(["run.", name, ".airflow-least"]),
                    least.value(),
                    Dimension::AirFlow,
                )
                .formula("lower end of the airflow that the tube is used for")
                .source("the catalog")
                .place(*span, "airflow of the tube"),
            );
        }
        for (name, better) in &self.air.starved {
            let id = figure_id(["run.", name, ".orifice-better"]);
            let figure = match better {
                Some(better) => Figure::text(id, better.clone()),
                None => Figure::unknown(id, "not even without an orifice does it carry its least"),
            };
            ledger.enter(
                figure
                    .formula("tightest orifice of the catalog with which the circuit, solved anew, leaves the run the least of its tube")
                    .source(SOLVED)
                    .input(figure_id(["run.", name, ".airflow-least"]))
                    .input(figure_id(["run.", name, ".airflow"])),
            );
        }
    }

    fn legs(&self, point: &Point, season: Season, whole: &str, ledger: &mut Ledger) {
        for trunk in self.model.trunks.values() {
            if trunk.unit.as_ref() != Some(&self.unit.name) {
                continue;
            }
            let stretches: Vec<_> = self.air.trunk(point, &trunk.name).collect();
            for (n, leg) in trunk.legs.iter().enumerate() {
                let found = stretches
                    .iter()
                    .find(|(from, to, ..)| *from <= leg.station && leg.station < *to);
                let (flow, velocity) = found.map_or((0.0, 0.0), |(_, _, flow, velocity)| {
                    (flow.value(), velocity.value())
                });
                let id = |what: &str| {
                    format!(
                        "trunk.{}.leg-{}.{what}{}",
                        trunk.name,
                        n + 1,
                        season.suffix()
                    )
                };
                ledger.enter(
                    Figure::number(id("airflow"), flow, Dimension::AirFlow)
                        .formula("flow that enters the leg in the solved circuit")
                        .source(SOLVED)
                        .input(whole)
                        .place(leg.span, format!("leg {}", n + 1)),
                );
                let mut figure = Figure::number(id("velocity"), velocity, Dimension::Velocity)
                    .formula("airflow that enters the leg ÷ inside area of its pipe")
                    .input(id("airflow"));
                if let Some(pipe) = &leg.pipe {
                    figure = figure.place(pipe.span, pipe.value.clone());
                }
                ledger.enter(figure);
            }
        }
    }

    fn returns(
        &self,
        circuit: &Circuit,
        point: &Point,
        season: Season,
        whole: &str,
        ledger: &mut Ledger,
    ) {
        let Some(air) = self.season_air(season) else {
            return;
        };
        for (back, segment) in &circuit.returns {
            let Some((flow, _)) = circuit.flow_in(point, *segment) else {
                continue;
            };
            let id = |what: &str| figure_id(["return.", &back.name, ".", what, season.suffix()]);
            let warm = flow * (air.supply.density / air.back.density);
            let mut figure = Figure::number(id("airflow"), warm.value(), Dimension::AirFlow)
                .formula("flow to the unit's return opening, as much in weight as the blower moves, at the rooms' density")
                .source(SOLVED)
                .input(whole)
                .input(density_id(season))
                .input(figure_id(["air.return-density", season.suffix()]));
            for (span, words) in &back.rests {
                figure = figure.place(*span, words.clone());
            }
            ledger.enter(figure);
            ledger.enter(
                Figure::number(id("loss"), point.back.value(), Dimension::Pressure)
                    .formula("loss of grille and clean filter on the catalog's curves, by the square of flow beyond their ends, + friction and bends of the duct, each × density over 0.075 lb/ft³")
                    .source(SOLVED)
                    .input(id("airflow")),
            );
            if season == Season::Summer {
                ledger.enter(
                    Figure::length(id("length"), back.length)
                        .formula("length by tape, else the sum of its legs")
                        .place(back.span, format!("return {}", back.name)),
                );
            }
            if let Some(span) = back.duct {
                let fpm = back.section.velocity(warm);
                ledger.enter(
                    Figure::number(id("duct-velocity"), fpm.value(), Dimension::Velocity)
                        .formula("airflow ÷ inside area of the return duct")
                        .input(id("airflow"))
                        .place(span, "the return duct"),
                );
            }
            let ends = [
                ("grille", back.grille_end),
                ("filter", back.filter.as_ref().and_then(|filter| filter.end)),
            ];
            for (what, end) in ends {
                if let Some((end, span)) = end.filter(|_| season == Season::Summer) {
                    ledger.enter(
                        Figure::number(
                            id(&format!("{what}-airflow-most")),
                            end,
                            Dimension::AirFlow,
                        )
                        .formula(format!(
                            "flow at which the catalog's curve of the {what} ends"
                        ))
                        .source("the catalog")
                        .place(span, "last point of the curve"),
                    );
                }
            }
            if let Some(filter) = &back.filter {
                let rated = air.back.density.value() / STANDARD_DENSITY;
                let losses = [
                    (
                        "filter-loss",
                        filter.clean.at(warm.value()) * rated,
                        "loss of the clean filter on the catalog's curve at the airflow × density over 0.075 lb/ft³",
                    ),
                    (
                        "filter-change",
                        filter.change.value(),
                        "loss at which the catalog has the filter changed",
                    ),
                ];
                for (what, value, formula) in losses {
                    let mut figure = Figure::number(id(what), value, Dimension::Pressure)
                        .formula(formula)
                        .source("the catalog")
                        .input(id("airflow"));
                    for (span, words) in back
                        .rests
                        .iter()
                        .filter(|(_, words)| words.contains("filter"))
                    {
                        figure = figure.place(*span, words.clone());
                    }
                    ledger.enter(figure);
                }
            }
            let faces = [
                (
                    "face-velocity",
                    back.opening,
                    "airflow ÷ whole opening of the grille",
                ),
                (
                    "filter-velocity",
                    back.filter.as_ref().and_then(|filter| filter.face),
                    "airflow ÷ face of the filter",
                ),
            ];
            for (what, area, formula) in faces {
                if let Some(area) = area.filter(|area| area.value() > 0.0) {
                    ledger.enter(
                        Figure::number(
                            id(what),
                            warm.value() / (area.value() / 144.0),
                            Dimension::Velocity,
                        )
                        .formula(formula)
                        .input(id("airflow")),
                    );
                }
            }
        }
    }
}

/// What each run loses besides friction and the split.
pub(super) fn loss_coefficients(circuit: &Circuit, ledger: &mut Ledger) {
    for RunPart {
        name,
        segment,
        rests,
        ..
    } in &circuit.runs
    {
        let Some(link) = circuit.links.get(*segment) else {
            continue;
        };
        let mut figure = Figure::number(
            figure_id(["run.", name, ".loss-coefficient"]),
            link.fixed,
            Dimension::Count,
        )
        .formula("collar of the take-off + bends × loss of one + orifice + outlet, on the velocity in the tube; what the split at the trunk adds is apart")
        .source("the catalog");
        for (span, words) in rests {
            figure = figure.place(*span, words.clone());
        }
        ledger.enter(figure);
    }
}

/// How far each outlet's air mixes at its airflow.
fn reaches(circuit: &Circuit, point: &Point, ledger: &mut Ledger) {
    for part in &circuit.runs {
        let (Some((outlet, least, reach, span)), Some((flow, _))) =
            (&part.outlet, circuit.flow_in(point, part.segment))
        else {
            continue;
        };
        let share = (flow / *least).clamp(0.0, 1.0);
        ledger.enter(
            Figure::length(
                figure_id(["outlet.", outlet, ".reach"]),
                Length::nearest(reach.to_inches() * share),
            )
            .formula("reach that the catalog states; below the least airflow of its range × airflow ÷ that airflow, as the throw of a jet follows its velocity")
            .source("ASHRAE Handbook—Fundamentals, Space Air Diffusion: throw of a free jet")
            .input(figure_id(["run.", &part.name, ".airflow"]))
            .place(*span, "reach of the outlet"),
        );
    }
}

/// How fast the air leaves each outlet whose free area the catalog states.
fn faces(circuit: &Circuit, point: &Point, ledger: &mut Ledger) {
    for part in &circuit.runs {
        let (Some((outlet, free, span)), Some((flow, _))) =
            (&part.free, circuit.flow_in(point, part.segment))
        else {
            continue;
        };
        ledger.enter(
            Figure::number(
                figure_id(["outlet.", outlet, ".velocity"]),
                flow.value() / (free.value() / 144.0),
                Dimension::Velocity,
            )
            .formula("airflow ÷ free area of the outlet")
            .input(figure_id(["run.", &part.name, ".airflow"]))
            .place(*span, "free area of the outlet"),
        );
    }
}
