//! Ten deliberate faults of Larkspur Lane, one at a time: each gives the finding that it has to give, with figures
//! that a calculation of this file's own confirms. Friction, losses and the blower are worked out here from the
//! published formulas and the catalogs' numbers, along the trunk as a person would, until all flows agree.

use std::collections::BTreeMap;

use crate::comfort::{ROOMS, buck, has, lane, moist, near, real};
use crate::support::cases::root;

const PI: f64 = std::f64::consts::PI;

/// Velocity pressure, in. w.c.: ½ ρ v² in SI units.
fn dynamic(fpm: f64, density: f64) -> f64 {
    let metres = fpm * 0.3048 / 60.0;
    0.5 * density * 16.018_463 * metres * metres / 249.088_91
}

/// Colebrook's factor by halving.
fn colebrook(reynolds: f64, rough: f64) -> f64 {
    let (mut low, mut high) = (1e-3_f64, 1.0_f64);
    for _ in 0..60 {
        let f = (low + high) / 2.0;
        let side = 1.0 / f.sqrt() + 2.0 * libm::log10(rough / 3.7 + 2.51 / (reynolds * f.sqrt()));
        if side > 0.0 { low = f } else { high = f }
    }
    low
}

/// Air by its density, lb/ft³, and viscosity, lb/(ft·s).
#[derive(Clone, Copy)]
struct Air {
    density: f64,
    viscosity: f64,
}

impl Air {
    /// At a temperature, with so much vapour, at an altitude.
    fn at(f: f64, vapour_psi: f64, feet: f64, viscosity: f64) -> Self {
        let whole = 14.696 * libm::pow(1.0 - 6.8754e-6 * feet, 5.2559);
        let rankine = f + 459.67;
        Self {
            density: 144.0 * ((whole - vapour_psi) / 53.350 + vapour_psi / 85.78) / rankine,
            viscosity,
        }
    }

    /// What a cubic foot passing a duct loses: across (in), area (in²), roughness (in), length (ft), coefficient.
    fn loss(self, cfm: f64, (across, area, rough): (f64, f64, f64), feet: f64, k: f64) -> f64 {
        let fpm = cfm / (area / 144.0);
        let reynolds = self.density * fpm / 60.0 * across / 12.0 / self.viscosity;
        let f = colebrook(reynolds, rough / across);
        (f * feet * 12.0 / across + k) * dynamic(fpm, self.density)
    }
}

const fn round(inches: f64, rough: f64) -> (f64, f64, f64) {
    (inches, PI * inches * inches / 4.0, rough)
}

const TRUNK: (f64, f64, f64) = round(10.0, 0.0036);
const TUBE: (f64, f64, f64) = round(2.0, 0.03);
/// The unit's return opening, 29 in x 17 in, as flexible or lined duct.
const OPENING: (f64, f64, f64) = (4.0 * 29.0 * 17.0 / 92.0, 29.0 * 17.0, 0.036);

/// Taps of the sheet, cfm and in. w.c.
const TAPS: [(&str, &[(f64, f64)]); 2] = [
    (
        "2",
        &[(1365.0, 0.6), (1240.0, 0.9), (1100.0, 1.2), (945.0, 1.5)],
    ),
    (
        "4",
        &[
            (1375.0, 0.9),
            (1250.0, 1.2),
            (1110.0, 1.5),
            (950.0, 1.8),
            (760.0, 2.1),
            (505.0, 2.4),
        ],
    ),
];

/// On the straight line between the nearest points.
fn along(points: &[(f64, f64)], x: f64) -> f64 {
    for pair in points.windows(2) {
        let ((a, ya), (b, yb)) = (pair[0], pair[1]);
        if (a - x) * (b - x) <= 0.0 {
            return ya + (yb - ya) * (x - a) / (b - a);
        }
    }
    panic!("{x} lies off the points");
}

struct Run {
    name: String,
    on_branch: bool,
    station: f64,
    feet: f64,
    k: f64,
}

/// `8 ft 9 in` in feet.
fn feet(words: &str) -> f64 {
    let mut sum = 0.0;
    let words: Vec<&str> = words.split_whitespace().collect();
    for pair in words.chunks(2) {
        let n: f64 = pair[0].parse().unwrap();
        sum += if pair[1] == "ft" { n } else { n / 12.0 };
    }
    sum
}

fn between<'t>(text: &'t str, from: &str, to: &[&str]) -> Option<&'t str> {
    let rest = &text[text.find(from)? + from.len()..];
    let end = to.iter().filter_map(|to| rest.find(to)).min()?;
    Some(&rest[..end])
}

/// Larkspur Lane's circuit by this file's own reckoning.
struct Hand {
    runs: Vec<Run>,
    tap: &'static str,
    back: (f64, f64, f64),
    change: Option<f64>,
    altitude: f64,
}

struct Solved {
    flows: BTreeMap<String, f64>,
    whole: f64,
    plenum: f64,
    back: f64,
}

impl Hand {
    /// From the job's own lines, changed as the job is; `closed` is the loss of its tightest orifice.
    fn of(job: &[(&str, &str)], closed: f64) -> Self {
        let path = root().join("examples/larkspur-lane/larkspur-lane.bay");
        let text = job.iter().fold(
            std::fs::read_to_string(path).unwrap(),
            |text, (from, to)| text.replace(from, to),
        );
        let orifices = [
            ("1 3/4 in", 0.9),
            ("1 5/8 in", 1.8),
            ("1 1/2 in", 3.4),
            ("1 3/8 in", 6.1),
            ("1 1/4 in", closed),
        ];
        let runs = text
            .lines()
            .filter(|line| line.starts_with("run "))
            .map(|line| {
                let bends: f64 = between(line, "bends ", &[",", " }"])
                    .unwrap()
                    .parse()
                    .unwrap();
                let orifice = between(line, "orifice \"", &[" orifice"]).map_or(0.0, |bore| {
                    orifices.iter().find(|(own, _)| *own == bore).unwrap().1
                });
                Run {
                    name: between(line, "run ", &[" "]).unwrap().to_owned(),
                    on_branch: line.contains("north-leg"),
                    station: feet(between(line, " at ", &[","]).unwrap()),
                    feet: feet(between(line, "measured ", &[","]).unwrap()),
                    // Take-off 0.6, a bend 0.35, outlet 1.05.
                    k: 0.6 + 0.35 * bends + orifice + 1.05,
                }
            })
            .collect();
        Self {
            runs,
            tap: "4",
            back: OPENING,
            change: None,
            altitude: 840.0,
        }
    }

    fn solve(&self) -> Solved {
        // Steam table: 0.21405 psia at 55 °F; the rooms at 75 °F and 50 %.
        let cold = Air::at(55.0, 0.214_05, self.altitude, 1.206e-5);
        let half = 0.5 * buck(75.0) * 249.088_91 / 6894.757;
        let warm = Air::at(75.0, half, self.altitude, 1.239e-5);
        let points = TAPS.iter().find(|(tap, _)| *tap == self.tap).unwrap().1;
        let makes = |q: f64| along(points, q) * cold.density / 0.075;
        let back = |q: f64| {
            let q = q * cold.density / warm.density;
            // Below the first point by the square of flow.
            let curve = |points: &[(f64, f64)]| {
                let (first, loss) = points[0];
                if q < first {
                    loss * q * q / (first * first)
                } else {
                    along(points, q)
                }
            };
            let rated = warm.density / 0.075;
            let grille = curve(&[(700.0, 0.02), (1000.0, 0.04), (1300.0, 0.06)]) * rated;
            let filter = curve(&[(700.0, 0.06), (1000.0, 0.11), (1300.0, 0.19)]) * rated;
            let filter = self.change.map_or(filter, |change| filter.max(change));
            grille + filter + warm.loss(q, self.back, 8.0, 0.0)
        };
        let mut flows: Vec<f64> = vec![34.0; self.runs.len()];
        let mut plenum = 1.2;
        for _ in 0..1500 {
            let left = self.pressures(cold, &flows, plenum);
            for (run, (flow, left)) in self.runs.iter().zip(flows.iter_mut().zip(&left)) {
                let takes = cold.loss(*flow, TUBE, run.feet, run.k);
                *flow *= libm::pow(left.max(1e-6) / takes, 0.25);
            }
            let whole: f64 = flows.iter().sum();
            plenum += 0.2 * (makes(whole) - back(whole) - plenum);
        }
        let left = self.pressures(cold, &flows, plenum);
        for (run, (flow, left)) in self.runs.iter().zip(flows.iter().zip(&left)) {
            near(cold.loss(*flow, TUBE, run.feet, run.k), *left, 1e-6);
        }
        let whole: f64 = flows.iter().sum();
        near(makes(whole), plenum + back(whole), 1e-6);
        Solved {
            flows: self
                .runs
                .iter()
                .map(|run| run.name.clone())
                .zip(flows)
                .collect(),
            whole,
            plenum,
            back: back(whole),
        }
    }

    /// What each run finds at its take-off less the trunk's velocity pressure there.
    fn pressures(&self, air: Air, flows: &[f64], plenum: f64) -> Vec<f64> {
        let mut out = vec![0.0; flows.len()];
        let trunk = |branch: bool| {
            let mut stops: Vec<f64> = self
                .runs
                .iter()
                .filter(|run| run.on_branch == branch)
                .map(|run| run.station)
                .chain((!branch).then_some(11.0))
                .collect();
            stops.sort_by(f64::total_cmp);
            stops.dedup();
            stops
        };
        let velocity = |q: f64| q / (TRUNK.1 / 144.0);
        let branch: f64 = self.sum(flows, |run| run.on_branch);
        // A trunk from where it starts with so much pressure and air; gives what is left before the tee's turn.
        let walk = |on: bool, mut left: f64, mut flow: f64, mut lost: f64, out: &mut Vec<f64>| {
            let (mut at, mut tee) = (0.0, (0.0, 0.0));
            for stop in trunk(on) {
                left -= air.loss(flow, TRUNK, stop - at, 0.0) + lost;
                let upstream = dynamic(velocity(flow), air.density);
                lost = 0.0;
                let mut rest = flow;
                for (n, run) in self.runs.iter().enumerate() {
                    if run.on_branch == on && (run.station - stop).abs() < 1e-9 {
                        out[n] = left - upstream;
                        // Straight on past a small branch: 0.4 of the square of its share.
                        lost += 0.4 * (flows[n] / flow) * (flows[n] / flow) * upstream;
                        rest -= flows[n];
                    }
                }
                if !on && (stop - 11.0).abs() < 1e-9 {
                    tee = (left, upstream);
                    let share = branch / flow;
                    let m = if share <= 0.5 { 2.0 } else { 0.3 } * (2.0 * share - 1.0);
                    lost += (m * share * share).max(0.0) * upstream;
                    rest -= branch;
                }
                (at, flow) = (stop, rest);
            }
            tee
        };
        let whole = flows.iter().sum();
        // The adapter: 0.12 on the trunk's velocity.
        let adapter = 0.12 * dynamic(velocity(whole), air.density);
        let (left, upstream) = walk(false, plenum, whole, adapter, &mut out);
        // The tee: 0.9 on the velocity before it.
        walk(true, left, branch, 0.9 * upstream, &mut out);
        out
    }

    fn sum(&self, flows: &[f64], which: impl Fn(&Run) -> bool) -> f64 {
        let all = self.runs.iter().zip(flows);
        all.filter(|(run, _)| which(run))
            .map(|(_, flow)| flow)
            .sum()
    }
}

/// Within three parts in a thousand.
fn agrees(found: f64, want: f64) {
    near(found / want, 1.0, 3e-3);
}

fn agree(checked: &bayrun::Checked, hand: &Solved) {
    agrees(real(checked, "air-handler.ah.airflow"), hand.whole);
    agrees(real(checked, "air-handler.ah.plenum-pressure"), hand.plenum);
    agrees(real(checked, "return.ret.loss"), hand.back);
    for (run, flow) in &hand.flows {
        agrees(real(checked, &format!("run.{run}.airflow")), *flow);
    }
}

#[test]
fn the_sound_house_agrees_run_by_run() {
    agree(&lane(&[], &[]), &Hand::of(&[], 11.0).solve());
}

#[test]
fn a_tap_too_low_leaves_the_plenum_below_its_range() {
    let low = lane(&[("stand 10 in, tap 4", "stand 10 in, tap 2")], &[]);
    let hand = Hand {
        tap: "2",
        ..Hand::of(&[], 11.0)
    };
    let hand = hand.solve();
    agree(&low, &hand);
    assert!(hand.plenum < 1.2, "{}", hand.plenum);
    has(&low, "AIR014", "too low");
    agrees(found_value(&low, "AIR014"), hand.plenum);
}

/// The figure that a finding says was found.
fn found_value(checked: &bayrun::Checked, code: &str) -> f64 {
    let finding = checked.findings.iter().find(|f| f.kind.code == code);
    let (found, _) = finding.unwrap().measured.as_ref().unwrap();
    match &found.value {
        bayrun::source::Scalar::Number(value) => *value,
        other => panic!("{other:?}"),
    }
}

const RETURN: &str = "filter \"24 x 24 in filter\", measured 8 ft }";

#[test]
fn a_crushed_return_is_too_narrow_and_starves_the_plenum() {
    let narrow = "filter \"24 x 24 in filter\", duct \"7 in round\", measured 8 ft }";
    let crushed = lane(&[(RETURN, narrow)], &[]);
    let hand = Hand {
        back: round(7.0, 0.0036),
        ..Hand::of(&[], 11.0)
    };
    let hand = hand.solve();
    agree(&crushed, &hand);
    let thinner = real(&crushed, "air.supply-density") / real(&crushed, "air.return-density");
    let fpm = hand.whole * thinner / (PI * 49.0 / 576.0);
    has(&crushed, "RET004", "`ret`");
    agrees(found_value(&crushed, "RET004"), fpm);
    assert!(fpm > 4000.0 && hand.plenum < 1.2);
    has(&crushed, "AIR014", "too low");
    agrees(found_value(&crushed, "AIR014"), hand.plenum);
    let helps: Vec<&str> = crushed
        .findings
        .iter()
        .filter(|finding| finding.kind.code == "AIR014")
        .map(|finding| finding.help.as_str())
        .collect();
    assert!(helps[0].contains("return `ret`"), "{helps:?}");
}

#[test]
fn a_long_run_is_longer_than_the_sheet_allows_and_gets_less() {
    let run = "run ki3 from main at 18 ft, side north { tube \"2 in sound tube\", measured 17 ft";
    let longer = run.replace("17 ft", "45 ft");
    let edit = [(run, longer.as_str())];
    let long = lane(&edit, &[]);
    let (before, hand) = (Hand::of(&[], 11.0).solve(), Hand::of(&edit, 11.0).solve());
    agree(&long, &hand);
    has(&long, "AIR006", "`ki3`");
    near(found_value(&long, "AIR006"), 45.0 * 12.0, 1e-9);
    assert!(hand.flows["ki3"] < 0.8 * before.flows["ki3"]);
}

#[test]
fn a_closed_orifice_starves_its_run_and_its_room() {
    let run = "run ki3 from main at 18 ft, side north { tube \"2 in sound tube\", measured 17 ft";
    let shut = run.replace("measured", "orifice \"1 1/4 in orifice\", measured");
    let edit = [(run, shut.as_str())];
    // Shut but for a slit: a thousand velocity pressures.
    let stock = [("bore: 1 1/4 in, loss: 11,", "bore: 1 1/4 in, loss: 1000,")];
    let closed = lane(&edit, &stock);
    let hand = Hand::of(&edit, 1000.0).solve();
    agree(&closed, &hand);
    has(&closed, "AIR018", "`ki3`");
    agrees(found_value(&closed, "AIR018"), hand.flows["ki3"]);
    has(&closed, "AIR031", "kitchen");
    let kitchen: f64 = ["ki1", "ki2", "ki3"]
        .iter()
        .map(|run| hand.flows[*run])
        .sum();
    agrees(found_value(&closed, "AIR031"), kitchen);
}

#[test]
fn a_dirty_filter_takes_the_air_that_keeps_the_coil_from_ice() {
    let stock = [(
        "change: 0.5 inwc, price: $60.00",
        "change: 1.9 inwc, price: $60.00",
    )];
    let dirty = lane(&[], &stock);
    let mut hand = Hand::of(&[], 11.0);
    agree(&dirty, &hand.solve());
    hand.change = Some(1.9);
    let by_hand = hand.solve().whole;
    agrees(real(&dirty, "air-handler.ah.airflow-dirty"), by_hand);
    // At the table's least airflow the air leaves saturated, so the freezing flow takes the same heat to 34 °F.
    let (w, entering) = moist(75.0, 0.5, 840.0);
    let (_, at_cut_out) = moist(34.0, 1.0, 840.0);
    let wet = (real(&dirty, "coil.ah.entering-wet-bulb") - 60.0) / 4.0;
    let lerp = |a: f64, b: f64, x: f64| a + (b - a) * x;
    let heat = 1000.0 * lerp(lerp(45.1, 47.5, wet), lerp(42.4, 44.7, wet), 0.8);
    let dry_air = heat / (entering - at_cut_out);
    let freezes = dry_air * (1.0 + w) / 60.0 / real(&dirty, "air.supply-density");
    agrees(real(&dirty, "coil.ah.freeze-airflow"), freezes);
    assert!(by_hand < freezes, "{by_hand} {freezes}");
    has(&dirty, "AIR036", "filter");
    agrees(found_value(&dirty, "AIR036"), by_hand);
}

#[test]
fn a_starved_room_is_short_by_what_its_runs_lack() {
    let edits: Vec<(String, String)> = [
        "ki1 from north-leg at 3 ft, side east",
        "ki3 from main at 18 ft, side north",
    ]
    .into_iter()
    .map(|run| {
        let from = format!("run {run} {{ tube \"2 in sound tube\", measured");
        let to = from.replace("measured", "orifice \"1 3/8 in orifice\", measured");
        (from, to)
    })
    .collect();
    let edits: Vec<(&str, &str)> = edits
        .iter()
        .map(|(a, b)| (a.as_str(), b.as_str()))
        .collect();
    let starved = lane(&edits, &[]);
    let hand = Hand::of(&edits, 11.0).solve();
    agree(&starved, &hand);
    has(&starved, "AIR031", "kitchen");
    let kitchen: f64 = ["ki1", "ki2", "ki3"]
        .iter()
        .map(|run| hand.flows[*run])
        .sum();
    agrees(found_value(&starved, "AIR031"), kitchen);
    has(&starved, "AIR033", "kitchen");
}

#[test]
fn a_hot_attic_makes_the_ducts_gain_too_much() {
    let hot = lane(&[("summer 128 F", "summer 165 F")], &[]);
    let usual = lane(&[], &[]);
    has(&hot, "AIR037", "`ah`");
    // In proportion to the attic's distance from the ducts' air, which is at about 49 °F; the little that lies
    // between kept stories stays as it is.
    let gain = real(&usual, "load.ah.duct-gain") * (165.0 - 49.0) / (128.0 - 49.0);
    let rooms: f64 = ROOMS
        .iter()
        .map(|room| real(&hot, &format!("room.{room}.load")))
        .sum();
    near(
        found_value(&hot, "AIR037"),
        100.0 * gain / (rooms + gain),
        0.6,
    );
}

#[test]
fn at_seven_thousand_feet_the_plenum_is_too_low_and_the_coil_gets_too_little() {
    let high = lane(&[("altitude    840 ft", "altitude    7000 ft")], &[]);
    let hand = Hand {
        altitude: 7000.0,
        ..Hand::of(&[], 11.0)
    };
    let hand = hand.solve();
    agree(&high, &hand);
    has(&high, "AIR014", "too low");
    agrees(found_value(&high, "AIR014"), hand.plenum);
    // Standard cubic feet of dry air that pass the coil: fewer than its table begins with.
    let (w, _) = moist(75.0, 0.5, 7000.0);
    let density = Air::at(55.0, 0.214_05, 7000.0, 1.206e-5).density;
    let standard = hand.whole * 60.0 * density / (1.0 + w) / 4.5;
    assert!(standard < 900.0);
    has(&high, "SIZ006", "airflow");
    agrees(found_value(&high, "SIZ006"), standard);
}

#[test]
fn a_tube_with_hardly_any_insulation_is_found_and_warms_its_air() {
    let stock = [(
        "    coil: 100 ft\n    insulation: 6 R",
        "    coil: 100 ft\n    insulation: 1 R",
    )];
    let bare = lane(&[], &stock);
    has(&bare, "AIR035", "run `hu1`");
    near(found_value(&bare, "AIR035"), 1.0, 1e-9);
    // A hollow cylinder of 2 in by 3 5/8 in whose flat thickness has R-1, still air outside, 10 ft at 128 °F.
    let (flow, at) = (
        real(&bare, "run.hu1.airflow"),
        real(&bare, "run.hu1.take-off-temperature"),
    );
    let density = Air::at(55.0, 0.214_05, 840.0, 1.206e-5).density;
    let jacket = libm::log(3.625 / 2.0) / (2.0 * PI * (0.8125 / 12.0));
    let outside = 1.0 / (1.46 * PI * 3.625 / 12.0);
    let reynolds = density * flow / (PI / 144.0) / 60.0 / 6.0 / 1.19e-5;
    let film = 0.023 * libm::pow(reynolds, 0.8) * libm::pow(0.71, 0.4) * 0.0149 * 6.0;
    let inside = 1.0 / (film * PI / 6.0);
    let units = 10.0 / ((jacket + outside + inside) * flow * 60.0 * density * 0.2413);
    let by_hand = 128.0 - (128.0 - at) * libm::exp(-units);
    near(real(&bare, "run.hu1.supply-temperature"), by_hand, 0.15);
    assert!(by_hand - at > 6.0, "{by_hand} {at}");
}

#[test]
fn a_house_of_half_the_load_makes_the_unit_too_large() {
    let path = root().join("examples/larkspur-lane/larkspur-lane.bay");
    let text = std::fs::read_to_string(path).unwrap();
    let mut edits: Vec<(String, String)> = Vec::new();
    let mut loads = 0.0;
    for line in text
        .lines()
        .filter(|line| line.contains("cooling sensible"))
    {
        let half = |what: &str| {
            let words = between(line, what, &[" Btu/h"]).unwrap();
            words.parse::<f64>().unwrap() / 2.0
        };
        let (sensible, latent) = (half("sensible "), half("latent "));
        loads += sensible + latent;
        edits.push((
            line.to_owned(),
            format!("  cooling sensible {sensible} Btu/h, latent {latent} Btu/h"),
        ));
    }
    // Lines alike are changed together.
    edits.sort();
    edits.dedup();
    let edits: Vec<(&str, &str)> = edits
        .iter()
        .map(|(a, b)| (a.as_str(), b.as_str()))
        .collect();
    let large = lane(&edits, &[]);
    has(&large, "SIZ002", "`ah`");
    // The sheet's rows between 900 and 1200 cfm, 60 °F and 64 °F wet, 85 °F and 95 °F outdoors.
    let wet = (real(&large, "coil.ah.entering-wet-bulb") - 60.0) / 4.0;
    let (w, _) = moist(75.0, 0.5, 840.0);
    let hand = Hand::of(&[], 11.0).solve();
    let density = Air::at(55.0, 0.214_05, 840.0, 1.206e-5).density;
    let flow = (hand.whole * 60.0 * density / (1.0 + w) / 4.5 - 900.0) / 300.0;
    let lerp = |a: f64, b: f64, x: f64| a + (b - a) * x;
    let low = lerp(lerp(45.1, 47.5, wet), lerp(42.4, 44.7, wet), 0.8);
    let high = lerp(lerp(47.2, 49.8, wet), lerp(44.4, 46.9, wet), 0.8);
    let gives = 1000.0 * lerp(low, high, flow);
    agrees(found_value(&large, "SIZ002"), gives);
    let asked = loads + real(&large, "load.ah.duct-gain");
    agrees(real(&large, "load.ah.total-share"), 100.0 * gives / asked);
}
