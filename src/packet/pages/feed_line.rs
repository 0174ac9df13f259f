//! A circuit as one line: panel, breaker, cable, disconnect, unit.

use super::contact::Contact;
use super::source::PageSource;
use crate::language::Entry;
use crate::model::Circuit;
use crate::packet::scene::{Anchor, Area, Dash, Fill, Hatch, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};
use crate::systems::power::started;

/// Height of the conductors' line, in points.
const LINE: f64 = 74.0;

/// The disconnect of the circuit's unit, as written.
pub(super) fn disconnect<'a>(source: &PageSource<'a>, circuit: &Circuit) -> Option<&'a Entry> {
    source.model.entries.iter().find(|entry| {
        entry.word.word == "disconnect"
            && entry
                .text("unit")
                .known()
                .is_some_and(|unit| unit.value == circuit.unit.value)
    })
}

/// Rating and poles of the breaker.
pub(super) fn breaker(source: &PageSource<'_>, circuit: &Circuit) -> Text {
    let rating = source.of(&format!("circuit.{}.breaker", circuit.name));
    let poles = circuit.poles.as_ref();
    Text::joined([
        rating,
        poles.map_or_else(Text::empty, |poles| source.word(poles)),
    ])
}

/// The breaker's positions in the panel, as written.
pub(super) fn positions(source: &PageSource<'_>, circuit: &Circuit) -> Option<Text> {
    let marks: Vec<Text> = circuit
        .positions
        .iter()
        .map(|mark| source.quote(mark.span))
        .collect();
    (!marks.is_empty()).then(|| Text::joined(marks))
}

fn boxed(scene: &mut Scene, area: Area, what: impl Into<Text>, name: Text) {
    scene.rectangle(area, Pen::HEAVY, Fill::White);
    let middle = area.middle();
    scene.text(middle.moved(0.0, -4.0), Lettering::LABEL, what);
    scene.text(middle.moved(0.0, 12.0), Lettering::NAME, name);
}

/// An open blade between two points, in a box that begins at `left`.
fn open_blade(scene: &mut Scene, left: f64) {
    scene.circle(Point::at(left + 14.0, LINE), 2.5, Pen::MEDIUM, Fill::Black);
    scene.circle(Point::at(left + 60.0, LINE), 2.5, Pen::MEDIUM, Fill::Black);
    scene.line(
        Point::at(left + 14.0, LINE),
        Point::at(left + 55.0, LINE - 16.0),
        Pen::HEAVY,
    );
}

/// The contact of a relay that starts the circuit's own unit, in a broken box that begins at `left`.
fn contact(scene: &mut Scene, contact: Contact, left: f64) {
    let area = Area::new(left, LINE - 24.0, 74.0, 48.0);
    scene.rectangle(area, Pen::broken(1.2, Dash::Dashed), Fill::White);
    open_blade(scene, left);
    let small = Lettering::LABEL.sized(9.0);
    for (at, terminal) in [(14.0, contact.common), (60.0, contact.open)] {
        scene.text(Point::at(left + at, LINE + 15.0), small, terminal);
    }
    scene.text(
        Point::at(left + 37.0, LINE - 30.0),
        Lettering::LABEL,
        say("feed.contact").with("relay", contact.relay),
    );
}

/// The drawing.
pub(super) fn one_line(source: &PageSource<'_>, circuit: &Circuit) -> Scene {
    let mut scene = Scene::new(Scene::WIDEST, 150.0);
    let panel = circuit.panel.as_ref().map_or_else(
        || say("quote.not-stated").into(),
        |panel| source.word(panel),
    );
    let unit = Area::new(406.0, LINE - 32.0, 90.0, 64.0);
    let off = disconnect(source, circuit);
    let own = started(source.model, circuit);
    let own = own.iter().find(|one| one.unit.name == circuit.unit.value);
    let mut last = if off.is_some() { 296.0 } else { 406.0 };
    let switched = last;
    if own.is_some() {
        last -= 110.0;
    }
    scene.line(Point::at(94.0, LINE), Point::at(406.0, LINE), Pen::HEAVY);
    boxed(
        &mut scene,
        Area::new(4.0, LINE - 32.0, 90.0, 64.0),
        say("feed.panel"),
        panel,
    );
    let switch = Area::new(104.0, LINE - 10.0, 26.0, 20.0);
    scene.rectangle(switch, Pen::MEDIUM, Fill::Hatch(Hatch::Rising));
    let start = Lettering::LABEL.anchored(Anchor::Start);
    scene.text(Point::at(102.0, LINE - 38.0), start, say("feed.breaker"));
    scene.text(
        Point::at(102.0, LINE - 18.0),
        Lettering::NAME.anchored(Anchor::Start),
        breaker(source, circuit),
    );
    if let Some(positions) = positions(source, circuit) {
        scene.text(
            Point::at(102.0, LINE + 26.0),
            start,
            say("feed.positions").with("marks", positions),
        );
    }
    let middle = f64::midpoint(150.0, last);
    scene.text(
        Point::at(middle, LINE + 44.0),
        Lettering::NAME,
        source.word_or_not(circuit.cable.as_ref()),
    );
    scene.text(
        Point::at(middle, LINE + 60.0),
        Lettering::LABEL,
        source.of(&format!("circuit.{}.length", circuit.name)),
    );
    scene.line(
        Point::at(middle, LINE + 32.0),
        Point::at(middle, LINE + 3.0),
        Pen::THIN,
    );
    if let Some(one) = own {
        contact(&mut scene, Contact::of(source, circuit, one), last);
    }
    let last = switched;
    if let Some(entry) = off {
        let area = Area::new(last, LINE - 24.0, 74.0, 48.0);
        let name = entry
            .text("name")
            .known()
            .map_or_else(Text::empty, |name| source.word(&name));
        scene.rectangle(area, Pen::HEAVY, Fill::White);
        scene.text(
            Point::at(last + 37.0, LINE - 30.0),
            Lettering::LABEL,
            say("feed.disconnect"),
        );
        open_blade(&mut scene, last);
        scene.text(Point::at(last + 37.0, LINE + 40.0), Lettering::LABEL, name);
    }
    boxed(
        &mut scene,
        unit,
        say("feed.unit"),
        source.word(&circuit.unit),
    );
    scene
}
