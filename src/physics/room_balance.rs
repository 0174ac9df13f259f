//! What temperature each room settles at while the unit keeps the room of its thermostat.
//!
//! A room's load is a line in its own temperature, g − U (t − t₀): g at the set point t₀ (heat gained, below zero when
//! lost), U what one degree changes. Its air brings f K (tₛ − t), with f the share of the time that the unit runs.
//! The balance gives t = (g + U t₀ + f K tₛ)/(U + f K); the room of the thermostat at its set point gives f.
//! Source: heat balance of ASHRAE Handbook—Fundamentals, steady state; air and heat that pass between rooms
//! through doors and walls are left out, so that real rooms differ less.

use super::hot_water_coil::HeatPerDegree;
use crate::quantity::{HeatFlow, Temperature, TemperatureDifference};

/// A room and its air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoomHeat {
    /// Heat gained at the set point; below zero when lost.
    pub gain: HeatFlow,
    /// How much less it gains for each degree above the set point.
    pub slope: HeatPerDegree,
    /// Heat that its air brings for each degree while the unit runs.
    pub air: HeatPerDegree,
    /// Temperature of its air as it enters, mixed over its outlets.
    pub supply: Temperature,
}

impl RoomHeat {
    fn scaled(self, factor: f64) -> Self {
        Self {
            gain: self.gain * factor,
            slope: HeatPerDegree::new(self.slope.value() * factor),
            ..self
        }
    }

    /// Its temperature when the unit runs a share of the time; none when nothing holds it.
    fn settles(&self, set: Temperature, running: f64) -> Option<Temperature> {
        let (u, k) = (self.slope.value(), running * self.air.value());
        let held = u + k;
        (held > 0.0).then(|| {
            let heat = self.gain.value() + k * (self.supply - set).value();
            set + Temperature::new(heat / held)
        })
    }

    /// Share of the time that its air needs to keep it at the set point.
    fn wants(&self, set: Temperature) -> f64 {
        self.gain.value() / (self.air.value() * (set - self.supply).value())
    }
}

/// Rooms of one unit as they settle.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// Share of the time that the room of the thermostat asks for; above 1 the unit can't keep it.
    pub wanted: f64,
    /// Share of the time that the unit runs, 0 to 1.
    pub running: f64,
    /// Temperature of each room; none for one that has neither air nor loss.
    pub temperatures: Vec<Option<Temperature>>,
}

/// Why rooms have no balance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoBalance {
    /// There is no room of that number.
    NoThermostat,
    /// The room of the thermostat gets no air of the unit.
    NoAir,
    /// Its air is on the wrong side of the set point for its load.
    WrongWay,
}

fn share(rooms: &[RoomHeat], thermostat: usize, set: Temperature) -> Result<f64, NoBalance> {
    let room = rooms.get(thermostat).ok_or(NoBalance::NoThermostat)?;
    if room.air.value() <= 0.0 {
        return Err(NoBalance::NoAir);
    }
    let wanted = room.wants(set);
    if wanted.is_finite() && wanted > 0.0 {
        Ok(wanted)
    } else {
        Err(NoBalance::WrongWay)
    }
}

/// The rooms of one unit, with the room of its thermostat at the set point as far as the unit can.
pub fn balance(
    rooms: &[RoomHeat],
    thermostat: usize,
    set: Temperature,
) -> Result<Balance, NoBalance> {
    let wanted = share(rooms, thermostat, set)?;
    let running = wanted.min(1.0);
    Ok(Balance {
        wanted,
        running,
        temperatures: rooms
            .iter()
            .map(|room| room.settles(set, running))
            .collect(),
    })
}

/// The warmest room's temperature less the coldest's.
pub fn spread(
    temperatures: impl IntoIterator<Item = Temperature>,
) -> Option<TemperatureDifference> {
    let ends = temperatures
        .into_iter()
        .fold(None, |ends: Option<(f64, f64)>, t| {
            let t = t.value();
            let (low, high) = ends.unwrap_or((t, t));
            Some((low.min(t), high.max(t)))
        });
    ends.map(|(low, high)| TemperatureDifference::new(high - low))
}

/// Loads of the thermostat's room between the two ends that are tried, ends included.
const STEPS: i32 = 8;

/// The largest spread that loads can bring about when each room's is the stated one times 1 − `part` to 1 + `part`,
/// each by itself.
///
/// A room's temperature moves one way with its own load, so ends are enough there; the load of the thermostat's room
/// moves all others through the running time, and nine values of it are tried.
pub fn uncertain_spread(
    rooms: &[RoomHeat],
    thermostat: usize,
    set: Temperature,
    part: f64,
) -> Result<TemperatureDifference, NoBalance> {
    share(rooms, thermostat, set)?;
    let mut largest = 0.0_f64;
    for step in 0..=STEPS {
        let own = 1.0 + part * (2.0 * f64::from(step) / f64::from(STEPS) - 1.0);
        let Some(governing) = rooms.get(thermostat).map(|room| room.scaled(own)) else {
            return Err(NoBalance::NoThermostat);
        };
        let running = governing.wants(set).min(1.0);
        let ends: Vec<(f64, f64)> = rooms
            .iter()
            .enumerate()
            .filter_map(|(n, room)| {
                let at = |factor| {
                    let factor = if n == thermostat { own } else { factor };
                    room.scaled(factor)
                        .settles(set, running)
                        .map(Temperature::value)
                };
                let (a, b) = (at(1.0 - part)?, at(1.0 + part)?);
                Some((a.min(b), a.max(b)))
            })
            .collect();
        for (n, (_, high)) in ends.iter().enumerate() {
            for (other, (low, _)) in ends.iter().enumerate() {
                if n != other {
                    largest = largest.max(high - low);
                }
            }
        }
    }
    Ok(TemperatureDifference::new(largest))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SET: Temperature = Temperature::new(75.0);

    fn room(gain: f64, slope: f64, air: f64, supply: f64) -> RoomHeat {
        RoomHeat {
            gain: HeatFlow::new(gain),
            slope: HeatPerDegree::new(slope),
            air: HeatPerDegree::new(air),
            supply: Temperature::new(supply),
        }
    }

    /// The same by marching in time: the thermostat switches at half a hundredth of a degree, each room warms by
    /// its heat over its mass, and what is compared is the mean of the last hours.
    fn marched(rooms: &[RoomHeat], thermostat: usize) -> Vec<f64> {
        const MASS: f64 = 400.0;
        const STEP: f64 = 2e-4;
        let mut t: Vec<f64> = rooms.iter().map(|_| SET.value()).collect();
        let (mut on, mut sum, mut steps) = (false, vec![0.0; rooms.len()], 0.0);
        let cooling = rooms[thermostat].gain.value() > 0.0;
        for n in 0..600_000 {
            let off_by = if cooling {
                t[thermostat] - SET.value()
            } else {
                SET.value() - t[thermostat]
            };
            if off_by > 0.005 {
                on = true;
            } else if off_by < -0.005 {
                on = false;
            }
            for (room, t) in rooms.iter().zip(&mut t) {
                let air = if on {
                    room.air.value() * (room.supply.value() - *t)
                } else {
                    0.0
                };
                let heat = room.gain.value() - room.slope.value() * (*t - SET.value()) + air;
                *t += heat / MASS * STEP;
            }
            if n >= 300_000 {
                steps += 1.0;
                for (sum, t) in sum.iter_mut().zip(&t) {
                    *sum += t;
                }
            }
        }
        sum.iter().map(|sum| sum / steps).collect()
    }

    #[test]
    fn the_balance_is_what_a_cycling_unit_settles_at() {
        let summer = [
            room(3300.0, 79.0, 150.0, 50.0),
            room(850.0, 20.0, 50.0, 53.0),
            room(2500.0, 67.0, 90.0, 51.0),
        ];
        let winter = [
            room(-5200.0, 79.0, 150.0, 120.0),
            room(-1300.0, 20.0, 50.0, 112.0),
            room(-4400.0, 67.0, 90.0, 118.0),
        ];
        for rooms in [summer, winter] {
            let found = balance(&rooms, 1, SET).unwrap();
            assert!(found.running < 1.0);
            for (t, marched) in found.temperatures.iter().zip(marched(&rooms, 1)) {
                let t = t.unwrap().value();
                assert!((t - marched).abs() < 0.06, "{t} {marched}");
            }
        }
    }

    #[test]
    fn air_in_proportion_keeps_every_room_at_the_set_point() {
        let rooms = [
            room(3000.0, 70.0, 240.0, 50.0),
            room(1500.0, 10.0, 120.0, 50.0),
            room(600.0, 30.0, 48.0, 50.0),
        ];
        let found = balance(&rooms, 2, SET).unwrap();
        assert!((found.running - 0.5).abs() < 1e-12);
        let all: Vec<Temperature> = found.temperatures.into_iter().flatten().collect();
        assert!(spread(all.clone()).unwrap().value() < 1e-9);
        assert!(all.iter().all(|t| (t.value() - 75.0).abs() < 1e-9));
    }

    #[test]
    fn a_unit_too_small_runs_all_the_time_and_its_own_room_drifts() {
        let rooms = [
            room(3000.0, 50.0, 80.0, 50.0),
            room(1000.0, 20.0, 50.0, 50.0),
        ];
        let found = balance(&rooms, 0, SET).unwrap();
        assert!((found.wanted - 1.5).abs() < 1e-12);
        assert!((found.running - 1.0).abs() < 1e-12);
        // (3000 − 80 × 25) ÷ (50 + 80) = 7.69 °F above.
        let [Some(own), _] = found.temperatures.as_slice() else {
            panic!()
        };
        assert!((own.value() - 82.692_307_69).abs() < 1e-6);
    }

    #[test]
    fn what_has_no_balance_says_why() {
        let good = room(1000.0, 20.0, 50.0, 50.0);
        assert_eq!(balance(&[good], 1, SET), Err(NoBalance::NoThermostat));
        assert_eq!(
            balance(&[room(1000.0, 20.0, 0.0, 50.0)], 0, SET),
            Err(NoBalance::NoAir)
        );
        assert_eq!(
            balance(&[room(1000.0, 20.0, 50.0, 80.0)], 0, SET),
            Err(NoBalance::WrongWay)
        );
        assert_eq!(
            balance(&[room(0.0, 20.0, 50.0, 50.0)], 0, SET),
            Err(NoBalance::WrongWay)
        );
        // A room without air goes where its own loss holds it; one without either has no temperature.
        let found = balance(
            &[
                good,
                room(500.0, 25.0, 0.0, 0.0),
                room(500.0, 0.0, 0.0, 0.0),
            ],
            0,
            SET,
        )
        .unwrap();
        assert_eq!(
            found.temperatures,
            [Some(SET), Some(Temperature::new(95.0)), None]
        );
        assert_eq!(spread([]), None);
    }

    proptest::proptest! {
        /// No choice of loads inside the band spreads the rooms more than the figure says, and some choice at its
        /// ends does spread them so.
        #[test]
        fn no_loads_in_the_band_spread_more(
            seed in proptest::collection::vec((800.0..4000.0_f64, 0.0..90.0_f64, 0.7..1.6_f64, 46.0..56.0_f64, -1.0..1.0_f64), 2..6),
            part in 0.02..0.25_f64,
        ) {
            let rooms: Vec<RoomHeat> = seed.iter()
                .map(|(gain, slope, plenty, supply, _)| room(*gain, *slope, plenty * gain / (75.0 - supply), *supply))
                .collect();
            let bound = uncertain_spread(&rooms, 0, SET, part).unwrap().value();
            let as_stated = balance(&rooms, 0, SET).unwrap().temperatures.into_iter().flatten();
            proptest::prop_assert!(bound >= spread(as_stated).unwrap().value() - 1e-9);
            let drawn: Vec<RoomHeat> = rooms.iter().zip(&seed)
                .map(|(room, (.., at))| room.scaled(1.0 + part * at))
                .collect();
            let found = balance(&drawn, 0, SET).unwrap().temperatures.into_iter().flatten();
            let found = spread(found).unwrap().value();
            proptest::prop_assert!(found <= bound * 1.002 + 1e-9, "{found} {bound}");
        }
    }
}
