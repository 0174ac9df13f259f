//! The working space before a panel or a disconnect, judged.

use crate::model::{Disconnect, Front, Panel};
use crate::physics::conductor::Edition;
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Job, Limit, Report};
use crate::source::{Finding, Kind, Relation, Severity};
use crate::systems::power::edition_of;

/// Width of the working space (NEC 110.26(A)(2)).
const WIDE: Length = Length::inches(30);

/// A front, and what the code asks before it.
pub(super) struct Asked<'m> {
    /// What somebody stands before.
    pub(super) front: Front<'m>,
    /// How bad it is to have no room there.
    pub(super) severity: Severity,
    /// The section that asks for it.
    pub(super) section: String,
}

impl<'m> Asked<'m> {
    /// A panel: the section has always named it.
    pub(super) fn of_panel(job: &Job<'_>, panel: &'m Panel) -> Self {
        Self {
            front: panel.front(),
            severity: Severity::Error,
            section: format!("NEC {}, 110.26(A)", edition_of(job.model).year()),
        }
    }

    /// A disconnect: that of air-conditioning equipment is named since 2023, and was argued over before.
    pub(super) fn of_disconnect(job: &Job<'_>, disconnect: &'m Disconnect) -> Self {
        let edition = edition_of(job.model);
        let unit = &disconnect.unit.value;
        let kind = job.model.equipment.get(unit).map(|unit| unit.kind);
        let conditions_air = job.model.air_handlers.contains_key(unit)
            || matches!(kind, Some("outdoor-unit" | "chiller"));
        let named = conditions_air && edition >= Edition::new(2023);
        let (severity, section) = if named {
            (Severity::Error, "440.14, 110.26(A)")
        } else if conditions_air {
            (
                Severity::Warning,
                "110.26(A); for a disconnect by name since 440.14 of 2023",
            )
        } else {
            (Severity::Warning, "110.26(A)")
        };
        Self {
            front: disconnect.front(),
            severity,
            section: format!("NEC {}, {section}", edition.year()),
        }
    }
}

/// Reports what leaves too narrow a space before a front; says so where the front's way is not known.
pub(super) fn judge(job: &Job<'_>, kind: &'static Kind, asked: &Asked<'_>, report: &mut Report) {
    let front = &asked.front;
    let id = front.id("working-width");
    let (Some(figure), Some(clear), Some(faces)) =
        (job.ledger.get(&id), job.ledger.length(&id), front.faces)
    else {
        if !job.model.is_misread(front.name) {
            let thing = format!("{} {}", front.word, front.name);
            let reason = if front.faces.is_none() {
                "which way its front looks is not said"
            } else {
                "where it stands is not said"
            };
            report.not_checked(kind, thing, reason, Some(front.span));
        }
        return;
    };
    let own = Limit::default_of(
        front.width.map_or(WIDE, |width| width.max(WIDE)),
        &asked.section,
        asked.severity,
    );
    let name = ("width", Dimension::Length);
    let least = job.limit(kind, name, Relation::AtLeast, own, report);
    if clear >= least.value {
        return;
    }
    let things: Vec<_> = figure
        .places()
        .filter(|(span, _)| *span != faces.span)
        .collect();
    let Some((first, words)) = things.first() else {
        return;
    };
    let stands = match words.split(' ').next() {
        Some("roof") => "comes down into",
        Some("room") => "lies in",
        _ => "stands in",
    };
    let (found, needed) = show_length_pair(clear, least.value);
    let (word, wide) = (front.word, trade_length(least.value));
    let help = match words.split(' ').next() {
        Some("roof") => format!(
            "set the {word} where the roof is 6 ft 6 in high over a space {wide} wide and 3 ft deep"
        ),
        Some("room") => {
            format!("turn it: `faces` is the way from the {word} to where somebody stands")
        }
        _ => match job.ledger.word(&front.id("way-out")) {
            Some(way) => {
                format!("set the {word} {way}, or move `{words}`: {wide} stay clear, 3 ft deep")
            }
            None => format!("keep {wide} clear there, 3 ft deep: move `{words}`, or the {word}"),
        },
    };
    let mut finding = Finding::new(
        kind,
        *first,
        format!(
            "`{words}` {stands} the working space before {word} `{}`",
            front.name
        ),
        help,
    )
    .measured(found, Relation::AtLeast, needed)
    .label(front.span, format!("the {word}"));
    for (span, words) in things.iter().skip(1) {
        finding = finding.label(*span, format!("`{words}` stands there too"));
    }
    report.find(least.mark(finding));
}
