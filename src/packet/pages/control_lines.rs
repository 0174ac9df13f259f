//! The boxes and conductors of a control drawing: at which height each conductor leaves its boxes, and in which channel
//! it turns, so that none looks like another.

use super::control_net::Holder;
use crate::packet::text::Text;

/// The height of a box's title, in points.
pub(super) const TITLE: f64 = 17.0;
/// Two conductors that run level are at least so far apart, or they look like one.
const APART: f64 = 1.8;

/// The column that a box stands in.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// Thermostats.
    Left,
    /// The air handler.
    Middle,
    /// All else.
    Right,
}

/// A box with its place.
pub(super) struct Placed<'h, 'a> {
    /// What it stands for.
    pub(super) holder: &'h Holder<'a>,
    /// Its column.
    pub(super) side: Side,
    /// Its upper edge.
    pub(super) top: f64,
    /// Lines of writing that each row takes: one a conductor in the outer boxes.
    pub(super) high: Vec<usize>,
}

impl Placed<'_, '_> {
    /// Lines of writing above a row.
    pub(super) fn above(&self, row: usize) -> f64 {
        self.high.iter().take(row).sum::<usize>() as f64
    }

    /// Lines of writing of all rows.
    pub(super) fn lines(&self) -> f64 {
        self.high.iter().sum::<usize>() as f64
    }
}

/// A conductor between two rows of boxes.
pub(super) struct Line {
    /// Box and row at one end and at the other.
    pub(super) ends: [(usize, usize); 2],
    /// Its color in words.
    pub(super) colour: Text,
}

/// Heights at which the conductors leave their boxes.
pub(super) struct Heights<'l> {
    /// The boxes.
    pub(super) placed: &'l [Placed<'l, 'l>],
    /// The conductors.
    pub(super) lines: &'l [Line],
    /// The height of a line of writing.
    pub(super) row: f64,
}

impl Heights<'_> {
    fn side(&self, end: (usize, usize)) -> Side {
        self.placed.get(end.0).map_or(Side::Right, |p| p.side)
    }

    /// Which of the conductors on its terminal an end is, and of how many.
    fn turn(&self, at: usize, which: usize) -> (f64, f64) {
        let Some(own) = self.lines.get(at).and_then(|line| line.ends.get(which)) else {
            return (0.0, 1.0);
        };
        let all = self.lines.iter().enumerate().flat_map(|(l, line)| {
            let ends = line.ends.iter().enumerate();
            ends.map(move |(w, end)| ((l, w), end))
        });
        let same: Vec<(usize, usize)> = all
            .filter(|(_, end)| *end == own)
            .map(|(place, _)| place)
            .collect();
        let k = same.iter().position(|place| *place == (at, which));
        (k.unwrap_or(0) as f64, same.len() as f64)
    }

    /// Where an end leaves its box, before conductors that run level are moved apart.
    fn base(&self, at: usize, which: usize) -> f64 {
        let Some(end) = self.lines.get(at).and_then(|line| line.ends.get(which)) else {
            return 0.0;
        };
        let Some(placed) = self.placed.get(end.0) else {
            return 0.0;
        };
        let (k, of) = self.turn(at, which);
        let first = placed.top + TITLE + self.row * (placed.above(end.1) + 0.5);
        if placed.side == Side::Middle {
            first + (k - (of - 1.0) / 2.0) * (self.row * 0.8 / of).min(5.0)
        } else {
            first + k * self.row
        }
    }

    /// Where each conductor leaves its boxes: at the middle one moved a little where another would run level with it.
    pub(super) fn all(&self) -> Vec<[f64; 2]> {
        let mut out: Vec<[f64; 2]> = (0..self.lines.len())
            .map(|at| [0, 1].map(|which| self.base(at, which)))
            .collect();
        let left = |at: usize| {
            self.lines
                .get(at)
                .is_some_and(|line| line.ends.iter().any(|end| self.side(*end) == Side::Left))
        };
        for (at, line) in self.lines.iter().enumerate() {
            for (which, end) in line.ends.iter().enumerate() {
                if self.side(*end) != Side::Middle {
                    continue;
                }
                let others: Vec<f64> = out
                    .iter()
                    .enumerate()
                    .filter(|(other, _)| *other != at && left(*other) == left(at))
                    .flat_map(|(_, ends)| *ends)
                    .collect();
                let free = |y: f64| others.iter().all(|other| (other - y).abs() >= APART);
                let own = out.get(at).and_then(|ends| ends.get(which)).copied();
                let Some(own) = own else { continue };
                let moved = [0.0, 1.0, -1.0, 2.0, -2.0]
                    .map(|steps| own + steps * APART)
                    .into_iter()
                    .find(|y| free(*y));
                if let (Some(slot), Some(moved)) =
                    (out.get_mut(at).and_then(|ends| ends.get_mut(which)), moved)
                {
                    *slot = moved;
                }
            }
        }
        out
    }
}

/// A channel for each line, counted from the left, so that lines cross as little as they can: of those that go
/// down, the upper one turns nearer to the middle box; of those that go up, the lower one.
pub(super) fn channels(
    lines: &[Line],
    left: &dyn Fn(&Line) -> bool,
    heights: &dyn Fn(usize) -> (f64, f64),
) -> Vec<usize> {
    let mut out = vec![0; lines.len()];
    for at_left in [true, false] {
        let mut own: Vec<usize> = lines
            .iter()
            .enumerate()
            .filter(|(_, line)| left(line) == at_left)
            .map(|(at, _)| at)
            .collect();
        own.sort_by(|a, b| {
            let ((outer_a, inner_a), (outer_b, inner_b)) = (heights(*a), heights(*b));
            let (down_a, down_b) = (inner_a > outer_a, inner_b > outer_b);
            let within = if down_a {
                outer_b.total_cmp(&outer_a)
            } else {
                outer_a.total_cmp(&outer_b)
            };
            down_b.cmp(&down_a).then(within).then(a.cmp(b))
        });
        if !at_left {
            own.reverse();
        }
        for (k, at) in own.into_iter().enumerate() {
            if let Some(slot) = out.get_mut(at) {
                *slot = k;
            }
        }
    }
    out
}
