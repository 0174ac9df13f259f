//! The grounding conductor that a circuit needs, and the one that its cable brings.

use crate::catalog::{Cable, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Model};
use crate::physics::conductor::{Size, area};
use crate::physics::feed::{grown_ground, smallest};
use crate::quantity::{Current, Dimension};

use super::code::{edition_of, nec};
use super::conductor::laid_of;

/// The ground in building cable by its conductors, where the catalog does not say: full size to 10 AWG, 10 AWG with 8
/// and 6 AWG, 8 AWG with 4 and 2 AWG (UL 719, from memory).
fn usual(own: Size) -> Option<Size> {
    match own {
        Size::Awg(gauge @ 10..) => Some(Size::Awg(gauge)),
        Size::Awg(6..=9) => Some(Size::Awg(10)),
        Size::Awg(2..=5) => Some(Size::Awg(8)),
        _ => None,
    }
}

const fn gauge_of(size: Size) -> Option<i8> {
    match size {
        Size::Awg(gauge) => Some(gauge),
        Size::Kcmil(_) => None,
    }
}

/// The ground in a cable, as the catalog says or as building cable has it; none where it has no ground.
fn brought(cable: &Cable, own: Size) -> Option<Size> {
    if cable.ground.get() != Some(true) {
        return None;
    }
    let given = cable.ground_gauge.as_ref().and_then(Stated::get);
    given.and_then(Size::awg).or_else(|| usual(own))
}

/// The ground that a circuit's breaker and the conductors of a cable ask for; none while the breaker is not known.
fn asked(
    model: &Model,
    circuit: &Circuit,
    cable: &Cable,
    own: Size,
    ledger: &Ledger,
) -> Option<Size> {
    let breaker = circuit.breaker?.value;
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    // What the breaker alone would ask for, in this heat and bundle: thicker than that makes the ground grow.
    let device = Current::new(breaker);
    let carried = ledger
        .real(&id("least-ampacity"))
        .map_or(breaker, |least| least.max(breaker));
    let base = ledger
        .real(&id("ambient"))
        .and_then(|hot| laid_of(circuit, cable, hot))
        .and_then(|laid| {
            smallest(
                Current::new(carried),
                Some(device),
                &laid,
                edition_of(model),
            )
        })
        .unwrap_or(own);
    grown_ground(device, base, own)
}

/// The ground that a circuit would ask of a cable, where the cable's own is thinner.
pub fn ground_lacking(
    model: &Model,
    circuit: &Circuit,
    cable: &Cable,
    ledger: &Ledger,
) -> Option<Size> {
    let own = cable.gauge.get().and_then(Size::awg)?;
    let needed = asked(model, circuit, cable, own, ledger)?;
    let thin = brought(cable, own)
        .and_then(area)
        .zip(area(needed))
        .is_some_and(|(has, needs)| has.value() < needs.value());
    thin.then_some(needed)
}

/// Enters the grounding conductor that breaker and conductors ask for, and the one in the cable.
pub(super) fn enter_ground(model: &Model, circuit: &Circuit, cable: &Cable, ledger: &mut Ledger) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    let (Some(breaker), Some(own)) = (circuit.breaker, cable.gauge.get().and_then(Size::awg))
    else {
        return;
    };
    if let Some(gauge) = brought(cable, own).and_then(gauge_of) {
        let mut figure = Figure::number(id("ground"), f64::from(gauge), Dimension::WireGauge)
            .formula(
                "grounding conductor of the cable; where the catalog does not say, as building cable has it",
            )
            .place(cable.ground.span, "ground");
        figure = match &cable.ground_gauge {
            Some(stated) => figure
                .place(stated.span, "ground-gauge")
                .source("the stock's catalog"),
            None => figure.source("UL 719, from memory"),
        };
        ledger.enter(figure);
    }
    let needed = asked(model, circuit, cable, own, ledger);
    let Some(needed) = needed.and_then(gauge_of) else {
        return;
    };
    ledger.enter(
        Figure::number(id("ground-needed"), f64::from(needed), Dimension::WireGauge)
            .formula(
                "grounding conductor by the breaker, grown in proportion where the conductors are thicker than the breaker asks for, never thicker than they are",
            )
            .place(breaker.span, "breaker")
            .input(id("gauge"))
            .source(nec(edition_of(model), ["250.122(A), (B), Table 250.122"; 3])),
    );
}
