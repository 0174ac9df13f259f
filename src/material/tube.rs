//! Tubes: one cut a run, the sound section apart, with take-off, outlet and orifice.

use crate::catalog::{Shelf as CatalogShelf, TakeOff};
use crate::quantity::{Length, trade_length};

use super::desk::{Desk, Draft};
use super::fastening::screws;
use super::need::Sold;
use super::piece::System;
use super::stock::Shelf;

/// The one take-off that fits a tube.
pub(super) fn take_off_for<'a>(
    desk: &Desk<'a>,
    inside: Length,
) -> Result<(&'a str, &'a TakeOff), String> {
    only(&desk.catalog.take_offs, "take-off", inside, |item| {
        item.tube.get()
    })
}

/// The one item of a shelf that fits a tube.
pub(super) fn only<'a, T>(
    shelf: &'a CatalogShelf<T>,
    what: &str,
    inside: Length,
    tube: impl Fn(&T) -> Option<Length>,
) -> Result<(&'a str, &'a T), String> {
    let mut fitting = shelf.iter().filter(|(_, item)| tube(item) == Some(inside));
    let size = trade_length(inside);
    match (fitting.next(), fitting.next()) {
        (Some((name, item)), None) => Ok((name.as_str(), item)),
        (Some(_), Some(_)) => Err(format!("several {what}s of the catalog fit {size} tube")),
        (None, _) => Err(format!("no {what} for {size} tube in the catalog")),
    }
}

/// All runs, in the order written: the tag of a run's tube is its place in the job.
pub(super) fn take_off(desk: &mut Desk<'_>) {
    let model = desk.model;
    for run in model.runs.values() {
        let tube = run
            .tube
            .as_ref()
            .and_then(|named| Some((named, desk.catalog.tubes.get(&named.value)?)));
        let mut places = Vec::new();
        if let Some(measured) = run.measured {
            let said = format!("measured {}", trade_length(measured.value));
            places.push((measured.span, said));
        }
        let mut formula = "taped length".to_owned();
        let length = match (run.measured, tube) {
            (None, _) => Err(desk.open_reason(run.whole, "measured")),
            (_, None) => Err(match &run.tube {
                Some(named) => format!("no catalog of the job holds the tube `{}`", named.value),
                None => desk.open_reason(run.whole, "tube"),
            }),
            (Some(measured), Some((named, tube))) => {
                match (tube.sound.length.get(), tube.sound.per_run.get()) {
                    (Some(sound), Some(per_run)) => {
                        let sections = sound * i64::from(per_run.0);
                        "taped length, less the sound sections".clone_into(&mut formula);
                        let said = format!("sound section {}", trade_length(sound));
                        places.push((tube.sound.length.span, said));
                        let place = (run.span, format!("run {}", run.name));
                        let name = format!("sound section for {}", named.value);
                        let sold = Sold::at(tube.sound.span, Some(&tube.sound.price), None);
                        desk.needs
                            .add(&name, sold, per_run.0 as usize, "runs", Some(place));
                        if measured.value > sections {
                            Ok(measured.value - sections)
                        } else {
                            Err(format!(
                                "the sound section alone is {} long",
                                trade_length(sections)
                            ))
                        }
                    }
                    _ => Err(format!(
                        "the catalog does not state the sound section of `{}`",
                        named.value
                    )),
                }
            }
        };
        let outlet = run
            .outlet
            .as_ref()
            .and_then(|name| desk.model.house.outlet(name));
        let room = outlet.map(|outlet| outlet.room.clone());
        let story = room
            .as_ref()
            .and_then(|room| desk.model.house.rooms.get(room))
            .map(|room| room.story.value.clone());
        let side = run
            .side
            .as_ref()
            .map_or_else(String::new, |side| format!(", {}", side.value));
        let from = run.station.map_or_else(
            || run.trunk.value.clone(),
            |station| {
                format!(
                    "{} at {}{side}",
                    run.trunk.value,
                    trade_length(station.value)
                )
            },
        );
        let item = run
            .tube
            .as_ref()
            .map_or_else(String::new, |tube| tube.value.clone());
        desk.piece(Draft {
            system: System::Run,
            route: run.name.clone(),
            item,
            shelf: Shelf::Tube,
            length,
            formula,
            places,
            source: "geometry",
            from,
            to: run.outlet.clone().unwrap_or_else(|| run.name.clone()),
            room,
            story,
            span: run.span,
            field_cut: false,
            removable: false,
            joints: 0,
        });
        small_parts(desk, run, tube.and_then(|(_, tube)| tube.inside.get()));
    }
}

fn small_parts(desk: &mut Desk<'_>, run: &crate::model::Run, inside: Option<Length>) {
    let place = || Some((run.span, format!("run {}", run.name)));
    if let Some(inside) = inside {
        match take_off_for(desk, inside) {
            Ok((name, take_off)) => {
                let sold = Sold::at(take_off.span, Some(&take_off.price), Some(&take_off.pack));
                desk.needs.add(name, sold, 1, "runs", place());
                if take_off.gasket.get() == Some(false)
                    && let Some(hole) = take_off.hole.get()
                {
                    desk.gaskets +=
                        super::trunk_fitting::around(crate::catalog::Section::Pipe(hole));
                }
                if let Some(count) = take_off.screws.get() {
                    let said = format!("{} screws", count.0);
                    let place = (take_off.screws.span, said);
                    screws(desk, "take-off", count.0 as usize, "take-offs", place);
                }
            }
            Err(reason) => {
                let item = format!("take-off for {} tube", trade_length(inside));
                desk.needs.add_missing(&item, 1, reason, "runs", place());
            }
        }
    }
    if let Some(named) = &run.orifice {
        let place = Some((named.span, named.value.clone()));
        match desk.catalog.orifices.get(&named.value) {
            Some(orifice) => {
                let sold = Sold::at(orifice.span, Some(&orifice.price), Some(&orifice.pack));
                desk.needs.add(&named.value, sold, 1, "runs", place);
            }
            None => {
                let reason = format!("no catalog of the job holds the orifice `{}`", named.value);
                desk.needs
                    .add_missing(&named.value, 1, reason, "runs", place);
            }
        }
    }
}
