//! The example shop, the broken catalogs under `tests/cases/catalog/`, and the schemas in `grammar/`.

use std::path::{Path, PathBuf};

use bayrun::Workshop;
use bayrun::catalog::{
    self, BlowerType, Catalog, KINDS, Placed, Standards, catalog_schema, curve, standards_schema,
};
use bayrun::source::{Face, FileId, Files, Finding, Memory, SourceFile, render};
use serde_json::Value;

use crate::support::cases::{files_below, marks};

fn folder(of: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(of)
}

fn shop_files() -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder("examples/shop"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name != "standards.yaml")
        .collect();
    names.sort();
    names
}

fn load(names: &[&str]) -> (Files, Catalog, Vec<Finding>) {
    let mut files = Files::default();
    let mut findings = Vec::new();
    let mut whole = Catalog::default();
    for name in names {
        let text = std::fs::read_to_string(folder("examples/shop").join(name)).unwrap();
        let id = files.add(SourceFile::new(*name, text.as_str(), None));
        let one = catalog::read(id, &text, &mut findings);
        whole.merge(&one, &mut findings);
    }
    (files, whole, findings)
}

#[test]
fn the_shop_reads_without_a_finding() {
    let names = shop_files();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let (files, catalog, findings) = load(&names);
    assert!(
        findings.is_empty(),
        "{}",
        render(&files, &findings, Face::default())
    );
    assert_eq!(catalog.air_handlers.len(), 6);
}

#[test]
fn standards_and_root_of_the_examples_read_without_a_finding() {
    let (_, catalog, mut findings) = load(&["stock.yaml"]);
    let text = std::fs::read_to_string(folder("examples/shop/standards.yaml")).unwrap();
    let standards = Standards::read(FileId::own(9), &text, &mut findings);
    standards.link(&catalog, &mut findings);
    let text = std::fs::read_to_string(folder("examples/bayrun.yaml")).unwrap();
    let root = catalog::Root::read(FileId::own(10), &text, &mut findings);
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(standards.preferred("trunk").unwrap().0, "9 in round");
    assert!(root.standards.is_some());
}

#[test]
fn units_and_standards_are_linked_to_the_shelves() {
    let (_, mut catalog, mut findings) = load(&["stock.yaml", "flat-family.yaml"]);
    catalog.link(&mut findings);
    assert!(findings.is_empty(), "{findings:?}");
    let text = "preferred-stock: { trunk: 9 in rund }\n";
    Standards::read(FileId::own(9), text, &mut findings).link(&catalog, &mut findings);
    assert_eq!(codes(&findings), ["CAT022"]);
    // A job that names no adapters at all is not blamed for each one.
    findings.clear();
    catalog = load(&["flat-family.yaml"]).1;
    catalog.link(&mut findings);
    assert!(findings.is_empty(), "{findings:?}");
}

fn codes(findings: &[Finding]) -> Vec<&str> {
    findings.iter().map(|finding| finding.kind.code).collect()
}

#[test]
fn a_model_in_two_files_is_told_with_both_places_and_the_first_keeps_the_name() {
    let text = |length: &str| {
        format!(
            "fasteners:\n  screw: {{ what: joints, length: {length}, price: $1.00, pack: 1 }}\n"
        )
    };
    let mut findings = Vec::new();
    let mut first = catalog::read(FileId::own(0), &text("1 in"), &mut findings);
    let second = catalog::read(FileId::own(1), &text("2 in"), &mut findings);
    first.merge(&second, &mut findings);
    first.merge(&second, &mut Vec::new());
    assert_eq!(codes(&findings), ["CAT008"]);
    let finding = &findings[0];
    assert_eq!(finding.span.file, FileId::own(1));
    assert_eq!(finding.labels[0].span.file, FileId::own(0));
    let kept = first.fasteners.get("screw").unwrap();
    assert_eq!(kept.span().file, FileId::own(0));
}

#[test]
fn each_broken_catalog_reports_what_its_marks_say_and_nothing_else() {
    let mut seen = std::collections::BTreeSet::new();
    let mut wrong = Vec::new();
    for path in files_below(&folder("tests/cases/catalog"), "yaml") {
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&path).unwrap();
        let mut files = Files::default();
        let id = files.add(SourceFile::new(name.as_str(), text.as_str(), None));
        let mut findings = Vec::new();
        if name.starts_with("standards") {
            Standards::read(id, &text, &mut findings);
        } else {
            catalog::read(id, &text, &mut findings).link(&mut findings);
        }
        let mut found: Vec<(u32, String)> = findings
            .iter()
            .map(|f| (files.position(f.span).line, f.kind.code.to_owned()))
            .collect();
        found.sort();
        let marked = marks(&text);
        if found != marked {
            let report = render(&files, &findings, Face::default());
            wrong.push(format!(
                "{name}: found {found:?}, marked {marked:?}\n{report}"
            ));
        }
        if name.starts_with("pass") != marked.is_empty() {
            wrong.push(format!(
                "{name}: a case named `pass-` has no marks, another has"
            ));
        }
        seen.extend(marked.into_iter().map(|(_, code)| code));
        for finding in &findings {
            let (start, end) = (finding.span.start as usize, finding.span.end as usize);
            assert!(text.get(start..end).is_some(), "{name}: {finding:?}");
            assert!(!finding.help.is_empty(), "{name}: {finding:?}");
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    for kind in KINDS {
        assert!(seen.contains(kind.code), "{} has no case", kind.code);
    }
}

#[test]
fn kinds_are_sorted_and_say_why() {
    let codes: Vec<&str> = KINDS.iter().map(|kind| kind.code).collect();
    let mut sorted = codes.clone();
    sorted.sort_unstable();
    sorted.dedup();
    assert_eq!(codes, sorted);
    for kind in KINDS {
        for part in [
            kind.why.checks,
            kind.why.on_site,
            kind.why.fix,
            kind.source,
            kind.title,
        ] {
            assert!(!part.is_empty(), "{}", kind.code);
        }
    }
}

/// The numbers in words: `16 1/2` is one, and the digit of a terminal's name is none.
fn numbers(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut whole_before = false;
    for word in text.split([' ', ',', '-', '$', '"']) {
        let number = word.starts_with(|c: char| c.is_ascii_digit());
        let fraction = number && word.contains('/');
        if fraction && whole_before {
            let whole = out.last_mut().unwrap();
            whole.push(' ');
            whole.push_str(word);
        } else if number {
            out.push(word.to_owned());
        }
        whole_before = number && !fraction;
    }
    out
}

/// Walks two trees side by side and lists where the same figure stands in both.
fn same_figures(path: &str, a: &Value, b: &Value, out: &mut Vec<String>) {
    match (a, b) {
        (Value::Object(a), Value::Object(b)) => {
            let by_name = a.keys().any(|key| b.contains_key(key));
            for (n, (key, value)) in a.iter().enumerate() {
                // A day of a sheet and the name of an adapter are no figures of the unit.
                if key == "date" || key == "adapters" {
                    continue;
                }
                let other = if by_name {
                    b.get(key)
                } else {
                    b.values().nth(n)
                };
                if let Some(other) = other {
                    same_figures(&format!("{path}.{key}"), value, other, out);
                }
            }
        }
        (Value::Array(a), Value::Array(b)) => {
            for (n, (value, other)) in a.iter().zip(b).enumerate() {
                same_figures(&format!("{path}[{n}]"), value, other, out);
            }
        }
        _ => {
            let words = |value: &Value| {
                value
                    .as_str()
                    .map_or_else(|| value.to_string(), str::to_owned)
            };
            let (a, b) = (words(a), words(b));
            for (n, (one, other)) in numbers(&a).iter().zip(numbers(&b)).enumerate() {
                // A side's own plane is at 0 in every cabinet.
                if *one == other && one != "0" {
                    out.push(format!("{path}, figure {n}: `{a}` and `{b}`"));
                }
            }
        }
    }
}

#[test]
fn the_two_families_differ_in_every_figure() {
    let tree = |name: &str| -> Value {
        let text = std::fs::read_to_string(folder("examples/shop").join(name)).unwrap();
        serde_yaml::from_str(&text).unwrap()
    };
    let (flat, upright) = (tree("flat-family.yaml"), tree("upright-family.yaml"));
    let mut same = Vec::new();
    same_figures("", &flat, &upright, &mut same);
    assert!(same.is_empty(), "{}", same.join("\n"));
    // The walk does see equal figures.
    same_figures("", &flat, &flat, &mut same);
    assert!(same.len() > 500, "{}", same.len());
}

#[test]
fn airflow_and_suction_are_plausible() {
    let (_, catalog, _) = load(&["flat-family.yaml", "upright-family.yaml"]);
    assert_eq!(catalog.air_handlers.len(), 6);
    for (name, unit) in catalog.air_handlers.iter() {
        let tons = unit.tons().unwrap();
        let plausible = |cfm: f64| (220.0..=350.0).contains(&(cfm / tons));
        for (tap, one) in unit.blower.taps.iter() {
            // 42 U.S.C. 6295(d)(4)(A)(i): at least 1.2 in w.c. at 220 to 350 cfm per rated ton.
            let reached = match unit.blower.type_of.get().unwrap() {
                BlowerType::Curve => curve(one.points.as_ref())
                    .iter()
                    .any(|point| point.pressure.value() >= 1.2 && plausible(point.flow.value())),
                BlowerType::ConstantAirflow => {
                    let up_to = one.up_to.as_ref().unwrap().get().unwrap();
                    let holds = one.holds.as_ref().unwrap().get().unwrap();
                    up_to.value() >= 1.2 && plausible(holds.value())
                }
            };
            assert!(reached, "{name} tap {tap}");
        }
        for points in [&unit.suction.clean, &unit.suction.dirty] {
            for point in curve(points.as_ref()) {
                assert!(
                    (0.6..=1.8).contains(&point.pressure.value()),
                    "{name} {point:?}"
                );
            }
        }
        // 80 F dry, 67 F wet, 95 F outdoor lies between the rows: the table is near the nominal size there.
        for row in unit.cooling_rows() {
            let share = row.total.value() / (tons * 12_000.0);
            assert!((0.75..=1.25).contains(&share), "{name} {row:?}");
            assert!(row.sensible <= row.total, "{name} {row:?}");
        }
    }
}

#[test]
fn schemas_are_current() {
    for (name, text) in [
        ("catalog.schema.json", catalog_schema()),
        ("standards.schema.json", standards_schema()),
    ] {
        let path = folder("grammar").join(name);
        if std::env::var_os("BAYRUN_BLESS").is_some() {
            std::fs::write(&path, &text).unwrap();
        }
        let stored = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(
            stored == text,
            "grammar/{name} is not current: run `BAYRUN_BLESS=1 cargo test schemas` and read the diff"
        );
    }
}

/// Reads `text` whatever it is; every finding lies inside it.
fn survives(text: &str) {
    let id = FileId::own(0);
    let mut findings = Vec::new();
    catalog::read(id, text, &mut findings).link(&mut findings);
    Standards::read(id, text, &mut findings);
    for finding in &findings {
        let spans = finding.labels.iter().map(|label| label.span);
        for span in spans
            .chain([finding.span])
            .chain(finding.edits.iter().map(|e| e.span))
        {
            let words = text.get(span.start as usize..span.end as usize);
            assert!(words.is_some(), "{span:?} lies outside:\n{text}");
        }
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig {
        cases: 96,
        failure_persistence: None,
        ..Default::default()
    })]

    #[test]
    fn a_shop_file_cut_anywhere_is_read_without_a_stop(which in 0_usize..7, at in 0.0_f64..1.0) {
        let names = shop_files();
        let name = &names[which % names.len()];
        let text = std::fs::read_to_string(folder("examples/shop").join(name)).unwrap();
        let cut = (at * text.len() as f64) as usize;
        let cut = (0..=cut).rev().find(|n| text.is_char_boundary(*n)).unwrap();
        survives(&text[..cut]);
    }

    #[test]
    fn a_shop_file_with_lines_mixed_up_is_read_without_a_stop(
        which in 0_usize..7, one in 0_usize..400, other in 0_usize..400, how in 0_usize..4,
    ) {
        let names = shop_files();
        let name = &names[which % names.len()];
        let text = std::fs::read_to_string(folder("examples/shop").join(name)).unwrap();
        let mut lines: Vec<&str> = text.lines().collect();
        let (one, other) = (one % lines.len(), other % lines.len());
        match how {
            0 => lines.swap(one, other),
            1 => { lines.remove(one); }
            2 => lines.insert(other, lines[one]),
            _ => lines[one] = lines[one].split_once(':').map_or("", |(key, _)| key),
        }
        survives(&lines.join("\n"));
    }

    #[test]
    fn any_text_is_read_without_a_stop(text in "[ a-z0-9:\\-\\[\\]{}&*<>\"'#|!%@\u{0}\u{feff}é\t\n,]{0,80}") {
        survives(&text);
        survives(&format!("fasteners:\n  screw:\n    length: {text}\n"));
        survives(&format!("pans:\n  pan: {{ size: \"{}\" }}\n", text.replace(['"', '\\'], "")));
    }
}

#[test]
fn a_catalog_that_is_no_yaml_is_one_finding_of_the_job() {
    let job = "bayrun 1\njob \"Gap\" { number 1 }\nstory first { floor 0 ft, ceiling 8 ft }\ncatalog \"shop.yaml\"\n\
               air-handler ah { model \"Example 3-ton, flat\", on first, center 5 ft, 5 ft, discharge toward east }\n";
    let reader = Memory::default()
        .with("bayrun.yaml", "")
        .with("job.bay", job)
        .with("shop.yaml", "air-handlers: [\n");
    let checked = Workshop::new(&reader, None)
        .check(Path::new("job.bay"), "job.bay")
        .unwrap();
    let of: Vec<&str> = codes(&checked.findings);
    assert!(of.contains(&"CAT001"), "{of:?}");
    assert!(!of.contains(&"MOD003"), "{of:?}");
}

#[test]
fn thousands_of_mistakes_are_read_in_reasonable_time() {
    use std::fmt::Write as _;
    let mut text = String::from("fasteners:\n");
    for n in 0..5_000 {
        writeln!(
            text,
            "  s{n}: {{ what: a, length: 1 cfm, price: 3, pack: x, colour: b }}"
        )
        .unwrap();
    }
    let mut findings = Vec::new();
    let start = std::time::Instant::now();
    catalog::read(FileId::own(0), &text, &mut findings);
    assert_eq!(findings.len(), 20_000);
    // A guard against quadratic growth, not a benchmark: minutes, not milliseconds, are what it would take.
    assert!(start.elapsed().as_secs() < 30, "{:?}", start.elapsed());
}
