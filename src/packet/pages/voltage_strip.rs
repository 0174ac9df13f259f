//! The power terminals as a strip: what lands on each, jumpers, and the crossed-out ones that stay empty.

use super::source::PageSource;
use super::voltage::{Belongs, belongs, conductor};
use crate::catalog::VoltageSetting;
use crate::model::AirHandler;
use crate::packet::scene::{Area, Fill, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};

const TOP: f64 = 96.0;
const HIGH: f64 = 44.0;

/// The strip.
pub(super) fn strip(source: &PageSource<'_>, unit: &AirHandler, setting: &VoltageSetting) -> Scene {
    let terminals = &unit.sheet.electrical.terminals;
    let wide = (480.0 / terminals.len().max(1) as f64).min(80.0);
    let mut scene = Scene::new(Scene::WIDEST, 190.0);
    let left = (500.0 - wide * terminals.len() as f64) / 2.0;
    let middle_of = |n: usize| left + wide * (n as f64 + 0.5);
    scene.rectangle(
        Area::new(left, TOP, wide * terminals.len() as f64, HIGH),
        Pen::HEAVY,
        Fill::White,
    );
    let mut x = left;
    for (n, (name, terminal)) in terminals.iter().enumerate() {
        let area = Area::new(x, TOP, wide, HIGH);
        x += wide;
        let middle = area.middle();
        scene.rectangle(area, Pen::MEDIUM, Fill::None);
        scene.text(
            middle.moved(0.0, 6.0),
            Lettering::NAME.sized(16.0),
            source.name(terminal.span, name),
        );
        let above = Point::at(middle.x, TOP);
        match belongs(unit, setting, name) {
            Belongs::Conductor(words, _) => {
                scene.line(above, above.moved(0.0, -34.0), Pen::HEAVY);
                scene.circle(above, 3.0, Pen::MEDIUM, Fill::Black);
                let colour = conductor(source, unit, name).unwrap_or_else(Text::empty);
                scene.text(above.moved(0.0, -54.0), Lettering::NAME, colour);
                scene.text(above.moved(0.0, -40.0), Lettering::LABEL.sized(9.0), words);
            }
            Belongs::Jumper(other) => {
                let partner = other
                    .as_ref()
                    .and_then(|other| terminals.get_index_of(other.as_str()));
                if let Some(partner) = partner.filter(|partner| *partner > n) {
                    let to = Point::at(middle_of(partner), TOP + HIGH);
                    let from = Point::at(middle.x, TOP + HIGH);
                    scene.path(
                        [from, from.moved(0.0, 16.0), to.moved(0.0, 16.0), to],
                        Pen::HEAVY,
                    );
                    let label = Point::at(f64::midpoint(from.x, to.x), TOP + HIGH + 30.0);
                    scene.text(label, Lettering::NAME, say("voltage.jumper"));
                }
            }
            Belongs::Empty => {
                // Crossed out above the terminal, so that its name stays readable.
                let cross = above.moved(0.0, -18.0);
                scene.line(cross.moved(-9.0, -9.0), cross.moved(9.0, 9.0), Pen::HEAVY);
                scene.line(cross.moved(-9.0, 9.0), cross.moved(9.0, -9.0), Pen::HEAVY);
                scene.text(
                    cross.moved(0.0, -16.0),
                    Lettering::NAME,
                    say("voltage.empty"),
                );
            }
            Belongs::NoJumper | Belongs::Nothing => {
                let words = match belongs(unit, setting, name) {
                    Belongs::NoJumper => say("voltage.no-jumper"),
                    _ => say("voltage.nothing"),
                };
                scene.text(above.moved(0.0, -8.0), Lettering::LABEL, words);
            }
        }
    }
    scene
}
