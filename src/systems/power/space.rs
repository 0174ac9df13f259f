//! The working space before a panel: the widest clear stretch that holds its whole width.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Direction, Extent, Model, Panel, Point};
use crate::quantity::{Length, trade_length};
use crate::source::Span;

use super::code::{edition_of, nec};

/// Depth, at up to 150 V to ground (NEC Table 110.26(A)(1)).
const DEEP: Length = Length::inches(36);
/// Width (NEC 110.26(A)(2)).
const WIDE: Length = Length::inches(30);
/// Height (NEC 110.26(A)(3)).
const HIGH: Length = Length::inches(78);
/// Width of a panel that does not say (common practice).
const PANEL: Length = Length::inches(15);

/// Something that stands on the floor, with its words.
struct Thing {
    extent: Extent,
    words: String,
    span: Span,
}

/// What stands in the house and can't be moved for work. Which way a boiler faces is not said: the smaller side both
/// ways is surely taken.
fn things(model: &Model, catalog: &Catalog) -> Vec<Thing> {
    let solids = model
        .house
        .solids
        .iter()
        .filter(|solid| !solid.removable)
        .map(|solid| Thing {
            extent: solid.extent,
            words: format!("{} {}", solid.kind.word(), solid.name),
            span: solid.span,
        });
    let cabinets = model.air_handlers.values().filter_map(|unit| {
        Some(Thing {
            extent: unit.cabinet?,
            words: format!("air handler {}", unit.name),
            span: unit.span,
        })
    });
    let boilers = model.equipment.values().filter_map(|unit| {
        let size = catalog
            .boilers
            .get(&unit.model.as_ref()?.value)
            .filter(|_| unit.kind == "boiler")?
            .size
            .get()?;
        let (point, half) = (unit.point?, size.length.min(size.width).half());
        let low = Point::new(point.x - half, point.y - half, point.z);
        let high = Point::new(point.x + half, point.y + half, point.z + size.height);
        Some(Thing {
            extent: Extent::between(low, high),
            words: format!("boiler {}", unit.name),
            span: unit.span,
        })
    });
    solids.chain(cabinets).chain(boilers).collect()
}

/// Enters the widest clear stretch before a panel whose front is said to look somewhere, as far as 30 in to each side.
pub(super) fn enter_space(model: &Model, catalog: &Catalog, panel: &Panel, ledger: &mut Ledger) {
    let (Some(point), Some(faces)) = (panel.point, &panel.faces) else {
        return;
    };
    let width = panel.width.map_or(PANEL, |width| width.value);
    let along = |at: Point| match faces.value {
        Direction::North | Direction::South => at.x,
        _ => at.y,
    };
    let middle = along(point);
    let (left, right) = (middle - width.half(), middle + width.half());
    let reach = WIDE.max(width) - width;
    let (mut from, mut to) = (left - reach, right + reach);
    let far = point.toward(faces.value, DEEP);
    let corner = |at: Point, along: Length, z: Length| match faces.value {
        Direction::North | Direction::South => Point::new(along, at.y, z),
        _ => Point::new(at.x, along, z),
    };
    let strip = Extent::between(
        corner(point, from, point.z),
        corner(far, to, point.z + HIGH),
    );
    let mut figure_places = Vec::new();
    for thing in things(model, catalog) {
        let Some(shared) = thing.extent.overlap(&strip) else {
            continue;
        };
        let (low, high) = (along(shared.low), along(shared.high));
        figure_places.push((thing.span, thing.words));
        if low < right && left < high {
            // It stands before the panel itself: nothing is left of its width.
            (from, to) = (middle, middle);
            break;
        }
        if high <= left {
            from = from.max(high);
        } else {
            to = to.min(low);
        }
    }
    let mut figure = Figure::length(format!("panel.{}.working-width", panel.name), to - from)
        .formula(format!(
            "widest clear stretch before the panel that holds its whole width, {} deep and {} high; nothing where something stands before the panel itself",
            trade_length(DEEP),
            trade_length(HIGH)
        ))
        .place(faces.span, "faces")
        .source(nec(edition_of(model), ["110.26(A)"; 3]));
    for (span, words) in figure_places {
        figure = figure.place(span, words);
    }
    ledger.enter(figure);
    let height = panel
        .story
        .as_ref()
        .and_then(|story| model.house.stories.get(story));
    if let Some(story) = height {
        ledger.enter(
            Figure::length(format!("panel.{}.headroom", panel.name), story.ceiling)
                .formula("ceiling over the working space")
                .place(story.ceiling_span, "ceiling"),
        );
    }
}
