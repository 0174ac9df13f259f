//! Runs: tubes from a trunk to an outlet, measured against the straight way between.

use crate::language::Entry;
use crate::quantity::{Length, length_text, show_length, trade_length};
use crate::source::{Finding, Relation, Span, Spanned};

use super::builder::Builder;
use super::mistakes::{BEYOND_TRUNK, MEASURED_SHORT, NAME_UNKNOWN, WITHOUT_RUN};
use super::names::is_meant_for_second;
use super::place::Point;

/// A tube from a trunk to an outlet.
#[derive(Clone, Debug)]
pub struct Run {
    /// Its name.
    pub name: String,
    /// The outlet it feeds.
    pub outlet: Option<String>,
    /// The trunk it leaves.
    pub trunk: Spanned<String>,
    /// Where on the trunk.
    pub station: Option<Spanned<Length>>,
    /// On which side.
    pub side: Option<Spanned<String>>,
    /// The point where it leaves the trunk.
    pub take_off: Option<Point>,
    /// The tube.
    pub tube: Option<Spanned<String>>,
    /// Its taped length.
    pub measured: Option<Spanned<Length>>,
    /// Bends.
    pub bends: Option<Spanned<f64>>,
    /// Spaces it passes through.
    pub through: Vec<Spanned<String>>,
    /// Its balancing orifice.
    pub orifice: Option<Spanned<String>>,
    /// The straight distance from take-off to outlet.
    pub straight: Option<Length>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread or is not known yet.
    pub flawed: bool,
}

impl Run {
    /// Its length: as taped, else none.
    pub fn length(&self) -> Option<Length> {
        self.measured.as_ref().map(|measured| measured.value)
    }
}

pub(super) fn run(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("run", &name) {
        return;
    }
    let Some(trunk_name) = entry.text("trunk").known() else {
        return;
    };
    let trunk_known = builder.expect(&["trunk"], &trunk_name);
    let named = entry
        .child("to")
        .and_then(|c| c.text("outlet").known())
        .unwrap_or_else(|| name.clone());
    let outlet_known = builder.names.has(&["outlet"], &named.value);
    let misread = builder.model.is_misread(&named.value);
    if !outlet_known
        && !misread
        && !is_meant_for_second(&["outlet"], &named.value, builder.findings)
    {
        let near = builder
            .names
            .nearest(&["outlet"], &named.value)
            .map(str::to_owned);
        let mut finding = Finding::new(
            &NAME_UNKNOWN,
            named.span,
            format!(
                "run `{}` feeds an outlet `{}` that no room has",
                name.value, named.value
            ),
            near.as_ref().map_or_else(
                || {
                    format!(
                        "add an outlet `{}` to a room, or say `to` and the outlet's name",
                        named.value
                    )
                },
                |near| format!("write `{near}`"),
            ),
        );
        if let Some(near) = near {
            // That outlet has its run once the name is right.
            builder.half_known("run", &near);
            finding = finding.edit(named.span, near);
        }
        builder.report(finding);
    }
    let mut run = Run {
        name: name.value,
        outlet: outlet_known.then_some(named.value),
        trunk: trunk_name,
        station: builder.length(entry, "station"),
        side: entry.text("side").known(),
        take_off: None,
        tube: entry.child("tube").and_then(|c| builder.text(c, "tube")),
        measured: entry
            .child("measured")
            .and_then(|c| builder.size(c, "length")),
        bends: entry.child("bends").and_then(|c| builder.real(c, "bends")),
        through: entry
            .children("through")
            .filter_map(|c| c.text("space").known())
            .collect(),
        orifice: entry
            .child("orifice")
            .and_then(|c| builder.text(c, "orifice")),
        straight: None,
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed || !trunk_known || !outlet_known,
    };
    let spaces = run.through.clone();
    for space in &spaces {
        builder.expect(&["story", "room"], space);
    }
    if builder.beyond.contains(&run.trunk.value) {
        run.flawed = true;
    } else if let (Some(station), Some(trunk)) =
        (run.station, builder.model.trunks.get(&run.trunk.value))
    {
        run.take_off = trunk.point_at(station.value);
        let long = trunk.length();
        if run.take_off.is_none() && !trunk.flawed {
            let finding = Finding::new(
                &BEYOND_TRUNK,
                station.span,
                format!(
                    "run `{}` leaves trunk `{}` beyond its end",
                    run.name, trunk.name
                ),
                format!("take off at `{}` or nearer the unit", length_text(long)),
            )
            .measured(
                show_length(station.value),
                Relation::AtMost,
                show_length(long),
            )
            .label(
                trunk.span,
                format!("the trunk is {} long", trade_length(long)),
            );
            builder.report(finding);
            run.flawed = true;
        }
    }
    let outlet = run
        .outlet
        .as_ref()
        .and_then(|name| builder.model.house.outlet(name));
    if let (Some(from), Some(outlet)) = (run.take_off, outlet) {
        let straight = from.distance(outlet.point);
        run.straight = Some(straight);
        if let Some(measured) = &run.measured
            && measured.value < straight
        {
            let up = straight.round_up_to(Length::INCH);
            let finding = Finding::new(
                &MEASURED_SHORT,
                measured.span,
                format!(
                    "run `{}` is shorter than the straight way to its outlet",
                    run.name
                ),
                format!(
                    "measure again: at least `{}`, or correct where it starts or ends",
                    trade_length(up)
                ),
            )
            .measured(
                show_length(measured.value),
                Relation::AtLeast,
                show_length(straight),
            )
            .label(outlet.at, "its outlet")
            .label(run.span, "its take-off");
            builder.report(finding);
            run.flawed = true;
        }
    }
    builder.model.runs.insert(run.name.clone(), run);
}

/// Every outlet has a run, once all runs are known.
pub(super) fn settle(builder: &mut Builder<'_>) {
    let fed: Vec<&str> = builder
        .model
        .runs
        .values()
        .filter_map(|run| run.outlet.as_deref())
        .collect();
    let misread = builder.misread("run");
    let findings: Vec<Finding> = builder
        .model
        .house
        .outlets()
        .filter(|outlet| !fed.contains(&outlet.name.as_str()) && !misread)
        .map(|outlet| {
            Finding::new(
                &WITHOUT_RUN,
                outlet.span,
                format!("no run feeds outlet `{}`", outlet.name),
                format!(
                    "add `run {} from … at … {{ tube \"…\", measured … }}`",
                    outlet.name
                ),
            )
        })
        .collect();
    for finding in findings {
        builder.report(finding);
    }
}
