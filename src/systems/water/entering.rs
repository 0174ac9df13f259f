//! The water that reaches each coil of a loop: that of the boiler, less what the pipes lose on the way.

use std::collections::BTreeMap;

use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::quantity::Dimension;
use crate::systems::comfort::gap::{Gap, put};

use super::carry::Carry;
use super::flow::Found;

const WARMTH: &str = "ASHRAE Handbook—Fundamentals, Heat Transfer: exponential approach, insulation, still air outside";

/// The water that reaches each coil of a loop.
pub(super) fn entering(model: &Model, found: &Found<'_>, ledger: &mut Ledger) {
    let (Some(flows), Ok((hot, span, words)), Ok(fluid)) =
        (&found.flows, &found.leaving, &found.fluid)
    else {
        return;
    };
    let mut carry = Carry {
        laid: &found.laid,
        flows,
        fluid: *fluid,
        indoors: found.indoors,
        behind: &|_| None,
        entering: BTreeMap::new(),
        lost: BTreeMap::new(),
    };
    let _ = carry.through(&found.water.parts, *hot);
    for name in found.water.coils() {
        let Some(coil) = model.water.coils.get(name) else {
            continue;
        };
        let id = format!("water-coil.{name}.entering-water");
        let gap = Gap::because("the coil stands behind another one, which is not reckoned with");
        let value = carry
            .entering
            .get(name)
            .map(|t| Figure::number(id.clone(), *t, Dimension::Temperature))
            .ok_or(&gap);
        put(ledger, id.clone(), value, |figure| {
            let mut figure = figure
                .formula("water of the boiler less what its pipes lose on the way, each space by the exponential approach; a space whose winter temperature is not given counts as kept at the rooms' temperature")
                .source(WARMTH)
                .place(*span, *words)
                .place(coil.span, format!("water coil {name}"));
            for pipe in carry.lost.keys() {
                figure = figure
                    .input(format!("water-pipe.{pipe}.flow"))
                    .input(format!("water-pipe.{pipe}.length"))
                    .input(format!("water-pipe.{pipe}.insulation"));
            }
            figure
        });
    }
}
