//! The staple in stock is spaced no wider than the code lets building cable hang.

use crate::catalog::{Holds, Sheath, Stated};
use crate::quantity::{Dimension, Length, length_text, show_length_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::power::cable_of;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR036",
        name: "cable_supports_wide",
        title: "supports of cable too far apart",
        severity: Severity::Error,
        source: "NEC 334.30, 340.10(4), 330.30(B)",
        why: Why {
            checks: "Where a job lays building cable, the cable support of the catalog that the order counts by is spaced no wider than 4 1/2 ft; where it lays none but metal-clad cable, 6 ft. Raceways have supports of their own. The first support within 12 in of each box stands among the steps of the circuit's page.",
            on_site: "Too few staples come to the site, and the cable hangs in loops that somebody catches with a foot.",
            fix: "Correct the `spacing` of the support in the catalog.",
        },
    },
    example: Example {
        wrong: "catalog \"wide-staple.yaml\"\ncircuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

/// Farthest from one support of plastic-sheathed cable to the next (NEC 334.30, 340.10(4)).
const BUILDING: Length = Length::inches(54);
/// Farthest from one support of metal-clad cable to the next (NEC 330.30(B)).
const METAL: Length = Length::feet(6);

fn check(job: &Job<'_>, report: &mut Report) {
    // The strictest cable of the job, and the circuit that lays it.
    let strictest = job
        .model
        .circuits
        .values()
        .filter(|circuit| !circuit.existing)
        .filter_map(|circuit| {
            let cable = cable_of(job.catalog, circuit)?;
            let most = match cable.sheath.as_ref().and_then(Stated::get) {
                Some(Sheath::Raceway) => return None,
                Some(Sheath::Mc) => METAL,
                _ => BUILDING,
            };
            Some((most, circuit, circuit.cable.as_ref()?))
        })
        .min_by_key(|(most, ..)| *most);
    let Some((most, circuit, item)) = strictest else {
        return;
    };
    let supports = job
        .catalog
        .hangers
        .iter()
        .filter(|(_, hanger)| hanger.holds.get() == Some(Holds::Cable));
    for (name, hanger) in supports {
        let Some((stated, spacing)) = hanger
            .spacing
            .as_ref()
            .and_then(|stated| Some((stated, stated.get()?)))
        else {
            continue;
        };
        let own = Limit::default_of(most, RULE.kind.source, RULE.kind.severity);
        let limit = job.limit(
            &RULE.kind,
            ("spacing", Dimension::Length),
            Relation::AtMost,
            own,
            report,
        );
        if spacing <= limit.value {
            continue;
        }
        let good = length_text(limit.value);
        let (found, needed) = show_length_pair(spacing, limit.value);
        let finding = Finding::new(
            &RULE.kind,
            item.span,
            format!(
                "`{name}`, by which supports are counted, is spaced wider than the cable of circuit `{}` may hang",
                circuit.name
            ),
            format!("write `spacing: {good}` in the catalog"),
        )
        .measured(found, Relation::AtMost, needed)
        .label(stated.span, "the support's spacing")
        .edit(stated.span, good);
        report.find(limit.mark(finding));
    }
}
