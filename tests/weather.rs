//! The job at further conditions: a condition that repeats a design gives that design's figures, and other weather
//! gives what a calculation by hand gives.

use bayrun::Checked;

use crate::comfort::{lane, near, real};

const SUMMER: &str = "  summer      outdoor 93 F, indoor 75 F at 50 %RH\n";
const WINTER: &str = "  winter      outdoor 4 F, indoor 70 F\n";

/// Larkspur Lane with one more condition.
fn with(condition: &str) -> Checked {
    lane(
        &[(WINTER, &format!("{WINTER}  condition   {condition}\n"))],
        &[],
    )
}

/// The ids at a condition, with those of the design that it was put in the place of.
fn pairs(checked: &Checked, condition: &str, season: &str) -> Vec<(String, String)> {
    let mark = format!("@{condition}");
    checked
        .ledger
        .iter()
        .filter_map(|figure| {
            let (what, rest) = figure.id.split_once(&mark)?;
            let plain = match (season, rest) {
                ("summer", "") => what.to_owned(),
                (season, rest) => format!("{what}@{season}{rest}"),
            };
            Some((figure.id.clone(), plain))
        })
        .collect()
}

#[test]
fn a_condition_that_repeats_a_design_gives_its_figures() {
    for (season, statement) in [("summer", SUMMER), ("winter", WINTER)] {
        let weather = statement.trim().strip_prefix(season).unwrap().trim();
        let checked = with(&format!("again, {weather}"));
        let pairs = pairs(&checked, "again", season);
        let mut same = 0;
        for (own, plain) in &pairs {
            // In heating the coil stands by; what it would do is told all the same.
            if season == "winter" && own.starts_with("coil.") {
                continue;
            }
            let bare = plain.split('@').next().unwrap();
            let Some(design) = checked
                .ledger
                .get(plain)
                .or_else(|| checked.ledger.get(bare))
            else {
                assert!(
                    own.starts_with("room.") && own.contains(".own-load")
                        || own.starts_with("story."),
                    "{own}"
                );
                continue;
            };
            let found = checked.ledger.get(own).unwrap();
            match (found.real(), design.real()) {
                (Some(found), Some(design)) => near(found, design, 1e-7 * design.abs().max(1.0)),
                _ => assert_eq!(found.shown().text, design.shown().text, "{own}"),
            }
            same += 1;
        }
        assert!(same > 200, "{season}: {same} figures compared");
        let spread = pairs.iter().find(|(own, _)| own == "house.spread@again");
        let (own, plain) = spread.unwrap();
        near(real(&checked, own), real(&checked, plain), 1e-9);
    }
}

#[test]
fn mild_weather_follows_from_the_heat_loss_by_the_degree() {
    let checked = with("mild, outdoor 82 F, indoor 74 F at 55 %RH");
    let of = |id: &str| real(&checked, id);
    // Kitchen: cooling and heating as the job states them, 18 °F apart in summer, 66 °F in winter; now 8 °F.
    let u = of("room.kitchen.load@winter") / 66.0;
    let load = of("room.kitchen.load") - u * (18.0 - 8.0);
    near(of("room.kitchen.load@mild"), load, 0.01);
    // The attic stands 35 °F over outdoors at design.
    near(
        of("story.attic.temperature@mild"),
        82.0 + (128.0 - 93.0),
        1e-9,
    );
    // The rooms' air is the new one, and the coil's return air with it.
    near(of("coil.ah.entering-dry-bulb@mild"), 74.0, 1.0);
    // The thermostat's room is kept at the new set point, and the balance of the kitchen closes.
    let running = of("air-handler.ah.running@mild") / 100.0;
    let air = 60.0 * of("air.supply-density@mild") * 0.24 * of("room.kitchen.airflow@mild");
    let (room, supply) = (
        of("room.kitchen.temperature@mild"),
        of("room.kitchen.supply-temperature@mild"),
    );
    let gain = load + u * (74.0 - room);
    near(running * air * (room - supply) / gain, 1.0, 0.03);
    assert!(of("air-handler.ah.running@mild") < of("air-handler.ah.running"));
}

#[test]
fn cold_weather_short_of_design_asks_less_of_the_heat() {
    let checked = with("frost, outdoor 30 F, indoor 70 F");
    let of = |id: &str| real(&checked, id);
    near(
        of("room.kitchen.load@frost") / of("room.kitchen.load@winter"),
        40.0 / 66.0,
        1e-9,
    );
    assert!(of("air-handler.ah.running@frost") < of("air-handler.ah.running@winter"));
    assert!(
        checked
            .ledger
            .get("room.kitchen.temperature@frost.winter")
            .is_none()
    );
    // Loads of moisture are known at the summer design alone.
    assert!(
        checked
            .ledger
            .iter()
            .all(|figure| !figure.id.contains("latent-share@"))
    );
}

#[test]
fn a_condition_says_in_its_places_what_it_is() {
    let checked = with("mild, outdoor 82 F, indoor 74 F at 55 %RH");
    let figure = checked.ledger.get("room.kitchen.temperature@mild").unwrap();
    let words: Vec<&str> = figure.places().map(|(_, words)| words).collect();
    assert!(words.contains(&"mild outdoor temperature"), "{words:?}");
    assert!(
        !words.iter().any(|words| words.contains("summer")),
        "{words:?}"
    );
    for (own, _) in pairs(&checked, "mild", "summer") {
        let figure = checked.ledger.get(&own).unwrap();
        for input in &figure.inputs {
            if let bayrun::figures::Input::Figure(id) = input {
                assert!(
                    checked.ledger.get(id).is_some(),
                    "{own} rests on {id}, which is nowhere"
                );
            }
        }
    }
}

/// The test house with a heat pump, its rooms and trunk.
fn heat_pump(winter: &str, further: &str) -> Checked {
    let houses = crate::support::cases::root().join("tests/houses");
    let read = |name: &str| {
        std::fs::read_to_string(houses.join(name))
            .unwrap()
            .replace("bayrun 1\n", "")
    };
    let shell = read("shell.bay");
    let stated = "  winter    outdoor 5 F, indoor 70 F\n";
    assert!(shell.contains(stated));
    let shell = shell.replace(stated, &format!("  winter    {winter}\n{further}"));
    let lines = format!(
        "{shell}catalog \"heat-pump.yaml\"\noutdoor-unit ou {{ model \"Test 3-ton heat pump\", at 36 ft, 6 ft, pad 4 in }}\n{}{}",
        read("rooms.bay"),
        read("trunk.bay")
    );
    crate::circuit::check(&lines, |shop| shop)
}

#[test]
fn a_heat_pump_gives_what_its_sheet_says_at_the_temperature_outdoors() {
    let checked = heat_pump(
        "outdoor 5 F, indoor 70 F",
        "  condition cool, outdoor 20 F, indoor 70 F\n",
    );
    let of = |id: &str| real(&checked, id);
    near(of("heat.ah.total"), 12_000.0, 1e-6);
    // 20 °F is three quarters of the way from 12 at 5 °F to 20 at 25 °F.
    near(of("heat.ah.total@cool"), 18_000.0, 1e-6);
    // Air behind the coil, with the heat of moist air by hand.
    let w = 0.0047;
    for (at, heat) in [("@winter", 12_000.0), ("@cool", 18_000.0)] {
        let dry = of(&format!("air-handler.ah.airflow{at}"))
            * 60.0
            * of(&format!("air.supply-density{at}"))
            / (1.0 + w);
        let leaving = 70.0 + heat / (dry * (0.240 + 0.444 * w));
        let id = if at == "@cool" {
            "heat.ah.leaving-dry-bulb@cool"
        } else {
            "heat.ah.leaving-dry-bulb"
        };
        near(of(id), leaving, 0.02);
    }
    let share = of("heat.ah.total") / of("load.ah.heating") * 100.0;
    near(of("load.ah.heating-share"), share, 1e-9);
}

#[test]
fn a_heat_pump_is_not_reckoned_beyond_its_sheet() {
    let cold = heat_pump("outdoor -16 F, indoor 70 F", "");
    let why = cold.ledger.reason("heat.ah.total").unwrap();
    assert!(
        why.contains("-16") && why.contains("from -15 °F to 47 °F"),
        "{why}"
    );
    let edge = heat_pump("outdoor -15 F, indoor 70 F", "");
    near(real(&edge, "heat.ah.total"), 8_000.0, 1e-6);
}
