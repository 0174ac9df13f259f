//! A coil whose surface and contact are known beforehand, found again from its table.

use super::super::cooling_coil::{FlowBasis, coil_duty};
use super::super::psychrometrics::{MoistAir, standard_pressure};
use super::freeze::{FreezeFlow, freeze_flow};
use super::table::{CapacityTable, TablePoint, Variable};
use super::working::{Regime, STANDARD, standard_airflow, working};
use crate::quantity::{
    AirFlow, HeatFlow, Humidity, HumidityRatio, Length, MassFlow, Pressure, Temperature,
};

fn pressure(feet: i64) -> Pressure {
    standard_pressure(Length::feet(feet)).unwrap()
}

fn t(value: f64) -> Temperature {
    Temperature::new(value)
}

fn room(feet: i64, percent: f64) -> MoistAir {
    MoistAir::from_relative_humidity(t(75.0), Humidity::new(percent), pressure(feet)).unwrap()
}

/// Total and sensible heat of a made-up coil: a surface that warms a little with wet air and hot days,
/// and passes e^(−k/cfm) of the air. Everything about it is known beforehand.
fn made_up(cfm: f64, outdoor: f64, dry: f64, wet: f64) -> (f64, f64, f64) {
    let entering = MoistAir::from_wet_bulb(t(dry), t(wet), pressure(0)).unwrap();
    let surface = 44.0 + 0.3 * (wet - 63.0) + 0.08 * (outdoor - 95.0) + 0.01 * (cfm - 1000.0);
    let bypass = libm::exp(-2000.0 / cfm);
    let cold =
        MoistAir::from_relative_humidity(t(surface), Humidity::new(100.0), pressure(0)).unwrap();
    let w1 = entering.humidity_ratio().value();
    let w = (bypass * w1 + (1.0 - bypass) * cold.humidity_ratio().value()).min(w1);
    let leaving = MoistAir::from_humidity_ratio(
        t(bypass * dry + (1.0 - bypass) * surface),
        HumidityRatio::new(w),
        pressure(0),
    )
    .unwrap();
    let duty = coil_duty(&entering, &leaving, AirFlow::new(cfm), FlowBasis::Standard).unwrap();
    (duty.total.value(), duty.sensible.value(), surface)
}

fn table() -> CapacityTable {
    let mut points = Vec::new();
    for cfm in [800.0, 900.0, 1000.0, 1100.0, 1200.0] {
        for outdoor in [85.0, 95.0, 105.0] {
            for dry in [70.0, 75.0, 80.0] {
                let wets = [50.0, 54.0, 57.0, 60.0, 62.0, 64.0, 67.0];
                // Nearly saturated air would leave a cold surface as fog.
                for wet in wets.into_iter().filter(|wet| wet + 8.0 <= dry) {
                    let (total, sensible, _) = made_up(cfm, outdoor, dry, wet);
                    points.push(TablePoint {
                        airflow: AirFlow::new(cfm),
                        outdoor: t(outdoor),
                        dry_bulb: t(dry),
                        wet_bulb: t(wet),
                        total: HeatFlow::new(total),
                        sensible: HeatFlow::new(sensible),
                    });
                }
            }
        }
    }
    CapacityTable::new(&points).unwrap()
}

fn air_of(cfm: f64) -> MassFlow {
    MassFlow::new(cfm * STANDARD)
}

#[test]
fn a_coil_of_known_surface_is_found_again() {
    let table = table();
    for (cfm, outdoor, dry, wet) in [
        (1000.0, 95.0, 75.0, 62.0),
        (900.0, 85.0, 80.0, 67.0),
        (1200.0, 105.0, 75.0, 64.0),
    ] {
        let entering = MoistAir::from_wet_bulb(t(dry), t(wet), pressure(0)).unwrap();
        let found = working(&table, &entering, air_of(cfm), t(outdoor)).unwrap();
        let (total, sensible, surface) = made_up(cfm, outdoor, dry, wet);
        assert_eq!(found.regime, Regime::Wet);
        assert!(found.beyond.is_empty());
        assert!((found.total.value() - total).abs() < 1e-6 * total);
        assert!((found.sensible.value() - sensible).abs() < 1e-6 * total);
        let off = found.surface.unwrap().value() - surface;
        assert!(off.abs() < 1e-3, "{off}");
        assert!((found.bypass.unwrap() - libm::exp(-2000.0 / cfm)).abs() < 1e-4);
    }
}

#[test]
fn dry_air_condenses_nothing() {
    let table = table();
    let entering = room(0, 20.0);
    let found = working(&table, &entering, air_of(1000.0), t(95.0)).unwrap();
    assert_eq!(found.regime, Regime::Dry);
    assert_eq!(found.leaving.humidity_ratio(), entering.humidity_ratio());
    assert!(found.moisture.value().abs() < 1e-12);
    assert!((found.latent().value()).abs() < 1e-6);
    let surface = found.surface.unwrap();
    assert!(surface > entering.dew_point().unwrap() && surface < found.leaving.dry_bulb());
    // Between moist and dry nothing jumps.
    let mut last: Option<f64> = None;
    for step in 0..300 {
        let entering = room(0, 20.0 + 0.1 * f64::from(step));
        let total = working(&table, &entering, air_of(1000.0), t(95.0))
            .unwrap()
            .total
            .value();
        if let Some(last) = last {
            assert!(
                (total - last).abs() < 0.004 * total,
                "{step} {last} {total}"
            );
        }
        last = Some(total);
    }
}

#[test]
fn at_the_edge_of_the_table_nothing_jumps() {
    let table = table();
    let entering = room(0, 50.0);
    for edge in [800.0, 1200.0] {
        let at = |cfm| working(&table, &entering, air_of(cfm), t(95.0)).unwrap();
        let (below, above) = (at(edge - 1e-6), at(edge + 1e-6));
        let near = |a: f64, b: f64, within: f64| assert!((a - b).abs() < within, "{a} {b}");
        near(
            below.surface.unwrap().value(),
            above.surface.unwrap().value(),
            0.02,
        );
        near(below.total.value(), above.total.value(), 1.0);
        near(below.sensible.value(), above.sensible.value(), 30.0);
    }
    let starved = working(&table, &entering, air_of(500.0), t(95.0)).unwrap();
    assert_eq!(starved.regime, Regime::Carried);
    let [left] = starved.beyond.as_slice() else {
        panic!()
    };
    assert_eq!((left.variable, left.by()), (Variable::Airflow, 300.0));
}

proptest::proptest! {
    /// Whatever the state: heat and water balance, no water is made, no air is wetter than wet.
    #[test]
    fn heat_and_water_balance_everywhere(
        cfm in 150.0..2500.0_f64, outdoor in 60.0..125.0_f64, percent in 8.0..95.0_f64, feet in 0..9000_i64,
    ) {
        let entering = room(feet, percent);
        let found = working(&table(), &entering, air_of(cfm), t(outdoor));
        // So little air that the coil would be colder than the equations go is refused, not answered.
        let Ok(found) = found else { return Ok(()) };
        let duty = coil_duty(&entering, &found.leaving, AirFlow::new(cfm), FlowBasis::Standard).unwrap();
        proptest::prop_assert!((duty.total.value() / found.total.value() - 1.0).abs() < 1e-6, "{found:?}");
        proptest::prop_assert!((duty.sensible.value() / found.sensible.value() - 1.0).abs() < 1e-6, "{found:?}");
        proptest::prop_assert!(found.moisture.value() >= -1e-9);
        proptest::prop_assert!(found.sensible <= found.total);
        if let Some(surface) = found.surface {
            proptest::prop_assert!(surface.value() <= found.leaving.dry_bulb().value() + 1e-6, "{found:?}");
        }
    }
}

/// Against a walk down in small steps.
#[test]
fn the_freezing_flow_is_where_a_walk_down_meets_it() {
    let (table, entering) = (table(), room(0, 50.0));
    for opens in [28.0, 34.0, 43.0] {
        let FreezeFlow::At(found) = freeze_flow(&table, &entering, t(95.0), t(opens)) else {
            panic!("{opens}")
        };
        let mut cfm = 2000.0;
        while working(&table, &entering, air_of(cfm), t(95.0))
            .unwrap()
            .surface
            .unwrap()
            > t(opens)
        {
            cfm -= 0.5;
        }
        let found = standard_airflow(found).value();
        assert!(
            found >= cfm - 0.01 && found <= cfm + 0.51,
            "{opens} {found} {cfm}"
        );
    }
    assert_eq!(
        freeze_flow(&table, &entering, t(95.0), t(74.0)),
        FreezeFlow::Always
    );
}

/// Thin air enters the table with its mass: at 7,000 ft the same cubic feet are a smaller airflow.
#[test]
fn thin_air_is_entered_by_its_mass() {
    let (low, high) = (room(0, 50.0), room(7000, 50.0));
    let dry_air = |air: &MoistAir| 1000.0 * 60.0 / air.specific_volume().value();
    let flows = [&low, &high].map(|air| standard_airflow(MassFlow::new(dry_air(air))).value());
    let [sea, mountain] = flows;
    assert!((sea - 974.0).abs() < 3.0, "{sea}");
    // Standard atmosphere: 0.772 of the pressure at 7,000 ft.
    assert!((mountain / sea - 0.771).abs() < 0.004, "{mountain}");
    let table = table();
    let at = |air: &MoistAir, cfm| working(&table, air, air_of(cfm), t(95.0)).unwrap();
    let (thin, thick) = (at(&high, mountain), at(&low, sea));
    assert!(thin.total < thick.total, "{thin:?} {thick:?}");
    // Dry air by hand: Q ÷ (m × 0.2405) colder, with less m in each cubic foot.
    let desert = room(7000, 12.0);
    let found = at(&desert, 900.0);
    assert_eq!(found.regime, Regime::Dry);
    let cp = 0.240 + 0.444 * desert.humidity_ratio().value();
    let by_hand = 75.0 - found.total.value() / (900.0 * 4.5 * cp);
    assert!((found.leaving.dry_bulb().value() - by_hand).abs() < 1e-9);
}
