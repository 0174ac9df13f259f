//! Amounts as the trade writes them.

use super::*;

fn length(text: &str) -> Length {
    read_all(text, Dimension::Length).unwrap().length().unwrap()
}

#[test]
fn the_trade_s_ways_of_writing_a_length_agree() {
    let want = Length::inches(150);
    for text in [
        "12 ft 6 in",
        "12'6\"",
        "12′ 6″",
        "12.5 ft",
        "150 in",
        "12 1/2 ft",
        "12-1/2 ft",
        "12½ ft",
        "3810 mm",
    ] {
        assert_eq!(length(text), want, "{text}");
    }
    assert_eq!(length("2 1/4 in"), Length::sixteenths(36));
    assert_eq!(length("7/8 in"), Length::sixteenths(14));
    assert_eq!(length("-2 1/4 in"), -Length::sixteenths(36));
}

#[test]
fn other_dimensions_and_metric_equals() {
    let real = |t: &str, d| read_all(t, d).unwrap().real();
    assert!((real("36 kBtu/h", Dimension::HeatFlow) - 36_000.0).abs() < 1e-9);
    assert!((real("3 ton", Dimension::HeatFlow) - 36_000.0).abs() < 1e-9);
    assert!((real("10 kW", Dimension::HeatFlow) - 34_121.416).abs() < 0.01);
    assert!((real("24 C", Dimension::Temperature) - 75.2).abs() < 1e-9);
    assert!((real("5 C", Dimension::TemperatureDifference) - 9.0).abs() < 1e-9);
    assert!((real("300 Pa", Dimension::Pressure) - 1.204_389).abs() < 1e-5);
    assert!((real("62 psi", Dimension::Pressure) - 1716.14).abs() < 0.1);
    assert!((real("50 %RH", Dimension::Humidity) - 50.0).abs() < 1e-12);
    assert!((real("0.2 m3/s", Dimension::AirFlow) - 423.776).abs() < 0.01);
    assert_eq!(
        read_all("1/4 in per ft", Dimension::Slope).unwrap().slope(),
        Some(Slope::sixteenths_per_foot(4))
    );
}

#[test]
fn a_wrong_dimension_is_named() {
    let error = read_all("12 ft", Dimension::AirFlow).unwrap_err();
    assert_eq!(
        error,
        QuantityError::Dimension {
            range: (0, 5),
            found: Dimension::Length
        }
    );
    let error = read_all("12 cfn", Dimension::AirFlow).unwrap_err();
    assert_eq!(
        error,
        QuantityError::UnknownUnit {
            range: (3, 6),
            nearest: Some("cfm")
        }
    );
    assert!(matches!(
        read_all("12 ft 14 in", Dimension::Length),
        Err(QuantityError::Number { .. })
    ));
    assert!(matches!(
        read_all("1/0 in", Dimension::Length),
        Err(QuantityError::Number { .. })
    ));
}
