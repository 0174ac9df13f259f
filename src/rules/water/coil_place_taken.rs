//! A unit holds one hot-water coil.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD026",
        name: "coil_place_taken",
        title: "two hot-water coils in one unit",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "An air handler holds one hot-water coil: the cabinet has one place for it.",
            on_site: "The second coil has no place in the cabinet, and the unit that it was meant for stays without heat.",
            fix: "Name the unit that the coil stands in, or take it out. Where more heat is needed, take one larger coil or hotter water.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-coil wc2 on ah { model "Example small water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
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
    for coil in water.coils.values().filter(|coil| !coil.flawed) {
        let first = water.coil_in(&coil.unit.value);
        let Some(first) = first.filter(|first| first.name != coil.name) else {
            continue;
        };
        let unit = &coil.unit.value;
        let bare = job
            .model
            .air_handlers
            .keys()
            .find(|name| water.coil_in(name).is_none());
        let help = match bare {
            Some(bare) => format!("write `on {bare}`, or take one of the two coils out"),
            None => "take one of the two coils out".to_owned(),
        };
        let mut finding = Finding::new(
            &RULE.kind,
            coil.unit.span,
            format!(
                "coil `{}` is the second hot-water coil in `{unit}`",
                coil.name
            ),
            help,
        )
        .measured(Shown::count(2), Relation::AtMost, Shown::count(1))
        .label(first.span, "the first one");
        if let Some(bare) = bare {
            finding = finding.edit(coil.unit.span, bare.clone());
        }
        report.find(finding);
    }
}
