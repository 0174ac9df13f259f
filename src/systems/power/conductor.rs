//! The conductors of a circuit: what they carry where they lie, and what they lose.

use crate::catalog::{Cable, Catalog, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Model};
use crate::physics::conductor::{
    Column, Size, Stranding, ambient_factor, ampacity, bundling_factor, grounding_conductor,
};
use crate::physics::voltage_drop::{self, voltage_drop};
use crate::quantity::{Current, Dimension, Temperature, Voltage, trade_length};
use crate::source::Span;

use super::Plate;

/// Temperature at which the tables of ampacity hold, °F (30 °C).
const TABLE_AMBIENT: f64 = 86.0;
/// Conductor temperature for voltage drop, °F (75 °C, NEC Chapter 9, Table 8).
const DROP_TEMPERATURE: f64 = 167.0;
/// Recommended greatest loss in a branch circuit, percent (NEC 210.19, informational note).
const RECOMMENDED: f64 = 3.0;
/// The thickest conductor that building cable has solid (common practice: 8 AWG and thicker are stranded).
const THICKEST_SOLID: f64 = 10.0;

/// The cable of a circuit in the catalog; none when it names none or no catalog holds it.
pub fn cable_of<'a>(catalog: &'a Catalog, circuit: &Circuit) -> Option<&'a Cable> {
    catalog.cables.get(&circuit.cable.as_ref()?.value)
}

/// A temperature that a circuit meets on its way, and where it is said.
struct Warmth {
    fahrenheit: f64,
    what: String,
    span: Span,
}

/// Every story and outdoor temperature that the circuit meets; why not, when one is still open.
fn warmths(model: &Model, circuit: &Circuit) -> Result<Vec<Warmth>, String> {
    let mut stories: Vec<String> = circuit
        .through
        .iter()
        .map(|space| match model.house.rooms.get(&space.value) {
            Some(room) if !room.unconditioned => String::new(),
            Some(room) => room.story.value.clone(),
            None => space.value.clone(),
        })
        .collect();
    if let Some(unit) = model.air_handlers.get(&circuit.unit.value) {
        stories.push(unit.story.clone());
    }
    let equipment = model.equipment.get(&circuit.unit.value);
    stories.extend(equipment.and_then(|unit| unit.story.clone()));
    let mut out: Vec<Warmth> = Vec::new();
    for name in stories {
        let Some(story) = model.house.stories.get(&name) else {
            continue;
        };
        if let Some(summer) = story.summer {
            out.push(Warmth {
                fahrenheit: summer.value,
                what: format!("story {name}"),
                span: summer.span,
            });
        } else if model.is_open(story.span, "summer") {
            return Err(format!(
                "the summer temperature of `{name}` is not known yet"
            ));
        }
    }
    let outdoors = equipment.is_some_and(|unit| matches!(unit.kind, "outdoor-unit" | "chiller"));
    if let Some(outdoor) = model
        .job
        .condition("summer")
        .and_then(|summer| summer.outdoor)
        .filter(|_| outdoors)
    {
        out.push(Warmth {
            fahrenheit: outdoor.value,
            what: "summer outdoors".to_owned(),
            span: outdoor.span,
        });
    }
    Ok(out)
}

fn stated<T: Clone>(
    id: String,
    stated: &Stated<T>,
    what: &str,
    figure: impl Fn(String, T) -> Figure,
) -> Figure {
    match stated.get() {
        Some(value) => figure(id, value).source("the stock's catalog"),
        None => Figure::unknown(id, stated.reason().unwrap_or("not given")),
    }
    .place(stated.span, what)
}

fn column_of(rated: f64) -> Column {
    match rated {
        r if r >= 194.0 => Column::C90,
        r if r >= 167.0 => Column::C75,
        _ => Column::C60,
    }
}

fn warm(model: &Model, circuit: &Circuit, id: String) -> Figure {
    let formula = "the hottest summer temperature among the stories that the circuit passes and the unit's own; 86 F where none is hotter";
    let figure = match warmths(model, circuit) {
        Err(reason) => return Figure::unknown(id, reason).formula(formula),
        Ok(all) => match all
            .into_iter()
            .filter(|warmth| warmth.fahrenheit > TABLE_AMBIENT)
            .max_by(|a, b| a.fahrenheit.total_cmp(&b.fahrenheit))
        {
            Some(hottest) => Figure::number(id, hottest.fahrenheit, Dimension::Temperature)
                .place(hottest.span, hottest.what),
            None => Figure::number(id, TABLE_AMBIENT, Dimension::Temperature)
                .standard("86 F, the temperature of the ampacity table"),
        },
    };
    figure.formula(formula).source("NEC Table 310.16")
}

/// Enters gauge, count, ampacity and its corrections.
pub(super) fn enter_ampacity(model: &Model, circuit: &Circuit, cable: &Cable, ledger: &mut Ledger) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    ledger.enter(
        stated(id("gauge"), &cable.gauge, "gauge", |id, gauge| {
            Figure::number(id, gauge.value(), Dimension::WireGauge)
        })
        .formula("size of the cable's conductors"),
    );
    ledger.enter(
        stated(
            id("conductors"),
            &cable.conductors,
            "conductors",
            |id, count| Figure::count(id, count.0 as usize),
        )
        .formula("conductors of the cable, the ground apart"),
    );
    let ambient = warm(model, circuit, id("ambient"));
    let (size, rated) = (
        cable.gauge.get().and_then(Size::awg),
        cable.rated.get().map(Temperature::value),
    );
    let (Some(size), Some(rated), Some(hot)) = (size, rated, ambient.real()) else {
        let reason = match &ambient.value {
            crate::figures::FigureValue::Unknown(reason) => reason.clone(),
            _ => "the catalog does not give gauge and temperature of the cable".to_owned(),
        };
        ledger.enter(ambient);
        ledger.enter(
            Figure::unknown(id("ampacity"), reason)
                .formula("the smaller of the corrected ampacity and the 60 C limit"),
        );
        return;
    };
    ledger.enter(ambient);
    let column = column_of(rated);
    let from = ampacity(size, column).map_or(0.0, Current::value);
    let limit = ampacity(size, Column::C60).map_or(0.0, Current::value);
    ledger.enter(
        Figure::number(id("ampacity-table"), from, Dimension::Current)
            .formula(format!(
                "ampacity of copper in the {} C column, which is the cable's own rating",
                column.name()
            ))
            .input(id("gauge"))
            .place(cable.rated.span, "rated")
            .source("NEC Table 310.16"),
    );
    let factor = if hot <= TABLE_AMBIENT {
        1.0
    } else {
        ambient_factor(column, Temperature::new(hot)).unwrap_or(0.0)
    };
    ledger.enter(
        Figure::number(id("ambient-factor"), factor, Dimension::Count)
            .formula("factor for the heat around the cable; none is taken for cold")
            .input(id("ambient"))
            .source("NEC Table 310.15(B)(1)"),
    );
    let cables = circuit.bundled.map_or(1.0, |count| count.value).max(1.0);
    let wires = cables
        * cable
            .conductors
            .get()
            .map_or(2.0, |count| f64::from(count.0));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count of wires, bounded by the clamp"
    )]
    let whole = wires.clamp(1.0, 1e6) as u32;
    let together = if cables > 1.0 {
        bundling_factor(whole).unwrap_or(1.0)
    } else {
        1.0
    };
    let mut bundle = Figure::number(id("bundle-factor"), together, Dimension::Count)
        .formula("factor for the wires of cables that lie together, more than three of them")
        .input(id("conductors"))
        .source("NEC Table 310.15(C)(1)");
    if let Some(count) = circuit.bundled {
        bundle = bundle.place(count.span, "bundled");
    }
    ledger.enter(bundle);
    ledger.enter(
        Figure::number(
            id("ampacity-corrected"),
            from * factor * together,
            Dimension::Current,
        )
        .formula("ampacity × factor for heat × factor for cables together")
        .input(id("ampacity-table"))
        .input(id("ambient-factor"))
        .input(id("bundle-factor"))
        .source("NEC 310.15"),
    );
    ledger.enter(
        Figure::number(id("ampacity-60"), limit, Dimension::Current)
            .formula(
                "ampacity of copper in the 60 C column, where such cable and its terminals end",
            )
            .input(id("gauge"))
            .source("NEC 334.80, 110.14(C)(1)"),
    );
    ledger.enter(
        Figure::number(
            id("ampacity"),
            (from * factor * together).min(limit),
            Dimension::Current,
        )
        .formula("the smaller of the corrected ampacity and the 60 C limit")
        .input(id("ampacity-corrected"))
        .input(id("ampacity-60"))
        .source("NEC 334.80"),
    );
}

/// Enters the grounding conductor that the breaker asks for.
pub(super) fn enter_ground(circuit: &Circuit, cable: &Cable, ledger: &mut Ledger) {
    let (Some(breaker), Some(own)) = (circuit.breaker, cable.gauge.get().and_then(Size::awg))
    else {
        return;
    };
    let Some(by_breaker) = grounding_conductor(Current::new(breaker.value)) else {
        return;
    };
    // The thicker gauge has the smaller number; the code never asks for more than the circuit's own conductors.
    let needed = match (by_breaker, own) {
        (Size::Awg(by), Size::Awg(own)) => f64::from(by.max(own)),
        _ => return,
    };
    ledger.enter(
        Figure::number(
            format!("circuit.{}.ground-needed", circuit.name),
            needed,
            Dimension::WireGauge,
        )
        .formula(
            "grounding conductor by the breaker, never thicker than the circuit's own conductors",
        )
        .place(breaker.span, "breaker")
        .input(format!("circuit.{}.gauge", circuit.name))
        .source("NEC 250.122(A), Table 250.122"),
    );
}

/// Enters the voltage lost at the running current.
pub(super) fn enter_drop(circuit: &Circuit, cable: &Cable, plate: &Plate<'_>, ledger: &mut Ledger) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    let formula = "2 × running current × length one way × resistance of the conductor at 75 C ÷ supply voltage";
    let unknown = |reason: &str| Figure::unknown(id("drop"), reason).formula(formula);
    let (Some(length), Some(volts)) = (circuit.measured, circuit.volts) else {
        ledger.enter(unknown("length or voltage is not known"));
        return;
    };
    // A plate without running current bounds it: the minimum circuit ampacity is never less.
    let bound = plate.running.is_none();
    let current = if bound {
        plate.least_ampacity
    } else {
        plate.running
    };
    let Some((running, amperes)) = current.and_then(|run| Some((run, run.get()?))) else {
        ledger.enter(unknown("the plate gives no running current"));
        return;
    };
    let Some(size) = cable.gauge.get().and_then(Size::awg) else {
        ledger.enter(unknown("the cable's gauge is not known"));
        return;
    };
    let solid = cable
        .gauge
        .get()
        .is_some_and(|gauge| gauge.value() >= THICKEST_SOLID);
    let lost = voltage_drop(&voltage_drop::Circuit {
        supply: Voltage::new(volts.value),
        current: amperes,
        size,
        stranding: if solid {
            Stranding::Solid
        } else {
            Stranding::Stranded
        },
        one_way: length.value,
        conductor: Temperature::new(DROP_TEMPERATURE),
    });
    let Some(lost) = lost else {
        ledger.enter(unknown("the table of resistance holds no such conductor"));
        return;
    };
    if bound && lost.share.value() > RECOMMENDED {
        ledger.enter(unknown(
            "the plate gives no running current, and at its minimum circuit ampacity the loss is over 3 %",
        ));
        return;
    }
    let words = if bound {
        "minimum circuit ampacity"
    } else {
        "running"
    };
    let formula = if bound {
        "2 × minimum circuit ampacity, which is no less than the running current × length one way × resistance of the conductor at 75 C ÷ supply voltage"
    } else {
        formula
    };
    let with_inputs = |figure: Figure| {
        figure
            .place(length.span, trade_length(length.value))
            .place(running.span, words)
            .place(volts.span, "volts")
            .input(id("gauge"))
            .source("NEC Chapter 9, Table 8")
    };
    ledger.enter(with_inputs(
        Figure::number(id("drop-volts"), lost.drop.value(), Dimension::Voltage)
            .formula(formula.replace(" ÷ supply voltage", "")),
    ));
    ledger.enter(with_inputs(
        Figure::number(id("drop"), lost.share.value(), Dimension::Ratio).formula(formula),
    ));
}
