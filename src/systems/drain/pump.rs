//! A condensate pump: what comes to it, what it moves through its tube, how often it runs, and what its tank takes.

use crate::catalog::{Catalog, Pump as Sheet, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::{Drain, Model, Pump};
use crate::physics::pipe_flow::pipe_flow;
use crate::physics::pump::{CurvePoint, Running, cycles_an_hour, running};
use crate::physics::water::{ATMOSPHERE, Water};
use crate::quantity::{Dimension, Head, Length, Pressure, Temperature, WaterFlow};

use super::space::outside;

/// Temperature of condensate, °F: near the coil's surface (common practice).
const COLD_WATER: Temperature = Temperature::new(55.0);
/// Roughness of smooth plastic tube, 5×10⁻⁶ ft (handbooks, from memory).
const SMOOTH: f64 = 6e-5;
/// Loss of entrance and exit, of a right-angle bend, and of a small check valve, in velocity heads (handbooks, from
/// memory).
const ENDS: f64 = 1.5;
const BEND: f64 = 0.9;
const CHECK_VALVE: f64 = 12.0;
/// Share of the tank pumped out each time, where the catalog does not say: common practice.
const USUAL_CYCLE: f64 = 0.5;

const DARCY: &str =
    "Darcy–Weisbach with Colebrook's factor; losses of fittings from handbooks (from memory)";

/// The drains that end in a pump.
fn drains<'a>(model: &'a Model, pump: &'a Pump) -> impl Iterator<Item = &'a Drain> {
    model.drains.values().filter(|drain| {
        let to = drain.ending.as_ref().map(|ending| &ending.to.value);
        to == Some(&pump.name)
    })
}

/// A volume that the catalog may state.
fn volume(stated: Option<&Stated<crate::quantity::Volume>>) -> Option<f64> {
    Some(stated?.get()?.value())
}

struct Tube {
    inside: Length,
    length: Length,
    lift: Length,
    losses: f64,
    water: Water,
}

impl Tube {
    fn of(catalog: &Catalog, pump: &Pump, checked: bool) -> Result<Self, String> {
        let pipe = pump.pipe.as_ref().ok_or("its tube is not named")?;
        let sheet = catalog
            .pipes
            .get(&pipe.value)
            .ok_or_else(|| format!("no catalog of the job holds a pipe `{}`", pipe.value))?;
        let inside = sheet
            .inside
            .get()
            .ok_or("the catalog does not give the tube's bore")?;
        let lift = pump.lift.ok_or("its lift is not given")?.value;
        let length = pump
            .measured
            .ok_or("the length of its tube is not given")?
            .value;
        if length < lift {
            return Err("its tube is shorter than its lift".to_owned());
        }
        let bends = pump.bends.map_or(0.0, |bends| bends.value);
        Ok(Self {
            inside,
            length,
            lift,
            losses: ENDS + BEND * bends + if checked { CHECK_VALVE } else { 0.0 },
            water: Water::at(COLD_WATER, ATMOSPHERE).ok_or("no water")?,
        })
    }

    fn asked(&self, flow: WaterFlow) -> Head {
        let lift = Head::new(self.lift.to_inches());
        match pipe_flow(self.inside, Length::nearest(SMOOTH), &self.water, flow) {
            Some(found) => lift + found.friction(self.length) + found.velocity_head * self.losses,
            None => lift,
        }
    }

    /// Height of this water for a pressure.
    fn height(&self, pressure: Pressure) -> Head {
        Head::new(pressure.psi() * 144.0 / self.water.density.value() * 12.0)
    }

    fn gallons(&self) -> f64 {
        let radius = self.inside.to_inches() / 2.0;
        std::f64::consts::PI * radius * radius * self.length.to_inches() / 231.0
    }
}

struct Desk<'a> {
    pump: &'a Pump,
    sheet: &'a Sheet,
}

impl Desk<'_> {
    fn id(&self, what: &str) -> String {
        format!("pump.{}.{what}", self.pump.name)
    }

    /// Flow and head where curve and tube meet.
    fn operating(&self, tube: &Result<Tube, String>, ledger: &mut Ledger) -> Option<f64> {
        let whole = |figure: Figure| {
            let mut figure = figure.source(DARCY).place(self.sheet.span, "pump's curve");
            for (span, words) in [
                self.pump.lift.map(|lift| (lift.span, "lift")),
                self.pump.measured.map(|length| (length.span, "measured")),
                self.pump.pipe.as_ref().map(|pipe| (pipe.span, "pipe")),
            ]
            .into_iter()
            .flatten()
            {
                figure = figure.place(span, words);
            }
            figure
        };
        let words = "water it moves in an hour, where its curve gives what lift and friction of its tube ask";
        let unknown =
            |reason: &str| whole(Figure::unknown(self.id("moves-hour"), reason).formula(words));
        let tube = match tube {
            Ok(tube) => tube,
            Err(reason) => {
                ledger.enter(unknown(reason));
                return None;
            }
        };
        let curve: Vec<CurvePoint> = self
            .sheet
            .points
            .iter()
            .filter_map(|point| {
                let point = point.get()?;
                Some(CurvePoint {
                    flow: point.flow,
                    head: tube.height(point.pressure),
                })
            })
            .collect();
        if let Some(last) = curve.last() {
            ledger.enter(
                Figure::length(
                    self.id("head-most"),
                    Length::nearest(last.head.value()).round_down_to(Length::sixteenths(1)),
                )
                .formula("highest head that its curve holds, as a height of its water")
                .place(self.sheet.span, "pump's curve"),
            );
        }
        let Some(found) = running(&curve, |flow| tube.asked(flow)) else {
            ledger.enter(unknown("the catalog gives no whole curve of the pump"));
            return None;
        };
        let (flow, head, more) = match found {
            Running::At(point) => (point.flow.value(), point.head, ""),
            Running::Beyond(point) => (
                point.flow.value(),
                tube.asked(point.flow),
                "; the last point of its curve: it moves at least this much",
            ),
            Running::Stalled => {
                let least = curve.last().map_or(WaterFlow::new(0.0), |point| point.flow);
                (
                    0.0,
                    tube.asked(least),
                    "; the tube asks for more head than its curve holds",
                )
            }
        };
        ledger.enter(whole(
            Figure::number(self.id("moves-hour"), flow * 60.0, Dimension::Volume)
                .formula(format!("{words}{more}")),
        ));
        ledger.enter(whole(
            Figure::length(self.id("head"), Length::nearest(head.value()).round_up_to(Length::sixteenths(1))).formula(
                "lift + friction of the tube + losses of its ends, bends and check valve at that flow",
            ),
        ));
        Some(flow * 60.0)
    }

    fn tank(&self, ledger: &mut Ledger) -> Option<f64> {
        let (value, words) = match volume(self.sheet.cycle.as_ref()) {
            Some(cycle) => (cycle, "pumped out each time it runs, as the catalog states"),
            None => (
                self.sheet.tank.get()?.value() * USUAL_CYCLE,
                "pumped out each time it runs: half of its tank where the catalog does not say (common practice)",
            ),
        };
        let span = self
            .sheet
            .cycle
            .as_ref()
            .map_or(self.sheet.tank.span, |cycle| cycle.span);
        ledger.enter(
            Figure::number(self.id("cycle"), value, Dimension::Volume)
                .formula(words)
                .place(span, "tank"),
        );
        Some(value)
    }
}

impl Desk<'_> {
    /// How far a drain's end lies from the pump's middle on plan, and how far its tank reaches either way.
    fn beside(&self, drain: &Drain, ledger: &mut Ledger) {
        let (Some(end), Some(middle), Some(size)) = (
            drain.legs.last().map(|leg| leg.end),
            self.pump.point,
            self.sheet.size.get(),
        ) else {
            return;
        };
        let id = |what: &str| format!("drain.{}.{what}", drain.name);
        ledger.enter(
            Figure::length(id("pump-apart"), end.plan_distance(middle))
                .formula("on plan, from the drain's end to the middle of its pump")
                .place(drain.span, format!("drain {}", drain.name))
                .place(self.pump.span, format!("pump {}", self.pump.name)),
        );
        ledger.enter(
            Figure::length(id("pump-half"), size.length.max(size.width).half())
                .formula("half of the pump's longer side")
                .place(self.sheet.size.span, "size"),
        );
    }
}

/// Enters how cold the space around a pump gets, where it stands outside the conditioned rooms.
fn winter(model: &Model, pump: &Pump, ledger: &mut Ledger) {
    let around = pump.point.and_then(|point| outside(&model.house, point));
    let Some(story) = around else {
        return;
    };
    let id = format!("pump.{}.winter", pump.name);
    let figure = match &story.winter {
        Some(cold) => Figure::number(id, cold.value, Dimension::Temperature)
            .place(cold.span, format!("winter of {}", story.name)),
        None => Figure::unknown(
            id,
            format!("the winter temperature of `{}` is not given", story.name),
        )
        .place(story.span, format!("story {}", story.name)),
    };
    ledger.enter(figure.formula("winter temperature of the space that the pump stands in"));
}

/// Enters the figures of a pump.
pub(super) fn enter(model: &Model, catalog: &Catalog, pump: &Pump, ledger: &mut Ledger) {
    if pump.ending.is_some() {
        let thing = format!("pump.{}", pump.name);
        super::ending::gap(catalog, &thing, pump.pipe.as_ref(), ledger);
    }
    winter(model, pump, ledger);
    let Some(sheet) = pump
        .model
        .as_ref()
        .and_then(|model| catalog.pumps.get(&model.value))
    else {
        return;
    };
    let desk = Desk { pump, sheet };
    let id = |what: &str| desk.id(what);
    let own_valve = sheet.check_valve.as_ref().and_then(Stated::get) == Some(true);
    let tube = Tube::of(catalog, pump, own_valve || pump.check_valve.is_some());
    if let Some(lift) = pump.lift {
        ledger.enter(
            Figure::length(id("lift"), lift.value)
                .formula("from the pump's base to the highest point of its tube, as given")
                .place(lift.span, "lift"),
        );
    }
    let moves = desk.operating(&tube, ledger);
    let mut inflow = Some(0.0);
    let mut run_off = Some(0.0);
    let (mut coming, mut after) = (
        Figure::number(id("inflow-hour"), 0.0, Dimension::Volume),
        Figure::number(id("run-off"), 0.0, Dimension::Volume),
    );
    for drain in drains(model, pump) {
        let of = |what: &str| format!("drain.{}.{what}", drain.name);
        let add = |sum: Option<f64>, what: &str| Some(sum? + ledger.real(&of(what))?);
        inflow = add(inflow, "flow-wettest-hour");
        run_off = add(run_off, "run-off");
        coming = coming.input(of("flow-wettest-hour"));
        after = after.input(of("run-off"));
        desk.beside(drain, ledger);
    }
    let unknown = "the water of one of its drains is not known";
    for (figure, value, words) in [
        (
            coming,
            inflow,
            "water that its drains bring in the wettest hour",
        ),
        (
            after,
            run_off,
            "water that still comes after the unit has stopped",
        ),
    ] {
        let mut figure = figure.place(pump.span, format!("pump {}", pump.name));
        figure.value = match value {
            Some(value) => crate::figures::FigureValue::Number(value, Dimension::Volume),
            None => crate::figures::FigureValue::Unknown(unknown.to_owned()),
        };
        ledger.enter(figure.formula(words));
    }
    let drawn = desk.tank(ledger);
    if let (Some(inflow), Some(moves), Some(drawn)) = (inflow, moves, drawn)
        && let Some(cycles) = cycles_an_hour(drawn, inflow, moves)
    {
        ledger.enter(
            Figure::number(id("cycles"), cycles, Dimension::Count)
                .formula("starts in the wettest hour: one for each filling and emptying of what it draws from its tank")
                .input(id("cycle"))
                .input(id("inflow-hour"))
                .input(id("moves-hour")),
        );
    }
    let reserve = volume(sheet.reserve.as_ref());
    ledger.enter(
        match reserve {
            Some(reserve) => Figure::number(id("reserve"), reserve, Dimension::Volume),
            None => Figure::unknown(
                id("reserve"),
                "the catalog does not say what the tank takes above its switch",
            ),
        }
        .formula("what the tank still takes once its switch has tripped")
        .place(
            sheet.reserve.as_ref().map_or(sheet.span, |r| r.span),
            "tank",
        ),
    );
    if let Ok(tube) = &tube {
        ledger.enter(
            Figure::number(id("tube-water"), tube.gallons(), Dimension::Volume)
                .formula("water that stands in its tube")
                .place(pump.span, format!("pump {}", pump.name)),
        );
    }
    if let (Some(point), Some(size)) = (pump.point, sheet.size.get()) {
        ledger.enter(
            Figure::length(id("inlet"), point.z + size.height)
                .formula("height of the top of its tank above the lowest floor: water comes in from above")
                .place(sheet.size.span, "size")
                .place(pump.span, format!("pump {}", pump.name)),
        );
    }
}
