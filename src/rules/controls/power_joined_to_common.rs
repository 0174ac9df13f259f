//! Hot side and common of a transformer never meet.

use crate::catalog::Role;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Netlist;

use super::{from_to, last_words};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL006",
        name: "power_joined_to_common",
        title: "24 V power joined to common",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "No terminal of the hot side is joined to a common terminal, by whatever way.",
            on_site: "The transformer blows its fuse or burns out the moment the breaker is closed.",
            fix: "Land the conductor on the terminal it belongs to.",
        },
    },
    example: Example {
        wrong: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.R, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
        right: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let net = Netlist::of(job.model, job.catalog);
    let mut told: Vec<[String; 2]> = Vec::new();
    for members in net.nets() {
        let with = |role: Role| members.iter().find(|(_, point)| point.role() == Some(role));
        let Some((hot, hot_point)) = with(Role::Power).or_else(|| with(Role::PowerIn)) else {
            continue;
        };
        // The nearest common shows the wrong landing best.
        let Some((cold, cold_point)) = members
            .iter()
            .filter(|(_, point)| point.role() == Some(Role::Common))
            .min_by_key(|(n, _)| net.path(*hot, *n).map_or(usize::MAX, |path| path.len()))
        else {
            continue;
        };
        let mut units = [
            hot_point.unit().unwrap_or("").to_owned(),
            cold_point.unit().unwrap_or("").to_owned(),
        ];
        units.sort();
        // Two conductors that changed places are one mistake.
        if told.contains(&units) {
            continue;
        }
        told.push(units);
        let (from, to) = if hot_point.kind() == "air-handler" {
            (*cold, *hot)
        } else {
            (*hot, *cold)
        };
        let Some(span) = last_words(&net, from, to) else {
            continue;
        };
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!("power at `{}` is joined to common at `{}`", hot_point.name, cold_point.name),
                "land this conductor on the terminal it belongs to: power to power, common to common",
            )
            .measured(
                Shown::word(from_to(&net, from, to)),
                Relation::Not,
                Shown::word("joined"),
            ),
        );
    }
}
