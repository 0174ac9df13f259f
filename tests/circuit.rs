//! The job's own air circuit against a calculation by hand, and against its own laws: every path from the plenum
//! to an outlet uses up the plenum's pressure, and what comes out of the outlets is what the blower moves.

use std::path::PathBuf;

use bayrun::source::{Disk, Memory, Overlay};
use bayrun::{Checked, Workshop};

use crate::support::cases::root;

/// A job of the test houses with the lines given, over catalog text changed by `shop`.
pub(crate) fn check(lines: &str, shop: impl Fn(String) -> String) -> Checked {
    let houses = root().join("tests/houses");
    let path: PathBuf = houses.join("circuit-job.bay");
    let catalog = std::fs::read_to_string(houses.join("shop.yaml")).unwrap();
    let reader = Overlay {
        above: Memory::default()
            .with(&path, format!("bayrun 1\n{lines}"))
            .with(houses.join("shop.yaml"), shop(catalog)),
        below: &Disk,
    };
    Workshop::new(&reader, Some(root()))
        .check(&path, "job.bay")
        .unwrap()
}

fn real(checked: &Checked, id: &str) -> f64 {
    checked
        .ledger
        .real(id)
        .unwrap_or_else(|| panic!("{id}: {:?}", checked.ledger.get(id)))
}

/// Velocity pressure, in. w.c.: ½ ρ v² in SI units.
fn dynamic(fpm: f64, density: f64) -> f64 {
    let metres = fpm * 0.3048 / 60.0;
    0.5 * density * 16.018_463 * metres * metres / 249.088_91
}

/// Colebrook's factor by halving.
fn colebrook(reynolds: f64, rough: f64) -> f64 {
    let (mut low, mut high) = (1e-3_f64, 1.0_f64);
    for _ in 0..200 {
        let f = (low + high) / 2.0;
        let side = 1.0 / f.sqrt() + 2.0 * libm::log10(rough / 3.7 + 2.51 / (reynolds * f.sqrt()));
        if side > 0.0 { low = f } else { high = f }
    }
    low
}

#[derive(Clone, Copy)]
struct Round {
    inches: f64,
    rough_in: f64,
}

impl Round {
    fn velocity(self, cfm: f64) -> f64 {
        cfm / (std::f64::consts::PI * self.inches * self.inches / 576.0)
    }

    /// Friction over a length and a coefficient on its own velocity.
    fn loss(self, cfm: f64, feet: f64, k: f64, density: f64) -> f64 {
        let fpm = self.velocity(cfm);
        let across = self.inches / 12.0;
        let reynolds = density * fpm / 60.0 * across / 1.206e-5;
        let f = colebrook(reynolds, self.rough_in / self.inches);
        (f * feet / across + k) * dynamic(fpm, density)
    }
}

const TRUNK: Round = Round {
    inches: 9.0,
    rough_in: 0.0036,
};
const TUBE: Round = Round {
    inches: 2.0,
    rough_in: 0.03,
};

/// Air at 55 °F, saturated, at 800 ft; the steam table gives 0.21405 psia.
fn cold_air() -> f64 {
    let p = 14.696 * libm::pow(1.0 - 6.8754e-6 * 800.0, 5.2559);
    let rankine = 55.0 + 459.67;
    144.0 * ((p - 0.21405) / 53.350 + 0.21405 / 85.78) / rankine
}

/// Root of a falling function by halving.
fn root_of(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..100 {
        let middle = (low + high) / 2.0;
        if f(middle) > 0.0 {
            low = middle
        } else {
            high = middle
        }
    }
    (low + high) / 2.0
}

#[test]
fn one_run_agrees_with_a_calculation_by_hand() {
    let lines = r#"include "shell.bay"
room den on first {
  corner 0 ft, 0 ft, size 14 ft x 12 ft
  outlet d1 in ceiling at 5 ft, 6 ft
}
trunk main from ah.supply {
  adapter "11 in square to 9 in round", pipe "9 in round"
  east 3 ft, removable, east 9 ft, cap
}
run d1 from main at 4 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }
"#;
    let small = "points: [60 cfm at 0.6 inwc, 20 cfm at 1.6 inwc] }, \"5\"";
    let checked = check(lines, |shop| {
        let at = shop.find("\"4\": { watts: 505 W, points").unwrap();
        let start = at + shop[at..].find("points").unwrap();
        let end = at + shop[at..].find("\"5\"").unwrap() + 3;
        format!("{}{small}{}", &shop[..start], &shop[end..])
    });
    let density = cold_air();
    let found = real(&checked, "air.supply-density");
    assert!((found / density - 1.0).abs() < 1e-3, "{found} {density}");
    // Adapter 0.12; take-off 0.6, two bends of 0.35, outlet 1.05; the trunk's velocity pressure is lost.
    let takes = |q: f64| {
        TRUNK.loss(q, 4.0, 0.12, density)
            + TUBE.loss(q, 14.0, 0.6 + 2.0 * 0.35 + 1.05, density)
            + dynamic(TRUNK.velocity(q), density)
    };
    let makes = |q: f64| (1.6 - (q - 20.0) / 40.0) * density / 0.075;
    let by_hand = root_of(|q| makes(q) - takes(q), 20.0, 60.0);
    let solved = real(&checked, "air-handler.ah.airflow");
    assert!((solved / by_hand - 1.0).abs() < 1e-3, "{solved} {by_hand}");
    assert!((real(&checked, "run.d1.airflow") - solved).abs() < 1e-9);
    let plenum = real(&checked, "air-handler.ah.plenum-pressure");
    assert!((plenum / takes(by_hand) - 1.0).abs() < 1e-3, "{plenum}");
    let power = real(&checked, "air-handler.ah.blower-power");
    assert!((power / (505.0 * density / 0.075) - 1.0).abs() < 1e-3);
    assert!(real(&checked, "air-handler.ah.residual") < 1e-9);
}

/// Runs of the test house by station, with length and side.
const RUNS: [(f64, &[(&str, f64)]); 5] = [
    (2.0, &[("d1", 12.0), ("d2", 12.0)]),
    (4.0, &[("d3", 10.0), ("d4", 10.0)]),
    (8.0, &[("h1", 10.0)]),
    (13.0, &[("b1", 10.0), ("b2", 10.0)]),
    (16.0, &[("b3", 12.0)]),
];

#[test]
fn every_path_uses_up_the_plenum_s_pressure_and_the_outlets_give_what_the_blower_moves() {
    let lines = "include \"shell.bay\"\ninclude \"air.bay\"\nreturn ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"24 x 24 in filter\", measured 8 ft }\n";
    let checked = check(lines, |shop| shop);
    let density = real(&checked, "air.supply-density");
    let whole = real(&checked, "air-handler.ah.airflow");
    let plenum = real(&checked, "air-handler.ah.plenum-pressure");
    let flow = |run: &str| real(&checked, &format!("run.{run}.airflow"));
    let sum: f64 = RUNS
        .iter()
        .flat_map(|(_, runs)| *runs)
        .map(|(run, _)| flow(run))
        .sum();
    assert!((sum - whole).abs() < 1e-9 * whole, "{sum} {whole}");
    let (mut left, mut at, mut q) = (plenum, 0.0, whole);
    let mut straight = 0.12;
    for (station, runs) in RUNS {
        left -= TRUNK.loss(q, station - at, straight, density);
        let turned = dynamic(TRUNK.velocity(q), density);
        let mut rest = q;
        let mut lost = 0.0;
        for (run, feet) in runs {
            let own = flow(run);
            let used = turned + TUBE.loss(own, *feet, 0.6 + 2.0 * 0.35 + 1.05, density);
            assert!(
                (used - left).abs() < 1e-4 * plenum,
                "{run}: {used} of {left}"
            );
            // Straight on past a small branch: 0.4 of the square of its share, on the velocity before.
            lost += 0.4 * own * own / (q * q);
            rest -= own;
        }
        straight = lost * q * q / (rest * rest).max(1e-18);
        (at, q) = (station, rest);
    }
    // Tap 4 between 375 cfm at 2.4 and 570 cfm at 2.1, in this air.
    let makes = (2.4 - 0.3 * (whole - 375.0) / 195.0) * density / 0.075;
    let external = real(&checked, "air-handler.ah.external-static");
    assert!((makes - external).abs() < 1e-9, "{makes} {external}");
    let back = real(&checked, "return.ret.loss");
    assert!((plenum + back - external).abs() < 1e-9);
    // What comes back is as much in weight, thinner.
    let warm = real(&checked, "return.ret.airflow");
    let thinner = density / real(&checked, "air.return-density");
    assert!((warm / (whole * thinner) - 1.0).abs() < 1e-9);
}

#[test]
fn every_tap_and_both_seasons_are_solved_and_a_dirty_filter_takes_air() {
    let lines = "include \"shell.bay\"\ninclude \"air.bay\"\nreturn ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"24 x 24 in filter\", measured 8 ft }\n";
    let checked = check(lines, |shop| shop);
    let id = |what: &str| format!("air-handler.ah.{what}");
    let mut before = 0.0;
    for tap in 1..=4 {
        let flow = real(&checked, &id(&format!("airflow@summer.tap{tap}")));
        assert!(flow > before, "tap {tap}: {flow}");
        before = flow;
        assert!(real(&checked, &id(&format!("residual@summer.tap{tap}"))) < 1e-9);
    }
    let summer = real(&checked, &id("airflow"));
    assert_eq!(summer, real(&checked, &id("airflow@summer.tap4")));
    // Warm air is thinner: less pressure from the blower, less loss; the flow stays, the pressure falls.
    let winter = real(&checked, &id("airflow@winter"));
    assert!((winter / summer - 1.0).abs() < 0.02, "{winter} {summer}");
    assert!(real(&checked, &id("plenum-pressure@winter")) < real(&checked, &id("plenum-pressure")));
    assert!(real(&checked, &id("airflow-dirty")) < summer);
}

#[test]
fn what_is_still_to_measure_leaves_the_flows_open_with_the_reason() {
    let lines = "include \"shell.bay\"\ninclude \"air.bay\"\nreturn ret to ah.return { grille \"24 x 24 in grille\", in hall, measured to measure }\n";
    let checked = check(lines, |shop| shop);
    let reason = checked.ledger.reason("air-handler.ah.airflow").unwrap();
    assert_eq!(
        reason,
        "the length of return `ret` is said to be `to measure`"
    );
    assert!(checked.ledger.reason("run.d1.airflow").is_some());
    // The catalog's design point stands in for the suction at the pan.
    assert!(checked.ledger.real("air-handler.ah.pan-suction").is_some());
    assert!(
        checked.not_checked.iter().any(|n| n.kind_code == "AIR012"),
        "{:?}",
        checked.not_checked
    );
}

#[test]
fn why_leads_from_an_outlet_s_air_to_the_lines_of_the_job() {
    let folder = root();
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_bayrun"))
        .args([
            "why",
            "examples/larkspur-lane/larkspur-lane.bay",
            "run.nw1.airflow",
        ])
        .current_dir(&folder)
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    for word in [
        "Crane TP-410",
        "larkspur-lane.bay:",
        "flat-family.yaml:",
        "stock.yaml:",
        "run.nw1.loss-coefficient",
        "air-handler.ah.plenum-pressure",
        "tap 4",
    ] {
        assert!(text.contains(word), "{word}: {text}");
    }
}

const ZONES: &str = "zone far { room bed }\nzone near { room den, room hall }\ndamper d in main at 15 ft { zone far }\n";

/// A zone alone at the first stage is the zone alone of a unit that is set to that tap.
#[test]
fn the_first_stage_of_a_zone_alone_runs_at_its_own_tap() {
    let houses = root().join("tests/houses");
    let whole = |name: &str| std::fs::read_to_string(houses.join(name)).unwrap();
    let job = |tap: &str| {
        let shell = whole("shell.bay").replace("bayrun 1\n", "");
        assert!(shell.contains("tap 4"), "{shell}");
        let shell = shell.replace("tap 4", tap);
        let [rooms, trunk] =
            ["rooms.bay", "trunk.bay"].map(|name| whole(name).replace("bayrun 1\n", ""));
        check(&format!("{shell}{rooms}{trunk}{ZONES}"), |shop| shop)
    };
    let (two, low) = (job("tap 4, first-stage-tap 2"), job("tap 2"));
    for id in [
        "air-handler.ah.airflow",
        "air-handler.ah.plenum-pressure",
        "run.b1.airflow",
    ] {
        let staged = real(&two, &format!("{id}@zone-near.first-stage"));
        let alone = real(&low, &format!("{id}@zone-near"));
        assert!(
            (staged / alone - 1.0).abs() < 1e-9,
            "{id}: {staged} {alone}"
        );
        assert!(staged < real(&two, &format!("{id}@zone-near")), "{id}");
    }
    let tons = "air-handler.ah.airflow-per-ton@zone-near.first-stage";
    assert!(
        two.ledger.get(tons).is_none(),
        "the tons of the first stage are not known"
    );
    let wrong = job("tap 4, first-stage-tap 9");
    let told = wrong
        .findings
        .iter()
        .filter(|one| one.message.contains('9'));
    assert_eq!(told.count(), 1, "{:?}", wrong.findings);
}

/// A zone that strains the ducts at full air is told what its first stage would do.
#[test]
fn a_strained_zone_is_told_of_its_first_stage() {
    let back = "filter \"24 x 24 in filter\", measured 8 ft }";
    let zones = "zone east { room kitchen, room dining }\nzone west { room living, room den }\ndamper de in main at 12 ft { zone east }\n";
    let job = [
        (back, &*format!("{back}\n{zones}")),
        ("tap 4\n", "tap 4, first-stage-tap 2\n"),
    ];
    let least = |most: &str| {
        let standards = format!("thresholds:\n  zone_alone_strained: {{ most: {most} }}\n");
        crate::comfort::lane_of(&job, &[], &standards)
    };
    let told = |checked: &Checked| {
        let own = checked
            .findings
            .iter()
            .find(|one| one.kind.code == "AIR043");
        own.map(|one| one.help.to_string()).unwrap()
    };
    let within = least("1.45 inwc");
    let plenum = within
        .ledger
        .get("air-handler.ah.plenum-pressure@zone-west.first-stage");
    let said = format!("the plenum then stands at {}", plenum.unwrap().shown().text);
    assert!(told(&within).contains(&said), "{}", told(&within));
    assert!(!told(&least("1.35 inwc")).contains("first stage"));
}

/// With a damper shut, the others get what they would get if the runs behind it were not there.
#[test]
fn a_zone_alone_is_the_circuit_without_the_runs_behind_the_shut_dampers() {
    let whole = "include \"shell.bay\"\ninclude \"air.bay\"\n";
    let zoned = check(&format!("{whole}{ZONES}"), |shop| shop);
    let far = "run b3 from main at 16 ft, side north { tube \"2 in sound tube\", measured 12 ft, bends 2, through attic }\n";
    let houses = root().join("tests/houses");
    let read = |name: &str| std::fs::read_to_string(houses.join(name)).unwrap();
    let trunk = read("trunk.bay");
    assert!(trunk.contains(far));
    let without = trunk.replace(far, "").replace("bayrun 1\n", "");
    let rooms = read("rooms.bay")
        .replace("bayrun 1\n", "")
        .replace("  outlet b3 in ceiling at 10 ft, 9 ft\n", "");
    let without = check(
        &format!("include \"shell.bay\"\n{rooms}{without}"),
        |shop| shop,
    );
    for what in ["airflow", "plenum-pressure"] {
        let alone = real(&zoned, &format!("air-handler.ah.{what}@zone-near"));
        let want = real(&without, &format!("air-handler.ah.{what}"));
        assert!((alone / want - 1.0).abs() < 1e-9, "{what}: {alone} {want}");
    }
    let mut sum = 0.0;
    for (_, runs) in RUNS {
        for (run, _) in runs.iter().filter(|(run, _)| *run != "b3") {
            let alone = real(&zoned, &format!("run.{run}.airflow@zone-near"));
            let want = real(&without, &format!("run.{run}.airflow"));
            assert!((alone / want - 1.0).abs() < 1e-9, "{run}: {alone} {want}");
            assert!(alone > real(&zoned, &format!("run.{run}.airflow")));
            sum += alone;
        }
    }
    let all = real(&zoned, "air-handler.ah.airflow@zone-near");
    assert!((sum / all - 1.0).abs() < 1e-9, "{sum} {all}");
    assert!(zoned.ledger.get("run.b3.airflow@zone-near").is_none());
    // Nothing is shut for the other: it is the whole.
    let far = real(&zoned, "air-handler.ah.airflow@zone-far");
    let whole = real(&zoned, "air-handler.ah.airflow");
    assert!((far / whole - 1.0).abs() < 1e-9, "{far} {whole}");
    // The coil of the zone alone has less air and a colder surface, or none that is warmer.
    let surface = |suffix: &str| real(&zoned, &format!("coil.ah.surface-temperature{suffix}"));
    assert!(surface("@zone-near") <= surface("") + 1e-9);
}
