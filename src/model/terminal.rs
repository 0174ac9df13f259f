//! Ends by name: a port or a control terminal of a thing, as `ah.supply` or `ah.R`.

use crate::catalog::{Ports, nearest};
use crate::source::{Finding, Span, Spanned};

use super::builder::Builder;
use super::mistakes::TERMINAL_UNKNOWN;
use super::place::Point;
use super::references::{TERMINAL_HOLDERS, holder_of};

/// An end that `holder` does not have: what it has instead, and the nearest of that as the mend.
fn unheld(at: Span, message: String, holder: &str, has: &[&str], meant: &str) -> Finding {
    let list: Vec<String> = has.iter().map(|end| format!("`{holder}.{end}`")).collect();
    let help = format!("it has {}", list.join(", "));
    let finding = Finding::new(&TERMINAL_UNKNOWN, at, message, help);
    match nearest(has.iter().copied(), meant) {
        Some(near) => finding.edit(at, format!("{holder}.{near}")),
        None => finding,
    }
}

impl Builder<'_> {
    /// An opening by which power or control enters, where it is one of an air handler.
    pub(super) fn opening(&mut self, port: &Spanned<String>) {
        let unit = port.value.split('.').next().unwrap_or_default();
        if self.model.air_handlers.contains_key(unit) {
            self.port(port);
        }
    }

    /// The unit and place of a port such as `ah.supply`; reports what is not known.
    pub(super) fn port(&mut self, port: &Spanned<String>) -> Option<(String, Point)> {
        let (unit, name) = port
            .value
            .split_once('.')
            .unwrap_or((port.value.as_str(), ""));
        let unit_word = Spanned::new(unit.to_owned(), port.span);
        if !self.expect(&["air-handler"], &unit_word) {
            return None;
        }
        let placed = self.model.air_handlers.get(unit)?;
        if let Some(found) = placed.port(name) {
            return Some((unit.to_owned(), found.point));
        }
        placed.cabinet?;
        let has: Vec<&'static str> = placed.sheet.ports.iter().map(|(name, _)| name).collect();
        if has.contains(&name) {
            // The catalog does not say where it is.
            return None;
        }
        let exists = Ports::NAMES.contains(&name);
        let message = if exists {
            format!("`{}` has no port `{name}`", placed.model.value)
        } else {
            format!("`{}` is no port of `{unit}`", port.value)
        };
        let finding = unheld(port.span, message, unit, &has, name);
        self.report(finding);
        None
    }

    /// Checks a terminal such as `ah.R`, or the name of a splice.
    pub(super) fn terminal(&mut self, end: &Spanned<String>) -> bool {
        let (holder, terminal) = end
            .value
            .split_once('.')
            .unwrap_or((end.value.as_str(), ""));
        let place = holder_of(end.span, holder);
        let word = Spanned::new(holder.to_owned(), place);
        if !self.expect(TERMINAL_HOLDERS, &word) {
            return false;
        }
        if self.names.has(&["splice"], holder) {
            return true;
        }
        let (known, sheet): (Vec<String>, Span) =
            if let Some(unit) = self.model.air_handlers.get(holder) {
                (
                    unit.sheet.control.keys().cloned().collect(),
                    unit.sheet.span,
                )
            } else if let Some(terminals) = self
                .model
                .equipment
                .get(holder)
                .and_then(|e| e.terminals.as_ref())
            {
                let span = terminals
                    .values()
                    .next()
                    .map_or(end.span, |terminal| terminal.span);
                (terminals.keys().cloned().collect(), span)
            } else {
                return true;
            };
        let known: Vec<&str> = known.iter().map(String::as_str).collect();
        if known.contains(&terminal) {
            return true;
        }
        let message = format!("`{holder}` has no terminal `{terminal}`");
        let finding = unheld(end.span, message, holder, &known, terminal)
            .label(sheet, "the model's terminals");
        self.report(finding);
        false
    }
}
