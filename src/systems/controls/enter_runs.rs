//! Enters the truth table as crew and service read it: what runs at each call, what each safety stops, what runs when
//! a contact sticks, and the voltage at each load.

use crate::catalog::{CallSide, Catalog};
use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::physics::switching::Rest;
use crate::quantity::Dimension;

use super::circuit::Circuit;
use super::netlist::Netlist;
use super::owner::handlers_of;
use super::table::{Case, Failure};

const BY_RUNNING: &str = "the wiring run as switches and loads to its rest";

/// A name as it stands in a figure's id.
pub fn slug(name: &str) -> String {
    name.to_lowercase().replace(' ', "-")
}

/// Names in a row; `nothing` where there are none.
pub(super) fn listed(words: &[String]) -> String {
    if words.is_empty() {
        "nothing".to_owned()
    } else {
        words.join(", ")
    }
}

impl Circuit<'_> {
    /// The id of what a safety does: `control.pan-float`, `control.ah.freeze-cut-out`.
    pub fn safety_id(&self, safety: usize) -> Option<String> {
        let safety = self.safeties.get(safety)?;
        Some(match safety.units.first() {
            Some(unit) if !safety.has_leads() => format!("control.{unit}.{}", slug(&safety.name)),
            _ => format!("control.{}", slug(&safety.name)),
        })
    }

    /// The loads that are fed: call terminals outside and inside, and relays that start something of line voltage.
    fn running(&self, rest: &Rest) -> Vec<usize> {
        (0..self.loads.len())
            .filter(|n| rest.steady && rest.fed.get(*n) == Some(&true))
            .filter(|n| {
                self.loads
                    .get(*n)
                    .is_some_and(|load| load.wanted().is_some())
            })
            .collect()
    }

    fn names(&self, loads: &[usize]) -> Vec<String> {
        loads
            .iter()
            .filter_map(|n| self.net.at(self.loads.get(*n)?.at))
            .map(|point| point.name.clone())
            .collect()
    }

    /// What runs outside the air handlers.
    fn outside(&self, rest: &Rest, model: &Model) -> Vec<String> {
        self.names(&self.running(rest))
            .into_iter()
            .filter(|name| {
                let unit = name.split_once('.').map_or("", |(unit, _)| unit);
                !model.air_handlers.contains_key(unit)
            })
            .collect()
    }

    /// What runs at some call and does not while one safety is open.
    fn stopped_by(&self, safety: usize, model: &Model, alone: &[Case]) -> Vec<String> {
        let mut out: Vec<String> = Vec::new();
        for case in alone {
            let open = Case {
                tripped: vec![safety],
                ..case.clone()
            };
            let left = self.outside(&self.rest_of(&self.drawn, &open), model);
            for name in self.outside(&self.rest_of(&self.drawn, case), model) {
                if !left.contains(&name) && !out.contains(&name) {
                    out.push(name);
                }
            }
        }
        out
    }

    fn blowers(&self, model: &Model, case: &Case, rest: &Rest) -> String {
        let on: Vec<String> = model
            .air_handlers
            .keys()
            .filter(|unit| self.blower_runs(model, unit, case, rest) == Some(true))
            .cloned()
            .collect();
        listed(&on)
    }
}

/// Enters the table. Each call alone; the safeties one by one.
pub(super) fn enter(net: &Netlist, model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    let circuit = Circuit::of(net, model, catalog);
    let alone: Vec<Case> = (0..circuit.states.len())
        .map(|n| Case {
            calls: if n == 0 { Vec::new() } else { vec![n] },
            ..Case::default()
        })
        .collect();
    for (state, case) in circuit.states.iter().zip(&alone) {
        let thermostat = state.thermostat.as_deref().unwrap_or("thermostats");
        let rest = circuit.rest_of(&circuit.drawn, case);
        let id = format!("control.{thermostat}.blower-on-{}", state.word);
        ledger.enter(
            Figure::text(id, circuit.blowers(model, case, &rest))
                .formula(
                    "air handlers whose blower runs while this call alone is up, no safety open",
                )
                .source(BY_RUNNING),
        );
    }
    enter_never_called(&circuit, ledger);
    enter_safeties(&circuit, model, &alone, ledger);
    enter_failures(&circuit, model, &alone, ledger);
    let ohms = circuit.ohms(model, catalog);
    for lowest in circuit.lowest_volts(&ohms, &circuit.calls_alone()) {
        let point = circuit
            .loads
            .get(lowest.load)
            .and_then(|load| net.at(load.at));
        let Some(point) = point else { continue };
        ledger.enter(
            Figure::number(
                format!("control.{}.volts", slug(&point.name)),
                lowest.volts,
                Dimension::Voltage,
            )
            .formula("24 V less what conductors lose while it pulls in, at the call that loads them most")
            .source("Kirchhoff's laws; NEC chapter 9 table 8 for copper at 75 °C"),
        );
    }
}

/// Enters for each unit the terminals that take a call and get none, whoever calls.
fn enter_never_called(circuit: &Circuit<'_>, ledger: &mut Ledger) {
    let mut units: Vec<(&str, Vec<String>)> = Vec::new();
    for (n, point) in circuit.net.points() {
        let (Some(unit), Some((CallSide::In, _))) = (point.unit(), point.call()) else {
            continue;
        };
        let load = circuit.loads.iter().position(|load| load.at == n);
        if load.is_some_and(|load| circuit.is_ever_fed(load)) {
            continue;
        }
        match units.iter_mut().find(|(known, _)| *known == unit) {
            Some((_, list)) => list.push(point.name.clone()),
            None => units.push((unit, vec![point.name.clone()])),
        }
    }
    for (unit, list) in units {
        ledger.enter(
            Figure::text(format!("control.{unit}.never-called"), listed(&list))
                .formula("terminals that take a call and are fed at none, whoever calls")
                .source(BY_RUNNING),
        );
    }
}

fn enter_safeties(circuit: &Circuit<'_>, model: &Model, alone: &[Case], ledger: &mut Ledger) {
    for (n, safety) in circuit.safeties.iter().enumerate() {
        let (true, Some(id)) = (safety.can_trip(), circuit.safety_id(n)) else {
            continue;
        };
        let mut kept: Vec<String> = Vec::new();
        let mut blown: Vec<String> = Vec::new();
        let stopped = circuit.stopped_by(n, model, alone);
        for case in alone {
            let before = circuit.rest_of(&circuit.drawn, case);
            let open = Case {
                tripped: vec![n],
                ..case.clone()
            };
            let after = circuit.rest_of(&circuit.drawn, &open);
            for name in circuit.outside(&after, model) {
                let unit = name.split_once('.').map_or("", |(unit, _)| unit);
                let own = handlers_of(model, unit)
                    .iter()
                    .any(|unit| safety.units.contains(unit));
                if own && !kept.contains(&name) && !stopped.contains(&name) {
                    kept.push(name);
                }
            }
            for unit in model.air_handlers.keys() {
                let ran = circuit.blower_runs(model, unit, case, &before) == Some(true);
                let runs = circuit.blower_runs(model, unit, &open, &after) == Some(true);
                if ran && !runs && !blown.contains(unit) {
                    blown.push(unit.clone());
                }
            }
        }
        for (what, value, formula) in [
            (
                "stops",
                listed(&stopped),
                "what runs at some call and does not while it is open",
            ),
            (
                "leaves",
                listed(&kept),
                "what of its own air handlers runs at some call and still does while it is open",
            ),
            (
                "stops-blower",
                listed(&blown),
                "air handlers whose blower stands still while it is open",
            ),
        ] {
            ledger.enter(
                Figure::text(format!("{id}.{what}"), value)
                    .formula(formula)
                    .place(safety.span, safety.name.clone())
                    .source(BY_RUNNING),
            );
        }
    }
}

fn enter_failures(circuit: &Circuit<'_>, model: &Model, alone: &[Case], ledger: &mut Ledger) {
    let stopped: Vec<Vec<String>> = (0..circuit.safeties.len())
        .map(|n| {
            let trips = circuit.safeties.get(n).is_some_and(super::Safety::can_trip);
            if trips {
                circuit.stopped_by(n, model, alone)
            } else {
                Vec::new()
            }
        })
        .collect();
    for (n, mover) in circuit.movers.iter().enumerate() {
        let failed = |welded| Some(Failure { mover: n, welded });
        // What it starts at line voltage follows its contact.
        let line: Vec<String> = model
            .water
            .circulators
            .values()
            .filter(|one| one.relay.as_ref().is_some_and(|by| by.value == mover.name))
            .map(|one| one.name.clone())
            .collect();
        let (mut at_rest, mut lost) = (line.clone(), line.clone());
        let mut past: Vec<(String, Vec<String>)> = Vec::new();
        for (place, case) in alone.iter().enumerate() {
            let run = |tripped: Vec<usize>, failed| {
                let case = Case {
                    calls: case.calls.clone(),
                    tripped,
                    failed,
                };
                circuit.outside(&circuit.rest_of(&circuit.drawn, &case), model)
            };
            if place == 0 {
                at_rest.extend(run(Vec::new(), failed(true)));
            }
            let left = run(Vec::new(), failed(false));
            for name in run(Vec::new(), None) {
                if !left.contains(&name) && !lost.contains(&name) {
                    lost.push(name);
                }
            }
            for (safety, stops) in stopped.iter().enumerate() {
                let name = circuit.safeties.get(safety).map_or_else(String::new, plain);
                let sound = run(vec![safety], None);
                for one in run(vec![safety], failed(true)) {
                    if !stops.contains(&one) || sound.contains(&one) {
                        continue;
                    }
                    match past.iter_mut().find(|(load, _)| *load == one) {
                        Some((_, list)) if list.contains(&name) => {}
                        Some((_, list)) => list.push(name.clone()),
                        None => past.push((one, vec![name.clone()])),
                    }
                }
            }
        }
        let past: Vec<String> = past
            .into_iter()
            .map(|(load, names)| format!("{load} past {}", names.join(" and ")))
            .collect();
        let id = format!("control.{}", slug(&mover.name));
        for (what, value, formula) in [
            (
                "welded-runs",
                listed(&at_rest),
                "what runs with no call while its contacts are welded",
            ),
            (
                "welded-passes",
                listed(&past),
                "what runs on with a safety open that stops it else, while its contacts are welded",
            ),
            (
                "open-loses",
                listed(&lost),
                "what no longer runs while it does not pull in",
            ),
        ] {
            ledger.enter(
                Figure::text(format!("{id}.{what}"), value)
                    .formula(formula)
                    .source(BY_RUNNING),
            );
        }
    }
}

/// A safety by its name, and its unit where it sits in one.
fn plain(safety: &super::Safety) -> String {
    match safety.units.first() {
        Some(unit) if !safety.has_leads() => format!("{} of {unit}", safety.name),
        _ => safety.name.clone(),
    }
}
