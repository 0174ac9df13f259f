//! Published and textbook feeds, as the job reckons them from a plate that names loads alone, beside what the bench says.

use bayrun::Checked;

use crate::circuit::check;
use crate::comfort::{near, real};
use crate::reference::printed;

/// The words of a plate in the test shop that the cases replace.
const PLATE: &str = "plate: { supply: 208 V to 240 V, least-ampacity: 18.2 A, most-breaker: 30 A, poles: two-pole }";
/// A cable of the test shop, after which a thicker one is put.
const CABLE: &str = "  18/2: { use: control";
const SIX: &str = "  6/2 with ground: { use: power, conductors: 2, gauge: 6 AWG, ground: yes, colours: [black, white], rated: 194 F, volts: 600 V, coil: 125 ft, price: $402.00 }\n";

/// The test house with an outdoor unit of these plate words on a circuit of this breaker and cable.
fn fed(plate: &str, breaker: &str, cable: &str) -> Checked {
    let lines = format!(
        "include \"shell.bay\"\npanel p1 on first {{ at 30 ft, 1 ft, supply 240/120 }}\n\
         outdoor-unit ou {{ model \"Test 3-ton outdoor\", at 36 ft, 6 ft, pad 4 in }}\n\
         circuit feed to ou {{ from panel p1, breaker {breaker} 2-pole, cable \"{cable}\", measured 30 ft, volts 240 }}\n"
    );
    check(&lines, |shop| {
        assert!(shop.contains(PLATE) && shop.contains(CABLE));
        shop.replacen(PLATE, &format!("plate: {{ {plate} }}"), 1)
            .replacen(CABLE, &format!("{SIX}{CABLE}"), 1)
    })
}

/// A plate that names its loads and neither minimum ampacity nor maximum breaker.
fn silent(loads: &str) -> String {
    format!(
        "supply: 208 V to 240 V, least-ampacity: maker does not say, most-breaker: maker does not say, poles: two-pole, loads: {{ {loads} }}"
    )
}

fn has(checked: &Checked, code: &str) -> bool {
    let mut all = checked.findings.iter();
    all.any(|finding| finding.kind.code == code)
}

/// The number that the bench prints.
fn bench(pairs: &[&str], name: &str) -> f64 {
    let text = printed("feed", pairs, name);
    text.split_whitespace().next().unwrap().parse().unwrap()
}

/// A worked question of the trade press on 424.3(B), 424.4(B) since 2020: 9,600 W at 240 V and a blower of 3 A:
/// (40 + 3) × 1.25 = 53.75 A, conductors of 6 AWG with 55 A on terminals of 60 °C, breaker 60 A.
#[test]
fn heat_of_ninety_six_hundred_watts_with_its_blower() {
    let plate = silent("heaters: [40 A], motors: [3 A]");
    let job = fed(&plate, "60 A", "6/2 with ground");
    near(real(&job, "circuit.feed.least-ampacity"), 53.75, 1e-9);
    near(real(&job, "circuit.feed.ampacity"), 55.0, 1e-9);
    let source = &job
        .ledger
        .get("circuit.feed.least-ampacity")
        .unwrap()
        .source;
    assert!(format!("{source:?}").contains("424.4(B)"), "{source:?}");
    for code in ["PWR001", "PWR004", "PWR005", "PWR022"] {
        assert!(!has(&job, code), "{code}");
    }
    let pairs = ["supply_V=240", "heater_kW=9.6", "motor_A=3"];
    near(bench(&pairs, "least_ampacity_A"), 53.75, 1e-9);
    near(bench(&pairs, "breaker_A"), 60.0, 1e-9);
    // One size thinner, or one breaker smaller, and the job says so.
    assert!(has(&fed(&plate, "60 A", "8/2 with ground"), "PWR004"));
    assert!(has(&fed(&plate, "50 A", "6/2 with ground"), "PWR022"));
}

/// A code quiz of the trade press on 440.22: a compressor of 40 A: breaker 40 × 1.75 = 70 A, conductors 50 A (440.32).
#[test]
fn a_hermetic_compressor_of_forty_amperes() {
    let plate = silent("compressors: [40 A]");
    let job = fed(&plate, "70 A", "6/2 with ground");
    near(real(&job, "circuit.feed.least-ampacity"), 50.0, 1e-9);
    near(real(&job, "circuit.feed.most-breaker"), 70.0, 1e-9);
    assert!(!has(&job, "PWR001") && !has(&job, "PWR004"));
    let pairs = ["supply_V=240", "compressor_A=40"];
    near(bench(&pairs, "least_ampacity_A"), 50.0, 1e-9);
    near(bench(&pairs, "breaker_A"), 70.0, 1e-9);
    assert!(has(&fed(&plate, "80 A", "6/2 with ground"), "PWR001"));
}

/// NFPA 70 Annex D, Example D8: motors of 34 A, 40 A and 40 A on one feed: 40 × 1.25 + 40 + 34 = 124 A.
#[test]
fn annex_d8_three_motors_on_one_feed() {
    let job = fed(
        &silent("motors: [34 A, 40 A, 40 A]"),
        "150 A",
        "6/2 with ground",
    );
    near(real(&job, "circuit.feed.least-ampacity"), 124.0, 1e-9);
    assert!(has(&job, "PWR004"));
    let pairs = ["supply_V=240", "motor_A=34+40+40", "cable=THHN"];
    near(bench(&pairs, "least_ampacity_A"), 124.0, 1e-9);
}

/// A textbook motor of 2 hp at 230 V, 12 A by Table 430.248: conductors 15 A, breaker 2.5 × 12 = 30 A.
#[test]
fn a_motor_of_two_horsepower() {
    let plate = silent("motors: [12 A]");
    let job = fed(&plate, "30 A", "14/2 with ground");
    near(real(&job, "circuit.feed.least-ampacity"), 15.0, 1e-9);
    near(real(&job, "circuit.feed.most-breaker"), 30.0, 1e-9);
    assert!(!has(&job, "PWR001") && !has(&job, "PWR004"));
    let pairs = ["supply_V=240", "motor_A=12"];
    near(bench(&pairs, "least_ampacity_A"), 15.0, 1e-9);
    near(bench(&pairs, "breaker_A"), 30.0, 1e-9);
    assert!(has(&fed(&plate, "35 A", "14/2 with ground"), "PWR001"));
}

/// Air-conditioning by its plate, 18 A and 30 A: 12 AWG of 20 A carries it behind a breaker of 30 A (240.4(G)).
#[test]
fn the_plate_frees_twelve_gauge() {
    let plate = "supply: 208 V to 240 V, least-ampacity: 18 A, most-breaker: 30 A, poles: two-pole";
    let job = fed(plate, "30 A", "12/2 with ground");
    for code in ["PWR001", "PWR004", "PWR005"] {
        assert!(!has(&job, code), "{code}");
    }
    let pairs = [
        "supply_V=240",
        "plate_least_ampacity_A=18",
        "plate_most_breaker_A=30",
        "equipment=air-conditioning",
    ];
    assert_eq!(printed("feed", &pairs, "conductor"), "12 AWG");
    assert!(has(&fed(plate, "30 A", "14/2 with ground"), "PWR004"));
}
