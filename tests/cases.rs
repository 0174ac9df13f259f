//! Every case file says what it is meant to show, and shows it.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use bayrun::source::{Disk, Finding, Memory, Overlay};
use bayrun::{Checked, Workshop};

use crate::support::cases::{all, files_below, root, run};

#[test]
fn cases_find_what_their_marks_say_and_nothing_else() {
    let mut wrong = Vec::new();
    for path in all() {
        let case = run(&path);
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        let fails = file.starts_with("fail");
        if !case.elsewhere.is_empty() {
            wrong.push(format!(
                "{}: findings outside the case: {:?}",
                case.name, case.elsewhere
            ));
        }
        if case.found != case.marked {
            wrong.push(format!(
                "{}: found {:?}, marked {:?}\n{}",
                case.name, case.found, case.marked, case.text
            ));
        }
        if fails == case.marked.is_empty() {
            wrong.push(format!(
                "{}: a case named `fail-` has marks, one named `pass-` has none",
                case.name
            ));
        }
        if fails {
            let expected = fs::read_to_string(&case.report).unwrap_or_default();
            if expected != case.text {
                wrong.push(format!(
                    "{}: the report differs; read it, then `cargo bless {}`\n{}",
                    case.name, case.name, case.text
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_report_has_its_case() {
    for report in files_below(&root().join("tests/cases"), "report") {
        assert!(
            report.with_extension("bay").exists() || report.with_extension("yaml").exists(),
            "{} stands alone",
            report.display()
        );
    }
}

/// Cases in which what is offered brings another finding, and why that is as it should be.
const GO_ON: &[&str] = &[
    // The gap is measured by the pipe's own opening, and the wider pipe has a wider one.
    "drain/pipe_reduced/fail-smaller",
    "drain/pipe_too_small/fail-port",
    // As far apart as the catalog allows is still too far for so little fall.
    "drain/leg_sags/fail-too-far-said-once",
    // The word was misspelt, and the rest of the line is missing.
    "drain/trap_missing/fail-misread",
    // The adapter was misspelt; with it the ducts can be reckoned.
    "air/adapter_unfit/fail-unknown",
    // Two conductors changed over: each end is offered for itself.
    "power/hot_on_white/fail-changed-over",
    // The jumper of the other setting has to come out as well.
    "power/supply_outside_setting/fail-named-setting",
];

fn check(path: &Path, name: &str, text: String) -> Checked {
    let reader = Overlay {
        above: Memory::default().with(path, text),
        below: &Disk,
    };
    Workshop::new(&reader, None).check(path, name).unwrap()
}

/// The text with what `finding` offers typed into it; none where it offers nothing in this file.
fn typed(text: &str, checked: &Checked, name: &str, finding: &Finding) -> Option<String> {
    let mut offered = finding.edits.clone();
    let here = |file| checked.files.name(file) == name;
    if offered.is_empty() || !offered.iter().all(|edit| here(edit.span.file)) {
        return None;
    }
    offered.sort_by_key(|edit| std::cmp::Reverse(edit.span.start));
    let mut mended = text.to_owned();
    for edit in &offered {
        mended.replace_range(edit.span.start as usize..edit.span.end as usize, &edit.text);
    }
    Some(mended)
}

#[test]
fn what_a_case_is_offered_to_type_takes_its_finding_away_and_brings_no_other() {
    let (mut tried, mut wrong) = (0, Vec::new());
    let fails = |path: &Path| {
        path.file_name()
            .is_some_and(|name| name.to_string_lossy().starts_with("fail"))
    };
    for path in all().into_iter().filter(|path| fails(path)) {
        let name = path.strip_prefix(root()).unwrap().to_string_lossy();
        let name = name.replace('\\', "/");
        let text = fs::read_to_string(&path).unwrap();
        let before = check(&path, &name, text.clone());
        let codes: BTreeSet<&str> = before.findings.iter().map(|one| one.kind.code).collect();
        let goes_on = GO_ON.iter().any(|known| name.contains(known));
        for finding in &before.findings {
            let Some(mended) = typed(&text, &before, &name, finding) else {
                continue;
            };
            tried += 1;
            let after = check(&path, &name, mended);
            for left in &after.findings {
                let stays = left.kind.code == finding.kind.code && left.message == finding.message;
                let comes = !goes_on && !codes.contains(left.kind.code);
                if stays || comes {
                    wrong.push(format!(
                        "{name}: {} stands after what is offered for {}",
                        left.message, finding.message
                    ));
                }
            }
        }
    }
    assert!(tried >= 180, "{tried} tried");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
