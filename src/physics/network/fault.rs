//! Why a network has no solution, with the part that is to blame.

use std::fmt;

use crate::quantity::AirFlow;

/// A reason without which there would be a solution.
#[derive(Clone, Debug, PartialEq)]
pub enum Unsolvable {
    /// A node by a number that no node has.
    NoSuchNode(usize),
    /// No node's pressure is held, so that no pressure is known.
    NothingFixed,
    /// A source that blows into the node it draws from.
    SourceLoop(String),
    /// A segment that begins and ends at one node.
    SegmentLoop(String),
    /// A segment without length and without loss.
    NoResistance(String),
    /// A segment with a figure that no duct has.
    BadSegment(String, &'static str),
    /// A node with no way to any node whose pressure is held.
    Adrift(String),
    /// An outlet with no way from the source.
    OutletCutOff(String),
    /// A flow below zero or not a number.
    BadFlow,
    /// A blower curve with fewer than two points.
    CurveTooShort,
    /// A blower curve whose flow does not grow from point to point.
    CurveTurnsBack(AirFlow),
    /// A blower curve that rises between two flows.
    CurveRises(AirFlow, AirFlow),
    /// The system meets the blower before its curve begins; flow there and where the curve begins.
    BelowCurve(AirFlow, AirFlow),
    /// The system meets the blower after its curve ends; flow there and where the curve ends.
    AboveCurve(AirFlow, AirFlow),
    /// Loss coefficients that hang on the flows do not come to rest; the segment that moves most, and the
    /// share of its loss by which it still does.
    Unsettled(String, f64),
    /// From two starts the search comes to two answers; the segment that differs most, and its flow in each.
    TwoAnswers(String, AirFlow, AirFlow),
    /// The search ended with this share of the largest pressure not closed.
    NotFound(f64),
}

impl fmt::Display for Unsolvable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchNode(at) => write!(f, "there is no node number {at}"),
            Self::NothingFixed => write!(f, "no node has a fixed pressure, such as a room"),
            Self::SourceLoop(id) => write!(f, "the source draws from and blows into `{id}`"),
            Self::SegmentLoop(id) => write!(f, "segment `{id}` begins and ends at one node"),
            Self::NoResistance(id) => {
                write!(
                    f,
                    "segment `{id}` has no length and no loss, so that its flow is open"
                )
            }
            Self::BadSegment(id, what) => write!(f, "segment `{id}`: {what}"),
            Self::Adrift(id) => write!(f, "node `{id}` has no way to a node of fixed pressure"),
            Self::OutletCutOff(id) => write!(f, "outlet `{id}` has no way to the source"),
            Self::BadFlow => write!(f, "the source's flow is below zero"),
            Self::CurveTooShort => write!(f, "the blower curve has fewer than two points"),
            Self::CurveTurnsBack(q) => {
                write!(
                    f,
                    "the blower curve turns back in flow at {} cfm",
                    q.value()
                )
            }
            Self::CurveRises(a, b) => write!(
                f,
                "the blower curve rises between {} and {} cfm",
                a.value(),
                b.value()
            ),
            Self::BelowCurve(q, end) => write!(
                f,
                "the blower curve never meets the system: it begins at {} cfm, the system takes {:.1} cfm",
                end.value(),
                q.value()
            ),
            Self::AboveCurve(q, end) => write!(
                f,
                "the blower curve never meets the system: it ends at {} cfm, the system takes {:.1} cfm",
                end.value(),
                q.value()
            ),
            Self::Unsettled(id, left) => write!(
                f,
                "the loss of `{id}`, which hangs on how the air divides, does not come to rest: it still moves by {:.2} % of itself",
                left * 100.0
            ),
            Self::TwoAnswers(id, a, b) => write!(
                f,
                "the air can divide in more than one way: `{id}` gets {:.1} or {:.1} cfm",
                a.value(),
                b.value()
            ),
            Self::NotFound(left) => {
                write!(
                    f,
                    "no solution was found: {left:.1e} of the largest pressure is left over"
                )
            }
        }
    }
}
