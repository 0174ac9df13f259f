//! A cleanout is where a hand reaches it.

use crate::quantity::{Dimension, Length, length_text, show_length_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::drain::ARM;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN028",
        name: "cleanout_out_of_reach",
        title: "cleanout out of reach",
        severity: Severity::Warning,
        source: "IRC M1411.3.3; both distances are common practice",
        why: Why {
            checks: "At least one cleanout of each drain stands no higher than 6 ft 8 in above the floor of its story and, where the unit stands on a platform, no farther than 24 in beside it.",
            on_site: "The first time it clogs nobody brings a ladder: the pipe is cut where the hand reaches it.",
            fix: "Put the cleanout next to the trap, within reach of the floor.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// As high as an arm reaches from the floor (common practice).
const REACH: Length = Length::inches(80);

fn check(job: &Job<'_>, report: &mut Report) {
    let axes: [(&str, &str, Length, &str); 2] = [
        ("cleanout-height", "height", REACH, "of the floor"),
        ("cleanout-sideways", "sideways", ARM, "from the platform"),
    ];
    for drain in job.model.drains.values() {
        for (what, name, own, of) in axes {
            let id = format!("drain.{}.{what}", drain.name);
            let Some((figure, found)) = job.ledger.get(&id).zip(job.ledger.length(&id)) else {
                continue;
            };
            let own = Limit::default_of(own, RULE.kind.source, RULE.kind.severity);
            let most = job.limit(
                &RULE.kind,
                (name, Dimension::Length),
                Relation::AtMost,
                own,
                report,
            );
            let mut places = figure.places();
            let (Some((place, _)), true) = (places.next(), found > most.value) else {
                continue;
            };
            let (shown, least) = show_length_pair(found, most.value);
            let within = length_text(most.value);
            let help = if name == "height" {
                format!("put `cleanout` where the pipe is no higher than {within} above the floor")
            } else {
                format!(
                    "put `cleanout` within {within} of the platform, or lead the platform to it"
                )
            };
            let mut finding = Finding::new(
                &RULE.kind,
                place,
                format!("no cleanout of drain `{}` is within reach {of}", drain.name),
                help,
            )
            .measured(shown, Relation::AtMost, least)
            .severity(most.severity)
            .source(most.source);
            if let Some((platform, _)) = places.next() {
                finding = finding.label(platform, "the nearest platform");
            }
            report.find(finding);
            break;
        }
    }
}
