//! The little notation in which the table of words says what may follow a word.
//!
//! `corner <x:length>, <y:length>` · literal words stand for themselves, `,` is a comma that continues
//! the statement, `[ … ]` may be left out, `[ … ]*` may be repeated, `<slot:type>` is a value.

use crate::quantity::Dimension;

/// What may stand in a slot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SlotType {
    /// An amount of one dimension.
    Amount(Dimension),
    /// A new name: a letter, then letters, digits and dashes.
    Name,
    /// The name of something else, or a dotted port or terminal (`ah.supply`).
    Reference,
    /// A quoted text.
    Text,
    /// A date, `2026-11-20`.
    Date,
    /// A number, word or label without blanks (`26-0417`, `C`, `L1`).
    Label,
    /// One of a few words.
    Choice(Vec<&'static str>),
    /// Any words up to the clause's end; an amount whose dimension is settled where it is used.
    Anything,
}

/// A slot of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Its name, by which the model asks for it.
    pub name: &'static str,
    /// What may stand there.
    pub kind: SlotType,
}

/// A part of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Element {
    /// A word that stands for itself.
    Literal(&'static str),
    /// A comma that continues the statement.
    Comma,
    /// A value.
    Slot(Slot),
    /// Parts that may be left out, or repeated.
    Group {
        /// The parts.
        parts: Vec<Element>,
        /// Whether they may come more than once.
        many: bool,
    },
}

fn dimension_named(name: &str) -> Option<Dimension> {
    Some(match name {
        "length" => Dimension::Length,
        "slope" => Dimension::Slope,
        "area" => Dimension::Area,
        "volume" => Dimension::Volume,
        "temperature" => Dimension::Temperature,
        "pressure" => Dimension::Pressure,
        "air-flow" => Dimension::AirFlow,
        "water-flow" => Dimension::WaterFlow,
        "water-pressure" => Dimension::WaterPressure,
        "heat" => Dimension::HeatFlow,
        "weight" => Dimension::Mass,
        "volts" => Dimension::Voltage,
        "amps" => Dimension::Current,
        "va" => Dimension::ApparentPower,
        "ohms" => Dimension::Resistance,
        "share" => Dimension::Ratio,
        "humidity" => Dimension::Humidity,
        "gauge" => Dimension::WireGauge,
        "r-value" => Dimension::RValue,
        "angle" => Dimension::Angle,
        "time" => Dimension::Duration,
        "count" => Dimension::Count,
        _ => return None,
    })
}

fn slot_type(text: &'static str) -> SlotType {
    match text {
        "name" => SlotType::Name,
        "ref" => SlotType::Reference,
        "text" => SlotType::Text,
        "date" => SlotType::Date,
        "label" => SlotType::Label,
        "any" => SlotType::Anything,
        other => dimension_named(other).map_or_else(
            || SlotType::Choice(other.split('|').collect()),
            SlotType::Amount,
        ),
    }
}

/// A pattern read.
#[derive(Debug)]
pub struct Shape {
    /// Its parts in order.
    pub elements: Vec<Element>,
    /// The slots that name something else, those of groups too.
    pub references: Vec<&'static str>,
}

impl Shape {
    /// Reads a pattern of the table.
    pub(super) fn of(pattern: &'static str) -> Self {
        let mut rest = pattern;
        let elements = parts(&mut rest);
        let mut references = Vec::new();
        enter_references(&elements, &mut references);
        Self {
            elements,
            references,
        }
    }
}

fn enter_references(elements: &[Element], out: &mut Vec<&'static str>) {
    for element in elements {
        match element {
            Element::Slot(slot) if slot.kind == SlotType::Reference => out.push(slot.name),
            Element::Group { parts, .. } => enter_references(parts, out),
            _ => {}
        }
    }
}

fn parts(rest: &mut &'static str) -> Vec<Element> {
    let mut out = Vec::new();
    loop {
        *rest = rest.trim_start();
        let Some(first) = rest.chars().next() else {
            return out;
        };
        let after = rest.get(first.len_utf8()..).unwrap_or("");
        match first {
            ']' => {
                *rest = after;
                return out;
            }
            '[' => {
                *rest = after;
                let parts = parts(rest);
                let many = rest
                    .strip_prefix('*')
                    .inspect(|left| *rest = left)
                    .is_some();
                out.push(Element::Group { parts, many });
            }
            ',' => {
                *rest = after;
                out.push(Element::Comma);
            }
            '<' => {
                let (inside, left) = after.split_once('>').unwrap_or((after, ""));
                *rest = left;
                let (name, kind) = inside.split_once(':').unwrap_or((inside, inside));
                out.push(Element::Slot(Slot {
                    name,
                    kind: slot_type(kind),
                }));
            }
            _ => {
                let end = rest.find([' ', ',', ']', '[', '<']).unwrap_or(rest.len());
                let (word, left) = rest.split_at_checked(end).unwrap_or((rest, ""));
                *rest = left;
                out.push(Element::Literal(word));
            }
        }
    }
}
