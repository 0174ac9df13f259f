//! The working space before a panel or a disconnect, judged.

use crate::model::{Disconnect, Panel};
use crate::physics::conductor::Edition;
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Job, Limit, Report};
use crate::source::{Finding, Kind, Relation, Severity, Span};
use crate::systems::power::edition_of;

/// Width of the working space (NEC 110.26(A)(2)).
const WIDE: Length = Length::inches(30);

/// Something with a front that somebody works before.
pub(super) struct Front {
    /// The beginning of its figures' ids: `panel.p1`.
    pub(super) id: String,
    /// `panel` or `disconnect`.
    pub(super) word: &'static str,
    /// Its name.
    pub(super) name: String,
    /// Its story; none outdoors.
    pub(super) story: Option<String>,
    /// Where the way that it faces is said.
    pub(super) faces: Option<Span>,
    /// Its width, where it is said.
    pub(super) width: Option<Length>,
    /// How bad it is to have no room before it.
    pub(super) severity: Severity,
    /// The section that asks for it.
    pub(super) section: String,
    /// Its head.
    pub(super) span: Span,
}

impl Front {
    /// A panel: the section has always named it.
    pub(super) fn of_panel(job: &Job<'_>, panel: &Panel) -> Self {
        Self {
            id: format!("panel.{}", panel.name),
            word: "panel",
            name: panel.name.clone(),
            story: panel.story.clone(),
            faces: panel.faces.as_ref().map(|faces| faces.span),
            width: panel.width.map(|width| width.value),
            severity: Severity::Error,
            section: format!("NEC {}, 110.26(A)", edition_of(job.model).year()),
            span: panel.span,
        }
    }

    /// A disconnect: that of air-conditioning equipment is named since 2023, and was argued over before.
    pub(super) fn of_disconnect(job: &Job<'_>, disconnect: &Disconnect) -> Self {
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
            id: format!("disconnect.{}", disconnect.name),
            word: "disconnect",
            name: disconnect.name.clone(),
            story: disconnect.story.clone(),
            faces: disconnect.faces.as_ref().map(|faces| faces.span),
            width: disconnect.width.map(|width| width.value),
            severity,
            section: format!("NEC {}, {section}", edition.year()),
            span: disconnect.span,
        }
    }
}

/// Reports what leaves too narrow a space before a front; says so where the front's way is not known.
pub(super) fn judge(job: &Job<'_>, kind: &'static Kind, front: &Front, report: &mut Report) {
    let id = format!("{}.working-width", front.id);
    let (Some(figure), Some(clear), Some(faces)) =
        (job.ledger.get(&id), job.ledger.length(&id), front.faces)
    else {
        if !job.model.is_misread(&front.name) {
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
        &front.section,
        front.severity,
    );
    let name = ("width", Dimension::Length);
    let least = job.limit(kind, name, Relation::AtLeast, own, report);
    if clear >= least.value {
        return;
    }
    let things: Vec<_> = figure.places().filter(|(span, _)| *span != faces).collect();
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
        _ => match job.ledger.word(&format!("{}.way-out", front.id)) {
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
