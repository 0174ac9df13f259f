//! The air network against published solutions and by its own laws: thousands of random networks
//! whose solution is checked part by part, and faults planted one at a time.

use std::cell::Cell;
use std::path::Path;

use bayrun::cli::calc::calc;
use bayrun::physics::air::DuctAir;
use bayrun::physics::duct::Section;
use bayrun::physics::network::{
    Drive, FanCurve, Network, Node, Segment, Solution, Source, Unsolvable, settle, settle_near,
    solve,
};
use bayrun::quantity::{AirFlow, Density, Length, Pressure, Viscosity};
use proptest::collection::vec;
use proptest::prelude::{Just, Strategy, any, prop, prop_oneof};
use proptest::test_runner::{Config, TestRunner};

fn rows(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .has_headers(false)
        .from_reader(text.as_bytes());
    reader
        .records()
        .map(|record| record.unwrap().iter().map(str::to_owned).collect())
        .collect()
}

/// Header tolerance: flows 0.1 %, pressures 0.1 % of the plenum's; here a thousandth of that.
#[test]
fn published_networks_are_met() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference");
    for name in [
        "straight8",
        "flatfan24",
        "nasty12",
        "rect20_fan_return",
        "loop16",
        "big120",
    ] {
        let base = folder.join(format!("air_network_{name}"));
        let file = base.with_extension("json").display().to_string();
        let outcome = calc(Some("air-network"), &[file], None);
        assert_eq!((outcome.err.as_str(), outcome.code), ("", 0), "{name}");
        let found = rows(&outcome.out);
        let want = rows(&std::fs::read_to_string(base.with_extension("csv")).unwrap());
        assert_eq!(found.len(), want.len(), "{name}");
        let plenum: f64 = want[1][10].parse().unwrap();
        for (a, b) in want.iter().zip(&found) {
            for (at, (x, y)) in a.iter().zip(b).enumerate() {
                let (Ok(p), Ok(q)) = (x.parse::<f64>(), y.parse::<f64>()) else {
                    assert_eq!(x, y, "{name} {}", a[1]);
                    continue;
                };
                let scale = if at >= 7 { plenum } else { p.abs() };
                assert!((p - q).abs() <= 1e-6 * scale, "{name} {} {x} {y}", a[1]);
            }
        }
    }
}

fn air() -> DuctAir {
    DuctAir {
        density: Density::new(0.075),
        viscosity: Viscosity::new(1.222e-5),
    }
}

/// Figures of one duct: diameter in, length ft, roughness ft, loss coefficient.
type Duct = (f64, f64, f64, f64);

fn segment(id: String, from: usize, to: usize, duct: Duct, outlet: bool) -> Segment {
    let inches = Length::nearest;
    Segment {
        id,
        from,
        to,
        section: Section::round(inches(duct.0)).unwrap(),
        length: inches(duct.1 * 12.0),
        roughness: inches(duct.2 * 12.0),
        minor: duct.3,
        outlet,
    }
}

/// Largest error of any law at any part: balance over the flows that meet, closing over the largest pressure.
fn worst(network: &Network, solution: &Solution) -> (f64, f64) {
    let pressure = |node: usize| solution.pressures[node].value();
    let source = &network.source;
    let rise = pressure(source.outlet) - pressure(source.inlet);
    let largest = solution
        .pressures
        .iter()
        .fold(rise.abs(), |most, p| most.max(p.value().abs()));
    let mut open = 0.0_f64;
    let mut net = vec![0.0; network.nodes.len()];
    let mut through = vec![0.0; network.nodes.len()];
    let mut pass = |from: usize, to: usize, flow: f64| {
        net[from] -= flow;
        net[to] += flow;
        through[from] += flow.abs();
        through[to] += flow.abs();
    };
    for (segment, flow) in network.segments.iter().zip(&solution.flows) {
        let state = segment.state(&network.air, *flow);
        let loss = (state.friction + state.minor).value();
        open = open.max((pressure(segment.from) - pressure(segment.to) - loss).abs());
        pass(segment.from, segment.to, flow.value());
    }
    pass(source.inlet, source.outlet, solution.source_flow.value());
    match &source.drive {
        Drive::Flow(flow) => assert_eq!(*flow, solution.source_flow),
        Drive::Fan(curve) => {
            let at = curve.rise(solution.source_flow).unwrap().value();
            // A blower that blows free meets the system in the last digits of its curve.
            let near = solution.source_flow * (1.0 - 8.0 * f64::EPSILON);
            let digits = (curve.rise(near).unwrap().value() - at).abs()
                + 8.0 * f64::EPSILON * curve.rise(AirFlow::new(0.0)).unwrap().value();
            open = open.max((at - rise).abs() - digits);
        }
    }
    let unbalanced = network
        .nodes
        .iter()
        .zip(net.iter().zip(&through))
        .filter(|(node, _)| node.fixed.is_none())
        .fold(0.0_f64, |most, (_, (net, through))| {
            most.max(if *net == 0.0 {
                0.0
            } else {
                net.abs() / through
            })
        });
    (unbalanced, if open == 0.0 { 0.0 } else { open / largest })
}

/// A duct from hair-thin to a man's height, from a seam to a street.
fn duct() -> impl Strategy<Value = Duct> {
    let log = |low: f64, high: f64| (libm::log(low)..libm::log(high)).prop_map(libm::exp);
    (
        log(0.2, 20.0),
        log(0.001, 200.0),
        prop_oneof![Just(0.0), Just(0.0003), Just(0.003)],
        prop_oneof![Just(0.0), 0.0..3.0_f64, log(0.01, 60.0)],
    )
}

fn drive() -> impl Strategy<Value = Drive> {
    let flow = prop_oneof![Just(0.0), 0.01..5000.0_f64].prop_map(|q| Drive::Flow(AirFlow::new(q)));
    // Steps of flow above zero and of pressure at or above zero: flat parts are common; it ends at no pressure.
    let fan = vec((1.0..800.0_f64, prop_oneof![Just(0.0), 0.0..1.0_f64]), 1..7).prop_map(|steps| {
        let mut points = vec![(AirFlow::new(0.0), Pressure::new(0.0))];
        let mut flow = 0.0;
        for (more, _) in &steps {
            flow += more;
            points.push((AirFlow::new(flow), Pressure::new(0.0)));
        }
        let mut rise = 0.05;
        for (at, (_, less)) in steps.iter().enumerate().rev() {
            rise += less;
            points[at].1 = Pressure::new(rise);
        }
        Drive::Fan(FanCurve::new(&points).unwrap())
    });
    prop_oneof![flow, fan]
}

/// Trunks that branch at random, outlets on them, loops closed at random, with or without a return duct.
fn network(trunks: usize, outlets: usize, loops: usize) -> impl Strategy<Value = Network> {
    (
        vec(
            (any::<prop::sample::Index>(), duct(), any::<bool>()),
            1..trunks,
        ),
        vec((any::<prop::sample::Index>(), duct()), 1..outlets),
        vec(
            (
                any::<prop::sample::Index>(),
                any::<prop::sample::Index>(),
                duct(),
            ),
            0..=loops,
        ),
        prop::option::of(duct()),
        drive(),
    )
        .prop_map(|(trunks, outlets, loops, back, drive)| {
            let node = |id: String, fixed| Node { id, fixed };
            let mut nodes = vec![
                node("ROOM".to_owned(), Some(Pressure::new(0.0))),
                node("RETURN".to_owned(), None),
                node("PLENUM".to_owned(), None),
            ];
            let mut segments = Vec::new();
            for (n, (at, duct, turned)) in trunks.into_iter().enumerate() {
                let parent = 2 + at.index(n + 1);
                nodes.push(node(format!("T{n}"), None));
                let (from, to) = if turned {
                    (n + 3, parent)
                } else {
                    (parent, n + 3)
                };
                segments.push(segment(format!("S{n}"), from, to, duct, false));
            }
            let count = nodes.len() - 2;
            for (n, (at, duct)) in outlets.into_iter().enumerate() {
                segments.push(segment(format!("O{n}"), 2 + at.index(count), 0, duct, true));
            }
            for (n, (a, b, duct)) in loops.into_iter().enumerate() {
                let (a, b) = (2 + a.index(count), 2 + b.index(count));
                if a != b {
                    segments.push(segment(format!("L{n}"), a, b, duct, false));
                }
            }
            let inlet = match back {
                Some(duct) => {
                    segments.push(segment("R".to_owned(), 0, 1, duct, false));
                    1
                }
                None => {
                    nodes[1].fixed = Some(Pressure::new(0.0));
                    0
                }
            };
            Network {
                air: air(),
                nodes,
                segments,
                source: Source {
                    inlet,
                    outlet: 2,
                    drive,
                },
            }
        })
}

/// Pure losses stand in for ducts of no length.
fn with_pure_losses(mut network: Network) -> Network {
    for segment in &mut network.segments {
        if segment.minor > 0.0 && segment.length < Length::feet(1) {
            segment.length = Length::ZERO;
        }
    }
    network
}

fn all_are_solved(cases: u32, networks: impl Strategy<Value = Network>) {
    let most = Cell::new((0.0_f64, 0.0_f64, 0));
    let mut runner = TestRunner::new(Config {
        cases,
        failure_persistence: None,
        ..Config::default()
    });
    runner
        .run(&networks, |network| {
            let solution = solve(&network)
                .map_err(|why| proptest::test_runner::TestCaseError::fail(format!("{why:?}")))?;
            let (unbalanced, open) = worst(&network, &solution);
            proptest::prop_assert!(unbalanced < 1e-9, "balance {unbalanced}");
            proptest::prop_assert!(open < 1e-9, "closing {open}");
            let before = most.get();
            most.set((
                before.0.max(unbalanced),
                before.1.max(open),
                before.2.max(solution.steps),
            ));
            Ok(())
        })
        .unwrap();
    let most = most.get();
    println!(
        "balance {:.1e}, closing {:.1e}, at most {} steps",
        most.0, most.1, most.2
    );
}

#[test]
fn random_networks_are_solved() {
    all_are_solved(2000, network(12, 12, 6));
}

#[test]
fn large_random_networks_are_solved() {
    all_are_solved(150, network(200, 500, 40));
}

#[test]
fn random_networks_with_pure_losses_are_solved() {
    all_are_solved(500, network(12, 12, 6).prop_map(with_pure_losses));
}

fn plain() -> Network {
    let node = |id: &str, fixed: Option<f64>| Node {
        id: id.to_owned(),
        fixed: fixed.map(Pressure::new),
    };
    Network {
        air: air(),
        nodes: vec![
            node("ROOM", Some(0.0)),
            node("PLENUM", None),
            node("T", None),
        ],
        segments: vec![
            segment("trunk".to_owned(), 1, 2, (7.0, 10.0, 0.0003, 0.5), false),
            segment("a".to_owned(), 2, 0, (2.0, 12.0, 0.003, 2.0), true),
            segment("b".to_owned(), 2, 0, (2.0, 15.0, 0.003, 2.0), true),
        ],
        source: Source {
            inlet: 0,
            outlet: 1,
            drive: Drive::Flow(AirFlow::new(70.0)),
        },
    }
}

fn reasons(change: impl Fn(&mut Network)) -> Vec<Unsolvable> {
    let mut network = plain();
    change(&mut network);
    solve(&network).unwrap_err()
}

#[test]
fn each_planted_fault_is_named_and_nothing_else() {
    assert!(solve(&plain()).is_ok());
    assert_eq!(
        reasons(|n| n.nodes[0].fixed = None),
        [Unsolvable::NothingFixed]
    );
    assert_eq!(
        reasons(|n| n.source.inlet = 1),
        [Unsolvable::SourceLoop("PLENUM".to_owned())]
    );
    assert_eq!(
        reasons(|n| n.segments[0].to = 1),
        [Unsolvable::SegmentLoop("trunk".to_owned())]
    );
    assert_eq!(
        reasons(|n| n.segments[0].to = 9),
        [Unsolvable::NoSuchNode(9)]
    );
    assert_eq!(
        reasons(|n| {
            n.segments[1].length = Length::ZERO;
            n.segments[1].minor = 0.0;
        }),
        [Unsolvable::NoResistance("a".to_owned())]
    );
    assert_eq!(
        reasons(|n| n.source.drive = Drive::Flow(AirFlow::new(-1.0))),
        [Unsolvable::BadFlow]
    );
    // A branch that nobody joined to the trunk.
    let loose = |n: &mut Network| {
        n.nodes.push(Node {
            id: "X".to_owned(),
            fixed: None,
        });
        n.segments[2].from = 3;
    };
    assert_eq!(reasons(loose), [Unsolvable::OutletCutOff("b".to_owned())]);
    // A blower that draws from a place that nothing reaches.
    assert_eq!(
        reasons(|n| {
            n.nodes.push(Node {
                id: "RETURN".to_owned(),
                fixed: None,
            });
            n.source.inlet = 3;
        }),
        [Unsolvable::Adrift("RETURN".to_owned())]
    );
}

/// One fault in a network that has a solution, and the reason that it is to be given.
fn planted(
    mut network: Network,
    fault: usize,
    at: prop::sample::Index,
) -> (Network, Vec<Unsolvable>) {
    let count = network.segments.len();
    let n = at.index(count);
    let outlets: Vec<usize> = (0..count).filter(|n| network.segments[*n].outlet).collect();
    let id = network.segments[n].id.clone();
    let loose = |network: &mut Network| {
        network.nodes.push(Node {
            id: "LOOSE".to_owned(),
            fixed: None,
        });
        network.nodes.len() - 1
    };
    let fan = |points: [(f64, f64); 2]| {
        let points = points.map(|(q, p)| (AirFlow::new(q), Pressure::new(p)));
        Drive::Fan(FanCurve::new(&points).unwrap())
    };
    // What the ducts use up at 300 cfm.
    let mut at_300 = network.clone();
    at_300.source.drive = Drive::Flow(AirFlow::new(300.0));
    let needed = solve(&at_300).map_or(1.0, |solution| {
        let source = &at_300.source;
        (solution.pressures[source.outlet] - solution.pressures[source.inlet]).value()
    });
    let reasons = match fault {
        0 => {
            network.nodes.iter_mut().for_each(|node| node.fixed = None);
            vec![Unsolvable::NothingFixed]
        }
        1 => {
            network.segments[n].to = network.segments[n].from;
            vec![Unsolvable::SegmentLoop(id)]
        }
        2 => {
            network.segments[n].length = Length::ZERO;
            network.segments[n].minor = 0.0;
            vec![Unsolvable::NoResistance(id)]
        }
        3 => {
            let outlet = outlets[at.index(outlets.len())];
            network.segments[outlet].from = loose(&mut network);
            vec![Unsolvable::OutletCutOff(
                network.segments[outlet].id.clone(),
            )]
        }
        4 => {
            loose(&mut network);
            vec![Unsolvable::Adrift("LOOSE".to_owned())]
        }
        5 => {
            network.source.inlet = network.source.outlet;
            vec![Unsolvable::SourceLoop("PLENUM".to_owned())]
        }
        6 => {
            network.source.drive = Drive::Flow(AirFlow::new(-1.0));
            vec![Unsolvable::BadFlow]
        }
        7 => {
            let across = network.segments[n].section.hydraulic_diameter().value();
            network.segments[n].roughness = Length::nearest(across * 0.6);
            let what = "its roughness is below zero or more than half its diameter";
            vec![Unsolvable::BadSegment(id, what)]
        }
        8 => {
            network.segments[n].to = 9999;
            vec![Unsolvable::NoSuchNode(9999)]
        }
        9 => {
            network.source.drive = fan([(300.0, needed * 0.5), (600.0, 0.0)]);
            vec![Unsolvable::BelowCurve(
                AirFlow::new(0.0),
                AirFlow::new(300.0),
            )]
        }
        _ => {
            network.source.drive = fan([(0.0, needed * 3.0), (300.0, needed * 2.0)]);
            vec![Unsolvable::AboveCurve(
                AirFlow::new(0.0),
                AirFlow::new(300.0),
            )]
        }
    };
    (network, reasons)
}

/// Reasons with the flow that was found put aside: where the curve ends is what has to be right.
fn plain_reasons(reasons: Vec<Unsolvable>) -> Vec<Unsolvable> {
    let nothing = AirFlow::new(0.0);
    reasons
        .into_iter()
        .map(|reason| match reason {
            Unsolvable::BelowCurve(_, end) => Unsolvable::BelowCurve(nothing, end),
            Unsolvable::AboveCurve(_, end) => Unsolvable::AboveCurve(nothing, end),
            other => other,
        })
        .collect()
}

#[test]
fn a_fault_planted_in_a_random_network_is_named_and_nothing_else() {
    let mut runner = TestRunner::new(Config {
        cases: 2000,
        failure_persistence: None,
        ..Config::default()
    });
    let cases = (
        network(12, 12, 6),
        0..11_usize,
        any::<prop::sample::Index>(),
    );
    runner
        .run(&cases, |(network, fault, at)| {
            let (network, want) = planted(network, fault, at);
            let mut found = solve(&network)
                .map(|s| s.source_flow)
                .map_err(plain_reasons);
            if let (3, Err(reasons)) = (fault, &mut found) {
                // Where the only outlet was cut off, what fed it leads nowhere either.
                reasons.retain(|reason| !matches!(reason, Unsolvable::Adrift(_)));
            }
            proptest::prop_assert_eq!(found, Err(want), "fault {}", fault);
            Ok(())
        })
        .unwrap();
}

/// A coefficient that grows with the share of the air that turns off, as tees and take-offs have it.
fn by_share(network: &Network, fixed: &[f64]) -> impl FnMut(&[AirFlow], &mut [f64]) + use<> {
    let (segments, fixed) = (network.segments.clone(), fixed.to_vec());
    move |flows, minor| {
        let mut through = std::collections::BTreeMap::new();
        for (segment, flow) in segments.iter().zip(flows) {
            for end in [segment.from, segment.to] {
                *through.entry(end).or_insert(0.0) += flow.value().abs() / 2.0;
            }
        }
        for (at, segment) in segments.iter().enumerate() {
            let all: f64 = through[&segment.from];
            let share = if all > 0.0 {
                flows[at].value().abs() / all
            } else {
                0.0
            };
            minor[at] = fixed[at] + 0.4 * share * share;
        }
    }
}

#[test]
fn losses_that_hang_on_the_split_come_to_rest_where_they_agree_with_the_flows() {
    let most = Cell::new(0);
    let mut runner = TestRunner::new(Config {
        cases: 2000,
        failure_persistence: None,
        ..Config::default()
    });
    runner
        .run(&network(12, 12, 6), |network| {
            let fixed: Vec<f64> = network.segments.iter().map(|s| s.minor).collect();
            let settled = settle(&network, by_share(&network, &fixed))
                .map_err(|why| proptest::test_runner::TestCaseError::fail(format!("{why:?}")))?;
            proptest::prop_assert!(settled.solution.residual < 1e-9);
            most.set(most.get().max(settled.turns));
            let mut again = settled.minor.clone();
            by_share(&network, &fixed)(&settled.solution.flows, &mut again);
            let mut at_rest = network.clone();
            for (segment, minor) in at_rest.segments.iter_mut().zip(&again) {
                segment.minor = *minor;
            }
            let (unbalanced, open) = worst(&at_rest, &settled.solution);
            proptest::prop_assert!(unbalanced < 1e-9, "balance {unbalanced}");
            proptest::prop_assert!(open < 1e-8, "closing {open}");
            // From flows that are off and do not balance, the same answer.
            let near: Vec<AirFlow> = (settled.solution.flows.iter())
                .enumerate()
                .map(|(n, flow)| *flow * if n % 2 == 0 { 1.2 } else { 0.9 })
                .collect();
            let again = settle_near(&network, &near, by_share(&network, &fixed))
                .map_err(|why| proptest::test_runner::TestCaseError::fail(format!("{why:?}")))?;
            // Held to the coefficients of its own flows: where a loss hardly counts, flows may differ a little.
            let mut minor = again.minor.clone();
            by_share(&network, &fixed)(&again.solution.flows, &mut minor);
            for (segment, minor) in at_rest.segments.iter_mut().zip(&minor) {
                segment.minor = *minor;
            }
            let (unbalanced, open) = worst(&at_rest, &again.solution);
            proptest::prop_assert!(unbalanced < 1e-9, "balance {unbalanced}");
            proptest::prop_assert!(open < 1e-8, "closing from near {open}");
            Ok(())
        })
        .unwrap();
    println!("at most {} turns", most.get());
}

#[test]
fn an_answer_that_hangs_on_the_start_or_never_comes_to_rest_is_named() {
    let fan = FanCurve::new(
        &[(0.0, 1.0), (200.0, 0.0)].map(|(q, p)| (AirFlow::new(q), Pressure::new(p))),
    );
    let mut network = plain();
    network.source.drive = Drive::Fan(fan.unwrap());
    let limit = solve(&network).unwrap().flows[1].value() * 0.9;
    // Easy while much flows, hard while little does: both hold themselves up.
    let two = settle(&network, |flows, minor| {
        minor[1] = if flows[1].value() > limit { 2.0 } else { 60.0 };
    });
    assert!(
        matches!(
            two.as_ref().unwrap_err().as_slice(),
            [Unsolvable::TwoAnswers(..)]
        ),
        "{two:?}"
    );
    // Hard while much flows, easy while little does: neither holds.
    let none = settle(&network, |flows, minor| {
        minor[1] = if flows[1].value() > limit { 60.0 } else { 2.0 };
    });
    assert!(
        matches!(none.as_ref().unwrap_err().as_slice(), [Unsolvable::Unsettled(id, _)] if id == "a"),
        "{none:?}"
    );
}

#[test]
fn a_blower_curve_that_never_meets_the_system_is_named() {
    let fan = |points: &[(f64, f64)]| {
        let points: Vec<_> = points
            .iter()
            .map(|(q, p)| (AirFlow::new(*q), Pressure::new(*p)))
            .collect();
        Drive::Fan(FanCurve::new(&points).unwrap())
    };
    assert!(matches!(
        reasons(|n| n.source.drive = fan(&[(400.0, 1.5), (800.0, 1.0)])).as_slice(),
        [Unsolvable::BelowCurve(_, end)] if *end == AirFlow::new(400.0)
    ));
    assert!(matches!(
        reasons(|n| n.source.drive = fan(&[(0.0, 1.5), (20.0, 1.4)])).as_slice(),
        [Unsolvable::AboveCurve(_, end)] if *end == AirFlow::new(20.0)
    ));
}

#[test]
fn air_drawn_back_through_an_outlet_is_reported() {
    let text = r#"{"air":{"density_lb_per_ft3":0.075,"viscosity_lb_per_ft_s":1.222e-5},
        "nodes":[{"id":"ROOM","fixed_total_pressure_inwc":0},{"id":"WIND","fixed_total_pressure_inwc":2},{"id":"P"}],
        "segments":[
          {"id":"a","from":"P","to":"ROOM","shape":"round","diameter_in":2,"length_ft":10,"roughness_ft":0.003,"minor_K":2,"outlet":true},
          {"id":"b","from":"P","to":"WIND","shape":"round","diameter_in":2,"length_ft":10,"roughness_ft":0.003,"minor_K":2,"outlet":true}],
        "source":{"kind":"fixed_flow","inlet":"ROOM","outlet":"P","flow_cfm":5}}"#;
    let folder = tempfile::tempdir().unwrap();
    let run = |text: &str| {
        let path = folder.path().join("n.json");
        std::fs::write(&path, text).unwrap();
        calc(Some("air-network"), &[path.display().to_string()], None)
    };
    let outcome = run(text);
    assert_eq!(outcome.code, 0);
    assert_eq!(
        outcome.err,
        "note: air flows backwards through outlet `b`\n"
    );
    assert_eq!(run("{").code, 2);
    assert_eq!(
        run(&text.replace("\"ROOM\",\"shape\"", "\"HALL\",\"shape\"")).code,
        1
    );
    assert_eq!(
        run(&text.replace("\"diameter_in\":2", "\"diameter_in\":0")).code,
        1
    );
    assert_eq!(calc(Some("air-network"), &[], None).code, 2);
    assert_eq!(
        calc(Some("air-network"), &["no-such.json".to_owned()], None).code,
        2
    );
}
