//! Rigid pipe with fittings in sockets: legs less what the fittings take up, split into stock lengths with couplings.

use crate::catalog::PipeFittingType;
use crate::model::Direction;
use crate::quantity::{Length, trade_length};
use crate::source::{Span, Spanned};

use super::desk::{Desk, Draft};
use super::piece::System;
use super::pipe_fitting::{Known, both, seated, stock_length};
use super::pipe_node::{Taken, node};
use super::room_left::Split;
use super::stock::Shelf;

/// A straight leg of pipe.
#[derive(Clone)]
pub(super) struct PipeLeg {
    pub(super) direction: Direction,
    pub(super) length: Length,
    pub(super) pipe: Option<Spanned<String>>,
    /// Height of its start above the lowest floor.
    pub(super) height: Option<Length>,
    pub(super) field_cut: bool,
    pub(super) span: Span,
}

impl PipeLeg {
    /// Its words in the spec.
    pub(super) fn said(&self) -> String {
        format!("{} {}", self.direction.word(), trade_length(self.length))
    }
}

/// What stands at a node between two legs, in the order of the flow.
#[derive(Clone)]
pub(super) enum PipeMark {
    /// A fitting in line or at a turn.
    Fitting(PipeFittingType, Span),
    /// A cleanout in a fitting of its own kind, its plug apart.
    Cleanout(PipeFittingType, Span),
    /// The fitting in another drain that the route ends in, and that drain's pipe.
    Joins(PipeFittingType, Option<Spanned<String>>, Span),
    /// A trap built of fittings: drop from the pan outlet to the weir, seal below it.
    Trap {
        drop: Length,
        seal: Length,
        span: Span,
    },
    /// An open vent pipe on a tee, and its height above the pipe.
    Vent(Option<Length>, Span),
}

/// A route of pipe from one thing to another.
pub(super) struct PipeRoute {
    pub(super) system: System,
    pub(super) name: String,
    pub(super) legs: Vec<PipeLeg>,
    /// Marks before each leg and after the last: one more than there are legs.
    pub(super) nodes: Vec<Vec<PipeMark>>,
    /// The words of a threaded port at the start.
    pub(super) threaded_start: Option<Span>,
    pub(super) from: String,
    pub(super) to: String,
}

impl PipeRoute {
    /// `drain primary`.
    pub(super) fn words(&self) -> String {
        format!("{} {}", self.system.word(), self.name)
    }

    /// A piece of a leg of this route, before its ends are known.
    pub(super) fn draft(&self, desk: &Desk<'_>, leg: &PipeLeg, length: Known<Length>) -> Draft {
        let mut places = vec![(leg.span, leg.said())];
        places.extend(
            leg.pipe
                .as_ref()
                .map(|pipe| (pipe.span, pipe.value.clone())),
        );
        Draft {
            system: self.system,
            route: self.name.clone(),
            item: leg
                .pipe
                .as_ref()
                .map_or_else(String::new, |pipe| pipe.value.clone()),
            shelf: Shelf::Pipe,
            length,
            formula: String::new(),
            places,
            source: "geometry",
            from: String::new(),
            to: String::new(),
            room: None,
            story: leg.height.and_then(|height| desk.story_at(height)),
            span: leg.span,
            field_cut: leg.field_cut,
            removable: false,
            joints: 0,
        }
    }
}

/// Takes a route off, in the order of the flow.
pub(super) fn take_off(desk: &mut Desk<'_>, route: &PipeRoute) {
    let mut start = node(desk, route, 0);
    for draft in std::mem::take(&mut start.pieces) {
        desk.piece(draft);
    }
    for (n, leg) in route.legs.iter().enumerate() {
        let mut end = node(desk, route, n + 1);
        one_leg(desk, route, leg, &start, &end);
        for draft in std::mem::take(&mut end.pieces) {
            desk.piece(draft);
        }
        start = end;
    }
}

/// A length of pipe in stock lengths with couplings between.
pub(super) struct Coupled<'p> {
    pub(super) pipe: Option<&'p Spanned<String>>,
    pub(super) stock: Length,
    /// Depth of the socket at its end; none where that is a coupling too.
    pub(super) socket: Option<Length>,
    /// Couplings that it takes beyond those between its pieces.
    pub(super) beyond: usize,
}

impl Coupled<'_> {
    /// The lengths of its pieces; their couplings are counted.
    pub(super) fn split(
        &self,
        desk: &mut Desk<'_>,
        room: Length,
        words: &str,
        span: Span,
    ) -> Known<Vec<Length>> {
        let pipes = (self.pipe, None);
        let coupling = desk.pipe_fitting(PipeFittingType::Coupling, pipes, words, span)?;
        let split = Split {
            stock: self.stock,
            joint: coupling.laying * 2,
            least: coupling.socket + self.socket.unwrap_or(coupling.socket),
        };
        let lengths = split.pieces(room);
        // One was looked up above.
        for _ in 2..lengths.len() + self.beyond {
            let _ = desk.pipe_fitting(PipeFittingType::Coupling, pipes, words, span);
        }
        Ok(lengths)
    }
}

fn one_leg(desk: &mut Desk<'_>, route: &PipeRoute, leg: &PipeLeg, start: &Taken, end: &Taken) {
    let formula = "leg, less what the fittings at its ends take up";
    let plan = both(start.after.clone(), end.before.clone()).and_then(|(before, after)| {
        let room = leg.length - before.laying - after.laying;
        let stock = stock_length(desk.pipe(leg.pipe.as_ref())?)?;
        seated(room, before, after)?;
        Ok((room, stock, before.socket.max(after.socket)))
    });
    let draft = |desk: &Desk<'_>, length| {
        let mut draft = Draft {
            formula: formula.to_owned(),
            from: start.behind.clone(),
            to: end.ahead.clone(),
            joints: usize::from(start.fitted) + usize::from(end.fitted),
            ..route.draft(desk, leg, length)
        };
        let beside = start.places.iter().chain(&end.places);
        draft.places.extend(beside.cloned());
        draft
    };
    let (room, stock, socket) = match plan {
        Ok(plan) => plan,
        Err(reason) => {
            desk.piece(draft(desk, Err(reason)));
            return;
        }
    };
    if room <= stock {
        desk.piece(draft(desk, Ok(room)));
        return;
    }
    let words = route.words();
    let joined = Coupled {
        pipe: leg.pipe.as_ref(),
        stock,
        socket: Some(socket),
        beyond: 0,
    };
    let lengths = match joined.split(desk, room, &words, leg.span) {
        Ok(lengths) => lengths,
        Err(reason) => {
            desk.piece(draft(desk, Err(reason)));
            return;
        }
    };
    let count = lengths.len();
    let mut couplings = std::mem::take(&mut desk.looked_up);
    couplings.dedup();
    for (n, length) in lengths.into_iter().enumerate() {
        let mut piece = draft(desk, Ok(length));
        piece.places.extend(couplings.iter().cloned());
        if n > 0 {
            "coupling".clone_into(&mut piece.from);
        }
        if n + 1 < count {
            "coupling".clone_into(&mut piece.to);
        }
        piece.joints =
            usize::from(n > 0 || start.fitted) + usize::from(n + 1 < count || end.fitted);
        "leg, less what the fittings at its ends and the couplings take up, in stock lengths"
            .clone_into(&mut piece.formula);
        desk.piece(piece);
    }
}
