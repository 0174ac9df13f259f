//! Fittings of pipe in the catalog, with what they take up.

use crate::catalog::{Pipe, PipeFitting, PipeFittingType, Stated};
use crate::quantity::{Length, trade_length};
use crate::source::{Span, Spanned};

use super::desk::Desk;
use super::need::Sold;

/// What a fitting takes up.
#[derive(Clone, Copy, Debug)]
pub(super) struct Measures {
    /// From the pipe's end in its socket to its middle.
    pub(super) laying: Length,
    /// Depth of its socket.
    pub(super) socket: Length,
}

impl Measures {
    /// An end without a fitting.
    pub(super) const NONE: Self = Self {
        laying: Length::ZERO,
        socket: Length::ZERO,
    };
}

/// Known, or why not.
pub(super) type Known<T> = Result<T, String>;

/// Two known values, or the first reason.
pub(super) fn both<A, B>(a: Known<A>, b: Known<B>) -> Known<(A, B)> {
    Ok((a?, b?))
}

/// A piece between two fittings, if it reaches into both of their sockets.
pub(super) fn seated(length: Length, one: Measures, other: Measures) -> Known<Length> {
    let least = one.socket + other.socket;
    if length < least || length <= Length::ZERO {
        return Err(format!(
            "the fittings leave {} where their sockets need {}",
            trade_length(length),
            trade_length(least)
        ));
    }
    Ok(length)
}

/// The length in which a pipe is sold.
pub(super) fn stock_length(pipe: &Pipe) -> Known<Length> {
    let stock = pipe.stock.get();
    stock.ok_or_else(|| "the catalog does not state the stock length".to_owned())
}

impl<'a> Desk<'a> {
    /// The pipe that is named.
    pub(super) fn pipe(&self, named: Option<&Spanned<String>>) -> Known<&'a Pipe> {
        let named = named.ok_or_else(|| "no pipe is named".to_owned())?;
        self.catalog
            .pipes
            .get(&named.value)
            .ok_or_else(|| format!("no catalog of the job holds the pipe `{}`", named.value))
    }

    fn find_pipe_fitting(
        &self,
        kind: PipeFittingType,
        pipe: Option<&Spanned<String>>,
        to: Option<&Spanned<String>>,
    ) -> Known<(&'a str, &'a PipeFitting)> {
        let own = self.pipe(pipe)?;
        let (material, size) = (own.material.get(), own.size.get());
        let other = match to {
            Some(to) => self.pipe(Some(to))?.size.get(),
            None => None,
        };
        self.catalog
            .pipe_fittings
            .iter()
            .find(|(_, fitting)| {
                let far = fitting.to.as_ref().and_then(Stated::get);
                let ends = (fitting.size.get(), far);
                fitting.type_of.get() == Some(kind)
                    && material.is_some()
                    && fitting.material.get() == material
                    && (ends == (size, other) || other.is_some() && ends == (other, size))
            })
            .map(|(name, fitting)| (name.as_str(), fitting))
            .ok_or_else(|| {
                let named = pipe.map_or("", |pipe| pipe.value.as_str());
                match to {
                    Some(to) => format!(
                        "no {} from {named} to {} in the catalog",
                        kind.word(),
                        to.value
                    ),
                    None => format!("no {} for {named} in the catalog", kind.word()),
                }
            })
    }

    /// Counts a fitting for `route` and gives its measures.
    pub(super) fn pipe_fitting(
        &mut self,
        kind: PipeFittingType,
        (pipe, to): (Option<&Spanned<String>>, Option<&Spanned<String>>),
        route: &str,
        span: Span,
    ) -> Known<Measures> {
        let place = Some((span, kind.word().to_owned()));
        match self.find_pipe_fitting(kind, pipe, to) {
            Ok((name, fitting)) => {
                let sold = Sold::at(fitting.span, Some(&fitting.price), fitting.pack.as_ref());
                self.needs.add(name, sold, 1, route, place);
                if let (Some(laying), Some(socket)) = (fitting.laying.get(), fitting.socket.get()) {
                    let said = format!(
                        "{name}: laying {}, socket {}",
                        trade_length(laying),
                        trade_length(socket)
                    );
                    self.looked_up.push((fitting.laying.span, said));
                }
                let silent =
                    |what: &str| format!("the catalog does not state the {what} of `{name}`");
                Ok(Measures {
                    laying: fitting
                        .laying
                        .get()
                        .ok_or_else(|| silent("laying length"))?,
                    socket: fitting.socket.get().ok_or_else(|| silent("socket"))?,
                })
            }
            Err(reason) => {
                let named = pipe.map_or("pipe", |pipe| pipe.value.as_str());
                let item = format!("{} for {named}", kind.word());
                self.needs
                    .add_missing(&item, 1, reason.clone(), route, place);
                Err(reason)
            }
        }
    }
}
