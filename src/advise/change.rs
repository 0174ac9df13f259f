//! One change of a job: what a person would do, and the words of the spec that say so.

use crate::quantity::{Length, trade_length};
use crate::source::Edit;

/// The part that is changed, and how.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// A balancing orifice put in, exchanged, or taken out.
    Orifice {
        /// The one there is.
        from: Option<String>,
        /// The one to have.
        to: Option<String>,
    },
    /// A tube of another length.
    Tube {
        /// Its taped length.
        from: Length,
        /// Its length to be.
        to: Length,
    },
    /// A take-off at another station.
    TakeOff {
        /// Distance from the unit, or the start of the branch.
        from: Length,
        /// The distance to be.
        to: Length,
    },
    /// Another speed tap.
    Tap {
        /// The tap that is set.
        from: String,
        /// The tap to set.
        to: String,
    },
    /// One more outlet, with its run.
    Outlet {
        /// From the room's south-west corner toward east.
        east: Length,
        /// The same toward north.
        north: Length,
        /// The trunk that the run leaves.
        trunk: String,
        /// Where.
        station: Length,
        /// Length of its tube.
        tube: Length,
    },
}

impl Part {
    /// A short name of what is changed: one change of each kind and thing stands in a suggestion.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Orifice { .. } => "orifice",
            Self::Tube { .. } => "tube",
            Self::TakeOff { .. } => "take-off",
            Self::Tap { .. } => "tap",
            Self::Outlet { .. } => "outlet",
        }
    }

    /// The work and cost of it beside that of an orifice (common practice).
    pub const fn effort(&self) -> f64 {
        match self {
            Self::Tap { .. } => 0.5,
            Self::Orifice { .. } => 1.0,
            Self::Tube { .. } | Self::TakeOff { .. } => 1.5,
            Self::Outlet { .. } => 4.0,
        }
    }
}

/// A change and how it is written.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The run, unit, or new outlet.
    pub thing: String,
    /// The room that it serves, when it is one.
    pub room: Option<String>,
    /// What is done.
    pub part: Part,
    /// The words of the spec.
    pub edits: Vec<Edit>,
}

impl Change {
    /// Two changes of one slot exclude each other.
    pub fn slot(&self) -> (&'static str, &str) {
        (self.part.kind(), &self.thing)
    }

    /// What a person does.
    pub fn words(&self) -> String {
        let thing = &self.thing;
        match &self.part {
            Part::Orifice {
                from: None,
                to: Some(to),
            } => {
                format!("run `{thing}`: put a `{to}` at its take-off")
            }
            Part::Orifice {
                from: Some(from),
                to: Some(to),
            } => {
                format!("run `{thing}`: a `{to}` in place of the `{from}`")
            }
            Part::Orifice {
                from: Some(from),
                to: None,
            } => {
                format!("run `{thing}`: take the `{from}` out")
            }
            Part::Orifice {
                from: None,
                to: None,
            } => format!("run `{thing}`: as it is"),
            Part::Tube { from, to } => format!(
                "run `{thing}`: tube {} in place of {}",
                trade_length(*to),
                trade_length(*from)
            ),
            Part::TakeOff { from, to } => format!(
                "run `{thing}`: take-off at {} in place of {}",
                trade_length(*to),
                trade_length(*from)
            ),
            Part::Tap { from, to } => format!("unit `{thing}`: tap {to} in place of {from}"),
            Part::Outlet {
                east,
                north,
                trunk,
                station,
                tube,
            } => format!(
                "outlet `{thing}`: one more at {}, {}, its tube {} from `{trunk}` at {}",
                trade_length(*east),
                trade_length(*north),
                trade_length(*tube),
                trade_length(*station)
            ),
        }
    }
}
