//! Voltage lost on the way, running and at the start.

use crate::catalog::{Cable, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Model};
use crate::physics::conductor::Size;
use crate::physics::feed::drop_of;
use crate::quantity::{Current, Dimension, Voltage, trade_length};
use crate::source::Span;

use super::Plate;
use super::code::{edition_of, nec};

/// Recommended greatest loss in a branch circuit, percent (NEC 210.19, informational note).
const RECOMMENDED: f64 = 3.0;
/// Table of resistance.
const TABLE: [&str; 3] = ["Chapter 9, Table 8"; 3];

/// Enters the voltage lost at the running current and at the start.
pub(super) fn enter_drop(
    model: &Model,
    circuit: &Circuit,
    cable: &Cable,
    plate: &Plate<'_>,
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    let formula = "2 × running current × length one way × resistance of the conductor at 75 C ÷ supply voltage";
    let unknown = |reason: &str| Figure::unknown(id("drop"), reason).formula(formula);
    let (Some(length), Some(volts)) = (circuit.measured, circuit.volts) else {
        ledger.enter(unknown("length or voltage is not known"));
        return;
    };
    // A plate without running current bounds it: the minimum circuit ampacity is never less.
    let running = ledger.real(&id("running"));
    let bound = running.is_none() && plate.running.is_none();
    let amperes = if bound {
        ledger.real(&id("least-ampacity"))
    } else {
        running
    };
    let Some(amperes) = amperes else {
        ledger.enter(unknown("the plate gives no running current"));
        return;
    };
    let Some(size) = cable.gauge.get().and_then(Size::awg) else {
        ledger.enter(unknown("the cable's gauge is not known"));
        return;
    };
    let supply = Voltage::new(volts.value);
    let lost = |amperes: f64| drop_of(size, supply, Current::new(amperes), length.value);
    let Some(found) = lost(amperes) else {
        ledger.enter(unknown("the table of resistance holds no such conductor"));
        return;
    };
    let source = nec(edition_of(model), TABLE);
    let with_inputs = |figure: Figure, current: Result<String, (Span, &str)>| {
        let figure = figure.place(length.span, trade_length(length.value));
        let figure = match current {
            Ok(input) => figure.input(input),
            Err((span, words)) => figure.place(span, words),
        };
        figure
            .place(volts.span, "volts")
            .input(id("gauge"))
            .source(source.clone())
    };
    let current = if bound { "least-ampacity" } else { "running" };
    let share = found.share.value();
    if bound && share > RECOMMENDED {
        ledger.enter(unknown(
            "the plate gives no running current, and at its minimum circuit ampacity the loss is over 3 %",
        ));
    } else {
        let formula = if bound {
            "2 × minimum circuit ampacity, which is no less than the running current × length one way × resistance of the conductor at 75 C ÷ supply voltage"
        } else {
            formula
        };
        let drop = found.drop.value();
        ledger.enter(with_inputs(
            Figure::number(id("drop-volts"), drop, Dimension::Voltage)
                .formula(formula.replace(" ÷ supply voltage", "")),
            Ok(id(current)),
        ));
        ledger.enter(with_inputs(
            Figure::number(id("drop"), share, Dimension::Ratio).formula(formula),
            Ok(id(current)),
        ));
    }
    let locked = plate.loads.and_then(|loads| loads.locked_rotor.as_ref());
    if let Some((stated, found)) =
        locked.and_then(|stated| Some((stated, lost(Stated::get(stated)?.value())?)))
    {
        ledger.enter(with_inputs(
            Figure::number(id("start-drop"), found.share.value(), Dimension::Ratio).formula(
                "2 × current at the start × length one way × resistance of the conductor at 75 C ÷ supply voltage; power factor left out, so that less is lost in fact",
            ),
            Err((stated.span, "locked-rotor")),
        ));
        let starts = plate.loads.and_then(|loads| loads.starts_at.as_ref());
        if let Some((stated, least)) =
            starts.and_then(|stated| Some((stated, Stated::get(stated)?.value())))
        {
            ledger.enter(
                Figure::number(id("starts-at"), least, Dimension::Voltage)
                    .formula("least voltage at which the largest motor starts")
                    .place(stated.span, "starts-at")
                    .source("the equipment's catalog"),
            );
        }
        ledger.enter(
            Figure::number(id("start-volts"), found.at_load.value(), Dimension::Voltage)
                .formula("supply voltage less what is lost at the start")
                .place(volts.span, "volts")
                .input(id("start-drop"))
                .source(source),
        );
    }
}
