//! `feed`: from a plate or from loads to breaker, conductors, ground and voltage drop, every correction on its line.

use super::bench::Bench;
use super::column::Column;
use super::feed_given::{Equipment, edition, equipment, laid, loads};
use super::number::ten_digits;
use super::row::{Answers, Fault, Row};
use super::voltage_drop::reaches;
use crate::physics::conductor::{
    Edition, Metal, Size, area, largest_standard_rating_not_above, small_conductor_limit,
    standard_rating_at_or_above,
};
use crate::physics::feed::{Laid, Loads, carried, drop_of, grown_ground, least_for_drop, smallest};
use crate::quantity::{Area, Current, Length, Voltage};

/// Recommended greatest loss in a branch circuit, percent (NEC 210.19, informational note).
const RECOMMENDED: f64 = 3.0;

pub(super) const BENCH: Bench = Bench {
    name: "feed",
    about: "single-phase feed of copper from plate or loads to breaker and cable; several loads of a kind: \
            compressor_A=18.6 motor_A=1.35+0.6; NM-B, one cable of two carrying conductors, 86 F, terminals of 60 C, \
            3 % and NEC 2020 unless stated",
    columns: &[
        Column::key("case"),
        Column::choice("edition"),
        Column::choice("equipment"),
        Column::input("supply_V", "V").within(1.0, 1000.0),
        Column::input("plate_least_ampacity_A", "A").within(0.01, 1000.0),
        Column::input("plate_most_breaker_A", "A").within(1.0, 2000.0),
        Column::input_words("compressor_A"),
        Column::input_words("motor_A"),
        Column::input_words("heater_A"),
        Column::input("heater_kW", "kW").within(0.0, 1000.0),
        Column::input_words("other_A"),
        Column::choice("hard_start"),
        Column::choice("cable"),
        Column::input("insulation_C", "C"),
        Column::input("terminal_C", "C"),
        Column::input("ambient_F", "F").within(-80.0, 200.0),
        Column::input("cables_together", "").within(1.0, 1000.0),
        Column::input("carrying_conductors", "").within(1.0, 1000.0),
        Column::input("one_way_ft", "ft").within(0.0, 100_000.0),
        Column::property("running_A", "A").within(0.0, 1000.0),
        Column::input("starting_A", "A").within(0.0, 10_000.0),
        Column::input("most_drop_percent", "%").within(0.1, 50.0),
        Column::result("least_ampacity_A", "A"),
        Column::result("least_ampacity_by", ""),
        Column::result("breaker_computed_A", "A"),
        Column::result("breaker_A", "A"),
        Column::result("breaker_by", ""),
        Column::result("conductor", ""),
        Column::result("table_ampacity_A", "A"),
        Column::result("table_ampacity_by", ""),
        Column::result("ambient_factor", ""),
        Column::result("bundle_factor", ""),
        Column::result("corrected_A", "A"),
        Column::result("cable_limit_A", "A"),
        Column::result("terminal_limit_A", "A"),
        Column::result("ampacity_A", "A"),
        Column::result("small_conductor_limit_A", "A"),
        Column::result("small_conductor_by", ""),
        Column::result("ground", ""),
        Column::result("drop_V", "V"),
        Column::result("drop_percent", "%"),
        Column::result("conductor_for_drop", ""),
        Column::result("ground_for_drop", ""),
        Column::result("drop_for_drop_percent", "%"),
        Column::result("start_drop_V", "V"),
        Column::result("start_drop_percent", "%"),
        Column::result("cable_needed", ""),
    ],
    work,
};

/// Sections of the table and its factors in an edition.
fn table_by(edition: Edition, laid: &Laid) -> String {
    let (table, heat, together) = if edition <= Edition::new(2017) {
        ("Table 310.15(B)(16)", "310.15(B)(2)(a)", "310.15(B)(3)(a)")
    } else if edition <= Edition::new(2020) {
        ("Table 310.16", "310.15(B)(1)", "310.15(C)(1)")
    } else {
        ("Table 310.16", "310.15(B)(1)(1)", "310.15(C)(1)")
    };
    format!(
        "NEC {table}, {} C column; heat {heat}; together {together}; terminals 110.14(C){}",
        laid.insulation.name(),
        if laid.cable.is_some() {
            "; cable 334.80, 340.80"
        } else {
            ""
        }
    )
}

/// The least ampacity and the breaker, with where they come from.
struct Asked {
    least: f64,
    least_by: String,
    computed: Option<f64>,
    breaker: f64,
    breaker_by: String,
}

fn asked(row: &Row, loads: &Loads, edition: Edition) -> Result<Asked, Fault> {
    let hard = match row.word("hard_start") {
        None | Some("no") => false,
        Some("yes") => true,
        Some(word) => {
            return Err(Fault::new(format!(
                "`hard_start` is `{word}`, not one of yes, no"
            )));
        }
    };
    let plate_least = row.number("plate_least_ampacity_A")?;
    let plate_most = row.number("plate_most_breaker_A")?;
    let (least, least_by) = match (plate_least, loads.least_ampacity()) {
        (Some(plate), _) => (plate, "the plate; NEC 110.3(B), 440.4(B)".to_owned()),
        (None, Some(ask)) => (
            ask.current.value(),
            format!("NEC {}", ask.rule.of_ampacity(edition)),
        ),
        (None, None) => {
            return Err(Fault::new(
                "give `plate_least_ampacity_A`, or the loads: compressor_A, motor_A, heater_A, heater_kW, other_A",
            ));
        }
    };
    let own = loads.breaker(edition, hard);
    let (computed, breaker, breaker_by) = match (plate_most, own) {
        (Some(plate), _) => {
            let rating = largest_standard_rating_not_above(Current::new(plate), edition)
                .ok_or_else(|| {
                    Fault::new("no standard rating is as small as the plate's maximum")
                })?;
            (
                None,
                rating.value(),
                "the plate's maximum; NEC 110.3(B), 240.6(A)".to_owned(),
            )
        }
        (None, Some(own)) => (
            Some(own.computed.value()),
            own.rating.value(),
            format!("NEC {}, 240.6(A)", own.rule.of_breaker(edition)),
        ),
        (None, None) => {
            let rating = standard_rating_at_or_above(Current::new(least.max(15.0)), edition)
                .ok_or_else(|| Fault::new("no standard rating is so large"))?;
            (
                None,
                rating.value(),
                "the next standard rating, since the plate gives no maximum; NEC 240.6(A)"
                    .to_owned(),
            )
        }
    };
    if breaker < least && plate_most.is_some() {
        return Err(Fault::new(
            "the plate's maximum breaker is less than its minimum ampacity",
        ));
    }
    Ok(Asked {
        least,
        least_by,
        computed,
        breaker,
        breaker_by,
    })
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let edition = edition(row)?;
    let supply = row.needed("supply_V")?;
    let loads = loads(row, supply)?;
    let asked = asked(row, &loads, edition)?;
    let equipment = equipment(row, &loads)?;
    let (laid, sheath) = laid(row)?;
    let running = running(row, &loads)?;
    let breaker = Current::new(asked.breaker);
    let general = (!equipment.is_freed()).then_some(breaker);
    let size = smallest(Current::new(asked.least), general, &laid, edition)
        .ok_or_else(|| Fault::new("not held: no conductor of the table carries that as it lies"))?;
    let found =
        carried(size, &laid).ok_or_else(|| Fault::new(format!("not held: ampacity of {size}")))?;
    let mut answers = Answers::default()
        .number("least_ampacity_A", asked.least)
        .words("least_ampacity_by", asked.least_by)
        .number("breaker_A", asked.breaker)
        .words("breaker_by", asked.breaker_by)
        .words("conductor", size.to_string())
        .number("table_ampacity_A", found.table.value())
        .words("table_ampacity_by", table_by(edition, &laid))
        .number("ambient_factor", found.ambient_factor)
        .number("bundle_factor", found.bundle_factor)
        .number("corrected_A", found.corrected.value())
        .number("terminal_limit_A", found.terminal_limit.value())
        .number("ampacity_A", found.ampacity.value());
    if let Some(computed) = asked.computed {
        answers = answers.number("breaker_computed_A", computed);
    }
    if let Some(limit) = found.cable_limit {
        answers = answers.number("cable_limit_A", limit.value());
    }
    if let Some(limit) = small_conductor_limit(size, Metal::Copper) {
        let by = match equipment {
            Equipment::Cooling => "does not hold here: NEC 240.4(G), Article 440",
            Equipment::Motor => "does not hold here: NEC 240.4(G), Article 430",
            Equipment::Heat => "NEC 240.4(D); 240.4(G) does not free electric heat",
            Equipment::Other => "NEC 240.4(D)",
        };
        answers = answers
            .number("small_conductor_limit_A", limit.value())
            .words("small_conductor_by", by);
    }
    let ground = |own: Size| grown_ground(breaker, size, own);
    if let Some(ground) = ground(size) {
        answers = answers.words("ground", ground.to_string());
    }
    let chosen = with_drop(row, running, supply, size, ground, &mut answers)?;
    if let Some((last, section)) = ends(sheath)
        && area(chosen).map(Area::value) > area(last).map(Area::value)
    {
        return Err(Fault::new(format!(
            "not held: this asks for {chosen}, and {sheath} is made to {last} (NEC {section}): say `cable` MC, THHN or THWN"
        )));
    }
    let poles = if supply > 150.0 { 2 } else { 1 };
    let trip = if poles == 2 { ", common trip" } else { "" };
    Ok(answers.words(
        "cable_needed",
        format!(
            "{sheath}, 2 x {chosen} with ground, on {} A {poles}-pole{trip}",
            asked.breaker
        ),
    ))
}

/// The thickest conductor of a sheath, and its section; none where it has every size of a house.
fn ends(sheath: &str) -> Option<(Size, &'static str)> {
    match sheath {
        "NM-B" => Some((Size::Awg(2), "334.104")),
        "UF-B" => Some((Size::Awg(-3), "340.104")),
        _ => None,
    }
}

/// The running current as given, else that of the loads; more than loads or plate allow is a contradiction.
fn running(row: &Row, loads: &Loads) -> Result<Option<f64>, Fault> {
    let own = (!loads.is_empty()).then(|| loads.running().value());
    let Some(given) = row.number("running_A")? else {
        return Ok(own);
    };
    let plate = row.number("plate_least_ampacity_A")?;
    let bounds = [
        (own, "the loads together"),
        (plate, "the plate's minimum ampacity"),
    ];
    for (bound, words) in bounds {
        if let Some(bound) = bound.filter(|bound| given > bound * (1.0 + 1e-9)) {
            return Err(Fault::new(format!(
                "`running_A` is {}, more than {words}: {} A",
                ten_digits(given),
                ten_digits(bound)
            )));
        }
    }
    Ok(Some(given))
}

/// Voltage drop where a length is given; gives the conductor that remains.
fn with_drop(
    row: &Row,
    running: Option<f64>,
    supply: f64,
    size: Size,
    ground: impl Fn(Size) -> Option<Size>,
    answers: &mut Answers,
) -> Result<Size, Fault> {
    let Some(feet) = row.number("one_way_ft")? else {
        return Ok(size);
    };
    let mut out = std::mem::take(answers);
    let one_way = Length::nearest(feet * 12.0);
    let volts = Voltage::new(supply);
    let not_held = || Fault::new(format!("not held: resistance of {size}"));
    let mut chosen = size;
    match running {
        None => out = out.words("drop_V", "not held: give running_A"),
        Some(running) => {
            let current = Current::new(running);
            let lost = drop_of(size, volts, current, one_way).ok_or_else(not_held)?;
            reaches(&lost)?;
            out = out
                .number("drop_V", lost.drop.value())
                .number("drop_percent", lost.share.value());
            if row.number("running_A")?.is_none() {
                out = out.number("running_A", running);
            }
            let most = row.number("most_drop_percent")?.unwrap_or(RECOMMENDED);
            if lost.share.value() > most {
                chosen = least_for_drop(size, volts, current, one_way, most).ok_or_else(|| {
                    Fault::new("not held: no conductor of the table loses so little")
                })?;
                let then = drop_of(chosen, volts, current, one_way).ok_or_else(not_held)?;
                out = out
                    .words("conductor_for_drop", chosen.to_string())
                    .number("drop_for_drop_percent", then.share.value());
                if let Some(ground) = ground(chosen) {
                    out = out.words("ground_for_drop", ground.to_string());
                }
            }
        }
    }
    if let Some(starting) = row.number("starting_A")? {
        let lost = drop_of(chosen, volts, Current::new(starting), one_way).ok_or_else(not_held)?;
        reaches(&lost)?;
        out = out
            .number("start_drop_V", lost.drop.value())
            .number("start_drop_percent", lost.share.value());
    }
    *answers = out;
    Ok(chosen)
}
