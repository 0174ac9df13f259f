//! Changes of control wiring small enough to be one slip of the hand, made on a copy of the cables and as edits of text.

use indexmap::IndexMap;

use crate::model::{Cable, Model, Wire};
use crate::source::{Edit, Finding, Span, Spanned};

/// The cables of a job by name.
pub(super) type Cables = IndexMap<String, Cable>;

/// One end of a wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct End {
    /// The number of its cable.
    pub(super) cable: usize,
    /// The number of the wire in it.
    pub(super) wire: usize,
    /// Whether it is the end named last.
    pub(super) far: bool,
}

impl End {
    /// The terminal that it lands on, with the words that say so.
    pub(super) fn at<'c>(&self, cables: &'c Cables) -> Option<&'c Spanned<String>> {
        let wire = self.wire_in(cables)?;
        Some(if self.far { &wire.to } else { &wire.from })
    }

    /// The other end of its wire.
    pub(super) const fn other(self) -> Self {
        Self {
            far: !self.far,
            ..self
        }
    }

    /// Its wire.
    pub(super) fn wire_in<'c>(&self, cables: &'c Cables) -> Option<&'c Wire> {
        cables.get_index(self.cable)?.1.wires.get(self.wire)
    }

    /// Every end of every wire.
    pub(super) fn all(cables: &Cables) -> Vec<Self> {
        let of = |(cable, one): (usize, &Cable)| {
            (0..one.wires.len())
                .flat_map(move |wire| [false, true].map(|far| Self { cable, wire, far }))
        };
        cables.values().enumerate().flat_map(of).collect()
    }
}

/// One thing to do with a wire.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// Put an end on another terminal.
    Land(End, String),
    /// Land a conductor that nothing uses yet.
    Add {
        /// The number of the cable.
        cable: usize,
        /// The conductor.
        colour: String,
        /// Its ends.
        ends: [String; 2],
    },
    /// Take a wire out.
    Drop(End),
    /// Take a whole cable out, by its number.
    Cut(usize),
}

impl Step {
    /// Makes the change in `cables`.
    pub(super) fn make(&self, cables: &mut Cables) {
        match self {
            Self::Land(end, on) => {
                let wire = cables
                    .get_index_mut(end.cable)
                    .and_then(|(_, cable)| cable.wires.get_mut(end.wire));
                if let Some(wire) = wire {
                    let slot = if end.far {
                        &mut wire.to
                    } else {
                        &mut wire.from
                    };
                    slot.value.clone_from(on);
                }
            }
            Self::Add {
                cable,
                colour,
                ends: [from, to],
            } => {
                let Some((_, cable)) = cables.get_index_mut(*cable) else {
                    return;
                };
                let word = |value: &String| Spanned {
                    value: value.clone(),
                    span: cable.span,
                };
                let wire = Wire {
                    colour: word(colour),
                    from: word(from),
                    to: word(to),
                    span: cable.span,
                };
                cable.spares.retain(|spare| spare.value != *colour);
                cable.wires.push(wire);
            }
            Self::Drop(end) => {
                if let Some((_, cable)) = cables.get_index_mut(end.cable)
                    && end.wire < cable.wires.len()
                {
                    cable.wires.remove(end.wire);
                }
            }
            Self::Cut(cable) => {
                cables.shift_remove_index(*cable);
            }
        }
    }

    /// The same as a change of text; none where it cannot be typed at one place.
    pub(super) fn edit(&self, model: &Model, cables: &Cables) -> Option<Edit> {
        match self {
            Self::Land(end, on) => Some(Edit {
                span: end.at(cables)?.span,
                text: on.clone(),
            }),
            Self::Add {
                cable,
                colour,
                ends: [from, to],
            } => {
                let (_, cable) = cables.get_index(*cable)?;
                let words = format!("wire {colour} from {from} to {to}");
                if let Some(span) = spare(model, cable, colour) {
                    return Some(Edit { span, text: words });
                }
                let last = cable.wires.last()?.span;
                Some(Edit {
                    span: Span::new(last.file, last.end, last.end),
                    text: format!(", {words}"),
                })
            }
            Self::Drop(end) => {
                let wire = end.wire_in(cables)?;
                Some(Edit {
                    span: wire.span,
                    text: format!("spare {}", wire.colour.value),
                })
            }
            Self::Cut(cable) => Some(Edit {
                span: cables.get_index(*cable)?.1.whole,
                text: String::new(),
            }),
        }
    }
}

/// The words that call a conductor spare.
fn spare(model: &Model, cable: &Cable, colour: &str) -> Option<Span> {
    let entry = model
        .entries
        .iter()
        .find(|entry| entry.span == cable.span)?;
    entry
        .children("spare")
        .find(|child| {
            child
                .text("colour")
                .known()
                .is_some_and(|own| own.value == colour)
        })
        .map(|child| child.span)
}

/// A finding's own edits as changes of the wiring; none where one of them is something else.
pub(super) fn steps_of(finding: &Finding, cables: &Cables) -> Option<Vec<Step>> {
    let ends = End::all(cables);
    let steps: Option<Vec<Step>> = finding
        .edits
        .iter()
        .map(|edit| {
            let landed = ends
                .iter()
                .find(|end| end.at(cables).is_some_and(|at| at.span == edit.span));
            if let Some(end) = landed {
                return Some(Step::Land(*end, edit.text.clone()));
            }
            let words: Vec<&str> = edit.text.split_whitespace().collect();
            let [",", "wire", colour, "from", from, "to", to] = words.as_slice() else {
                return None;
            };
            let cable = cables.values().position(|cable| {
                cable
                    .wires
                    .last()
                    .is_some_and(|wire| wire.span.end == edit.span.start)
            })?;
            Some(Step::Add {
                cable,
                colour: (*colour).to_owned(),
                ends: [(*from).to_owned(), (*to).to_owned()],
            })
        })
        .collect();
    steps.filter(|steps| !steps.is_empty())
}
