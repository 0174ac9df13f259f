//! Builds the model from the entries of a job, kind by kind, so that the order of lines does not matter.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use crate::catalog::Catalog;
use crate::language::{Entry, Value};
use crate::source::{Files, Finding, Span};

use super::air_handler::AirHandler;
use super::builder::Builder;
use super::controls::Cable;
use super::drain::Drain;
use super::equipment::Equipment;
use super::house::House;
use super::job::JobFacts;
use super::mistakes::JOB_MISSING;
use super::open::Open;
use super::pan::Pan;
use super::part::Part;
use super::power::{Circuit, Disconnect, Panel};
use super::pump::Pump;
use super::run::Run;
use super::service::{Light, Receptacle};
use super::solid::SolidKind;
use super::thermostat::Thermostat;
use super::trunk::Trunk;
use super::waiver::Waiver;
use super::water::HotWater;
use super::{
    access, beyond, controls, drain, equipment, job, open, pan, part, power, pump, references,
    roof, room, run, service, solid, stock, story, trunk, waiver, water,
};

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

    /// Blocks of the job that begin with `word`.
    pub fn blocks(&self, word: &'static str) -> impl Iterator<Item = &Entry> {
        let all = self.entries.iter();
        all.filter(move |entry| entry.word.word == word)
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
    let model = Model {
        misread,
        ..Model::default()
    };
    let mut builder = Builder::new(model, catalog, findings);
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
    of("story").for_each(|entry| story::story(&mut builder, entry));
    of("room").for_each(|entry| room::room(&mut builder, entry));
    room::settle(&mut builder);
    story::settle(&mut builder);
    for (word, kind) in [
        ("obstacle", SolidKind::Obstacle),
        ("flue", SolidKind::Flue),
        ("wall", SolidKind::Wall),
        ("platform", SolidKind::Platform),
    ] {
        of(word).for_each(|entry| solid::solid(&mut builder, entry, kind));
    }
    of("roof-plane").for_each(|entry| {
        roof::roof(&mut builder, entry);
    });
    of("attic-access").for_each(|entry| {
        access::hatch(&mut builder, entry);
    });
    equipment::enter_all(&mut builder, &entries);
    pan::pans(&mut builder, &entries);
    pump::pumps(&mut builder, &entries);
    of("access-path").for_each(|entry| {
        access::path(&mut builder, entry);
    });
    of("trunk").for_each(|entry| trunk::trunk(&mut builder, entry));
    beyond::trunks(&mut builder, &entries);
    of("run").for_each(|entry| run::run(&mut builder, entry));
    run::settle(&mut builder);
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
    open::open_values(&entries, &mut seen, &mut builder.model.open);
    waiver::collect(&entries, None, &mut builder.model.waivers);
    open::still_open(&mut builder);
    waiver::refuse_waivers(&mut builder);
    let mut model = builder.model;
    model.parts = part::list(&entries, |span| files.text(span).to_owned());
    model.entries = entries;
    model
}
