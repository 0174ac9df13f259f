//! The way back of a room's air with its doors shut: what passes under the doors and through transfer grilles, and
//! the pressure that this takes.

use crate::figures::{Figure, Ledger, figure_id};
use crate::language::Entry;
use crate::model::{Model, Room};
use crate::quantity::{Area, Dimension};
use crate::source::Span;

/// Share of an opening with sharp edges that the jet behind it fills: 0.6, ASHRAE Handbook—Fundamentals, Ventilation
/// and Infiltration (orifice flow).
const JET: f64 = 0.6;
const ORIFICE: &str = "ASHRAE Handbook—Fundamentals, Ventilation and Infiltration: flow through an orifice, coefficient 0.6";
/// ft·lb/(lbf·s²), and pounds per square foot in an inch of water.
const GC: f64 = 32.174_048_56;
const PSF_PER_INWC: f64 = 249.088_91 / 47.880_258_980_335_84;

/// Words that a figure rests on.
type Places = Vec<(Span, String)>;

fn text(entry: &Entry, slot: &str) -> Option<String> {
    entry.text(slot).known().map(|text| text.value)
}

/// The open area of a room's doors and transfer grilles, in²; none where it has no door; why it is not known.
fn open_area(entry: &Entry) -> Option<Result<(Area, Places), (String, Span)>> {
    let mut sum = 0.0;
    let mut places = Vec::new();
    let mut doors = 0;
    for door in entry.children("door") {
        doors += 1;
        let name = text(door, "name").unwrap_or_default();
        let (width, undercut) = (
            door.length("width").known(),
            door.length("undercut").known(),
        );
        let (Some(width), Some(undercut)) = (width, undercut) else {
            return Some(Err((
                format!("the undercut of door `{name}` is not known"),
                door.span,
            )));
        };
        sum += width.value.to_inches() * undercut.value.to_inches();
        places.push((undercut.span, format!("undercut of door {name}")));
        places.push((width.span, format!("width of door {name}")));
    }
    for transfer in entry.children("transfer") {
        let Some(free) = transfer.real("free").known() else {
            return Some(Err((
                "the free area of a transfer grille is not known".to_owned(),
                transfer.span,
            )));
        };
        sum += free.value;
        places.push((free.span, "transfer grille".to_owned()));
    }
    (doors > 0).then_some(Ok((Area::new(sum), places)))
}

/// Enters it for every room that is fed, has doors and no return of its own.
pub(super) fn enter(model: &Model, ledger: &mut Ledger) {
    let returns: Vec<String> = model
        .blocks("return")
        .filter_map(|entry| text(entry.child("in")?, "room"))
        .collect();
    if returns.is_empty() {
        return;
    }
    for entry in model.entries.iter().filter(|e| e.word.word == "room") {
        let room = text(entry, "name").and_then(|name| model.house.rooms.get(&name));
        if let Some(room) = room.filter(|room| {
            !room.outlets.is_empty()
                && !room.unconditioned
                && !room.flawed
                && !returns.contains(&room.name)
        }) {
            one(model, room, entry, ledger);
        }
    }
}

fn one(model: &Model, room: &Room, entry: &Entry, ledger: &mut Ledger) {
    let id = figure_id(["room.", &room.name, ".door-pressure"]);
    let formula = "density × (airflow of the room, at the rooms' density ÷ (0.6 × open area))² ÷ 2: its doors shut, what leaks round them left out";
    let Some(open) = open_area(entry) else {
        return;
    };
    let (area, places) = match open {
        Ok(open) => open,
        Err((reason, span)) => {
            ledger.enter(
                Figure::unknown(id, reason.clone())
                    .formula(formula)
                    .source(ORIFICE)
                    .place(span, reason),
            );
            return;
        }
    };
    let runs: Vec<String> = room
        .outlets
        .iter()
        .filter_map(|outlet| {
            let run = model
                .runs
                .values()
                .find(|run| run.outlet.as_ref() == Some(&outlet.name))?;
            Some(figure_id(["run.", &run.name, ".airflow"]))
        })
        .collect();
    let flow: Option<f64> = runs.iter().map(|id| ledger.real(id)).sum();
    let densities = (
        ledger.real("air.supply-density"),
        ledger.real("air.return-density"),
    );
    let (Some(flow), (Some(supply), Some(back))) = (flow, densities) else {
        return;
    };
    let area_id = figure_id(["room.", &room.name, ".open-area"]);
    let mut figure = Figure::number(area_id.clone(), area.value(), Dimension::Area)
        .formula("width × undercut of its doors, + its transfer grilles");
    for (span, words) in places {
        figure = figure.place(span, words);
    }
    ledger.enter(figure);
    let figure = if area.value() > 0.0 {
        let fps = flow * supply / back / 60.0 / (JET * area.value() / 144.0);
        let pressure = back * fps * fps / (2.0 * GC) / PSF_PER_INWC;
        Figure::number(id, pressure, Dimension::Pressure)
    } else {
        Figure::unknown(id, "no air gets out with the doors shut")
    };
    ledger.enter(
        runs.into_iter()
            .fold(figure.formula(formula).source(ORIFICE), Figure::input)
            .input(area_id)
            .input("air.supply-density")
            .input("air.return-density"),
    );
}
