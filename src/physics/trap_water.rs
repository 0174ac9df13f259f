//! The water in a trap: where its two legs stand for the water that is in it, and what swings add.
//!
//! Source: level balance of two legs of one bore with the volume of water kept; the swing of a column in a U-tube
//! (period 2π√(L/2g), no friction) for what a sudden start can add.

use crate::quantity::Length;

/// Gravity, in/s².
const G: f64 = 386.088_583;

/// A trap with its water: levels are measured up from the weir, in the same unit as the sizes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrapWater {
    /// The pan's outlet above the weir.
    pub drop: f64,
    /// The dip below the weir.
    pub seal: f64,
    /// How far both legs stand below the weir with the blower off: none when it is full.
    pub lacking: f64,
}

/// The two levels, above the weir.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Legs {
    /// On the side of the pan.
    pub inlet: f64,
    /// On the side of the drain.
    pub outlet: f64,
}

impl TrapWater {
    /// Where both legs come to rest with no more water and `suction` at the pan (below zero: pressure), as a height
    /// of water. Water that would stand above the weir on the outlet's side has run off.
    /// None when air gets under the dip: the seal is lost.
    pub fn at_rest(&self, suction: f64) -> Option<Legs> {
        let legs = Legs {
            inlet: suction / 2.0 - self.lacking,
            outlet: -suction / 2.0 - self.lacking,
        };
        // Under pressure the outlet's side spills over the weir, and the inlet's stands the pressure below it.
        let legs = if legs.outlet > 0.0 {
            Legs {
                inlet: suction,
                outlet: 0.0,
            }
        } else {
            legs
        };
        let dry = legs.inlet.min(legs.outlet);
        (dry >= -self.seal).then_some(legs)
    }

    /// How far the water may stand below the weir before a start under `suction` loses the seal; below zero: even a
    /// full trap loses it.
    pub fn may_lack(&self, suction: f64) -> f64 {
        // Under pressure a full trap first spills, and what spilled is lacking from then on.
        if suction >= 0.0 || self.seal >= -suction {
            self.seal - suction.abs() / 2.0
        } else {
            self.seal + suction
        }
    }

    /// What is left of the seal when the blower is at full speed at once and nothing brakes the water: the swing takes
    /// the outlet's side twice as far as it comes to rest.
    pub fn swing_margin(&self, suction: f64) -> f64 {
        self.seal - self.lacking - suction.abs()
    }

    /// Time of one swing to and fro, s, for a column `length` long.
    pub fn swing(length: Length) -> f64 {
        2.0 * std::f64::consts::PI * (length.to_inches().max(0.0) / (2.0 * G)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_trap_holds_from_half_the_suction_on() {
        let trap = |seal: f64, lacking: f64| TrapWater {
            drop: 2.0,
            seal,
            lacking,
        };
        assert!(trap(0.5, 0.0).at_rest(1.0).is_some());
        assert!(trap(0.499, 0.0).at_rest(1.0).is_none());
        // Half of the water gone: the whole suction.
        assert!(trap(1.0, 0.5).at_rest(1.0).is_some());
        assert!(trap(1.0, 0.501).at_rest(1.0).is_none());
        // Under pressure the whole pressure.
        assert!(trap(1.0, 0.0).at_rest(-1.0).is_some());
        assert!(trap(0.99, 0.0).at_rest(-1.0).is_none());
    }

    #[test]
    fn what_it_may_lack_is_where_it_fails() {
        let trap = TrapWater {
            drop: 2.0,
            seal: 1.2,
            lacking: 0.0,
        };
        for suction in [0.7, -0.7] {
            let lacking = trap.may_lack(suction);
            let at = |lacking: f64| TrapWater { lacking, ..trap }.at_rest(suction);
            assert!(at(lacking - 1e-6).is_some(), "{suction}");
            assert!(at(lacking + 1e-6).is_none(), "{suction}");
        }
    }

    /// A pendulum of half the column's length has the same period: 9.78 in swings once in a second.
    #[test]
    fn a_column_swings_like_a_pendulum_of_half_its_length() {
        assert!((TrapWater::swing(Length::nearest(2.0 * 9.78)) - 1.0).abs() < 0.001);
    }
}
