//! What stands between two stretches of trunk, and what it takes off them.

use std::collections::BTreeMap;

use crate::catalog::{Section, TrunkFittingType};
use crate::model::{FittingKind, Trunk};
use crate::quantity::Length;
use crate::source::Span;

use super::desk::Desk;

/// What stands between two stretches of pipe.
pub(super) struct Node {
    pub(super) station: Length,
    /// What it takes off the pipe before it.
    pub(super) before: Result<Length, String>,
    /// What it takes off the pipe behind it.
    pub(super) after: Result<Length, String>,
    pub(super) words: String,
    /// Whether the pipe before it slips into it.
    pub(super) joined: bool,
    /// Whether two pipes meet here without a fitting.
    pub(super) plain: bool,
    /// What the catalog says of its fittings.
    pub(super) places: Vec<(Span, String)>,
}

/// Everything that stands on a trunk, by station.
pub(super) fn nodes(desk: &mut Desk<'_>, trunk: &Trunk, route: &str) -> Vec<Node> {
    let mut at: BTreeMap<Length, Vec<(FittingKind, Span)>> = BTreeMap::new();
    for leg in &trunk.legs {
        at.entry(leg.station).or_default();
        at.entry(leg.station + leg.length).or_default();
    }
    for fitting in &trunk.fittings {
        at.entry(fitting.station)
            .or_default()
            .push((fitting.kind.clone(), fitting.span));
    }
    let mut nodes = Vec::new();
    for (station, fittings) in at {
        let leg_before = trunk
            .legs
            .iter()
            .find(|leg| leg.station < station && station <= leg.station + leg.length);
        let leg_behind = trunk
            .legs
            .iter()
            .find(|leg| leg.station <= station && station < leg.station + leg.length);
        let Some(leg) = leg_before.or(leg_behind) else {
            continue;
        };
        let section = desk.section(leg);
        let mut node = Node {
            station,
            before: Ok(Length::ZERO),
            after: Ok(Length::ZERO),
            words: "joint".to_owned(),
            joined: true,
            plain: fittings.is_empty(),
            places: Vec::new(),
        };
        let tees = fittings
            .iter()
            .filter(|(kind, _)| matches!(kind, FittingKind::Tee(_)))
            .count();
        for (kind, span) in fittings {
            match kind {
                FittingKind::Unit => {
                    node.after = desk.adapter(trunk, route);
                    "adapter".clone_into(&mut node.words);
                }
                FittingKind::Start => {
                    node.after = half_of_parent_tee(desk, trunk);
                    node.words = trunk.parent.as_ref().map_or_else(
                        || "tee".to_owned(),
                        |(parent, _)| format!("tee in {parent}"),
                    );
                    if let (Ok(from), Ok(own)) = (parent_section(desk, trunk), section.clone())
                        && from != own
                    {
                        let reducer = desk.count_fitting(
                            TrunkFittingType::Reducer,
                            Ok(from),
                            Some(own),
                            route,
                            span,
                        );
                        node.after = sum(node.after, reducer);
                    }
                }
                FittingKind::Tee(name) => {
                    let tee = desk.count_fitting(
                        TrunkFittingType::Tee,
                        section.clone(),
                        None,
                        route,
                        span,
                    );
                    let half = if tees > 1 {
                        Err("two branches leave here, and the catalog holds no cross".to_owned())
                    } else {
                        tee.map(Length::half)
                    };
                    node.before.clone_from(&half);
                    node.after = half;
                    node.words = format!("tee {name}");
                }
                // A trunk that turns at a tee turns by the tee.
                FittingKind::Elbow if tees > 0 => {}
                FittingKind::Elbow => {
                    let elbow = desk.count_fitting(
                        TrunkFittingType::Elbow,
                        section.clone(),
                        None,
                        route,
                        span,
                    );
                    node.before.clone_from(&elbow);
                    node.after = elbow;
                    "elbow".clone_into(&mut node.words);
                }
                FittingKind::Cap => {
                    let cap = desk.count_fitting(
                        TrunkFittingType::Cap,
                        section.clone(),
                        None,
                        route,
                        span,
                    );
                    if tees == 0 {
                        node.before = cap;
                        "end cap".clone_into(&mut node.words);
                    }
                }
                FittingKind::End => {
                    if tees == 0 {
                        node.joined = false;
                        "open end".clone_into(&mut node.words);
                    }
                }
            }
        }
        if let (Some(before), Some(behind)) = (leg_before, leg_behind)
            && let (Ok(from), Ok(to)) = (desk.section(before), desk.section(behind))
            && from != to
        {
            let reducer = desk.count_fitting(
                TrunkFittingType::Reducer,
                Ok(from),
                Some(to),
                route,
                behind.span,
            );
            node.after = sum(node.after, reducer);
            if node.plain {
                node.plain = false;
                "reducer".clone_into(&mut node.words);
            }
        }
        node.places = std::mem::take(&mut desk.looked_up);
        nodes.push(node);
    }
    nodes
}

fn sum(a: Result<Length, String>, b: Result<Length, String>) -> Result<Length, String> {
    Ok(a? + b?)
}

fn parent_section(desk: &Desk<'_>, trunk: &Trunk) -> Result<Section, String> {
    let (name, station) = trunk
        .parent
        .as_ref()
        .ok_or_else(|| "the branch leaves no trunk".to_owned())?;
    let leg = desk
        .model
        .trunks
        .get(name)
        .and_then(|parent| parent.leg_at(*station))
        .ok_or_else(|| format!("the place on `{name}` is not known"))?;
    desk.section(leg)
}

/// A tee has three equal ends: from its middle to the branch is half its length.
fn half_of_parent_tee(desk: &mut Desk<'_>, trunk: &Trunk) -> Result<Length, String> {
    let section = parent_section(desk, trunk)?;
    let tee = desk.trunk_fitting(TrunkFittingType::Tee, section, None)?;
    desk.look_up(&tee);
    Ok(tee.length.half())
}
