//! Outlets with their runs, as a list.

use crate::model::{Outlet, Surface};
use crate::quantity::{Length, trade_length};
use crate::source::Span;

use super::desk::Desk;
use super::need::Sold;
use super::piece::System;

/// An outlet with its run.
#[derive(Clone, Debug)]
pub struct OutletRow {
    /// Its name.
    pub name: String,
    /// Its room.
    pub room: String,
    /// Its story.
    pub story: String,
    /// `ceiling`, `floor` or `wall north`.
    pub surface: String,
    /// East of the room's corner.
    pub x: Option<Length>,
    /// North of the room's corner.
    pub y: Option<Length>,
    /// Hole in the surface.
    pub hole: Option<Length>,
    /// The catalog's outlet, where it is known.
    pub item: Option<String>,
    /// The trunk it is fed from.
    pub trunk: Option<String>,
    /// Where its run leaves the trunk.
    pub take_off: Option<Length>,
    /// On which side.
    pub side: Option<String>,
    /// Its run's taped length.
    pub run: Option<Length>,
    /// Its run's bends.
    pub bends: Option<usize>,
    /// The tag of its tube.
    pub tag: Option<String>,
    /// The figure of its airflow, when the ledger has one.
    pub airflow: Option<String>,
    /// The statement.
    pub span: Span,
}

/// All outlets, room by room.
pub(super) fn take_off(desk: &mut Desk<'_>) -> Vec<OutletRow> {
    let model = desk.model;
    let mut rows = Vec::new();
    for room in model.house.rooms.values() {
        for outlet in &room.outlets {
            let run = model
                .runs
                .values()
                .enumerate()
                .find(|(_, run)| run.outlet.as_ref() == Some(&outlet.name));
            let inside = run
                .and_then(|(_, run)| run.tube.as_ref())
                .and_then(|tube| desk.catalog.tubes.get(&tube.value))
                .and_then(|tube| tube.inside.get());
            let (item, hole) = counted(desk, outlet, inside);
            let corner = room.extent.map(|extent| extent.low);
            let surface = match outlet.surface {
                Surface::Ceiling => "ceiling".to_owned(),
                Surface::Floor => "floor".to_owned(),
                Surface::Wall(side) => format!("wall {}", side.word()),
            };
            let solved = run.map(|(_, run)| format!("run.{}.airflow", run.name));
            let shared = format!("room.{}.outlet_airflow", room.name);
            let airflow = solved
                .into_iter()
                .chain([shared])
                .find(|id| desk.ledger.get(id).is_some());
            rows.push(OutletRow {
                name: outlet.name.clone(),
                room: room.name.clone(),
                story: room.story.value.clone(),
                surface,
                x: corner.map(|corner| outlet.point.x - corner.x),
                y: corner.map(|corner| outlet.point.y - corner.y),
                hole,
                item,
                trunk: run.map(|(_, run)| run.trunk.value.clone()),
                take_off: run.and_then(|(_, run)| run.station).map(|s| s.value),
                side: run.and_then(|(_, run)| run.side.clone()).map(|s| s.value),
                run: run.and_then(|(_, run)| run.length()),
                bends: run
                    .and_then(|(_, run)| run.bends)
                    .and_then(|bends| super::hanger::whole(bends.value)),
                tag: run.map(|(n, _)| format!("{}-{:02}", System::Run.letter(), n + 1)),
                airflow,
                span: outlet.span,
            });
        }
    }
    rows
}

/// Counts the outlet that the job names, else the one that fits its tube.
fn counted(
    desk: &mut Desk<'_>,
    outlet: &Outlet,
    inside: Option<Length>,
) -> (Option<String>, Option<Length>) {
    let place = Some((outlet.span, format!("outlet {}", outlet.name)));
    let found = match (&outlet.model, inside) {
        (Some(named), _) => desk
            .catalog
            .outlets
            .get_key_value(&named.value)
            .map(|(name, item)| (name.as_str(), item))
            .ok_or_else(|| {
                (
                    named.value.clone(),
                    format!("no catalog of the job holds the outlet `{}`", named.value),
                )
            }),
        (None, Some(inside)) => {
            super::tube::only(&desk.catalog.outlets, "outlet", inside, |o| o.tube.get()).map_err(
                |reason| {
                    let item = format!("outlet for {} tube", trade_length(inside));
                    (item, format!("{reason}; the job names none"))
                },
            )
        }
        (None, None) => Err((
            "outlet".to_owned(),
            "neither a model nor a tube of the catalog is named".to_owned(),
        )),
    };
    match found {
        Ok((name, item)) => {
            let sold = Sold::at(item.span, Some(&item.price), Some(&item.pack));
            desk.needs.add(name, sold, 1, "outlets", place);
            (Some(name.to_owned()), item.hole.get())
        }
        Err((item, reason)) => {
            desk.needs.add_missing(&item, 1, reason, "outlets", place);
            (None, None)
        }
    }
}
