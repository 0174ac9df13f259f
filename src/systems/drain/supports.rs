//! Greatest distance between supports by material and direction.
//!
//! Source: IRC Table P2605.1, with IMC Table 305.4, for sizes to 1 1/4 in (CPVC and PEX to 1 in).

use crate::catalog::{Pipe, PipeMaterial};
use crate::quantity::Length;
use crate::source::Span;

/// The source of the table.
const TABLE: &str = "IRC Table P2605.1";
/// Upright pipe that the table does not hold, and pipe that no catalog holds.
const UPRIGHT: Length = Length::feet(10);

/// The greatest distance between supports of upright pipe, with its place where the catalog says it, and whose it
/// is. The catalog may ask for less than the code allows, never more.
pub fn upright_spacing(pipe: Option<&Pipe>) -> (Length, Option<Span>, &'static str) {
    let table = pipe
        .and_then(|pipe| most_spacing(pipe.material.get()?))
        .map_or(UPRIGHT, |(_, upright)| upright);
    let stated = pipe.and_then(|pipe| pipe.support_upright.as_ref());
    match stated.and_then(|stated| Some((stated.get()?, stated.span))) {
        Some((own, span)) if own <= table => (own, Some(span), "the stock's catalog"),
        Some((_, span)) => (table, Some(span), TABLE),
        None => (table, None, TABLE),
    }
}

/// What the table allows level and upright; none where it does not hold the material.
pub const fn most_spacing(material: PipeMaterial) -> Option<(Length, Length)> {
    let ten = Length::feet(10);
    Some(match material {
        PipeMaterial::Pvc | PipeMaterial::Abs => (Length::feet(4), ten),
        PipeMaterial::Cpvc => (Length::feet(3), ten),
        PipeMaterial::Pex | PipeMaterial::Pe => (Length::inches(32), ten),
        PipeMaterial::CopperL | PipeMaterial::CopperM => (Length::feet(6), ten),
        PipeMaterial::Galvanized | PipeMaterial::Steel => (Length::feet(12), Length::feet(15)),
        PipeMaterial::CopperRefrigerant | PipeMaterial::Vinyl => return None,
    })
}
