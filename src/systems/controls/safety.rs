//! What can trip: safeties inside the air handlers, and switches with leads of their own.

use crate::catalog::{Call, Catalog, Fitted, SafetyType, Stated};
use crate::model::{AirHandler, Model};
use crate::source::Span;

use super::netlist::Netlist;
use super::owner::handlers_of;

/// A safety of the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Safety {
    /// Its name in the catalog, or the switch's name in the job.
    pub name: String,
    /// The air handlers that it watches over; one for a safety inside it.
    pub units: Vec<String>,
    /// What it watches; none for a switch that no catalog holds.
    pub watches: Option<SafetyType>,
    /// Where the catalog or the job names it.
    pub span: Span,
    /// The output terminals that go dead when it trips.
    pub(super) stops: Vec<usize>,
    /// The calls that go dead when it trips.
    pub stopped: Vec<Call>,
    /// Whether the blower runs on while it has tripped; none for a switch with leads, whose unit says so.
    pub blower_runs: Option<bool>,
    /// The terminals between which a switch is wired, or a jumper.
    pub(super) loop_ends: Option<[usize; 2]>,
    /// The leads of a switch.
    pub(super) leads: Option<[usize; 2]>,
    /// Whether the leads conduct while it has tripped.
    pub(super) conducts_tripped: Option<bool>,
}

impl Safety {
    /// Whether it sits in the unit and needs no field wire.
    pub const fn is_built_in(&self) -> bool {
        self.loop_ends.is_none() && self.leads.is_none()
    }

    /// Whether it can trip by itself: a pair of terminals trips with the switch that is wired to it.
    pub const fn can_trip(&self) -> bool {
        self.loop_ends.is_none()
    }

    /// Whether it is a switch with leads of its own.
    pub const fn has_leads(&self) -> bool {
        self.leads.is_some()
    }

    /// As reports name it: `freeze cut-out` of `ah`, or the switch by its own name.
    pub fn words(&self) -> String {
        match (self.leads, self.units.first()) {
            (None, Some(unit)) => format!("the {} of `{unit}`", self.name),
            _ => format!("`{}`", self.name),
        }
    }

    fn of_unit(net: &Netlist, unit: &AirHandler) -> Vec<Self> {
        let number = |name: &str| net.number(&format!("{}.{name}", unit.name));
        unit.sheet
            .safeties
            .iter()
            .filter(|(name, safety)| {
                safety.fitted.get() != Some(Fitted::Optional)
                    || safety.terminals.is_some()
                    || unit.fitted.iter().any(|part| part.value == **name)
            })
            .map(|(name, safety)| {
                let numbers = |list: &[Stated<String>]| -> Vec<usize> {
                    list.iter()
                        .filter_map(Stated::get)
                        .filter_map(|terminal| number(&terminal))
                        .collect()
                };
                let stops = numbers(&safety.stops);
                let stopped = stops
                    .iter()
                    .filter_map(|n| net.at(*n)?.call())
                    .map(|(_, call)| call)
                    .collect();
                let ends = safety.terminals.as_deref().map(numbers);
                Self {
                    name: name.clone(),
                    units: vec![unit.name.clone()],
                    watches: safety.type_of.get(),
                    span: safety.span,
                    stops,
                    stopped,
                    blower_runs: safety.blower_runs.get(),
                    loop_ends: ends.and_then(|ends| <[usize; 2]>::try_from(ends).ok()),
                    leads: None,
                    conducts_tripped: None,
                }
            })
            .collect()
    }

    /// Every safety of the job, those inside its units first.
    pub(super) fn all(net: &Netlist, model: &Model, catalog: &Catalog) -> Vec<Self> {
        let mut out: Vec<Self> = model
            .air_handlers
            .values()
            .flat_map(|unit| Self::of_unit(net, unit))
            .collect();
        for switch in &net.switches {
            let Some(unit) = model.equipment.get(&switch.unit) else {
                continue;
            };
            let float = unit
                .model
                .as_ref()
                .and_then(|model| catalog.float_switches.get(&model.value));
            let watches = (float.is_some() || unit.kind == "pump").then_some(SafetyType::Float);
            out.push(Self {
                name: unit.name.clone(),
                units: handlers_of(model, &unit.name),
                watches,
                span: unit.span,
                stops: Vec::new(),
                stopped: match watches {
                    Some(_) => vec![Call::Cool, Call::Cool2],
                    None => Vec::new(),
                },
                blower_runs: None,
                loop_ends: None,
                leads: Some(switch.leads),
                conducts_tripped: Some(switch.conducts_tripped),
            });
        }
        out
    }
}
