//! Condensate drains as routes of pipe.

use crate::catalog::{Joint, PipeFittingType};
use crate::model::{Branch, Drain, Mark};
use crate::quantity::trade_length;

use super::desk::{Desk, Draft};
use super::need::Sold;
use super::piece::System;
use super::pipe_route::{self, PipeLeg, PipeMark, PipeRoute};
use super::stock::Shelf;

/// All drains.
pub(super) fn take_off(desk: &mut Desk<'_>) {
    let model = desk.model;
    for drain in model.drains.values() {
        let route = route(desk, drain);
        pipe_route::take_off(desk, &route);
        switches(desk, drain);
        super::hanger::pipe(desk, &route, drain.hangers);
    }
    pumps(desk);
}

/// The tubes of condensate pumps, each in one length, and the check valves beside them.
fn pumps(desk: &mut Desk<'_>) {
    let model = desk.model;
    for pump in model.pumps.values() {
        let words = format!("pump {}", pump.name);
        if let Some(valve) = pump.check_valve {
            let place = Some((valve, "check-valve".to_owned()));
            desk.needs
                .add("check valve", Sold::default(), 1, &words, place);
        }
        let Some(pipe) = &pump.pipe else { continue };
        let (length, places) = match (desk.pipe(Some(pipe)).map(|_| ()), &pump.measured) {
            (Ok(()), Some(measured)) => (
                Ok(measured.value),
                vec![(
                    measured.span,
                    format!("measured {}", trade_length(measured.value)),
                )],
            ),
            (Ok(()), None) => (Err(desk.open_reason(pump.whole, "measured")), Vec::new()),
            (Err(reason), _) => (Err(reason), Vec::new()),
        };
        desk.piece(Draft {
            system: System::Drain,
            route: pump.name.clone(),
            item: pipe.value.clone(),
            shelf: Shelf::Pipe,
            length,
            formula: "length of the tube".to_owned(),
            places,
            source: "geometry",
            from: pump.name.clone(),
            to: pump
                .ending
                .as_ref()
                .map_or_else(|| "open end".to_owned(), |ending| ending.to.value.clone()),
            room: None,
            story: pump.story.clone(),
            span: pump.span,
            field_cut: false,
            removable: false,
            joints: 0,
        });
    }
}

/// The fitting that a branch names, as the catalog sorts it.
fn kind(branch: &Branch) -> PipeFittingType {
    match branch.fitting.value.as_str() {
        "wye" => PipeFittingType::Wye,
        "sanitary-tee" => PipeFittingType::SanitaryTee,
        _ => PipeFittingType::Tee,
    }
}

fn route(desk: &Desk<'_>, drain: &Drain) -> PipeRoute {
    let mut nodes: Vec<Vec<PipeMark>> = vec![Vec::new(); drain.legs.len() + 1];
    for happening in &drain.happenings {
        let span = happening.span;
        let mark = match &happening.mark {
            Mark::Trap { drop, seal } => PipeMark::Trap {
                drop: drop.value,
                seal: seal.value,
                span,
            },
            Mark::Cleanout { branch, .. } => match branch {
                Some(branch) => PipeMark::Cleanout(kind(branch), span),
                None => PipeMark::Fitting(PipeFittingType::Cleanout, span),
            },
            Mark::Vent(height) => PipeMark::Vent(*height, span),
            Mark::Elbow => PipeMark::Fitting(PipeFittingType::Elbow, span),
            // A reducer follows from the pipes of the legs; a float switch takes no length of pipe.
            Mark::Reduce(_) | Mark::FloatSwitch(_) => continue,
        };
        if let Some(node) = nodes.get_mut(happening.after_legs) {
            node.push(mark);
        }
    }
    if let Some(ending) = &drain.ending
        && let Some(branch) = &ending.branch
        && let Some(other) = desk.model.drains.get(&ending.to.value)
        && let Some(node) = nodes.last_mut()
    {
        let pipe = other.pipe.clone();
        node.push(PipeMark::Joins(kind(branch), pipe, branch.fitting.span));
    }
    let legs: Vec<PipeLeg> = drain
        .legs
        .iter()
        .map(|leg| PipeLeg {
            direction: leg.direction,
            length: leg.length,
            pipe: leg.pipe.clone(),
            height: Some(leg.start.z + (leg.end.z - leg.start.z).half()),
            field_cut: false,
            span: leg.span,
        })
        .collect();
    let port = drain.port.value.rsplit('.').next().unwrap_or_default();
    let threaded = desk
        .model
        .air_handlers
        .get(&drain.unit)
        .is_some_and(|unit| {
            let port = unit.sheet.ports.iter().find(|(name, _)| *name == port);
            port.is_some_and(|(_, port)| {
                port.joint.as_ref().and_then(crate::catalog::Stated::get)
                    == Some(Joint::FemaleThread)
            })
        });
    PipeRoute {
        system: System::Drain,
        name: drain.name.clone(),
        legs,
        nodes,
        threaded_start: threaded.then_some(drain.port.span),
        from: drain.port.value.clone(),
        to: drain
            .ending
            .as_ref()
            .map_or_else(|| "open end".to_owned(), |ending| ending.to.value.clone()),
    }
}

fn switches(desk: &mut Desk<'_>, drain: &Drain) {
    for happening in &drain.happenings {
        let Mark::FloatSwitch(model) = &happening.mark else {
            continue;
        };
        let words = format!("drain {}", drain.name);
        let place = Some((happening.span, model.clone()));
        match desk.catalog.float_switches.get(model) {
            Some(switch) => {
                let sold = Sold::at(switch.span, None, None);
                desk.needs.add(model, sold, 1, &words, place);
            }
            None => {
                let reason = format!("no catalog of the job holds the float switch `{model}`");
                desk.needs.add_missing(model, 1, reason, &words, place);
            }
        }
    }
}
