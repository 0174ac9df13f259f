//! A coil's capacity between the points of its maker's table: linear in airflow, outdoor temperature, entering
//! dry bulb and entering wet bulb, one after the other.
//!
//! Blocks need not hold the same entering states. Outside the table its edge is held, and the answer says which
//! variable left the table and how far: nothing is extrapolated.

use crate::quantity::{AirFlow, HeatFlow, Temperature};

/// What a coil takes out of air in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TablePoint {
    /// Airflow, as standard air.
    pub airflow: AirFlow,
    /// Air outdoors.
    pub outdoor: Temperature,
    /// Entering dry bulb.
    pub dry_bulb: Temperature,
    /// Entering wet bulb.
    pub wet_bulb: Temperature,
    /// Sensible and latent heat together.
    pub total: HeatFlow,
    /// Sensible heat.
    pub sensible: HeatFlow,
}

/// A variable of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Variable {
    /// Airflow, cfm of standard air.
    Airflow,
    /// Outdoor temperature, °F.
    Outdoor,
    /// Entering dry bulb, °F.
    DryBulb,
    /// Entering wet bulb, °F.
    WetBulb,
}

impl Variable {
    /// In the order in which the table is entered.
    pub const ALL: [Self; 4] = [Self::Airflow, Self::Outdoor, Self::DryBulb, Self::WetBulb];

    /// Its name in reports.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Airflow => "airflow",
            Self::Outdoor => "outdoor temperature",
            Self::DryBulb => "entering dry bulb",
            Self::WetBulb => "entering wet bulb",
        }
    }
}

/// A variable that lies outside the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beyond {
    /// Which.
    pub variable: Variable,
    /// The end of the table that was held, cfm or °F.
    pub edge: f64,
    /// The value asked for.
    pub wanted: f64,
}

impl Beyond {
    /// How far outside, without sign.
    pub fn by(&self) -> f64 {
        (self.wanted - self.edge).abs()
    }
}

/// What the table gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Capacity {
    /// Sensible and latent heat together.
    pub total: HeatFlow,
    /// Sensible heat; above the total where the coil runs dry.
    pub sensible: HeatFlow,
    /// Variables outside the table, each once, in the table's order.
    pub beyond: Vec<Beyond>,
}

/// What does not count as outside, in a variable's own unit.
const HAIR: f64 = 1e-9;

/// Why points make no table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableFault {
    /// There are none.
    Empty,
    /// A figure is not a number.
    NotANumber,
    /// Two points stand for one state and differ.
    Twice,
}

#[derive(Clone, Debug)]
enum Level {
    /// Values of one variable, ascending, and what hangs on each.
    Axis(Vec<(f64, Level)>),
    /// Total and sensible.
    Leaf(f64, f64),
}

/// A capacity table.
#[derive(Clone, Debug)]
pub struct CapacityTable {
    top: Level,
    least_airflow: f64,
    most_airflow: f64,
}

type Row = ([f64; 4], f64, f64);

fn level(rows: &[Row], depth: usize) -> Result<Level, TableFault> {
    if depth == Variable::ALL.len() {
        let Some((_, total, sensible)) = rows.first() else {
            return Err(TableFault::Empty);
        };
        let same = |row: &Row| row.1.total_cmp(total).is_eq() && row.2.total_cmp(sensible).is_eq();
        return if rows.iter().all(same) {
            Ok(Level::Leaf(*total, *sensible))
        } else {
            Err(TableFault::Twice)
        };
    }
    let key = |row: &Row| row.0.get(depth).copied().unwrap_or(0.0);
    rows.chunk_by(|a, b| key(a).total_cmp(&key(b)).is_eq())
        .map(|group| {
            let at = group.first().map_or(0.0, key);
            Ok((at, level(group, depth + 1)?))
        })
        .collect::<Result<Vec<_>, _>>()
        .map(Level::Axis)
}

/// The value below with the one above and its share; and the edge, where the wanted value lies outside.
type Around<'a> = (&'a Level, Option<(&'a Level, f64)>, Option<f64>);

fn around(axis: &[(f64, Level)], x: f64) -> Option<Around<'_>> {
    let (first, last) = (axis.first()?, axis.last()?);
    if x <= first.0 {
        return Some((&first.1, None, (x < first.0).then_some(first.0)));
    }
    if x >= last.0 {
        return Some((&last.1, None, (x > last.0).then_some(last.0)));
    }
    axis.windows(2).find_map(|pair| {
        let [(low, under), (high, over)] = pair else {
            return None;
        };
        if x < *low || x >= *high {
            return None;
        }
        let share = (x - low) / (high - low);
        Some((under, (share > 0.0).then_some((over, share)), None))
    })
}

fn look(level: &Level, wanted: &[(Variable, f64)], beyond: &mut Vec<Beyond>) -> (f64, f64) {
    let axis = match level {
        Level::Leaf(total, sensible) => return (*total, *sensible),
        Level::Axis(axis) => axis,
    };
    let [(variable, x), rest @ ..] = wanted else {
        return (0.0, 0.0);
    };
    let Some((under, over, edge)) = around(axis, *x) else {
        return (0.0, 0.0);
    };
    // A wet bulb worked out from a humidity may miss the table's own last one by a hair.
    if let Some(edge) = edge.filter(|edge| (edge - x).abs() > HAIR) {
        let new = Beyond {
            variable: *variable,
            edge,
            wanted: *x,
        };
        match beyond.iter_mut().find(|old| old.variable == *variable) {
            Some(old) if old.by() < new.by() => *old = new,
            Some(_) => {}
            None => beyond.push(new),
        }
    }
    let (total, sensible) = look(under, rest, beyond);
    let Some((over, share)) = over else {
        return (total, sensible);
    };
    let (more, more_sensible) = look(over, rest, beyond);
    (
        total + share * (more - total),
        sensible + share * (more_sensible - sensible),
    )
}

impl CapacityTable {
    /// From its points in any order.
    pub fn new(points: &[TablePoint]) -> Result<Self, TableFault> {
        let mut rows: Vec<Row> = points
            .iter()
            .map(|point| {
                let key = [
                    point.airflow.value(),
                    point.outdoor.value(),
                    point.dry_bulb.value(),
                    point.wet_bulb.value(),
                ];
                (key, point.total.value(), point.sensible.value())
            })
            .collect();
        let finite = |row: &Row| {
            row.0.iter().all(|x| x.is_finite()) && row.1.is_finite() && row.2.is_finite()
        };
        if !rows.iter().all(finite) {
            return Err(TableFault::NotANumber);
        }
        rows.sort_by(|a, b| {
            a.0.iter()
                .zip(&b.0)
                .map(|(x, y)| x.total_cmp(y))
                .find(|order| order.is_ne())
                .unwrap_or(std::cmp::Ordering::Equal)
        });
        let flow = |row: Option<&Row>| row.and_then(|row| row.0.first().copied());
        let (Some(least_airflow), Some(most_airflow)) = (flow(rows.first()), flow(rows.last()))
        else {
            return Err(TableFault::Empty);
        };
        Ok(Self {
            top: level(&rows, 0)?,
            least_airflow,
            most_airflow,
        })
    }

    /// Least and greatest airflow of the table.
    pub const fn airflows(&self) -> (AirFlow, AirFlow) {
        (
            AirFlow::new(self.least_airflow),
            AirFlow::new(self.most_airflow),
        )
    }

    /// What the table gives at a state.
    pub fn at(
        &self,
        airflow: AirFlow,
        outdoor: Temperature,
        dry_bulb: Temperature,
        wet_bulb: Temperature,
    ) -> Capacity {
        let wanted = [
            (Variable::Airflow, airflow.value()),
            (Variable::Outdoor, outdoor.value()),
            (Variable::DryBulb, dry_bulb.value()),
            (Variable::WetBulb, wet_bulb.value()),
        ];
        let mut beyond = Vec::new();
        let (total, sensible) = look(&self.top, &wanted, &mut beyond);
        beyond.sort_by_key(|one| one.variable);
        Capacity {
            total: HeatFlow::new(total),
            sensible: HeatFlow::new(sensible),
            beyond,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(airflow: f64, outdoor: f64, dry: f64, wet: f64, total: f64) -> TablePoint {
        TablePoint {
            airflow: AirFlow::new(airflow),
            outdoor: Temperature::new(outdoor),
            dry_bulb: Temperature::new(dry),
            wet_bulb: Temperature::new(wet),
            total: HeatFlow::new(total),
            sensible: HeatFlow::new(total / 2.0),
        }
    }

    /// A table drawn from a function that is linear in each variable by itself is met everywhere inside,
    /// the products of variables included.
    fn plane(a: f64, o: f64, d: f64, w: f64) -> f64 {
        20_000.0 + 3.0 * a - 90.0 * o + 10.0 * d + 200.0 * w - 0.05 * a * o + 0.1 * a * w
            - 0.4 * o * d
            + 0.000_3 * a * o * d * w
    }

    fn full() -> CapacityTable {
        let mut points = Vec::new();
        for a in [1200.0, 900.0, 1000.0] {
            for o in [95.0, 85.0, 105.0] {
                for d in [80.0, 72.0] {
                    for w in [60.0, 67.0, 64.0] {
                        points.push(point(a, o, d, w, plane(a, o, d, w)));
                    }
                }
            }
        }
        CapacityTable::new(&points).unwrap()
    }

    fn ask(table: &CapacityTable, a: f64, o: f64, d: f64, w: f64) -> Capacity {
        table.at(
            AirFlow::new(a),
            Temperature::new(o),
            Temperature::new(d),
            Temperature::new(w),
        )
    }

    proptest::proptest! {
        #[test]
        fn between_points_it_is_linear_in_each_variable(
            a in 900.0..1200.0_f64, o in 85.0..105.0_f64, d in 72.0..80.0_f64, w in 60.0..67.0_f64,
        ) {
            let found = ask(&full(), a, o, d, w);
            proptest::prop_assert!(found.beyond.is_empty());
            let want = plane(a, o, d, w);
            proptest::prop_assert!((found.total.value() - want).abs() < 1e-6 * want, "{found:?} {want}");
        }
    }

    #[test]
    fn outside_the_edge_is_held_and_said() {
        let table = full();
        let edge = ask(&table, 900.0, 95.0, 75.0, 62.0);
        let found = ask(&table, 640.0, 95.0, 75.0, 62.0);
        assert_eq!(found.total, edge.total);
        assert_eq!(
            found.beyond,
            [Beyond {
                variable: Variable::Airflow,
                edge: 900.0,
                wanted: 640.0
            }]
        );
        let found = ask(&table, 1200.0, 110.0, 85.0, 58.0);
        let left: Vec<_> = found.beyond.iter().map(|b| (b.variable, b.by())).collect();
        assert_eq!(
            left,
            [
                (Variable::Outdoor, 5.0),
                (Variable::DryBulb, 5.0),
                (Variable::WetBulb, 2.0)
            ]
        );
        // The last value itself lies inside.
        assert!(ask(&table, 1200.0, 105.0, 80.0, 67.0).beyond.is_empty());
        assert!(ask(&table, 900.0, 85.0, 72.0, 60.0).beyond.is_empty());
    }

    /// Entering states that form no rectangle: 67 °F wet stands with 80 °F only, 57 °F wet with 70 °F only.
    #[test]
    fn ragged_states_are_used_as_far_as_they_go() {
        let table = CapacityTable::new(&[
            point(900.0, 95.0, 70.0, 57.0, 30_000.0),
            point(900.0, 95.0, 70.0, 61.0, 32_000.0),
            point(900.0, 95.0, 80.0, 61.0, 33_000.0),
            point(900.0, 95.0, 80.0, 67.0, 36_000.0),
        ])
        .unwrap();
        let inside = ask(&table, 900.0, 95.0, 75.0, 61.0);
        assert!(inside.beyond.is_empty());
        assert!((inside.total.value() - 32_500.0).abs() < 1e-9);
        // 64 °F wet lies inside at 80 °F dry and 3 °F outside at 70 °F dry.
        let half = ask(&table, 900.0, 95.0, 75.0, 64.0);
        assert!((half.total.value() - f64::midpoint(32_000.0, 34_500.0)).abs() < 1e-9);
        let left: Vec<_> = half.beyond.iter().map(|b| (b.variable, b.by())).collect();
        assert_eq!(left, [(Variable::WetBulb, 3.0)]);
        // At 80 °F itself the other row plays no part.
        assert!(ask(&table, 900.0, 95.0, 80.0, 64.0).beyond.is_empty());
    }

    #[test]
    fn what_is_no_table_is_refused() {
        assert_eq!(CapacityTable::new(&[]).err(), Some(TableFault::Empty));
        let one = point(900.0, 95.0, 80.0, 67.0, 36_000.0);
        let other = point(900.0, 95.0, 80.0, 67.0, 35_000.0);
        assert!(CapacityTable::new(&[one, one]).is_ok());
        assert_eq!(
            CapacityTable::new(&[one, other]).err(),
            Some(TableFault::Twice)
        );
        let broken = point(f64::NAN, 95.0, 80.0, 67.0, 1.0);
        assert_eq!(
            CapacityTable::new(&[broken]).err(),
            Some(TableFault::NotANumber)
        );
    }
}
