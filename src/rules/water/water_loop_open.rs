//! Water that is led to a coil is led back.

use crate::model::{WaterEnd, WaterLoop, WaterPipe};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD024",
        name: "water_loop_open",
        title: "hot-water loop not closed",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "From the boiler pipes lead to the coil, and from the coil back to the boiler.",
            on_site: "The return was forgotten in the list of pipe, and is improvised on the day.",
            fix: "Draw the pipe that is missing.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    // What leads to a thing that nothing carries is reported there.
    let known = |end: &WaterEnd| {
        job.model.equipment.contains_key(&end.thing)
            || job.model.air_handlers.contains_key(&end.thing)
            || water.pipes.contains_key(&end.thing)
    };
    let sound = |pipe: &WaterPipe| known(&pipe.from) && known(&pipe.to);
    if !water.pipes.values().all(sound) {
        return;
    }
    let mut in_loop: Vec<&str> = Vec::new();
    for found in &water.loops {
        in_loop.extend(found.pipes());
        let last = found.pipes().last().and_then(|name| water.pipes.get(*name));
        let (Some(at), Some(pipe)) = (&found.open_at, last) else {
            continue;
        };
        let boiler = &found.boiler;
        let same =
            |other: &&WaterLoop| other.boiler == *boiler && other.open_at.as_ref() == Some(at);
        let ahead: Vec<&WaterLoop> = water.loops.iter().filter(same).collect();
        // Two that lead to one thing: one of them was meant to lead back, and both are told at the last.
        if ahead.last().is_some_and(|last| last.name != found.name) {
            continue;
        }
        let (message, help) = match ahead.as_slice() {
            [first, .., _] => (
                format!(
                    "water pipes `{}` and `{}` both lead from boiler `{boiler}` to `{at}`, and none leads back",
                    first.name, found.name
                ),
                format!("turn one of the two round: `from {at} to {boiler}`"),
            ),
            _ => (
                format!("no pipe leads from `{at}` back to boiler `{boiler}`"),
                format!("add `water-pipe return-pipe from {at} to {boiler} {{ … }}`"),
            ),
        };
        report.find(
            Finding::new(&RULE.kind, pipe.to.span, message, help).measured(
                Shown::word("no way back"),
                Relation::Equal,
                Shown::word("a pipe to the boiler"),
            ),
        );
    }
    let boiler = |end: &WaterEnd| water.boilers.contains_key(&end.thing);
    for pipe in water.pipes.values() {
        // Only what comes back to a boiler from where nothing leads: chillers have loops of their own.
        if in_loop.contains(&pipe.name.as_str()) || !boiler(&pipe.to) {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                pipe.from.span,
                format!(
                    "no pipe leads from boiler `{}` to `{}`",
                    pipe.to.thing, pipe.from.thing
                ),
                format!(
                    "add `water-pipe supply-pipe from {} to {} {{ … }}`",
                    pipe.to.thing, pipe.from.thing
                ),
            )
            .measured(
                Shown::word("no way there"),
                Relation::Equal,
                Shown::word("a pipe from the boiler"),
            ),
        );
    }
}
