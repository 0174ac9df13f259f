//! The house on a plan: rooms with their names, roof edges, solids, hatches.

use crate::figures::Ledger;
use crate::model::{Extent, Model, Room, SolidKind, Story};
use crate::packet::font::text_width;
use crate::packet::pages::view::View;
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, Words, say};

/// Walls of rooms.
const WALL: Pen = Pen::solid(1.8);
/// Where in a room's depth and width its name may stand, best first.
const PLACES: [f64; 7] = [0.5, 0.36, 0.64, 0.24, 0.76, 0.14, 0.86];

/// The rooms of a story.
pub(super) fn rooms_on<'m>(
    model: &'m Model,
    story: &str,
) -> impl Iterator<Item = (&'m Room, Extent)> {
    let story = story.to_owned();
    model
        .house
        .rooms
        .values()
        .filter(move |room| room.story.value == story)
        .filter_map(|room| Some((room, room.extent?)))
}

/// The name of a room in bold with its size below, where they cover no outlet.
fn name(scene: &mut Scene, view: &View, ledger: &Ledger, room: &Room, extent: Extent) {
    let area = view.area(extent);
    let name = Text::tag(&room.name);
    let size = |quantity: &str| Text::of(ledger, &format!("room.{}.{quantity}", room.name));
    let sizes: Text = say("plan.room-size")
        .with("wide", size("wide"))
        .with("deep", size("deep"))
        .into();
    let words = Words::english();
    let fits = |text: &Text, lettering: Lettering| {
        text_width(&text.plain(words), lettering.weight, lettering.size) + 6.0 <= area.width
    };
    let lettering = [12.0, 10.5, 9.0]
        .into_iter()
        .map(|points| Lettering::NAME.sized(points))
        .find(|lettering| fits(&name, *lettering))
        .unwrap_or(Lettering::NAME.sized(9.0));
    let small = Lettering::LABEL.sized(9.0);
    if !fits(&name, lettering) {
        scene.leader(area.middle(), name);
        return;
    }
    let two_lines = area.height > 34.0 && fits(&sizes, small);
    let wide = text_width(&name.plain(words), lettering.weight, lettering.size).max(if two_lines {
        text_width(&sizes.plain(words), small.weight, small.size)
    } else {
        0.0
    });
    let high = if two_lines { 26.0 } else { 14.0 };
    let block = |across: f64, down: f64| {
        let middle = area.corner.moved(area.width * across, area.height * down);
        Area::new(middle.x - wide / 2.0, middle.y - high / 2.0, wide, high)
    };
    let covered = |block: Area| {
        room.outlets
            .iter()
            .filter(|outlet| {
                let at = view.at(outlet.point);
                // The outlet and the tag beside it.
                block.shared(Area::new(at.x - 14.0, at.y - 14.0, 28.0, 28.0)) > 0.0
            })
            .count()
    };
    let inside = |block: Area| area.grown(1.0).holds(block);
    let best = PLACES
        .into_iter()
        .flat_map(|across| PLACES.map(|down| block(across, down)))
        .filter(|block| inside(*block))
        .min_by_key(|block| covered(*block))
        .unwrap_or_else(|| block(0.5, 0.5));
    let middle = best.middle();
    let base = best.corner.y + lettering.size * 0.85;
    scene.text(Point::at(middle.x, base), lettering, name);
    if two_lines {
        scene.text(Point::at(middle.x, base + 12.0), small, sizes);
    }
}

/// Rooms of a story; where it has none, the walls below it, dashed.
pub(super) fn draw_rooms(
    scene: &mut Scene,
    view: &View,
    ledger: &Ledger,
    model: &Model,
    story: &Story,
) {
    let mut any = false;
    for (_, extent) in rooms_on(model, &story.name) {
        scene.rectangle(view.area(extent), WALL, Fill::None);
        any = true;
    }
    if !any {
        let below = crate::packet::pages::view::around(
            model.house.rooms.values().filter_map(|room| room.extent),
        );
        if let Some(outline) = below {
            scene.rectangle(view.area(outline), Pen::HIDDEN, Fill::None);
        }
    }
    for (room, extent) in rooms_on(model, &story.name) {
        name(scene, view, ledger, room, extent);
    }
}

/// Low edges of the roof.
pub(super) fn draw_roofs(scene: &mut Scene, view: &View, model: &Model, story: &Story) {
    for roof in model
        .house
        .roofs
        .iter()
        .filter(|roof| roof.story == story.name)
    {
        let (from, to) = (view.at(roof.edge), view.at(roof.edge_end));
        scene.line(
            from,
            to,
            Pen::broken(1.2, crate::packet::scene::Dash::DashDot),
        );
        let middle = Point::at(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y));
        let upright = (to.y - from.y).abs() > (to.x - from.x).abs();
        let lettering = Lettering::LABEL.sized(9.0);
        let text = say("plan.roof-edge").with("roof", Text::tag(&roof.name));
        if upright {
            scene.text(middle.moved(-4.0, 0.0), lettering.upward(), text);
        } else {
            scene.text(middle.moved(0.0, 11.0), lettering, text);
        }
    }
}

/// Obstacles, flues, walls, platforms.
pub(super) fn draw_solids(scene: &mut Scene, view: &View, model: &Model, story: &Story) {
    for solid in model
        .house
        .solids
        .iter()
        .filter(|solid| solid.story == story.name)
    {
        let asked = view.area(solid.extent);
        let body = asked.grown(-view.points(solid.clearance));
        let label = Text::tag(&solid.name);
        match solid.kind {
            SolidKind::Wall => scene.rectangle(body, Pen::THIN, Fill::Black),
            SolidKind::Platform => {
                scene.rectangle(body, Pen::HIDDEN, Fill::None);
                let at = body.corner.moved(4.0, 11.0);
                scene.text(
                    at,
                    Lettering::LABEL.sized(9.0).anchored(Anchor::Start),
                    label,
                );
            }
            SolidKind::Flue | SolidKind::Obstacle => {
                if body.width < asked.width {
                    scene.rectangle(asked, Pen::CLEAR, Fill::None);
                }
                scene.rectangle(body, Pen::MEDIUM, Fill::Hatch(Hatch::Crossed));
                scene.keep_clear(body);
                scene.leader(body.middle(), label);
            }
        }
    }
}

/// Hatches and other ways in: a box with its diagonals.
pub(super) fn draw_hatches(scene: &mut Scene, view: &View, model: &Model, story: &Story) {
    for hatch in model
        .house
        .hatches
        .values()
        .filter(|hatch| hatch.story == story.name)
    {
        let (wide, deep) = (
            view.points(hatch.clear.0.value),
            view.points(hatch.clear.1.value),
        );
        let middle = view.at(hatch.center);
        let area = Area::new(middle.x - wide / 2.0, middle.y - deep / 2.0, wide, deep);
        scene.rectangle(area, Pen::MEDIUM, Fill::White);
        let (a, b) = (area.corner, area.corner.moved(wide, deep));
        scene.line(a, b, Pen::THIN);
        scene.line(a.moved(wide, 0.0), a.moved(0.0, deep), Pen::THIN);
        scene.leader(middle, Text::tag(&hatch.name));
    }
}
