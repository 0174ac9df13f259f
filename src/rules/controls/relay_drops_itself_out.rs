//! No relay takes its own feed away.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

use super::proved::{is_told_on, landings_on};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL036",
        name: "relay_drops_itself_out",
        title: "relay that drops itself out",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "The wiring is run for every call of the thermostats with every set of safeties open, and comes to rest: no contact that opens with a coil stands in the feed of that coil, however many relays lie between.",
            on_site: "The relay buzzes, its contacts burn within days, and what it starts stutters.",
            fix: "Feed the coil from before its own contact, or use the contact that closes with it.",
        },
    },
    example: Example {
        wrong: "relay r2 { model \"Test relay\", on ah }\ncable r2-cable from ah to r2 { type \"18/5\", wire red from ah.WO to r2.COM, wire green from r2.NC to r2.A1, wire white from ah.C to r2.A2 }",
        right: "relay r2 { model \"Test relay\", on ah }\ncable r2-cable from ah to r2 { type \"18/5\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    if net.flawed || job.model.cables.is_empty() {
        return;
    }
    for restless in &job.wiring.unrest().restless {
        let way = &restless.way;
        if is_told_on(report, &landings_on(net, way)) {
            continue;
        }
        // The last landing, on the coil, is where its feed is put elsewhere.
        let landing = |pair: &[usize]| net.words_between(*pair.first()?, *pair.last()?);
        let Some(span) = way.windows(2).rev().find_map(landing) else {
            continue;
        };
        let names: Vec<String> = restless
            .movers
            .iter()
            .map(|name| format!("`{name}`"))
            .collect();
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "{}, and {} pulls in and drops out again and again",
                    circuit.whole_words(&restless.case),
                    names.join(" with ")
                ),
                format!(
                    "feed the coil from before the contact that it opens, or over the one that closes with it; now: {}",
                    net.path_words(way)
                ),
            )
            .measured(
                Shown::word("in and out"),
                Relation::Equal,
                Shown::word("at rest"),
            ),
        );
    }
}
