//! The trunk next to the unit comes off without cutting, so that the blower can be drawn out.

use crate::figures::figure_id;
use crate::model::{AirHandler, Trunk};
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR004",
        name: "first_piece_fixed",
        title: "first piece of the trunk can't be taken out",
        severity: Severity::Error,
        source: "the equipment's catalog; 18 in is common practice",
        why: Why {
            checks: "That the legs of the trunk next to the unit are `removable`, for at least the length that the catalog gives. \
                     Where it is silent, 18 in is common practice and the finding is a warning.",
            on_site: "The blower can't be drawn out: the first repair cuts the trunk.",
            fix: "Make the first piece a leg of its own, marked `removable`, joined with screws and tape and not glued.",
        },
    },
    example: Example {
        wrong: "trunk side from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 12 ft, cap }",
        right: "trunk side from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 3 ft, removable, east 9 ft, cap }",
    },
    check,
};

const PRACTICE: Length = Length::inches(18);

fn check(job: &Job<'_>, report: &mut Report) {
    for trunk in job
        .model
        .trunks
        .values()
        .filter(|trunk| trunk.parent.is_none())
    {
        let Some(unit) = job.model.unit_of(&trunk.name) else {
            continue;
        };
        let own = Limit::default_of(PRACTICE, "common practice", Severity::Warning);
        let Some(limit) = Limit::stated_or(&unit.sheet.air.first_removable, own) else {
            continue;
        };
        let name = ("length", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtLeast, limit, report);
        if let Some(finding) = fixed(job, trunk, unit, &limit) {
            report.find(finding);
        }
    }
}

fn fixed(
    job: &Job<'_>,
    trunk: &Trunk,
    unit: &AirHandler,
    limit: &Limit<Length>,
) -> Option<Finding> {
    let removable = job
        .ledger
        .length(&figure_id(["trunk.", &trunk.name, ".first_removable"]))?;
    if removable >= limit.value {
        return None;
    }
    let still = limit.value - removable;
    let fixed = trunk.legs.iter().find(|leg| !leg.removable);
    let at = fixed
        .or(trunk.legs.last())
        .map_or(trunk.span, |leg| leg.span);
    let cut = fixed.filter(|leg| leg.length >= still).map(|leg| {
        let way = leg.direction.word();
        let first = still.round_up_to(Length::sixteenths(1)).min(leg.length);
        let rest = leg.length - first;
        let mut text = format!("{way} {}, removable", trade_length(first));
        if rest > Length::ZERO {
            text = format!("{text}, {way} {}", trade_length(rest));
        }
        (leg.span, text)
    });
    let help = match &cut {
        Some((_, text)) => format!("write `{text}`"),
        None => format!(
            "mark the legs next to the unit `removable`, {} of them in all",
            trade_length(limit.value)
        ),
    };
    let (found, needed) = show_length_pair(removable, limit.value);
    let message = if removable == Length::ZERO {
        format!(
            "the first piece of trunk `{}` at `{}` can't be taken out",
            trunk.name, unit.name
        )
    } else {
        format!(
            "the piece of trunk `{}` at `{}` that can be taken out is too short",
            trunk.name, unit.name
        )
    };
    let mut finding = Finding::new(&RULE.kind, at, message, help)
        .measured(found, Relation::AtLeast, needed)
        .label(
            trunk.span,
            format!("trunk `{}` starts at the unit", trunk.name),
        );
    if let Some((span, text)) = cut {
        finding = finding.edit(span, text);
    }
    Some(limit.mark(finding))
}
