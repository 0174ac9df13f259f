//! Builds the model from the entries of a job, kind by kind, so that the order of lines does not matter.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use crate::catalog::Catalog;
use crate::language::{Asked, Entry, Unknown, Value};
use crate::quantity::{Length, length_text};
use crate::source::{Files, Finding, Span, Spanned};

use super::air::{Run, Trunk};
use super::controls::Cable;
use super::drain::Drain;
use super::equipment::{AirHandler, Equipment, Thermostat};
use super::house::{House, SolidKind};
use super::job::{JobFacts, Stage};
use super::mistakes::{JOB_MISSING, NEGATIVE_SIZE, STILL_OPEN, WAIVER_NOT_ALLOWED};
use super::names::Names;
use super::pan::Pan;
use super::part::Part;
use super::power::{Circuit, Disconnect, Panel};
use super::pump::Pump;
use super::service::{Light, Receptacle};
use super::waiver::Waiver;
use super::water::HotWater;
use super::{
    air, beyond, controls, drain, equipment, house, job, pan, part, power, pump, references,
    service, stock, waiver, water,
};

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

/// A value that is not known yet.
#[derive(Clone, Debug)]
pub struct Open {
    /// Why not.
    pub unknown: Unknown,
    /// What it is, in words.
    pub what: String,
    /// Where it is said.
    pub span: Span,
    /// Whether something is bought by it.
    pub bought: bool,
}

/// The job as it will stand.
#[derive(Clone, Debug, Default)]
pub struct Model {
    /// The job's own facts.
    pub job: JobFacts,
    /// The house.
    pub house: House,
    /// Air handlers by name.
    pub air_handlers: IndexMap<String, AirHandler>,
    /// Thermostats by name.
    pub thermostats: IndexMap<String, Thermostat>,
    /// Outdoor units, boilers, chillers, pumps, relays and the like by name.
    pub equipment: IndexMap<String, Equipment>,
    /// Trunks and branches by name; a branch stands after its trunk.
    pub trunks: IndexMap<String, Trunk>,
    /// Runs by name.
    pub runs: IndexMap<String, Run>,
    /// Drains by name.
    pub drains: IndexMap<String, Drain>,
    /// Pans under units by name.
    pub pans: IndexMap<String, Pan>,
    /// Condensate pumps by name.
    pub pumps: IndexMap<String, Pump>,
    /// Panels by name.
    pub panels: IndexMap<String, Panel>,
    /// Circuits by name.
    pub circuits: IndexMap<String, Circuit>,
    /// Disconnects by name.
    pub disconnects: IndexMap<String, Disconnect>,
    /// Service receptacles by name.
    pub receptacles: IndexMap<String, Receptacle>,
    /// Lights at equipment by name.
    pub lights: IndexMap<String, Light>,
    /// Control cables by name.
    pub cables: IndexMap<String, Cable>,
    /// Hot water: pipes, boilers, coils, circulators, radiators.
    pub water: HotWater,
    /// Every named thing, in the order written.
    pub parts: Vec<Part>,
    /// Every entry, for what has no type of its own yet.
    pub entries: Vec<Entry>,
    /// Values not known yet.
    pub open: Vec<Open>,
    /// Waivers.
    pub waivers: Vec<Waiver>,
    /// Names that stand in lines that could not be read: what is said to lack them stays silent.
    pub misread: BTreeSet<String>,
}

impl Model {
    /// The unit that the trunk called `name` starts at, itself or through its parents.
    pub fn unit_of(&self, trunk: &str) -> Option<&AirHandler> {
        let unit = self.trunks.get(trunk)?.unit.as_ref()?;
        self.air_handlers.get(unit)
    }

    /// Whether `name` stands in a line that could not be read.
    pub fn is_misread(&self, name: &str) -> bool {
        self.misread.contains(name)
    }

    /// Whether `word` in the block headed by `head` is said to be open yet, or was misread.
    pub fn is_open(&self, head: Span, word: &str) -> bool {
        let block = self.entries.iter().find(|entry| entry.span == head);
        block
            .and_then(|block| block.child(word))
            .is_some_and(|child| {
                let unread = |value: &Value| matches!(value, Value::Unknown(_) | Value::Bad);
                child.flawed || child.fields.iter().any(|field| unread(&field.value.value))
            })
    }

    /// The first value inside `whole` that is said to be open yet.
    pub fn open_in(&self, whole: Span) -> Option<&Open> {
        self.open.iter().find(|open| {
            open.span.file == whole.file
                && whole.start <= open.span.start
                && open.span.end <= whole.end
        })
    }
}

/// The model in the making.
pub(super) struct Builder<'a> {
    pub(super) model: Model,
    pub(super) names: Names,
    pub(super) catalog: &'a Catalog,
    pub(super) findings: &'a mut Vec<Finding>,
    pub(super) lacking: stock::Lacking,
    /// Units and trunks that lie where they cannot be: what is measured from them stays silent.
    pub(super) beyond: BTreeSet<String>,
    half: BTreeSet<(&'static str, String)>,
}

impl Builder<'_> {
    pub(super) fn report(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    pub(super) fn enter(&mut self, kind: &'static str, name: &Spanned<String>) -> bool {
        self.names.enter(kind, name, self.findings)
    }

    pub(super) fn expect(&mut self, kinds: &[&'static str], name: &Spanned<String>) -> bool {
        // A thing whose own lines were misread is known by name, but not to be spoken of.
        if kinds
            .iter()
            .any(|kind| self.half.contains(&(*kind, name.value.clone())))
        {
            return false;
        }
        if self.model.misread.contains(&name.value) && !self.names.has(kinds, &name.value) {
            return false;
        }
        self.names.expect(kinds, name, self.findings)
    }

    /// Something is named but part of it is unknown: what refers to it stays silent.
    pub(super) fn half_known(&mut self, kind: &'static str, name: &str) {
        self.half.insert((kind, name.to_owned()));
    }

    /// Whether anything of `kind` was misread or is half known.
    pub(super) fn misread(&self, kind: &str) -> bool {
        self.half.iter().any(|(half, _)| *half == kind)
    }

    fn settle<T>(&mut self, entry: &Entry, asked: Asked<T>) -> Option<Spanned<T>> {
        match asked {
            Asked::Known(value) => Some(value),
            Asked::Open(open) => {
                let what = entry.word.word;
                let bought = matches!(
                    what,
                    "pipe"
                        | "model"
                        | "cable"
                        | "tube"
                        | "type"
                        | "measured"
                        | "adapter"
                        | "item"
                        | "run"
                );
                self.model.open.push(Open {
                    unknown: open.value,
                    what: format!("`{what}`"),
                    span: open.span,
                    bought,
                });
                None
            }
            Asked::Bad | Asked::Absent => None,
        }
    }

    pub(super) fn length(&mut self, entry: &Entry, slot: &str) -> Option<Spanned<Length>> {
        self.settle(entry, entry.length(slot))
    }

    /// A length that has to be above zero.
    pub(super) fn size(&mut self, entry: &Entry, slot: &str) -> Option<Spanned<Length>> {
        let length = self.length(entry, slot)?;
        if length.value > Length::ZERO {
            return Some(length);
        }
        self.report(Finding::new(
            &NEGATIVE_SIZE,
            length.span,
            format!(
                "`{}` is {} here, and is to be above zero",
                entry.word.word,
                length_text(length.value)
            ),
            "give the true size",
        ));
        None
    }

    pub(super) fn real(&mut self, entry: &Entry, slot: &str) -> Option<Spanned<f64>> {
        self.settle(entry, entry.real(slot))
    }

    pub(super) fn text(&mut self, entry: &Entry, slot: &str) -> Option<Spanned<String>> {
        self.settle(entry, entry.text(slot))
    }
}

/// Values of slots that no typed reader asks for: those said to be open are still to be listed.
fn open_values(entries: &[Entry], seen: &mut BTreeSet<Span>, out: &mut Vec<Open>) {
    for entry in entries {
        for field in &entry.fields {
            if let Value::Unknown(unknown) = field.value.value
                && seen.insert(field.value.span)
            {
                let what = format!("`{}`", entry.word.word);
                out.push(Open {
                    unknown,
                    what,
                    span: field.value.span,
                    bought: false,
                });
            }
        }
        open_values(&entry.body, seen, out);
    }
}

fn words_of_misread_lines(files: &Files, findings: &[Finding]) -> BTreeSet<String> {
    let mut words = BTreeSet::new();
    for finding in findings
        .iter()
        .filter(|finding| finding.kind.code.starts_with("LNG"))
    {
        let Some(file) = files.get(finding.span.file) else {
            continue;
        };
        let start = file
            .text()
            .get(..finding.span.start as usize)
            .and_then(|t| t.rfind('\n'))
            .map_or(0, |n| n + 1);
        let line = file
            .text()
            .get(start..)
            .and_then(|rest| rest.lines().next())
            .unwrap_or("");
        words.extend(
            line.split(|c: char| !(c.is_alphanumeric() || c == '-' || c == '_'))
                .filter(|word| !word.is_empty())
                .map(str::to_owned),
        );
    }
    words
}

/// Builds the model of `entries`; mistakes go to `findings`.
pub fn build(
    entries: Vec<Entry>,
    files: &Files,
    catalog: &Catalog,
    findings: &mut Vec<Finding>,
) -> Model {
    let misread = words_of_misread_lines(files, findings);
    let mut builder = Builder {
        model: Model {
            misread,
            ..Model::default()
        },
        names: Names::default(),
        catalog,
        findings,
        lacking: stock::Lacking::default(),
        beyond: BTreeSet::new(),
        half: BTreeSet::new(),
    };
    let of = |word: &'static str| entries.iter().filter(move |entry| entry.word.word == word);
    match of("job").next() {
        Some(entry) => builder.model.job = job::read(&mut builder, entry),
        None if !builder.model.misread.contains("job") => {
            let place = entries.first().map(|entry| entry.word_span);
            if let Some(span) = place {
                builder.report(Finding::new(
                    &JOB_MISSING,
                    span,
                    "the file has no `job` block",
                    "put `job \"…\" { number …, stage bid }` before this line",
                ));
            }
        }
        None => {}
    }
    of("story").for_each(|entry| house::story(&mut builder, entry));
    of("room").for_each(|entry| house::room(&mut builder, entry));
    house::settle(&mut builder);
    for (word, kind) in [
        ("obstacle", SolidKind::Obstacle),
        ("flue", SolidKind::Flue),
        ("wall", SolidKind::Wall),
        ("platform", SolidKind::Platform),
    ] {
        of(word).for_each(|entry| house::solid(&mut builder, entry, kind));
    }
    of("roof-plane").for_each(|entry| {
        house::roof(&mut builder, entry);
    });
    of("attic-access").for_each(|entry| {
        house::hatch(&mut builder, entry);
    });
    equipment::enter_all(&mut builder, &entries);
    pan::pans(&mut builder, &entries);
    pump::pumps(&mut builder, &entries);
    of("access-path").for_each(|entry| {
        house::path(&mut builder, entry);
    });
    of("trunk").for_each(|entry| air::trunk(&mut builder, entry));
    beyond::trunks(&mut builder, &entries);
    of("run").for_each(|entry| air::run(&mut builder, entry));
    air::settle(&mut builder);
    of("drain").for_each(|entry| drain::drain(&mut builder, entry));
    of("panel").for_each(|entry| power::panel(&mut builder, entry));
    of("circuit").for_each(|entry| power::circuit(&mut builder, entry));
    of("disconnect").for_each(|entry| power::disconnect(&mut builder, entry));
    of("receptacle").for_each(|entry| service::receptacle(&mut builder, entry));
    of("light").for_each(|entry| service::light(&mut builder, entry));
    of("cable").for_each(|entry| controls::cable(&mut builder, entry));
    water::read(&mut builder, &entries);
    beyond::rest(&mut builder, &entries);
    equipment::settle(&mut builder, &entries);
    references::settle(&mut builder, &entries);
    stock::settle(&mut builder, &entries);
    let mut seen: BTreeSet<Span> = builder.model.open.iter().map(|open| open.span).collect();
    open_values(&entries, &mut seen, &mut builder.model.open);
    waiver::collect(&entries, None, &mut builder.model.waivers);
    still_open(&mut builder);
    refuse_waivers(&mut builder);
    let mut model = builder.model;
    model.parts = part::list(&entries, |span| files.text(span).to_owned());
    model.entries = entries;
    model
}

/// From a stage on, open values are errors.
fn still_open(builder: &mut Builder<'_>) {
    let stage = builder.model.job.stage;
    let late: Vec<Finding> = builder
        .model
        .open
        .iter()
        .filter(|open| stage >= Stage::RoughIn || stage == Stage::Order && open.bought)
        .map(|open| {
            Finding::new(
                &STILL_OPEN,
                open.span,
                format!(
                    "{} is still `{}` at stage `{}`",
                    open.what,
                    open.unknown.words(),
                    stage.word()
                ),
                "write the value, or set the job's stage back",
            )
        })
        .collect();
    builder.findings.extend(late);
}

/// Mistakes of the file itself can't be waived.
fn refuse_waivers(builder: &mut Builder<'_>) {
    let refused: Vec<Finding> = builder
        .model
        .waivers
        .iter()
        .filter(|waiver| {
            let code = waiver.code.value.to_ascii_uppercase();
            ["LNG", "CAT", "MOD"]
                .iter()
                .any(|family| code.starts_with(family))
        })
        .map(|waiver| {
            Finding::new(
                &WAIVER_NOT_ALLOWED,
                waiver.code.span,
                format!(
                    "`{}` is a mistake in the file and can't be waived",
                    waiver.code.value
                ),
                "mend the mistake and take the waiver out",
            )
        })
        .collect();
    builder.findings.extend(refused);
}
