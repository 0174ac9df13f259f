//! Control wiring drawn: the air handler in the middle, thermostats at its left, all else at its right,
//! terminals in their catalog's order, and each conductor a line with its color in words.

use super::control_lines::{Heights, Line, Placed, Side, TITLE, channels};
use super::control_net::{Holder, groups, holders, split, wires};
use super::source::PageSource;
use crate::packet::font::{Weight, text_width};
use crate::packet::scene::{Anchor, Area, Fill, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, Words};

/// Width of a box, in points.
const BOX: f64 = 88.0;
/// Between two boxes of a column.
const GAP: f64 = 8.0;
/// The largest letters of a color; the room between their white ground and a line; and from them to the box.
const LETTERS: f64 = 9.5;
const CLEAR: f64 = 0.9;
const BESIDE: f64 = 6.0;
/// From a contact to the words that say what line voltage lands there.
const STUB: f64 = 16.0;
fn lines(source: &PageSource<'_>, order: &[&Holder<'_>]) -> Vec<Line> {
    let end = |end| {
        let (name, terminal) = split(end);
        let at = order.iter().position(|holder| holder.name == name)?;
        Some((at, order.get(at)?.row(terminal)?))
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
    letters: f64,
    words: f64,
    left_channels: f64,
    right_channels: f64,
}

impl Layout {
    fn middle(&self) -> f64 {
        10.0 + BOX + self.words + self.left_channels + 14.0
    }

    fn right(&self) -> f64 {
        self.middle() + BOX + 14.0 + self.right_channels + self.words
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
    let lines = lines(source, &order);
    if lines.is_empty() {
        return None;
    }
    // Each conductor on an outer box has a line of its own, so that its color stands on nothing else.
    let high: Vec<Vec<usize>> = order
        .iter()
        .enumerate()
        .map(|(n, holder)| {
            let landed = |row: usize| {
                let ends = lines.iter().flat_map(|line| line.ends);
                ends.filter(|end| *end == (n, row)).count()
            };
            let inner = side_of(holder) == Side::Middle;
            (0..holder.rows.len())
                .map(|row| if inner { 1 } else { landed(row).max(1) })
                .collect()
        })
        .collect();
    // What each column's boxes leave for their rows; the notes stand below.
    let below = if super::contact::circuits(source).is_empty() {
        66.0
    } else {
        106.0
    };
    let room = |side: Side| -> f64 {
        let of_side = || order.iter().zip(&high).filter(|(h, _)| side_of(h) == side);
        let boxes = of_side().count() as f64;
        let rows: usize = of_side().flat_map(|(_, high)| high).sum();
        let left = Scene::HIGHEST_SIDEWAYS - below - boxes * (TITLE + GAP);
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
        .zip(high)
        .map(|(holder, high)| {
            let side = side_of(holder);
            let slot = match side {
                Side::Left => 0,
                Side::Middle => 1,
                Side::Right => 2,
            };
            let top = tops.get(slot).copied().unwrap_or(8.0);
            let placed = Placed {
                holder,
                side,
                top,
                high,
            };
            if let Some(next) = tops.get_mut(slot) {
                *next += TITLE + row * placed.lines() + GAP;
            }
            placed
        })
        .collect();
    Some(draw(source, &placed, &lines, row))
}

fn draw(source: &PageSource<'_>, placed: &[Placed<'_, '_>], lines: &[Line], row: f64) -> Scene {
    let side = |n: usize| placed.get(n).map_or(Side::Right, |p| p.side);
    // Lines that need a channel at the left, and all others.
    let left = |line: &Line| line.ends.iter().any(|(n, _)| side(*n) == Side::Left);
    let at_left = lines.iter().filter(|line| left(line)).count() as f64;
    let at_right = lines.len() as f64 - at_left;
    let letters = ((row - 2.0 * CLEAR) / 1.05).min(LETTERS);
    let wide = |text: &Text| text_width(&text.plain(Words::english()), Weight::Regular, letters);
    let words = lines
        .iter()
        .map(|line| wide(&line.colour) + 2.0 * BESIDE)
        .fold(0.0, f64::max);
    let stubs = placed
        .iter()
        .filter(|p| p.side == Side::Right)
        .flat_map(|p| p.holder.rows.iter().map(|(name, _)| (&p.holder.name, name)))
        .filter_map(|(relay, terminal)| contact_words(source, relay, terminal))
        .map(|text| wide(&text) + STUB + 4.0)
        .fold(0.0, f64::max);
    let spare = Scene::WIDEST_SIDEWAYS - 3.0 * BOX - 2.0 * words - 56.0 - stubs;
    let pitch = (spare / lines.len().max(1) as f64).min(9.0);
    let layout = Layout {
        row,
        pitch,
        letters,
        words,
        left_channels: pitch * at_left,
        right_channels: pitch * at_right,
    };
    let high = placed
        .iter()
        .map(|p| p.top + TITLE + row * p.lines() + 14.0)
        .fold(0.0, f64::max);
    let mut scene = Scene::new(layout.right() + BOX + 10.0 + stubs, high);
    let heights = Heights { placed, lines, row };
    let all = heights.all();
    let channels = channels(lines, &left, &|at| {
        let [a, b] = all.get(at).copied().unwrap_or([0.0, 0.0]);
        // From the outer box toward the middle one.
        let outer_first = lines
            .get(at)
            .is_some_and(|line| side(line.ends[0].0) != Side::Middle);
        if outer_first { (a, b) } else { (b, a) }
    });
    for (at, line) in lines.iter().enumerate() {
        let [a, b] = line.ends;
        let [ya, yb] = all.get(at).copied().unwrap_or([0.0, 0.0]);
        let (sa, sb) = (side(a.0), side(b.0));
        let edge = |own: Side, other: Side| {
            let out = leaves(own, other);
            let x = layout.x(own) + if out > 0.0 { BOX } else { 0.0 };
            (x, out)
        };
        let ((xa, oa), (xb, ob)) = (edge(sa, sb), edge(sb, sa));
        let k = channels.get(at).copied().unwrap_or(0) as f64;
        let channel = if left(line) {
            10.0 + BOX + layout.words + layout.pitch * (k + 0.5)
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
        for (x, y, out, own) in [(xa, ya, oa, sa), (xb, yb, ob, sb)] {
            scene.circle(Point::at(x, y), 2.4, Pen::MEDIUM, Fill::Black);
            if own != Side::Middle {
                let anchor = if out > 0.0 {
                    Anchor::Start
                } else {
                    Anchor::End
                };
                scene.text(
                    Point::at(x + out * BESIDE, y - CLEAR - layout.letters * 0.25),
                    Lettering::LABEL.sized(layout.letters).anchored(anchor),
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

/// What line voltage lands on a terminal, in few words.
fn contact_words(source: &PageSource<'_>, relay: &str, terminal: &str) -> Option<Text> {
    super::contact::landed(source, relay, terminal, true)
}

/// Letters that fit into a box.
fn fitted(lettering: Lettering, text: &Text) -> Lettering {
    let plain = text.plain(Words::english());
    let wide = text_width(&plain, lettering.weight, lettering.size);
    lettering.sized(lettering.size * ((BOX - 6.0) / wide.max(1.0)).min(1.0))
}

fn draw_box(source: &PageSource<'_>, scene: &mut Scene, placed: &Placed<'_, '_>, layout: &Layout) {
    let holder = placed.holder;
    let x = layout.x(placed.side);
    let high = TITLE + layout.row * placed.lines();
    scene.rectangle(Area::new(x, placed.top, BOX, high), Pen::HEAVY, Fill::None);
    let name = source.name(holder.head, &holder.name);
    scene.text(
        Point::at(x + BOX / 2.0, placed.top + TITLE - 5.0),
        fitted(Lettering::NAME.sized(11.0), &name),
        name,
    );
    for (r, (terminal, label)) in holder.rows.iter().enumerate() {
        let top = placed.top + TITLE + layout.row * placed.above(r);
        let own = layout.row * placed.high.get(r).copied().unwrap_or(1) as f64;
        scene.line(Point::at(x, top), Point::at(x + BOX, top), Pen::THIN);
        let bold = Lettering::NAME.sized((layout.row - 4.0).clamp(7.0, 11.0));
        scene.text(
            Point::at(x + BOX / 2.0, top + own / 2.0 + bold.size * 0.35),
            fitted(bold, label),
            label.clone(),
        );
        let words = contact_words(source, &holder.name, terminal);
        if let Some(words) = words.filter(|_| placed.side == Side::Right) {
            let y = top + own / 2.0;
            let edge = Point::at(x + BOX, y);
            scene.circle(edge, 2.8, Pen::MEDIUM, Fill::Black);
            scene.line(edge, edge.moved(STUB - 3.0, 0.0), Pen::HEAVY);
            scene.text(
                Point::at(x + BOX + STUB, y + layout.letters * 0.32),
                Lettering::LABEL
                    .sized(layout.letters)
                    .anchored(Anchor::Start),
                words,
            );
        }
    }
}
