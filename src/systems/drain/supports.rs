//! Greatest distance between supports by material and direction.
//!
//! Source: IRC Table P2605.1, with IMC Table 305.4, for sizes to 1 1/4 in (CPVC and PEX to 1 in).

use crate::catalog::PipeMaterial;
use crate::quantity::Length;

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
