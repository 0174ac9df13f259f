//! `cargo bench`: whole processes, timed in turns within one run, as ratios and differences.
//!
//! - `check` of `larkspur-lane` against an empty program (median of 50, alternating)
//! - 1,000 copies of it in one call
//! - the packet against the page program alone on the same pages, when it is installed

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::expect_used,
    reason = "a bench that stops loudly is a bench that failed"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn timed(command: &mut Command) -> Duration {
    let start = Instant::now();
    let status = command
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .expect("the program starts");
    let took = start.elapsed();
    assert!(
        status.code().is_some_and(|code| code != 2),
        "{command:?}: {status}"
    );
    took
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times.get(times.len() / 2).copied().expect("some times")
}

fn milliseconds(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}

/// An empty program, built like the release profile.
fn empty(folder: &Path) -> PathBuf {
    let source = folder.join("empty.rs");
    fs::write(&source, "fn main() {}\n").unwrap();
    let program = folder.join("empty");
    let built = Command::new("rustc")
        .args(["-C", "opt-level=3", "-C", "strip=symbols", "-o"])
        .arg(&program)
        .arg(&source)
        .status()
        .unwrap();
    assert!(built.success());
    program
}

/// The greatest memory a process held, where the system tells it.
fn peak(command: &str) -> Option<f64> {
    let out = Command::new("/usr/bin/time")
        .args(["-f", "%M"])
        .args(command.split(' '))
        .output()
        .ok()?;
    String::from_utf8_lossy(&out.stderr)
        .lines()
        .last()?
        .trim()
        .parse::<f64>()
        .ok()
        .map(|kib| kib / 1024.0)
}

fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for item in fs::read_dir(from).unwrap() {
        let path = item.unwrap().path();
        if path.is_file() {
            fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
        }
    }
}

fn main() {
    let bayrun = env!("CARGO_BIN_EXE_bayrun");
    let job = root().join("examples/larkspur-lane/larkspur-lane.bay");
    let folder = tempfile::tempdir().unwrap();
    let nothing = empty(folder.path());

    let (mut checks, mut empties) = (Vec::new(), Vec::new());
    for _ in 0..50 {
        empties.push(timed(&mut Command::new(&nothing)));
        checks.push(timed(Command::new(bayrun).arg("check").arg(&job)));
    }
    let (check, nothing) = (median(checks), median(empties));
    println!(
        "check larkspur-lane: {:.2} ms, empty program {:.2} ms, over it {:.2} ms",
        milliseconds(check),
        milliseconds(nothing),
        milliseconds(check) - milliseconds(nothing)
    );
    if let Some(peak) = peak(&format!("{bayrun} check {}", job.display())) {
        println!("check larkspur-lane: peak memory {peak:.1} MiB");
    }

    let many = folder.path().join("many");
    copy_folder(&root().join("examples/shop"), &many.join("shop"));
    fs::copy(
        root().join("examples/bayrun.yaml"),
        many.join("bayrun.yaml"),
    )
    .unwrap();
    let jobs = many.join("jobs");
    fs::create_dir_all(&jobs).unwrap();
    for n in 0..1000 {
        fs::copy(&job, jobs.join(format!("job-{n:04}.bay"))).unwrap();
    }
    let thousand = median(
        (0..3)
            .map(|_| timed(Command::new(bayrun).arg("check").arg(&jobs)))
            .collect(),
    );
    println!(
        "check 1,000 copies in one call: {:.0} ms, {:.2} of 1,000 single calls",
        milliseconds(thousand),
        thousand.as_secs_f64() / (1000.0 * check.as_secs_f64())
    );

    let packet = folder.path().join("packet");
    let mut command = Command::new(bayrun);
    command
        .arg("packet")
        .arg(&job)
        .arg("-o")
        .arg(&packet)
        .arg("--draft");
    let with = median((0..5).map(|_| timed(&mut command)).collect());
    let no_program = median(
        (0..5)
            .map(|_| {
                timed(
                    Command::new(bayrun)
                        .env("PATH", "")
                        .env("HOME", folder.path())
                        .env_remove("BAYRUN_TYPST")
                        .env("XDG_CACHE_HOME", folder.path())
                        .arg("packet")
                        .arg(&job)
                        .arg("-o")
                        .arg(folder.path().join("bare"))
                        .arg("--draft"),
                )
            })
            .collect(),
    );
    println!(
        "packet larkspur-lane: {:.0} ms with pages, {:.0} ms without the page program: {:.2} of the whole is Bayrun's",
        milliseconds(with),
        milliseconds(no_program),
        no_program.as_secs_f64() / with.as_secs_f64()
    );
}
