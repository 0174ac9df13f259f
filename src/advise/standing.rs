//! How a job stands: what a search compares before and after a change.

use std::collections::BTreeMap;

use crate::figures::Ledger;
use crate::model::Model;
use crate::source::{Finding, Severity};

/// What a room gets and feels like.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct RoomStanding {
    /// Where it settles when the thermostat's room is satisfied, cooling, °F.
    pub summer: Option<f64>,
    /// The same, heating, °F.
    pub winter: Option<f64>,
    /// Airflow, cfm.
    pub airflow: Option<f64>,
    /// Airflow over what it needs, %.
    pub share: Option<f64>,
}

/// How a job stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    /// Warmest less coolest room, cooling, °F.
    pub spread: Option<f64>,
    /// The same, heating, °F.
    pub spread_winter: Option<f64>,
    /// Rooms by name.
    pub rooms: BTreeMap<String, RoomStanding>,
    /// Findings left, by code.
    pub findings: BTreeMap<&'static str, usize>,
    /// Findings left, by severity: errors, warnings, advice.
    pub counts: [usize; 3],
}

impl Standing {
    /// Reads it off a checked job.
    pub fn of(model: &Model, ledger: &Ledger, findings: &[Finding]) -> Self {
        let rooms = model
            .house
            .rooms
            .keys()
            .map(|name| {
                let real = |quantity: &str| ledger.real(&format!("room.{name}.{quantity}"));
                let room = RoomStanding {
                    summer: real("temperature"),
                    winter: real("temperature@winter"),
                    airflow: real("airflow"),
                    share: real("share"),
                };
                (name.clone(), room)
            })
            .collect();
        let mut out = Self {
            spread: ledger.real("house.spread"),
            spread_winter: ledger.real("house.spread@winter"),
            rooms,
            ..Self::default()
        };
        for finding in findings.iter().filter(|finding| finding.waived.is_none()) {
            *out.findings.entry(finding.kind.code).or_default() += 1;
            let [errors, warnings, advice] = &mut out.counts;
            *match finding.severity {
                Severity::Error => errors,
                Severity::Warning => warnings,
                Severity::Advice => advice,
            } += 1;
        }
        out
    }

    /// How many findings it has beyond those of `before`, code by code.
    pub fn added_to(&self, before: &Self) -> usize {
        self.findings
            .iter()
            .map(|(code, n)| n.saturating_sub(before.findings.get(code).copied().unwrap_or(0)))
            .sum()
    }
}
