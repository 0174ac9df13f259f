//! Insulation of tubes and trunks in spaces that are neither heated nor cooled, and what the energy code asks there.

use crate::catalog::{Catalog, Stated};
use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{Model, Story};
use crate::quantity::{Dimension, Length, RValue};
use crate::source::Span;

use super::space::{is_attic, outside, story_below};

const CODE: &str = "IECC and IRC R403.3.1 (N1103.3.1), 2015 and 2018";
const CODE_2021: &str = "IECC and IRC R403.3.1 (N1103.3.1), 2021 and later; from memory";

/// What the code asks of a duct of this diameter outside the envelope, and whose text it is.
///
/// 2015 and 2018: R-8 from 3 in up and R-6 below in attics, R-6 and elsewhere; 2021 and later
/// anywhere outside.
pub(super) fn asked(edition: Option<&str>, attic: bool, inside: Length) -> (RValue, &'static str) {
    let large = inside >= Length::inches(3);
    let later = edition.is_some_and(|edition| edition >= "2021");
    let value = match (attic || later, large) {
        (true, true) => 8.0,
        (true, false) | (false, true) => 6.0,
        (false, false) => 4.2,
    };
    (RValue::new(value), if later { CODE_2021 } else { CODE })
}

struct Duct<'a> {
    /// Start of the figures' ids.
    id: String,
    what: String,
    words: Span,
    inside: &'a Stated<Length>,
    insulation: &'a Stated<RValue>,
    story: &'a Story,
}

fn one(model: &Model, duct: &Duct<'_>, diameter: Length, ledger: &mut Ledger) {
    let edition = model.job.codes.irc.as_ref();
    let attic = is_attic(&model.house, duct.story);
    let (least, source) = asked(edition.map(|e| e.value.as_str()), attic, diameter);
    let id = figure_id([&duct.id, ".insulation"]);
    let figure = match duct.insulation.get() {
        Some(value) => Figure::number(id, value.value(), Dimension::RValue),
        None if duct.insulation.reason().is_some() => {
            Figure::unknown(id, duct.insulation.reason().unwrap_or("not given"))
        }
        None => return,
    };
    ledger.enter(
        figure
            .formula(format!(
                "insulation of {} in {}, which is neither heated nor cooled",
                duct.what, duct.story.name
            ))
            .source("the catalog")
            .place(duct.words, duct.what.clone())
            .place(duct.insulation.span, "its insulation")
            .place(duct.story.span, format!("story {}", duct.story.name)),
    );
    let mut least = Figure::number(
        figure_id([&duct.id, ".insulation-least"]),
        least.value(),
        Dimension::RValue,
    )
    .formula(if attic {
        "least insulation of a duct in an attic: R-8 from 3 in of diameter, R-6 below"
    } else {
        "least insulation of a duct outside the envelope: R-6 from 3 in of diameter, R-4.2 below; R-8 and R-6 from edition 2021"
    })
    .source(source)
    .place(duct.inside.span, "its inside")
    .place(duct.story.span, format!("story {}", duct.story.name));
    least = match edition {
        Some(edition) => least.place(edition.span, format!("IRC {}", edition.value)),
        None => least.standard("no IRC edition is given: 2015 and 2018"),
    };
    ledger.enter(least);
}

/// Enters them for every run and trunk leg that lies outside.
pub(super) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for run in model.runs.values() {
        let Some(tube) = &run.tube else { continue };
        let Some(sheet) = catalog.tubes.get(&tube.value) else {
            continue;
        };
        let mut stories: Vec<&Story> = run
            .through
            .iter()
            .filter_map(|space| outside(model, &space.value))
            .collect();
        if run.through.is_empty()
            && let Some(story) = run
                .take_off
                .and_then(|at| story_below(&model.house, at.z))
                .and_then(|story| outside(model, &story.name))
        {
            stories.push(story);
        }
        // The attic asks most, and comes first.
        stories.sort_by_key(|story| !is_attic(&model.house, story));
        let (Some(story), Some(inside)) = (stories.first(), sheet.inside.get()) else {
            continue;
        };
        let duct = Duct {
            id: figure_id(["run.", &run.name]),
            what: format!("run {}", run.name),
            words: tube.span,
            inside: &sheet.inside,
            insulation: &sheet.insulation,
            story,
        };
        one(model, &duct, inside, ledger);
    }
    for trunk in model.trunks.values() {
        for (n, leg) in trunk.legs.iter().enumerate() {
            let Some(pipe) = &leg.pipe else { continue };
            let Some(sheet) = catalog.trunk_pipes.get(&pipe.value) else {
                continue;
            };
            let story = story_below(&model.house, leg.start.z)
                .and_then(|story| outside(model, &story.name));
            let (Some(story), Some(section)) = (story, sheet.section.get()) else {
                continue;
            };
            let inside = sheet.section.map(crate::catalog::Section::across);
            let duct = Duct {
                id: format!("trunk.{}.leg-{}", trunk.name, n + 1),
                what: format!("leg {} of trunk {}", n + 1, trunk.name),
                words: pipe.span,
                inside: &inside,
                insulation: &sheet.insulation,
                story,
            };
            one(model, &duct, section.across(), ledger);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The code's own table, with the boundary at 3 in.
    #[test]
    fn the_code_s_table_stands() {
        let of = |edition, attic, sixteenths| {
            asked(edition, attic, Length::sixteenths(sixteenths))
                .0
                .value()
        };
        let is = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} {b}");
        is(of(Some("2018"), true, 48), 8.0);
        is(of(Some("2018"), true, 47), 6.0);
        is(of(Some("2018"), false, 48), 6.0);
        is(of(Some("2018"), false, 32), 4.2);
        is(of(None, false, 32), 4.2);
        is(of(Some("2021"), false, 32), 6.0);
        is(of(Some("2024"), false, 48), 8.0);
    }
}
