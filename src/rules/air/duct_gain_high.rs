//! The supply ducts take little of the cold that the coil gives.

use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair, show_real};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

/// Greatest part of the sensible load that ducts may add, %: common practice, from memory; distribution systems in
/// vented attics are usually reckoned with a tenth to a seventh.
const MOST: f64 = 15.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR037",
        name: "duct_gain_high",
        title: "ducts warm the air too much",
        severity: Severity::Warning,
        source: "common practice (from memory)",
        why: Why {
            checks: "The heat that trunk and tubes gain at summer design is at most 15 % of the sensible load, with all insulation as the code asks: thinner insulation has its own finding.",
            on_site: "The air arrives warm at the far outlets, the unit runs through the hot afternoon, and the attic is what it cools.",
            fix: "Shorten what lies in the hot space, insulate it more, ventilate or insulate the space, or lead the trunk through rooms that are kept.",
        },
    },
    example: Example {
        wrong: "story loft { floor 20 ft, ceiling 8 ft, summer 150 F, winter 20 F }",
        right: "story loft { floor 20 ft, ceiling 8 ft, summer 105 F, winter 20 F }",
    },
    check,
};

/// Whether a duct is insulated less than the code asks, which is told there.
fn thin(job: &Job<'_>) -> bool {
    let under = |id: String| {
        let (have, least) = (
            job.ledger.real(&figure_id([&id, ".insulation"])),
            job.ledger.real(&figure_id([&id, ".insulation-least"])),
        );
        have.zip(least).is_some_and(|(have, least)| have < least)
    };
    let runs = job
        .model
        .runs
        .keys()
        .any(|run| under(figure_id(["run.", run])));
    runs || job.model.trunks.values().any(|trunk| {
        (1..=trunk.legs.len()).any(|leg| under(format!("trunk.{}.leg-{leg}", trunk.name)))
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    let own = Limit::default_of(MOST, RULE.kind.source, RULE.kind.severity);
    let name = ("share", Dimension::Ratio);
    let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
    for unit in job.model.air_handlers.values() {
        let real = |what: &str| {
            job.ledger
                .real(&figure_id(["load.", &unit.name, ".", what]))
        };
        let (Some(share), Some(gain)) = (real("duct-gain-share"), real("duct-gain")) else {
            continue;
        };
        if share <= limit.value || thin(job) {
            continue;
        }
        let hottest = job
            .model
            .house
            .stories
            .values()
            .filter_map(|story| Some((story.summer?, story)))
            .max_by(|a, b| a.0.value.total_cmp(&b.0.value));
        let (found, needed) = show_pair(share, limit.value, Dimension::Ratio);
        let mut finding = Finding::new(
            &RULE.kind,
            hottest.map_or(unit.span, |(summer, _)| summer.span),
            format!(
                "the ducts of `{}` gain {}, too large a part of what it has to cool",
                unit.name,
                show_real(gain, Dimension::HeatFlow).text
            ),
            match hottest {
                Some((_, story)) => format!(
                    "keep `{}` cooler, insulate the ducts in it more, or lead less of them through it",
                    story.name
                ),
                None => "insulate the ducts more, or lead less of them outside what is cooled".to_owned(),
            },
        )
        .measured(found, Relation::AtMost, needed);
        if hottest.is_some() {
            finding = finding.label(unit.span, "the unit");
        }
        report.find(limit.mark(finding));
    }
}
