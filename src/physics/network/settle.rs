//! Losses that hang on how the air divides: solved with fixed coefficients, taken anew from the flows
//! found, and so on until nothing moves; the length of a step follows from how the last one fared.

use super::resistance::Resistance;
use super::search::Search;
use super::solve::{ENOUGH, prepare};
use super::{Network, Solution, Unsolvable};
use crate::quantity::AirFlow;

/// What a coefficient may still be off, as a share of the largest pressure.
const AT_REST: f64 = 5e-10;
/// And as a share of its segment's own loss and [`SMALL`] largest pressures.
const OF_OWN: f64 = 5e-9;
/// A loss that counts, as a share of the largest pressure.
const SMALL: f64 = 0.01;
/// From where on flows are solved exactly, and how well before that.
const NEAR: f64 = 1e-2;
const ROUGH: f64 = 1e-6;
/// The least and the greatest part of a step.
const LEAST_SHARE: f64 = 1.0 / 64.0;
const MOST_SHARE: f64 = 3.0;
/// Far more turns than any house has been seen to take.
const MOST_TURNS: u32 = 500;
/// From which turn on steps are short, and from which very short.
const PATIENT: u32 = 80;
const WARY: u32 = 200;
/// How much less well an answer is known that only says whether there is another one.
const GLANCE: f64 = 100.0;
/// Two answers differ when a flow does by this share of the blower's, and its loss by that of the largest pressure.
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
    let (residual, steps, turns) = come_to_rest(network, &mut first, &mut losses, 1.0)?;
    let mut second = first.clone();
    for part in &mut second.parts {
        part.set_minor(part.minor() * 3.0);
    }
    second.lay();
    come_to_rest(network, &mut second, &mut losses, GLANCE)?;
    if apart(network, &first, &second).is_err() {
        // Before two answers are told apart, the other one is known as well as the first.
        come_to_rest(network, &mut second, &mut losses, 1.0)?;
        apart(network, &first, &second)?;
    }
    first.check_curve()?;
    let minor = first.parts.iter().map(Resistance::minor).collect();
    Ok(Settled {
        solution: first.solution(network, residual, steps),
        minor,
        turns,
    })
}

/// The same from flows that are near, such as those of the tap before, and from there alone: whether the answer
/// hangs on the start is not asked.
pub fn settle_near(
    network: &Network,
    near: &[AirFlow],
    mut losses: impl FnMut(&[AirFlow], &mut [f64]),
) -> Result<Settled, Vec<Unsolvable>> {
    let mut search = prepare(network)?;
    search.begin_near(near);
    let (residual, steps, turns) = come_to_rest(network, &mut search, &mut losses, 1.0)?;
    search.check_curve()?;
    let minor = search.parts.iter().map(Resistance::minor).collect();
    Ok(Settled {
        solution: search.solution(network, residual, steps),
        minor,
        turns,
    })
}

/// Says so when two answers differ by more than what is left over in either.
fn apart(network: &Network, a: &Search<'_>, b: &Search<'_>) -> Result<(), Vec<Unsolvable>> {
    let scale = a.source_flow.abs();
    let largest = a.residual().1;
    let pairs = a
        .flows
        .iter()
        .zip(&b.flows)
        .zip(a.losses.iter().zip(&b.losses));
    let worst = pairs
        .zip(&network.segments)
        .filter(|((_, (loss, other)), _)| (*loss - *other).abs() > SAME * largest)
        .map(|((flows, _), segment)| (flows, segment))
        .max_by(|((a, b), _), ((c, d), _)| (*a - *b).abs().total_cmp(&(*c - *d).abs()));
    match worst {
        Some(((flow, other), segment)) if (flow - other).abs() > SAME * scale => {
            let (flow, other) = (AirFlow::new(*flow), AirFlow::new(*other));
            Err(vec![Unsolvable::TwoAnswers(
                segment.id.clone(),
                flow,
                other,
            )])
        }
        _ => Ok(()),
    }
}

/// Residual, steps and turns once nothing moves; `looser` says how much more may be left than at the least.
fn come_to_rest(
    network: &Network,
    search: &mut Search<'_>,
    losses: &mut impl FnMut(&[AirFlow], &mut [f64]),
    looser: f64,
) -> Result<(f64, u32, u32), Vec<Unsolvable>> {
    let mut wanted: Vec<f64> = vec![0.0; search.parts.len()];
    let mut moves: Vec<f64> = vec![0.0; search.parts.len()];
    let mut flows = Vec::with_capacity(wanted.len());
    let (mut steps, mut share, mut before) = (0, 1.0_f64, f64::INFINITY);
    let mut worst = 0;
    for turns in 0..MOST_TURNS {
        // Exact flows are worth their price only near the end.
        let fine = ENOUGH * looser;
        let enough = if before < NEAR { fine } else { ROUGH };
        let (residual, more) = search.descend(enough)?;
        steps += more;
        flows.clear();
        flows.extend(search.flows.iter().copied().map(AirFlow::new));
        for (wanted, part) in wanted.iter_mut().zip(&search.parts) {
            *wanted = part.minor();
        }
        losses(&flows, &mut wanted);
        let largest = search.residual().1.max(f64::MIN_POSITIVE);
        let (mut most, mut left) = (0.0_f64, 0.0_f64);
        let (mut along, mut square) = (0.0, 0.0);
        let parts = search.parts.iter().zip(&wanted).zip(&mut moves);
        let moving = parts.zip(search.flows.iter().zip(&search.losses));
        for (at, (((part, wanted), last), (flow, loss))) in moving.enumerate() {
            let off = (wanted - part.minor()) * part.velocity_pressure(*flow);
            let of_own = off / (loss.abs() + SMALL * largest);
            // A number that is none counts as the worst.
            if of_own.abs() > most || of_own.is_nan() {
                (worst, most) = (at, of_own.abs());
            }
            left = left.max(off.abs() / largest);
            let turned = of_own - *last;
            along += *last * turned;
            square += turned * turned;
            *last = of_own;
        }
        if left <= AT_REST * looser && most <= OF_OWN * looser + residual / SMALL {
            if enough <= fine {
                return Ok((residual.max(left), steps, turns));
            }
            before = NEAR * 0.5;
            continue;
        }
        // The step that would have met the last move (Aitken's, for a vector: Irons and Tuck, 1969).
        share = match turns {
            // Where that does not do it, a short step that gets shorter.
            WARY.. => 0.05,
            PATIENT.. => 0.3,
            _ if before.is_finite() && square > 0.0 => {
                (-share * along / square).clamp(LEAST_SHARE, MOST_SHARE)
            }
            _ => share,
        };
        before = most;
        for (part, wanted) in search.parts.iter_mut().zip(&wanted) {
            let minor = part.minor() + share * (wanted - part.minor());
            if minor.is_finite() {
                part.set_minor(minor.max(0.0));
            }
        }
        search.evaluate();
    }
    let name = network
        .segments
        .get(worst)
        .map_or(String::new(), |segment| segment.id.clone());
    Err(vec![Unsolvable::Unsettled(name, before)])
}
