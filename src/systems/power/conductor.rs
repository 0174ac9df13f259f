//! The conductors of a circuit: what they carry where they lie, and what they lose.

use crate::catalog::{Cable, CableUse, Catalog, Sheath, Stated};
use crate::figures::{Figure, FigureValue, Ledger};
use crate::model::{Circuit, Model};
use crate::physics::conductor::{Column, Size};
use crate::physics::feed::{Laid, carried};
use crate::quantity::{Dimension, Temperature};
use crate::source::Span;

use super::code::{edition_of, nec};

/// Temperature at which the tables of ampacity hold, °F (30 °C).
const TABLE_AMBIENT: f64 = 86.0;

/// The power cable of a circuit in the catalog; none when it names none, no catalog holds it, or it is for controls.
pub fn cable_of<'a>(catalog: &'a Catalog, circuit: &Circuit) -> Option<&'a Cable> {
    let cable = catalog.cables.get(&circuit.cable.as_ref()?.value)?;
    (cable.use_for.get() != Some(CableUse::Control)).then_some(cable)
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
    let mut outdoors = false;
    for unit in circuit.units() {
        if let Some(unit) = model.air_handlers.get(&unit.value) {
            stories.push(unit.story.clone());
        }
        let equipment = model.equipment.get(&unit.value);
        stories.extend(equipment.and_then(|unit| unit.story.clone()));
        outdoors |= equipment.is_some_and(|unit| matches!(unit.kind, "outdoor-unit" | "chiller"));
    }
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
    figure
        .formula(formula)
        .source(nec(edition_of(model), TABLE))
}

/// Where the table of ampacity stands.
const TABLE: [&str; 3] = ["Table 310.15(B)(16)", "Table 310.16", "Table 310.16"];

/// How the conductors of a circuit lie in this cable, at `hot` °F; none while the cable's own temperature is not known.
pub fn laid_of(circuit: &Circuit, cable: &Cable, hot: f64) -> Option<Laid> {
    let cables = circuit.bundled.map_or(1.0, |count| count.value).max(1.0);
    let own = cable
        .conductors
        .get()
        .map_or(2.0, |count| f64::from(count.0));
    // One cable alone is no bundle: its neutral carries the difference only (310.15(E)).
    let wires = if cables > 1.0 { cables * own } else { 2.0 };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count of wires, bounded by the clamp"
    )]
    let together = wires.clamp(1.0, 1e6) as u32;
    let sheath = cable.sheath.as_ref().and_then(Stated::get);
    let ends = !matches!(sheath, Some(Sheath::Mc | Sheath::Raceway));
    Some(Laid {
        insulation: column_of(cable.rated.get()?.value()),
        cable: ends.then_some(Column::C60),
        terminals: circuit
            .terminals
            .map_or(Column::C60, |rated| column_of(rated.value)),
        ambient: Temperature::new(hot),
        together,
    })
}

/// Enters gauge, count, ampacity and its corrections.
pub(super) fn enter_ampacity(model: &Model, circuit: &Circuit, cable: &Cable, ledger: &mut Ledger) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    let edition = edition_of(model);
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
    let found = cable
        .gauge
        .get()
        .and_then(Size::awg)
        .zip(ambient.real())
        .and_then(|(size, hot)| {
            let laid = laid_of(circuit, cable, hot)?;
            Some((laid, carried(size, &laid)?))
        });
    let Some((laid, found)) = found else {
        let reason = match &ambient.value {
            FigureValue::Unknown(reason) => reason.clone(),
            _ if cable.gauge.get().is_some() && cable.rated.get().is_some() => {
                "the table of ampacity holds no such conductor".to_owned()
            }
            _ => "the catalog does not give gauge and temperature of the cable".to_owned(),
        };
        ledger.enter(ambient);
        ledger.enter(
            Figure::unknown(id("ampacity"), reason)
                .formula("the least of the corrected ampacity and what cable and terminals allow"),
        );
        return;
    };
    ledger.enter(ambient);
    let amperes = |what: &str, value: f64| Figure::number(id(what), value, Dimension::Current);
    ledger.enter(
        amperes("ampacity-table", found.table.value())
            .formula(format!(
                "ampacity of copper in the {} C column, which is the cable's own rating",
                laid.insulation.name()
            ))
            .input(id("gauge"))
            .place(cable.rated.span, "rated")
            .source(nec(edition, TABLE)),
    );
    ledger.enter(
        Figure::number(id("ambient-factor"), found.ambient_factor, Dimension::Count)
            .formula("factor for the heat around the cable; none is taken for cold")
            .input(id("ambient"))
            .source(nec(
                edition,
                [
                    "Table 310.15(B)(2)(a)",
                    "Table 310.15(B)(1)",
                    "Table 310.15(B)(1)(1)",
                ],
            )),
    );
    let mut bundle = Figure::number(id("bundle-factor"), found.bundle_factor, Dimension::Count)
        .formula("factor for the wires of cables that lie together, more than three of them")
        .input(id("conductors"))
        .source(nec(
            edition,
            [
                "Table 310.15(B)(3)(a); 334.80",
                "Table 310.15(C)(1); 334.80",
                "Table 310.15(C)(1); 334.80",
            ],
        ));
    if let Some(count) = circuit.bundled {
        bundle = bundle.place(count.span, "bundled");
    }
    ledger.enter(bundle);
    ledger.enter(
        amperes("ampacity-corrected", found.corrected.value())
            .formula("ampacity × factor for heat × factor for cables together")
            .input(id("ampacity-table"))
            .input(id("ambient-factor"))
            .input(id("bundle-factor"))
            .source(nec(edition, ["310.15(B)"; 3])),
    );
    let mut least = amperes("ampacity", found.ampacity.value())
        .formula("the least of the corrected ampacity and what cable and terminals allow")
        .input(id("ampacity-corrected"));
    if let Some(limit) = found.cable_limit {
        let mut figure = amperes("ampacity-cable", limit.value())
            .formula("ampacity of copper in the 60 C column, where cable of this sheath ends")
            .input(id("gauge"))
            .source(nec(edition, ["334.80, 340.80"; 3]));
        if let Some(sheath) = &cable.sheath {
            figure = figure.place(sheath.span, "sheath");
        }
        ledger.enter(figure);
        least = least.input(id("ampacity-cable"));
    }
    let mut terminals = amperes("ampacity-terminals", found.terminal_limit.value())
        .formula(format!(
            "ampacity of copper in the {} C column, where the terminals end it",
            laid.terminals.name()
        ))
        .input(id("gauge"))
        .source(nec(edition, ["110.14(C)(1)"; 3]));
    if let Some(rated) = circuit.terminals {
        terminals = terminals.place(rated.span, "terminals");
    }
    ledger.enter(terminals);
    ledger.enter(
        least
            .input(id("ampacity-terminals"))
            .source(nec(edition, ["110.14(C), 310.15, 334.80"; 3])),
    );
}
