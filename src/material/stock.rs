//! Stock that pieces are cut from, whatever shelf it lies on.

use crate::catalog::{Catalog, Price, Stated};
use crate::quantity::Length;
use crate::source::Span;

/// A shelf of stock lengths and coils.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Shelf {
    /// Trunk pipe.
    TrunkPipe,
    /// Tube in coils.
    Tube,
    /// Pipe and tubing.
    Pipe,
    /// Cable in coils.
    Cable,
}

impl Shelf {
    /// How its stock is counted.
    pub const fn unit(self) -> super::Unit {
        match self {
            Self::TrunkPipe | Self::Pipe => super::Unit::Length,
            Self::Tube | Self::Cable => super::Unit::Coil,
        }
    }

    /// What it holds, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::TrunkPipe => "trunk pipe",
            Self::Tube => "tube",
            Self::Pipe => "pipe",
            Self::Cable => "cable",
        }
    }
}

/// What the catalog says of one stock.
#[derive(Clone, Debug)]
pub(super) struct Stock {
    /// Length of a bar or coil.
    pub(super) length: Option<Length>,
    /// Where the length stands.
    pub(super) length_span: Span,
    /// Width of a cut.
    pub(super) kerf: Length,
    /// Price of a bar or coil.
    pub(super) price: Option<Price>,
    /// Where the price stands.
    pub(super) price_span: Span,
    /// Its name in the catalog.
    pub(super) span: Span,
}

impl Stock {
    fn of(
        span: Span,
        length: &Stated<Length>,
        kerf: Option<&Stated<Length>>,
        price: &Stated<Price>,
    ) -> Self {
        Self {
            length: length.get().filter(|length| *length > Length::ZERO),
            length_span: length.span,
            kerf: kerf.and_then(Stated::get).unwrap_or(Length::ZERO),
            price: price.get(),
            price_span: price.span,
            span,
        }
    }

    /// The stock called `item`; none when no catalog of the job holds it.
    pub(super) fn find(catalog: &Catalog, shelf: Shelf, item: &str) -> Option<Self> {
        match shelf {
            Shelf::TrunkPipe => catalog
                .trunk_pipes
                .get(item)
                .map(|pipe| Self::of(pipe.span, &pipe.stock, Some(&pipe.kerf), &pipe.price)),
            Shelf::Pipe => catalog
                .pipes
                .get(item)
                .map(|pipe| Self::of(pipe.span, &pipe.stock, Some(&pipe.kerf), &pipe.price)),
            // Tube and cable are parted with a knife or shears, which takes nothing.
            Shelf::Tube => catalog
                .tubes
                .get(item)
                .map(|tube| Self::of(tube.span, &tube.coil, None, &tube.price)),
            Shelf::Cable => catalog
                .cables
                .get(item)
                .map(|cable| Self::of(cable.span, &cable.coil, None, &cable.price)),
        }
    }
}
