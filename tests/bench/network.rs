//! Time to solve an air network from a cold start to its last residual: median over many runs, beside a dense
//! Newton solve over all flows and pressures, and one over the pressures alone, from the same start.

#![expect(
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a bench prints its figures and stops loudly"
)]

mod dense;

use std::time::Instant;

use bayrun::physics::air::DuctAir;
use bayrun::physics::duct::Section;
use bayrun::physics::network::{Drive, FanCurve, Network, Node, Segment, Source, solve};
use bayrun::quantity::{AirFlow, Density, Length, Pressure, Viscosity};

/// Four trunks that step down along the way, with tubes of unequal length, and a blower that fits them.
fn house(outlets: u32) -> Network {
    let node = |id: String, fixed| Node { id, fixed };
    let mut nodes = vec![
        node("ROOM".to_owned(), Some(Pressure::new(0.0))),
        node("PLENUM".to_owned(), None),
    ];
    let mut segments = Vec::new();
    let mut duct = |from, to, inches: f64, feet: f64, rough: f64, minor, outlet| {
        segments.push(Segment {
            id: format!("{from}-{to}"),
            from,
            to,
            section: Section::round(Length::nearest(inches)).unwrap(),
            length: Length::nearest(feet * 12.0),
            roughness: Length::nearest(rough * 12.0),
            minor,
            outlet,
        });
    };
    let trunks = (outlets / 30).max(1);
    for trunk in 0..trunks {
        let mut from = 1;
        let pairs = outlets / trunks / 2;
        for pair in 0..pairs {
            let to = nodes.len();
            nodes.push(node(format!("T{trunk}.{pair}"), None));
            let wide = 12.0 - f64::from(pair * 5 / pairs.max(1));
            duct(
                from,
                to,
                wide,
                3.0 + f64::from(pair % 4),
                0.0003,
                0.05,
                false,
            );
            for side in 0..2 {
                let feet = 10.0 + f64::from((trunk * 7 + pair * 3 + side * 5) % 15);
                duct(to, 0, 2.0, feet, 0.003, 2.1, true);
            }
            from = to;
        }
    }
    let most = 50.0 * f64::from(outlets);
    let curve: Vec<_> = [(0.0, 2.6), (0.4, 2.4), (0.7, 1.8), (1.0, 0.0)]
        .into_iter()
        .map(|(share, rise)| (AirFlow::new(share * most), Pressure::new(rise)))
        .collect();
    Network {
        air: DuctAir {
            density: Density::new(0.075),
            viscosity: Viscosity::new(1.222e-5),
        },
        nodes,
        segments,
        source: Source {
            inlet: 0,
            outlet: 1,
            drive: Drive::Fan(FanCurve::new(&curve).unwrap()),
        },
    }
}

fn median(runs: usize, mut work: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[runs / 2]
}

fn main() {
    for outlets in [30, 120, 500, 5000] {
        let network = house(outlets);
        let runs = if outlets > 500 { 51 } else { 501 };
        let solution = solve(&network).unwrap();
        let time = median(runs, || {
            solve(&network).unwrap();
        });
        println!(
            "{outlets:>5} outlets: {time:.3} ms, {} steps, residual {:.1e}",
            solution.steps, solution.residual
        );
        if outlets > 120 {
            continue;
        }
        for (name, method) in [
            ("over flows and pressures", dense::whole as dense::Method),
            ("over pressures", dense::nodal),
        ] {
            let (flows, steps) = method(&network);
            for (found, want) in flows.iter().zip(&solution.flows) {
                let off = (found - want.value()).abs();
                assert!(off <= 1e-6 * want.value().abs(), "{name}: {found} {want:?}");
            }
            let dense = median(11, || {
                method(&network);
            });
            println!(
                "      dense Newton {name}: {dense:.3} ms, {steps} steps, {:.1} times as long",
                dense / time
            );
        }
    }
}
