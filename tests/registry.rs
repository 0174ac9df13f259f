//! The registry of rules looks at itself.

use std::collections::BTreeSet;
use std::fs;

use bayrun::Workshop;
use bayrun::rules::{RULES, kind_named, kinds, rule_named};

use bayrun::source::{Disk, Memory, Overlay};

use crate::support::cases::{files_below, root};

/// The folder of a system's rules and cases, by the letters of its codes.
fn system(code: &str) -> &'static str {
    match &code[..3] {
        "AIR" => "air",
        "RET" => "return",
        "SIZ" => "capacity",
        "DRN" => "drain",
        "PWR" => "power",
        "CTL" => "controls",
        "REF" => "refrigerant",
        "HYD" => "water",
        "ACC" => "access",
        "CUT" => "material",
        other => panic!("no system {other}"),
    }
}

#[test]
fn codes_and_names_are_unique_sorted_and_found_again() {
    let codes: Vec<&str> = RULES.iter().map(|rule| rule.kind.code).collect();
    let mut sorted = codes.clone();
    sorted.sort_unstable();
    assert_eq!(codes, sorted, "the registry is sorted by code");
    let mut seen = BTreeSet::new();
    for kind in kinds() {
        assert!(seen.insert(kind.code.to_owned()), "{} twice", kind.code);
        assert_eq!(kind_named(kind.code).unwrap().code, kind.code);
        let letters = kind.code.len() == 6
            && kind.code[..3].bytes().all(|b| b.is_ascii_uppercase())
            && kind.code[3..].bytes().all(|b| b.is_ascii_digit());
        assert!(letters, "{} is three letters and three digits", kind.code);
    }
    let mut names = BTreeSet::new();
    for rule in RULES {
        assert!(names.insert(rule.kind.name), "{} twice", rule.kind.name);
        assert_eq!(
            rule_named(rule.kind.name).unwrap().kind.code,
            rule.kind.code
        );
    }
}

#[test]
fn every_kind_tells_its_reason() {
    for kind in kinds() {
        for (part, text) in [
            ("title", kind.title),
            ("source", kind.source),
            ("checks", kind.why.checks),
            ("on_site", kind.why.on_site),
            ("fix", kind.why.fix),
        ] {
            assert!(text.trim().len() > 3, "{} lacks {part}", kind.code);
        }
        assert!(
            !kind.title.ends_with('.'),
            "{}: a title has no full stop",
            kind.code
        );
        for word in ["check_", "avoid_", "no_", "proper_", "use_", "keep_"] {
            assert!(
                !kind.name.starts_with(word),
                "{} is named for the cure, not the fault",
                kind.name
            );
        }
    }
}

#[test]
fn every_rule_has_its_file_and_its_cases() {
    for rule in RULES {
        let (code, name) = (rule.kind.code, rule.kind.name);
        let file = root().join(format!("src/rules/{}/{name}.rs", system(code)));
        assert!(file.exists(), "{code}: {} is missing", file.display());
        let folder = root().join(format!("tests/cases/{}/{name}", system(code)));
        let cases = files_below(&folder, "bay");
        let named = |start: &str| {
            cases.iter().any(|path| {
                path.file_name()
                    .unwrap()
                    .to_string_lossy()
                    .starts_with(start)
            })
        };
        assert!(
            named("fail-") && named("pass-"),
            "{code}: {} lacks a failing or passing case",
            folder.display()
        );
        let marked = cases.iter().any(|path| {
            fs::read_to_string(path)
                .unwrap()
                .contains(&format!("#~ {code}"))
        });
        assert!(marked, "{code}: no case in {} marks it", folder.display());
        assert!(
            !rule.example.wrong.trim().is_empty() && !rule.example.right.trim().is_empty(),
            "{code}"
        );
    }
}

#[test]
fn the_examples_of_rules_are_read_without_a_mistake_of_language() {
    let root = root();
    let path = root.join("tests/houses/example.bay");
    let mut wrong = Vec::new();
    for rule in RULES {
        for text in [rule.example.wrong, rule.example.right] {
            let text = format!("bayrun 1\ninclude \"whole.bay\"\n{text}\n");
            let reader = Overlay {
                above: Memory::default().with(&path, text),
                below: &Disk,
            };
            let checked = Workshop::new(&reader, None)
                .check(&path, "example.bay")
                .unwrap();
            let mistakes = checked
                .findings
                .iter()
                .filter(|finding| finding.kind.code.starts_with("LNG"));
            wrong
                .extend(mistakes.map(|finding| format!("{}: {}", rule.kind.code, finding.message)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_folder_of_cases_is_without_a_rule() {
    let cases = root().join("tests/cases");
    for system_folder in fs::read_dir(&cases)
        .unwrap()
        .map(|item| item.unwrap().path())
    {
        let system_name = system_folder
            .file_name()
            .unwrap()
            .to_string_lossy()
            .into_owned();
        if !system_folder.is_dir()
            || matches!(
                system_name.as_str(),
                "language" | "catalog" | "model" | "tidy"
            )
        {
            continue;
        }
        for folder in fs::read_dir(&system_folder)
            .unwrap()
            .map(|item| item.unwrap().path())
        {
            let name = folder.file_name().unwrap().to_string_lossy().into_owned();
            let rule =
                rule_named(&name).unwrap_or_else(|| panic!("{} has no rule", folder.display()));
            assert_eq!(system(rule.kind.code), system_name);
        }
    }
}
