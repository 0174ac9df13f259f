//! `voltage-drop`: what a two-wire copper circuit loses on its way.

use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use crate::physics::conductor::{Size, Stranding};
use crate::physics::voltage_drop::{Circuit, VoltageDrop, voltage_drop};
use crate::quantity::{Current, Length, Temperature, Voltage};

pub(super) const BENCH: Bench = Bench {
    name: "voltage-drop",
    about: "single-phase circuit of uncoated copper: awg = 14 or 1/0, stranding = solid or stranded",
    columns: &[
        Column::key("case"),
        Column::input("supply_V", "V").within(1.0, 1000.0),
        Column::input("current_A", "A").within(0.0, 10_000.0),
        Column::input_words("awg"),
        Column::choice("stranding"),
        Column::input("one_way_ft", "ft").within(0.0, 100_000.0),
        Column::input("conductor_temp_C", "C").within(-60.0, 250.0),
        Column::result("resistance_75C_ohm_per_1000ft", "ohm/1000 ft"),
        Column::result("resistance_at_temp_ohm_per_1000ft", "ohm/1000 ft"),
        Column::result("voltage_drop_V", "V"),
        Column::result("voltage_drop_percent", "%"),
        Column::result("load_voltage_V", "V"),
    ],
    work,
};

/// Solid or stranded.
pub(super) fn stranding(word: &str) -> Option<Stranding> {
    match word {
        "solid" => Some(Stranding::Solid),
        "stranded" => Some(Stranding::Stranded),
        _ => None,
    }
}

/// Refuses a drop that is more than the supply has.
pub(super) fn reaches(lost: &VoltageDrop) -> Result<(), Fault> {
    if lost.at_load.value() < 0.0 {
        return Err(Fault::new(
            "the cable would lose more than the source has: it cannot carry that current",
        ));
    }
    Ok(())
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let awg = row.needed_word("awg")?;
    let size = Size::read(awg)
        .ok_or_else(|| Fault::new(format!("`awg` is `{awg}`, which is no conductor size")))?;
    let word = row.needed_word("stranding")?;
    let stranding = stranding(word).ok_or_else(|| {
        Fault::new(format!(
            "`stranding` is `{word}`, not one of solid, stranded"
        ))
    })?;
    let lost = voltage_drop(&Circuit {
        supply: Voltage::new(row.needed("supply_V")?),
        current: Current::new(row.needed("current_A")?),
        size,
        stranding,
        one_way: Length::nearest(row.needed("one_way_ft")? * 12.0),
        conductor: Temperature::from_celsius(row.needed("conductor_temp_C")?),
    })
    .ok_or_else(|| Fault::new(format!("not held: resistance of {word} {size}")))?;
    reaches(&lost)?;
    Ok(Answers::default()
        .number(
            "resistance_75C_ohm_per_1000ft",
            lost.resistance_at_75.value(),
        )
        .number("resistance_at_temp_ohm_per_1000ft", lost.resistance.value())
        .number("voltage_drop_V", lost.drop.value())
        .number("voltage_drop_percent", lost.share.value())
        .number("load_voltage_V", lost.at_load.value()))
}
