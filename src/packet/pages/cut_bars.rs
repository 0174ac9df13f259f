//! Stock lengths drawn with the pieces that are cut from them.

use super::source::PageSource;
use crate::material::{CutBar, CutList};
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Length;

const ROW: f64 = 40.0;
/// As many bars as a drawing holds.
const MOST: usize = 12;
const LEFT: f64 = 40.0;
const WIDE: f64 = 380.0;

/// Drawings of every bar of a list.
pub(super) fn bars(source: &PageSource<'_>, list: &CutList) -> Vec<Scene> {
    let longest = list.bars.iter().map(|bar| bar.stock).max();
    let longest = longest.unwrap_or(Length::FOOT).to_inches().max(1.0);
    list.bars
        .chunks(MOST)
        .map(|bars| {
            let mut scene = Scene::new(Scene::WIDEST, ROW * bars.len() as f64 + 8.0);
            let mut top = 18.0;
            for bar in bars {
                draw(source, list, bar, (top, WIDE / longest), &mut scene);
                top += ROW;
            }
            scene
        })
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
    for (n, tag) in bar.pieces.iter().enumerate() {
        let cut = source
            .material
            .pieces
            .iter()
            .find(|piece| piece.tag == *tag)
            .and_then(|piece| Some((piece.cut?, piece.cut_figure())));
        let Some((cut, id)) = cut else {
            continue;
        };
        let wide = cut.to_inches() * per_inch;
        let area = Area::new(x, top, wide, 16.0);
        scene.rectangle(area, Pen::MEDIUM, Fill::White);
        let label = Lettering::NAME.sized(9.0);
        if wide > 30.0 {
            scene.text(area.middle().moved(0.0, 3.5), label, Text::tag(tag));
        }
        if wide > 48.0 {
            let below = Point::at(x + wide / 2.0, top + 26.0);
            scene.text(below, Lettering::LABEL.sized(8.5), source.of(&id));
        } else {
            let rise = if n % 2 == 0 { -4.0 } else { 26.0 };
            let words = Text::named(Text::tag(tag), source.of(&id));
            scene.text(
                Point::at(x + wide / 2.0, top + rise),
                Lettering::LABEL.sized(7.5),
                words,
            );
        }
        x += wide + list.kerf.to_inches() * per_inch;
    }
    scene.text(
        Point::at(LEFT + whole + 6.0, top + 12.0),
        Lettering::LABEL.sized(9.0).anchored(Anchor::Start),
        say("pieces.offcut").with("length", source.of(&list.offcut_figure(bar))),
    );
}
