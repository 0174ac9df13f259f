//! Hangers and supports by spacing: one at the start of a route, then one at least every spacing of each leg.

use crate::catalog::{Hanger, Holds, Stated};
use crate::model::Direction;
use crate::quantity::{Length, trade_length};
use crate::source::{Span, Spanned};
use crate::systems::drain::upright_spacing;

use super::desk::Desk;
use super::fastening::{HANGER_SCREWS, screws};
use super::need::Sold;
use super::pipe_route::PipeRoute;

/// Whole spacings that a length takes, the last one begun.
fn spacings(length: Length, spacing: Length) -> usize {
    if spacing <= Length::ZERO {
        return 0;
    }
    usize::try_from(length.round_up_to(spacing).nm() / spacing.nm()).unwrap_or(0)
}

/// The smallest hanger of a sort that goes around something `across` wide.
fn find<'a>(
    desk: &Desk<'a>,
    holds: Holds,
    across: Option<Length>,
) -> Option<(&'a str, &'a Hanger)> {
    let size = |hanger: &Hanger| {
        let section = hanger.size.as_ref().and_then(Stated::get);
        section.map(crate::catalog::Section::across)
    };
    desk.catalog
        .hangers
        .iter()
        .filter(|(_, hanger)| hanger.holds.get() == Some(holds))
        .filter(|(_, hanger)| match (size(hanger), across) {
            (Some(size), Some(across)) => size >= across,
            (Some(_), None) => false,
            (None, _) => true,
        })
        .min_by_key(|(_, hanger)| size(hanger))
        .map(|(name, hanger)| (name.as_str(), hanger))
}

struct Wanted<'w> {
    holds: Holds,
    across: Option<Length>,
    count: usize,
    words: &'w str,
    place: (Span, String),
}

fn add(desk: &mut Desk<'_>, wanted: &Wanted<'_>) {
    if wanted.count == 0 {
        return;
    }
    match find(desk, wanted.holds, wanted.across) {
        Some((name, hanger)) => {
            let sold = Sold::at(hanger.span, Some(&hanger.price), Some(&hanger.pack));
            let place = Some(wanted.place.clone());
            desk.needs
                .add(name, sold, wanted.count, wanted.words, place);
            if wanted.holds != Holds::Cable {
                let said = format!("{HANGER_SCREWS} a hanger");
                let place = (wanted.place.0, said);
                screws(
                    desk,
                    "strap",
                    wanted.count * HANGER_SCREWS,
                    "hangers",
                    place,
                );
            }
        }
        None => {
            let size = wanted.across.map_or_else(String::new, |across| {
                format!(" of {}", trade_length(across))
            });
            let item = format!("hanger for {}{size}", wanted.holds.word());
            let reason = format!("no {item} in the catalog");
            let place = Some(wanted.place.clone());
            desk.needs
                .add_missing(&item, wanted.count, reason, wanted.words, place);
        }
    }
}

/// Hangers of trunks and branches.
pub(super) fn trunks(desk: &mut Desk<'_>) {
    let model = desk.model;
    for trunk in model.trunks.values() {
        let Some(first) = trunk.legs.first() else {
            continue;
        };
        let section = first
            .pipe
            .as_ref()
            .and_then(|pipe| desk.catalog.trunk_pipes.get(&pipe.value))
            .and_then(|pipe| pipe.section.get());
        let across = section.map(crate::catalog::Section::across);
        let spacing = find(desk, Holds::Trunk, across)
            .and_then(|(_, hanger)| hanger.spacing.as_ref().and_then(Stated::get));
        let words = format!("trunk {}", trunk.name);
        let count = spacing.map_or(0, |spacing| {
            let legs = trunk.legs.iter().map(|leg| spacings(leg.length, spacing));
            1 + legs.sum::<usize>()
        });
        let said = spacing.map_or_else(
            || format!("trunk {}", trunk.name),
            |spacing| {
                let long = trade_length(trunk.length());
                format!("{long} of trunk, one every {}", trade_length(spacing))
            },
        );
        if spacing.is_none() {
            let reason = "no hanger with a spacing for it in the catalog".to_owned();
            desk.needs.add_missing(
                "hangers for trunk",
                0,
                reason,
                &words,
                Some((trunk.span, said)),
            );
            continue;
        }
        add(
            desk,
            &Wanted {
                holds: Holds::Trunk,
                across,
                count,
                words: &words,
                place: (trunk.span, said),
            },
        );
    }
}

/// Supports of tubes, by the spacing that the tube asks for.
pub(super) fn tubes(desk: &mut Desk<'_>) {
    let model = desk.model;
    for run in model.runs.values() {
        let tube = run
            .tube
            .as_ref()
            .and_then(|tube| desk.catalog.tubes.get(&tube.value));
        let (Some(tube), Some(length)) = (tube, run.length()) else {
            continue;
        };
        let Some(spacing) = tube.support.get() else {
            continue;
        };
        // The collar and the outlet hold the ends.
        let count = spacings(length, spacing).saturating_sub(1);
        let said = format!(
            "{}, one every {}",
            trade_length(length),
            trade_length(spacing)
        );
        add(
            desk,
            &Wanted {
                holds: Holds::Tube,
                across: tube.outside.get(),
                count,
                words: "runs",
                place: (run.span, said),
            },
        );
    }
}

/// Supports of a route of pipe: `stated` by the job, else by the catalog's pipe; uprights by the catalog and the code.
pub(super) fn pipe(desk: &mut Desk<'_>, route: &PipeRoute, stated: Option<Spanned<Length>>) {
    let words = route.words();
    for (n, leg) in route.legs.iter().enumerate() {
        let Ok(pipe) = desk.pipe(leg.pipe.as_ref()) else {
            continue;
        };
        let vertical = matches!(leg.direction, Direction::Up | Direction::Down);
        let level = stated.map(|spacing| spacing.value).or(pipe.support.get());
        let Some(spacing) = (if vertical {
            Some(upright_spacing(Some(pipe)).0)
        } else {
            level
        }) else {
            continue;
        };
        let count = spacings(leg.length, spacing) + usize::from(n == 0);
        let said = format!("{}, one every {}", leg.said(), trade_length(spacing));
        add(
            desk,
            &Wanted {
                holds: Holds::Pipe,
                across: pipe.size.get(),
                count,
                words: &words,
                place: (leg.span, said),
            },
        );
    }
}

/// Clamps of a line `across` wide over its length, one every spacing.
pub(super) fn line(
    desk: &mut Desk<'_>,
    across: Length,
    (length, spacing): (Length, Length),
    words: &str,
    place: (Span, String),
) {
    let said = format!("{}, one every {}", place.1, trade_length(spacing));
    add(
        desk,
        &Wanted {
            holds: Holds::Pipe,
            across: Some(across),
            count: spacings(length, spacing) + 1,
            words,
            place: (place.0, said),
        },
    );
}

/// Staples of a cable.
pub(super) fn cable(desk: &mut Desk<'_>, length: Length, words: &str, place: (Span, String)) {
    let spacing = find(desk, Holds::Cable, None)
        .and_then(|(_, hanger)| hanger.spacing.as_ref().and_then(Stated::get));
    let Some(spacing) = spacing else {
        return;
    };
    let said = format!("{}, one every {}", place.1, trade_length(spacing));
    add(
        desk,
        &Wanted {
            holds: Holds::Cable,
            across: None,
            count: spacings(length, spacing) + 1,
            words,
            place: (place.0, said),
        },
    );
}

/// Hangers and stands that the job names.
pub(super) fn named(desk: &mut Desk<'_>) {
    let model = desk.model;
    for entry in model.blocks("hanger") {
        let Some(item) = entry.child("item").and_then(|c| c.text("item").known()) else {
            continue;
        };
        let thing = entry
            .text("thing")
            .known()
            .map_or_else(String::new, |t| t.value);
        let count = entry
            .child("count")
            .and_then(|c| c.amount("count").known())
            .and_then(|count| whole(count.value.real()));
        let place = Some((item.span, item.value.clone()));
        let words = format!("hanging {thing}");
        match (desk.catalog.hangers.get(&item.value), count) {
            (Some(hanger), Some(count)) => {
                let sold = Sold::at(hanger.span, Some(&hanger.price), Some(&hanger.pack));
                desk.needs.add(&item.value, sold, count, &words, place);
            }
            (Some(hanger), None) => {
                let sold = Sold::at(hanger.span, Some(&hanger.price), Some(&hanger.pack));
                desk.needs.as_needed(&item.value, sold, &words);
            }
            (None, count) => {
                let reason = format!("no catalog of the job holds the hanger `{}`", item.value);
                let count = count.unwrap_or(0);
                desk.needs
                    .add_missing(&item.value, count, reason, &words, place);
            }
        }
    }
}

/// A count as a whole number.
pub(super) fn whole(number: f64) -> Option<usize> {
    if !(0.0..=1e6).contains(&number) {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between zero and a million by the line above"
    )]
    let whole = libm::round(number) as usize;
    Some(whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spacing_begun_counts() {
        let four = Length::feet(4);
        assert_eq!(spacings(Length::feet(8), four), 2);
        assert_eq!(spacings(Length::feet(8) + Length::from_nm(1), four), 3);
        assert_eq!(spacings(Length::feet(8), Length::ZERO), 0);
    }
}
