//! A steam boiler is not taken for a hot-water boiler.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD022",
        name: "steam_feeds_coil",
        title: "steam boiler feeds a hot-water coil",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "No water pipe leads from a boiler of kind `steam` to a coil: what leaves it is steam, and its water line lies below.",
            on_site: "The coil fills with steam and water hammer, or with nothing at all.",
            fix: "Take hot water from below the boiler's water line by a heat exchanger of its own, described as a boiler of its own with its water temperature, or choose another boiler.",
        },
    },
    example: Example {
        wrong: r#"boiler st { model "Test boiler", on first, center 20 ft, 10 ft, kind steam }
water-pipe hot from st to wc { pipe "3/4 in copper L", up 9 ft }"#,
        right: r#"boiler st { model "Test boiler", on first, center 20 ft, 10 ft, kind conventional }
water-pipe hot from st to wc { pipe "3/4 in copper L", up 9 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for boiler in water.boilers.values() {
        let Some(kind) = boiler.kind.as_ref().filter(|kind| kind.value == "steam") else {
            continue;
        };
        let pipe = water
            .pipes
            .values()
            .find(|pipe| pipe.from.thing == boiler.name);
        let Some(pipe) = pipe else { continue };
        report.find(
            Finding::new(
                &RULE.kind,
                kind.span,
                format!("boiler `{}` makes steam, and water pipe `{}` takes hot water from it", boiler.name, pipe.name),
                "describe the heat exchanger between them as a boiler of its own, or write the kind that it is",
            )
            .measured(
                Shown::word("steam"),
                Relation::OneOf,
                Shown::word("conventional, condensing, water-heater"),
            )
            .label(pipe.from.span, "the pipe"),
        );
    }
}
