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
use serde_json::Value;

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

/// The reference network of 120 outlets on four trunks, from its own file.
fn big120() -> Network {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/");
    let text = std::fs::read_to_string(format!("{folder}air_network_big120.json")).unwrap();
    let file: Value = serde_json::from_str(&text).unwrap();
    let list = |of: &Value, key: &str| of[key].as_array().unwrap().clone();
    let word = |of: &Value, key: &str| of[key].as_str().unwrap().to_owned();
    let real = |of: &Value, key: &str| of[key].as_f64().unwrap();
    let nodes: Vec<Node> = list(&file, "nodes")
        .iter()
        .map(|node| Node {
            id: word(node, "id"),
            fixed: node["fixed_total_pressure_inwc"]
                .as_f64()
                .map(Pressure::new),
        })
        .collect();
    let at = |of: &Value, key: &str| {
        let id = word(of, key);
        nodes.iter().position(|node| node.id == id).unwrap()
    };
    let segments = list(&file, "segments")
        .iter()
        .map(|segment| Segment {
            id: word(segment, "id"),
            from: at(segment, "from"),
            to: at(segment, "to"),
            section: Section::round(Length::nearest(real(segment, "diameter_in"))).unwrap(),
            length: Length::nearest(real(segment, "length_ft") * 12.0),
            roughness: Length::nearest(real(segment, "roughness_ft") * 12.0),
            minor: real(segment, "minor_K"),
            outlet: segment["outlet"].as_bool() == Some(true),
        })
        .collect();
    let source = &file["source"];
    let curve: Vec<_> = list(source, "points")
        .iter()
        .map(|point| {
            (
                AirFlow::new(real(point, "flow_cfm")),
                Pressure::new(real(point, "pressure_rise_inwc")),
            )
        })
        .collect();
    Network {
        air: DuctAir {
            density: Density::new(real(&file["air"], "density_lb_per_ft3")),
            viscosity: Viscosity::new(real(&file["air"], "viscosity_lb_per_ft_s")),
        },
        source: Source {
            inlet: at(source, "inlet"),
            outlet: at(source, "outlet"),
            drive: Drive::Fan(FanCurve::new(&curve).unwrap()),
        },
        segments,
        nodes: nodes.clone(),
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
    let networks = [
        ("30 outlets".to_owned(), house(30)),
        ("big120".to_owned(), big120()),
    ]
    .into_iter()
    .chain([120, 500, 5000].map(|outlets| (format!("{outlets} outlets"), house(outlets))));
    for (name, network) in networks {
        let outlets = network.segments.iter().filter(|s| s.outlet).count();
        let runs = if outlets > 500 { 51 } else { 501 };
        let solution = solve(&network).unwrap();
        let time = median(runs, || {
            solve(&network).unwrap();
        });
        println!(
            "{name:>12}: {time:.3} ms, {} steps, residual {:.1e}",
            solution.steps, solution.residual
        );
        if outlets > 120 {
            continue;
        }
        for (method_name, method) in [
            ("over flows and pressures", dense::whole as dense::Method),
            ("over pressures", dense::nodal),
        ] {
            let (flows, steps) = method(&network);
            for (found, want) in flows.iter().zip(&solution.flows) {
                let off = (found - want.value()).abs();
                assert!(
                    off <= 1e-6 * want.value().abs(),
                    "{method_name}: {found} {want:?}"
                );
            }
            let dense = median(11, || {
                method(&network);
            });
            println!(
                "      dense Newton {method_name}: {dense:.3} ms, {steps} steps, {:.1} times as long",
                dense / time
            );
        }
    }
}
