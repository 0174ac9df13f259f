//! Hot water against calculations by hand: where the circulator's curve meets the loop, what pipes lose on their way,
//! what glycol and old radiators do.

use bayrun::Checked;

use crate::comfort::{lane, near, needed, real};

const SUPPLY: &str = r#"water-pipe hot-supply from heater to wc { pipe "1 in copper L", up 26 ft, measured 38 ft, bends 4, vent, insulation "R-3" }"#;
const RETURN: &str = r#"water-pipe hot-return from wc to heater { pipe "1 in copper L", down 26 ft, measured 38 ft, bends 4, insulation "R-3" }"#;
const COIL: &str = "water 160 F, flow 7 gpm, freeze-protection circulation";

/// Feet of water at 160 °F lost in one foot of 1 in copper L and in one inside diameter, by Swamee and Jain, with
/// density and viscosity of row WV14 of the reference table.
fn friction(gpm: f64) -> (f64, f64) {
    let (density, viscosity) = (61.004_853_99, 2.671_248_248e-4);
    let inside = 1.025 / 12.0;
    let speed = gpm * 231.0 / 1728.0 / 60.0 / (std::f64::consts::FRAC_PI_4 * inside * inside);
    let reynolds = density * speed * inside / viscosity;
    let rough: f64 = 5e-6 / inside / 3.7 + 5.74 / libm::pow(reynolds, 0.9);
    let factor = 0.25 / (libm::log10(rough) * libm::log10(rough));
    let height = speed * speed / (2.0 * 32.174);
    (factor / inside * height, factor * height)
}

#[test]
fn the_flow_is_where_the_curve_meets_the_loop() {
    let job = lane(&[], &[]);
    let flow = real(&job, "water-loop.hot-supply.flow");
    let (foot, diameter) = friction(flow);
    // Two pipes of 38 ft; four bends each; one vent on its tee.
    let pipes = 76.0 * foot + (8.0 * 30.0 + 20.0) * diameter;
    let feet = 144.0 / 61.004_853_99;
    // Coil 1.9 psi at 7.5 gpm of water at 180 °F, boiler 0.3 psi at 8 gpm of water at 60 °F: flow to 1.75,
    // viscosity to a quarter, density to three quarters.
    let coil = 1.9
        * libm::pow(flow / 7.5, 1.75)
        * libm::pow(2.671_248_248 / 2.314_935_636, 0.25)
        * libm::pow(61.004_853_99 / 60.584_554_71, 0.75);
    let boiler = 0.3
        * libm::pow(flow / 8.0, 1.75)
        * libm::pow(2.671_248_248 / 7.532_383_861, 0.25)
        * libm::pow(61.004_853_99 / 62.371_671_66, 0.75);
    let lost = pipes + (coil + boiler) * feet;
    // The small circulator: 5 gpm at 4.2 psi, 8 gpm at 3.2 psi.
    let given = (4.2 - (flow - 5.0) / 3.0) * 144.0 / 62.37;
    near(lost, given, 0.015 * given);
    near(real(&job, "circulator.c1.head"), given, 1e-6 * given);
    near(real(&job, "water-loop.hot-supply.head"), given, 1e-4);
}

#[test]
fn a_pipe_loses_what_its_spaces_take() {
    let job = lane(&[], &[]);
    // R-3 and still air around 1 1/8 in; of 26 ft that rise, one stands in the attic at 18 °F, the rest in the house.
    let foot = std::f64::consts::PI * 1.125 / 12.0 / (3.0 + 1.0 / 1.46);
    let lost = 38.0 * foot * (25.0 / 26.0 * 90.0 + 142.0 / 26.0);
    near(real(&job, "water-pipe.hot-supply.heat-loss"), lost, 1.0);
    let flow = real(&job, "water-loop.hot-supply.flow");
    let carried = flow * 8.020_83 * 61.004_853_99 * 1.000_847_617;
    let entering = real(&job, "water-coil.wc.entering-water");
    near(entering, 160.0 - lost / carried, 0.005);
    // What the water loses in the coil, the air gains.
    let heat = real(&job, "heat.ah.total");
    let behind = real(&job, "water-coil.wc.leaving-water");
    near(heat, carried * (entering - behind), 0.005 * heat);
}

#[test]
fn winter_s_air_is_as_dense_as_its_coil_warms_it() {
    let job = lane(&[], &[]);
    let warmed = real(&job, "air.warmed-to@winter");
    let entering = real(&job, "water-coil.wc.entering-water");
    near(
        warmed,
        70.0 + 69_200.0 / 1080.0 / 110.0 * (entering - 70.0),
        1e-6,
    );
    let without = lane(
        &[
            (SUPPLY, ""),
            (RETURN, ""),
            (
                "circulator c1 in hot-supply { model \"Example small circulator\" }",
                "",
            ),
            (COIL, "freeze-protection circulation"),
        ],
        &[],
    );
    let ratio =
        real(&job, "air.supply-density@winter") / real(&without, "air.supply-density@winter");
    near(ratio, (459.67 + 110.0) / (459.67 + warmed), 1e-4);
}

#[test]
fn glycol_takes_flow_and_heat() {
    let plain = lane(&[], &[]);
    let mixed = lane(&[(COIL, "water 160 F, flow 7 gpm, glycol 30 %")], &[]);
    for (id, least, most) in [
        ("water-loop.hot-supply.flow", 0.90, 0.99),
        ("heat.ah.total", 0.85, 0.95),
    ] {
        let share = real(&mixed, id) / real(&plain, id);
        assert!(least < share && share < most, "{id} {share}");
    }
    // 260.3609 K of the `CoolProp` library (incompressible MPG, after Melinder).
    near(real(&mixed, "water-coil.wc.freezing-point"), 8.98, 0.01);
    near(real(&plain, "water-coil.wc.freezing-point"), 32.0, 1e-9);
}

fn codes(checked: &Checked) -> Vec<&'static str> {
    checked
        .findings
        .iter()
        .filter(|finding| finding.waived.is_none())
        .map(|finding| finding.kind.code)
        .collect()
}

#[test]
fn old_radiators_take_their_part_of_a_room_s_loss() {
    let plain = lane(&[], &[]);
    let old =
        format!("{SUPPLY}\nradiators old on heater {{ room bath gives 700 Btu/h, rated 170 F }}");
    let kept = lane(&[(SUPPLY, &old)], &[]);
    let given = 700.0 * libm::pow(0.9, 1.3);
    near(real(&kept, "room.bath.radiators@winter"), given, 1e-6);
    near(real(&kept, "room.bath.load@winter"), 1350.0 - given, 1e-6);
    near(
        real(&kept, "load.ah.heating"),
        real(&plain, "load.ah.heating") - given,
        1e-6,
    );
    // The room still loses by its whole loss for each degree: (U t₀ − net + f K tₛ) ÷ (U + f K).
    let air = real(&kept, "room.bath.airflow@winter")
        * 60.0
        * real(&kept, "air.supply-density@winter")
        * 0.241
        * real(&kept, "air-handler.ah.running@winter")
        / 100.0;
    let loss = 1350.0 / 66.0;
    let supply = real(&kept, "room.bath.supply-temperature@winter");
    let balance = (loss * 70.0 - (1350.0 - given) + air * supply) / (loss + air);
    near(real(&kept, "room.bath.temperature@winter"), balance, 0.1);
    assert!(codes(&kept).contains(&"HYD018"));
    near(
        real(&kept, "boiler.heater.asked"),
        real(&kept, "load.ah.heating")
            + given
            + real(&kept, "water-pipe.hot-supply.heat-loss")
            + real(&kept, "water-pipe.hot-return.heat-loss"),
        1e-6,
    );
}

#[test]
fn ways_side_by_side_share_one_head() {
    let pipes = r#"
water-pipe main-supply from heater to hot-a { pipe "1 in copper L", up 10 ft, insulation "R-3" }
water-pipe hot-a from main-supply to wc { pipe "1 in copper L", up 16 ft, insulation "R-3" }
water-pipe hot-b from main-supply to wb { pipe "3/4 in copper L", up 16 ft, east 30 ft, west 30 ft, insulation "R-3" }
water-pipe back-a from wc to main-return { pipe "1 in copper L", down 16 ft, insulation "R-3" }
water-pipe back-b from wb to main-return { pipe "3/4 in copper L", down 16 ft, insulation "R-3" }
water-pipe main-return from back-a to heater { pipe "1 in copper L", down 10 ft, insulation "R-3" }
water-coil wb on ah { model "Example large water coil", water 160 F, flow 2 gpm, freeze-protection circulation }"#;
    let job = lane(
        &[
            (SUPPLY, pipes),
            (RETURN, ""),
            (
                "circulator c1 in hot-supply",
                "circulator c1 in main-supply",
            ),
        ],
        &[],
    );
    let flow = |pipe: &str| real(&job, &format!("water-pipe.{pipe}.flow"));
    near(flow("hot-a") + flow("hot-b"), flow("main-supply"), 1e-4);
    near(flow("main-return"), flow("main-supply"), 1e-4);
    assert!(flow("hot-a") > 1.2 * flow("hot-b"));
    let head = |id: &str| real(&job, &format!("{id}.head"));
    let way = |letter: &str, coil: &str| {
        head(&format!("water-pipe.hot-{letter}"))
            + head(&format!("water-coil.{coil}"))
            + head(&format!("water-pipe.back-{letter}"))
    };
    near(way("a", "wc"), way("b", "wb"), 1e-3);
    assert!(!codes(&job).contains(&"HYD024"), "{:?}", codes(&job));
}

#[test]
fn what_stands_beside_boiler_and_pipe_is_on_the_order_list() {
    let plain = lane(&[], &[]);
    for item in ["backflow preventer", "mixing valve", "air separator"] {
        assert_eq!(needed(&plain, item), 0, "{item}");
    }
    let kind = "boiler heater {";
    let said = "boiler heater { air-separator, mixing-valve, backflow-preventer,";
    let taped = SUPPLY.replace("up 26 ft, ", "flow-check, ");
    let full = lane(&[(kind, said), (SUPPLY, &taped)], &[]);
    for item in ["backflow preventer", "mixing valve", "air separator"] {
        assert_eq!(needed(&full, item), 1, "{item}");
    }
    // A pipe whose way is only taped brings its vent, its flow check and its supports all the same: 38 ft, one every
    // 6 ft and one at its start.
    assert_eq!(needed(&full, "1 in copper vent"), 1);
    assert_eq!(needed(&full, "1 in copper flow check"), 1);
    assert!(needed(&full, "1 in pipe clamp") >= 8);
}

#[test]
fn the_flow_of_old_radiators_mixes_into_what_comes_back() {
    let old = format!(
        "{SUPPLY}\nradiators old on heater {{ room bath gives 7000 Btu/h, returns 140 F }}"
    );
    let kept = lane(&[(SUPPLY, &old)], &[]);
    // Water of 150 °F: 61.19 lb/ft³, 1.000 Btu/lb·°F; 20 °F between 160 and 140.
    let flow = real(&kept, "radiators.old.flow");
    near(flow, 7000.0 / (8.020_83 * 61.19 * 1.0 * 20.0), 0.002 * flow);
    let (own, back) = (
        real(&kept, "water-loop.hot-supply.flow"),
        real(&kept, "water-loop.hot-supply.return-water"),
    );
    let mixed = (own * back + flow * 140.0) / (own + flow);
    near(real(&kept, "boiler.heater.return-water"), mixed, 1e-9);
    let warm = old.replace("140 F", "160 F");
    let warm = lane(&[(SUPPLY, &warm)], &[]);
    let reason = warm.ledger.reason("radiators.old.flow").unwrap();
    assert!(reason.contains("no cooler"), "{reason}");
}
