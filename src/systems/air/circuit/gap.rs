//! Why a circuit has no figures: something reported already, something not known yet, or a fault of its own.

use crate::model::Model;
use crate::quantity::AirFlow;
use crate::source::Span;

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::systems) enum Gap {
    /// It was misread, and that is reported.
    Silent,
    /// It rests on something not known, in words, and where that stands.
    Unknown(String, Span),
    /// It has no solution: why, the part that is to blame, and the flow found with the end of the curve.
    Fault(String, Span, Option<(AirFlow, AirFlow)>),
}

/// A gap for something not given: still open by what the job says, or misread, or simply absent.
pub(super) fn absent(
    model: &Model,
    (head, whole, flawed): (Span, Span, bool),
    word: &str,
    what: &str,
) -> Gap {
    if model.is_open(head, word)
        && let Some(open) = model.open_in(whole)
    {
        return Gap::Unknown(
            format!("{what} is said to be `{}`", open.unknown.words()),
            open.span,
        );
    }
    if flawed {
        return match model.open_in(whole) {
            Some(open) => Gap::Unknown(
                format!(
                    "{what} rests on {}, said to be `{}`",
                    open.what,
                    open.unknown.words()
                ),
                open.span,
            ),
            None => Gap::Silent,
        };
    }
    Gap::Unknown(format!("{what} is not given"), head)
}

/// A gap for a figure that the catalog does not state.
pub(super) fn unstated(what: &str, of: &str, reason: Option<&'static str>, span: Span) -> Gap {
    let why = reason.unwrap_or("the catalog does not give it");
    Gap::Unknown(format!("{what} of `{of}`: {why}"), span)
}
