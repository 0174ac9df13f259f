//! `bayrun suggest`: the fewest changes that make a house even, each tried on the whole job.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use serde_json::{Value, json};

use super::check::summary;
use super::jobs::shown;
use super::options::ReportFormat;
use super::outcome::Outcome;
use crate::advise::{Aim, Change, Job, RoomStanding, Standing, Step, Suggestion, apply, suggest};
use crate::source::{Disk, Files, ReadError, Reader, edit_json, failed_json};
use crate::{Checked, Workshop};

/// The spread over a house that is aimed at, °F (common practice).
const AIM: Aim = Aim { spread: 2.0 };

/// The disk with the texts of one trial laid over it.
#[derive(Default)]
struct Tried {
    texts: Mutex<BTreeMap<PathBuf, String>>,
}

impl Tried {
    fn lay(&self, texts: BTreeMap<PathBuf, String>) {
        *self.texts.lock().unwrap_or_else(PoisonError::into_inner) = texts;
    }
}

impl Reader for Tried {
    fn read(&self, path: &Path, limit: u64) -> Result<String, ReadError> {
        let texts = self.texts.lock().unwrap_or_else(PoisonError::into_inner);
        let real = Disk.real_path(path)?;
        match texts.get(&real) {
            Some(text) => Ok(text.clone()),
            None => Disk.read(path, limit),
        }
    }

    fn real_path(&self, path: &Path) -> Result<PathBuf, ReadError> {
        Disk.real_path(path)
    }
}

/// The texts that `changes` make, by real path; none when they do not go together.
fn texts(files: &Files, changes: &[&Change]) -> Option<BTreeMap<PathBuf, String>> {
    apply(files, changes.iter().flat_map(|change| &change.edits))?
        .into_iter()
        .map(|(id, text)| {
            let real = Disk.real_path(Path::new(files.name(id))).ok()?;
            Some((real, text))
        })
        .collect()
}

fn standing(checked: &Checked) -> Standing {
    Standing::of(&checked.model, &checked.ledger, &checked.findings)
}

/// Puts the new texts in place of the old ones, each whole or not at all.
fn write(texts: &BTreeMap<PathBuf, String>) -> std::io::Result<()> {
    for (path, text) in texts {
        let folder = path.parent().unwrap_or(Path::new("."));
        let mut beside = tempfile::Builder::new()
            .prefix(".bayrun-")
            .tempfile_in(folder)?;
        beside.write_all(text.as_bytes())?;
        let rights = std::fs::metadata(path)?.permissions();
        std::fs::set_permissions(beside.path(), rights)?;
        beside.persist(path).map_err(|error| error.error)?;
    }
    Ok(())
}

fn degrees(value: Option<f64>) -> String {
    value.map_or_else(|| "not known".to_owned(), |value| format!("{value:.1} °F"))
}

fn spreads(standing: &Standing) -> String {
    format!(
        "{} in cooling, {} in heating",
        degrees(standing.spread),
        degrees(standing.spread_winter)
    )
}

/// What a step does to the room it serves and to the house.
fn effect(step: &Step, before: &Standing) -> String {
    let room = step.change.room.as_ref();
    let at = |standing: &Standing| {
        room.and_then(|room| standing.rooms.get(room))
            .copied()
            .unwrap_or_default()
    };
    let (was, now) = (at(before), at(&step.after));
    let mut out = String::new();
    if let (Some(room), Some(a), Some(b)) = (room, was.airflow, now.airflow) {
        let _ = write!(out, "{room} {a:.0} → {b:.0} cfm");
    }
    if let (Some(a), Some(b)) = (was.summer, now.summer) {
        let _ = write!(out, ", {a:.1} → {b:.1} °F");
    }
    if !out.is_empty() {
        out.push_str("; ");
    }
    let _ = write!(out, "spread {}", spreads(&step.after));
    out
}

fn human(name: &str, found: &Suggestion, checked: &Checked, wrote: bool) -> String {
    let mut out = format!("{name}: spread {}\n", spreads(&found.start));
    let mut before = &found.start;
    for (n, step) in found.steps.iter().enumerate() {
        let _ = writeln!(out, "{:>3}. {}", n + 1, step.change.words());
        let _ = writeln!(out, "     {}", effect(step, before));
        before = &step.after;
    }
    out.push_str(match (found.steps.is_empty(), found.reached) {
        (true, true) => "     nothing to change: the house is as even as is aimed at\n",
        (true, false) => "     no change that was tried helps without new findings\n",
        (false, true) => "     with these the house is as even as is aimed at\n",
        (false, false) => "     better, and not yet as even as is aimed at\n",
    });
    let _ = writeln!(
        out,
        "     aim: at most {:.0} °F between rooms in cooling, heating no worse than it was; {} designs tried",
        AIM.spread, found.trials
    );
    if !found.steps.is_empty() {
        let _ = write!(out, "     checked with the changes: {}", summary(checked));
        out.push_str(if wrote {
            "     written into the job\n"
        } else {
            "     `--write` puts them into the job\n"
        });
    }
    out
}

fn room_json(room: &RoomStanding) -> Value {
    json!({
        "temperature": room.summer,
        "temperature_winter": room.winter,
        "airflow": room.airflow,
        "share": room.share,
    })
}

fn standing_json(standing: &Standing) -> Value {
    let rooms: serde_json::Map<String, Value> = standing
        .rooms
        .iter()
        .map(|(name, room)| (name.clone(), room_json(room)))
        .collect();
    json!({
        "spread": standing.spread,
        "spread_winter": standing.spread_winter,
        "rooms": rooms,
    })
}

fn suggestion_json(name: &str, files: &Files, found: &Suggestion, wrote: bool) -> Value {
    let steps: Vec<Value> = found
        .steps
        .iter()
        .map(|step| {
            let edits: Vec<Value> = step
                .change
                .edits
                .iter()
                .map(|edit| edit_json(files, edit))
                .collect();
            json!({
                "kind": step.change.part.kind(),
                "thing": step.change.thing,
                "room": step.change.room,
                "words": step.change.words(),
                "edits": edits,
                "after": standing_json(&step.after),
            })
        })
        .collect();
    json!({
        "tool": "bayrun",
        "version": env!("CARGO_PKG_VERSION"),
        "job": name,
        "aim": { "spread": AIM.spread, "unit": "F" },
        "start": standing_json(&found.start),
        "steps": steps,
        "reached": found.reached,
        "trials": found.trials,
        "written": wrote,
    })
}

/// Why a spread is not known: in the words of its figure.
fn why_unknown(checked: &Checked) -> String {
    checked
        .ledger
        .reason("house.spread")
        .unwrap_or("the job does not say enough to find room temperatures")
        .to_owned()
}

/// Searches, prints, and with `wanted_written` writes.
pub(super) fn suggest_changes(
    path: &Path,
    format: ReportFormat,
    wanted_written: bool,
    root: Option<PathBuf>,
) -> Outcome {
    let name = shown(path);
    let refused = |message: String| {
        let mut outcome = Outcome::refused(format!("{name}: {message}"));
        if format == ReportFormat::Json {
            let failed = failed_json(&name, &message);
            outcome.out = format!("{}\n", json!({ "tool": "bayrun", "failed": [failed] }));
            outcome.err.clear();
        }
        outcome
    };
    let reader = Tried::default();
    let workshop = Workshop::new(&reader, root);
    let checked = match workshop.check(path, &name) {
        Ok(checked) => checked,
        Err(error) => return refused(format!("it can't be read: {error}")),
    };
    let start = standing(&checked);
    if start.spread.is_none() {
        let mut outcome = refused(format!(
            "nothing can be suggested: {}",
            why_unknown(&checked)
        ));
        outcome.code = 1;
        return outcome;
    }
    let job = Job {
        model: &checked.model,
        catalog: &checked.catalog,
        files: &checked.files,
    };
    let mut try_on = |changes: &[&Change]| {
        reader.lay(texts(&checked.files, changes)?);
        workshop
            .check(path, &name)
            .ok()
            .map(|tried| standing(&tried))
    };
    let mut found = suggest(&job, start, AIM, &mut try_on);
    // The set as a whole once more: what does not check clean is not said.
    let all: Vec<&Change> = found.steps.iter().map(|step| &step.change).collect();
    let end = texts(&checked.files, &all).and_then(|texts| {
        reader.lay(texts.clone());
        let tried = workshop.check(path, &name).ok()?;
        (standing(&tried).added_to(&found.start) == 0).then_some((texts, tried))
    });
    if end.is_none() {
        found.steps.clear();
        found.reached = false;
    }
    let (new_texts, after) = end.unzip();
    let mut wrote = false;
    if wanted_written && !found.steps.is_empty() {
        if let Err(error) = write(&new_texts.unwrap_or_default()) {
            return refused(format!("the changes can't be written: {error}"));
        }
        wrote = true;
    }
    let out = match format {
        ReportFormat::Human => human(&name, &found, after.as_ref().unwrap_or(&checked), wrote),
        ReportFormat::Json => {
            format!(
                "{}\n",
                suggestion_json(&name, &checked.files, &found, wrote)
            )
        }
    };
    Outcome {
        out,
        err: String::new(),
        code: u8::from(!found.reached),
    }
}
