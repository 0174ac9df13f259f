//! Volts at each load: conductors by length and gauge, loads by their volt-amperes at 24 V, contacts without
//! resistance. Solved once for each distinct set of closed contacts.
//!
//! Volt-amperes are taken as in phase, which makes the loss in a conductor the greatest that it can be.

use std::collections::BTreeMap;

use crate::catalog::{Catalog, Role, Stated, Terminal};
use crate::model::Model;
use crate::physics::conductor::{Size, Stranding, resistance};
use crate::physics::potential::{Resistance, potentials};
use crate::physics::switching::Rest;
use crate::quantity::{ApparentPower, Voltage};

use super::circuit::{Circuit, Load};
use super::table::Case;

/// Volts of a control transformer: the nominal of the trade.
pub const CONTROL_VOLTS: f64 = 24.0;

/// What a load takes and needs, as its catalog says.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Draw {
    /// Volt-amperes while it is held in.
    pub held: Option<f64>,
    /// Volt-amperes while it pulls in.
    pub pulling: Option<f64>,
    /// Least volts at which it pulls in.
    pub pulls_at: Option<f64>,
    /// Least volts that hold it in.
    pub holds_at: Option<f64>,
}

/// The lowest volts at a load.
#[derive(Clone, Debug, PartialEq)]
pub struct Lowest {
    /// The number of the load.
    pub load: usize,
    /// Volts at it.
    pub volts: f64,
    /// The case that shows it.
    pub case: Case,
}

/// What the wiring is made of, for its volts.
#[derive(Clone, Debug)]
pub struct Ohms {
    /// Ohms of each join; none for one without resistance.
    joins: Vec<Option<f64>>,
    /// What each load draws.
    draws: Vec<Draw>,
    /// Cables whose length or gauge is not known.
    pub unknown: Vec<String>,
}

/// Potentials of the points of a circuit.
pub(super) struct Levels {
    /// Points joined without resistance have one number.
    number: Vec<usize>,
    /// The potential of each number against the common of each source.
    by_source: Vec<Vec<Option<f64>>>,
}

impl Levels {
    /// Volts that a source makes across a load; none where the load does not hang on it by both ends.
    pub(super) fn across(&self, source: usize, load: &Load) -> Option<f64> {
        let levels = self.by_source.get(source)?;
        let at = |point: usize| levels.get(*self.number.get(point)?).copied().flatten();
        Some((at(load.at)? - at(load.back)?).abs())
    }
}

impl Ohms {
    /// What each load draws.
    pub fn draws(&self) -> &[Draw] {
        &self.draws
    }
}

fn draw_of(circuit: &Circuit<'_>, load: &Load, model: &Model, catalog: &Catalog) -> Draw {
    let va = |stated: Option<&Stated<ApparentPower>>| {
        stated.and_then(Stated::get).map(ApparentPower::value)
    };
    let volts = |stated: Option<&Stated<Voltage>>| stated.and_then(Stated::get).map(Voltage::value);
    let Some(point) = circuit.net.at(load.at) else {
        return Draw::default();
    };
    let (Some(unit), Some((_, name))) = (point.unit(), point.name.split_once('.')) else {
        return Draw::default();
    };
    let of_terminal = |terminal: Option<&Terminal>| Draw {
        held: va(terminal.and_then(|terminal| terminal.load.as_ref())),
        pulling: va(terminal.and_then(|terminal| terminal.in_rush.as_ref())),
        pulls_at: volts(terminal.and_then(|terminal| terminal.pulls_at.as_ref())),
        holds_at: volts(terminal.and_then(|terminal| terminal.holds_at.as_ref())),
    };
    if let Some(handler) = model.air_handlers.get(unit) {
        return of_terminal(handler.sheet.control.get(name));
    }
    let named = model
        .equipment
        .get(unit)
        .and_then(|unit| unit.model.as_ref())
        .map(|model| model.value.as_str());
    if load.relay.is_some() {
        let sheet = named.and_then(|named| catalog.relays.get(named));
        return Draw {
            held: va(sheet.map(|sheet| &sheet.coil)),
            pulling: va(sheet.and_then(|sheet| sheet.in_rush.as_ref())),
            pulls_at: volts(sheet.and_then(|sheet| sheet.pulls_at.as_ref())),
            holds_at: volts(sheet.and_then(|sheet| sheet.holds_at.as_ref())),
        };
    }
    if point.role() == Some(Role::PowerIn) {
        let sheet = named.and_then(|named| catalog.thermostats.get(named));
        return Draw {
            held: va(sheet.map(|sheet| &sheet.load)),
            ..Draw::default()
        };
    }
    let terminals = model
        .equipment
        .get(unit)
        .and_then(|unit| unit.terminals.as_ref());
    of_terminal(terminals.and_then(|terminals| terminals.get(name)))
}

impl Circuit<'_> {
    /// The resistances of the conductors, copper, solid, at 75 °C, NEC chapter 9 table 8, and what the loads draw.
    pub fn ohms(&self, model: &Model, catalog: &Catalog) -> Ohms {
        let mut joins: Vec<Option<f64>> = vec![None; self.network.joins.len()];
        let mut unknown = Vec::new();
        for cable in model.cables.values() {
            let gauge = cable
                .item
                .as_ref()
                .and_then(|item| catalog.cables.get(&item.value))
                .and_then(|sheet| sheet.gauge.get())
                .and_then(Size::awg);
            let a_foot = gauge
                .and_then(|size| resistance(size, Stranding::Solid))
                .map(|ohms| ohms.value() / 1000.0);
            let feet = cable.measured.as_ref().map(|length| length.value.to_feet());
            let (Some(a_foot), Some(feet)) = (a_foot, feet) else {
                unknown.push(cable.name.clone());
                continue;
            };
            // A conductor is two joins; all its resistance sits in the first.
            let prefix = format!("{}.", cable.name);
            let mut done: Vec<usize> = Vec::new();
            for (n, join) in self.net.joins().iter().enumerate() {
                let wire = self.net.wire_side(join);
                let own = self
                    .net
                    .at(wire)
                    .is_some_and(|point| point.unit().is_none() && point.name.starts_with(&prefix));
                if own && join.words.is_some() && !done.contains(&wire) {
                    done.push(wire);
                    if let Some(slot) = joins.get_mut(n) {
                        *slot = Some((a_foot * feet).max(1e-9));
                    }
                }
            }
        }
        Ohms {
            joins,
            draws: self
                .loads
                .iter()
                .map(|load| draw_of(self, load, model, catalog))
                .collect(),
            unknown,
        }
    }

    /// The points as numbered with these contacts closed, those joined without resistance under one number, and the
    /// potential of each against the common of each source while each load takes the volt-amperes `va`.
    pub(super) fn levels(
        &self,
        closed: &[bool],
        ohms: &Ohms,
        va: impl Fn(usize) -> Option<f64>,
    ) -> Levels {
        let mut number: Vec<usize> = (0..self.size).collect();
        let find = |number: &[usize], point: usize| {
            let mut at = point;
            while let Some(up) = number.get(at).copied().filter(|up| *up != at) {
                at = up;
            }
            at
        };
        let joins = || self.network.joins.iter().zip(&ohms.joins);
        let bare = joins()
            .filter(|(_, ohms)| ohms.is_none())
            .map(|(ends, _)| *ends);
        let shut = self
            .network
            .contacts
            .iter()
            .zip(closed)
            .filter(|(_, closed)| **closed)
            .map(|(contact, _)| contact.ends);
        for [one, other] in bare.chain(shut) {
            let (one, other) = (find(&number, one), find(&number, other));
            if let Some(slot) = number.get_mut(one.max(other)) {
                *slot = one.min(other);
            }
        }
        let number: Vec<usize> = (0..self.size).map(|point| find(&number, point)).collect();
        let both = |ends: [usize; 2]| ends.map(|end| number.get(end).copied().unwrap_or(end));
        let mut resistances: Vec<Resistance> = joins()
            .filter_map(|(ends, ohms)| {
                Some(Resistance {
                    ends: both(*ends),
                    ohms: (*ohms)?,
                })
            })
            .collect();
        for (n, load) in self.loads.iter().enumerate() {
            if let Some(va) = va(n).filter(|va| *va > 0.0) {
                resistances.push(Resistance {
                    ends: both([load.at, load.back]),
                    ohms: CONTROL_VOLTS * CONTROL_VOLTS / va,
                });
            }
        }
        resistances.retain(|resistance| resistance.ends[0] != resistance.ends[1]);
        let by_source = self
            .sources
            .iter()
            .map(|source| {
                let sides = both([source.hot, source.cold]);
                potentials(self.size, &resistances, sides, CONTROL_VOLTS)
            })
            .collect();
        Levels { number, by_source }
    }

    /// Volts at each load with these contacts closed, by the source that feeds it; `pulling` is the load that pulls in. None for a load that hangs
    /// on no source.
    fn volts(&self, rest: &Rest, ohms: &Ohms, pulling: usize) -> Vec<Option<f64>> {
        let levels = self.levels(&rest.closed, ohms, |n| {
            let draw = ohms.draws.get(n)?;
            if n == pulling {
                draw.pulling.or(draw.held)
            } else {
                draw.held
            }
        });
        self.loads
            .iter()
            .map(|load| {
                let meets = |point, side| self.drawn.meet(rest, point, side);
                (0..self.sources.len()).find_map(|n| {
                    let source = self.sources.get(n)?;
                    let straight = meets(load.at, source.hot) && meets(load.back, source.cold);
                    let crossed = meets(load.at, source.cold) && meets(load.back, source.hot);
                    (straight || crossed).then(|| levels.across(n, load))?
                })
            })
            .collect()
    }

    /// The lowest volts at each load of all `cases` in which it is fed, itself pulling in: solved once for each
    /// distinct set of closed contacts.
    pub fn lowest_volts(&self, ohms: &Ohms, cases: &[Case]) -> Vec<Lowest> {
        let mut solved: BTreeMap<Vec<bool>, Vec<Option<f64>>> = BTreeMap::new();
        let mut lowest: BTreeMap<usize, Lowest> = BTreeMap::new();
        for case in cases {
            let rest = self.rest_of(&self.drawn, case);
            if !rest.steady || rest.shorted.contains(&true) || solved.contains_key(&rest.closed) {
                continue;
            }
            let mut all = self.volts(&rest, ohms, usize::MAX);
            for (n, fed) in rest.fed.iter().enumerate() {
                let pulls = ohms.draws.get(n).is_some_and(|draw| draw.pulling.is_some());
                let own = (pulls && *fed)
                    .then(|| self.volts(&rest, ohms, n))
                    .and_then(|v| v.get(n).copied());
                if let (Some(own), Some(slot)) = (own, all.get_mut(n)) {
                    *slot = own;
                }
                // What a unit's own transformer feeds inside it has no figure.
                if ohms.draws.get(n).is_none_or(|draw| draw.held.is_none()) {
                    continue;
                }
                if let (true, Some(Some(volts))) = (*fed, all.get(n).copied())
                    && lowest.get(&n).is_none_or(|before| volts < before.volts)
                {
                    let case = case.clone();
                    lowest.insert(
                        n,
                        Lowest {
                            load: n,
                            volts,
                            case,
                        },
                    );
                }
            }
            solved.insert(rest.closed, all);
        }
        lowest.into_values().collect()
    }

    /// Every set of calls with nothing tripped and nothing failed.
    pub fn calls_alone(&self) -> Vec<Case> {
        self.call_sets()
            .into_iter()
            .map(|calls| Case {
                calls,
                ..Case::default()
            })
            .collect()
    }
}
