//! Outdoor units, boilers, relays and other equipment, each with its place and the terminals of its model.

use crate::catalog::{Named, Terminal};
use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::place::Point;
use super::story::story_of;
use super::{air_handler, thermostat};

/// Any other equipment.
#[derive(Clone, Debug)]
pub struct Equipment {
    /// Its word in the language.
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// Its story, when it says so.
    pub story: Option<String>,
    /// Its middle and base, when it says so.
    pub point: Option<Point>,
    /// Its control terminals, by the catalog; none when the model is not known.
    pub terminals: Option<Named<Terminal>>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

const KINDS: &[&str] = &[
    "outdoor-unit",
    "boiler",
    "chiller",
    "water-coil",
    "pump",
    "circulator",
    "relay",
    "switch",
    "splice",
    "damper",
];

/// Names of every piece first, so that lines may stand in any order.
pub(super) fn enter_all(builder: &mut Builder<'_>, entries: &[Entry]) {
    let of = |word: &'static str| entries.iter().filter(move |entry| entry.word.word == word);
    of("air-handler").for_each(|entry| air_handler::air_handler(builder, entry));
    of("thermostat").for_each(|entry| thermostat::thermostat(builder, entry));
    for kind in KINDS {
        of(kind).for_each(|entry| other(builder, entry, kind));
    }
    for kind in [
        "door",
        "stair",
        "disconnect",
        "receptacle",
        "light",
        "pan",
        "zone",
        "stand",
        "hanger",
    ] {
        of(kind).for_each(|entry| {
            if let Some(name) = entry.text("name").known() {
                builder.enter(kind, &name);
            }
        });
    }
}

/// References of things that have no type of their own, once every name is known.
pub(super) fn settle(builder: &mut Builder<'_>, entries: &[Entry]) {
    let refer = |builder: &mut Builder<'_>, entry: &Entry, slot: &str, kinds: &[&'static str]| {
        if let Some(name) = entry.text(slot).known() {
            builder.expect(kinds, &name);
        }
    };
    let units: &[&'static str] = &["air-handler", "outdoor-unit", "boiler", "chiller", "pump"];
    for entry in entries {
        match entry.word.word {
            "pan" | "stand" | "disconnect" => refer(builder, entry, "unit", units),
            "water-coil" => refer(builder, entry, "unit", &["air-handler"]),
            "joists" | "trusses" | "receptacle" | "light" | "door" => {
                refer(builder, entry, "story", &["story"]);
            }
            "stair" => {
                refer(builder, entry, "below", &["story"]);
                refer(builder, entry, "above", &["story"]);
            }
            "return" | "ventilation" => {
                if let Some(port) = entry.text("port").known() {
                    builder.port(&port);
                }
                if let Some(grille) = entry.child("in") {
                    refer(builder, grille, "room", &["room"]);
                }
            }
            "circuit" | "cable" => {
                for enters in entry.children("enters") {
                    if let Some(port) = enters.text("port").known() {
                        builder.opening(&port);
                    }
                }
            }
            "damper" => refer(builder, entry, "trunk", &["trunk"]),
            "zone" => {
                for child in entry.children("room") {
                    refer(builder, child, "room", &["room"]);
                }
                if let Some(child) = entry.child("thermostat") {
                    refer(builder, child, "thermostat", &["thermostat"]);
                }
            }
            _ => {}
        }
    }
}

pub(super) fn model_of(builder: &mut Builder<'_>, entry: &Entry) -> Option<Spanned<String>> {
    entry
        .child("model")
        .and_then(|child| builder.text(child, "model"))
}

/// The control terminals of a model of `kind`, of the kinds that have any; notes a model that no catalog holds.
fn terminals_of(
    builder: &mut Builder<'_>,
    kind: &str,
    model: &Spanned<String>,
) -> Option<Named<Terminal>> {
    let catalog = builder.catalog;
    let words = kind.replace('-', " ");
    macro_rules! control {
        ($shelf:ident) => {
            builder
                .sheet(&words, &catalog.$shelf, model)
                .map(|sheet| sheet.control.clone())
        };
    }
    match kind {
        "outdoor-unit" => control!(outdoor_units),
        "boiler" => control!(boilers),
        "chiller" => control!(chillers),
        "circulator" => control!(circulators).flatten(),
        "relay" => control!(relays),
        "switch" => control!(float_switches),
        "pump" => control!(pumps),
        "water-coil" => {
            builder.sheet(&words, &catalog.water_coils, model);
            None
        }
        _ => None,
    }
}

fn other(builder: &mut Builder<'_>, entry: &Entry, kind: &'static str) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter(kind, &name) {
        return;
    }
    let model = model_of(builder, entry);
    let terminals = model
        .as_ref()
        .and_then(|model| terminals_of(builder, kind, model));
    let story = entry
        .child("on")
        .filter(|c| c.has("story"))
        .and_then(|c| story_of(builder, c, "story"));
    let plan = entry
        .child("center")
        .or_else(|| entry.child("at"))
        .and_then(|c| builder.lengths(c, ["x", "y"]));
    let floor = story.as_ref().map_or_else(
        || {
            entry
                .child("ground")
                .and_then(|c| builder.length(c, "height"))
                .map_or(Length::ZERO, |g| g.value)
        },
        |story| story.floor,
    );
    let raised = entry
        .child("pad")
        .or_else(|| entry.child("stand"))
        .and_then(|c| builder.length(c, "height"))
        .map_or(Length::ZERO, |pad| pad.value);
    builder.model.equipment.insert(
        name.value.clone(),
        Equipment {
            kind,
            name: name.value,
            model,
            story: story.map(|story| story.name),
            point: plan.map(|[x, y]| Point::new(x.value, y.value, floor + raised)),
            terminals,
            span: entry.span,
            whole: entry.whole,
            flawed: entry.flawed || entry.body_flawed,
        },
    );
}
