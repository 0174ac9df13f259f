//! Cases are files: each `.bay` below `tests/cases` is checked, its marks `#~ CODE` say which lines are
//! at fault, and the full text of the reports stands beside it as `.report`.

use std::fs;
use std::path::{Path, PathBuf};

use bayrun::source::{Disk, Face, render};
use bayrun::{Checked, Workshop};

/// One case and what checking it gave.
pub struct Case {
    /// Path from the repository's root, with `/`.
    pub name: String,
    /// The `.report` beside it.
    pub report: PathBuf,
    /// (line, code) marked in the file, sorted.
    pub marked: Vec<(u32, String)>,
    /// (line, code) found in the file, sorted.
    pub found: Vec<(u32, String)>,
    /// Findings whose place lies in another file: there should be none.
    pub elsewhere: Vec<String>,
    /// The reports as text.
    pub text: String,
}

/// The repository's root.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Every file with `ending` below `folder`, sorted.
pub fn files_below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut out = Vec::new();
    let Ok(items) = fs::read_dir(folder) else {
        return out;
    };
    let mut paths: Vec<PathBuf> = items.map(|item| item.unwrap().path()).collect();
    paths.sort();
    for path in paths {
        if path.is_dir() {
            out.extend(files_below(&path, ending));
        } else if path.extension().is_some_and(|e| e == ending) {
            out.push(path);
        }
    }
    out
}

/// The marks of a case's text.
pub fn marks(text: &str) -> Vec<(u32, String)> {
    let mut out = Vec::new();
    for (n, line) in text.lines().enumerate() {
        if let Some((_, codes)) = line.split_once("#~") {
            out.extend(
                codes
                    .split_whitespace()
                    .map(|code| (u32::try_from(n).unwrap() + 1, code.to_owned())),
            );
        }
    }
    out.sort();
    out
}

/// Checks one case.
pub fn run(path: &Path) -> Case {
    let name = path
        .strip_prefix(root())
        .unwrap()
        .to_string_lossy()
        .replace('\\', "/");
    let text = fs::read_to_string(path).unwrap();
    let workshop = Workshop::new(&Disk, None);
    let checked = workshop.check(path, &name).unwrap();
    let shown = |checked: &Checked| render(&checked.files, &checked.findings, Face::default());
    let text_of_report = shown(&checked);
    // With fewer figures the same is found.
    let judged = workshop.judge(path, &name).unwrap();
    assert_eq!(shown(&judged), text_of_report, "{name}");
    assert_eq!(judged.counts(), checked.counts(), "{name}");
    let (mut found, mut elsewhere) = (Vec::new(), Vec::new());
    for finding in checked
        .findings
        .iter()
        .filter(|finding| finding.waived.is_none())
    {
        let at = checked.files.position(finding.span);
        let file = checked.files.name(finding.span.file);
        if file == name {
            found.push((at.line, finding.kind.code.to_owned()));
        } else {
            elsewhere.push(format!(
                "{file}:{} {} {}",
                at.line, finding.kind.code, finding.message
            ));
        }
    }
    found.sort();
    Case {
        name,
        report: path.with_extension("report"),
        marked: marks(&text),
        found,
        elsewhere,
        text: text_of_report,
    }
}

/// All cases of job files.
pub fn all() -> Vec<PathBuf> {
    files_below(&root().join("tests/cases"), "bay")
}
