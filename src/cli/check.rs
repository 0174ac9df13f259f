//! `bayrun check`: findings for people or programs.

use std::fmt::Write as _;
use std::mem::ManuallyDrop;
use std::path::PathBuf;

use rayon::ThreadPoolBuilder;
use rayon::iter::{IntoParallelRefIterator as _, ParallelIterator as _};
use serde_json::{Value, json};

use super::jobs::wanted;
use super::options::ReportFormat;
use super::outcome::Outcome;
use crate::rules::unruled;
use crate::source::{Counts, Disk, Face, failed_json, finding_json, render};
use crate::{Checked, Workshop};

fn counts_json(counts: Counts) -> Value {
    json!({
        "error": counts.error,
        "warning": counts.warning,
        "advice": counts.advice,
        "waived": counts.waived,
        "not_checked": counts.not_checked,
    })
}

fn plural(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// The line below a job's reports.
pub(super) fn summary(checked: &Checked) -> String {
    let counts = checked.counts();
    let mut parts = Vec::new();
    if counts.error + counts.warning + counts.advice == 0 {
        parts.push("nothing found".to_owned());
    }
    for (n, one, many) in [
        (counts.error, "error", "errors"),
        (counts.warning, "warning", "warnings"),
        (counts.advice, "piece of advice", "pieces of advice"),
        (counts.waived, "waived", "waived"),
        (counts.not_checked, "not checked", "not checked"),
    ] {
        if n > 0 {
            parts.push(plural(n, one, many));
        }
    }
    format!("{}: {}\n", checked.job, parts.join(", "))
}

fn human(checked: &Checked, face: Face) -> String {
    let mut out = render(&checked.files, &checked.findings, face);
    if !out.is_empty() {
        out.push('\n');
    }
    out.push_str(&summary(checked));
    for gap in &checked.not_checked {
        let place = gap
            .span
            .map(|span| format!("{} ", checked.files.place(span)))
            .unwrap_or_default();
        let _ = writeln!(
            out,
            "  not checked: {place}{} {} ({}): {}",
            gap.kind_code, gap.title, gap.thing, gap.reason
        );
    }
    let unruled = unruled(&checked.model);
    if !unruled.is_empty() {
        let _ = writeln!(
            out,
            "  no rule yet for what this job says of: {}",
            unruled.join(", ")
        );
    }
    for open in &checked.model.open {
        let place = checked.files.place(open.span);
        let _ = writeln!(
            out,
            "  still open: {place} {} {}",
            open.what,
            open.unknown.words()
        );
    }
    out
}

/// What one job adds to the output.
struct Line {
    text: String,
    value: Value,
    left: bool,
}

/// What a thread may use for itself, in bytes; as much as the first thread of a program has.
const STACK: usize = 8 << 20;

/// Checks all jobs, in parallel, and prints them in order.
pub(super) fn check(
    paths: &[PathBuf],
    format: ReportFormat,
    strict: bool,
    root: Option<PathBuf>,
    face: Face,
) -> Outcome {
    let (jobs, mut failed) = wanted(paths);
    let mut workshop = Workshop::new(&Disk, root);
    // The parts of one job keep two threads busy, and each further one would cost its start.
    let pool = (jobs.len() == 1)
        .then(|| {
            ThreadPoolBuilder::new()
                .num_threads(2)
                .stack_size(STACK)
                .build()
                .ok()
        })
        .flatten();
    if pool.is_some() {
        workshop = workshop.sharing();
    }
    let one = |checked: &Checked| {
        let counts = checked.counts();
        let left = counts.error > 0 || strict && counts.warning > 0;
        match format {
            ReportFormat::Human => Line {
                text: human(checked, face),
                value: Value::Null,
                left,
            },
            ReportFormat::Json => {
                let findings: Vec<Value> = checked
                    .findings
                    .iter()
                    .map(|finding| finding_json(&checked.files, finding))
                    .collect();
                let value = json!({ "job": checked.job, "findings": findings, "counts": counts_json(counts) });
                Line {
                    text: String::new(),
                    value,
                    left,
                }
            }
        }
    };
    let check_one = |job: &super::jobs::Wanted| workshop.judge(&job.path, &job.name);
    let results: Vec<_> = if let [job] = jobs.as_slice() {
        // The end of the program frees one job faster than we could.
        let line = pool.map_or_else(
            || check_one(job),
            |pool| ManuallyDrop::new(pool).install(|| check_one(job)),
        );
        let line = line.map(|checked| one(&ManuallyDrop::new(checked)));
        std::mem::forget(workshop);
        vec![line]
    } else {
        jobs.par_iter()
            .map(|job| check_one(job).map(|checked| one(&checked)))
            .collect()
    };
    let (mut lines, mut left) = (Vec::new(), false);
    for (job, result) in jobs.iter().zip(results) {
        match result {
            Ok(line) => {
                left |= line.left;
                lines.push(line);
            }
            Err(error) => failed.push((job.name.clone(), format!("it can't be read: {error}"))),
        }
    }
    let code = if failed.is_empty() { u8::from(left) } else { 2 };
    match format {
        ReportFormat::Human => {
            let out: Vec<String> = lines.into_iter().map(|line| line.text).collect();
            let err = failed
                .iter()
                .map(|(file, message)| format!("{file}: {message}\n"))
                .collect();
            Outcome {
                out: out.join("\n"),
                err,
                code,
            }
        }
        ReportFormat::Json => {
            let jobs: Vec<Value> = lines.into_iter().map(|line| line.value).collect();
            let mut map = serde_json::Map::new();
            map.insert("tool".into(), json!("bayrun"));
            map.insert("version".into(), json!(env!("CARGO_PKG_VERSION")));
            map.insert("jobs".into(), Value::Array(jobs));
            if !failed.is_empty() {
                let failed: Vec<Value> = failed
                    .iter()
                    .map(|(file, message)| failed_json(file, message))
                    .collect();
                map.insert("failed".into(), Value::Array(failed));
            }
            let mut out = serde_json::to_string(&Value::Object(map)).unwrap_or_default();
            out.push('\n');
            Outcome {
                out,
                err: String::new(),
                code,
            }
        }
    }
}
