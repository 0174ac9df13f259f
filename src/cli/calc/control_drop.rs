//! `control-drop`: what a control cable loses between a transformer and a device, and whether the source is Class 2.

use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use super::voltage_drop::{reaches, stranding};
use crate::physics::conductor::{Size, Stranding};
use crate::physics::voltage_drop::{Circuit, voltage_drop};
use crate::quantity::{Current, Length, Temperature, Voltage};

/// Loss in a control cable that is still usual, percent of the source (common practice).
const USUAL: f64 = 10.0;
/// A Class 2 source that is not inherently limited: most volts and most volt-amperes (NEC Chapter 9, Table 11(A)).
const CLASS_2: (f64, f64) = (30.0, 100.0);

pub(super) const BENCH: Bench = Bench {
    name: "control-drop",
    about: "24 V and the like in a two-wire control cable of copper: give load_VA or current_A; solid, copper at 75 C \
            and 24 V unless stated",
    columns: &[
        Column::key("case"),
        Column::property("source_V", "V").within(1.0, 150.0),
        Column::input("source_VA", "VA").within(0.0, 10_000.0),
        Column::input_words("awg"),
        Column::choice("stranding"),
        Column::input("one_way_ft", "ft").within(0.0, 100_000.0),
        Column::input("load_VA", "VA").within(0.0, 10_000.0),
        Column::property("current_A", "A").within(0.0, 1000.0),
        Column::property("conductor_temp_C", "C").within(-60.0, 250.0),
        Column::result("resistance_ohm_per_1000ft", "ohm/1000 ft"),
        Column::result("loop_resistance_ohm", "ohm"),
        Column::result("drop_V", "V"),
        Column::result("drop_percent", "%"),
        Column::result("far_end_V", "V"),
        Column::result("usual_limit_percent", "%"),
        Column::result("longest_one_way_ft", "ft"),
        Column::result("class_2", ""),
    ],
    work,
};

fn work(row: &Row) -> Result<Answers, Fault> {
    let source = row.number("source_V")?.unwrap_or(24.0);
    let awg = row.needed_word("awg")?;
    let size = Size::read(awg)
        .ok_or_else(|| Fault::new(format!("`awg` is `{awg}`, which is no conductor size")))?;
    let kind = match row.word("stranding") {
        None => Stranding::Solid,
        Some(word) => stranding(word).ok_or_else(|| {
            Fault::new(format!(
                "`stranding` is `{word}`, not one of solid, stranded"
            ))
        })?,
    };
    let current = match (row.number("current_A")?, row.number("load_VA")?) {
        (Some(current), None) => current,
        (None, Some(load)) => load / source,
        (Some(_), Some(_)) => return Err(Fault::new("give `load_VA` or `current_A`, not both")),
        (None, None) => return Err(Fault::new("give `load_VA` or `current_A`")),
    };
    let celsius = row.number("conductor_temp_C")?.unwrap_or(75.0);
    let one_way = Length::nearest(row.needed("one_way_ft")? * 12.0);
    let lost = voltage_drop(&Circuit {
        supply: Voltage::new(source),
        current: Current::new(current),
        size,
        stranding: kind,
        one_way,
        conductor: Temperature::from_celsius(celsius),
    })
    .ok_or_else(|| Fault::new(format!("not held: resistance of {size}")))?;
    reaches(&lost)?;
    let ohms = lost.resistance.value();
    let mut answers = Answers::default()
        .number("resistance_ohm_per_1000ft", ohms)
        .number(
            "loop_resistance_ohm",
            ohms * 2.0 * one_way.to_feet() / 1000.0,
        )
        .number("drop_V", lost.drop.value())
        .number("drop_percent", lost.share.value())
        .number("far_end_V", lost.at_load.value())
        .number("usual_limit_percent", USUAL);
    if row.number("source_V")?.is_none() {
        answers = answers.number("source_V", source);
    }
    if row.number("conductor_temp_C")?.is_none() {
        answers = answers.number("conductor_temp_C", celsius);
    }
    if row.number("current_A")?.is_none() {
        answers = answers.number("current_A", current);
    }
    if current > 0.0 && ohms > 0.0 {
        let longest = source * USUAL / 100.0 * 1000.0 / (2.0 * current * ohms);
        answers = answers.number("longest_one_way_ft", longest);
    }
    let drawn = current * source;
    let rated = row.number("source_VA")?;
    let words = match rated {
        _ if source > CLASS_2.0 => "no: over 30 V".to_owned(),
        Some(rated) if rated > CLASS_2.1 => "no: source over 100 VA".to_owned(),
        Some(rated) if drawn > rated => "no: more drawn than the source is rated".to_owned(),
        Some(_) => "yes, if the source is listed Class 2".to_owned(),
        None if drawn > CLASS_2.1 => "no: more than 100 VA drawn".to_owned(),
        None => "not held: give source_VA".to_owned(),
    };
    Ok(answers.words("class_2", words))
}
