//! The job's own facts: number, stage, revisions, site and codes.

use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::place::Direction;

/// How far the job is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Being priced.
    #[default]
    Bid,
    /// Material is being ordered.
    Order,
    /// Being built.
    RoughIn,
    /// Being started.
    StartUp,
}

impl Stage {
    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bid => "bid",
            Self::Order => "order",
            Self::RoughIn => "rough-in",
            Self::StartUp => "start-up",
        }
    }
}

/// A state of the spec.
#[derive(Clone, Debug)]
pub struct Revision {
    /// Its mark.
    pub mark: Spanned<String>,
    /// Its date.
    pub date: Spanned<String>,
    /// What changed.
    pub reason: Spanned<String>,
}

/// Outdoor and indoor temperatures to design for.
#[derive(Clone, Debug)]
pub struct Condition {
    /// `summer`, `winter`, or a name of the job's own.
    pub name: String,
    /// Outdoors, °F.
    pub outdoor: Option<Spanned<f64>>,
    /// Outdoor wet bulb, °F.
    pub wet_bulb: Option<Spanned<f64>>,
    /// Indoors, °F.
    pub indoor: Option<Spanned<f64>>,
    /// Indoor relative humidity, percent.
    pub humidity: Option<Spanned<f64>>,
    /// The whole statement.
    pub span: Span,
}

/// Editions that the job stands under.
#[derive(Clone, Debug, Default)]
pub struct Codes {
    /// International Residential Code.
    pub irc: Option<Spanned<String>>,
    /// National Electrical Code.
    pub nec: Option<Spanned<String>>,
}

/// The job's own facts.
#[derive(Clone, Debug, Default)]
pub struct JobFacts {
    /// Its title.
    pub title: Option<Spanned<String>>,
    /// The whole block.
    pub whole: Option<Span>,
    /// The shop's number.
    pub number: Option<Spanned<String>>,
    /// Stage; bid when not given.
    pub stage: Stage,
    /// Revisions in the order written.
    pub revisions: Vec<Revision>,
    /// Who prepared it.
    pub prepared_by: Option<Spanned<String>>,
    /// Where.
    pub address: Option<Spanned<String>>,
    /// Height above the sea.
    pub altitude: Option<Spanned<Length>>,
    /// Whether an altitude is said that could not be read or is not known yet.
    pub altitude_unknown: bool,
    /// Year built.
    pub year_built: Option<Spanned<f64>>,
    /// Code editions.
    pub codes: Codes,
    /// Summer, winter, and others by name.
    pub conditions: Vec<Condition>,
    /// The corner that distances are measured from.
    pub origin: Option<Spanned<String>>,
    /// The side of the street.
    pub street: Option<Direction>,
}

impl JobFacts {
    /// The altitude to reckon with: sea level where the job says none, nothing where it says one that is not known.
    pub fn site_altitude(&self) -> Option<Length> {
        let stated = self.altitude.as_ref().map(|altitude| altitude.value);
        stated.or((!self.altitude_unknown).then_some(Length::ZERO))
    }

    /// The latest revision by date, the later line winning a tie.
    pub fn latest(&self) -> Option<&Revision> {
        self.revisions
            .iter()
            .max_by(|a, b| a.date.value.cmp(&b.date.value))
    }

    /// The condition called `name`.
    pub fn condition(&self, name: &str) -> Option<&Condition> {
        self.conditions
            .iter()
            .find(|condition| condition.name == name)
    }
}

fn condition(builder: &mut Builder<'_>, entry: &Entry) -> Condition {
    Condition {
        name: entry
            .text("name")
            .known()
            .map_or_else(|| entry.word.word.to_owned(), |name| name.value),
        outdoor: builder.real(entry, "outdoor"),
        wet_bulb: builder.real(entry, "wet-bulb"),
        indoor: builder.real(entry, "indoor"),
        humidity: builder.real(entry, "humidity"),
        span: entry.span,
    }
}

pub(super) fn read(builder: &mut Builder<'_>, entry: &Entry) -> JobFacts {
    let mut job = JobFacts {
        title: builder.text(entry, "title"),
        whole: Some(entry.whole),
        ..JobFacts::default()
    };
    for child in &entry.body {
        match child.word.word {
            "number" => job.number = builder.text(child, "number"),
            "stage" => {
                job.stage = match child
                    .text("stage")
                    .known()
                    .map(|stage| stage.value)
                    .as_deref()
                {
                    Some("order") => Stage::Order,
                    Some("rough-in") => Stage::RoughIn,
                    Some("start-up") => Stage::StartUp,
                    _ => Stage::Bid,
                };
            }
            "revision" => {
                let read = (
                    builder.text(child, "mark"),
                    builder.text(child, "date"),
                    builder.text(child, "reason"),
                );
                if let (Some(mark), Some(date), Some(reason)) = read {
                    job.revisions.push(Revision { mark, date, reason });
                }
            }
            "prepared-by" => job.prepared_by = builder.text(child, "who"),
            "address" => job.address = builder.text(child, "words"),
            "altitude" => {
                job.altitude = builder.length(child, "altitude");
                job.altitude_unknown = job.altitude.is_none();
            }
            "year-built" => job.year_built = builder.real(child, "year"),
            "codes" => {
                job.codes = Codes {
                    irc: builder.text(child, "irc"),
                    nec: builder.text(child, "nec"),
                }
            }
            "summer" | "winter" | "condition" => {
                let condition = condition(builder, child);
                job.conditions.push(condition);
            }
            "origin" => {
                job.origin = builder.text(child, "corner");
                job.street = child
                    .text("street")
                    .known()
                    .and_then(|side| Direction::named(&side.value));
            }
            _ => {}
        }
    }
    job
}
