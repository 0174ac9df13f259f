//! Fittings of trunks in the catalog, counted, with what they add along the run.

use crate::catalog::{Section, Stated, TrunkFitting, TrunkFittingType, TrunkPipe};
use crate::model::{Trunk, TrunkLeg};
use crate::quantity::{Length, trade_length};
use crate::source::Span;

use super::desk::Desk;
use super::fastening::screws;
use super::need::Sold;

/// `9 in round`, `8 in x 10 in`.
pub(super) fn section_words(section: Section) -> String {
    match section {
        Section::Round(d) => format!("{} round", trade_length(d)),
        Section::Rectangular(w, h) => format!("{} x {}", trade_length(w), trade_length(h)),
        Section::Pipe(d) => trade_length(d),
    }
}

/// The way around a section; a circle's is rounded to the nanometre.
pub(super) fn around(section: Section) -> Length {
    match section {
        Section::Round(d) | Section::Pipe(d) => {
            Length::nearest(d.to_inches() * std::f64::consts::PI)
        }
        Section::Rectangular(w, h) => (w + h) * 2,
    }
}

/// A fitting of the catalog with its length along the run.
pub(super) struct Found<'c> {
    name: &'c str,
    fitting: &'c TrunkFitting,
    pub(super) length: Length,
}

impl<'a> Desk<'a> {
    /// The pipe of a leg.
    pub(super) fn trunk_pipe(&self, leg: &TrunkLeg) -> Result<(&'a str, &'a TrunkPipe), String> {
        let Some(named) = &leg.pipe else {
            return Err("no pipe is named".to_owned());
        };
        self.catalog
            .trunk_pipes
            .get_key_value(&named.value)
            .map(|(name, pipe)| (name.as_str(), pipe))
            .ok_or_else(|| format!("no catalog of the job holds the pipe `{}`", named.value))
    }

    /// The section of a leg's pipe.
    pub(super) fn section(&self, leg: &TrunkLeg) -> Result<Section, String> {
        let (name, pipe) = self.trunk_pipe(leg)?;
        pipe.section
            .get()
            .ok_or_else(|| format!("the catalog does not state the section of `{name}`"))
    }

    pub(super) fn trunk_fitting(
        &self,
        kind: TrunkFittingType,
        section: Section,
        to: Option<Section>,
    ) -> Result<Found<'a>, String> {
        let found = self.catalog.trunk_fittings.iter().find(|(_, fitting)| {
            let ends = (
                fitting.section.get(),
                fitting.to.as_ref().and_then(Stated::get),
            );
            fitting.type_of.get() == Some(kind)
                && (ends == (Some(section), to) || to.is_some() && ends == (to, Some(section)))
        });
        let what = fitting_words(kind, section, to);
        let (name, fitting) = found.ok_or_else(|| format!("no {what} in the catalog"))?;
        let length = fitting
            .length
            .get()
            .ok_or_else(|| format!("the catalog does not state the length of `{name}`"))?;
        Ok(Found {
            name,
            fitting,
            length,
        })
    }

    /// Notes that a piece rests on a fitting's length.
    pub(super) fn look_up(&mut self, found: &Found<'_>) {
        let said = format!("{}: length {}", found.name, trade_length(found.length));
        self.looked_up.push((found.fitting.length.span, said));
    }

    /// Counts one fitting and gives its length.
    pub(super) fn count_fitting(
        &mut self,
        kind: TrunkFittingType,
        section: Result<Section, String>,
        to: Option<Section>,
        route: &str,
        span: Span,
    ) -> Result<Length, String> {
        let section = section?;
        let what = fitting_words(kind, section, to);
        let place = Some((span, kind.word().to_owned()));
        match self.trunk_fitting(kind, section, to) {
            Ok(found) => {
                let sold = Sold::at(
                    found.fitting.span,
                    Some(&found.fitting.price),
                    found.fitting.pack.as_ref(),
                );
                self.needs.add(found.name, sold, 1, route, place);
                self.look_up(&found);
                Ok(found.length)
            }
            Err(reason) => {
                self.needs
                    .add_missing(&what, 1, reason.clone(), route, place);
                Err(reason)
            }
        }
    }

    /// Counts the adapter of a trunk with its screws and gasket, and gives its length.
    pub(super) fn adapter(&mut self, trunk: &Trunk, route: &str) -> Result<Length, String> {
        let Some(named) = &trunk.adapter else {
            return Err("no adapter is named".to_owned());
        };
        let place = Some((named.span, named.value.clone()));
        let Some(adapter) = self.catalog.adapters.get(&named.value) else {
            let reason = format!("no catalog of the job holds the adapter `{}`", named.value);
            self.needs
                .add_missing(&named.value, 1, reason.clone(), route, place);
            return Err(reason);
        };
        let sold = Sold::at(adapter.span, Some(&adapter.price), None);
        self.needs.add(&named.value, sold, 1, route, place);
        if adapter.gasket.get() == Some(true)
            && let Some(section) = adapter.from.get()
        {
            self.gaskets += around(section);
        }
        if let Some(count) = adapter.screws.get() {
            let place = (adapter.screws.span, format!("{} screws", count.0));
            screws(self, "adapter", count.0 as usize, "adapters", place);
        }
        if let Some(length) = adapter.length.get() {
            let said = format!("{}: length {}", named.value, trade_length(length));
            self.looked_up.push((adapter.length.span, said));
        }
        adapter
            .length
            .get()
            .ok_or_else(|| format!("the catalog does not state the length of `{}`", named.value))
    }
}

fn fitting_words(kind: TrunkFittingType, section: Section, to: Option<Section>) -> String {
    match to {
        Some(to) => format!(
            "{} from {} to {}",
            kind.word(),
            section_words(section),
            section_words(to)
        ),
        None => format!("{} for {}", kind.word(), section_words(section)),
    }
}
