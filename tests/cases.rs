//! Every case file says what it is meant to show, and shows it.

use std::fs;

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
