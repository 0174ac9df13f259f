//! One water pipe: bore, fittings, volume, insulation and where it lies.

use crate::catalog::{Catalog, PipeMaterial};
use crate::figures::{Figure, Ledger};
use crate::model::{Model, WaterMark, WaterPipe};
use crate::physics::water_loop::{
    ELBOW, FLOW_CHECK, Metal, Stretch, TEE, VALVE, growth, loss_per_foot,
};
use crate::quantity::{Dimension, Length};
use crate::source::{Span, Spanned};
use crate::systems::comfort::design::Design;
use crate::systems::comfort::gap::Gap;

use super::insulation::resistance;
use super::place::{Exposed, exposed};

pub(super) const FITTINGS: &str =
    "Darcy–Weisbach with Colebrook's friction; fittings by equivalent lengths, Crane TP-410";
const WARMTH: &str =
    "ASHRAE Handbook—Fundamentals, Heat Transfer: insulation and still air outside";

/// Drawn tubing and smooth plastic, 5 millionths of a foot; commercial steel, 150. Handbook values, from memory.
const SMOOTH_FEET: f64 = 5e-6;
const STEEL_FEET: f64 = 1.5e-4;
/// Cold fill, °F: what pipes are when they are joined.
const COLD: f64 = 50.0;

/// A pipe as it will be.
#[derive(Clone, Debug)]
pub(super) struct Laid {
    pub(super) stretches: Vec<Stretch>,
    /// Gallons.
    pub(super) volume: f64,
    /// The spaces that it passes through.
    pub(super) exposed: Vec<Exposed>,
    outside: Length,
    insulation: f64,
}

impl Laid {
    /// What one degree takes out of it in each of its spaces, Btu/(h·°F), with the space's temperature.
    pub(super) fn losses(&self, indoors: f64) -> impl Iterator<Item = (f64, f64)> {
        let foot = loss_per_foot(self.outside, self.insulation);
        self.exposed.iter().map(move |part| {
            let around = part
                .space
                .as_ref()
                .map_or(indoors, |space| space.temperature);
            (foot * part.length.to_feet(), around)
        })
    }
}

struct Sheet {
    inside: Length,
    outside: Length,
    material: PipeMaterial,
    insulation: Option<f64>,
    span: Span,
}

fn sheet(
    catalog: &Catalog,
    name: Option<&Spanned<String>>,
    pipe: &WaterPipe,
) -> Result<Sheet, Gap> {
    let name =
        name.ok_or_else(|| Gap::because(format!("the pipe of `{}` is not named", pipe.name)))?;
    let sheet = catalog.pipes.get(&name.value).ok_or(Gap::Silent)?;
    let all = (
        sheet.inside.get(),
        sheet.outside.get(),
        sheet.material.get(),
    );
    let (Some(inside), Some(outside), Some(material)) = all else {
        return Err(Gap::because(format!(
            "the catalog does not size `{}`",
            name.value
        )));
    };
    Ok(Sheet {
        inside,
        outside,
        material,
        insulation: sheet
            .insulation
            .as_ref()
            .and_then(|stated| Some(stated.get()?.value())),
        span: sheet.inside.span,
    })
}

fn stretch(sheet: &Sheet) -> Stretch {
    let roughness = match sheet.material {
        PipeMaterial::Steel | PipeMaterial::Galvanized => STEEL_FEET,
        _ => SMOOTH_FEET,
    };
    Stretch {
        inside: sheet.inside,
        roughness: Length::nearest(roughness * 12.0),
        length: Length::ZERO,
        fittings: 0.0,
        changes: 0.0,
    }
}

/// Loss where a pipe changes its size, on the velocity of the smaller: 1/2 (1 − β²) into it, (1 − β²)² out of it.
/// Source: Crane TP-410.
fn change(before: &mut Stretch, after: &mut Stretch) {
    let (a, b) = (before.inside.to_inches(), after.inside.to_inches());
    if a > b {
        let beta = (b / a) * (b / a);
        after.changes += 0.5 * (1.0 - beta);
    } else if b > a {
        let beta = (a / b) * (a / b);
        before.changes += (1.0 - beta) * (1.0 - beta);
    }
}

/// Bores with lengths and fittings, in the way of the water.
fn stretches(catalog: &Catalog, pipe: &WaterPipe, length: Length) -> Result<Vec<Stretch>, Gap> {
    let mut out: Vec<Stretch> = vec![stretch(&sheet(catalog, pipe.pipe.as_ref(), pipe)?)];
    let mut of_leg: Vec<usize> = Vec::new();
    for leg in &pipe.legs {
        let next = stretch(&sheet(catalog, leg.pipe.as_ref(), pipe)?);
        if out
            .last()
            .is_some_and(|last| last.inside != next.inside || last.roughness != next.roughness)
        {
            out.push(next);
        }
        if let Some(last) = out.last_mut() {
            last.length += leg.length;
        }
        of_leg.push(out.len() - 1);
    }
    let drawn: Length = pipe.legs.iter().map(|leg| leg.length).sum();
    let marks = pipe.marks.iter().map(|(mark, node, _)| {
        let size = match mark {
            WaterMark::Vent => TEE,
            WaterMark::Valve => VALVE,
            WaterMark::FlowCheck => FLOW_CHECK,
            WaterMark::Elbow => 0.0,
        };
        (size, *node)
    });
    for (size, node) in marks.collect::<Vec<_>>() {
        let at = node
            .checked_sub(1)
            .and_then(|n| of_leg.get(n))
            .copied()
            .unwrap_or(0);
        if let Some(stretch) = out.get_mut(at) {
            stretch.fittings += size;
        }
    }
    let elbows = pipe.elbows() as f64;
    if let Some(first) = out.first_mut() {
        first.length += (length - drawn).max(Length::ZERO);
        first.fittings += ELBOW * elbows;
    }
    for n in 1..out.len() {
        if let Some([before, after]) = out.get_mut(n - 1..=n) {
            change(before, after);
        }
    }
    Ok(out)
}

/// A pipe's bore, length and place.
pub(super) fn laid(
    model: &Model,
    catalog: &Catalog,
    (pipe, start): (&WaterPipe, Option<Length>),
    design: Option<&Design>,
) -> Result<Laid, Gap> {
    if pipe.flawed {
        let open = model.open_in(pipe.whole).is_some();
        return Err(if open {
            Gap::because(format!(
                "part of water pipe `{}` is not known yet",
                pipe.name
            ))
        } else {
            Gap::Silent
        });
    }
    let length = pipe.length().ok_or_else(|| {
        Gap::because(format!(
            "water pipe `{}` shows neither legs nor a measured length",
            pipe.name
        ))
    })?;
    let first = sheet(catalog, pipe.pipe.as_ref(), pipe)?;
    let stretches = stretches(catalog, pipe, length)?;
    let volume = stretches
        .iter()
        .map(|s| {
            let inside = s.inside.to_inches();
            std::f64::consts::FRAC_PI_4 * inside * inside * s.length.to_inches() / 231.0
        })
        .sum();
    let said = pipe
        .insulation
        .as_ref()
        .and_then(|words| resistance(&words.value, first.outside));
    Ok(Laid {
        stretches,
        volume,
        exposed: design.map_or_else(Vec::new, |design| exposed(model, pipe, start, design)),
        outside: first.outside,
        insulation: said.or(first.insulation).unwrap_or(0.0),
    })
}

/// Length, equivalent length, volume, insulation and growth of a pipe.
pub(super) fn enter(
    catalog: &Catalog,
    pipe: &WaterPipe,
    (laid, water): (&Laid, Option<f64>),
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("water-pipe.{}.{what}", pipe.name);
    let Some(length) = pipe.length() else { return };
    let legs = |mut figure: Figure| {
        if let Some(measured) = pipe.measured {
            figure = figure.place(measured.span, "length by tape");
        }
        for leg in &pipe.legs {
            figure = figure.place(leg.span, "leg");
        }
        figure
    };
    ledger.enter(legs(
        Figure::length(id("length"), length).formula("length by tape, else the sum of its legs"),
    ));
    let equivalent: f64 = laid
        .stretches
        .iter()
        .map(|s| s.fittings * s.inside.to_inches())
        .sum();
    let mut figure = Figure::length(id("fittings"), Length::nearest(equivalent))
        .formula(format!(
            "length of pipe that loses what its fittings lose: {ELBOW} inside diameters an elbow or bend, {TEE} a vent on its tee, {VALVE} a ball valve, {FLOW_CHECK} a flow check"
        ))
        .source(FITTINGS)
        .place(pipe.span, format!("water pipe {}", pipe.name));
    for (_, _, span) in &pipe.marks {
        figure = figure.place(*span, "fitting");
    }
    ledger.enter(figure);
    ledger.enter(
        Figure::number(id("volume"), laid.volume, Dimension::Volume)
            .formula("inside area × length")
            .input(id("length")),
    );
    if let Ok(sheet) = sheet(catalog, pipe.pipe.as_ref(), pipe) {
        let cold = laid
            .exposed
            .iter()
            .any(|part| part.space.as_ref().is_some_and(|space| space.unconditioned));
        let said = pipe.insulation.as_ref();
        let unread = said.is_some_and(|words| resistance(&words.value, sheet.outside).is_none());
        let mut figure = if unread {
            Figure::unknown(id("insulation"), "its words say neither an R-value nor a thickness")
        } else {
            Figure::number(id("insulation"), laid.insulation, Dimension::RValue)
        }
        .formula("the R-value that its words say; a thickness of closed-cell foam counts as r₂ ln(r₂/r₁) ÷ 0.27")
        .source(WARMTH)
        .place(sheet.span, "size of the pipe");
        if let Some(words) = said {
            figure = figure.place(words.span, "insulation");
        }
        ledger.enter(figure);
        ledger.enter(
            Figure::bool(id("in-cold"), cold)
                .formula("whether it passes a space that is neither heated nor cooled")
                .place(pipe.span, format!("water pipe {}", pipe.name)),
        );
        grows(pipe, sheet.material, water, ledger);
    }
}

/// How much the longest straight leg grows from the cold fill to the hottest water.
fn grows(pipe: &WaterPipe, material: PipeMaterial, water: Option<f64>, ledger: &mut Ledger) {
    let metal = match material {
        PipeMaterial::CopperL | PipeMaterial::CopperM => Metal::Copper,
        PipeMaterial::Steel | PipeMaterial::Galvanized => Metal::Steel,
        // What bends takes up its own growth.
        _ => return,
    };
    let longest = pipe.legs.iter().max_by_key(|leg| leg.length);
    let (Some(leg), Some(water)) = (longest, water) else {
        return;
    };
    ledger.enter(
        Figure::length(
            format!("water-pipe.{}.growth", pipe.name),
            growth(metal, leg.length, (water - COLD).max(0.0)),
        )
        .formula(format!(
            "growth of its longest straight leg from {COLD} °F to the boiler's water"
        ))
        .source("ASHRAE Handbook—HVAC Systems and Equipment: expansion of pipe; from memory")
        .place(leg.span, "leg"),
    );
}
