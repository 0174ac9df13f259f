//! `suggest` on uneven houses: what it proposes mends them, checks clean, and leaves the text around it alone.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

use crate::support::cases::root;

/// The examples in a folder of their own, with `job` put through `change`.
fn ground(job: &str, change: impl Fn(&str) -> String) -> (tempfile::TempDir, PathBuf) {
    let home = tempfile::tempdir().expect("folder");
    for folder in ["shop", "first-job", "larkspur-lane"] {
        fs::create_dir(home.path().join(folder)).expect("folder");
        for file in fs::read_dir(root().join("examples").join(folder)).expect("examples") {
            let file = file.expect("file").path();
            if file.is_file() {
                let to = home
                    .path()
                    .join(folder)
                    .join(file.file_name().expect("name"));
                fs::copy(&file, to).expect("copy");
            }
        }
    }
    fs::write(home.path().join("bayrun.yaml"), "about: test\n").expect("root");
    let path = home.path().join(job);
    let text = fs::read_to_string(&path).expect("job");
    fs::write(&path, change(&text)).expect("job");
    (home, path)
}

fn suggest(job: &Path, more: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayrun"))
        .arg("suggest")
        .arg(job)
        .args(more)
        .output()
        .expect("run")
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&output.stdout)))
}

fn real(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("no number: {value}"))
}

fn figure(job: &Path, id: &str) -> f64 {
    let output = Command::new(env!("CARGO_BIN_EXE_bayrun"))
        .args(["figures", "--format", "json"])
        .arg(job)
        .output()
        .expect("run");
    let figures = &json(&output)["figures"];
    let found = figures
        .as_array()
        .expect("figures")
        .iter()
        .find(|figure| figure["id"] == id);
    real(&found.unwrap_or_else(|| panic!("no `{id}`"))["value"])
}

/// Takes the balancing orifice out of each run named.
fn without_orifices(text: &str, runs: &[&str]) -> String {
    text.lines()
        .map(|line| {
            let named = runs
                .iter()
                .any(|run| line.starts_with(&format!("run {run} ")));
            match (named, line.split_once(", orifice \"")) {
                (true, Some((before, after))) => {
                    let rest = after.split_once('"').expect("closed").1;
                    format!("{before}{rest}\n")
                }
                _ => format!("{line}\n"),
            }
        })
        .collect()
}

#[test]
fn an_uneven_house_becomes_even_and_stays_what_it_was() {
    let (_home, job) = ground("larkspur-lane/larkspur-lane.bay", |text| {
        without_orifices(text, &["hu1", "hu2", "se1", "se3"])
    });
    let before = fs::read_to_string(&job).expect("job");
    let told = suggest(&job, &["--format", "json"]);
    let found = json(&told);
    assert_eq!(told.status.code(), Some(0), "{found}");
    assert_eq!(
        fs::read_to_string(&job).expect("job"),
        before,
        "nothing is written unasked"
    );
    let steps = found["steps"].as_array().expect("steps");
    assert!(!steps.is_empty());
    let (start, end) = (&found["start"], &steps.last().expect("a step")["after"]);
    assert!(
        real(&start["spread"]) > 2.0,
        "the planted fault shows: {start}"
    );
    assert!(real(&end["spread"]) <= 2.0, "{end}");
    assert!(
        real(&end["spread_winter"]) <= real(&start["spread_winter"]).max(2.0),
        "{end}"
    );
    // Written, the job has the spread that was promised, in lines that differ only where a change stands.
    let wrote = suggest(&job, &["--write"]);
    assert_eq!(wrote.status.code(), Some(0));
    let after = fs::read_to_string(&job).expect("job");
    assert!((figure(&job, "house.spread") - real(&end["spread"])).abs() < 1e-9);
    let comments = |text: &str| -> Vec<String> {
        let lines = text
            .lines()
            .filter(|line| line.trim_start().starts_with('#'));
        lines.map(str::to_owned).collect()
    };
    assert_eq!(comments(&after), comments(&before));
    let same = before
        .lines()
        .filter(|line| after.lines().any(|other| other == *line));
    assert!(before.lines().count() - same.count() <= steps.len());
    // And nothing is left to suggest.
    let again = json(&suggest(&job, &["--format", "json"]));
    assert_eq!(again["steps"].as_array().map(Vec::len), Some(0), "{again}");
}

#[test]
fn a_house_that_is_even_is_left_alone() {
    let (_home, job) = ground("first-job/first-job.bay", str::to_owned);
    let told = suggest(&job, &[]);
    let out = String::from_utf8_lossy(&told.stdout).into_owned();
    assert_eq!(told.status.code(), Some(0), "{out}");
    assert!(out.contains("nothing to change"), "{out}");
}

#[test]
fn a_job_without_a_solved_house_says_why() {
    let (_home, job) = ground("first-job/first-job.bay", |text| {
        text.replace("east 24 ft, cap", "east to measure, cap")
    });
    let told = suggest(&job, &[]);
    assert_eq!(told.status.code(), Some(1));
    let err = String::from_utf8_lossy(&told.stderr).into_owned();
    assert!(err.contains("nothing can be suggested: "), "{err}");
    let missing = suggest(&job.with_file_name("no-such.bay"), &["--format", "json"]);
    assert_eq!(missing.status.code(), Some(2));
    assert!(json(&missing)["failed"][0]["message"].is_string());
}
