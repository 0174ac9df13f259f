//! Unit, service spaces, trunks, tubes and outlets on a plan.

use crate::catalog::{Catalog, Section};
use crate::model::{AirHandler, Extent, FittingKind, Model, Surface, Trunk, TrunkLeg};
use crate::packet::pages::setting_spaces::boxes;
use crate::packet::pages::view::View;
use crate::packet::scene::{Area, Fill, Hatch, Pen, Point, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Length;
use crate::source::Files;

/// Half of the width of a trunk, as the catalog states its pipe; 4 in while that is not known.
fn half_wide(catalog: &Catalog, leg: &TrunkLeg) -> Length {
    let section = leg
        .pipe
        .as_ref()
        .and_then(|pipe| catalog.trunk_pipes.get(&pipe.value))
        .and_then(|pipe| pipe.section.get());
    match section {
        Some(Section::Round(across) | Section::Pipe(across)) => across.half(),
        Some(Section::Rectangular(wide, _)) => wide.half(),
        None => Length::inches(4),
    }
}

/// A leg of trunk seen from above.
pub(super) fn leg_box(catalog: &Catalog, leg: &TrunkLeg) -> Extent {
    let half = half_wide(catalog, leg);
    let flat = Extent::between(leg.start, leg.end);
    let grown = flat.grown(half);
    if !leg.direction.is_level() {
        return grown;
    }
    let along_x = flat.high.y == flat.low.y;
    let mut out = grown;
    if along_x {
        (out.low.x, out.high.x) = (flat.low.x, flat.high.x);
    } else {
        (out.low.y, out.high.y) = (flat.low.y, flat.high.y);
    }
    out
}

/// The unit and its service spaces.
pub(super) fn draw_unit(scene: &mut Scene, view: &View, unit: &AirHandler) {
    let Some(cabinet) = unit.cabinet else { return };
    boxes(scene, view, unit, cabinet);
}

/// A trunk with its removable piece, caps and name. Dashed when it runs on another story.
pub(super) fn draw_trunk(
    scene: &mut Scene,
    view: &View,
    catalog: &Catalog,
    files: &Files,
    trunk: &Trunk,
    here: bool,
) {
    let pen = if here { Pen::MEDIUM } else { Pen::HIDDEN };
    for leg in &trunk.legs {
        let area = view.area(leg_box(catalog, leg));
        let fill = match (here, leg.removable) {
            (true, true) => Fill::Hatch(Hatch::Level),
            (true, false) => Fill::White,
            _ => Fill::None,
        };
        scene.rectangle(area, pen, fill);
        if here && leg.removable {
            scene.leader(area.middle(), say("plan.comes-off"));
        }
    }
    if !here {
        return;
    }
    for fitting in &trunk.fittings {
        let Some((leg, at)) = trunk
            .leg_at(fitting.station)
            .zip(trunk.point_at(fitting.station))
        else {
            continue;
        };
        if fitting.kind == FittingKind::Cap && leg.direction.is_level() {
            let half = half_wide(catalog, leg);
            let (one, other) = (leg.direction.left(), leg.direction.left().opposite());
            scene.line(
                view.at(at.toward(one, half)),
                view.at(at.toward(other, half)),
                Pen::solid(3.2),
            );
        }
    }
    if let Some(leg) = trunk.legs.iter().max_by_key(|leg| leg.length) {
        let middle = view.area(leg_box(catalog, leg)).middle();
        let pipe = leg.pipe.as_ref();
        let text = pipe.map_or_else(
            || Text::tag(&trunk.name),
            |pipe| Text::named(Text::tag(&trunk.name), Text::quote(files, pipe.span)),
        );
        scene.leader(middle, text);
    }
}

/// A tube drawn straight from take-off to outlet, and the outlet.
pub(super) fn draw_tubes(scene: &mut Scene, view: &View, model: &Model, story: &str) {
    for run in model.runs.values() {
        let outlet = run
            .outlet
            .as_ref()
            .and_then(|name| model.house.outlet(name));
        let (Some(from), Some(outlet)) = (run.take_off, outlet) else {
            continue;
        };
        let of_outlet = model
            .house
            .rooms
            .get(&outlet.room)
            .is_some_and(|room| room.story.value == story);
        let of_trunk = model
            .house
            .story_at(from.z)
            .is_some_and(|there| there.name == story);
        if !of_outlet && !of_trunk {
            continue;
        }
        let pen = if of_trunk {
            Pen::solid(0.8)
        } else {
            Pen::broken(0.7, crate::packet::scene::Dash::Dashed)
        };
        scene.line(view.at(from), view.at(outlet.point), pen);
        if of_trunk && !of_outlet {
            let at = view.at(outlet.point);
            scene.circle(at, 3.0, Pen::MEDIUM, Fill::White);
            scene.leader(at, Text::tag(&outlet.name));
        }
    }
}

/// The outlets of a story: black in the ceiling, white in the floor, a square in a wall.
pub(super) fn draw_outlets(scene: &mut Scene, view: &View, model: &Model, story: &str) {
    for outlet in model.house.outlets() {
        let here = model
            .house
            .rooms
            .get(&outlet.room)
            .is_some_and(|room| room.story.value == story);
        if !here {
            continue;
        }
        let at: Point = view.at(outlet.point);
        match outlet.surface {
            Surface::Ceiling => scene.circle(at, 4.0, Pen::MEDIUM, Fill::Black),
            Surface::Floor => scene.circle(at, 4.0, Pen::MEDIUM, Fill::White),
            Surface::Wall(_) => {
                let area = Area::new(at.x - 4.0, at.y - 4.0, 8.0, 8.0);
                scene.rectangle(area, Pen::MEDIUM, Fill::Black);
            }
        }
        scene.leader(at, Text::tag(&outlet.name));
    }
}
