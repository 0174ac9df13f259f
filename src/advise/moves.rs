//! The changes that are worth a trial as a job stands: each alone, written as edits of the spec.

use std::collections::BTreeMap;

use super::change::{Change, Part};
use super::job::Job;
use super::search::Chosen;
use super::standing::{RoomStanding, Standing};
use super::text::replace;
use crate::model::Run;
use crate::quantity::{Length, trade_length};

/// Steps by which tubes are lengthened; shorter than measured is not for a program to promise.
const TUBE_STEPS: [i64; 2] = [3, 6];

/// Steps by which a take-off is moved along the trunk, in.
const TAKE_OFF_STEPS: [i64; 2] = [-6, 6];

/// Rooms looked at on either side of the middle, those farthest off first.
const ROOMS: usize = 3;

impl Job<'_> {
    fn tube_changes(&self, run: &Run, out: &mut Vec<Change>) {
        let Some(measured) = run.measured else {
            return;
        };
        for feet in TUBE_STEPS {
            let to = measured.value + Length::feet(feet);
            out.push(self.of_run(
                run,
                Part::Tube {
                    from: measured.value,
                    to,
                },
                replace(measured.span, trade_length(to)),
            ));
        }
    }

    fn take_off_changes(&self, run: &Run, out: &mut Vec<Change>) {
        let Some(station) = run.station else {
            return;
        };
        for inches in TAKE_OFF_STEPS {
            let to = station.value + Length::inches(inches);
            if to <= Length::ZERO {
                continue;
            }
            out.push(self.of_run(
                run,
                Part::TakeOff {
                    from: station.value,
                    to,
                },
                replace(station.span, trade_length(to)),
            ));
        }
    }

    fn tap_changes(&self, out: &mut Vec<Change>) {
        for unit in self.model.air_handlers.values() {
            let (Some(tap), Some(sheet)) =
                (&unit.tap, self.catalog.air_handlers.get(&unit.model.value))
            else {
                continue;
            };
            for to in sheet.blower.taps.keys().filter(|to| **to != tap.value) {
                out.push(Change {
                    thing: unit.name.clone(),
                    room: None,
                    part: Part::Tap {
                        from: tap.value.clone(),
                        to: to.clone(),
                    },
                    edits: vec![replace(tap.span, to.clone())],
                });
            }
        }
    }
}

/// The rooms farthest below and above the middle of all.
fn off_middle(standing: &Standing) -> (Vec<&str>, Vec<&str>) {
    let of = |room: &RoomStanding| room.summer.or(room.winter);
    let mut rooms: Vec<(f64, &str)> = standing
        .rooms
        .iter()
        .filter_map(|(name, room)| Some((of(room)?, name.as_str())))
        .collect();
    rooms.sort_by(|a, b| a.0.total_cmp(&b.0));
    let half = rooms.len() / 2;
    let cool = rooms
        .iter()
        .take(half.min(ROOMS))
        .map(|(_, name)| *name)
        .collect();
    let warm = rooms
        .iter()
        .rev()
        .take((rooms.len() - half).min(ROOMS))
        .map(|(_, name)| *name)
        .collect();
    (cool, warm)
}

/// All moves worth a trial while the job, with `chosen`, stands as `standing`: single changes, and one orifice
/// for all runs of a room. Changes of one slot exclude each other.
pub(super) fn moves(job: &Job<'_>, chosen: &Chosen, standing: &Standing) -> Vec<Vec<Change>> {
    let (cool, warm) = off_middle(standing);
    let mut out = Vec::new();
    job.tap_changes(&mut out);
    let mut together: BTreeMap<(&str, Option<String>), Vec<Change>> = BTreeMap::new();
    for run in job.model.runs.values() {
        let Some(room) = job.room_of(run) else {
            continue;
        };
        if cool.contains(&room.name.as_str()) {
            let first = out.len();
            job.orifice_changes(run, chosen, &mut out);
            for change in out.iter().skip(first) {
                if let Part::Orifice { to, .. } = &change.part {
                    together
                        .entry((&room.name, to.clone()))
                        .or_default()
                        .push(change.clone());
                }
            }
            job.tube_changes(run, &mut out);
        } else if warm.contains(&room.name.as_str()) {
            let set = chosen.contains_key(&("orifice", run.name.clone()));
            if run.orifice.is_some() || set {
                job.orifice_changes(run, chosen, &mut out);
            }
            job.take_off_changes(run, &mut out);
        }
    }
    for room in job.model.house.rooms.values() {
        if warm.contains(&room.name.as_str()) {
            job.outlet_changes(room, &mut out);
        }
    }
    let mut all: Vec<Vec<Change>> = out.into_iter().map(|change| vec![change]).collect();
    all.extend(together.into_values().filter(|changes| changes.len() > 1));
    all
}
