//! Conductors and what protects them: the tables of NFPA 70, each a data file beside its functions.

mod ampacity;
mod protection;
mod resistance;
mod size;

pub use ampacity::{Column, ambient_factor, ambient_factor_of_row, ampacity, bundling_factor};
pub use protection::{
    Edition, Metal, grounding_conductor, largest_standard_rating_not_above, small_conductor_limit,
    standard_rating_at_or_above,
};
pub use resistance::{Stranding, area, resistance, sizes};
pub use size::Size;
