//! Coils on one boiler hold one mixture.

use crate::quantity::{Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD025",
        name: "mixtures_differ",
        title: "coils on one boiler with different glycol",
        severity: Severity::Error,
        source: "the water of one boiler is one",
        why: Why {
            checks: "All coils that one boiler feeds state the same share of glycol.",
            on_site: "The water mixes on the first day: the attic coil has half the protection that the label promises.",
            fix: "Write the same share in each coil's block, reckoned for the coldest of them.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-coil wb on ah { model "Example medium water coil", water 160 F, flow 4 gpm, glycol 30 % }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }
water-pipe hot-b from heater to wb { pipe "3/4 in copper L", up 9 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for boiler in water.boilers.keys() {
        let coils: Vec<_> = water
            .loops
            .iter()
            .filter(|found| found.boiler == *boiler)
            .flat_map(|found| found.coils())
            .filter_map(|name| water.coils.get(name))
            .filter(|coil| !coil.flawed && (coil.glycol.is_some() || !coil.glycol_said))
            .collect();
        let share = |coil: &crate::model::WaterCoil| coil.glycol.map_or(0.0, |glycol| glycol.value);
        let Some(most) = coils
            .iter()
            .copied()
            .max_by(|a, b| share(a).total_cmp(&share(b)))
        else {
            continue;
        };
        for coil in &coils {
            if share(coil) >= share(most) {
                continue;
            }
            let (found, needed) = show_pair(share(coil), share(most), Dimension::Ratio);
            report.find(
                Finding::new(
                    &RULE.kind,
                    coil.glycol.map_or(coil.span, |glycol| glycol.span),
                    format!(
                        "coils `{}` and `{}` hang on one boiler and state different glycol",
                        coil.name, most.name
                    ),
                    format!("write `glycol {} %` in both", number_text(share(most), 1)),
                )
                .measured(found, Relation::Equal, needed)
                .label(
                    most.glycol.map_or(most.span, |glycol| glycol.span),
                    "the other one",
                ),
            );
        }
    }
}
