//! What flows in a loop that is solved: flow, speed and head of its pipes, coils and circulators, and the water in it.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Circulator, Model, WaterPart};
use crate::physics::water_loop::Solved;
use crate::quantity::Dimension;
use crate::source::Span;

use super::flow::Found;
use super::loops::Flows;
use super::pipe::FITTINGS;

const COIL_LOSS: &str =
    "the coil's rated loss × (flow ÷ rated flow)^1.75, with density and viscosity by Blasius";

/// A gallon of water, lb.
const GALLON: f64 = 8.34;

/// A loop with its flows, and the words that say how warm its water leaves the boiler.
struct Flowing<'a> {
    model: &'a Model,
    catalog: &'a Catalog,
    found: &'a Found<'a>,
    flows: &'a Flows,
    hot: (Span, &'static str),
}

/// Enters the figures of a loop that flows.
pub(super) fn enter(
    (model, catalog): (&Model, &Catalog),
    found: &Found<'_>,
    flows: &Flows,
    ledger: &mut Ledger,
) {
    let Ok((_, span, words)) = found.leaving else {
        return;
    };
    let flowing = Flowing {
        model,
        catalog,
        found,
        flows,
        hot: (span, words),
    };
    for (name, flow) in &flows.pipes {
        flowing.pipe(name, flow, ledger);
    }
    for (name, flow) in &flows.coils {
        flowing.coil(name, flow, ledger);
    }
    flowing.whole(ledger);
    flowing.volume(ledger);
}

impl Flowing<'_> {
    fn cite(&self, figure: Figure) -> Figure {
        let (span, words) = self.hot;
        let figure = figure.source(FITTINGS).place(span, words);
        match self.model.water.glycol_of(self.found.water) {
            Some(glycol) => figure.place(glycol.span, "glycol in the water"),
            None => figure,
        }
    }

    fn pipe(&self, name: &str, solved: &Solved, ledger: &mut Ledger) {
        let id = |what: &str| format!("water-pipe.{name}.{what}");
        let water = &self.model.water;
        let (Some(Ok(laid)), Some(pipe)) = (self.found.laid.get(name), water.pipes.get(name))
        else {
            return;
        };
        let words = || format!("water pipe {name}");
        ledger.enter(
            self.cite(
                Figure::number(id("flow"), solved.flow, Dimension::WaterFlow)
                    .formula("flow at which its loop loses what the circulator gives")
                    .place(pipe.span, words()),
            ),
        );
        let speeds = laid
            .stretches
            .iter()
            .filter_map(|s| s.velocity(solved.flow));
        let speeds: Vec<f64> = speeds.map(|v| v.value() / 60.0).collect();
        let fast = speeds.iter().copied().fold(0.0, f64::max);
        let slow = speeds.iter().copied().fold(f64::INFINITY, f64::min);
        for (what, speed, formula) in [
            (
                "velocity",
                fast,
                "flow ÷ inside area, where it is narrowest",
            ),
            (
                "velocity-least",
                slow,
                "flow ÷ inside area, where it is widest",
            ),
        ] {
            ledger.enter(
                Figure::number(id(what), speed, Dimension::WaterSpeed)
                    .formula(formula)
                    .input(id("flow"))
                    .place(pipe.span, words()),
            );
        }
        ledger.enter(self.cite(
            Figure::number(id("head"), solved.lost, Dimension::Head)
                .formula("friction of its length and of what its fittings count as, at the temperature that leaves the boiler")
                .input(id("flow"))
                .input(id("length"))
                .input(id("fittings")),
        ));
        let pumps: Vec<&Circulator> = water
            .circulators
            .values()
            .filter(|one| one.pipe.value == *name)
            .collect();
        for pump in &pumps {
            self.circulator(pump, (solved, pumps.len()), name, ledger);
        }
    }

    /// One of `among` circulators in a pipe.
    fn circulator(
        &self,
        pump: &Circulator,
        (solved, among): (&Solved, usize),
        pipe: &str,
        ledger: &mut Ledger,
    ) {
        let id = |what: &str| format!("circulator.{}.{what}", pump.name);
        let sheet = pump
            .model
            .as_ref()
            .and_then(|named| self.catalog.circulators.get(&named.value));
        let cite = |figure: Figure| {
            let mut figure = figure
                .source(FITTINGS)
                .place(pump.span, format!("circulator {}", pump.name));
            for point in sheet.iter().flat_map(|sheet| &sheet.points) {
                figure = figure.place(point.span, "point of its curve");
            }
            figure
        };
        ledger.enter(cite(
            Figure::number(id("flow"), solved.flow, Dimension::WaterFlow)
                .formula("flow where its curve meets what the loop loses")
                .input(format!("water-pipe.{pipe}.flow")),
        ));
        if among == 1 {
            ledger.enter(cite(
                Figure::number(id("head"), solved.given, Dimension::Head)
                    .formula("head of its curve at its flow, straight between its points")
                    .input(id("flow")),
            ));
        }
    }

    fn coil(&self, name: &str, solved: &Solved, ledger: &mut Ledger) {
        let Some(coil) = self.model.water.coils.get(name) else {
            return;
        };
        let id = |what: &str| format!("water-coil.{name}.{what}");
        ledger.enter(
            self.cite(
                Figure::number(id("flow"), solved.flow, Dimension::WaterFlow)
                    .formula("flow at which its loop loses what the circulator gives"),
            )
            .place(coil.span, format!("water coil {name}")),
        );
        ledger.enter(
            Figure::number(id("head"), solved.lost, Dimension::Head)
                .formula("the coil's rated loss at its flow and liquid")
                .source(COIL_LOSS)
                .input(id("flow"))
                .place(coil.span, format!("water coil {name}")),
        );
    }

    /// Flow and head of the loop as a whole.
    fn whole(&self, ledger: &mut Ledger) {
        let id = |what: &str| format!("water-loop.{}.{what}", self.found.water.name);
        let flows = self.flows;
        ledger.enter(self.cite(
            Figure::number(id("flow"), flows.whole, Dimension::WaterFlow).formula(
                "flow at which the loop loses what its circulators give, found by halving",
            ),
        ));
        let lost = flows.boiler.unwrap_or(0.0) + along(&self.found.water.parts, flows);
        let mut head = Figure::number(id("head"), lost, Dimension::Head)
            .formula("what pipes, fittings, coil and boiler lose one after the other; ways side by side count once")
            .source(FITTINGS)
            .input(id("flow"));
        for name in flows.pipes.keys() {
            head = head.input(format!("water-pipe.{name}.head"));
        }
        for name in flows.coils.keys() {
            head = head.input(format!("water-coil.{name}.head"));
        }
        ledger.enter(head);
    }

    fn volume(&self, ledger: &mut Ledger) {
        let pipes = &self.model.water.pipes;
        let mut volume = 0.0;
        let laid = self
            .flows
            .pipes
            .keys()
            .filter(|name| pipes.contains_key(*name));
        for laid in laid.filter_map(|name| self.found.laid.get(name)?.as_ref().ok()) {
            volume += laid.volume;
        }
        for name in self.flows.coils.keys() {
            let coil = self.model.water.coils.get(name);
            let sheet =
                coil.and_then(|coil| self.catalog.water_coils.get(&coil.model.as_ref()?.value));
            if let Some((full, dry)) = sheet.and_then(|s| s.weight_full.get().zip(s.weight.get())) {
                volume += (full.value() - dry.value()).max(0.0) / GALLON;
            }
        }
        let id = format!("water-loop.{}.volume", self.found.water.name);
        let mut held = Figure::number(id, volume, Dimension::Volume)
            .formula("water in its pipes and coils; that in the boiler is not counted");
        for name in self.flows.pipes.keys() {
            held = held.input(format!("water-pipe.{name}.volume"));
        }
        ledger.enter(held);
    }
}

/// Lost one after the other, ft; ways side by side count once.
fn along(parts: &[WaterPart], flows: &Flows) -> f64 {
    use WaterPart::{Coil, Fork, Pipe};
    parts
        .iter()
        .map(|part| match part {
            Pipe(name) => flows.pipes.get(name).map_or(0.0, |found| found.lost),
            Coil { name, .. } => flows.coils.get(name).map_or(0.0, |found| found.lost),
            Fork(ways) => ways.iter().map(|way| along(way, flows)).fold(0.0, f64::max),
        })
        .sum()
}
