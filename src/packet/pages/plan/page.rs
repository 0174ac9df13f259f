//! One page a story, the uppermost first: tubes are run from the top down.

use super::{air, house, parts};
use crate::model::{Direction, Extent, Model, Story, Trunk};
use crate::packet::page::{Block, Caution, Hazard, Page, Trade};
use crate::packet::pages::PageSource;
use crate::packet::pages::view::{Look, Margins, View, around};
use crate::packet::scene::{Anchor, Lettering, Point, Scene};
use crate::packet::text::{Text, say};

const AROUND: Margins = Margins {
    left: 34.0,
    right: 34.0,
    top: 62.0,
    bottom: 46.0,
};

fn runs_here(model: &Model, trunk: &Trunk, story: &Story) -> bool {
    model
        .house
        .story_at(trunk.start.z)
        .is_some_and(|there| there.name == story.name)
}

/// Whether a run leads from this trunk to an outlet of the story.
fn feeds(model: &Model, trunk: &Trunk, story: &Story) -> bool {
    model.runs.values().any(|run| {
        run.trunk.value == trunk.name
            && run
                .outlet
                .as_ref()
                .and_then(|name| model.house.outlet(name))
                .and_then(|outlet| model.house.rooms.get(&outlet.room))
                .is_some_and(|room| room.story.value == story.name)
    })
}

/// Everything that the plan of a story shows.
fn extent(
    source: &PageSource<'_>,
    story: &Story,
    small: &[(Text, crate::model::Point)],
) -> Option<Extent> {
    let model = source.model;
    let mut all: Vec<Extent> = house::rooms_on(model, &story.name)
        .map(|(_, extent)| extent)
        .collect();
    let units = model
        .air_handlers
        .values()
        .filter(|unit| unit.story == story.name);
    for unit in units {
        all.extend(unit.cabinet);
        all.extend(unit.spaces.iter().map(|space| space.extent));
    }
    let trunks = model
        .trunks
        .values()
        .filter(|trunk| runs_here(model, trunk, story));
    all.extend(trunks.flat_map(|trunk| {
        trunk
            .legs
            .iter()
            .map(|leg| air::leg_box(source.catalog, leg))
    }));
    all.extend(
        model
            .house
            .solids
            .iter()
            .filter(|solid| solid.story == story.name)
            .map(|solid| solid.extent),
    );
    all.extend(
        model
            .house
            .roofs
            .iter()
            .filter(|roof| roof.story == story.name)
            .map(|roof| Extent::between(roof.edge, roof.edge_end)),
    );
    if all.is_empty() {
        return None;
    }
    if house::rooms_on(model, &story.name).next().is_none() {
        all.extend(model.house.rooms.values().filter_map(|room| room.extent));
    }
    all.extend(parts::extents(small));
    all.extend(parts::drains_on(model, story));
    around(all)
}

/// The word for the street at its side of the drawing.
fn street(scene: &mut Scene, side: Direction) {
    let area = scene.area();
    let (x, y) = (area.width / 2.0, area.height / 2.0);
    let text = say("plan.street");
    let lettering = Lettering::NAME;
    match side {
        Direction::North => scene.text(Point::at(x, 14.0), lettering, text),
        Direction::South => {
            // The scale bar stands at the left.
            let at = Point::at(area.width - 10.0, area.height - 8.0);
            scene.text(at, lettering.anchored(Anchor::End), text);
        }
        Direction::East => scene.text(Point::at(area.width - 6.0, y), lettering.upward(), text),
        _ => scene.text(Point::at(14.0, y), lettering.upward(), text),
    }
}

fn drawing(source: &PageSource<'_>, story: &Story) -> Option<(Text, Scene, bool)> {
    let model = source.model;
    let small = parts::small_parts(model, story);
    let extent = extent(source, story, &small)?;
    let rooms = house::rooms_on(model, &story.name).next().is_some();
    // The caution and the legend take their part of the page.
    let upright = View::of(
        Look::Above,
        extent,
        Scene::WIDEST,
        Scene::HIGHEST - 60.0,
        AROUND,
    );
    let lying = View::of(
        Look::Above,
        extent,
        Scene::WIDEST_SIDEWAYS,
        Scene::HIGHEST_SIDEWAYS - if rooms { 55.0 } else { 95.0 },
        AROUND,
    );
    let foot = crate::quantity::Length::FOOT;
    let sideways = lying.points(foot) > upright.points(foot) + 1e-9;
    let view = if sideways { lying } else { upright };
    let area = view.area(extent);
    let mut scene = Scene::new(
        area.corner.x + area.width + AROUND.right,
        area.corner.y + area.height + AROUND.bottom,
    );
    house::draw_solids(&mut scene, &view, model, story);
    house::draw_roofs(&mut scene, &view, model, story);
    house::draw_hatches(&mut scene, &view, model, story);
    for unit in model
        .air_handlers
        .values()
        .filter(|unit| unit.story == story.name)
    {
        air::draw_unit(&mut scene, &view, unit);
    }
    for trunk in model.trunks.values() {
        let here = runs_here(model, trunk, story);
        if here || feeds(model, trunk, story) {
            air::draw_trunk(&mut scene, &view, source.catalog, source.files, trunk, here);
        }
    }
    air::draw_tubes(&mut scene, &view, model, &story.name);
    parts::draw_drains(&mut scene, &view, model, story);
    house::draw_rooms(&mut scene, &view, source.ledger, model, story);
    air::draw_outlets(&mut scene, &view, model, &story.name);
    parts::draw(&mut scene, &view, &small);
    scene.north(Point::at(scene.area().width - 32.0, 36.0), 0.0);
    scene.scale_bar(
        Point::at(AROUND.left, scene.area().height - 26.0),
        view.scale(),
    );
    if let Some(side) = model.job.street {
        street(&mut scene, side);
    }
    if let Some(origin) = &model.job.origin
        && model
            .house
            .stories
            .values()
            .min_by_key(|s| s.floor)
            .is_some_and(|s| s.name == story.name)
    {
        let zero = view.at(crate::model::Point::default());
        scene.line(
            zero.moved(-7.0, 0.0),
            zero.moved(7.0, 0.0),
            crate::packet::scene::Pen::MEDIUM,
        );
        scene.line(
            zero.moved(0.0, -7.0),
            zero.moved(0.0, 7.0),
            crate::packet::scene::Pen::MEDIUM,
        );
        let text = say("plan.origin").with("corner", Text::quote(source.files, origin.span));
        scene.text(
            Point::at(AROUND.left, 12.0),
            Lettering::LABEL.anchored(Anchor::Start),
            text,
        );
    }
    let id = format!("drawing.plan-{}.scale", story.name);
    let title = say("plan.drawing").with("scale", Text::figure(&view.scale().figure(id)));
    Some((title.into(), scene, sideways))
}

/// A page for each story that something stands on.
pub(in crate::packet::pages) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let mut stories: Vec<&Story> = source.model.house.stories.values().collect();
    stories.sort_by_key(|story| std::cmp::Reverse(story.floor));
    for story in stories {
        let Some((title, scene, sideways)) = drawing(source, story) else {
            continue;
        };
        let name = say("plan.title").with("story", Text::tag(&story.name));
        let mut page = Page::new(format!("plan-{}", story.name), name).trades(&[
            Trade::Lead,
            Trade::SheetMetal,
            Trade::Plumber,
            Trade::Electrician,
        ]);
        if sideways {
            page = page.sideways();
        }
        page.rests_on(source.files, story.span);
        let rooms = house::rooms_on(source.model, &story.name).next().is_some();
        if !rooms {
            page.put(Block::Caution(Caution::new(
                Hazard::Fall,
                say("plan.step-on-joists"),
            )));
        }
        page.put(Block::drawing(title, scene));
        page.put(Block::note(if rooms {
            say("plan.legend-rooms")
        } else {
            say("plan.legend-above")
        }));
        pages.push(page);
    }
}
