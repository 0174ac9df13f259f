//! Where each unit works: its circuit solved for every tap in summer, for the set tap in winter and with a dirty filter.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::model::{AirHandler, Model, Run};
use crate::quantity::{AirFlow, Pressure, Velocity};
use crate::source::Span;
use crate::systems::{Purpose, taps};

use super::answer::{Asked, answer};
use super::back::{self, Dirt, Filter};
use super::gap::Gap;
use super::network::Circuit;
use super::supply;
use super::weather::{Season, SeasonAir, no_air, season_air};
use super::zone::{Zoned, each_alone};

/// One solved operating point.
#[derive(Clone, Debug)]
pub(in crate::systems) struct Point {
    /// Through the blower.
    pub(in crate::systems) airflow: AirFlow,
    /// Pressure in the plenum above the rooms'.
    pub(in crate::systems) plenum: Pressure,
    /// Suction at the return opening below the rooms'.
    pub(in crate::systems) back: Pressure,
    /// What is left over, as a share of the largest pressure.
    pub(in crate::systems) residual: f64,
    /// Flow of each segment.
    pub(in crate::systems) flows: Vec<AirFlow>,
    /// Coefficient of each segment.
    pub(in crate::systems) minor: Vec<f64>,
    /// Tap's words.
    pub(super) rests: Vec<(Span, String)>,
}

/// What is asked of a circuit.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Question {
    pub(super) tap: String,
    pub(super) winter: bool,
    pub(super) dirty: bool,
}

/// A unit with its circuit and answers.
#[derive(Clone, Debug)]
pub(in crate::systems) struct UnitAir {
    /// Its name.
    pub(in crate::systems) unit: String,
    /// The circuit, or why there is none.
    pub(super) circuit: Result<Circuit, Gap>,
    /// The own filter's place, when it is the one that gets dirty.
    pub(super) own_filter: Option<(Filter, Span)>,
    pub(super) answers: BTreeMap<Question, Result<Point, Gap>>,
    /// Runs that their orifice starves, with the tightest orifice that does not, solved anew; none when none does.
    pub(super) starved: Vec<(String, Option<String>)>,
    /// Its zones, each alone at the set tap, then at that of the first stage, where it has one.
    pub(super) zones: Vec<Zoned>,
}

impl UnitAir {
    pub(super) fn answer(
        &self,
        tap: &str,
        season: Season,
        dirt: Dirt,
    ) -> Option<&Result<Point, Gap>> {
        self.answers.get(&Question {
            tap: tap.to_owned(),
            winter: season == Season::Winter,
            dirty: dirt == Dirt::AtChange,
        })
    }

    /// Stretches of a trunk with their flow at a point: from station, to station, flow, velocity.
    pub(in crate::systems) fn trunk<'a>(
        &'a self,
        point: &'a Point,
        trunk: &'a str,
    ) -> impl Iterator<
        Item = (
            crate::quantity::Length,
            crate::quantity::Length,
            AirFlow,
            Velocity,
        ),
    > + 'a {
        self.circuit.as_ref().into_iter().flat_map(move |circuit| {
            circuit
                .trunk_segments
                .iter()
                .filter(move |(name, ..)| name == trunk)
                .filter_map(move |(_, from, to, segment)| {
                    let (flow, velocity) = circuit.flow_in(point, *segment)?;
                    Some((*from, *to, flow, velocity))
                })
        })
    }
}

impl Circuit {
    /// Flow and mean velocity in a segment.
    pub(super) fn flow_in(&self, point: &Point, segment: usize) -> Option<(AirFlow, Velocity)> {
        let flow = *point.flows.get(segment)?;
        Some((flow, self.segments.get(segment)?.section.velocity(flow)))
    }
}

/// All units of a job; `warmed` is what winter's supply air is warmed to, where that is known.
pub(in crate::systems) fn solve_all(
    model: &Model,
    catalog: &Catalog,
    warmed: Option<f64>,
    purpose: Purpose,
) -> Vec<UnitAir> {
    let airs = [Season::Summer, Season::Winter].map(|season| season_air(model, season, warmed));
    model
        .air_handlers
        .values()
        .map(|unit| one((model, catalog, purpose), unit, &airs))
        .collect()
}

fn circuit(
    model: &Model,
    catalog: &Catalog,
    (unit, open): (&AirHandler, &dyn Fn(&Run) -> bool),
    own: bool,
) -> Result<Circuit, Gap> {
    let mut circuit = Circuit::new();
    supply::build(model, catalog, (unit, open), &mut circuit)?;
    circuit.add_returns(back::returns(model, catalog, unit)?, unit, own);
    circuit.join();
    Ok(circuit)
}

fn one(
    (model, catalog, purpose): (&Model, &Catalog, Purpose),
    unit: &AirHandler,
    [summer, winter]: &[Option<SeasonAir>; 2],
) -> UnitAir {
    let clean = circuit(model, catalog, (unit, &|_| true), false);
    let filtered = clean
        .as_ref()
        .is_ok_and(|c| c.returns.iter().any(|(back, _)| back.filter.is_some()));
    let own_filter = back::own_filter(unit).filter(|_| !filtered);
    let vent = ventilation(model, unit);
    let mut answers = BTreeMap::new();
    let set = unit.tap.as_ref().map(|tap| tap.value.as_str());
    if let Ok(clean) = &clean {
        let dirty_circuit = if clean.returns.is_empty() && own_filter.is_some() {
            circuit(model, catalog, (unit, &|_| true), true).ok()
        } else {
            None
        };
        let mut put = |name: &str, season: Season, dirt: Dirt, start: Option<&Point>| {
            let air = match season {
                Season::Summer => summer,
                Season::Winter => winter,
            };
            let circuit = match (&dirty_circuit, dirt) {
                (Some(circuit), Dirt::AtChange) => circuit,
                _ => clean,
            };
            let answer = answer(&Asked {
                unit,
                tap: name,
                circuit,
                air: air.as_ref().ok_or(no_air(model)),
                dirt,
                own: own_filter.as_ref().map(|(filter, _)| filter),
                vent,
                start,
                near: start.is_some() && !(set == Some(name) && season == Season::Summer),
            });
            let found = answer.as_ref().ok().cloned();
            let question = Question {
                tap: name.to_owned(),
                winter: season == Season::Winter,
                dirty: dirt == Dirt::AtChange,
            };
            answers.insert(question, answer);
            found
        };
        let mut last: Option<Point> = None;
        for name in taps::wanted(unit, purpose) {
            let found = put(name, Season::Summer, Dirt::Clean, last.as_ref());
            if set == Some(name) {
                put(name, Season::Winter, Dirt::Clean, found.as_ref());
                // The dirty filter's circuit may have a segment more.
                let start = found.as_ref().filter(|_| dirty_circuit.is_none());
                put(name, Season::Summer, Dirt::AtChange, start);
            }
            last = found.or(last);
        }
    }
    let mut found = UnitAir {
        unit: unit.name.clone(),
        circuit: clean,
        own_filter,
        answers,
        starved: Vec::new(),
        zones: Vec::new(),
    };
    // Which orifice would do instead is only said in a report.
    if purpose == Purpose::Printing
        && let (Ok(circuit), Some(set)) = (&found.circuit, set)
        && let Some(Ok(point)) = found.answer(set, Season::Summer, Dirt::Clean)
    {
        let asked = Asked {
            unit,
            tap: set,
            circuit,
            air: summer.as_ref().ok_or(no_air(model)),
            dirt: Dirt::Clean,
            own: None,
            vent,
            start: Some(point),
            near: true,
        };
        let starved = starved(catalog, &asked, point);
        let alone = |tap| {
            each_alone(model, &unit.name, |open| {
                let circuit = self::circuit(model, catalog, (unit, open), false)?;
                let alone = Asked {
                    tap,
                    circuit: &circuit,
                    start: None,
                    near: false,
                    ..asked
                };
                let point = answer(&alone)?;
                Ok((circuit, point))
            })
        };
        let mut zones = alone(set);
        if let Some(first) = &unit.first_stage_tap {
            zones.extend(alone(&first.value).into_iter().map(|mut zone: Zoned| {
                zone.first_stage = Some(first.span);
                zone
            }));
        }
        (found.starved, found.zones) = (starved, zones);
    }
    found
}

/// Runs that an orifice starves, each with the tightest orifice of the catalog, or none at all, that leaves it the
/// least that its tube is made for.
fn starved(catalog: &Catalog, asked: &Asked<'_>, point: &Point) -> Vec<(String, Option<String>)> {
    let mut out = Vec::new();
    for part in &asked.circuit.runs {
        let (Some(own), Some((least, _))) = (part.orifice, part.least) else {
            continue;
        };
        let flow = point.flows.get(part.segment).copied().unwrap_or_default();
        if flow >= least {
            continue;
        }
        let mut wider: Vec<(f64, &str)> = catalog
            .orifices
            .iter()
            .filter(|(_, item)| item.tube.get() == Some(part.inside))
            .filter_map(|(name, item)| Some((item.loss.get()?.0, name.as_str())))
            .filter(|(loss, _)| *loss < own)
            .collect();
        wider.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
        wider.push((0.0, "none"));
        let better = wider.into_iter().find(|(loss, _)| {
            let mut circuit = asked.circuit.clone();
            if let Some(link) = circuit.links.get_mut(part.segment) {
                link.fixed += loss - own;
            }
            let changed = Asked {
                circuit: &circuit,
                ..*asked
            };
            answer(&changed).is_ok_and(|point| {
                point
                    .flows
                    .get(part.segment)
                    .is_some_and(|flow| *flow >= least)
            })
        });
        out.push((part.name.clone(), better.map(|(_, name)| name.to_owned())));
    }
    out
}

/// Outdoor air brought into the return opening, cfm.
fn ventilation(model: &Model, unit: &AirHandler) -> f64 {
    model
        .blocks("ventilation")
        .filter(|entry| {
            let port = entry.text("port").known();
            port.is_some_and(|port| port.value.split('.').next() == Some(unit.name.as_str()))
        })
        .filter_map(|entry| entry.child("flow")?.real("flow").known())
        .map(|flow| flow.value.max(0.0))
        .sum()
}
