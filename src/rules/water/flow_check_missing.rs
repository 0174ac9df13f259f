//! Hot water does not rise into a coil that nobody called.

use crate::model::WaterMark;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD018",
        name: "flow_check_missing",
        title: "loop without a flow check",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "Where a boiler feeds more than one loop, or old radiators beside the coil, or is a water heater that stays hot, each loop of a coil has a flow check.",
            on_site: "Warm water rises by itself into the attic coil all summer: the air conditioner cools against it.",
            fix: "Set a flow check in the supply pipe of each loop.",
        },
    },
    example: Example {
        wrong: r#"radiators old-loop on heater { room hall gives 600 Btu/h }
water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"radiators old-loop on heater { room hall gives 600 Btu/h }
water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, flow-check, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for found in &water.loops {
        let beside = water
            .loops
            .iter()
            .filter(|other| other.boiler == found.boiler)
            .count()
            > 1;
        let radiators = water
            .radiators
            .values()
            .find(|radiators| radiators.boiler.value == found.boiler);
        let heater = water
            .boilers
            .get(&found.boiler)
            .and_then(|boiler| boiler.kind.as_ref())
            .filter(|kind| kind.value == "water-heater");
        if found.open_at.is_some() || !(beside || radiators.is_some() || heater.is_some()) {
            continue;
        }
        let checks: usize = found
            .pipes()
            .into_iter()
            .filter_map(|name| water.pipes.get(name))
            .map(|pipe| pipe.count(WaterMark::FlowCheck))
            .sum();
        let Some(pipe) = water.pipes.get(&found.name).filter(|_| checks == 0) else {
            continue;
        };
        let mut finding = Finding::new(
            &RULE.kind,
            pipe.span,
            format!(
                "no flow check keeps hot water out of loop `{}` while it rests",
                found.name
            ),
            format!(
                "write `flow-check` behind the first leg of water pipe `{}`",
                found.name
            ),
        )
        .measured(Shown::count(0), Relation::AtLeast, Shown::count(1));
        if let Some(radiators) = radiators {
            finding = finding.label(radiators.span, "these keep the boiler hot");
        } else if let Some(kind) = heater {
            finding = finding.label(kind.span, "this stays hot all year");
        }
        report.find(finding);
    }
}
