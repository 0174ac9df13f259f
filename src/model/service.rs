//! What service at a unit needs: receptacles and lights.

use crate::language::Entry;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::place::Point;

/// A service receptacle.
#[derive(Clone, Debug)]
pub struct Receptacle {
    /// Its name.
    pub name: String,
    /// Its story.
    pub story: String,
    /// Its place on its story's floor, where it is said.
    pub point: Option<Point>,
    /// Whether it is said to be outdoors.
    pub outdoors: bool,
    /// The word that says that it is GFCI protected.
    pub gfci: Option<Span>,
    /// Its head.
    pub span: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

/// A light at equipment.
#[derive(Clone, Debug)]
pub struct Light {
    /// Its name.
    pub name: String,
    /// Its story.
    pub story: String,
    /// Where its switch is.
    pub switched: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

pub(super) fn receptacle(builder: &mut Builder<'_>, entry: &Entry) {
    let (Some(name), Some(story)) = (entry.text("name").known(), entry.text("story").known())
    else {
        return;
    };
    // On a story that there is not, it may stand on any: it is kept, as misread.
    let known = builder.model.house.stories.get(&story.value).cloned();
    let at = entry.child("at");
    let point = at.zip(known.as_ref()).and_then(|(at, known)| {
        let [x, y] = builder.lengths(at, ["x", "y"])?;
        Some(Point::new(x.value, y.value, known.floor))
    });
    let receptacle = Receptacle {
        name: name.value.clone(),
        story: story.value,
        point,
        outdoors: entry.child("outdoors").is_some(),
        gfci: entry.child("gfci").map(|c| c.span),
        span: entry.span,
        flawed: entry.flawed
            || entry.body_flawed
            || known.is_none()
            || at.is_some() && point.is_none(),
    };
    builder.model.receptacles.insert(name.value, receptacle);
}

pub(super) fn light(builder: &mut Builder<'_>, entry: &Entry) {
    let (Some(name), Some(story)) = (entry.text("name").known(), entry.text("story").known())
    else {
        return;
    };
    let known = builder.model.house.stories.contains_key(&story.value);
    let light = Light {
        name: name.value.clone(),
        story: story.value,
        switched: entry
            .child("switched")
            .and_then(|c| c.text("place").known()),
        span: entry.span,
        flawed: entry.flawed || entry.body_flawed || !known,
    };
    builder.model.lights.insert(name.value, light);
}
