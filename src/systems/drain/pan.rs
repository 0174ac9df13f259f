//! The pan under a unit: its size against the unit's, its rim, and what it holds.

use crate::figures::{Figure, Ledger};
use crate::model::{Model, Pan};
use crate::quantity::{Dimension, Length};

/// How much longer and wider than the unit a pan is (IRC M1411.3.1, IMC 307.2.3).
const LARGER: Length = Length::inches(3);

/// Enters the figures of a pan.
pub(super) fn enter(model: &Model, pan: &Pan, ledger: &mut Ledger) {
    let id = |what: &str| format!("pan.{}.{what}", pan.name);
    let unit = model.air_handlers.get(&pan.unit.value);
    let cabinet = unit.and_then(|unit| unit.cabinet);
    if let Some((x, y)) = pan.size {
        for (what, size) in [("size-east", x), ("size-north", y)] {
            ledger.enter(
                Figure::length(id(what), size.value)
                    .formula("inside size, as given")
                    .place(size.span, "size"),
            );
        }
    }
    if let (Some(cabinet), Some(unit)) = (cabinet, unit) {
        let (x, y, _) = cabinet.size();
        for (what, size) in [("needed-east", x), ("needed-north", y)] {
            ledger.enter(
                Figure::length(id(what), size + LARGER)
                    .formula("the unit's size on plan + 3 in")
                    .source("IRC M1411.3.1; IMC 307.2.3")
                    .place(unit.sheet.size.span, "size of the cabinet"),
            );
        }
    }
    let Some(depth) = pan.depth else { return };
    ledger.enter(
        Figure::length(id("depth"), depth.value)
            .formula("depth, as given")
            .place(depth.span, "depth"),
    );
    if let (Some(rim), Some(unit), Some(base)) = (pan.rim(), unit, pan.base) {
        ledger.enter(
            Figure::length(id("rim"), rim - base + (base - floor(model, pan)))
                .formula("height of its rim above the floor")
                .input(id("depth"))
                .place(pan.span, format!("pan {}", pan.name)),
        );
        if unit.cabinet.is_some() {
            ledger.enter(
                Figure::length(id("unit-above-rim"), unit.base - rim)
                    .formula("height of the unit's underside above the pan's rim")
                    .input(id("rim"))
                    .place(
                        unit.stand.map_or(unit.span, |stand| stand.span),
                        "the unit's height",
                    ),
            );
        }
    }
    if let Some((x, y)) = pan.size {
        let gallons = x.value.to_inches() * y.value.to_inches() * depth.value.to_inches() / 231.0;
        ledger.enter(
            Figure::number(id("volume"), gallons, Dimension::Volume)
                .formula("length × width × depth")
                .input(id("size-east"))
                .input(id("size-north"))
                .input(id("depth")),
        );
    }
}

/// The floor under the unit, above the lowest floor.
fn floor(model: &Model, pan: &Pan) -> Length {
    model
        .air_handlers
        .get(&pan.unit.value)
        .and_then(|unit| model.house.stories.get(&unit.story))
        .map_or(Length::ZERO, |story| story.floor)
}
