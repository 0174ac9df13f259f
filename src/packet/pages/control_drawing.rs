//! Control wiring drawn: the air handler in the middle, thermostats at its left, all else at its right,
//! terminals in their catalog's order, and each conductor a line with its color in words.

use super::control_net::{Holder, groups, holders, split, wires};
use super::source::PageSource;
use crate::packet::scene::{Anchor, Area, Fill, Lettering, Pen, Point, Scene};
use crate::packet::text::Text;

/// Widths in points: a box, the words beside it.
const BOX: f64 = 96.0;
const WORDS: f64 = 50.0;
const TITLE: f64 = 18.0;
/// Between two boxes of a column.
const GAP: f64 = 12.0;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Middle,
    Right,
}

/// A box with its place.
struct Placed<'h, 'a> {
    holder: &'h Holder<'a>,
    side: Side,
    top: f64,
}

/// A conductor between two rows of boxes.
struct Line {
    /// Box and row at one end and at the other.
    ends: [(usize, usize); 2],
    colour: Text,
}

fn lines(source: &PageSource<'_>, placed: &[Placed<'_, '_>]) -> Vec<Line> {
    let end = |end| {
        let (name, terminal) = split(end);
        let at = placed.iter().position(|p| p.holder.name == name)?;
        Some((at, placed.get(at)?.holder.row(terminal)?))
    };
    wires(source)
        .filter_map(|(_, wire)| {
            Some(Line {
                ends: [end(&wire.from)?, end(&wire.to)?],
                colour: source.word(&wire.colour),
            })
        })
        .collect()
}

/// The rows of the middle box that a holder is wired to, the first of them.
fn first_row(source: &PageSource<'_>, hub: &Holder<'_>, name: &str) -> usize {
    wires(source)
        .filter_map(|(_, wire)| {
            let (a, b) = (split(&wire.from), split(&wire.to));
            match (a.0 == name, b.0 == name) {
                (true, _) if b.0 == hub.name => hub.row(b.1),
                (_, true) if a.0 == hub.name => hub.row(a.1),
                _ => None,
            }
        })
        .min()
        .unwrap_or(usize::MAX)
}

struct Layout {
    row: f64,
    pitch: f64,
    left_channels: f64,
    right_channels: f64,
}

impl Layout {
    fn middle(&self) -> f64 {
        10.0 + BOX + WORDS + self.left_channels + 14.0
    }

    fn right(&self) -> f64 {
        self.middle() + BOX + 14.0 + self.right_channels + WORDS
    }

    fn x(&self, side: Side) -> f64 {
        match side {
            Side::Left => 10.0,
            Side::Middle => self.middle(),
            Side::Right => self.right(),
        }
    }
}

/// Which side of its box a line leaves by, as -1 or 1.
fn leaves(own: Side, other: Side) -> f64 {
    match (own, other) {
        (Side::Left, _) | (Side::Middle, Side::Right | Side::Middle) => 1.0,
        (Side::Middle, Side::Left) | (Side::Right, _) => -1.0,
    }
}

/// One drawing an air handler, each with its name; one without a name when there is none.
pub(super) fn drawings(source: &PageSource<'_>) -> Vec<(Option<String>, Scene)> {
    let all = holders(source);
    let mut groups: Vec<(Option<String>, Vec<bool>)> = groups(source, &all)
        .into_iter()
        .map(|(name, shown)| (Some(name), shown))
        .collect();
    if groups.is_empty() {
        groups.push((None, vec![true; all.len()]));
    }
    groups
        .into_iter()
        .filter_map(|(name, shown)| {
            let own = all.iter().zip(shown).filter(|(_, shown)| *shown);
            let own: Vec<&Holder<'_>> = own.map(|(holder, _)| holder).collect();
            Some((name, drawing(source, own)?))
        })
        .collect()
}

fn drawing(source: &PageSource<'_>, mut order: Vec<&Holder<'_>>) -> Option<Scene> {
    let hub = order.iter().copied().find(|h| h.hub);
    if let Some(hub) = hub {
        order.sort_by_key(|h| first_row(source, hub, &h.name));
    }
    let side_of = |h: &Holder<'_>| {
        if hub.is_some_and(|hub| hub.name == h.name) {
            Side::Middle
        } else if h.thermostat {
            Side::Left
        } else {
            Side::Right
        }
    };
    // What each column's boxes leave for their rows; two lines of note stand below.
    let room = |side: Side| -> f64 {
        let of_side = || order.iter().filter(|h| side_of(h) == side);
        let boxes = of_side().count() as f64;
        let rows: usize = of_side().map(|h| h.rows.len()).sum();
        let left = Scene::HIGHEST_SIDEWAYS - 66.0 - boxes * (TITLE + GAP);
        left / rows.max(1) as f64
    };
    let row = [Side::Left, Side::Middle, Side::Right]
        .map(room)
        .into_iter()
        .fold(20.0, f64::min)
        .max(9.0);
    let mut tops = [8.0, 8.0, 8.0];
    let placed: Vec<Placed<'_, '_>> = order
        .iter()
        .map(|holder| {
            let side = side_of(holder);
            let slot = match side {
                Side::Left => 0,
                Side::Middle => 1,
                Side::Right => 2,
            };
            let top = tops.get(slot).copied().unwrap_or(8.0);
            let high = TITLE + row * holder.rows.len() as f64 + GAP;
            if let Some(next) = tops.get_mut(slot) {
                *next += high;
            }
            Placed { holder, side, top }
        })
        .collect();
    let lines = lines(source, &placed);
    if lines.is_empty() {
        return None;
    }
    Some(draw(source, &placed, &lines, row))
}

fn draw(source: &PageSource<'_>, placed: &[Placed<'_, '_>], lines: &[Line], row: f64) -> Scene {
    let side = |n: usize| placed.get(n).map_or(Side::Right, |p| p.side);
    // Lines that need a channel at the left, and all others.
    let left = |line: &Line| line.ends.iter().any(|(n, _)| side(*n) == Side::Left);
    let at_left = lines.iter().filter(|line| left(line)).count() as f64;
    let at_right = lines.len() as f64 - at_left;
    let spare = Scene::WIDEST_SIDEWAYS - 3.0 * BOX - 2.0 * WORDS - 56.0;
    let pitch = (spare / lines.len().max(1) as f64).min(9.0);
    let layout = Layout {
        row,
        pitch,
        left_channels: pitch * at_left,
        right_channels: pitch * at_right,
    };
    let high = placed
        .iter()
        .map(|p| p.top + TITLE + row * p.holder.rows.len() as f64 + 14.0)
        .fold(0.0, f64::max);
    let mut scene = Scene::new(layout.right() + BOX + 10.0, high);
    let y_of = |(n, r): (usize, usize), shift: f64| {
        let top = placed.get(n).map_or(0.0, |p| p.top);
        top + TITLE + layout.row * (r as f64 + 0.5) + shift
    };
    // Several lines on one terminal stand a little apart.
    let turn = |at: usize, which: usize| {
        let Some(own) = lines.get(at).and_then(|line| line.ends.get(which)) else {
            return (0.0, 1.0);
        };
        let same: Vec<(usize, usize)> = lines
            .iter()
            .enumerate()
            .flat_map(|(l, line)| {
                line.ends
                    .iter()
                    .enumerate()
                    .map(move |(w, end)| ((l, w), end))
            })
            .filter(|(_, end)| *end == own)
            .map(|(place, _)| place)
            .collect();
        let k = same
            .iter()
            .position(|place| *place == (at, which))
            .unwrap_or(0);
        (k as f64, same.len() as f64)
    };
    let shift = |at: usize, which: usize| {
        let (k, of) = turn(at, which);
        (k - (of - 1.0) / 2.0) * 5.0
    };
    let channels = channels(lines, &left, &|at| {
        let line = lines.get(at);
        let [a, b] = line.map_or([0.0, 0.0], |line| line.ends.map(|end| y_of(end, 0.0)));
        // From the outer box toward the middle one.
        let outer_first = line.is_some_and(|line| side(line.ends[0].0) != Side::Middle);
        if outer_first { (a, b) } else { (b, a) }
    });
    for (at, line) in lines.iter().enumerate() {
        let [a, b] = line.ends;
        let (ya, yb) = (y_of(a, shift(at, 0)), y_of(b, shift(at, 1)));
        let (sa, sb) = (side(a.0), side(b.0));
        let edge = |own: Side, other: Side| {
            let out = leaves(own, other);
            let x = layout.x(own) + if out > 0.0 { BOX } else { 0.0 };
            (x, out)
        };
        let ((xa, oa), (xb, ob)) = (edge(sa, sb), edge(sb, sa));
        let k = channels.get(at).copied().unwrap_or(0) as f64;
        let channel = if left(line) {
            10.0 + BOX + WORDS + layout.pitch * (k + 0.5)
        } else {
            layout.middle() + BOX + 14.0 + layout.pitch * (k + 0.5)
        };
        scene.path(
            [
                Point::at(xa, ya),
                Point::at(channel, ya),
                Point::at(channel, yb),
                Point::at(xb, yb),
            ],
            Pen::MEDIUM,
        );
        for (which, x, y, out, own) in [(0, xa, ya, oa, sa), (1, xb, yb, ob, sb)] {
            scene.circle(Point::at(x, y), 2.4, Pen::MEDIUM, Fill::Black);
            if own != Side::Middle {
                let anchor = if out > 0.0 {
                    Anchor::Start
                } else {
                    Anchor::End
                };
                scene.text(
                    // Words of one terminal stand side by side.
                    Point::at(x + out * (6.0 + 27.0 * turn(at, which).0), y - 2.5),
                    Lettering::LABEL.sized(9.5).anchored(anchor),
                    line.colour.clone(),
                );
            }
        }
    }
    for p in placed {
        draw_box(source, &mut scene, p, &layout);
    }
    scene
}

/// A channel for each line, counted from the left, so that lines cross as little as they can: of those that go
/// down, the upper one turns nearer to the middle box; of those that go up, the lower one.
fn channels(
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

fn draw_box(source: &PageSource<'_>, scene: &mut Scene, placed: &Placed<'_, '_>, layout: &Layout) {
    let holder = placed.holder;
    let x = layout.x(placed.side);
    let high = TITLE + layout.row * holder.rows.len() as f64;
    scene.rectangle(Area::new(x, placed.top, BOX, high), Pen::HEAVY, Fill::None);
    scene.text(
        Point::at(x + BOX / 2.0, placed.top + 13.0),
        Lettering::NAME,
        source.name(holder.head, &holder.name),
    );
    for (r, (_, label)) in holder.rows.iter().enumerate() {
        let top = placed.top + TITLE + layout.row * r as f64;
        scene.line(Point::at(x, top), Point::at(x + BOX, top), Pen::THIN);
        let bold = Lettering::NAME.sized((layout.row - 5.0).clamp(7.0, 11.0));
        scene.text(
            Point::at(x + BOX / 2.0, top + layout.row / 2.0 + 4.0),
            bold,
            label.clone(),
        );
    }
}
