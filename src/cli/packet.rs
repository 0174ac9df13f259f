//! `bayrun packet`: the packet of a job.

use std::fmt::Write as _;
use std::io::{IsTerminal as _, Write as _};
use std::path::{Path, PathBuf};

use super::check::summary;
use super::jobs::shown;
use super::options::Paper;
use super::outcome::Outcome;
use crate::packet::set::Printer;
use crate::packet::text::Words;
use crate::packet::typst::{self, Search, TIME_LIMIT, Typst, TypstTrouble, find, install_typst};
use crate::packet::{PageSource, compile, lists, write_set};
use crate::source::{Disk, Severity};
use crate::{Checked, Workshop};

/// What was asked for.
#[derive(Debug)]
pub(super) struct Wanted {
    pub(super) job: Option<PathBuf>,
    pub(super) output: Option<PathBuf>,
    pub(super) draft: bool,
    pub(super) paper: Paper,
    pub(super) typst: Option<PathBuf>,
    pub(super) install_typst: bool,
    pub(super) root: Option<PathBuf>,
}

/// A line on a terminal that somebody watches; nothing otherwise.
fn tell(line: &str) {
    let mut stderr = std::io::stderr().lock();
    if stderr.is_terminal() {
        // What can't be shown is no reason to stop.
        let _ = writeln!(stderr, "{line}");
    }
}

fn page_program(wanted: &Wanted) -> Result<Typst, TypstTrouble> {
    let search = Search::of_this_machine(wanted.typst.clone());
    if wanted.install_typst {
        install_typst(&search, &mut tell)
    } else {
        find(&search)
    }
}

/// The errors left, one a line, and what to do.
fn refusal(checked: &Checked) -> String {
    let mut out = String::new();
    for finding in &checked.findings {
        if finding.waived.is_none() && finding.severity == Severity::Error {
            let place = checked.files.place(finding.span);
            let (code, message) = (finding.kind.code, &finding.message);
            // Writing to a text can't fail.
            let _ = writeln!(out, "{place}: error[{code}]: {message}");
        }
    }
    out.push_str(&summary(checked));
    out.push_str(
        "no packet is written while errors are left; `bayrun check` says how to mend them, \
         and `--draft` writes a packet that says so on every page\n",
    );
    out
}

fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// Writes the packet of `job`.
fn write(wanted: &Wanted, job: &Path, typst: Result<Typst, TypstTrouble>) -> Outcome {
    let name = shown(job);
    tell(&format!("checking {name}"));
    let checked = match Workshop::new(&Disk, wanted.root.clone()).check(job, &name) {
        Ok(checked) => checked,
        Err(error) => return Outcome::refused(format!("{name}: it can't be read: {error}")),
    };
    if checked.has_errors() && !wanted.draft {
        return Outcome {
            out: String::new(),
            err: refusal(&checked),
            code: 1,
        };
    }
    let source = PageSource {
        files: &checked.files,
        model: &checked.model,
        catalog: &checked.catalog,
        standards: &checked.standards,
        ledger: &checked.ledger,
        material: &checked.material,
        findings: &checked.findings,
        not_checked: &checked.not_checked,
        loosened: &checked.loosened,
    };
    let packet = compile(&source);
    tell(&format!(
        "setting {}",
        count(packet.pages.len(), "page", "pages")
    ));
    let folder = wanted
        .output
        .clone()
        .unwrap_or_else(|| job.with_file_name("packet"));
    let paper = match wanted.paper {
        Paper::Letter => typst::Paper::Letter,
        Paper::A4 => typst::Paper::A4,
    };
    let printer = Printer {
        typst: typst.as_ref(),
        paper,
        limit: TIME_LIMIT,
    };
    let written = match write_set(
        &folder,
        &packet,
        &lists(&source),
        &printer,
        Words::english(),
    ) {
        Ok(written) => written,
        Err(error) => return Outcome::refused(error.to_string()),
    };
    let draft = packet.job.draft.map_or_else(String::new, |errors| {
        format!(", a draft with {} left", count(errors, "error", "errors"))
    });
    Outcome {
        out: format!(
            "{}: {} written to {}{draft}\n",
            name,
            count(written.files.len(), "file", "files"),
            shown(&folder)
        ),
        err: written
            .trouble
            .as_ref()
            .map_or_else(String::new, |trouble| format!("{trouble}\n")),
        code: if written.trouble.is_some() { 3 } else { 0 },
    }
}

/// Writes the packet, or builds the page program alone when no job is named.
pub(super) fn packet(wanted: &Wanted) -> Outcome {
    let typst = page_program(wanted);
    match (&wanted.job, typst) {
        (Some(job), typst) => write(wanted, job, typst),
        (None, Ok(typst)) => Outcome {
            out: format!(
                "typst {} is ready at {}\n",
                typst::VERSION,
                shown(typst.path())
            ),
            ..Outcome::default()
        },
        (None, Err(trouble)) => Outcome::refused(trouble.to_string()),
    }
}
