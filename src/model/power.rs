//! Panels and circuits.

use crate::language::{AMOUNT_MISREAD, Entry, VOLTS, impossible};
use crate::quantity::Length;
use crate::source::{Finding, Span, Spanned};

use super::builder::Builder;
use super::place::{Direction, Point};
use super::references::EQUIPMENT;

/// A panel.
#[derive(Clone, Debug)]
pub struct Panel {
    /// Its name.
    pub name: String,
    /// Its story.
    pub story: Option<String>,
    /// The middle of its back on the story's floor, where it is said.
    pub point: Option<Point>,
    /// The way its front looks.
    pub faces: Option<Spanned<Direction>>,
    /// Its width, where it is said.
    pub width: Option<Spanned<Length>>,
    /// The supply system as written (`240/120`).
    pub supply: Option<Spanned<String>>,
    /// Its rating, A.
    pub rating: Option<Spanned<f64>>,
    /// What it carries without this job, A at its higher voltage.
    pub load: Option<Spanned<f64>>,
    /// How many breaker positions it has.
    pub spaces: Option<Spanned<f64>>,
    /// How many of them are free for this job.
    pub free: Option<Spanned<f64>>,
    /// Its head.
    pub span: Span,
}

/// A conductor on a terminal.
#[derive(Clone, Debug)]
pub struct Landing {
    /// The conductor.
    pub conductor: Spanned<String>,
    /// The terminal.
    pub terminal: Spanned<String>,
    /// The statement.
    pub span: Span,
}

/// A circuit from panel to unit.
#[derive(Clone, Debug)]
pub struct Circuit {
    /// Its name.
    pub name: String,
    /// The unit it feeds.
    pub unit: Spanned<String>,
    /// Further units on the same circuit.
    pub feeds: Vec<Spanned<String>>,
    /// The panel.
    pub panel: Option<Spanned<String>>,
    /// The breaker's rating, A.
    pub breaker: Option<Spanned<f64>>,
    /// `1-pole` or `2-pole`.
    pub poles: Option<Spanned<String>>,
    /// The breaker's positions.
    pub positions: Vec<Spanned<String>>,
    /// The cable.
    pub cable: Option<Spanned<String>>,
    /// Its length one way.
    pub measured: Option<Spanned<Length>>,
    /// Its voltage.
    pub volts: Option<Spanned<f64>>,
    /// Stories, rooms, trunks and returns that it passes through.
    pub through: Vec<Spanned<String>>,
    /// The word that says that its breaker is GFCI protected.
    pub gfci: Option<Span>,
    /// The temperature that the terminals at both ends are marked for, °F.
    pub terminals: Option<Spanned<f64>>,
    /// Cables that lie together.
    pub bundled: Option<Spanned<f64>>,
    /// The opening by which it enters the unit.
    pub enters: Option<Spanned<String>>,
    /// Conductors on terminals.
    pub landings: Vec<Landing>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether it was there before the job.
    pub existing: bool,
    /// Whether part of it was misread.
    pub flawed: bool,
}

impl Circuit {
    /// Every unit on it: the one that it goes to, then the further ones.
    pub fn units(&self) -> impl Iterator<Item = &Spanned<String>> {
        std::iter::once(&self.unit).chain(&self.feeds)
    }

    /// Whether it feeds the unit called `name`.
    pub fn serves(&self, name: &str) -> bool {
        self.units().any(|unit| unit.value == name)
    }
}

/// A disconnect at a unit.
#[derive(Clone, Debug)]
pub struct Disconnect {
    /// Its name.
    pub name: String,
    /// The unit it switches off.
    pub unit: Spanned<String>,
    /// Its distance from the unit.
    pub distance: Option<Spanned<Length>>,
    /// Its rating, A.
    pub rating: Option<Spanned<f64>>,
    /// The rating of the fuses in it, A.
    pub fuses: Option<Spanned<f64>>,
    /// The story of its unit; none outdoors.
    pub story: Option<String>,
    /// Its middle on plan, on the floor or ground of its unit, with its words.
    pub at: Option<Spanned<Point>>,
    /// The way its front looks.
    pub faces: Option<Spanned<Direction>>,
    /// Its width, where it is said.
    pub width: Option<Spanned<Length>>,
    /// The word that says that it can't be seen from the unit.
    pub hidden: Option<Span>,
    /// Its head.
    pub span: Span,
}

/// The story of a unit and its floor; the ground that it stands on where it has none.
fn level_of(builder: &Builder<'_>, unit: &str) -> (Option<String>, Length) {
    let model = &builder.model;
    let other = model.equipment.get(unit);
    let story = model
        .air_handlers
        .get(unit)
        .map(|unit| &unit.story)
        .or_else(|| other?.story.as_ref());
    match story.and_then(|story| model.house.stories.get(story)) {
        Some(story) => (Some(story.name.clone()), story.floor),
        None => {
            let base = other.and_then(|unit| unit.point).map(|point| point.z);
            (None, base.unwrap_or(Length::ZERO))
        }
    }
}

/// The way that a front looks.
fn faces(entry: &Entry) -> Option<Spanned<Direction>> {
    let word = entry.child("faces")?.text("direction").known()?;
    Some(Spanned::new(Direction::named(&word.value)?, word.span))
}

fn width(builder: &mut Builder<'_>, entry: &Entry) -> Option<Spanned<Length>> {
    builder.size(entry.child("width")?, "width")
}

pub(super) fn disconnect(builder: &mut Builder<'_>, entry: &Entry) {
    let (Some(name), Some(unit)) = (entry.text("name").known(), entry.text("unit").known()) else {
        return;
    };
    let (story, ground) = level_of(builder, &unit.value);
    let at = entry.child("at").and_then(|at| {
        let [x, y] = builder.lengths(at, ["x", "y"])?;
        let point = Point::new(x.value, y.value, ground);
        Some(Spanned::new(point, x.span.to(y.span)))
    });
    let disconnect = Disconnect {
        name: name.value.clone(),
        unit,
        story,
        at,
        faces: faces(entry),
        width: width(builder, entry),
        distance: entry
            .child("distance")
            .and_then(|c| builder.length(c, "distance")),
        rating: entry
            .child("rating")
            .and_then(|c| builder.real(c, "rating")),
        fuses: entry.child("fuses").and_then(|c| builder.real(c, "rating")),
        hidden: entry.child("hidden").map(|c| c.span),
        span: entry.span,
    };
    builder.model.disconnects.insert(name.value, disconnect);
}

pub(super) fn panel(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("panel", &name) {
        return;
    }
    let story = super::story::story_of(builder, entry, "story");
    let floor = story.as_ref().map(|story| story.floor);
    let point = entry.child("at").zip(floor).and_then(|(at, floor)| {
        let [x, y] = builder.lengths(at, ["x", "y"])?;
        Some(Point::new(x.value, y.value, floor))
    });
    let faces = faces(entry);
    let width = width(builder, entry);
    let supply = entry
        .child("supply")
        .and_then(|c| builder.text(c, "system"));
    let number = |builder: &mut Builder<'_>, word: &str, slot: &str| {
        entry.child(word).and_then(|c| builder.real(c, slot))
    };
    let panel = Panel {
        name: name.value.clone(),
        story: story.map(|story| story.name),
        point,
        faces,
        width,
        supply,
        rating: number(builder, "rating", "rating"),
        load: number(builder, "load", "load"),
        spaces: number(builder, "spaces", "count"),
        free: number(builder, "free", "count"),
        span: entry.span,
    };
    builder.model.panels.insert(name.value, panel);
}

fn volts(builder: &mut Builder<'_>, text: &Spanned<String>) -> Option<Spanned<f64>> {
    let number = text.value.trim_end_matches(['V', 'v']).trim();
    let Ok(volts) = number.parse::<f64>() else {
        builder.report(Finding::new(
            &AMOUNT_MISREAD,
            text.span,
            format!("`{}` is no voltage", text.value),
            "write it as in `volts 240`",
        ));
        return None;
    };
    if !VOLTS.holds(volts) {
        builder.report(impossible(
            &VOLTS,
            volts,
            &text.value,
            text.span,
            "volts 240",
        ));
        return None;
    }
    Some(Spanned::new(volts, text.span))
}

pub(super) fn circuit(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("circuit", &name) {
        return;
    }
    let Some(unit) = entry.text("unit").known() else {
        return;
    };
    let known = builder.expect(EQUIPMENT, &unit);
    let panel = entry.child("from").and_then(|c| builder.text(c, "panel"));
    if let Some(panel) = &panel {
        builder.expect(&["panel"], panel);
    }
    let through: Vec<Spanned<String>> = entry
        .children("through")
        .filter_map(|c| c.text("way").known())
        .collect();
    let feeds: Vec<Spanned<String>> = entry
        .children("feeds")
        .filter_map(|c| c.text("unit").known())
        .collect();
    for further in &feeds {
        builder.expect(EQUIPMENT, further);
    }
    let breaker = entry.child("breaker");
    let positions = entry.child("breaker-positions");
    let circuit = Circuit {
        name: name.value.clone(),
        unit,
        feeds,
        panel,
        breaker: breaker.and_then(|c| builder.real(c, "rating")),
        poles: breaker.and_then(|c| c.text("poles").known()),
        positions: positions
            .into_iter()
            .flat_map(|c| [c.text("position").known(), c.text("other").known()])
            .flatten()
            .collect(),
        cable: entry.child("cable").and_then(|c| builder.text(c, "cable")),
        measured: entry
            .child("measured")
            .and_then(|c| builder.size(c, "length")),
        volts: entry
            .child("volts")
            .and_then(|c| builder.text(c, "volts"))
            .and_then(|text| volts(builder, &text)),
        through,
        gfci: entry.child("gfci").map(|c| c.span),
        terminals: entry
            .child("terminals")
            .and_then(|c| builder.real(c, "rated")),
        bundled: entry
            .child("bundled")
            .and_then(|c| builder.real(c, "count")),
        enters: entry.child("enters").and_then(|c| builder.text(c, "port")),
        landings: entry
            .children("land")
            .filter_map(|c| {
                Some(Landing {
                    conductor: c.text("conductor").known()?,
                    terminal: c.text("terminal").known()?,
                    span: c.span,
                })
            })
            .collect(),
        span: entry.span,
        whole: entry.whole,
        existing: entry.child("existing").is_some(),
        flawed: entry.flawed || entry.body_flawed || !known,
    };
    builder.model.circuits.insert(name.value, circuit);
}
