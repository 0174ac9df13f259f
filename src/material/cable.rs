//! Power and control cable: one piece each, as taped, and what is needed to make up the ends.

use crate::quantity::{Length, trade_length};
use crate::source::{Span, Spanned};

use super::desk::{Desk, Draft};
use super::hanger;
use super::need::Sold;
use super::piece::System;
use super::stock::Shelf;

/// Power cable left over at each end to make up in panel, disconnect and unit (common practice).
const POWER_END: Length = Length::feet(2);

/// Control cable left over at each end (common practice).
const CONTROL_END: Length = Length::feet(1);

struct Laid<'l> {
    system: System,
    name: &'l str,
    item: Option<&'l Spanned<String>>,
    measured: Option<Spanned<Length>>,
    end: Length,
    from: String,
    to: String,
    span: Span,
    whole: Span,
}

/// All circuits, then all control cables.
pub(super) fn take_off(desk: &mut Desk<'_>) {
    let model = desk.model;
    for circuit in model.circuits.values().filter(|circuit| !circuit.existing) {
        let from = circuit
            .panel
            .as_ref()
            .map_or_else(|| "panel".to_owned(), |panel| panel.value.clone());
        lay(
            desk,
            Laid {
                system: System::Power,
                name: &circuit.name,
                item: circuit.cable.as_ref(),
                measured: circuit.measured,
                end: POWER_END,
                from,
                to: circuit.unit.value.clone(),
                span: circuit.span,
                whole: circuit.whole,
            },
        );
        breaker(desk, circuit);
    }
    for cable in model.cables.values() {
        lay(
            desk,
            Laid {
                system: System::Control,
                name: &cable.name,
                item: cable.item.as_ref(),
                measured: cable.measured,
                end: CONTROL_END,
                from: cable.from.value.clone(),
                to: cable.to.value.clone(),
                span: cable.span,
                whole: cable.whole,
            },
        );
    }
}

fn lay(desk: &mut Desk<'_>, laid: Laid<'_>) {
    let known = laid
        .item
        .and_then(|item| desk.catalog.cables.get(&item.value));
    let length = match (laid.measured, laid.item, known) {
        (None, ..) => Err(desk.open_reason(laid.whole, "measured")),
        (_, None, _) => {
            let word = if laid.system == System::Power {
                "cable"
            } else {
                "type"
            };
            Err(desk.open_reason(laid.whole, word))
        }
        (_, Some(item), None) => Err(format!(
            "no catalog of the job holds the cable `{}`",
            item.value
        )),
        (Some(measured), Some(_), Some(_)) => Ok(measured.value + laid.end * 2),
    };
    let mut places = Vec::new();
    if let Some(measured) = laid.measured {
        let said = format!("measured {}", trade_length(measured.value));
        places.push((measured.span, said));
    }
    if let (Ok(_), Some(measured)) = (&length, laid.measured) {
        let place = (measured.span, trade_length(measured.value));
        hanger::cable(desk, measured.value, "cables", place);
    }
    desk.piece(Draft {
        system: laid.system,
        route: laid.name.to_owned(),
        item: laid
            .item
            .map_or_else(String::new, |item| item.value.clone()),
        shelf: Shelf::Cable,
        length,
        formula: format!(
            "taped length and {} at each end to make up",
            trade_length(laid.end)
        ),
        places,
        source: "common practice",
        from: laid.from,
        to: laid.to,
        room: None,
        story: None,
        span: laid.span,
        field_cut: false,
        removable: false,
        joints: 0,
    });
}

/// The breaker is ordered for its panel, which the catalog does not hold.
fn breaker(desk: &mut Desk<'_>, circuit: &crate::model::Circuit) {
    let Some(rating) = circuit.breaker else {
        return;
    };
    let poles = circuit
        .poles
        .as_ref()
        .map_or_else(String::new, |poles| format!(", {}", poles.value));
    let item = format!(
        "breaker, {} A{poles}",
        crate::quantity::number_text(rating.value, 1)
    );
    let place = Some((rating.span, item.clone()));
    let words = format!("circuit {}", circuit.name);
    desk.needs.add(&item, Sold::default(), 1, &words, place);
}
