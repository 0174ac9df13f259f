//! Time for the whole truth table of an example's control wiring, every call with every set of safeties and every
//! failing relay, and for what is proved over it: medians over many runs.

#![expect(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a bench prints its figures and stops loudly"
)]

use std::path::Path;
use std::time::{Duration, Instant};

use bayrun::Workshop;
use bayrun::source::Disk;
use bayrun::systems::controls::{Circuit, Netlist};

fn median(runs: usize, mut work: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort();
    times.get(runs / 2).copied().unwrap_or_default()
}

fn main() {
    for name in ["larkspur-lane", "old-farmhouse"] {
        let path =
            Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("examples/{name}/{name}.bay"));
        let checked = Workshop::new(&Disk, None).check(&path, name).unwrap();
        let net = Netlist::of(&checked.model, &checked.catalog);
        let circuit = Circuit::of(&net, &checked.model, &checked.catalog);
        let rows = circuit.table().len();
        let table = median(100, || {
            std::hint::black_box(circuit.table());
        });
        let proved = median(100, || {
            std::hint::black_box(circuit.breaches(&checked.model));
        });
        let ohms = circuit.ohms(&checked.model, &checked.catalog);
        let cases: Vec<_> = circuit.table().into_iter().map(|row| row.case).collect();
        let volts = median(20, || {
            std::hint::black_box(circuit.lowest_volts(&ohms, &cases));
        });
        println!(
            "{name}: table of {rows} rows {:.3} ms, proved in {:.3} ms, volts over the table {:.3} ms",
            table.as_secs_f64() * 1e3,
            proved.as_secs_f64() * 1e3,
            volts.as_secs_f64() * 1e3
        );
    }
}
