//! Takes the pieces off the model.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::source::Span;

use super::cut_list::{self, CutList};
use super::desk::Desk;
use super::hole::Hole;
use super::need::Need;
use super::outlet::{self, OutletRow};
use super::piece::Piece;
use super::reading::{self, Reading};
use super::wire::{self, WireRow};
use super::{cable, drain, equipment, figure, hanger, line_set, sealant, trunk, tube, water_pipe};

/// What is to be cut, bought and measured.
#[derive(Debug, Default)]
pub struct Material {
    /// Pieces, in the order of build.
    pub pieces: Vec<Piece>,
    /// Pieces packed into stock lengths, stock by stock.
    pub cut_lists: Vec<CutList>,
    /// Holes and tees, trunk by trunk, by distance.
    pub holes: Vec<Hole>,
    /// Everything to bring: the pull list counts it, the order buys it.
    pub needs: Vec<Need>,
    /// Models that are there already, with the heads of their blocks: neither brought nor bought.
    pub existing: Vec<(Span, Span)>,
    /// Conductors, terminal to terminal.
    pub wires: Vec<WireRow>,
    /// Outlets with their runs.
    pub outlets: Vec<OutletRow>,
    /// What to measure at start-up.
    pub readings: Vec<Reading>,
    /// The figures of all of it, to be entered in the ledger.
    pub figures: Vec<Figure>,
}

/// The material of a job.
pub fn take_off(model: &Model, catalog: &Catalog, ledger: &Ledger) -> Material {
    let mut desk = Desk::new(model, catalog, ledger);
    equipment::take_off(&mut desk);
    trunk::take_off(&mut desk);
    tube::take_off(&mut desk);
    let outlets = outlet::take_off(&mut desk);
    drain::take_off(&mut desk);
    water_pipe::take_off(&mut desk);
    line_set::take_off(&mut desk);
    cable::take_off(&mut desk);
    hanger::trunks(&mut desk);
    hanger::tubes(&mut desk);
    hanger::named(&mut desk);
    sealant::take_off(&mut desk);
    let cut_lists = cut_list::take_off(&mut desk);
    let wires = wire::take_off(&desk);
    let readings = reading::take_off(&desk);
    let needs = desk.needs.finish();
    let mut figures = desk.figures;
    figures.extend(needs.iter().flat_map(figure::need));
    Material {
        pieces: desk.pieces,
        cut_lists,
        holes: desk.holes,
        needs,
        existing: desk.existing,
        wires,
        outlets,
        readings,
        figures,
    }
}
