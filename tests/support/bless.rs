//! `cargo bless NAME`: rewrites the expected reports of the cases whose path holds NAME, and nothing else.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    unreachable_pub,
    reason = "a tool of the tests: it stops loudly"
)]

mod cases;

fn main() {
    let word = std::env::args().nth(1).unwrap_or_default();
    for path in cases::all() {
        let case = cases::run(&path);
        if !case.name.contains(&word) {
            continue;
        }
        let fails = path
            .file_name()
            .is_some_and(|name| name.to_string_lossy().starts_with("fail"));
        if fails {
            std::fs::write(&case.report, &case.text).unwrap();
        }
        if case.found != case.marked || !case.elsewhere.is_empty() {
            println!(
                "{}: found {:?}, marked {:?}, elsewhere {:?}",
                case.name, case.found, case.marked, case.elsewhere
            );
        }
    }
}
