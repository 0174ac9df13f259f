//! The conductors of a feed where they lie, and the grounding conductor beside them.

use super::super::conductor::{
    Column, Edition, Metal, Size, Stranding, ambient_factor, ampacity, area, bundling_factor,
    grounding_conductor, resistance, sizes, small_conductor_limit, standard_rating_at_or_above,
};
use super::super::voltage_drop::{Circuit, VoltageDrop, voltage_drop};
use crate::quantity::{Current, Length, Temperature, Voltage};

/// Temperature at which the tables of ampacity hold, °F (30 °C).
const TABLE_AMBIENT: f64 = 86.0;
/// The thinnest conductor of a branch circuit (NEC 310.3(A), 210.19(A)).
const THINNEST: Size = Size::Awg(14);
/// The thickest conductor that building cable has solid (common practice: 8 AWG and thicker are stranded).
const THICKEST_SOLID: i8 = 10;

/// How conductors lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laid {
    /// Their insulation, from which corrections start.
    pub insulation: Column,
    /// The column that ends the cable's ampacity whatever its insulation (NM and UF cable: 60 °C); none for others.
    pub cable: Option<Column>,
    /// The column of the terminals (NEC 110.14(C)).
    pub terminals: Column,
    /// Heat around them.
    pub ambient: Temperature,
    /// Current-carrying conductors that lie together.
    pub together: u32,
}

/// What a conductor carries where it lies, step by step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carried {
    /// The column of its insulation in the table.
    pub table: Current,
    /// For heat.
    pub ambient_factor: f64,
    /// For conductors together.
    pub bundle_factor: f64,
    /// Table × factors.
    pub corrected: Current,
    /// Where the cable ends it.
    pub cable_limit: Option<Current>,
    /// Where the terminals end it.
    pub terminal_limit: Current,
    /// The least of the three.
    pub ampacity: Current,
}

/// What a conductor carries where it lies; none where a table does not hold it.
pub fn carried(size: Size, laid: &Laid) -> Option<Carried> {
    let table = ampacity(size, laid.insulation)?;
    let ambient_factor = if laid.ambient.value() <= TABLE_AMBIENT {
        1.0
    } else {
        ambient_factor(laid.insulation, laid.ambient).unwrap_or(0.0)
    };
    let bundle_factor = bundling_factor(laid.together)?;
    let corrected = table.value() * ambient_factor * bundle_factor;
    let cable_limit = laid.cable.and_then(|column| ampacity(size, column));
    let terminal_limit = ampacity(size, laid.terminals)?;
    let least = cable_limit.map_or(corrected, |limit| corrected.min(limit.value()));
    Some(Carried {
        table,
        ambient_factor,
        bundle_factor,
        corrected: Current::new(corrected),
        cable_limit,
        terminal_limit,
        ampacity: Current::new(least.min(terminal_limit.value())),
    })
}

/// Sizes of a branch circuit, thin to thick.
fn usable() -> impl Iterator<Item = Size> {
    sizes().skip_while(|size| *size != THINNEST)
}

/// Whether a breaker protects a conductor by the general rule (NEC 240.4(B), (D)).
fn protects(breaker: Current, size: Size, carried: Current, edition: Edition) -> bool {
    small_conductor_limit(size, Metal::Copper).is_none_or(|most| breaker.value() <= most.value())
        && standard_rating_at_or_above(carried, edition)
            .is_some_and(|next| breaker.value() <= next.value())
}

/// The thinnest conductor that carries `least` where it lies and, where the general rule holds, is protected by
/// `breaker`.
pub fn smallest(
    least: Current,
    breaker: Option<Current>,
    laid: &Laid,
    edition: Edition,
) -> Option<Size> {
    usable().find(|size| {
        carried(*size, laid).is_some_and(|carried| {
            carried.ampacity.value() >= least.value()
                && breaker.is_none_or(|breaker| protects(breaker, *size, carried.ampacity, edition))
        })
    })
}

/// Voltage lost at a current, the copper at 75 °C; solid to 10 AWG, stranded above.
pub fn drop_of(
    size: Size,
    supply: Voltage,
    current: Current,
    one_way: Length,
) -> Option<VoltageDrop> {
    let solid = matches!(size, Size::Awg(gauge) if gauge >= THICKEST_SOLID);
    let stranding = if solid && resistance(size, Stranding::Solid).is_some() {
        Stranding::Solid
    } else {
        Stranding::Stranded
    };
    voltage_drop(&Circuit {
        supply,
        current,
        size,
        stranding,
        one_way,
        conductor: Temperature::from_celsius(75.0),
    })
}

/// The thinnest conductor from `from` on that loses no more than `most` percent.
pub fn least_for_drop(
    from: Size,
    supply: Voltage,
    current: Current,
    one_way: Length,
    most: f64,
) -> Option<Size> {
    usable().skip_while(|size| *size != from).find(|size| {
        drop_of(*size, supply, current, one_way).is_some_and(|lost| lost.share.value() <= most)
    })
}

/// The grounding conductor for a breaker, grown with conductors that are thicker than `base`, and never thicker than
/// they are (NEC 250.122(A), (B)).
pub fn grown_ground(breaker: Current, base: Size, own: Size) -> Option<Size> {
    let by_breaker = grounding_conductor(breaker)?;
    let (base_area, own_area) = (area(base)?.value(), area(own)?.value());
    let needed = area(by_breaker)?.value() * (own_area / base_area).max(1.0);
    let grown = usable().find(|size| {
        // Rounded areas of the table differ in the fourth digit.
        area(*size).is_some_and(|area| area.value() >= needed * (1.0 - 1e-3))
    })?;
    let thinner = |size: Size| area(size).is_some_and(|area| area.value() < own_area);
    Some(if thinner(grown) { grown } else { own })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn building_cable(fahrenheit: f64, together: u32) -> Laid {
        Laid {
            insulation: Column::C90,
            cable: Some(Column::C60),
            terminals: Column::C60,
            ambient: Temperature::new(fahrenheit),
            together,
        }
    }

    fn amps(a: f64) -> Current {
        Current::new(a)
    }

    /// A figure of the electrical code's own table: building cable in an attic of 130 °F keeps 0.76 of 25 A, and its
    /// 60 °C column ends it at 15 A.
    #[test]
    fn an_attic_takes_from_the_ninety_column() {
        let found = carried(Size::Awg(14), &building_cable(130.0, 2)).unwrap();
        assert!((found.corrected.value() - 19.0).abs() < 1e-9);
        assert_eq!(found.ampacity, amps(15.0));
        let bundled = carried(Size::Awg(14), &building_cable(130.0, 8)).unwrap();
        assert!((bundled.ampacity.value() - 25.0 * 0.76 * 0.7).abs() < 1e-9);
    }

    /// Trade-press question on heat (see the loads): 53.75 A on 60 °C terminals is 6 AWG, 55 A.
    #[test]
    fn heat_of_ninety_six_hundred_watts_takes_six_gauge() {
        let laid = building_cable(86.0, 2);
        let size = smallest(amps(53.75), Some(amps(60.0)), &laid, Edition::default());
        assert_eq!(size, Some(Size::Awg(6)));
        assert_eq!(carried(Size::Awg(6), &laid).unwrap().ampacity, amps(55.0));
    }

    /// Air-conditioning by its plate: 18 A and a breaker of 30 A on 12 AWG (240.4(G)); by the general rule 10 AWG.
    #[test]
    fn the_plate_frees_twelve_gauge() {
        let laid = building_cable(86.0, 2);
        let of = |breaker| smallest(amps(18.0), breaker, &laid, Edition::default());
        assert_eq!(of(None), Some(Size::Awg(12)));
        assert_eq!(of(Some(amps(30.0))), Some(Size::Awg(10)));
    }

    /// Terminals marked 75 °C and single conductors: 14 AWG carries 20 A; a motor of 2 hp goes on it.
    #[test]
    fn marked_terminals_free_the_next_column() {
        let laid = Laid {
            cable: None,
            terminals: Column::C75,
            ..building_cable(86.0, 2)
        };
        let found = carried(Size::Awg(14), &laid).unwrap();
        assert_eq!(found.ampacity, amps(20.0));
        assert_eq!(
            smallest(amps(27.5), None, &laid, Edition::default()),
            Some(Size::Awg(10))
        );
    }

    #[test]
    fn the_ground_grows_with_its_conductors() {
        let of = |breaker, base, own| grown_ground(amps(breaker), Size::Awg(base), Size::Awg(own));
        // Not thicker than they have to be: by the breaker.
        assert_eq!(of(40.0, 8, 8), Some(Size::Awg(10)));
        // 16 510 / 10 380 times 10 380: as thick as they are.
        assert_eq!(of(30.0, 10, 8), Some(Size::Awg(8)));
        assert_eq!(of(15.0, 14, 10), Some(Size::Awg(10)));
        // 26 240 / 16 510 × 10 380 = 16 497: 8 AWG.
        assert_eq!(of(40.0, 8, 6), Some(Size::Awg(8)));
        // Never thicker than the conductors.
        assert_eq!(of(60.0, 14, 14), Some(Size::Awg(14)));
    }

    #[test]
    fn a_long_way_asks_for_thicker_copper() {
        let (volts, run, way) = (Voltage::new(240.0), amps(20.0), Length::inches(12 * 200));
        let lost = drop_of(Size::Awg(12), volts, run, way).unwrap();
        // 2 × 20 A × 200 ft × 1.93 Ω per 1000 ft = 15.44 V.
        assert!((lost.drop.value() - 15.44).abs() < 1e-9);
        // 10 AWG: 1.21 Ω: 9.68 V, 4.03 %; 8 AWG: 0.778 Ω: 6.2 V, 2.6 %.
        let found = least_for_drop(Size::Awg(12), volts, run, way, 3.0);
        assert_eq!(found, Some(Size::Awg(8)));
    }
}
