//! Things that cannot be where the job puts them: far outside the house, under its floor, out of reach of the tape.

use crate::catalog::Side;
use crate::language::Entry;
use crate::quantity::{Length, show_length, trade_length};
use crate::source::{Finding, Relation, Shown, Span, Spanned};

use super::builder::Builder;
use super::mistakes::{MEASURED_SHORT, OUTSIDE_HOUSE, TRUNK_ASTRAY, TRUNK_BACK, UNDER_HOUSE};
use super::place::{Direction, Extent, Point};
use super::straight;
use super::trunk::Trunk;

/// How far below the lowest floor something may end: a crawl space or the pit of a sump, common practice.
const BELOW: Length = Length::feet(4);

/// Nothing nearer to the house than this is far outside it: a small house, or one whose rooms are not all entered.
const LEAST: Length = Length::feet(15);

/// From the middle of an outdoor unit to where its lines begin, at most; common practice.
const OUTDOOR_HALF: Length = Length::feet(3);

/// The plan of the house and how far outside it nothing of its own can be: half of its longer side, 15 ft at least.
struct Plan {
    box_of: Extent,
    most: Length,
}

impl Plan {
    /// None while no room has a place.
    fn of(builder: &Builder<'_>) -> Option<Self> {
        let house = &builder.model.house;
        let mut points: Vec<Point> = Vec::new();
        for extent in house.rooms.values().filter_map(|room| room.extent) {
            points.extend([extent.low, extent.high]);
        }
        points.first()?;
        points.extend(
            house
                .roofs
                .iter()
                .flat_map(|roof| [roof.edge, roof.edge_end]),
        );
        points.extend(
            house
                .solids
                .iter()
                .flat_map(|solid| [solid.extent.low, solid.extent.high]),
        );
        let first = *points.first()?;
        let box_of = points
            .iter()
            .fold(Extent::between(first, first), |all, point| Extent {
                low: Point::new(
                    all.low.x.min(point.x),
                    all.low.y.min(point.y),
                    all.low.z.min(point.z),
                ),
                high: Point::new(
                    all.high.x.max(point.x),
                    all.high.y.max(point.y),
                    all.high.z.max(point.z),
                ),
            });
        let (x, y, _) = box_of.size();
        Some(Self {
            box_of,
            most: x.max(y).half().max(LEAST),
        })
    }

    /// How far outside the plan a point lies.
    fn outside(&self, point: Point) -> Length {
        plan_gap(&self.box_of, point)
    }

    /// The finding for a thing that stands at `point`, when that is too far out.
    fn beyond(&self, thing: &str, point: Point, span: Span) -> Option<Finding> {
        let out = self.outside(point);
        (out > self.most).then(|| {
            let (x, y, _) = self.box_of.size();
            Finding::new(
                &OUTSIDE_HOUSE,
                span,
                format!("{thing} lies {} outside the house", trade_length(out)),
                format!(
                    "write the true distances: the house is {} by {}, from {} east and {} north of the origin",
                    trade_length(x),
                    trade_length(y),
                    trade_length(self.box_of.low.x),
                    trade_length(self.box_of.low.y),
                ),
            )
            .measured(show_length(out), Relation::AtMost, show_length(self.most))
        })
    }
}

/// The straight way on plan from a point to the nearest side of a box; none inside it.
fn plan_gap(of: &Extent, point: Point) -> Length {
    let gap = |low: Length, at: Length, high: Length| (low - at).max(at - high).max(Length::ZERO);
    Length::diagonal(
        gap(of.low.x, point.x, of.high.x),
        gap(of.low.y, point.y, of.high.y),
        Length::ZERO,
    )
}

/// The straight way from a point to the nearest face of a box.
fn gap(of: &Extent, point: Point) -> Length {
    let up = (of.low.z - point.z)
        .max(point.z - of.high.z)
        .max(Length::ZERO);
    Length::diagonal(plan_gap(of, point), up, Length::ZERO)
}

/// The words of `child` in the block of that head.
fn words_of(entries: &[Entry], head: Span, child: &str) -> Option<Span> {
    let block = entries.iter().find(|entry| entry.span == head)?;
    Some(block.child(child)?.span)
}

/// Units and trunks, before anything is measured from them.
pub(super) fn trunks(builder: &mut Builder<'_>, entries: &[Entry]) {
    let plan = Plan::of(builder);
    let mut findings = Vec::new();
    for unit in builder.model.air_handlers.values() {
        let middle = unit.cabinet.as_ref().map(Extent::center);
        if let (Some(plan), Some(middle)) = (&plan, middle) {
            let at = words_of(entries, unit.span, "center").unwrap_or(unit.span);
            let thing = format!("air handler `{}`", unit.name);
            if let Some(finding) = plan.beyond(&thing, middle, at) {
                findings.push(finding);
                builder.beyond.insert(unit.name.clone());
            }
        }
    }
    for trunk in builder.model.trunks.values_mut() {
        let starts_out = trunk
            .unit
            .iter()
            .chain(trunk.parent.iter().map(|(parent, _)| parent))
            .any(|from| builder.beyond.contains(from));
        let found = if starts_out {
            None
        } else {
            trunk.legs.iter().find_map(|leg| {
                let thing = format!("the end of this leg of trunk `{}`", trunk.name);
                plan.as_ref()?.beyond(&thing, leg.end, leg.span)
            })
        };
        if starts_out || found.is_some() {
            builder.beyond.insert(trunk.name.clone());
            trunk.flawed = true;
        }
        findings.extend(found);
    }
    let astray: Vec<(String, Finding)> = builder
        .model
        .trunks
        .values()
        .filter(|trunk| !builder.beyond.contains(&trunk.name))
        .filter_map(|trunk| {
            let found = leaves_astray(builder, entries, trunk).or_else(|| turns_back(trunk))?;
            Some((trunk.name.clone(), found))
        })
        .collect();
    for (name, finding) in astray {
        builder.beyond.insert(name);
        findings.push(finding);
    }
    for trunk in builder.model.trunks.values_mut() {
        let from_astray = trunk
            .parent
            .as_ref()
            .is_some_and(|(parent, _)| builder.beyond.contains(parent));
        if from_astray {
            builder.beyond.insert(trunk.name.clone());
        }
        trunk.misplaced = builder.beyond.contains(&trunk.name);
        trunk.flawed |= trunk.misplaced;
    }
    for finding in findings {
        builder.report(finding);
    }
}

/// A trunk whose first leg does not go the way the supply port opens.
fn leaves_astray(
    builder: &Builder<'_>,
    entries: &[Entry],
    trunk: &super::trunk::Trunk,
) -> Option<Finding> {
    if trunk.parent.is_some() {
        return None;
    }
    let unit = builder.model.air_handlers.get(trunk.unit.as_ref()?)?;
    let port = unit.ports.iter().find(|port| port.point == trunk.start)?;
    let leg = trunk.legs.first()?;
    if leg.direction == port.facing {
        return None;
    }
    let front = unit.sheet.ports.named(port.name)?.facing.get() == Some(Side::Front);
    let turn = front && leg.direction.is_level();
    let at = words_of(entries, unit.span, "discharge").filter(|_| turn);
    let (opens, goes) = (port.facing.word(), leg.direction.word());
    let help = if turn {
        format!("write `discharge toward {goes}`, or lead the first leg {opens}")
    } else {
        format!("lead the first leg `{opens}`")
    };
    Some(
        Finding::new(
            &TRUNK_ASTRAY,
            leg.span,
            format!(
                "trunk `{}` goes {goes} from `{}`, whose {} opens {opens}",
                trunk.name, unit.name, port.name
            ),
            help,
        )
        .measured(Shown::word(goes), Relation::Equal, Shown::word(opens))
        .label(at.unwrap_or(unit.span), "the way the unit is turned"),
    )
}

/// A leg that goes back the way the leg before it came.
fn turns_back(trunk: &Trunk) -> Option<Finding> {
    trunk.legs.windows(2).find_map(|two| {
        let [before, leg] = two else { return None };
        if leg.direction != before.direction.opposite() {
            return None;
        }
        let (goes, came) = (leg.direction.word(), before.direction.word());
        Some(
            Finding::new(
                &TRUNK_BACK,
                leg.span,
                format!(
                    "this leg of trunk `{}` runs back over the leg before it",
                    trunk.name
                ),
                format!(
                    "write `{came} {}`, or turn it to a side",
                    trade_length(leg.length)
                ),
            )
            .measured(Shown::word(goes), Relation::Not, Shown::word(goes))
            .label(before.span, format!("this leg goes {came}"))
            .edit(leg.span, format!("{came} {}", trade_length(leg.length))),
        )
    })
}

/// Drains, lines and ways, once everything has its place.
pub(super) fn rest(builder: &mut Builder<'_>, entries: &[Entry]) {
    let mut findings = Vec::new();
    drains(builder, &mut findings);
    line_sets(builder, entries, &mut findings);
    ways(builder, &mut findings);
    findings.extend(straight::wires(builder));
    for finding in findings {
        builder.report(finding);
    }
}

fn drains(builder: &mut Builder<'_>, findings: &mut Vec<Finding>) {
    let plan = Plan::of(builder);
    let lowest = builder.model.house.stories.values().map(|s| s.floor).min();
    for drain in builder.model.drains.values_mut() {
        if builder.beyond.contains(&drain.unit) {
            continue;
        }
        let out = drain.legs.iter().find_map(|leg| {
            let thing = format!("the end of this leg of drain `{}`", drain.name);
            plan.as_ref()?.beyond(&thing, leg.end, leg.span)
        });
        if let Some(finding) = out {
            // What it falls over a length that is not true says nothing.
            for leg in &mut drain.legs {
                leg.fall = leg.fall.take().filter(|_| leg.span != finding.span);
            }
            findings.push(finding);
            drain.flawed = true;
            continue;
        }
        let (Some(lowest), false) = (lowest, drain.flawed) else {
            continue;
        };
        let under = drain
            .legs
            .iter()
            .find(|leg| leg.direction == Direction::Down && lowest - leg.end.z > BELOW);
        drain.flawed |= under.is_some();
        if let Some(leg) = under {
            let deep = lowest - leg.end.z;
            findings.push(
                Finding::new(
                    &UNDER_HOUSE,
                    leg.span,
                    format!(
                        "this leg of drain `{}` ends {} below the lowest floor",
                        drain.name,
                        trade_length(deep)
                    ),
                    format!(
                        "measure again: `down {}` ends at the lowest floor",
                        trade_length((leg.start.z - lowest).round_down_to(Length::sixteenths(1)))
                    ),
                )
                .measured(show_length(deep), Relation::AtMost, show_length(BELOW)),
            );
        }
    }
}

pub(super) fn short(
    what: &str,
    measured: &Spanned<Length>,
    straight: Length,
    from: (Span, &str),
) -> Finding {
    let up = straight.round_up_to(Length::INCH);
    Finding::new(
        &MEASURED_SHORT,
        measured.span,
        format!("{what} is shorter than the straight way"),
        format!(
            "measure again: at least `{}`, or correct where it starts or ends",
            trade_length(up)
        ),
    )
    .measured(
        show_length(measured.value),
        Relation::AtLeast,
        show_length(up),
    )
    .label(from.0, from.1)
}

/// Lines between an outdoor unit and an air handler: from the unit's edge to the cabinet's nearest face.
fn line_sets(builder: &mut Builder<'_>, entries: &[Entry], findings: &mut Vec<Finding>) {
    for entry in entries.iter().filter(|entry| entry.word.word == "line-set") {
        let (Some(name), Some(one), Some(other)) = (
            entry.text("name").known(),
            entry.text("from").known(),
            entry.text("to").known(),
        ) else {
            continue;
        };
        let end = |name: &str| name.split('.').next().unwrap_or(name).to_owned();
        let ends = [end(&one.value), end(&other.value)];
        let cabinet = ends
            .iter()
            .filter(|end| !builder.beyond.contains(*end))
            .find_map(|end| builder.model.air_handlers.get(end)?.cabinet);
        let outdoor = ends
            .iter()
            .find_map(|end| builder.model.equipment.get(end))
            .filter(|unit| unit.kind == "outdoor-unit" && !unit.flawed);
        let measured = entry
            .child("measured")
            .and_then(|child| child.length("length").known());
        let (Some(cabinet), Some(outdoor), Some(measured)) = (cabinet, outdoor, measured) else {
            continue;
        };
        let Some(point) = outdoor.point else { continue };
        let straight = gap(&cabinet, point) - OUTDOOR_HALF;
        if measured.value < straight {
            let what = format!("line set `{}`", name.value);
            findings.push(short(
                &what,
                &measured,
                straight,
                (outdoor.span, "where it starts"),
            ));
        }
    }
}

/// Ways from a hatch: from its edge to the cabinet's nearest side, on plan.
fn ways(builder: &mut Builder<'_>, findings: &mut Vec<Finding>) {
    let house = &builder.model.house;
    for path in &house.paths {
        let (Some(hatch), Some(unit), Some(length)) = (
            house.hatches.get(&path.from.value),
            builder.model.air_handlers.get(&path.to.value),
            &path.length,
        ) else {
            continue;
        };
        let (Some(cabinet), false) = (unit.cabinet, builder.beyond.contains(&unit.name)) else {
            continue;
        };
        if hatch.story != unit.story {
            continue;
        }
        let (wide, deep) = (hatch.clear.0.value.half(), hatch.clear.1.value.half());
        let reach = Extent {
            low: Point::new(cabinet.low.x - wide, cabinet.low.y - deep, cabinet.low.z),
            high: Point::new(cabinet.high.x + wide, cabinet.high.y + deep, cabinet.high.z),
        };
        let straight = plan_gap(&reach, hatch.center);
        if length.value < straight {
            let what = format!("the way `{}`", path.name);
            findings.push(short(
                &what,
                length,
                straight,
                (hatch.span, "where it starts"),
            ));
        }
    }
}
