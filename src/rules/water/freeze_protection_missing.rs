//! Water that can stand where it freezes is kept from it.

use crate::quantity::number_text;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD010",
        name: "freeze_protection_missing",
        title: "nothing keeps the coil's water from freezing",
        severity: Severity::Error,
        source: "common practice; ASHRAE Handbook—HVAC Applications, from memory",
        why: Why {
            checks: "A coil whose unit or pipes lie in a space at or below 32 °F at winter design says what keeps its water from freezing: glycol, circulation on a falling temperature, or draining.",
            on_site: "The first night without power, or with a dead pump, splits the coil above the bedroom ceiling.",
            fix: "Choose one, write it in the coil's block, and order what it takes.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }"#,
    },
    check,
};

/// Where water freezes, °F.
const FREEZES: f64 = 32.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for coil in job.model.water.coils.values().filter(|coil| !coil.flawed) {
        let id = |what: &str| format!("water-coil.{}.{what}", coil.name);
        let Some(coldest) = job.ledger.real(&id("coldest-space")) else {
            continue;
        };
        let said = coil.freeze_protection.as_ref();
        let open = said.is_none() && job.model.is_open(coil.span, "freeze-protection");
        if coldest > FREEZES || open {
            continue;
        }
        let mixed = coil.glycol_said && coil.glycol.is_none_or(|glycol| glycol.value > 0.0);
        let by_glycol = said.is_some_and(|how| how.value == "glycol");
        if mixed || (said.is_some() && !by_glycol) {
            continue;
        }
        // Glycol that another coil on the same boiler states is missing here by a slip that is told there.
        let water = &job.model.water;
        let boiler = water.loop_of(&coil.name).map(|found| &found.boiler);
        let beside = water
            .loops
            .iter()
            .filter(|found| Some(&found.boiler) == boiler)
            .any(|found| {
                water
                    .glycol_of(found)
                    .is_some_and(|share| share.value > 0.0)
            });
        if by_glycol && beside && !coil.glycol_said {
            continue;
        }
        let share = job
            .ledger
            .real(&id("glycol-least"))
            .map(|share| libm::ceil(share).max(1.0));
        let glycol = share.map(|share| format!("`glycol {} %`", number_text(share, 0)));
        let (message, help) = if by_glycol {
            (
                format!(
                    "glycol is to keep coil `{}` from freezing, and none is in its water",
                    coil.name
                ),
                glycol.map_or_else(
                    || "choose another way".to_owned(),
                    |glycol| format!("write {glycol}"),
                ),
            )
        } else {
            let or = glycol.map_or_else(String::new, |glycol| format!(", or {glycol}"));
            (
                format!(
                    "nothing is said that keeps the water of coil `{}` from freezing",
                    coil.name
                ),
                format!(
                    "write `freeze-protection circulation` or `freeze-protection draining`{or}"
                ),
            )
        };
        let mut finding = Finding::new(
            &RULE.kind,
            said.map_or(coil.span, |said| said.span),
            message,
            help,
        )
        .measured(
            Shown::word(if by_glycol { "no glycol" } else { "nothing" }),
            Relation::OneOf,
            Shown::word("glycol, circulation, draining"),
        );
        if let Some(place) = job
            .ledger
            .get(&id("coldest-space"))
            .and_then(|f| f.places().next())
        {
            finding = finding.label(place.0, "the coldest space");
        }
        report.find(finding);
    }
}
