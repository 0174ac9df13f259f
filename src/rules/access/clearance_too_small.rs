//! Around a cabinet stays the distance that its catalog or the code asks.

use crate::catalog::Stated;
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::blame::{blame, is_of_house, quoted};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC003",
        name: "clearance_too_small",
        title: "cabinet too near something",
        severity: Severity::Error,
        source: "the equipment's catalog; IRC M1305.1.1",
        why: Why {
            checks: "The distance from each side of the cabinet to obstacles, flues, walls, slopes, the ceiling and other equipment. \
                     The catalog gives it side by side; where it is silent, IRC M1305.1.1 asks 3 in at sides, back and top. \
                     What stands in a service space is reported there.",
            on_site: "The unit can't be insulated, sealed or got at, and its listing does not hold.",
            fix: "Move the unit away from the thing that the report names.",
        },
    },
    example: Example {
        wrong: "obstacle tank on attic { corner 5 ft, 7 ft 3 in, size 2 ft x 2 ft, height 30 in }",
        right: "obstacle tank on attic { corner 5 ft, 8 ft, size 2 ft x 2 ft, height 30 in }",
    },
    check,
};

const CODE: Length = Length::inches(3);

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let clear = &unit.sheet.clearances;
        let sides: [(&str, &Stated<Length>, bool); 6] = [
            ("front", &clear.front, false),
            ("back", &clear.back, true),
            ("left", &clear.left, true),
            ("right", &clear.right, true),
            ("top", &clear.top, true),
            ("bottom", &clear.bottom, false),
        ];
        for (side, stated, coded) in sides {
            let figure = job.ledger.get(&format!("unit.{}.clear_{side}", unit.name));
            let gap = job
                .ledger
                .length(&format!("unit.{}.clear_{side}", unit.name));
            let (Some(gap), Some(figure)) = (gap, figure) else {
                continue;
            };
            let least = if coded { CODE } else { Length::ZERO };
            let own = Limit::default_of(least, "IRC M1305.1.1", Severity::Error);
            let Some(own) = Limit::stated_or(stated, own) else {
                continue;
            };
            let name = (side, Dimension::Length);
            let limit = job.limit(&RULE.kind, name, Relation::AtLeast, own, report);
            if gap >= limit.value {
                continue;
            }
            let (found, needed) = show_length_pair(gap, limit.value);
            let Some((own, words)) = figure.places().next() else {
                continue;
            };
            let (at, (beside, beside_words)) = blame(unit, own, words);
            let of_house = is_of_house(words);
            let words = quoted(words);
            let apart = (limit.value - gap).round_up_to(Length::sixteenths(1));
            let finding = Finding::new(
                &RULE.kind,
                at,
                format!("the {side} of `{}` is too near {words}", unit.name),
                if of_house {
                    format!(
                        "move `{}` {} or more away from it",
                        unit.name,
                        trade_length(apart)
                    )
                } else {
                    format!(
                        "move {words} or `{}` {} or more away from the other",
                        unit.name,
                        trade_length(apart)
                    )
                },
            )
            .measured(found, Relation::AtLeast, needed)
            .label(beside, beside_words);
            report.find(limit.mark(finding));
        }
    }
}
