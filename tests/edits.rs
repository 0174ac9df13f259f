//! One mistake at a time in a sound house: each is reported once, with the right figures, and nothing else is.
//!
//! `tests/edits.txt` and `tests/edits-farmhouse.txt` list them: a name, the words to change (`-`), the words in their place (`+`), and the
//! finding expected (`=` code, then found and needed as the report prints them). After `@` stands the file that
//! is changed, where it is not the job itself.

use std::fs;

use bayrun::Workshop;
use bayrun::source::{Disk, Face, Memory, Overlay, render};

use crate::support::cases::root;

struct Edit {
    name: String,
    file: String,
    from: String,
    to: String,
    code: String,
    measured: String,
}

fn edits(list: &str) -> Vec<Edit> {
    let text = fs::read_to_string(root().join(list)).unwrap();
    let mut out: Vec<Edit> = Vec::new();
    for line in text.lines() {
        let rest = line.get(2..).unwrap_or("").to_owned();
        let last = out.last_mut();
        match line.chars().next() {
            Some('*') => out.push(Edit {
                name: rest,
                file: String::new(),
                from: String::new(),
                to: String::new(),
                code: String::new(),
                measured: String::new(),
            }),
            Some('@') => last.unwrap().file = rest,
            Some('-') => last.unwrap().from = rest.replace("\\n", "\n"),
            Some('+') => last.unwrap().to = rest.replace("\\n", "\n"),
            Some('=') => {
                let (code, measured) = rest.split_once(' ').unwrap_or((&rest, ""));
                let edit = last.unwrap();
                edit.code = code.to_owned();
                edit.measured = measured.to_owned();
            }
            _ => {}
        }
    }
    out
}

#[test]
fn each_edit_of_the_example_is_found_once_with_its_figures() {
    each_is_found_once(
        "examples/larkspur-lane/larkspur-lane.bay",
        "tests/edits.txt",
    );
}

#[test]
fn each_edit_of_the_farmhouse_s_water_is_found_once_with_its_figures() {
    let job = "examples/old-farmhouse/old-farmhouse.bay";
    each_is_found_once(job, "tests/edits-farmhouse.txt");
}

/// What a report of the feed offers to type mends what it reports: tried on every edit that it is offered for.
#[test]
fn what_the_reports_of_the_feed_offer_to_type_mends_them() {
    let job = "examples/larkspur-lane/larkspur-lane.bay";
    let path = fs::canonicalize(root().join(job)).unwrap();
    let mut tried = 0;
    let mut wrong = Vec::new();
    let of_feed = |edit: &&Edit| edit.code.starts_with("PWR") && edit.file.is_empty();
    for edit in edits("tests/edits.txt").iter().filter(of_feed) {
        let text = fs::read_to_string(&path)
            .unwrap()
            .replace(&edit.from, &edit.to);
        let check = |text: String| {
            let reader = Overlay {
                above: Memory::default().with(&path, text),
                below: &Disk,
            };
            Workshop::new(&reader, None)
                .check(&path, "job.bay")
                .unwrap()
        };
        let checked = check(text.clone());
        let found = checked.findings.iter().find(|one| one.waived.is_none());
        let mut offered = found.map_or_else(Vec::new, |one| one.edits.clone());
        if offered.is_empty() {
            continue;
        }
        let mut mended = text;
        offered.sort_by_key(|one| std::cmp::Reverse(one.span.start));
        for one in &offered {
            let (start, end) = (one.span.start as usize, one.span.end as usize);
            mended.replace_range(start..end, &one.text);
        }
        tried += 1;
        let left = check(mended);
        for finding in left.findings.iter().filter(|one| one.waived.is_none()) {
            wrong.push(format!("{}: {}", edit.name, finding.message));
        }
    }
    assert!(tried >= 15, "{tried} tried");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn each_is_found_once(job: &str, list: &str) {
    let path = fs::canonicalize(root().join(job)).unwrap();
    let edits = edits(list);
    assert!(edits.len() >= 20, "{} edits", edits.len());
    let mut wrong = Vec::new();
    for edit in &edits {
        let changed = match edit.file.as_str() {
            "" => path.clone(),
            file => fs::canonicalize(path.parent().unwrap().join(file)).unwrap(),
        };
        let sound = fs::read_to_string(&changed).unwrap();
        assert_eq!(
            sound.matches(&edit.from).count(),
            1,
            "{}: `{}` stands once",
            edit.name,
            edit.from
        );
        let text = sound.replace(&edit.from, &edit.to);
        let reader = Overlay {
            above: Memory::default().with(&changed, text),
            below: &Disk,
        };
        let checked = Workshop::new(&reader, None)
            .check(&path, "job.bay")
            .unwrap();
        let found: Vec<_> = checked
            .findings
            .iter()
            .filter(|finding| finding.waived.is_none())
            .collect();
        let measured = |n: usize| {
            found[n]
                .measured
                .as_ref()
                .map_or_else(String::new, |(found, needed)| {
                    format!(
                        "found {}, needed {} {}",
                        found.text,
                        needed.relation.words(),
                        needed.shown.text
                    )
                })
        };
        let right =
            found.len() == 1 && found[0].kind.code == edit.code && measured(0) == edit.measured;
        if !right {
            let report = render(&checked.files, &checked.findings, Face::default());
            let got: Vec<String> = (0..found.len())
                .map(|n| format!("= {} {}", found[n].kind.code, measured(n)))
                .collect();
            wrong.push(format!(
                "{}: wanted {} {}, got:\n{}\n{report}",
                edit.name,
                edit.code,
                edit.measured,
                got.join("\n")
            ));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {} edits:\n{}",
        wrong.len(),
        edits.len(),
        wrong.join("\n")
    );
}
