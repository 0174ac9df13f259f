//! Sound jobs stay silent.

use bayrun::Workshop;
use bayrun::source::{Disk, Face, Memory, Overlay, render};

use crate::generate::sound;
use crate::support::cases::root;

#[test]
fn forty_sound_jobs_stay_silent() {
    let mut wrong = Vec::new();
    for seed in 1..=40 {
        let path = root().join(format!("examples/first-job/seed-{seed}.bay"));
        let text = sound(seed);
        let reader = Overlay {
            above: Memory::default().with(&path, text.clone()),
            below: &Disk,
        };
        let checked = Workshop::new(&reader, None)
            .check(&path, "seed.bay")
            .unwrap();
        if !checked.findings.is_empty() {
            let report = render(&checked.files, &checked.findings, Face::default());
            wrong.push(format!("seed {seed}:\n{report}"));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of 40 are not silent:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
