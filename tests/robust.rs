//! Whatever is typed: no panic, and every place lies inside its file.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use bayrun::language::{TokenKind, tokens};
use bayrun::source::{Disk, Face, Files, Memory, ReadError, Reader, Span, finding_json, render};
use bayrun::{Checked, Workshop};
use proptest::prelude::*;

use crate::support::cases::{files_below, root};

fn jobs() -> Vec<PathBuf> {
    let mut out = files_below(&root().join("examples"), "bay");
    out.extend(files_below(&root().join("tests/houses"), "bay"));
    out
}

fn inside(files: &Files, span: Span) {
    let file = files.get(span.file).expect("a span's file is known");
    let (start, end) = (span.start as usize, span.end as usize);
    assert!(
        start <= end && end <= file.text().len(),
        "{span:?} in {}",
        file.name()
    );
    assert!(
        file.text().is_char_boundary(start) && file.text().is_char_boundary(end),
        "{span:?}"
    );
}

/// The disk, with one text laid over one path: the text changes from case to case, the catalogs are read once.
struct Desk(Mutex<Memory>);

impl Reader for Desk {
    fn read(&self, path: &Path, limit: u64) -> Result<String, ReadError> {
        let above = self.0.lock().unwrap().read(path, limit);
        if above == Err(ReadError::NotFound) {
            Disk.read(path, limit)
        } else {
            above
        }
    }

    fn real_path(&self, path: &Path) -> Result<PathBuf, ReadError> {
        Disk.real_path(path)
            .or_else(|_| self.0.lock().unwrap().real_path(path))
    }
}

thread_local! {
    /// Each test's own desk; the workshop over it lives as long as the thread.
    static DESK: (&'static Desk, &'static Workshop<'static>) = {
        let desk: &'static Desk = Box::leak(Box::new(Desk(Mutex::default())));
        (desk, Box::leak(Box::new(Workshop::new(desk, Some(root())))))
    };
}

fn check_text(path: &Path, text: &str) -> Checked {
    DESK.with(|(desk, workshop)| {
        *desk.0.lock().unwrap() = Memory::default().with(path, text);
        workshop.check(path, "job.bay").unwrap()
    })
}

/// Checks `text` in the place of `path` and looks at every place and both faces of what is found.
fn survives(path: &Path, text: &str) {
    let checked = check_text(path, text);
    for finding in &checked.findings {
        inside(&checked.files, finding.span);
        for label in &finding.labels {
            inside(&checked.files, label.span);
        }
        for edit in &finding.edits {
            inside(&checked.files, edit.span);
        }
        assert!(!finding.message.is_empty() && !finding.help.is_empty());
        let value = finding_json(&checked.files, finding);
        assert!(value["line"].as_u64().unwrap() >= 1 && value["column"].as_u64().unwrap() >= 1);
    }
    let shown = render(&checked.files, &checked.findings, Face::default());
    assert_eq!(shown.is_empty(), checked.findings.is_empty());
}

/// The tokens of a text, trivia left in, as (start, end).
fn meaningful(text: &str) -> Vec<(usize, usize)> {
    tokens(text)
        .into_iter()
        .filter(|t| !t.kind.is_trivia() && t.kind != TokenKind::Break)
        .map(|t| (t.start as usize, t.end as usize))
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 800, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn examples_with_one_token_removed_doubled_or_swapped(
        which in any::<prop::sample::Index>(),
        token in any::<prop::sample::Index>(),
        how in 0..3,
    ) {
        let jobs = jobs();
        let path = which.get(&jobs);
        let text = fs::read_to_string(path).unwrap();
        let all = meaningful(&text);
        let n = token.index(all.len());
        let (start, end) = all[n];
        let changed = match how {
            0 => format!("{}{}", &text[..start], &text[end..]),
            1 => format!("{} {}{}", &text[..end], &text[start..end], &text[end..]),
            _ => {
                let Some((s2, e2)) = all.get(n + 1).copied() else { return Ok(()) };
                format!("{}{}{}{}{}", &text[..start], &text[s2..e2], &text[end..s2], &text[start..end], &text[e2..])
            }
        };
        survives(path, &changed);
    }

    #[test]
    fn truncated_examples(which in any::<prop::sample::Index>(), cut in any::<prop::sample::Index>()) {
        let jobs = jobs();
        let path = which.get(&jobs);
        let text = fs::read_to_string(path).unwrap();
        let mut at = cut.index(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        survives(path, &text[..at]);
    }

    #[test]
    fn random_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        survives(&root().join("tests/houses/any.bay"), &String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn words_of_the_language_in_any_order(
        words in prop::collection::vec(
            prop::sample::select(vec![
                "bayrun", "1", "job", "\"x\"", "{", "}", "\n", ",", "story", "room", "a", "on", "corner", "size", "x",
                "12 ft", "6 in", "-3 in", "outlet", "trunk", "from", "ah.supply", "east", "removable", "tee", "cap", "run",
                "at", "drain", "trap", "drop", "seal", "end", "waive", "AIR001", "because", "to measure", "let", "=",
                "air-handler", "model", "center", "discharge", "toward", "circuit", "breaker", "15 A", "2-pole", "1/0", "½",
            ]),
            0..60,
        ),
    ) {
        survives(&root().join("tests/houses/any.bay"), &format!("bayrun 1\n{}", words.join(" ")));
    }
}

#[test]
fn a_deep_nest_is_one_finding() {
    let text = format!(
        "bayrun 1\ntrunk t from ah.supply {{\n{}{}}}\n",
        "tee a {\n".repeat(5000),
        "}\n".repeat(5000)
    );
    let checked = check_text(&root().join("tests/houses/any.bay"), &text);
    let deep = checked
        .findings
        .iter()
        .filter(|f| f.kind.code == "LNG015")
        .count();
    assert_eq!(deep, 1);
}
