//! The coil's surface stays well above the temperature at which the freeze cut-out opens.

use crate::catalog::SafetyType;
use crate::figures::figure_id;
use crate::model::AirHandler;
use crate::quantity::{Dimension, Temperature, show_pair, show_real};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

/// Margin where the sheet states no closing temperature, °F.
const USUAL: f64 = 4.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR034",
        name: "coil_near_ice",
        title: "coil near freezing",
        severity: Severity::Warning,
        source: "the equipment's catalog: the cut-out's two temperatures; 4 °F where it states none, common practice",
        why: Why {
            checks: "The temperature of the coil's surface (apparatus dew point) at the solved airflow and summer design against the temperature at which the freeze cut-out opens: an error below it, a warning while the surface is colder than where the cut-out closes again.",
            on_site: "Ice grows on the coil, air gets less and less, the cut-out stops the cooling on the hottest day, and the melting water runs where it should not.",
            fix: "Raise the airflow: a higher tap, shorter runs, more outlets, an easier return; or choose a smaller outdoor unit.",
        },
    },
    example: Example {
        wrong: "air-handler ah { model \"Test 3-ton, flat\", on attic, center 6 ft, 6 ft, discharge toward east, stand 10 in, tap 1 }",
        right: "air-handler ah { model \"Test 3-ton, flat\", on attic, center 6 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }",
    },
    check,
};

/// A temperature and where the sheet states it.
type Setting = (f64, Span);

/// The cut-out's opening and closing temperature.
fn cut_out(unit: &AirHandler) -> Option<(Setting, Option<Setting>)> {
    let safety = unit
        .sheet
        .safeties
        .values()
        .find(|safety| safety.type_of.get() == Some(SafetyType::Freeze))?;
    let value = |stated: Option<&crate::catalog::Stated<Temperature>>| {
        let stated = stated?;
        Some((stated.get()?.value(), stated.span))
    };
    Some((value(safety.opens.as_ref())?, value(safety.closes.as_ref())))
}

/// How far above the cut-out's opening the surface has to stay.
pub(super) fn margin_limit(
    job: &Job<'_>,
    kind: &'static Kind,
    unit: &AirHandler,
    report: &mut Report,
) -> Limit<f64> {
    let own = match cut_out(unit) {
        Some(((opens, _), Some((closes, span)))) if closes > opens => Limit {
            severity: Severity::Warning,
            ..Limit::of_catalog(closes - opens, span)
        },
        _ => Limit::default_of(USUAL, "common practice", Severity::Warning),
    };
    let name = ("margin", Dimension::TemperatureDifference);
    job.limit(kind, name, Relation::AtLeast, own, report)
}

/// The same at the further conditions that the job names.
fn at_conditions(job: &Job<'_>, unit: &AirHandler, limit: &Limit<f64>, report: &mut Report) {
    let further = job.model.job.conditions.iter();
    for condition in further.filter(|c| !matches!(c.name.as_str(), "summer" | "winter")) {
        let real = |what: &str| {
            let id = figure_id(["coil.", &unit.name, ".", what, "@", &condition.name]);
            job.ledger.real(&id)
        };
        let (Some(margin), Some(surface)) = (real("freeze-margin"), real("surface-temperature"))
        else {
            let thing = format!("air handler `{}` at {}", unit.name, condition.name);
            let id = figure_id(["coil.", &unit.name, ".freeze-margin@", &condition.name]);
            report.not_known(&RULE.kind, thing, (job.ledger, &id), condition.span);
            continue;
        };
        if margin >= limit.value {
            continue;
        }
        let opens = surface - margin;
        let (found, needed) = show_pair(surface, opens + limit.value, Dimension::Temperature);
        let mut finding = Finding::new(
            &RULE.kind,
            condition.span,
            format!(
                "the coil of `{}` comes near ice at condition `{}`",
                unit.name, condition.name
            ),
            "raise the airflow, a higher `tap` or an easier return first, or keep the unit from cooling then",
        )
        .measured(found, Relation::AtLeast, needed)
        .label(unit.span, "the unit");
        finding = limit.mark(finding);
        if margin <= 0.0 {
            finding = finding.severity(Severity::Error);
        }
        report.find(finding);
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
        let id = |what: &str| figure_id(["coil.", &unit.name, ".", what]);
        let thing = format!("air handler `{}`", unit.name);
        let (Some(margin), Some(surface)) = (
            job.ledger.real(&id("freeze-margin")),
            job.ledger.real(&id("surface-temperature")),
        ) else {
            let id = id("freeze-margin");
            if !job.rests_on_airflow(&id) {
                report.not_known(&RULE.kind, thing, (job.ledger, &id), unit.span);
            }
            continue;
        };
        let settings = cut_out(unit);
        let mut limit = margin_limit(job, &RULE.kind, unit, report);
        at_conditions(job, unit, &limit, report);
        if margin >= limit.value {
            continue;
        }
        if margin <= 0.0 {
            limit.severity = Severity::Error;
        }
        let opens = surface - margin;
        let (found, needed) = show_pair(surface, opens + limit.value, Dimension::Temperature);
        let airflow = job
            .ledger
            .real(&figure_id(["air-handler.", &unit.name, ".airflow"]));
        let freezes = job.ledger.real(&id("freeze-airflow"));
        let help = match (airflow, freezes) {
            (Some(got), Some(at)) => {
                let (got, at) = show_pair(got, at, Dimension::AirFlow);
                format!(
                    "raise the airflow, a higher `tap` or an easier return first: it is {}, and the cut-out opens at {}",
                    got.text, at.text
                )
            }
            _ => "raise the airflow: a higher `tap`, an easier return, more outlets".to_owned(),
        };
        let mut finding = Finding::new(
            &RULE.kind,
            unit.span,
            format!(
                "the coil of `{}` is {} {} where its freeze cut-out opens",
                unit.name,
                show_real(margin.abs(), Dimension::TemperatureDifference).text,
                if margin < 0.0 { "colder than" } else { "from" }
            ),
            help,
        )
        .measured(found, Relation::AtLeast, needed);
        if let Some(((_, span), _)) = settings {
            finding = finding.label(span, "the cut-out opens");
        }
        if let Some(tap) = &unit.tap {
            finding = finding.label(tap.span, "the tap");
        }
        report.find(limit.mark(finding));
    }
}
