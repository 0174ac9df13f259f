//! Equipment placed and turned: cabinet, ports and service spaces in the house, and terminals by name.

use std::sync::Arc;

use crate::catalog::{AirHandler as Sheet, Named, Ports, Side, Terminal, TrunkHere, nearest};
use crate::language::{Entry, word_distance};
use crate::quantity::Length;
use crate::source::{Finding, Span, Spanned};

use super::build::{Builder, TERMINAL_HOLDERS};
use super::house::story_of;
use super::mistakes::TERMINAL_UNKNOWN;
use super::place::{Direction, Extent, Point};

/// A port in the house.
#[derive(Clone, Debug)]
pub struct PlacedPort {
    /// Its name on the unit (`supply`).
    pub name: &'static str,
    /// Its middle.
    pub point: Point,
    /// The way it opens.
    pub facing: Direction,
    /// Where the catalog states it.
    pub span: Span,
}

/// A service space in the house.
#[derive(Clone, Debug)]
pub struct PlacedSpace {
    /// What it is for.
    pub reason: String,
    /// Its box.
    pub extent: Extent,
    /// Whether the trunk may stand in it.
    pub trunk: TrunkHere,
    /// Where the catalog states it.
    pub span: Span,
}

/// An air handler in the house.
#[derive(Clone, Debug)]
pub struct AirHandler {
    /// Its name.
    pub name: String,
    /// Its model.
    pub model: Spanned<String>,
    /// What the catalog says of the model.
    pub sheet: Arc<Sheet>,
    /// Its story.
    pub story: String,
    /// Its cabinet; none while its size or place is not known.
    pub cabinet: Option<Extent>,
    /// Its underside above the lowest floor.
    pub base: Length,
    /// Height of its underside above its story's floor, and the words that say so.
    pub stand: Option<Spanned<Length>>,
    /// Whether it hangs there instead of standing.
    pub hung: bool,
    /// The way its discharge end (the front) faces.
    pub discharge: Direction,
    /// Its ports.
    pub ports: Vec<PlacedPort>,
    /// Its service spaces.
    pub spaces: Vec<PlacedSpace>,
    /// The speed tap.
    pub tap: Option<Spanned<String>>,
    /// The speed tap of the first stage, where it has its own.
    pub first_stage_tap: Option<Spanned<String>>,
    /// The voltage setting, where said.
    pub setting: Option<Spanned<String>>,
    /// Jumpers between power terminals, with their statements.
    pub jumpers: Vec<(Spanned<String>, Spanned<String>, Span)>,
    /// Optional parts that are fitted.
    pub fitted: Vec<Spanned<String>>,
    /// Measured suction at the pan, in. w.c.
    pub suction: Option<Spanned<f64>>,
    /// Measured pressure at the pan, in. w.c., where the blower presses through the coil.
    pub pressure: Option<Spanned<f64>>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

impl AirHandler {
    /// The port called `name`.
    pub fn port(&self, name: &str) -> Option<&PlacedPort> {
        self.ports.iter().find(|port| port.name == name)
    }
}

/// A thermostat.
#[derive(Clone, Debug)]
pub struct Thermostat {
    /// Its name.
    pub name: String,
    /// The room that it feels.
    pub room: Spanned<String>,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
}

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
    of("air-handler").for_each(|entry| air_handler(builder, entry));
    of("thermostat").for_each(|entry| thermostat(builder, entry));
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

fn model_of(builder: &mut Builder<'_>, entry: &Entry) -> Option<Spanned<String>> {
    entry
        .child("model")
        .and_then(|child| builder.text(child, "model"))
}

fn unknown_model(
    builder: &mut Builder<'_>,
    what: &str,
    model: &Spanned<String>,
    near: Option<&str>,
    any: bool,
) {
    builder
        .lacking
        .note(what, &model.value, model.span, near, any);
}

const fn turned(side: Side, front: Direction) -> Direction {
    match side {
        Side::Front => front,
        Side::Back => front.opposite(),
        Side::Left => front.left(),
        Side::Right => front.left().opposite(),
        Side::Top => Direction::Up,
        Side::Bottom => Direction::Down,
    }
}

/// The cabinet's axes in the house.
struct Frame {
    corner: Point,
    front: Direction,
}

impl Frame {
    fn point(&self, x: Length, y: Length, z: Length) -> Point {
        self.corner
            .toward(self.front, x)
            .toward(self.front.left(), y)
            .toward(Direction::Up, z)
    }
}

fn air_handler(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("air-handler", &name) {
        return;
    }
    let story = entry
        .child("on")
        .and_then(|child| story_of(builder, child, "story"));
    let model = model_of(builder, entry);
    let sheet = model.as_ref().and_then(|model| {
        let shelf = &builder.catalog.air_handlers;
        let found = shelf.get(&model.value).cloned().map(Arc::new);
        if found.is_none() {
            let near = shelf.nearest(&model.value).map(str::to_owned);
            let any = !shelf.is_empty();
            unknown_model(builder, "air handler", model, near.as_deref(), any);
        }
        found
    });
    let center = entry
        .child("center")
        .and_then(|c| Some((builder.length(c, "x")?.value, builder.length(c, "y")?.value)));
    let discharge = entry
        .child("discharge")
        .and_then(|c| c.text("direction").known())
        .and_then(|word| Direction::named(&word.value));
    let raised = entry.child("stand").or_else(|| entry.child("hung"));
    let stand = raised.and_then(|c| builder.length(c, "height"));
    // A height that is not known leaves the cabinet without a place.
    let center = center.filter(|_| raised.is_none() || stand.is_some());
    let (Some(model), Some(sheet), Some(story), Some(discharge)) = (model, sheet, story, discharge)
    else {
        builder.half_known("air-handler", &name.value);
        return;
    };
    let base = story.floor + stand.map_or(Length::ZERO, |stand| stand.value);
    let frame = sheet.size.get().zip(center).map(|(size, (x, y))| {
        let middle = Point::new(x, y, base);
        let corner = middle
            .toward(discharge.opposite(), size.length.half())
            .toward(discharge.left().opposite(), size.width.half());
        (
            Frame {
                corner,
                front: discharge,
            },
            size,
        )
    });
    let (mut ports, mut spaces, mut cabinet) = (Vec::new(), Vec::new(), None);
    if let Some((frame, size)) = &frame {
        cabinet = Some(Extent::between(
            frame.corner,
            frame.point(size.length, size.width, size.height),
        ));
        for (port_name, port) in sheet.ports.iter() {
            if let (Some(place), Some(facing)) = (port.place.get(), port.facing.get()) {
                ports.push(PlacedPort {
                    name: port_name,
                    point: frame.point(place.x, place.y, place.z),
                    facing: turned(facing, discharge),
                    span: port.place.span,
                });
            }
        }
        for space in &sheet.service_spaces {
            if let (Some(from), Some(size), Some(reason)) =
                (space.from.get(), space.size.get(), space.for_what.get())
            {
                let low = frame.point(from.x, from.y, from.z);
                let high = frame.point(
                    from.x + size.length,
                    from.y + size.width,
                    from.z + size.height,
                );
                spaces.push(PlacedSpace {
                    reason,
                    extent: Extent::between(low, high),
                    trunk: space.trunk.get().unwrap_or(TrunkHere::KeptOut),
                    span: space.span,
                });
            }
        }
    }
    let unit = AirHandler {
        name: name.value.clone(),
        model,
        sheet,
        story: story.name,
        cabinet,
        base,
        stand,
        hung: entry.child("stand").is_none() && entry.child("hung").is_some(),
        discharge,
        ports,
        spaces,
        tap: entry.child("tap").and_then(|c| c.text("tap").known()),
        first_stage_tap: entry
            .child("first-stage-tap")
            .and_then(|c| c.text("tap").known()),
        setting: entry
            .child("voltage-setting")
            .and_then(|c| c.text("setting").known()),
        jumpers: entry
            .children("jumper")
            .filter_map(|c| Some((c.text("from").known()?, c.text("to").known()?, c.span)))
            .collect(),
        fitted: entry
            .children("fitted")
            .filter_map(|c| c.text("part").known())
            .collect(),
        suction: entry
            .child("suction")
            .and_then(|c| builder.real(c, "suction")),
        pressure: entry
            .child("pan-pressure")
            .and_then(|c| builder.real(c, "pressure")),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    };
    known_words(builder, &unit);
    builder.model.air_handlers.insert(name.value, unit);
}

/// Tap, setting and power terminals are words of the model's sheet.
fn known_words(builder: &mut Builder<'_>, unit: &AirHandler) {
    let sheet = Arc::clone(&unit.sheet);
    let taps: Vec<&str> = sheet.blower.taps.keys().map(String::as_str).collect();
    let settings: Vec<&str> = sheet
        .electrical
        .settings
        .keys()
        .map(String::as_str)
        .collect();
    let terminals: Vec<&str> = sheet
        .electrical
        .terminals
        .keys()
        .map(String::as_str)
        .collect();
    for tap in [&unit.tap, &unit.first_stage_tap].into_iter().flatten() {
        known_word(builder, "speed tap", tap, &taps, sheet.blower.span);
    }
    if let Some(setting) = &unit.setting {
        known_word(
            builder,
            "voltage setting",
            setting,
            &settings,
            sheet.electrical.span,
        );
    }
    for (from, to, _) in &unit.jumpers {
        let control = [from, to].into_iter().find(|end| {
            sheet.control.contains_key(&end.value) && !terminals.contains(&end.value.as_str())
        });
        if let Some(end) = control {
            builder.findings.push(control_jumper(unit, end, [from, to]));
            continue;
        }
        for end in [from, to] {
            known_word(builder, "terminal", end, &terminals, sheet.electrical.span);
        }
    }
}

/// A jumper on a control terminal: what is joined there is control wiring, and drawn and judged as that.
fn control_jumper(
    unit: &AirHandler,
    end: &Spanned<String>,
    [from, to]: [&Spanned<String>; 2],
) -> Finding {
    let name = &unit.name;
    Finding::new(
        &TERMINAL_UNKNOWN,
        end.span,
        format!(
            "`{}` is a control terminal, and a jumper joins power terminals",
            end.value
        ),
        format!(
            "write it as a cable: `cable bridge from {name} to {name} {{ wire red from {name}.{} to {name}.{} }}`",
            from.value, to.value
        ),
    )
}

fn known_word(
    builder: &mut Builder<'_>,
    what: &str,
    word: &Spanned<String>,
    known: &[&str],
    sheet: Span,
) -> bool {
    if known.contains(&word.value.as_str()) {
        return true;
    }
    let near = nearest(known.iter().copied(), &word.value)
        .filter(|near| word_distance(near, &word.value) <= 1 + near.len() / 4);
    let list = known.join("`, `");
    let mut finding = Finding::new(
        &TERMINAL_UNKNOWN,
        word.span,
        format!("the model has no {what} `{}`", word.value),
        near.map_or_else(
            || format!("it has `{list}`"),
            |near| format!("write `{near}`; it has `{list}`"),
        ),
    )
    .label(sheet, "the model's sheet");
    if let Some(near) = near {
        finding = finding.edit(word.span, near);
    }
    builder.report(finding);
    false
}

fn thermostat(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("thermostat", &name) {
        return;
    }
    let Some(room) = entry.text("room").known() else {
        return;
    };
    builder.expect(&["room"], &room);
    let model = model_of(builder, entry);
    let sheet = model.as_ref().and_then(|model| {
        let shelf = &builder.catalog.thermostats;
        let found = shelf.get(&model.value).map(|sheet| sheet.control.clone());
        if found.is_none() {
            let near = shelf.nearest(&model.value).map(str::to_owned);
            let any = !shelf.is_empty();
            unknown_model(builder, "thermostat", model, near.as_deref(), any);
        }
        found
    });
    builder.model.equipment.insert(
        name.value.clone(),
        Equipment {
            kind: "thermostat",
            name: name.value.clone(),
            model: model.clone(),
            story: None,
            point: None,
            terminals: sheet,
            span: entry.span,
            whole: entry.whole,
            flawed: entry.flawed || entry.body_flawed,
        },
    );
    builder.model.thermostats.insert(
        name.value.clone(),
        Thermostat {
            name: name.value,
            room,
            model,
            span: entry.span,
        },
    );
}

/// The control terminals of a model of `kind`: what is found, the nearest name, and whether there is any at all.
fn terminals_of(
    builder: &Builder<'_>,
    kind: &str,
    model: &str,
) -> (Option<Option<Named<Terminal>>>, Option<String>, bool) {
    macro_rules! look {
        ($shelf:ident, $control:expr) => {{
            let shelf = &builder.catalog.$shelf;
            (
                shelf.get(model).map($control),
                shelf.nearest(model).map(str::to_owned),
                !shelf.is_empty(),
            )
        }};
    }
    match kind {
        "outdoor-unit" => look!(outdoor_units, |sheet| Some(sheet.control.clone())),
        "boiler" => look!(boilers, |sheet| Some(sheet.control.clone())),
        "chiller" => look!(chillers, |sheet| Some(sheet.control.clone())),
        "circulator" => look!(circulators, |sheet| sheet.control.clone()),
        "relay" => look!(relays, |sheet| Some(sheet.control.clone())),
        "switch" => look!(float_switches, |sheet| Some(sheet.control.clone())),
        "water-coil" => look!(water_coils, |_| None),
        "pump" => look!(pumps, |sheet| Some(sheet.control.clone())),
        _ => (Some(None), None, true),
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
    let mut terminals = None;
    if let Some(model) = &model {
        let (found, near, any) = terminals_of(builder, kind, &model.value);
        match found {
            Some(control) => terminals = control,
            None => unknown_model(
                builder,
                &kind.replace('-', " "),
                model,
                near.as_deref(),
                any,
            ),
        }
    }
    let story = entry
        .child("on")
        .filter(|c| c.has("story"))
        .and_then(|c| story_of(builder, c, "story"));
    let plan = entry
        .child("center")
        .or_else(|| entry.child("at"))
        .and_then(|c| Some((builder.length(c, "x")?.value, builder.length(c, "y")?.value)));
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
            point: plan.map(|(x, y)| Point::new(x, y, floor + raised)),
            terminals,
            span: entry.span,
            whole: entry.whole,
            flawed: entry.flawed || entry.body_flawed,
        },
    );
}

impl Builder<'_> {
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
        let near = nearest(has.iter().copied(), name).map(str::to_owned);
        let list: Vec<String> = has.iter().map(|name| format!("`{unit}.{name}`")).collect();
        let message = if exists {
            format!("`{}` has no port `{name}`", placed.model.value)
        } else {
            format!("`{}` is no port of `{unit}`", port.value)
        };
        let mut finding = Finding::new(
            &TERMINAL_UNKNOWN,
            port.span,
            message,
            format!("it has {}", list.join(", ")),
        );
        if let Some(near) = near {
            finding = finding.edit(port.span, format!("{unit}.{near}"));
        }
        self.report(finding);
        None
    }

    /// Checks a terminal such as `ah.R`, or the name of a splice.
    pub(super) fn terminal(&mut self, end: &Spanned<String>) -> bool {
        let (holder, terminal) = end
            .value
            .split_once('.')
            .unwrap_or((end.value.as_str(), ""));
        let place = super::references::holder_of(end.span, holder);
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
        let near = nearest(known.iter().copied(), terminal).map(str::to_owned);
        let list: Vec<String> = known
            .iter()
            .map(|name| format!("`{holder}.{name}`"))
            .collect();
        let mut finding = Finding::new(
            &TERMINAL_UNKNOWN,
            end.span,
            format!("`{holder}` has no terminal `{terminal}`"),
            format!("it has {}", list.join(", ")),
        )
        .label(sheet, "the model's terminals");
        if let Some(near) = near {
            finding = finding.edit(end.span, format!("{holder}.{near}"));
        }
        self.report(finding);
        false
    }
}
