//! One question to a circuit: this tap in this air with this filter. The answer is an operating point, or why there is none.

use crate::model::AirHandler;
use crate::physics::network::{Network, Settled, Unsolvable, settle, settle_near};
use crate::quantity::{AirFlow, Dimension, Pressure, show_pair};
use crate::source::Span;

use super::back::{Back, Dirt, Filter};
use super::blower::{Blows, blows};
use super::gap::Gap;
use super::network::{Circuit, PLENUM, RETURN, RunPart};
use super::operating::Point;
use super::split::coefficient;
use super::weather::SeasonAir;

/// What is asked of a circuit.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) unit: &'a AirHandler,
    pub(super) tap: &'a str,
    pub(super) circuit: &'a Circuit,
    pub(super) air: Result<&'a SeasonAir, &'static str>,
    pub(super) dirt: Dirt,
    pub(super) own: Option<&'a Filter>,
    pub(super) vent: f64,
    /// A point nearby, whose coefficients are a good start.
    pub(super) start: Option<&'a Point>,
    /// Whether its flows are one too, and other starts need not be tried.
    pub(super) near: bool,
}

/// Solves one circuit as asked.
pub(super) fn answer(asked: &Asked<'_>) -> Result<Point, Gap> {
    let unit = asked.unit;
    let air = asked
        .air
        .map_err(|why| Gap::Unknown(why.to_owned(), unit.span))?;
    let tap = unit.sheet.blower.taps.get(asked.tap).ok_or(Gap::Silent)?;
    let blows = blows(unit, asked.tap, tap, air.rated())?;
    let circuit = asked.circuit;
    let mut network = circuit.network();
    network.air = air.supply;
    network.source.drive = blows.drive.clone();
    if let Some(start) = asked.start {
        for (segment, minor) in network.segments.iter_mut().zip(&start.minor) {
            segment.minor = *minor;
        }
    }
    let unit_pressure: Vec<f64> = circuit
        .returns
        .iter()
        .map(|(_, segment)| circuit.unit_pressure(&network, *segment))
        .collect();
    let losses = |flows: &[AirFlow], minor: &mut [f64]| {
        let flow = |at: usize| flows.get(at).map_or(0.0, |flow| flow.value());
        for (at, minor) in minor.iter_mut().enumerate() {
            if let Some(k) = coefficient(&circuit.links, at, flow) {
                *minor = k;
            }
        }
        let whole: f64 = circuit.returns.iter().map(|(_, at)| flow(*at)).sum();
        let returns = circuit.returns.iter().zip(&unit_pressure);
        for ((back, at), unit) in returns {
            let own = flow(*at).abs().max(1e-6);
            let loss = return_loss(asked, back, air, (own, whole.abs()));
            if let Some(minor) = minor.get_mut(*at) {
                *minor = loss.value() / (unit * own * own);
            }
        }
    };
    let settled = match asked.start.filter(|_| asked.near) {
        Some(start) => settle_near(&network, &start.flows, losses),
        None => settle(&network, losses),
    }
    .map_err(|why| fault(asked, &network, &why))?;
    point(asked, &network, settled, &blows)
}

/// Loss of one return that carries `own` of `whole`, with the unit's own filter where that is the dirty one.
fn return_loss(
    asked: &Asked<'_>,
    back: &Back,
    air: &SeasonAir,
    (own, whole): (f64, f64),
) -> Pressure {
    let thinner = air.supply.density.value() / air.back.density.value();
    let from_rooms = if whole > 0.0 {
        ((whole * thinner - asked.vent) / whole).max(0.0)
    } else {
        thinner
    };
    let loss = back.loss(AirFlow::new(own * from_rooms), air, asked.dirt);
    match (asked.own, asked.dirt) {
        (Some(filter), Dirt::AtChange) => {
            let rated = air.rated();
            let clean = filter.clean.at(whole * thinner) * rated;
            loss + Pressure::new((filter.change.value() - clean).max(0.0))
        }
        _ => loss,
    }
}

fn fault(asked: &Asked<'_>, network: &Network, why: &[Unsolvable]) -> Gap {
    let unit = asked.unit;
    let part = |id: &str| {
        let at = network.segments.iter().position(|segment| segment.id == id);
        at.and_then(|at| asked.circuit.spans.get(at).copied())
            .unwrap_or(unit.span)
    };
    let Some(first) = why.first() else {
        return Gap::Silent;
    };
    let span = match first {
        Unsolvable::BelowCurve(..) | Unsolvable::AboveCurve(..) => {
            to_blame(asked, network).unwrap_or(unit.span)
        }
        Unsolvable::SegmentLoop(id)
        | Unsolvable::NoResistance(id)
        | Unsolvable::BadSegment(id, _)
        | Unsolvable::OutletCutOff(id)
        | Unsolvable::Unsettled(id, _)
        | Unsolvable::TwoAnswers(id, ..) => part(id),
        _ => unit.span,
    };
    let flows = match first {
        Unsolvable::BelowCurve(flow, end) | Unsolvable::AboveCurve(flow, end) => {
            Some((*flow, *end))
        }
        _ => None,
    };
    Gap::Fault(first.to_string(), span, flows)
}

/// What keeps blower and ducts apart: the return where they would meet without it, else the trunk.
fn to_blame(asked: &Asked<'_>, network: &Network) -> Option<Span> {
    let circuit = asked.circuit;
    let free = |segment: &usize| {
        let mut without = network.clone();
        let part = without.segments.get_mut(*segment)?;
        part.minor = 1e-6;
        let links = &circuit.links;
        let solved = settle(&without, |flows, minor| {
            let flow = |at: usize| flows.get(at).map_or(0.0, |flow| flow.value());
            for (at, minor) in minor.iter_mut().enumerate() {
                if circuit.returns.iter().any(|(_, back)| *back == at) {
                    *minor = 1e-6;
                } else if let Some(k) = coefficient(links, at, flow) {
                    *minor = k;
                }
            }
        });
        solved.ok().map(|_| ())
    };
    let back = circuit.returns.iter().find(|(_, at)| free(at).is_some());
    let trunk = circuit.trunk_segments.first();
    back.map(|(back, _)| back.span)
        .or_else(|| circuit.spans.get(trunk?.3).copied())
}

fn point(
    asked: &Asked<'_>,
    network: &Network,
    settled: Settled,
    blows: &Blows,
) -> Result<Point, Gap> {
    let solution = settled.solution;
    let at = |node: usize| solution.pressures.get(node).copied().unwrap_or_default();
    let plenum = at(PLENUM);
    let back = if network.source.inlet == RETURN {
        -at(RETURN)
    } else {
        Pressure::new(0.0)
    };
    if let Some((up_to, _)) = blows.up_to {
        let external = plenum + back;
        if external.value() > up_to.value() {
            let (needs, holds) = show_pair(external.value(), up_to.value(), Dimension::Pressure);
            let span = asked
                .unit
                .tap
                .as_ref()
                .map_or(asked.unit.span, |tap| tap.span);
            return Err(Gap::Fault(
                format!(
                    "the motor holds the airflow of tap {} up to {} in this air, and the ducts take {}",
                    asked.tap, holds.text, needs.text
                ),
                span,
                None,
            ));
        }
    }
    let circuit = asked.circuit;
    for RunPart { name, segment, .. } in &circuit.runs {
        let flow = solution
            .flows
            .get(*segment)
            .map_or(0.0, |flow| flow.value());
        if flow < 1e-3 {
            let span = circuit
                .spans
                .get(*segment)
                .copied()
                .unwrap_or(asked.unit.span);
            return Err(Gap::Fault(
                format!(
                    "no air comes out of run `{name}`: what the trunk's air loses in turning is more than its pressure there"
                ),
                span,
                None,
            ));
        }
    }
    Ok(Point {
        airflow: solution.source_flow,
        plenum,
        back,
        residual: solution.residual,
        flows: solution.flows,
        minor: settled.minor,
        rests: blows.rests.clone(),
    })
}
