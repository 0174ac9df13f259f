//! Stock lengths drawn with the pieces that are cut from them.

use super::source::PageSource;
use crate::material::{CutBar, CutList, Piece};
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Length;

const ROW: f64 = 40.0;
/// As many bars as a drawing holds.
const MOST: usize = 8;
const LEFT: f64 = 40.0;
const WIDE: f64 = 380.0;
/// Narrower pieces do not hold their tag and length.
const ROOM: f64 = 52.0;
/// How many short pieces a line names, and its height.
const IN_LINE: usize = 5;
const LINE: f64 = 12.0;

/// Drawings of every bar of a list.
pub(super) fn bars(source: &PageSource<'_>, list: &CutList) -> Vec<Scene> {
    let longest = list.bars.iter().map(|bar| bar.stock).max();
    let longest = longest.unwrap_or(Length::FOOT).to_inches().max(1.0);
    list.bars
        .chunks(MOST)
        .map(|bars| {
            let highs: Vec<f64> = bars
                .iter()
                .map(|bar| {
                    let short = short(source, bar, WIDE / longest);
                    ROW + LINE * short.chunks(IN_LINE).len() as f64
                })
                .collect();
            let mut scene = Scene::new(Scene::WIDEST, highs.iter().sum::<f64>() + 8.0);
            let mut top = 8.0;
            for (bar, high) in bars.iter().zip(highs) {
                draw(source, list, bar, (top, WIDE / longest), &mut scene);
                top += high;
            }
            scene
        })
        .collect()
}

/// The pieces of a bar with their cut lengths, in the order of cutting.
fn pieces<'a>(source: &PageSource<'a>, bar: &CutBar) -> Vec<(&'a Piece, Length)> {
    let all = &source.material.pieces;
    bar.pieces
        .iter()
        .filter_map(|tag| all.iter().find(|piece| piece.tag == *tag))
        .filter_map(|piece| Some((piece, piece.cut?)))
        .collect()
}

/// Those too short for their words: they are named below the bar.
fn short<'a>(source: &PageSource<'a>, bar: &CutBar, per_inch: f64) -> Vec<&'a Piece> {
    let all = pieces(source, bar).into_iter();
    all.filter(|(_, cut)| cut.to_inches() * per_inch <= ROOM)
        .map(|(piece, _)| piece)
        .collect()
}

fn draw(
    source: &PageSource<'_>,
    list: &CutList,
    bar: &CutBar,
    (top, per_inch): (f64, f64),
    scene: &mut Scene,
) {
    let whole = bar.stock.to_inches() * per_inch;
    scene.rectangle(
        Area::new(LEFT, top, whole, 16.0),
        Pen::HEAVY,
        Fill::Hatch(Hatch::Rising),
    );
    scene.text(
        Point::at(LEFT - 6.0, top + 12.0),
        Lettering::LABEL.anchored(Anchor::End),
        Text::tag(&format!("b{}", bar.number)),
    );
    let mut x = LEFT;
    for (piece, cut) in pieces(source, bar) {
        let wide = cut.to_inches() * per_inch;
        let area = Area::new(x, top, wide, 16.0);
        scene.rectangle(area, Pen::MEDIUM, Fill::White);
        if wide > ROOM {
            let label = Lettering::NAME.sized(9.0);
            scene.text(area.middle().moved(0.0, 3.5), label, Text::tag(&piece.tag));
            let below = Point::at(x + wide / 2.0, top + 26.0);
            let length = source.of(&piece.cut_figure());
            scene.text(below, Lettering::LABEL.sized(8.5), length);
        }
        x += wide + list.kerf.to_inches() * per_inch;
    }
    let mut under = Point::at(LEFT, top + 26.0 + LINE);
    for line in short(source, bar, per_inch).chunks(IN_LINE) {
        let named = line
            .iter()
            .map(|piece| Text::named(Text::tag(&piece.tag), source.of(&piece.cut_figure())));
        let words = say("pieces.then").with("pieces", Text::listed(named));
        let label = Lettering::LABEL.sized(9.0).anchored(Anchor::Start);
        scene.text(under, label, words);
        under = under.moved(0.0, LINE);
    }
    scene.text(
        Point::at(LEFT + whole + 6.0, top + 12.0),
        Lettering::LABEL.sized(9.0).anchored(Anchor::Start),
        say("pieces.offcut").with("length", source.of(&list.offcut_figure(bar))),
    );
}
