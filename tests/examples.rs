//! What the repository shows is what the program says: examples, reference page and README.

use std::fs;

use bayrun::Workshop;
use bayrun::language::reference_page;
use bayrun::source::{Disk, Face, render};

use crate::support::cases::{marks, root};

fn blessing() -> bool {
    std::env::var_os("BAYRUN_BLESS").is_some()
}

/// Compares a generated file with what stands in the tree; `BAYRUN_BLESS=1 cargo test` rewrites it.
fn current(path: &str, text: &str) {
    let file = root().join(path);
    if blessing() {
        fs::write(&file, text).unwrap();
    }
    let stands = fs::read_to_string(&file)
        .unwrap_or_default()
        .replace("\r\n", "\n");
    assert_eq!(
        stands, text,
        "{path} is not current: BAYRUN_BLESS=1 cargo test rewrites it"
    );
}

#[test]
fn the_reference_page_is_current() {
    current("grammar/reference.md", &reference_page());
}

#[test]
fn examples_have_no_error_and_no_warning() {
    for (job, waived) in [
        ("first-job/first-job.bay", 0),
        ("larkspur-lane/larkspur-lane.bay", 1),
        ("old-farmhouse/old-farmhouse.bay", 0),
    ] {
        let name = format!("examples/{job}");
        let checked = Workshop::new(&Disk, None)
            .check(&root().join(&name), &name)
            .unwrap();
        let counts = checked.counts();
        let text = render(&checked.files, &checked.findings, Face::default());
        assert_eq!(
            (counts.error, counts.warning, counts.advice),
            (0, 0, 0),
            "{text}"
        );
        assert_eq!(counts.waived, waived, "{text}");
    }
}

#[test]
fn each_mistake_of_the_example_is_reported_once_at_its_line() {
    let name = "examples/mistakes/mistakes.bay";
    let path = root().join(name);
    let checked = Workshop::new(&Disk, None).check(&path, name).unwrap();
    let text = fs::read_to_string(&path).unwrap();
    let mut found: Vec<(u32, String)> = checked
        .findings
        .iter()
        .map(|finding| {
            assert_eq!(
                checked.files.name(finding.span.file),
                name,
                "{}",
                finding.message
            );
            (
                checked.files.position(finding.span).line,
                finding.kind.code.to_owned(),
            )
        })
        .collect();
    found.sort();
    let marked = marks(&text);
    assert_eq!(found, marked);
    assert!(marked.len() >= 20, "{} mistakes", marked.len());
    let kinds: std::collections::BTreeSet<&str> =
        marked.iter().map(|(_, code)| code.as_str()).collect();
    assert!(kinds.len() >= 20, "{} different mistakes", kinds.len());
    current(
        "examples/mistakes/mistakes.report",
        &render(&checked.files, &checked.findings, Face::default()),
    );
}

/// The blocks of a Markdown file fenced with `lang`.
fn blocks(text: &str, lang: &str) -> Vec<String> {
    let mut out = Vec::new();
    let mut block: Option<String> = None;
    for line in text.lines() {
        match &mut block {
            Some(_) if line.starts_with("```") => out.extend(block.take()),
            Some(open) => {
                open.push_str(line);
                open.push('\n');
            }
            None if line.trim() == format!("```{lang}") => block = Some(String::new()),
            None => {}
        }
    }
    out
}

#[test]
fn the_readme_s_spec_gives_the_readme_s_report() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let specs = blocks(&readme, "bay");
    let reports = blocks(&readme, "report");
    assert_eq!((specs.len(), reports.len()), (1, 1));
    let base = fs::read_to_string(root().join("examples/first-job/first-job.bay")).unwrap();
    // The README shows one block of the example with a fault in it: the rest of the house stands around it.
    let first = specs[0].lines().next().unwrap();
    let start = base
        .find(first)
        .expect("the README's block starts like the example's");
    let end = start + base[start..].find("\n}").unwrap() + 3;
    let text = format!("{}{}{}", &base[..start], specs[0], &base[end..]);
    let reader = bayrun::source::Overlay {
        above: bayrun::source::Memory::default().with(
            fs::canonicalize(root())
                .unwrap()
                .join("examples/first-job/first-job.bay"),
            text,
        ),
        below: &Disk,
    };
    let name = "first-job.bay";
    let checked = Workshop::new(&reader, None)
        .check(&root().join("examples/first-job/first-job.bay"), name)
        .unwrap();
    let report = render(&checked.files, &checked.findings, Face::default());
    let fenced = |body: &str| format!("```report\n{body}```");
    current(
        "README.md",
        &readme.replace(&fenced(&reports[0]), &fenced(&report)),
    );
}
