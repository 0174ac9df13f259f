//! The one finding for a slip: what the rules saw of it, at the words that mend it.

use crate::catalog::{CallSide, Role};
use crate::rules::Job;
use crate::source::{Edit, Finding, Relation, Shown, Span};
use crate::systems::controls::Point;

use super::change::{Cables, Step};

/// Rules that speak of a wire missing from a terminal with this role, the plainest first.
fn rules_of(role: Option<Role>, is_handler: bool) -> &'static [&'static str] {
    match role {
        Some(Role::Switch) if is_handler => &["CTL014"],
        Some(Role::Common) => &["CTL005"],
        Some(Role::Power | Role::PowerIn) => &["CTL004"],
        Some(role) => match role.call() {
            Some((CallSide::In | CallSide::Out, _)) if is_handler => {
                &["CTL002", "CTL003", "CTL006", "CTL026"]
            }
            Some((CallSide::Output, _)) => &["CTL001", "CTL003"],
            _ => &["CTL003"],
        },
        None => &[],
    }
}

fn is_inside(one: Span, whole: Span) -> bool {
    one.file == whole.file && whole.start <= one.start && one.end <= whole.end
}

/// The finding that speaks for the others.
fn spokesman(
    job: &Job<'_>,
    cables: &Cables,
    step: &Step,
    healed: &mut Vec<Finding>,
) -> Option<Finding> {
    let net = job.wiring.net;
    let (span, to) = match step {
        Step::Land(end, to) => (end.at(cables).map(|at| at.span), to.as_str()),
        Step::Add {
            ends: [from, _], ..
        } => (None, from.as_str()),
        Step::Drop(end) => (end.wire_in(cables).map(|wire| wire.span), ""),
        Step::Cut(cable) => (cables.get_index(*cable).map(|(_, cable)| cable.whole), ""),
    };
    let point = net.number(to).and_then(|n| net.at(n));
    let wanted = rules_of(
        point.and_then(Point::role),
        point.is_some_and(|point| point.kind() == "air-handler"),
    );
    let edit = step.edit(job.model, cables);
    let at = |finding: &Finding| span.is_some_and(|span| is_inside(finding.span, span));
    let best = healed
        .iter()
        .enumerate()
        .min_by_key(|(_, finding)| {
            let own = finding.edits.len() == 1 && finding.edits.first() == edit.as_ref();
            let code = finding.kind.code;
            let place = wanted.iter().position(|one| *one == code);
            (
                std::cmp::Reverse(finding.severity),
                !(own && at(finding)),
                !own,
                place.unwrap_or(wanted.len()),
                !at(finding),
                code,
            )
        })
        .map(|(n, _)| n)?;
    Some(healed.swap_remove(best))
}

/// What the wire of an end runs between, in words.
fn wire_words(cables: &Cables, step: &Step) -> String {
    match step {
        Step::Land(end, _) | Step::Drop(end) => {
            end.wire_in(cables).map_or_else(String::new, |wire| {
                format!("`{}` → `{}`", wire.from.value, wire.to.value)
            })
        }
        Step::Add {
            ends: [from, to], ..
        } => format!("`{from}` → `{to}`"),
        Step::Cut(_) => String::new(),
    }
}

/// The finding for a slip that `steps` mend, out of what they heal.
pub(super) fn slip(
    job: &Job<'_>,
    cables: &Cables,
    steps: &[Step],
    edits: Vec<Edit>,
    mut healed: Vec<Finding>,
) -> Option<Finding> {
    let first = steps.first()?;
    let finding = spokesman(job, cables, first, &mut healed)?;
    // A rule that proposes the same change has the better words for it.
    if finding.edits == edits && !edits.is_empty() {
        return Some(finding);
    }
    let mut told = finding.clone();
    told.edits = edits;
    told.labels
        .retain(|label| finding.kind.code == "CTL014" || label.span != finding.span);
    match (first, steps.len()) {
        (Step::Land(end, to), 1) => {
            let at = end.at(cables)?;
            told.span = at.span;
            if finding.span != at.span {
                told.message = format!(
                    "{}: the wire {}",
                    finding.message,
                    wire_words(cables, first)
                );
            }
            told.help = format!("land it on `{to}`");
            told = told.measured(
                Shown::word(at.value.clone()),
                Relation::Equal,
                Shown::word(to.clone()),
            );
        }
        (Step::Land(..), _) => {
            let ends: Vec<_> = steps
                .iter()
                .filter_map(|step| match step {
                    Step::Land(end, to) => Some((end.at(cables)?, to)),
                    _ => None,
                })
                .collect();
            let shown = ends
                .iter()
                .position(|(at, _)| at.span == finding.span)
                .unwrap_or(0);
            let (at, a) = *ends.get(shown)?;
            told.span = at.span;
            told.message = format!("{}: two ends have changed places", finding.message);
            told.help = format!("exchange `{}` and `{a}`", at.value);
            told = told.measured(
                Shown::word(at.value.clone()),
                Relation::Equal,
                Shown::word(a.clone()),
            );
            for (at, _) in ends.iter().filter(|(other, _)| other.span != at.span) {
                told.labels.retain(|label| label.span != at.span);
                told = told.label(at.span, "the other end");
            }
        }
        (Step::Drop(end), _) => {
            let wire = end.wire_in(cables)?;
            if !is_inside(finding.span, wire.span) {
                told.message = format!(
                    "{}: the wire {}",
                    finding.message,
                    wire_words(cables, first)
                );
            }
            told.span = wire.span;
            told.help = format!(
                "take this wire out and leave its {} conductor spare",
                wire.colour.value
            );
            told = told.measured(
                Shown::word(format!("{} → {}", wire.from.value, wire.to.value)),
                Relation::Equal,
                Shown::word("no wire"),
            );
        }
        (Step::Cut(cable), _) => {
            let (name, cable) = cables.get_index(*cable)?;
            if !is_inside(finding.span, cable.whole) {
                told.span = cable.span;
                told.message = format!("{}: cable `{name}`", finding.message);
                told = told.measured(
                    Shown::word(name.clone()),
                    Relation::Equal,
                    Shown::word("no cable"),
                );
            }
            told.help = format!("take cable `{name}` out");
        }
        (Step::Add { .. }, _) => {
            let words: Vec<String> = steps
                .iter()
                .filter_map(|step| added(cables, step))
                .collect();
            let help = format!("add {}", words.join(" and "));
            // A rule that asks for the same wire has named what lacks it.
            let same = |step: &Step| finding.help.contains(&wire_added(step));
            if steps.iter().all(same) {
                return Some(told);
            }
            told.help = help;
            if let Some(spare) = told
                .edits
                .first()
                .filter(|edit| edit.span.start < edit.span.end)
            {
                told.span = spare.span;
            } else if let Step::Add { cable, .. } = first
                && let Some((_, cable)) = cables.get_index(*cable)
                && !is_inside(finding.span, cable.whole)
            {
                told.span = cable.span;
            }
            told.labels.retain(|label| label.span != told.span);
            let needed: Vec<String> = steps
                .iter()
                .map(|step| wire_words(cables, step).replace('`', ""))
                .collect();
            told = told.measured(
                Shown::word("no wire"),
                Relation::Equal,
                Shown::word(needed.join(", ")),
            );
        }
    }
    Some(told)
}

fn wire_added(step: &Step) -> String {
    match step {
        Step::Add {
            colour,
            ends: [from, to],
            ..
        } => format!("wire {colour} from {from} to {to}"),
        Step::Land(..) | Step::Drop(_) | Step::Cut(_) => String::new(),
    }
}

fn added(cables: &Cables, step: &Step) -> Option<String> {
    let Step::Add { cable, colour, .. } = step else {
        return None;
    };
    let (name, cable) = cables.get_index(*cable)?;
    let words = format!("`{}`", wire_added(step));
    Some(if cable.spares.iter().any(|spare| spare.value == *colour) {
        format!("{words} in place of `spare {colour}` of {name}")
    } else {
        format!("{words} to {name}")
    })
}

/// A finding whose own way out would bring another fault.
pub(super) fn without_edit(mut finding: Finding) -> Finding {
    finding.edits.clear();
    "no single wire mends this: compare every landing on the way with what its terminal is for"
        .clone_into(&mut finding.help);
    finding
}
