//! What the job states of a loop's water: the boiler's temperature, the liquid, what each coil asks for.

use crate::model::{Model, WaterCoil, WaterLoop};
use crate::physics::fluid::Fluid;
use crate::quantity::Ratio;
use crate::source::{Span, Spanned};
use crate::systems::comfort::gap::Gap;

/// The water that leaves the boiler, °F, its words and what they say: the boiler's own, else what the coil asks for.
pub(super) fn leaving(model: &Model, water: &WaterLoop) -> Result<(f64, Span, &'static str), Gap> {
    let Some(boiler) = model.water.boilers.get(&water.boiler) else {
        return Err(Gap::Silent);
    };
    if let Some(stated) = boiler.water {
        return Ok((stated.value, stated.span, "water of the boiler"));
    }
    if boiler.water_said {
        return Err(Gap::because(format!(
            "the water temperature of boiler `{}` is not known yet",
            boiler.name
        )));
    }
    let asked = water
        .coils()
        .into_iter()
        .find_map(|coil| model.water.coils.get(coil)?.water);
    asked
        .map(|asked| (asked.value, asked.span, "water that the coil asks for"))
        .ok_or_else(|| {
            Gap::because(format!(
                "the water temperature of boiler `{}` is not given",
                boiler.name
            ))
        })
}

/// The liquid with this glycol.
pub(super) fn fluid(glycol: Option<Spanned<f64>>) -> Result<Fluid, Gap> {
    Fluid::with_glycol(glycol.map(|share| Ratio::new(share.value)))
        .ok_or_else(|| Gap::because("properties of more than 60 % glycol are not held"))
}

/// The liquid in a loop.
pub(super) fn liquid(model: &Model, water: &WaterLoop) -> Result<Fluid, Gap> {
    let open = water.coils().into_iter().any(|coil| {
        model
            .water
            .coils
            .get(coil)
            .is_some_and(|coil: &WaterCoil| coil.glycol_said && coil.glycol.is_none())
    });
    if open {
        return Err(Gap::because("the share of glycol is not known yet"));
    }
    fluid(model.water.glycol_of(water))
}
