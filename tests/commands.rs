//! The commands as a person or another program meets them: streams, exit codes, fixed JSON.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

use crate::support::cases::root;

fn bayrun(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayrun"))
        .args(arguments)
        .current_dir(root())
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn code(output: &Output) -> i32 {
    output.status.code().expect("no signal")
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|e| panic!("{e}: {}", text(&output.stdout)))
}

fn write(folder: &Path, name: &str, body: &str) -> String {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(&path, body).unwrap();
    path.to_string_lossy().into_owned()
}

const JOB: &str = "bayrun 1\njob \"J\" { stage bid }\n";

#[test]
fn check_says_clean_by_its_exit_code() {
    let clean = bayrun(&["check", "examples/first-job/first-job.bay"]);
    assert_eq!(code(&clean), 0, "{}", text(&clean.stdout));
    let wrong = bayrun(&["check", "examples/mistakes/mistakes.bay"]);
    assert_eq!(code(&wrong), 1);
    let missing = bayrun(&["check", "examples/no-such.bay"]);
    assert_eq!(code(&missing), 2);
    assert!(text(&missing.stderr).contains("there is no such file"));
    assert_eq!(code(&bayrun(&["check"])), 2);
    assert_eq!(code(&bayrun(&["chek", "x"])), 2);
}

#[test]
fn strict_counts_warnings() {
    let folder = tempfile::tempdir().unwrap();
    let job = write(
        folder.path(),
        "j.bay",
        &format!("{JOB}waive AIR001 because \"nothing\"\n"),
    );
    assert_eq!(code(&bayrun(&["check", &job])), 0);
    assert_eq!(code(&bayrun(&["check", &job, "--strict"])), 1);
}

#[test]
fn json_has_the_fixed_form() {
    let output = bayrun(&[
        "check",
        "examples/mistakes/mistakes.bay",
        "examples/no-such.bay",
        "--format",
        "json",
    ]);
    assert_eq!(code(&output), 2);
    let value = json(&output);
    assert_eq!(value["tool"], "bayrun");
    assert_eq!(value["version"], env!("CARGO_PKG_VERSION"));
    assert_eq!(value["failed"][0]["file"], "examples/no-such.bay");
    let job = &value["jobs"][0];
    assert_eq!(job["job"], "examples/mistakes/mistakes.bay");
    let counted: Vec<&String> = job["counts"].as_object().unwrap().keys().collect();
    let mut wanted = vec!["error", "warning", "advice", "waived", "not_checked"];
    assert_eq!(counted.len(), wanted.len());
    wanted.retain(|key| !counted.iter().any(|k| k == key));
    assert!(wanted.is_empty(), "counts lack {wanted:?}");
    let mut last = (0, 0);
    for finding in job["findings"].as_array().unwrap() {
        for key in [
            "code",
            "name",
            "severity",
            "message",
            "file",
            "line",
            "column",
            "end_line",
            "end_column",
            "found",
            "needed",
            "help",
            "edits",
            "labels",
            "source",
            "waived",
        ] {
            assert!(finding.get(key).is_some(), "{key} in {finding}");
        }
        let at = (
            finding["line"].as_u64().unwrap(),
            finding["column"].as_u64().unwrap(),
        );
        assert!(at >= last, "sorted by line and column");
        last = at;
        assert_eq!(finding["found"].is_null(), finding["needed"].is_null());
        if let Some(relation) = finding["needed"]["relation"].as_str() {
            assert!(
                ["at least", "at most", "between", "equal", "not", "one of"].contains(&relation)
            );
        }
    }
}

#[test]
fn places_count_characters_and_breaks_as_agreed() {
    let folder = tempfile::tempdir().unwrap();
    let body = "\u{feff}bayrun 1\r\njob \"é\" { stage bid }\r\n\tnöte \"x\"\r\n";
    let job = write(folder.path(), "j.bay", body);
    let value = json(&bayrun(&["check", &job, "--format", "json"]));
    let finding = &value["jobs"][0]["findings"][0];
    let place = |key: &str| finding[key].as_u64().unwrap();
    assert_eq!(finding["code"], "LNG001");
    assert_eq!(
        (
            place("line"),
            place("column"),
            place("end_line"),
            place("end_column")
        ),
        (3, 2, 3, 6)
    );
}

#[test]
fn a_folder_means_every_job_below_it() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), "a/one.bay", JOB);
    write(folder.path(), "b/two.bay", JOB);
    write(
        folder.path(),
        "b/part.bay",
        "bayrun 1\nstory s { floor 0 in, ceiling 8 ft }\n",
    );
    let value = json(&bayrun(&[
        "check",
        &folder.path().to_string_lossy(),
        "--format",
        "json",
    ]));
    let jobs: Vec<&str> = value["jobs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|j| j["job"].as_str().unwrap())
        .collect();
    assert_eq!(jobs.len(), 2);
    assert!(jobs[0].ends_with("a/one.bay") && jobs[1].ends_with("b/two.bay"));
}

#[test]
fn includes_stay_in_the_tree_and_do_not_go_in_circles() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), "secret.bay", "bayrun 1\n");
    write(folder.path(), "job/bayrun.yaml", "");
    write(folder.path(), "job/b.bay", "bayrun 1\ninclude \"a.bay\"\n");
    let job = write(
        folder.path(),
        "job/a.bay",
        &format!(
            "{JOB}include \"b.bay\"\ninclude \"../secret.bay\"\ninclude \"/etc/hostname\"\ninclude \"gone.bay\"\n"
        ),
    );
    let output = bayrun(&["check", &job, "--format", "json"]);
    assert_eq!(code(&output), 1, "a circle has a place: it is a finding");
    let value = json(&output);
    let findings = value["jobs"][0]["findings"].as_array().unwrap();
    let told: Vec<&str> = findings
        .iter()
        .map(|f| f["message"].as_str().unwrap())
        .collect();
    assert_eq!(told.len(), 4, "{told:?}");
    assert!(
        told.iter()
            .any(|m| m.contains("circle") && m.matches('→').count() == 2),
        "{told:?}"
    );
    assert!(
        told.iter().any(|m| m.contains("outside the job's root")),
        "{told:?}"
    );
    assert!(
        told.iter().any(|m| m.contains("not a relative path")),
        "{told:?}"
    );
    assert!(told.iter().any(|m| m.contains("no such file")), "{told:?}");
    assert!(findings.iter().all(|f| f["code"] == "LNG017"));
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_tree_is_not_followed() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), "outside.yaml", "about: secret\n");
    let job = write(
        folder.path(),
        "job/a.bay",
        &format!("{JOB}catalog \"link.yaml\"\n"),
    );
    std::os::unix::fs::symlink(
        folder.path().join("outside.yaml"),
        folder.path().join("job/link.yaml"),
    )
    .unwrap();
    let value = json(&bayrun(&["check", &job, "--format", "json"]));
    let finding = &value["jobs"][0]["findings"][0];
    assert!(
        finding["message"]
            .as_str()
            .unwrap()
            .contains("outside the job's root"),
        "{finding}"
    );
}

#[test]
fn figures_and_why_lead_back_to_the_lines() {
    let value = json(&bayrun(&[
        "figures",
        "examples/first-job/first-job.bay",
        "--format",
        "json",
    ]));
    let figures = value["figures"].as_array().unwrap();
    assert!(figures.len() > 20);
    let ids: std::collections::BTreeSet<&str> =
        figures.iter().map(|f| f["id"].as_str().unwrap()).collect();
    assert_eq!(ids.len(), figures.len(), "each id once");
    for figure in figures {
        assert!(!figure["formula"].as_str().unwrap().is_empty(), "{figure}");
        assert!(!figure["source"].as_str().unwrap().is_empty(), "{figure}");
        assert!(
            !figure["value"].is_null() || figure["reason"].is_string(),
            "{figure}"
        );
        for input in figure["inputs"].as_array().unwrap() {
            if let Some(id) = input["figure"].as_str() {
                assert!(
                    ids.contains(id),
                    "{} rests on `{id}`, which is none",
                    figure["id"]
                );
            }
        }
    }
    let tree = bayrun(&[
        "why",
        "examples/first-job/first-job.bay",
        "room.studio.outlets",
    ]);
    assert!(
        text(&tree.stdout).contains("first-job.bay:"),
        "{}",
        text(&tree.stdout)
    );
    let page = bayrun(&["why", "AIR001"]);
    for part in [
        "What it checks",
        "What happens on site",
        "How to put it right",
        "Source",
    ] {
        assert!(text(&page.stdout).contains(part));
    }
    assert_eq!(page.stdout, bayrun(&["why", "room_without_outlet"]).stdout);
    let near = bayrun(&[
        "why",
        "examples/first-job/first-job.bay",
        "room.studio.outlet",
    ]);
    assert_eq!(code(&near), 2);
    assert!(text(&near.stderr).contains("room.studio.outlets"));
}

#[test]
fn help_language_and_completions_are_there() {
    for command in [
        "check",
        "figures",
        "why",
        "packet",
        "calc",
        "language",
        "completions",
    ] {
        let help = bayrun(&[command, "--help"]);
        assert_eq!(code(&help), 0);
        assert!(text(&help.stdout).contains("Usage"), "{command}");
    }
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        assert!(
            text(&bayrun(&["completions", shell]).stdout).contains("bayrun"),
            "{shell}"
        );
    }
    assert!(text(&bayrun(&["language"]).stdout).contains("# The language of job files"));
    assert!(text(&bayrun(&["calc"]).stdout).contains("psychrometrics"));
}

#[test]
fn no_colour_reaches_a_pipe() {
    let output = bayrun(&["check", "examples/mistakes/mistakes.bay"]);
    assert!(!output.stdout.contains(&0x1b));
}

#[test]
fn odd_files_are_refused_without_a_panic() {
    let folder = tempfile::tempdir().unwrap();
    let binary = folder.path().join("b.bay");
    fs::write(&binary, [0xff, 0xfe, 0x00, 0x41]).unwrap();
    let output = bayrun(&["check", &binary.to_string_lossy()]);
    assert_eq!(code(&output), 2);
    assert!(text(&output.stderr).contains("UTF-8"));
    let large = folder.path().join("large.bay");
    fs::write(&large, "#\n".repeat(1_500_000)).unwrap();
    let output = bayrun(&["check", &large.to_string_lossy()]);
    assert_eq!(code(&output), 2);
    assert!(text(&output.stderr).contains("larger than"));
    let empty = write(folder.path(), "empty.bay", "");
    assert_eq!(code(&bayrun(&["check", &empty])), 1);
    assert_eq!(
        code(&bayrun(&[
            "check",
            &folder.path().join("none").to_string_lossy()
        ])),
        2
    );
}
