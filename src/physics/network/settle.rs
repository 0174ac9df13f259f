//! Losses that hang on how the air divides: solved with fixed coefficients, taken anew from the flows
//! found, and so on until nothing moves. A step that makes it worse is halved.

use super::search::Search;
use super::solve::{ENOUGH, prepare};
use super::{Network, Solution, Unsolvable};
use crate::quantity::AirFlow;

/// What the coefficients may still be off, as a share of the largest pressure.
const AT_REST: f64 = 1e-10;
/// Far more turns than any house has been seen to take.
const MOST_TURNS: u32 = 200;
/// Two answers differ when a flow does by this share of the blower's.
const SAME: f64 = 1e-6;

/// A network solved with losses that hang on its flows.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// The solution; its residual takes in what the coefficients are still off.
    pub solution: Solution,
    /// The coefficients at which it came to rest, one a segment.
    pub minor: Vec<f64>,
    /// How often they were taken anew.
    pub turns: u32,
}

/// Solves a network whose loss coefficients hang on its flows: `losses` writes those of all segments, at or
/// above zero, for the flows given. It starts from the coefficients of the network; where it comes from
/// coefficients three times as large to other flows, the answer hangs on the start, which is a reason.
pub fn settle(
    network: &Network,
    mut losses: impl FnMut(&[AirFlow], &mut [f64]),
) -> Result<Settled, Vec<Unsolvable>> {
    let mut first = prepare(network)?;
    first.begin();
    let (residual, steps, turns) = come_to_rest(network, &mut first, &mut losses)?;
    let mut second = first.clone();
    for part in &mut second.parts {
        part.set_minor(part.minor() * 3.0);
    }
    second.lay();
    come_to_rest(network, &mut second, &mut losses)?;
    let scale = first.source_flow.abs().max(f64::MIN_POSITIVE);
    let apart = first
        .flows
        .iter()
        .zip(&second.flows)
        .zip(&network.segments)
        .max_by(|a, b| {
            let off = |pair: &(&f64, &f64)| (pair.0 - pair.1).abs();
            off(&a.0).total_cmp(&off(&b.0))
        });
    if let Some(((a, b), segment)) = apart
        && (a - b).abs() > SAME * scale
    {
        let (a, b) = (AirFlow::new(*a), AirFlow::new(*b));
        return Err(vec![Unsolvable::TwoAnswers(segment.id.clone(), a, b)]);
    }
    first.check_curve()?;
    let minor = first
        .parts
        .iter()
        .map(super::resistance::Resistance::minor)
        .collect();
    Ok(Settled {
        solution: first.solution(network, residual, steps),
        minor,
        turns,
    })
}

/// Residual, steps and turns once nothing moves.
fn come_to_rest(
    network: &Network,
    search: &mut Search<'_>,
    losses: &mut impl FnMut(&[AirFlow], &mut [f64]),
) -> Result<(f64, u32, u32), Vec<Unsolvable>> {
    let mut wanted: Vec<f64> = vec![0.0; search.parts.len()];
    let mut flows = Vec::with_capacity(wanted.len());
    let (mut steps, mut share, mut before) = (0, 1.0_f64, f64::INFINITY);
    let mut worst = (0, f64::INFINITY);
    for turns in 0..MOST_TURNS {
        let enough = (1e-3 * before).clamp(ENOUGH, 1e-4);
        let (mut residual, more) = search.descend(enough)?;
        steps += more;
        flows.clear();
        flows.extend(search.flows.iter().copied().map(AirFlow::new));
        for (wanted, part) in wanted.iter_mut().zip(&search.parts) {
            *wanted = part.minor();
        }
        losses(&flows, &mut wanted);
        let largest = search.residual().1.max(f64::MIN_POSITIVE);
        worst = (0, 0.0);
        for (at, ((part, wanted), flow)) in search
            .parts
            .iter()
            .zip(&wanted)
            .zip(&search.flows)
            .enumerate()
        {
            let off = (part.minor() - wanted).abs() * part.velocity_pressure(*flow) / largest;
            // A number that is none counts as the worst.
            if off > worst.1 || off.is_nan() {
                worst = (at, off);
            }
        }
        if worst.1 <= AT_REST {
            if residual > ENOUGH {
                let (closer, more) = search.descend(ENOUGH)?;
                residual = closer;
                steps += more;
            }
            return Ok((residual.max(worst.1), steps, turns));
        }
        if worst.1 > before {
            share = (share * 0.5).max(1.0 / 64.0);
        }
        before = worst.1;
        for (part, wanted) in search.parts.iter_mut().zip(&wanted) {
            let minor = part.minor() + share * (wanted - part.minor());
            part.set_minor(if minor.is_finite() {
                minor.max(0.0)
            } else {
                part.minor()
            });
        }
        search.evaluate();
    }
    let name = network
        .segments
        .get(worst.0)
        .map_or(String::new(), |segment| segment.id.clone());
    Err(vec![Unsolvable::Unsettled(name, worst.1)])
}
