//! The trunk laid straight, to scale: pieces, fittings and every hole with its distance from the unit.

use super::PageSource;
use super::cut_tags::runs_of;
use super::trunk_holes::{alike, folded_table, holes, long_table};
use crate::model::{Direction, Fitting, FittingKind, Run, Trunk, TrunkLeg};
use crate::packet::font::{Weight, text_width};
use crate::packet::page::{Block, Caution, Hazard, Page, Trade};
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scale, Scene};
use crate::packet::text::{Phrase, Text, Words, say};
use crate::quantity::Length;

/// Points between two labels that are read from below.
const APART: f64 = 13.5;
/// Height of a band of labels, and of the slanting lines that lead to them.
const LABELS: f64 = 92.0;
const SLANT: f64 = 16.0;
const SIDE: f64 = 26.0;
/// Half of the height in which a trunk is drawn.
const HALF: f64 = 13.0;

/// On which side of the chart a hole stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Band {
    /// Left of the air's way: above.
    Left,
    /// Right of it: below.
    Right,
    /// On top or at the bottom: on the middle line, labelled above.
    Middle,
}

/// The side of a run on the chart.
pub(super) fn band(run: &Run, trunk: &Trunk) -> Band {
    let leg = run.station.and_then(|station| trunk.leg_at(station.value));
    let side = run.side.as_ref().map(|side| side.value.as_str());
    match (side, leg) {
        (Some("left"), _) => Band::Left,
        (Some("right"), _) => Band::Right,
        (Some(word), Some(leg)) => match Direction::named(word) {
            Some(way) if leg.direction.is_level() && way == leg.direction.left() => Band::Left,
            Some(way) if leg.direction.is_level() && way == leg.direction.left().opposite() => {
                Band::Right
            }
            _ => Band::Middle,
        },
        _ => Band::Middle,
    }
}

/// Places for labels wanted at `wanted`, in order, none nearer than `APART` to the next, all within `most`.
fn spread(wanted: &[f64], least: f64, most: f64) -> Vec<f64> {
    let mut out: Vec<f64> = Vec::with_capacity(wanted.len());
    for place in wanted {
        let after = out.last().map_or(least, |last| last + APART);
        out.push(place.max(after));
    }
    let mut limit = most;
    for place in out.iter_mut().rev() {
        *place = place.min(limit);
        limit = *place - APART;
    }
    out
}

pub(super) fn fitting_words(fitting: &Fitting) -> Text {
    match &fitting.kind {
        FittingKind::Unit => say("trunk.unit").into(),
        FittingKind::Start => say("trunk.start").into(),
        FittingKind::Tee(name) => say("trunk.tee").with("branch", Text::tag(name)).into(),
        FittingKind::Elbow => say("trunk.elbow").into(),
        FittingKind::Cap => say("trunk.cap").into(),
        FittingKind::End => say("trunk.end").into(),
    }
}

const fn way(direction: Direction) -> &'static str {
    direction.word()
}

fn toward(direction: Direction) -> Phrase {
    match way(direction) {
        "north" => say("way.north"),
        "south" => say("way.south"),
        "east" => say("way.east"),
        "west" => say("way.west"),
        "up" => say("way.up"),
        _ => say("way.down"),
    }
}

/// What the chart draws on.
struct Chart<'c, 's> {
    source: &'c PageSource<'s>,
    trunk: &'c Trunk,
    scale: Scale,
    middle: f64,
}

impl Chart<'_, '_> {
    fn x(&self, station: Length) -> f64 {
        SIDE + self.scale.points(station)
    }

    fn pieces(&self, scene: &mut Scene) {
        for (n, leg) in self.trunk.legs.iter().enumerate() {
            let from = self.x(leg.station);
            let wide = self.scale.points(leg.length);
            let area = Area::new(from, self.middle - HALF, wide, 2.0 * HALF);
            let fill = if leg.removable {
                Fill::Hatch(Hatch::Level)
            } else {
                Fill::None
            };
            scene.rectangle(area, Pen::MEDIUM, fill);
            let words = self.piece_words(n, leg);
            if Self::fits(&words, wide) {
                scene.text(
                    Point::at(from + wide / 2.0, self.middle + 3.5),
                    Lettering::LABEL.sized(9.0),
                    words,
                );
            }
        }
    }

    /// Which way a piece goes, how long it is, and whether it comes off or is cut to fit.
    fn piece_words(&self, n: usize, leg: &TrunkLeg) -> Text {
        let id = format!("trunk.{}.piece_{}.length", self.trunk.name, n + 1);
        let words = say("trunk.piece")
            .with("way", toward(leg.direction))
            .with("length", Text::of(self.source.ledger, &id));
        if leg.removable {
            say("trunk.piece-off").with("piece", words).into()
        } else if leg.field_cut {
            say("trunk.piece-cut").with("piece", words).into()
        } else {
            words.into()
        }
    }

    /// Whether words stand inside a piece that is `wide` points long.
    fn fits(text: &Text, wide: f64) -> bool {
        text_width(&text.plain(Words::english()), Weight::Regular, 9.0) + 6.0 <= wide
    }

    fn fittings(&self, scene: &mut Scene) {
        for fitting in &self.trunk.fittings {
            let x = self.x(fitting.station);
            let (up, down) = (self.middle - HALF, self.middle + HALF);
            match &fitting.kind {
                FittingKind::Unit | FittingKind::Start => {
                    let box_at = Area::new(x - 20.0, up - 6.0, 20.0, 2.0 * HALF + 12.0);
                    scene.rectangle(box_at, Pen::HEAVY, Fill::White);
                    scene.text(
                        Point::at(x - 7.0, self.middle),
                        Lettering::LABEL.sized(9.0).upward(),
                        fitting_words(fitting),
                    );
                }
                FittingKind::Cap => {
                    scene.line(
                        Point::at(x, up - 3.0),
                        Point::at(x, down + 3.0),
                        Pen::solid(4.0),
                    );
                }
                FittingKind::Elbow => {
                    scene.line(Point::at(x - 6.0, up), Point::at(x + 6.0, down), Pen::HEAVY);
                }
                FittingKind::Tee(_) => {
                    let branch = Area::new(x - 9.0, up, 18.0, 2.0 * HALF);
                    scene.rectangle(branch, Pen::HEAVY, Fill::Hatch(Hatch::Rising));
                }
                FittingKind::End => scene.line(Point::at(x, up), Point::at(x, down), Pen::HIDDEN),
            }
        }
    }

    /// Holes and marks on one side, each with its distance.
    fn band(&self, scene: &mut Scene, above: bool) {
        let ledger = self.source.ledger;
        let mut marks: Vec<(f64, f64, Text)> = Vec::new();
        for run in runs_of(self.source, self.trunk) {
            let Some(station) = run.station else { continue };
            let y = match band(run, self.trunk) {
                Band::Left if above => self.middle - HALF,
                Band::Middle if above => self.middle,
                Band::Right if !above => self.middle + HALF,
                _ => continue,
            };
            let at = Point::at(self.x(station.value), y);
            scene.circle(at, 3.2, Pen::MEDIUM, Fill::White);
            let figure = Text::of(ledger, &format!("run.{}.station", run.name));
            marks.push((at.x, y, Text::named(Text::tag(&run.name), figure)));
        }
        if above {
            for (n, leg) in self.trunk.legs.iter().enumerate() {
                let words = self.piece_words(n, leg);
                if !Self::fits(&words, self.scale.points(leg.length)) {
                    let x = self.x(leg.station + leg.length.half());
                    marks.push((x, self.middle, words));
                }
            }
        } else {
            for (n, fitting) in self.trunk.fittings.iter().enumerate() {
                if matches!(fitting.kind, FittingKind::Unit | FittingKind::Start) {
                    continue;
                }
                let id = format!("trunk.{}.fitting_{}.station", self.trunk.name, n + 1);
                let text = Text::named(fitting_words(fitting), Text::of(ledger, &id));
                marks.push((self.x(fitting.station), self.middle + HALF, text));
            }
        }
        marks.sort_by(|a, b| a.0.total_cmp(&b.0));
        let wanted: Vec<f64> = marks.iter().map(|(x, _, _)| *x).collect();
        let places = spread(&wanted, SIDE - 12.0, scene.area().width - 8.0);
        let sign = if above { -1.0 } else { 1.0 };
        for ((x, y, text), place) in marks.into_iter().zip(places) {
            let edge = self.middle + sign * HALF;
            let knee = Point::at(place, edge + sign * SLANT);
            let touch = Point::at(x, y + sign * 3.2);
            scene.path([touch, Point::at(x, edge + sign * 4.0), knee], Pen::THIN);
            let (start, anchor) = if above {
                (Point::at(place + 3.5, edge - SLANT - 3.0), Anchor::Start)
            } else {
                (Point::at(place + 3.5, edge + SLANT + 3.0), Anchor::End)
            };
            scene.text(start, Lettering::LABEL.anchored(anchor).upward(), text);
        }
    }
}

/// Points that the labels of the fuller side take.
fn labels(source: &PageSource<'_>, trunk: &Trunk) -> f64 {
    let runs = runs_of(source, trunk);
    let on = |wanted: Band| runs.iter().filter(|run| band(run, trunk) == wanted).count();
    let most = (on(Band::Left) + on(Band::Middle) + trunk.legs.len())
        .max(on(Band::Right) + trunk.fittings.len());
    APART * most as f64
}

/// Whether the chart's labels stand apart on a page `page` points wide.
fn fits(source: &PageSource<'_>, trunk: &Trunk, page: f64) -> bool {
    labels(source, trunk) <= page - 2.0 * SIDE
}

fn chart(source: &PageSource<'_>, trunk: &Trunk, page: f64) -> (Text, Scene) {
    let widest = page - 2.0 * SIDE;
    let long = trunk.length();
    let scale = Scale::fit(long, Length::ZERO, widest, 1.0);
    let wide = scale
        .points(long)
        .max(labels(source, trunk))
        .max(200.0)
        .min(widest)
        + 2.0 * SIDE;
    let mut scene = Scene::new(wide, 2.0 * (LABELS + SLANT + HALF) + 8.0);
    let chart = Chart {
        source,
        trunk,
        scale,
        middle: LABELS + SLANT + HALF + 4.0,
    };
    chart.pieces(&mut scene);
    chart.fittings(&mut scene);
    chart.band(&mut scene, true);
    chart.band(&mut scene, false);
    let id = format!("drawing.trunk-{}.scale", trunk.name);
    let title = say("trunk.drawing").with("scale", Text::figure(&scale.figure(id)));
    (title.into(), scene)
}

/// Rows that stand below the chart one by one; more of them, three a row.
const FEW: usize = 14;
const FOLDED: usize = 36;

/// Chart and holes on one page; a trunk of very many holes has its table behind the chart.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    for trunk in source.model.trunks.values() {
        let title = say("trunk.title").with("trunk", Text::tag(&trunk.name));
        let mut page =
            Page::new(format!("trunk-{}", trunk.name), title).trades(&[Trade::SheetMetal]);
        page.rests_on(source.files, trunk.whole);
        let holes = holes(source, trunk);
        let few = holes.len() <= FEW;
        let alike = alike(&holes).filter(|_| !few && holes.len() <= FOLDED);
        let upright = few || (alike.is_some() && fits(source, trunk, Scene::WIDEST));
        if !upright {
            page = page.sideways();
        }
        if let Some((parent, _)) = &trunk.parent {
            page.put(Block::paragraph(
                say("trunk.branch-of").with("parent", Text::tag(parent)),
            ));
        }
        if !trunk.legs.is_empty() {
            let widest = if upright {
                Scene::WIDEST
            } else {
                Scene::WIDEST_SIDEWAYS
            };
            let (title, scene) = chart(source, trunk, widest);
            page.put(Block::drawing(title, scene));
        }
        page.put(Block::note(say("trunk.legend")));
        if trunk.legs.iter().any(|leg| leg.removable) {
            let tied = tubes_on_removable(source, trunk);
            page.put(Block::note(if tied.is_empty() {
                say("trunk.comes-off")
            } else {
                say("trunk.comes-off-with").with("tubes", Text::listed(tied))
            }));
        }
        page.put(Block::Caution(Caution::new(
            Hazard::Cut,
            say("trunk.edges"),
        )));
        match alike.filter(|_| upright) {
            Some(hole) => {
                page.put(Block::note(say("trunk.alike").with("hole", hole)));
                page.put(Block::Table(folded_table(&holes)));
            }
            None if upright => page.put(Block::Table(long_table(holes))),
            None => {
                pages.push(page);
                let title = say("trunk.holes").with("trunk", Text::tag(&trunk.name));
                page =
                    Page::new(format!("holes-{}", trunk.name), title).trades(&[Trade::SheetMetal]);
                page.put(Block::Table(long_table(holes)));
            }
        }
        pages.push(page);
    }
}

/// Tubes whose take-offs sit on a piece that comes off.
fn tubes_on_removable(source: &PageSource<'_>, trunk: &Trunk) -> Vec<Text> {
    let runs = source.model.runs.values();
    runs.filter(|run| run.trunk.value == trunk.name)
        .filter(|run| {
            let leg = run.station.and_then(|at| trunk.leg_at(at.value));
            leg.is_some_and(|leg| leg.removable)
        })
        .map(|run| source.name(run.span, &run.name))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_keep_their_order_and_their_distance() {
        let wanted = [10.0, 11.0, 12.0, 300.0, 396.0, 398.0];
        let places = spread(&wanted, 0.0, 400.0);
        for pair in places.windows(2) {
            assert!(pair[1] - pair[0] >= APART - 1e-9, "{places:?}");
        }
        assert!(places[0] >= 0.0 && places[5] <= 400.0, "{places:?}");
        assert!((places[3] - 300.0).abs() < 1e-9);
    }
}
