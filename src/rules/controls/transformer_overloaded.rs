//! The 24 V transformer carries what hangs on it, with something in hand.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL013",
        name: "transformer_overloaded",
        title: "24 V transformer overloaded",
        severity: Severity::Error,
        source: "the equipment's catalog; a margin of 20 % is common practice, from memory",
        why: Why {
            checks: "The loads of thermostat, fan, and the greater of cooling and heating stay within the transformer's rating; over 80 % of it is a warning.",
            on_site: "The contactor chatters, its contacts weld, and the transformer burns out.",
            fix: "Put a relay between and feed the large load from a transformer of its own.",
        },
    },
    example: Example {
        wrong: "relay big { model \"Test relay\" }\nrelay big2 { model \"Test relay\" }\nrelay big3 { model \"Test relay\" }\ncable many from ah to big { type \"18/8\", wire red from ah.YO to big.A1, wire white from ah.C to big.A2, wire green from ah.YO to big2.A1, wire yellow from ah.C to big2.A2, wire blue from ah.YO to big3.A1, wire orange from ah.C to big3.A2 }",
        right: "relay big { model \"Test relay\" }\ncable many from ah to big { type \"18/8\", wire red from ah.YO to big.A1, wire white from ah.C to big.A2 }",
    },
    check,
};

/// Share of its rating that a transformer is loaded to, percent (common practice).
const USUAL: f64 = 80.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let id = |what: &str| format!("control.{}.transformer-{what}", unit.name);
        let (Some(share), Some(load), Some(rating)) = (
            job.ledger.real(&id("share")),
            job.ledger.real(&id("load")),
            job.ledger.real(&id("rating")),
        ) else {
            report.not_known(
                &RULE.kind,
                format!("air-handler {}", unit.name),
                (job.ledger, &id("load")),
                unit.span,
            );
            continue;
        };
        let own = Limit::default_of(USUAL, "common practice, from memory", Severity::Warning);
        let most = job.limit(
            &RULE.kind,
            ("share", Dimension::Ratio),
            Relation::AtMost,
            own,
            report,
        );
        let over = share > 100.0;
        if !over && share <= most.value {
            continue;
        }
        let limit = if over {
            rating
        } else {
            rating * most.value / 100.0
        };
        let (found, needed) = show_pair(load, limit, Dimension::ApparentPower);
        let message = if over {
            format!(
                "the transformer of `{}` carries more than its rating",
                unit.name
            )
        } else {
            format!(
                "the transformer of `{}` is loaded near its rating",
                unit.name
            )
        };
        let mut finding = Finding::new(
            &RULE.kind,
            unit.span,
            message,
            "feed the largest load through a relay from a transformer of its own",
        )
        .measured(found, Relation::AtMost, needed)
        .label(
            unit.sheet.transformer.rating.span,
            "the transformer's rating",
        );
        if !over {
            finding = finding.severity(most.severity).source(most.source);
        }
        report.find(finding);
    }
}
