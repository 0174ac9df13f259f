//! The changes that are worth a trial as a job stands: each alone, written as edits of the spec.

use std::collections::{BTreeMap, BTreeSet};

use super::change::{Change, Part};
use super::search::Chosen;
use super::standing::{RoomStanding, Standing};
use crate::catalog::Catalog;
use crate::model::{Model, Outlet, Room, Run, Trunk};
use crate::quantity::{Length, trade_length};
use crate::source::{Edit, Files, Span, Spanned};

/// Steps by which tubes are lengthened; shorter than measured is not for a program to promise.
const TUBE_STEPS: [i64; 2] = [3, 6];
/// Steps by which a take-off is moved along the trunk, in.
const TAKE_OFF_STEPS: [i64; 2] = [-6, 6];
/// Stations tried for a new run.
const STATIONS: usize = 6;
/// Rooms looked at on either side of the middle, those farthest off first.
const ROOMS: usize = 3;
/// Orifices tried beyond the one there is.
const TIGHTER: usize = 2;
/// How far a new outlet keeps from walls.
const OFF_WALL: Length = Length::feet(2);
/// Shorter tubes let the blower through: no new one is proposed below this, common practice.
const LEAST_TUBE: Length = Length::feet(10);
/// A tube never runs straight: what a new one takes beyond the straight way.
const SLACK: Length = Length::feet(2);

/// What a search may look at.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// The job as written.
    pub model: &'a Model,
    /// Its equipment and stock.
    pub catalog: &'a Catalog,
    /// Its texts.
    pub files: &'a Files,
}

fn insert(span: Span, text: impl Into<String>) -> Edit {
    Edit {
        span: Span::new(span.file, span.end, span.end),
        text: text.into(),
    }
}

fn replace(span: Span, text: impl Into<String>) -> Edit {
    Edit {
        span,
        text: text.into(),
    }
}

fn side(run: &Run) -> Option<&str> {
    run.side.as_ref().map(|side| side.value.as_str())
}

impl<'a> Job<'a> {
    fn room_of(&self, run: &Run) -> Option<&'a Room> {
        let outlet = run.outlet.as_ref()?;
        self.model
            .house
            .rooms
            .values()
            .find(|room| room.outlets.iter().any(|known| known.name == *outlet))
    }

    /// Orifices that fit the run's tube, the widest first.
    fn orifices(&self, run: &Run) -> Vec<&'a str> {
        let inside = run
            .tube
            .as_ref()
            .and_then(|tube| self.catalog.tubes.get(&tube.value))
            .and_then(|tube| tube.inside.get());
        let Some(inside) = inside else {
            return Vec::new();
        };
        let mut fitting: Vec<(f64, &str)> = self
            .catalog
            .orifices
            .iter()
            .filter(|(_, orifice)| orifice.tube.get() == Some(inside))
            .filter_map(|(name, orifice)| Some((orifice.loss.get()?.0, name.as_str())))
            .collect();
        fitting.sort_by(|a, b| a.0.total_cmp(&b.0));
        fitting.into_iter().map(|(_, name)| name).collect()
    }

    /// The next wider orifice, or none, and the next tighter ones, from what is chosen for the run already.
    fn orifice_changes(&self, run: &Run, chosen: &Chosen, out: &mut Vec<Change>) {
        let Some(tube) = &run.tube else {
            return;
        };
        let from = run.orifice.as_ref();
        let fitting = self.orifices(run);
        let set = chosen.get(&("orifice", run.name.clone()));
        let now = match set.map(|change| &change.part) {
            Some(Part::Orifice { to, .. }) => to.as_deref(),
            _ => from.map(|from| from.value.as_str()),
        };
        let own = now.and_then(|now| fitting.iter().position(|name| *name == now));
        let wider = own.map(|at| at.checked_sub(1).and_then(|at| fitting.get(at)).copied());
        let tighter = fitting
            .iter()
            .skip(own.map_or(0, |at| at + 1))
            .take(TIGHTER);
        let options = wider.into_iter().chain(tighter.map(|name| Some(*name)));
        for to in options {
            if to == from.map(|from| from.value.as_str()) {
                continue;
            }
            let edit = match (from, to) {
                (Some(from), Some(to)) => replace(from.span, format!("\"{to}\"")),
                (None, Some(to)) => insert(tube.span, format!(", orifice \"{to}\"")),
                (Some(from), None) => {
                    let Some(edit) = self.clause_out(from) else {
                        continue;
                    };
                    edit
                }
                (None, None) => continue,
            };
            out.push(Change {
                thing: run.name.clone(),
                room: self.room_of(run).map(|room| room.name.clone()),
                part: Part::Orifice {
                    from: from.map(|from| from.value.clone()),
                    to: to.map(str::to_owned),
                },
                edits: vec![edit],
            });
        }
    }

    /// Takes the clause `, orifice "…"` out; none where it is not written that way.
    fn clause_out(&self, orifice: &Spanned<String>) -> Option<Edit> {
        let file = self.files.get(orifice.span.file)?;
        let before = file.text().get(..orifice.span.start as usize)?;
        let start = before.trim_end().strip_suffix("orifice")?.trim_end();
        let start = start.strip_suffix(',')?.len();
        Some(Edit {
            span: Span::new(
                orifice.span.file,
                u32::try_from(start).ok()?,
                orifice.span.end,
            ),
            text: String::new(),
        })
    }

    fn tube_changes(&self, run: &Run, out: &mut Vec<Change>) {
        let Some(measured) = run.measured else {
            return;
        };
        for feet in TUBE_STEPS {
            let to = measured.value + Length::feet(feet);
            out.push(Change {
                thing: run.name.clone(),
                room: self.room_of(run).map(|room| room.name.clone()),
                part: Part::Tube {
                    from: measured.value,
                    to,
                },
                edits: vec![replace(measured.span, trade_length(to))],
            });
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
            out.push(Change {
                thing: run.name.clone(),
                room: self.room_of(run).map(|room| room.name.clone()),
                part: Part::TakeOff {
                    from: station.value,
                    to,
                },
                edits: vec![replace(station.span, trade_length(to))],
            });
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

    /// One more outlet where the room is farthest from those it has, on every station of the trunk that its
    /// neighbour leaves.
    fn outlet_changes(&self, room: &Room, out: &mut Vec<Change>) {
        let Some(found) = self.new_outlet(room) else {
            return;
        };
        let NewOutlet {
            name,
            east,
            north,
            point_edit,
            beside,
            trunk,
        } = found;
        let taken: BTreeSet<Length> = self
            .model
            .runs
            .values()
            .filter(|run| run.trunk.value == trunk.name && side(run) == side(beside))
            .filter_map(|run| Some(run.station?.value))
            .collect();
        let step = Length::inches(6);
        let mut places: Vec<(Length, Length, Edit)> = Vec::new();
        let mut station = step;
        while station < trunk.length() {
            let free = taken.iter().all(|other| (*other - station).abs() >= step);
            let run = free
                .then(|| self.new_run(&name, beside, trunk, station, room, (east, north)))
                .flatten();
            places.extend(run.map(|(tube, edit)| (tube, station, edit)));
            station += step;
        }
        // The shortest tubes first; a take-off that stands wrong shows in the trial.
        places.sort_by_key(|(tube, station, _)| (*tube, *station));
        for (tube, station, edit) in places.into_iter().take(STATIONS) {
            out.push(Change {
                thing: name.clone(),
                room: Some(room.name.clone()),
                part: Part::Outlet {
                    east,
                    north,
                    trunk: trunk.name.clone(),
                    station,
                    tube,
                },
                edits: vec![point_edit.clone(), edit],
            });
        }
    }

    fn new_outlet(&self, room: &'a Room) -> Option<NewOutlet<'a>> {
        let extent = room.extent.as_ref()?;
        let last = room.outlets.last()?;
        let beside = self
            .model
            .runs
            .values()
            .find(|run| run.outlet.as_ref() == Some(&last.name))?;
        let trunk = self.model.trunks.get(&beside.trunk.value)?;
        let (wide, deep) = (extent.high.x - extent.low.x, extent.high.y - extent.low.y);
        let grid = |size: Length| {
            let mut places = Vec::new();
            let mut at = OFF_WALL;
            while at <= size - OFF_WALL {
                places.push(at);
                at += Length::FOOT;
            }
            places
        };
        // The point with the most room to the outlets there are; the first of equals.
        let mut best: Option<(Length, Length, Length)> = None;
        for north in grid(deep) {
            for east in grid(wide) {
                let nearest = room
                    .outlets
                    .iter()
                    .map(|outlet| {
                        Length::diagonal(
                            outlet.point.x - extent.low.x - east,
                            outlet.point.y - extent.low.y - north,
                            Length::ZERO,
                        )
                    })
                    .min()?;
                if best.is_none_or(|(far, _, _)| nearest > far) {
                    best = Some((nearest, east, north));
                }
            }
        }
        let (_, east, north) = best?;
        let name = self.free_name(last)?;
        let words = self.files.text(last.span);
        let at = self.files.text(last.at);
        let placed = words.replacen(
            at,
            &format!("{}, {}", trade_length(east), trade_length(north)),
            1,
        );
        let statement = placed.replacen(&last.name, &name, 1);
        Some(NewOutlet {
            point_edit: insert(last.span, self.beside(last.span, &statement)?),
            name,
            east,
            north,
            beside,
            trunk,
        })
    }

    /// A name after the last outlet's: `be4` follows `be3`.
    fn free_name(&self, last: &Outlet) -> Option<String> {
        let stem = last.name.trim_end_matches(|c: char| c.is_ascii_digit());
        let from: u32 = last.name.strip_prefix(stem)?.parse().unwrap_or(1);
        let taken = |name: &str| {
            self.model.runs.contains_key(name)
                || self
                    .model
                    .house
                    .rooms
                    .values()
                    .any(|room| room.outlets.iter().any(|outlet| outlet.name == name))
        };
        (from + 1..from + 100)
            .map(|n| format!("{stem}{n}"))
            .find(|name| !taken(name))
    }

    /// `statement` on a line of its own below one that begins its line, else after a comma.
    fn beside(&self, span: Span, statement: &str) -> Option<String> {
        let text = self.files.get(span.file)?.text();
        let before = text.get(..span.start as usize)?;
        let indent = before.rsplit('\n').next()?;
        Some(if indent.trim().is_empty() {
            format!("\n{indent}{statement}")
        } else {
            format!(", {statement}")
        })
    }

    fn new_run(
        &self,
        name: &str,
        beside: &Run,
        trunk: &Trunk,
        station: Length,
        room: &Room,
        place: (Length, Length),
    ) -> Option<(Length, Edit)> {
        let measured = beside.measured?;
        let from = trunk.point_at(station)?;
        let extent = room.extent.as_ref()?;
        let up = room.outlets.last()?.point.z;
        let straight = Length::diagonal(
            from.x - extent.low.x - place.0,
            from.y - extent.low.y - place.1,
            from.z - up,
        );
        // A new tube is cut to whole feet.
        let long = straight + SLACK;
        let tube = long.round_up_to(Length::FOOT).max(LEAST_TUBE);
        let whole = self.files.text(beside.whole);
        let start = beside.whole.start;
        let mut line = whole.to_owned();
        // From the end to the front, so that places in front stay where they are.
        let mut parts = vec![(measured.span, trade_length(tube))];
        parts.push((beside.station?.span, trade_length(station)));
        if let Some(orifice) = &beside.orifice {
            let edit = self.clause_out(orifice)?;
            parts.push((edit.span, edit.text));
        }
        parts.sort_by_key(|(span, _)| std::cmp::Reverse(span.start));
        for (span, text) in parts {
            let range = (span.start - start) as usize..(span.end - start) as usize;
            line.get(range.clone())?;
            line.replace_range(range, &text);
        }
        let line = line.replacen(&beside.name, name, 1);
        Some((tube, insert(beside.whole, format!("\n{line}"))))
    }
}

struct NewOutlet<'a> {
    name: String,
    east: Length,
    north: Length,
    point_edit: Edit,
    beside: &'a Run,
    trunk: &'a Trunk,
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
