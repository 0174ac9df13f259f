//! A loop has a circulator.

use crate::model::HotWater;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD005",
        name: "circulator_missing",
        title: "hot-water loop without a circulator",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "Every loop from a boiler through a coil and back has a circulator in one of its pipes.",
            on_site: "The water stands, and the coil is as warm as the attic.",
            fix: "Name the circulator and the pipe that it stands in.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }
circulator c1 in hot { model "Test circulator" }"#,
    },
    check,
};

/// Two circulators in one pipe, where there are such.
pub(super) fn crowded(water: &HotWater) -> Option<(&str, &str, &str)> {
    let all: Vec<_> = water.circulators.values().collect();
    all.iter().enumerate().find_map(|(n, one)| {
        let other = all.iter().skip(n + 1);
        let other = other
            .into_iter()
            .find(|other| other.pipe.value == one.pipe.value)?;
        Some((
            one.name.as_str(),
            other.name.as_str(),
            one.pipe.value.as_str(),
        ))
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    // A circulator in a pipe that nothing carries is reported there.
    let astray = water
        .circulators
        .values()
        .any(|one| !water.pipes.contains_key(&one.pipe.value));
    for found in water.loops.iter().filter(|_| !astray) {
        let rests = job.ledger.word(&format!("water-loop.{}.state", found.name));
        let Some(pipe) = water.pipes.get(&found.name) else {
            continue;
        };
        if rests != Some("no circulator") {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                pipe.span,
                format!("no circulator moves the water of loop `{}`", found.name),
                crowded(water).map_or_else(
                    || format!("add `circulator c1 in {} {{ model \"…\" }}`", found.name),
                    |(one, other, pipe)| {
                        format!(
                            "`{one}` and `{other}` both stand in `{pipe}`: write `in {}` for one of them",
                            found.name
                        )
                    },
                ),
            )
            .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
        );
    }
}
