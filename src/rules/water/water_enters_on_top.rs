//! Hot water enters a coil at the bottom and leaves it at the top.

use crate::model::{WaterLoop, WaterPart};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD001",
        name: "water_enters_on_top",
        title: "water enters the coil at the top",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "The supply pipe joins the coil's lower port and the return pipe its upper one, by the heights that the catalog gives them.",
            on_site: "Air stays in the upper rows and cannot leave with the water: half of the coil stays cold, and no bleeding helps.",
            fix: "Change the two pipes: supply low, return high.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc.return { pipe "3/4 in copper L", up 9 ft }
water-pipe back from wc.supply to heater { pipe "3/4 in copper L", down 9 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc.supply { pipe "3/4 in copper L", up 9 ft }
water-pipe back from wc.return to heater { pipe "3/4 in copper L", down 9 ft }"#,
    },
    check,
};

/// Where the words stand that join water to the coil the wrong way round.
fn joined_at(job: &Job<'_>, water: &WaterLoop, coil: &str) -> Option<crate::source::Span> {
    let pipes = || {
        water
            .pipes()
            .into_iter()
            .filter_map(|name| job.model.water.pipes.get(name))
    };
    let into = pipes().find(|pipe| pipe.to.thing == coil);
    let out = pipes().find(|pipe| pipe.from.thing == coil);
    let wrong = into
        .filter(|pipe| pipe.to.port.as_deref() == Some("return"))
        .map(|pipe| pipe.to.span);
    wrong
        .or_else(|| {
            out.filter(|pipe| pipe.from.port.as_deref() == Some("supply"))
                .map(|pipe| pipe.from.span)
        })
        .or_else(|| into.map(|pipe| pipe.to.span))
}

fn check(job: &Job<'_>, report: &mut Report) {
    for water in &job.model.water.loops {
        for part in water.every() {
            let WaterPart::Coil { name, backward } = part else {
                continue;
            };
            let Some(coil) = job.model.water.coils.get(name) else {
                continue;
            };
            let sheet = coil
                .model
                .as_ref()
                .and_then(|named| job.catalog.water_coils.get(&named.value));
            let heights = sheet.and_then(|sheet| {
                Some((
                    sheet.supply.place.get()?.z,
                    sheet.return_water.place.get()?.z,
                ))
            });
            // Without heights the names of the ports speak: the supply is the lower one.
            let on_top = heights.map_or(*backward, |(supply, back)| {
                if *backward {
                    back > supply
                } else {
                    supply > back
                }
            });
            let Some(at) = joined_at(job, water, name).filter(|_| on_top) else {
                continue;
            };
            let (enters, right) = if *backward {
                ("return", "supply")
            } else {
                ("supply", "return")
            };
            let mut finding = Finding::new(
                &RULE.kind,
                at,
                format!("hot water enters coil `{name}` at its upper port"),
                format!(
                    "lead the hot pipe to `{name}.{right}` and the other from `{name}.{enters}`"
                ),
            )
            .measured(
                Shown::word(format!("{enters} port, the upper one")),
                Relation::Equal,
                Shown::word("the lower port"),
            );
            if let Some(sheet) = sheet {
                finding = finding.label(sheet.supply.span, "the coil's ports");
            }
            report.find(finding);
        }
    }
}
