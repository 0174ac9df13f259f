//! What stands between two legs of pipe: a chain of fittings, each on a short piece behind the one before.

use crate::catalog::PipeFittingType;
use crate::figures::Figure;
use crate::quantity::{Length, trade_length};
use crate::source::Span;

use super::desk::{Desk, Draft};
use super::pipe_fitting::{Known, Measures, both, seated};
use super::pipe_route::{PipeLeg, PipeMark, PipeRoute};

/// What a node takes off the legs beside it.
pub(super) struct Taken {
    /// From the end of the leg before to the pipe's end.
    pub(super) before: Known<Measures>,
    /// From the start of the leg behind to the pipe's end, with the depth of its socket.
    pub(super) after: Known<Measures>,
    /// What the leg before ends at.
    pub(super) ahead: String,
    /// What the leg behind starts at.
    pub(super) behind: String,
    /// Whether there is a fitting.
    pub(super) fitted: bool,
    /// What the catalog says of its fittings.
    pub(super) places: Vec<(Span, String)>,
    /// Pieces of the node itself, in the order of the flow.
    pub(super) pieces: Vec<Draft>,
}

struct Chain<'c, 'a> {
    desk: &'c mut Desk<'a>,
    route: &'c PipeRoute,
    leg: &'c PipeLeg,
    first: Option<(Known<Measures>, &'static str)>,
    last: Option<(Known<Measures>, &'static str)>,
    /// From the middle of the first fitting to the middle of the last.
    offset: Known<Length>,
    pieces: Vec<Draft>,
}

/// The fittings of node `n` and the pieces between them.
pub(super) fn node(desk: &mut Desk<'_>, route: &PipeRoute, n: usize) -> Taken {
    let before = n.checked_sub(1).and_then(|n| route.legs.get(n));
    let behind = route.legs.get(n);
    let Some(leg) = before.or(behind) else {
        return Taken {
            before: Ok(Measures::NONE),
            after: Ok(Measures::NONE),
            ahead: String::new(),
            behind: String::new(),
            fitted: false,
            places: Vec::new(),
            pieces: Vec::new(),
        };
    };
    let mut marks = route.nodes.get(n).cloned().unwrap_or_default();
    let turned = matches!((before, behind), (Some(a), Some(b)) if a.direction != b.direction);
    if turned && !marks.iter().any(turns) {
        let span = behind.map_or(leg.span, |leg| leg.span);
        marks.insert(0, PipeMark::Fitting(PipeFittingType::Elbow, span));
    }
    let mut chain = Chain {
        desk,
        route,
        leg,
        first: None,
        last: None,
        offset: Ok(Length::ZERO),
        pieces: Vec::new(),
    };
    if n == 0
        && let Some(span) = route.threaded_start
    {
        let adapter = chain.fitting(PipeFittingType::MaleAdapter, span);
        chain.hang(adapter, "male adapter");
    }
    let mut rest = marks.iter().peekable();
    let mut inlet = false;
    while let Some(mark) = rest.next() {
        match mark {
            PipeMark::Fitting(kind, span) => {
                let measures = chain.fitting(*kind, *span);
                chain.hang(measures, kind.word());
                inlet = *kind == PipeFittingType::Cleanout;
            }
            PipeMark::Cleanout(kind, span) => {
                let measures = chain.fitting(*kind, *span);
                // The plug stands on the branch and takes no length of the pipe.
                let _ = chain.fitting(PipeFittingType::CleanoutPlug, *span);
                chain.hang(measures, PipeFittingType::Cleanout.word());
                inlet = true;
            }
            PipeMark::Joins(kind, into, span) => {
                let own = leg.pipe.as_ref();
                let into = into.as_ref().or(own);
                let other = own.filter(|own| into.is_some_and(|into| into.value != own.value));
                let words = route.words();
                let measures = chain.desk.pipe_fitting(*kind, (into, other), &words, *span);
                chain.hang(measures, kind.word());
                inlet = false;
            }
            PipeMark::Vent(height, span) => {
                let tee = chain.fitting(PipeFittingType::Tee, *span);
                chain.hang(tee.clone(), "vent tee");
                chain.vent(*height, tee, *span);
                inlet = false;
            }
            PipeMark::Trap { drop, seal, span } => {
                let vent = match rest.peek() {
                    Some(PipeMark::Vent(height, span)) => Some((*height, *span)),
                    _ => None,
                };
                if vent.is_some() {
                    rest.next();
                }
                chain.trap((*drop, *seal), inlet, vent, *span);
                if behind.is_some_and(|leg| !leg.direction.is_level()) {
                    let elbow = chain.fitting(PipeFittingType::Elbow, *span);
                    chain.hang(elbow, "elbow");
                    // The drop stands beside the trap: the way across to it is no part of the leg.
                    chain.offset = chain.offset.map(|_| Length::ZERO);
                }
                inlet = false;
            }
        }
    }
    if let (Some(before), Some(behind)) = (before, behind)
        && let (Some(from), Some(to)) = (&before.pipe, &behind.pipe)
        && from.value != to.value
    {
        let words = route.words();
        let reducer = chain.desk.pipe_fitting(
            PipeFittingType::Reducer,
            (Some(from), Some(to)),
            &words,
            to.span,
        );
        chain.hang(reducer, "reducer");
    }
    chain.taken()
}

const fn turns(mark: &PipeMark) -> bool {
    match mark {
        PipeMark::Fitting(kind, _) => matches!(
            kind,
            PipeFittingType::Elbow | PipeFittingType::Tee | PipeFittingType::Cleanout
        ),
        PipeMark::Joins(..) => false,
        PipeMark::Trap { .. } | PipeMark::Vent(..) | PipeMark::Cleanout(..) => true,
    }
}

impl Chain<'_, '_> {
    fn fitting(&mut self, kind: PipeFittingType, span: Span) -> Known<Measures> {
        let words = self.route.words();
        let pipes = (self.leg.pipe.as_ref(), None);
        self.desk.pipe_fitting(kind, pipes, &words, span)
    }

    fn last(&self) -> Known<Measures> {
        self.last
            .clone()
            .map_or(Ok(Measures::NONE), |(last, _)| last)
    }

    fn piece(
        &mut self,
        length: Known<Length>,
        formula: &str,
        (from, to): (&str, &str),
        joints: usize,
        span: Span,
    ) {
        let draft = self.route.draft(self.desk, self.leg, length);
        self.pieces.push(Draft {
            formula: formula.to_owned(),
            from: from.to_owned(),
            to: to.to_owned(),
            joints,
            span,
            ..draft
        });
    }

    /// Adds a fitting; behind another one it sits on a piece that fills both sockets.
    fn hang(&mut self, measures: Known<Measures>, words: &'static str) {
        if let Some((last, from)) = self.last.clone() {
            let pair = both(last, measures.clone());
            let length = pair.clone().map(|(a, b)| a.socket + b.socket);
            let formula = "fills the sockets of both fittings";
            self.piece(length, formula, (from, words), 2, self.leg.span);
            let way = pair.map(|(a, b)| a.laying + a.socket + b.socket + b.laying);
            self.offset = both(self.offset.clone(), way).map(|(offset, way)| offset + way);
        }
        self.stand(measures, words);
    }

    fn stand(&mut self, measures: Known<Measures>, words: &'static str) {
        self.first.get_or_insert((measures.clone(), words));
        self.last = Some((measures, words));
    }

    /// The open pipe on a vent's tee.
    fn vent(&mut self, height: Option<Length>, tee: Known<Measures>, span: Span) {
        let outside = self.desk.pipe(self.leg.pipe.as_ref()).and_then(|pipe| {
            pipe.outside
                .get()
                .ok_or_else(|| "the catalog does not state the pipe's outside diameter".to_owned())
        });
        let length = both(tee, outside).and_then(|(tee, outside)| {
            let height = height.ok_or_else(|| "the vent's height is not given".to_owned())?;
            seated(height + outside.half() - tee.laying, tee, Measures::NONE)
        });
        let formula = "height above the pipe and half its diameter, less what the tee takes up";
        self.piece(length, formula, ("vent tee", "open end"), 1, span);
    }

    /// A trap built of fittings. Middle to middle its down leg is drop + seal + inside diameter and its up leg
    /// seal + inside diameter: the drop runs from the pan's outlet to the weir, both at the bottom of the pipe's
    /// inside; the seal from the weir to the top of the water's way in the dip.
    fn trap(
        &mut self,
        (drop, seal): (Length, Length),
        has_inlet: bool,
        vent: Option<(Option<Length>, Span)>,
        span: Span,
    ) {
        if !has_inlet {
            let elbow = self.fitting(PipeFittingType::Elbow, span);
            self.hang(elbow, "trap inlet");
        }
        let inside = self.desk.pipe(self.leg.pipe.as_ref()).and_then(|pipe| {
            pipe.inside
                .get()
                .ok_or_else(|| "the catalog does not state the pipe's inside diameter".to_owned())
        });
        let from = self.last.as_ref().map_or("trap inlet", |(_, words)| words);
        let bottom = self.fitting(PipeFittingType::Elbow, span);
        let again = self.fitting(PipeFittingType::Elbow, span);
        let outlet = match vent {
            Some((_, span)) => self.fitting(PipeFittingType::Tee, span),
            None => self.fitting(PipeFittingType::Elbow, span),
        };
        let outlet_words = if vent.is_some() {
            "vent tee"
        } else {
            "trap outlet"
        };
        // Fittings that meet cannot go shallower: a seal of less than that is built deeper.
        let up_ends = both(again.clone(), outlet.clone());
        let up = both(up_ends, inside.clone()).map(|((bottom, outlet), inside)| {
            let asked = seal + inside - bottom.laying - outlet.laying;
            let built = asked.max(bottom.socket + outlet.socket);
            (built, seal + built - asked)
        });
        let ends = both(self.last(), bottom.clone());
        let down = both(both(ends, inside), up.clone()).and_then(
            |(((inlet, bottom), inside), (_, seal))| {
                let length = drop + seal + inside - inlet.laying - bottom.laying;
                seated(length, inlet, bottom)
            },
        );
        if let Ok((_, built)) = up {
            let id = format!("drain.{}.seal_built", self.route.name);
            self.desk.figures.push(
                Figure::length(id, built)
                    .formula("seal asked for, or the least that two elbows and the outlet's fitting make when they meet")
                    .place(span, format!("seal {}", trade_length(seal))),
            );
        }
        let formula =
            "drop, seal as built and inside diameter of the pipe, less what the fittings take up";
        self.piece(down, formula, (from, "bottom of the trap"), 2, span);
        let across = both(bottom.clone(), again.clone());
        let fill = across.clone().map(|(a, b)| a.socket + b.socket);
        let bottoms = ("bottom of the trap", "bottom of the trap");
        self.piece(fill, "fills the sockets of both fittings", bottoms, 2, span);
        let formula =
            "seal as built and inside diameter of the pipe, less what the fittings take up";
        let up = up.map(|(length, _)| length);
        self.piece(up, formula, ("bottom of the trap", outlet_words), 2, span);
        let way = across.map(|(a, b)| a.laying + a.socket + b.socket + b.laying);
        self.offset = both(self.offset.clone(), way).map(|(offset, way)| offset + way);
        self.stand(outlet.clone(), outlet_words);
        if let Some((height, span)) = vent {
            self.vent(height, outlet, span);
        }
    }

    fn taken(mut self) -> Taken {
        let mut places = std::mem::take(&mut self.desk.looked_up);
        // The same fitting twice says it once.
        places.dedup();
        for piece in &mut self.pieces {
            piece.places.extend(places.iter().cloned());
        }
        let fitted = self.last.is_some();
        let last = self.last();
        let after = both(self.offset, last).map(|(offset, last)| Measures {
            laying: offset + last.laying,
            socket: last.socket,
        });
        let (before, ahead) = self.first.unwrap_or((Ok(Measures::NONE), ""));
        let behind = self.last.map_or("", |(_, words)| words);
        Taken {
            before,
            after,
            ahead: or_else(ahead, &self.route.to),
            behind: or_else(behind, &self.route.from),
            fitted,
            places,
            pieces: self.pieces,
        }
    }
}

fn or_else(words: &str, other: &str) -> String {
    if words.is_empty() { other } else { words }.to_owned()
}
