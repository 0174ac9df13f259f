//! One more outlet in a room, with the run that feeds it.

use std::collections::BTreeSet;

use super::change::{Change, Part};
use super::job::Job;
use super::text::insert;
use crate::model::{Outlet, Room, Run, Trunk};
use crate::quantity::{Length, trade_length};
use crate::source::{Edit, Span};

/// Stations tried for a new run.
const STATIONS: usize = 6;

/// How far a new outlet keeps from walls.
const OFF_WALL: Length = Length::feet(2);

/// Shorter tubes let the blower through: no new one is proposed below this, common practice.
const LEAST_TUBE: Length = Length::feet(10);

/// A tube never runs straight: what a new one takes beyond the straight way.
const SLACK: Length = Length::feet(2);

struct NewOutlet<'a> {
    name: String,
    east: Length,
    north: Length,
    point_edit: Edit,
    beside: &'a Run,
    trunk: &'a Trunk,
}

fn side(run: &Run) -> Option<&str> {
    run.side.as_ref().map(|side| side.value.as_str())
}

impl<'a> Job<'a> {
    /// One more outlet where the room is farthest from those it has, on every station of the trunk that its
    /// neighbour leaves.
    pub(super) fn outlet_changes(&self, room: &Room, out: &mut Vec<Change>) {
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
