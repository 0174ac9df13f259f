//! A circulator moves the flow that the coil asks for, inside its curve.

use crate::model::WaterLoop;
use crate::quantity::{Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD006",
        name: "circulator_cannot",
        title: "circulator cannot move the flow",
        severity: Severity::Warning,
        source: "common practice; the circulator's curve",
        why: Why {
            checks: "The flow at which the circulator's curve meets what the loop loses: it lies on the curve, and is at least nine tenths of the `flow` that each coil asks for. A curve that the loop never meets is an error.",
            on_site: "The coil gets a trickle and gives half of its heat; or the pump runs beyond its curve, roars and wears out.",
            fix: "Choose another circulator, a larger pipe, or fewer elbows.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }
circulator c1 in hot { model "Test small circulator" }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }
circulator c1 in hot { model "Test circulator" }"#,
    },
    check,
};

/// Least share of the flow asked for, %: what balancing holds, common practice.
const LEAST: f64 = 90.0;

/// The words of the loop's circulator, else of its first pipe.
fn place(job: &Job<'_>, water: &WaterLoop) -> Option<Span> {
    let pipes = water.pipes();
    let mut own = job.model.water.circulators.values();
    own.find(|one| pipes.contains(&one.pipe.value.as_str()))
        .map(|one| one.model.as_ref().map_or(one.span, |named| named.span))
        .or_else(|| Some(job.model.water.pipes.get(&water.name)?.span))
}

fn check(job: &Job<'_>, report: &mut Report) {
    for water in &job.model.water.loops {
        let Some(at) = place(job, water) else {
            continue;
        };
        match job.ledger.word(&format!("water-loop.{}.state", water.name)) {
            Some(state @ ("too tight" | "past the end")) => never_meets(state, water, at, report),
            Some("flows") => falls_short(job, water, at, report),
            _ => {}
        }
    }
}

fn never_meets(state: &str, water: &WaterLoop, at: Span, report: &mut Report) {
    let (message, found, help) = if state == "too tight" {
        (
            format!(
                "loop `{}` asks for more head than the circulator's curve has",
                water.name
            ),
            "no point on the curve",
            "choose a circulator with more head, or a larger pipe",
        )
    } else {
        (
            format!(
                "loop `{}` lets more water through than the circulator's curve shows",
                water.name
            ),
            "beyond the end of the curve",
            "choose a smaller circulator, or set a balancing valve and give its loss in the catalog",
        )
    };
    report.find(
        Finding::new(&RULE.kind, at, message, help)
            .measured(
                Shown::word(found),
                Relation::Equal,
                Shown::word("a point on the curve"),
            )
            .severity(Severity::Error),
    );
}

fn falls_short(job: &Job<'_>, water: &WaterLoop, at: Span, report: &mut Report) {
    for coil in water.coils() {
        let id = |what: &str| format!("water-coil.{coil}.{what}");
        let (Some(flow), Some(asked)) = (
            job.ledger.real(&id("flow")),
            job.ledger.real(&id("flow-asked")),
        ) else {
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("share", Dimension::Ratio),
            Relation::AtLeast,
            Limit::default_of(LEAST, RULE.kind.source, Severity::Warning),
            report,
        );
        let needed = asked * limit.value / 100.0;
        if flow >= needed {
            continue;
        }
        let (found, needed) = show_pair(flow, needed, Dimension::WaterFlow);
        let mut finding = Finding::new(
            &RULE.kind,
            at,
            format!(
                "the circulator moves less water through coil `{coil}` than the {} gpm that it asks for",
                number_text(asked, 2)
            ),
            "choose a circulator with more head, or a larger pipe; or ask for less `flow`",
        )
        .measured(found, Relation::AtLeast, needed);
        if let Some(flow) = job.model.water.coils.get(coil).and_then(|coil| coil.flow) {
            finding = finding.label(flow.span, "the flow asked for");
        }
        report.find(limit.mark(finding));
    }
}
