//! The largest piece of a unit goes through every opening and way that leads to it.

use crate::figures::{Figure, FigureValue};
use crate::model::AirHandler;
use crate::physics::passage::smallest_face;
use crate::quantity::{Length, fraction_inches, show_length_pair, trade_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Spanned, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC005",
        name: "piece_too_large",
        title: "largest piece does not pass an opening or way",
        severity: Severity::Error,
        source: "IRC M1305.1.3; the equipment's catalog",
        why: Why {
            checks: "That the two smaller sides of the unit's largest piece go through the clear opening of the access and of the way to it, straight or turned any way in its plane.",
            on_site: "The unit stands in the drive and the ceiling is opened with a saw.",
            fix: "Widen the opening to the size that the report gives, bring the unit in by another way, or choose one that comes apart.",
        },
    },
    example: Example {
        wrong: "attic-access loft on attic { center 20 ft, 8 ft, size 18 in x 54 in }\naccess-path over from loft to ah { length 6 ft, clear 30 in x 60 in, floored 24 in }",
        right: "attic-access loft on attic { center 20 ft, 8 ft, size 30 in x 54 in }\naccess-path over from loft to ah { length 6 ft, clear 30 in x 60 in, floored 24 in }",
    },
    check,
};

type Clear = (Spanned<Length>, Spanned<Length>);

fn check(job: &Job<'_>, report: &mut Report) {
    let house = &job.model.house;
    for unit in job.model.air_handlers.values() {
        let hatches = house.hatches.values().map(|hatch| {
            let words = format!("opening `{}`", hatch.name);
            (
                format!("attic-access.{}", hatch.name),
                words,
                hatch.clear,
                hatch.span,
            )
        });
        let paths = house.paths.iter().map(|path| {
            let words = format!("way `{}`", path.name);
            (
                format!("access-path.{}", path.name),
                words,
                path.clear,
                path.span,
            )
        });
        for (id, words, clear, span) in hatches.chain(paths) {
            let passes = job
                .ledger
                .get(&format!("{id}.passes.{}", unit.name))
                .map(|figure: &Figure| &figure.value);
            if passes == Some(&FigureValue::Bool(false))
                && let Some(finding) = finding(unit, &words, clear, span)
            {
                report.find(finding);
            }
        }
    }
}

fn finding(unit: &AirHandler, words: &str, clear: Clear, span: Span) -> Option<Finding> {
    let piece = &unit.sheet.largest_piece;
    let size = piece.size.get()?;
    let (small, large) = smallest_face([size.length, size.width, size.height]);
    let (narrow, wide) = if clear.0.value <= clear.1.value {
        (clear.0, clear.1)
    } else {
        (clear.1, clear.0)
    };
    // The side of the opening that lacks more.
    let (short, needed) = if small - narrow.value >= large - wide.value {
        (narrow, small)
    } else {
        (wide, large)
    };
    let what = piece
        .what
        .get()
        .unwrap_or_else(|| "largest piece".to_owned());
    let (found, needed) = show_length_pair(short.value, needed);
    Some(
        Finding::new(
            &RULE.kind,
            short.span,
            format!(
                "the {what} of `{}` does not pass {words}, turned any way",
                unit.name
            ),
            format!(
                "widen it to at least `{} in x {} in`, or choose a unit that comes apart",
                fraction_inches(small.max(Length::inches(20)), 16),
                fraction_inches(large.max(Length::inches(30)), 16)
            ),
        )
        .measured(found, Relation::AtLeast, needed)
        .label(span, words.to_owned())
        .label(
            piece.size.span,
            format!(
                "the {what}: its smaller sides are {} and {}",
                trade_length(small),
                trade_length(large)
            ),
        ),
    )
}
