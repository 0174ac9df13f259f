//! `bayrun why`: the page of a rule, or the derivation of a figure.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::jobs::shown;
use super::options::ReportFormat;
use super::outcome::Outcome;
use crate::Workshop;
use crate::figures::{why_human, why_json};
use crate::language::word_distance;
use crate::rules::{kind_named, kinds, rule_named};
use crate::source::{Disk, Kind};

fn page(kind: &Kind) -> String {
    let mut out = format!(
        "{} {}: {}\nseverity: {}\n\nWhat it checks\n  {}\n\nWhat happens on site when it is broken\n  {}\n\nHow to put it right\n  {}\n\nSource\n  {}\n",
        kind.code,
        kind.name,
        kind.title,
        kind.severity.word(),
        kind.why.checks,
        kind.why.on_site,
        kind.why.fix,
        kind.source
    );
    if let Some(rule) = rule_named(kind.code) {
        let indented = |text: &str| {
            text.lines()
                .map(|line| format!("  {line}\n"))
                .collect::<String>()
        };
        out.push_str("\nWrong\n");
        out.push_str(&indented(rule.example.wrong));
        out.push_str("\nRight\n");
        out.push_str(&indented(rule.example.right));
    }
    out
}

fn rule(word: &str, format: ReportFormat) -> Outcome {
    let Some(kind) = kind_named(word) else {
        let near = kinds()
            .map(|kind| {
                (
                    word_distance(kind.code, word).min(word_distance(kind.name, word)),
                    kind,
                )
            })
            .min_by_key(|(distance, kind)| (*distance, kind.code))
            .map(|(_, kind)| format!("; the nearest is {} ({})", kind.code, kind.name))
            .unwrap_or_default();
        return Outcome::refused(format!(
            "there is no rule `{word}`{near}\nfor a figure, give the job first: bayrun why JOB ID"
        ));
    };
    let out = match format {
        ReportFormat::Human => page(kind),
        ReportFormat::Json => format!(
            "{}\n",
            json!({
                "code": kind.code,
                "name": kind.name,
                "title": kind.title,
                "severity": kind.severity.word(),
                "source": kind.source,
                "why": { "checks": kind.why.checks, "on_site": kind.why.on_site, "fix": kind.why.fix },
            })
        ),
    };
    Outcome {
        out,
        ..Outcome::default()
    }
}

fn figure(job: &str, id: &str, format: ReportFormat, root: Option<PathBuf>) -> Outcome {
    let path = Path::new(job);
    let checked = match Workshop::new(&Disk, root).check(path, &shown(path)) {
        Ok(checked) => checked,
        Err(error) => return Outcome::refused(format!("{job}: it can't be read: {error}")),
    };
    let found = match format {
        ReportFormat::Human => why_human(&checked.files, &checked.ledger, id),
        ReportFormat::Json => {
            why_json(&checked.files, &checked.ledger, id).map(|value| format!("{value}\n"))
        }
    };
    match found {
        Some(out) => Outcome {
            out,
            ..Outcome::default()
        },
        None => {
            let near = checked
                .ledger
                .nearest(id)
                .map(|near| format!("; the nearest is {near}"))
                .unwrap_or_default();
            Outcome::refused(format!(
                "the job has no figure `{id}`{near}\nbayrun figures {job} lists them all"
            ))
        }
    }
}

/// One word is a rule; two are a job and a figure.
pub(super) fn why(what: &[String], format: ReportFormat, root: Option<PathBuf>) -> Outcome {
    match what {
        [word] => rule(word, format),
        [job, id] => figure(job, id, format, root),
        _ => Outcome::refused("give a rule, or a job and a figure"),
    }
}
