//! Glycol does not get into the drinking water.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD011",
        name: "backflow_preventer_missing",
        title: "glycol without a backflow preventer",
        severity: Severity::Error,
        source: "IRC P2902.5.1",
        why: Why {
            checks: "A boiler whose loop holds glycol has a backflow preventer in its fill line.",
            on_site: "When the street's pressure drops, what is in the boiler runs into the house's taps.",
            fix: "Set a backflow preventer in the fill line, of the kind the code asks for, and say so in the boiler's block.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, glycol 30 % }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for boiler in water.boilers.values().filter(|boiler| !boiler.flawed) {
        if boiler.backflow_preventer.is_some() {
            continue;
        }
        let glycol = water
            .loops
            .iter()
            .filter(|found| found.boiler == boiler.name)
            .find_map(|found| water.glycol_of(found))
            .filter(|glycol| glycol.value > 0.0);
        let Some(glycol) = glycol else { continue };
        report.find(
            Finding::new(
                &RULE.kind,
                boiler.span,
                format!(
                    "boiler `{}` holds glycol, and no backflow preventer is named in its fill line",
                    boiler.name
                ),
                format!(
                    "write `backflow-preventer` in the block of `{}`",
                    boiler.name
                ),
            )
            .measured(
                Shown::word("no backflow preventer"),
                Relation::Equal,
                Shown::word("a backflow preventer"),
            )
            .label(glycol.span, "glycol"),
        );
    }
}
