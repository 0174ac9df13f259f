//! Every reference of the language table leads somewhere: what no typed reader has asked for is asked for here.

use crate::language::{Entry, Value};
use crate::source::{Finding, Span, Spanned};

use super::builder::Builder;
use super::names::Names;

/// Kinds that a circuit can feed.
pub(super) const EQUIPMENT: &[&str] = &[
    "air-handler",
    "outdoor-unit",
    "boiler",
    "chiller",
    "pump",
    "circulator",
];

/// Kinds that carry control terminals.
pub(super) const TERMINAL_HOLDERS: &[&str] = &[
    "air-handler",
    "outdoor-unit",
    "boiler",
    "chiller",
    "pump",
    "circulator",
    "thermostat",
    "relay",
    "switch",
    "splice",
    "damper",
    "water-coil",
    "panel",
];

/// Kinds that own a port, named as `unit.port`.
const PORT_HOLDERS: &[&str] = &[
    "air-handler",
    "outdoor-unit",
    "boiler",
    "chiller",
    "pump",
    "water-coil",
    "pan",
];

/// Kinds that a hot-water pipe can join.
const WATER_ENDS: &[&str] = &[
    "boiler",
    "chiller",
    "water-coil",
    "air-handler",
    "outdoor-unit",
    "pump",
    "circulator",
    "water-pipe",
];

/// Kinds that something can be mounted on, stand under or be switched off by.
const UNITS: &[&str] = &[
    "air-handler",
    "outdoor-unit",
    "boiler",
    "chiller",
    "pump",
    "circulator",
    "water-coil",
    "thermostat",
    "panel",
];

/// What a slot of the table may name.
enum Carriers {
    /// One of these kinds.
    Of(&'static [&'static str]),
    /// Anything with a name.
    Anything,
    /// A thing outside the job, such as a sink.
    Outside,
}

/// What the slot of `word` may name. A slot that nobody has settled may name anything that has a name.
fn carriers(word: &str, slot: &str) -> Carriers {
    Carriers::Of(match (word, slot) {
        ("discharge", "end") => return Carriers::Outside,
        ("line-set", "from" | "to") => EQUIPMENT,
        ("water-pipe", "from" | "to") => WATER_ENDS,
        ("cable" | "wire", "from" | "to") => TERMINAL_HOLDERS,
        ("circuit", "unit") => EQUIPMENT,
        // Mounted on a wall, at a panel, in a room.
        ("relay" | "switch" | "on", "unit") => return Carriers::Anything,
        (_, "unit") => UNITS,
        (_, "port") => PORT_HOLDERS,
        (_, "story" | "below" | "above") => &["story"],
        (_, "room") => &["room"],
        (_, "space") => &["story", "room"],
        (_, "way") => &["story", "room", "trunk", "return"],
        (_, "hatch") => &["attic-access", "door", "stair", "room", "story"],
        (_, "trunk") => &["trunk"],
        (_, "outlet") => &["outlet"],
        (_, "thermostat") => &["thermostat"],
        (_, "zone") => &["zone"],
        (_, "panel") => &["panel"],
        (_, "pipe") => &["water-pipe"],
        ("radiators", "boiler") => &["boiler"],
        (_, "conductor") => &["cable"],
        _ => return Carriers::Anything,
    })
}

/// Enters every name of the job, also of kinds that the model has no type for.
fn all_names(entries: &[Entry], names: &mut Names, kinds: &mut Vec<&'static str>) {
    for entry in entries {
        if let Some(name) = entry.text("name").known()
            && entry.word.word != "let"
        {
            let kind = match entry.word.word {
                "tee" | "branch" => "trunk",
                other => other,
            };
            // A name taken twice is reported where it is taken.
            names.enter(kind, &name, &mut Vec::new());
            if !kinds.contains(&kind) {
                kinds.push(kind);
            }
        }
        all_names(&entry.body, names, kinds);
    }
}

const fn touches(one: Span, other: Span) -> bool {
    one.start < other.end && other.start < one.end
}

struct Walk<'a> {
    names: Names,
    kinds: Vec<&'static str>,
    known: &'a [Span],
    misread: &'a dyn Fn(&str) -> bool,
    findings: &'a mut Vec<Finding>,
}

impl Walk<'_> {
    fn entries(&mut self, entries: &[Entry]) {
        for entry in entries {
            if !entry.flawed {
                self.entry(entry);
            }
            self.entries(&entry.body);
        }
    }

    fn entry(&mut self, entry: &Entry) {
        let slots = &entry.word.shape().references;
        for field in &entry.fields {
            let (true, Value::Word(written)) = (slots.contains(&field.slot), &field.value.value)
            else {
                continue;
            };
            let span = field.value.span;
            let spoken = |known: &Span| known.file == span.file && touches(*known, span);
            let name = written.split('.').next().unwrap_or(written);
            if (self.misread)(name) || self.known.iter().any(spoken) {
                continue;
            }
            let kinds = match carriers(entry.word.word, field.slot) {
                Carriers::Outside => continue,
                Carriers::Of(kinds) => kinds,
                Carriers::Anything => self.kinds.as_slice(),
            };
            if self.names.has(kinds, name) {
                continue;
            }
            let span = if name.len() < written.len() {
                holder_of(span, name)
            } else {
                span
            };
            let name = Spanned::new(name.to_owned(), span);
            self.names.expect(kinds, &name, self.findings);
        }
    }
}

/// The place of `name` at the front of a dotted reference.
pub(super) fn holder_of(whole: Span, name: &str) -> Span {
    let end = u32::try_from(name.len()).map_or(whole.end, |length| whole.start + length);
    Span::new(whole.file, whole.start, end.min(whole.end))
}

/// Reports every reference that names nothing and that no typed reader has spoken of.
pub(super) fn settle(builder: &mut Builder<'_>, entries: &[Entry]) {
    let (mut names, mut kinds) = (Names::default(), Vec::new());
    all_names(entries, &mut names, &mut kinds);
    let known: Vec<Span> = builder.findings.iter().map(|f| f.span).collect();
    let model = &builder.model;
    let misread = |name: &str| model.is_misread(name);
    let mut walk = Walk {
        names,
        kinds,
        known: &known,
        misread: &misread,
        // The findings so far, since a name that a typed reader lacked is not reported again.
        findings: builder.findings,
    };
    walk.entries(entries);
}
