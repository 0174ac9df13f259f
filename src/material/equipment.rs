//! Equipment and parts that are bought one by one, as the job names them.

use crate::catalog::{Catalog, Fitted};
use crate::source::{Span, Spanned};

use super::desk::Desk;
use super::need::Sold;

/// Air handlers with their optional parts, then everything else with a model.
pub(super) fn take_off(desk: &mut Desk<'_>) {
    let model = desk.model;
    for unit in model.air_handlers.values() {
        let words = format!("air-handler {}", unit.name);
        let entry = model.entries.iter().find(|entry| entry.whole == unit.whole);
        if entry.is_some_and(|entry| entry.child("existing").is_some()) {
            desk.existing.push((unit.model.span, unit.span));
            continue;
        }
        let sold = Sold::at(unit.sheet.span, None, None);
        let place = Some((unit.model.span, unit.model.value.clone()));
        desk.needs.add(&unit.model.value, sold, 1, &words, place);
        for fitted in &unit.fitted {
            let part = unit.sheet.parts.get(&fitted.value);
            let bought = part.is_none_or(|part| part.fitted.get() == Some(Fitted::Optional));
            // A coil that has a block of its own is counted there.
            let own = model.entries.iter().any(|entry| {
                entry.word.word.replace('-', " ") == fitted.value
                    && entry
                        .text("unit")
                        .known()
                        .is_some_and(|of| of.value == unit.name)
            });
            if bought && !own {
                let item = format!("{} for {}", fitted.value, unit.model.value);
                let sold = part.map_or_else(Sold::default, |part| Sold::at(part.span, None, None));
                let place = Some((fitted.span, fitted.value.clone()));
                desk.needs.add(&item, sold, 1, &words, place);
            }
        }
    }
    for part in &model.entries {
        let slots: &[&str] = match part.word.word {
            "outdoor-unit" | "boiler" | "chiller" | "thermostat" | "water-coil" | "pump"
            | "circulator" | "relay" | "switch" | "air-handler" => &["model", "filter"],
            "pan" => &["item", "switch"],
            "stand" => &["item"],
            "return" => &["grille", "filter", "duct"],
            "ventilation" => &["duct"],
            _ => continue,
        };
        let name = part
            .text("name")
            .known()
            .map_or_else(String::new, |name| format!(" {}", name.value));
        let words = format!("{}{name}", part.word.word);
        let existing = part.child("existing").is_some();
        for slot in slots {
            if part.word.word == "air-handler" && *slot == "model" {
                continue;
            }
            let child = part.children(slot).next();
            let named = child.and_then(|child| {
                child
                    .fields
                    .iter()
                    .find_map(|field| child.text(field.slot).known())
            });
            let Some(named) = named else {
                continue;
            };
            // What is added to it, like a filter, is bought all the same.
            if existing && *slot == "model" {
                desk.existing.push((named.span, part.span));
                continue;
            }
            if part.word.word == "pan" && *slot == "switch" && has_block(desk, &named.value) {
                continue;
            }
            if let Some(hanger) = desk.catalog.hangers.get(&named.value) {
                let sold = Sold::at(hanger.span, Some(&hanger.price), Some(&hanger.pack));
                desk.needs.as_needed(&named.value, sold, &words);
                continue;
            }
            bought(desk, &named, &words);
        }
    }
    plain(desk);
    beside_boilers(desk);
}

/// What the job says stands at a boiler: the catalog holds none of it.
fn beside_boilers(desk: &mut Desk<'_>) {
    let model = desk.model;
    for boiler in model.blocks("boiler") {
        let name = boiler.text("name").known().map(|name| name.value);
        let words = format!("boiler {}", name.unwrap_or_default());
        for (word, item) in [
            ("backflow-preventer", "backflow preventer"),
            ("mixing-valve", "mixing valve"),
            ("air-separator", "air separator"),
        ] {
            if let Some(child) = boiler.child(word) {
                let place = Some((child.span, word.to_owned()));
                desk.needs
                    .add(item, Sold::default(), 1, words.trim_end(), place);
            }
        }
    }
}

/// Disconnects, receptacles and lights, which the catalog does not hold.
fn plain(desk: &mut Desk<'_>) {
    let model = desk.model;
    for entry in &model.entries {
        let word = entry.word.word;
        if !matches!(word, "disconnect" | "receptacle" | "light") {
            continue;
        }
        let rating = entry
            .child("rating")
            .and_then(|child| child.real("rating").known())
            .map(|rating| format!(", {} A", crate::quantity::number_text(rating.value, 1)));
        let gfci = entry.child("gfci").map(|_| ", GFCI".to_owned());
        let item = format!("{word}{}", rating.or(gfci).unwrap_or_default());
        let name = entry.text("name").known().map(|name| name.value);
        let words = format!("{word} {}", name.unwrap_or_default());
        let place = Some((entry.span, words.clone()));
        desk.needs
            .add(&item, Sold::default(), 1, words.trim_end(), place);
    }
}

/// A float switch that has a block of its own is counted there, not in the pan that names it.
fn has_block(desk: &Desk<'_>, model: &str) -> bool {
    desk.model.equipment.values().any(|thing| {
        thing.kind == "switch" && thing.model.as_ref().is_some_and(|m| m.value == model)
    })
}

fn bought(desk: &mut Desk<'_>, named: &Spanned<String>, words: &str) {
    let place = Some((named.span, named.value.clone()));
    match sold(desk.catalog, &named.value) {
        Some(sold) => desk.needs.add(&named.value, sold, 1, words, place),
        None => {
            let reason = format!("no catalog of the job holds `{}`", named.value);
            desk.needs
                .add_missing(&named.value, 1, reason, words, place);
        }
    }
}

fn sold(catalog: &Catalog, item: &str) -> Option<Sold> {
    let plain = |span: Span| Sold::at(span, None, None);
    None.or_else(|| catalog.outdoor_units.get(item).map(|i| plain(i.span)))
        .or_else(|| catalog.boilers.get(item).map(|i| plain(i.span)))
        .or_else(|| catalog.chillers.get(item).map(|i| plain(i.span)))
        .or_else(|| catalog.thermostats.get(item).map(|i| plain(i.span)))
        .or_else(|| catalog.water_coils.get(item).map(|i| plain(i.span)))
        .or_else(|| catalog.circulators.get(item).map(|i| plain(i.span)))
        .or_else(|| catalog.relays.get(item).map(|i| plain(i.span)))
        .or_else(|| catalog.float_switches.get(item).map(|i| plain(i.span)))
        .or_else(|| {
            let found = catalog.pumps.get(item);
            found.map(|i| Sold::at(i.span, Some(&i.price), None))
        })
        .or_else(|| {
            let found = catalog.pans.get(item);
            found.map(|i| Sold::at(i.span, Some(&i.price), None))
        })
        .or_else(|| {
            let found = catalog.grilles.get(item);
            found.map(|i| Sold::at(i.span, Some(&i.price), None))
        })
        .or_else(|| {
            let found = catalog.filters.get(item);
            found.map(|i| Sold::at(i.span, i.price.as_ref(), i.pack.as_ref()))
        })
}
