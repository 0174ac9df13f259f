//! Air runs slowly enough in the return duct that it costs little pressure.

use crate::catalog::Section;
use crate::quantity::{Dimension, number_text, show_pair, show_real};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::face::returns;

/// Greatest mean velocity in a return duct of a house, fpm (ACCA Manual D's limit for rigid return trunks, from
/// memory).
const MOST: f64 = 700.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "RET004",
        name: "return_duct_narrow",
        title: "return duct too narrow",
        severity: Severity::Warning,
        source: "ACCA Manual D, limit of return trunks (from memory)",
        why: Why {
            checks: "The air that the solved circuit draws through the duct of a return runs at 700 fpm at most.",
            on_site: "The blower spends its pressure on the way back: the plenum stands low, every outlet is weak, the cabinet pulls hard on its trap, and the return is heard.",
            fix: "Use a wider return duct, or a second return.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, duct \"7 in round\", measured 30 ft }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, measured 8 ft }",
    },
    check,
};

/// Inside area, in².
fn area(section: Section) -> f64 {
    match section {
        Section::Round(d) | Section::Pipe(d) => {
            std::f64::consts::FRAC_PI_4 * d.to_inches() * d.to_inches()
        }
        Section::Rectangular(w, h) => w.to_inches() * h.to_inches(),
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    let own = Limit::default_of(MOST, RULE.kind.source, RULE.kind.severity);
    let name = ("velocity", Dimension::Velocity);
    let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
    for entry in returns(job) {
        let Some(name) = entry.text("name").known() else {
            continue;
        };
        let id = |what: &str| format!("return.{}.{what}", name.value);
        let found = job.ledger.real(&id("duct-velocity"));
        let Some(found) = found.filter(|found| *found > limit.value) else {
            continue;
        };
        let Some(named) = entry
            .child("duct")
            .and_then(|child| child.text("duct").known())
        else {
            continue;
        };
        let flow = job.ledger.real(&id("airflow")).unwrap_or_default();
        let least = flow / limit.value * 144.0;
        let wider = job
            .catalog
            .trunk_pipes
            .iter()
            .filter_map(|(name, pipe)| Some((area(pipe.section.get()?), name)))
            .filter(|(area, _)| *area >= least)
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let help = match wider {
            Some((_, name)) => format!("write `duct \"{name}\"`"),
            None => {
                let across = libm::ceil(libm::sqrt(least / std::f64::consts::FRAC_PI_4) - 1e-9);
                format!(
                    "use a duct of {} in round or larger, or a second return",
                    number_text(across, 0)
                )
            }
        };
        let (shown, needed) = show_pair(found, limit.value, Dimension::Velocity);
        let mut finding = Finding::new(
            &RULE.kind,
            named.span,
            format!("air runs too fast in the duct of return `{}`", name.value),
            help,
        )
        .measured(shown, Relation::AtMost, needed);
        if let Some((_, name)) = wider {
            finding = finding.edit(named.span, format!("\"{name}\""));
        }
        if let Some(loss) = job.ledger.real(&id("loss")) {
            let loss = show_real(loss, Dimension::Pressure);
            finding = finding.label(
                entry.span,
                format!("the return uses up {} of the blower's pressure", loss.text),
            );
        }
        report.find(limit.mark(finding));
    }
}
