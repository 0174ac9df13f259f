//! Drawings as data: lines, boxes, circles, hatches, texts, leaders and dimensions, written as SVG.
//!
//! One unit is one point on paper, x to the right, y down. Black on white throughout: kinds are told
//! apart by line and hatch, never by colour.

mod dimension;
mod drawing;
mod leader;
mod scale;
mod shape;
mod sign;
mod svg;

pub use drawing::{Lettering, Scene};
pub use scale::Scale;
pub use shape::{Anchor, Area, Dash, Fill, Hatch, Pen, Point};
