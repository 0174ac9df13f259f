//! The water that stands in a condensate pump does not freeze.

use crate::model::Stage;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};
use crate::systems::drain::KEEPS_WATER;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN049",
        name: "pump_freezes",
        title: "condensate pump that freezes",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "From the rough-in on, a condensate pump in a space that is colder than 33 °F in winter, a degree over freezing, says what keeps its tank from freezing: a heat cable, or a tank emptied each fall.",
            on_site: "The tank splits and the impeller stands in ice; on the first cooling day the water runs over, or the switch keeps the unit off.",
            fix: "Set the pump in a heated space, or add `freeze-protection heat-cable` or `freeze-protection drained-in-fall`.",
        },
    },
    example: Example {
        wrong: "pump loft { model \"Example condensate pump\", on attic, center 20 ft, 10 ft }",
        right: "pump loft { model \"Example condensate pump\", on attic, center 20 ft, 10 ft, freeze-protection drained-in-fall }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for pump in job.model.pumps.values() {
        if pump.freeze.is_some() {
            continue;
        }
        let id = format!("pump.{}.winter", pump.name);
        let thing = format!("pump {}", pump.name);
        let Some(cold) = job.ledger.real(&id) else {
            report.not_known(&RULE.kind, thing, (job.ledger, &id), pump.span);
            continue;
        };
        if cold >= KEEPS_WATER {
            continue;
        }
        if job.model.job.stage < Stage::RoughIn {
            let reason = "what keeps it from freezing is not said yet";
            report.not_checked(&RULE.kind, thing, reason, Some(pump.span));
            continue;
        }
        let (found, needed) = show_pair(cold, KEEPS_WATER, Dimension::Temperature);
        let mut finding = Finding::new(
            &RULE.kind,
            pump.span,
            format!("condensate pump `{}` freezes in winter", pump.name),
            "add `freeze-protection drained-in-fall` or `freeze-protection heat-cable`, or set it in a heated space",
        )
        .measured(found, Relation::AtLeast, needed);
        if let Some(model) = &pump.model {
            let after = Span::new(model.span.file, model.span.end, model.span.end);
            finding = finding.edit(after, ", freeze-protection drained-in-fall");
        }
        let story = pump
            .story
            .as_ref()
            .and_then(|story| job.model.house.stories.get(story));
        if let Some(winter) = story.and_then(|story| story.winter) {
            finding = finding.label(winter.span, "the space in winter");
        }
        report.find(finding);
    }
}
