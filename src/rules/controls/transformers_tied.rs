//! Two transformers are never tied together.

use crate::catalog::Role;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

use super::{from_to, last_words};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL007",
        name: "transformers_tied",
        title: "two transformers tied together",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "The hot sides of two units' transformers are not joined; a relay with a dry contact stands between them.",
            on_site: "Out of phase they give 48 V and burn what they feed; and a dead unit stays live from the other one.",
            fix: "Put an isolating relay between: its coil on the one transformer, its contact on the other.",
        },
    },
    example: Example {
        wrong: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }\ncable tie from ah to ah2 { type \"18/8\", wire white from ah.C to ah2.C, wire green from ah.G to ah2.G, wire yellow from ah.Y to ah2.Y, wire brown from ah.W to ah2.W, wire red from ah.R to ah2.R }",
        right: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }\ncable tie from ah to ah2 { type \"18/8\", wire white from ah.C to ah2.C, wire green from ah.G to ah2.G, wire yellow from ah.Y to ah2.Y, wire brown from ah.W to ah2.W, spare red }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    for members in net.nets() {
        let mut hot = members
            .iter()
            .filter(|(_, point)| point.role() == Some(Role::Power));
        let Some((first, one)) = hot.next() else {
            continue;
        };
        let Some((second, other)) = hot.find(|(_, point)| point.unit() != one.unit()) else {
            continue;
        };
        let Some(span) = last_words(net, *first, *second) else {
            continue;
        };
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "the transformers of `{}` and `{}` are tied together",
                    one.name, other.name
                ),
                "take the wire out and put a relay between the two",
            )
            .measured(
                Shown::word(from_to(net, *first, *second)),
                Relation::Not,
                Shown::word("joined"),
            ),
        );
    }
}
