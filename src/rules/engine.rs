//! Runs every rule over a job, then applies the shop's severities and the job's waivers.

use crate::catalog::{Standards, UNKNOWN_FIELD, nearest};
use crate::model::{Model, Waiver};
use crate::source::{Files, Finding, Severity, Span};

use super::registry::{RULES, kind_named, kinds};
use super::rule::{Job, NotChecked, Report};

/// A threshold or severity that the shop's standards set looser than the rule's own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Loosened {
    /// The rule's code.
    pub code: &'static str,
    /// What was loosened, in words.
    pub what: String,
    /// Where.
    pub span: Span,
}

/// What judging a job gave.
#[derive(Debug, Default)]
pub struct Judged {
    /// All findings, waived ones among them, sorted by place and code.
    pub findings: Vec<Finding>,
    /// Checks that could not be made.
    pub not_checked: Vec<NotChecked>,
    /// What the shop's standards loosened.
    pub loosened: Vec<Loosened>,
}

fn inside(scope: Span, span: Span) -> bool {
    scope.file == span.file && scope.start <= span.start && span.end <= scope.end
}

fn waives(waiver: &Waiver, finding: &Finding) -> bool {
    let family = finding.kind.code.get(..3).unwrap_or("");
    if matches!(family, "LNG" | "CAT" | "MOD") {
        return false;
    }
    let named = waiver.code.value.eq_ignore_ascii_case(finding.kind.code)
        || waiver.code.value == finding.kind.name;
    named && waiver.scope.is_none_or(|scope| inside(scope, finding.span))
}

/// Rules that judge the same words in steps: the lesser, and those that speak in its place.
const GRAVER: [(&str, &[&str]); 1] = [("DRN011", &["DRN010", "DRN012"])];

fn apply_waivers(model: &Model, findings: &mut Vec<Finding>) {
    let mut idle: Vec<&Waiver> = Vec::new();
    for waiver in &model.waivers {
        let family = waiver
            .code
            .value
            .get(..3)
            .unwrap_or("")
            .to_ascii_uppercase();
        if matches!(family.as_str(), "LNG" | "CAT" | "MOD") {
            continue;
        }
        let mut used = false;
        for finding in findings
            .iter_mut()
            .filter(|finding| waives(waiver, finding))
        {
            finding.waived = Some(waiver.reason.value.clone());
            used = true;
        }
        if !used {
            idle.push(waiver);
        }
    }
    // What was misread stays silent, and so does the rule that would have used the waiver.
    let misread = findings.iter().any(|finding| {
        let family = finding.kind.code.get(..3).unwrap_or("");
        matches!(family, "LNG" | "CAT" | "MOD") && finding.severity == Severity::Error
    });
    for waiver in idle {
        let known = kind_named(&waiver.code.value);
        // What is worse than the waived is told in its place: mended, it may be the waived again.
        let graver = GRAVER
            .iter()
            .filter(|(lesser, _)| known.is_some_and(|kind| kind.code == *lesser));
        let worse = graver.flat_map(|(_, graver)| *graver).any(|code| {
            findings.iter().any(|finding| {
                finding.kind.code == *code
                    && finding.waived.is_none()
                    && waiver
                        .scope
                        .is_some_and(|scope| inside(scope, finding.span))
            })
        });
        if (misread || worse) && known.is_some() {
            continue;
        }
        let (message, help) = match known {
            Some(kind) => (
                format!(
                    "`{}` ({}) is waived on {}, where nothing is found",
                    kind.code, kind.title, waiver.thing
                ),
                "take the waiver out, or move it into the thing that it is meant for".to_owned(),
            ),
            None => (
                format!("there is no rule `{}` to waive", waiver.code.value),
                "take the waiver out, or write the code that the report shows".to_owned(),
            ),
        };
        findings.push(
            Finding::new(&crate::model::WAIVER_IDLE, waiver.code.span, message, help)
                .edit(waiver.span, ""),
        );
    }
}

fn apply_severities(standards: &Standards, report: &mut Report) {
    for finding in &mut report.findings {
        let Some((severity, span)) = standards.severity(finding.kind.code, finding.kind.name)
        else {
            continue;
        };
        if severity < finding.severity {
            let what = format!(
                "{} is {} instead of {}",
                finding.kind.title,
                severity.word(),
                finding.severity.word()
            );
            let loosened = Loosened {
                code: finding.kind.code,
                what,
                span,
            };
            if !report.loosened.contains(&loosened) {
                report.loosened.push(loosened);
            }
        }
        finding.severity = severity;
    }
}

/// What outlets will deliver and rooms feel like, told from the ducts as drawn.
const FORECASTS: [&str; 5] = ["AIR015", "AIR031", "AIR032", "AIR033", "AIR041"];
/// Mistakes in a run or in the number of runs: until they are mended, a forecast would tell the same mistake again.
const DRAWN: [&str; 6] = ["AIR005", "AIR006", "AIR007", "AIR011", "MOD004", "MOD007"];

/// Takes forecasts out that rest on a run with a finding of its own; they are then not checked.
fn await_mending(findings: &mut Vec<Finding>, not_checked: &mut Vec<NotChecked>) {
    let stands = |finding: &Finding| finding.waived.is_none();
    let drawn = findings
        .iter()
        .any(|finding| stands(finding) && DRAWN.contains(&finding.kind.code));
    if !drawn {
        return;
    }
    findings.retain(|finding| {
        let waits = stands(finding) && FORECASTS.contains(&finding.kind.code);
        if waits {
            not_checked.push(NotChecked {
                kind_code: finding.kind.code,
                title: finding.kind.title,
                thing: "outlets and rooms".to_owned(),
                reason: "what is found on a run has to be mended first".to_owned(),
                span: Some(finding.span),
            });
        }
        !waits
    });
}

/// Thresholds and severities that the shop sets for rules that there are not: they would hold nobody to anything.
fn strange_rules(standards: &Standards) -> Vec<Finding> {
    let thresholds = standards
        .thresholds
        .iter()
        .map(|(name, of)| (name, of.span));
    let severities = standards
        .severities
        .iter()
        .map(|(name, of)| (name, of.span));
    thresholds
        .chain(severities)
        .filter(|(name, _)| kind_named(name).is_none())
        .map(|(name, span)| {
            let known = kinds().flat_map(|kind| [kind.code, kind.name]);
            let near = nearest(known.collect::<Vec<_>>().into_iter(), name);
            let help = near.map_or_else(
                || "take it out, or name the rule as a report does".to_owned(),
                |near| format!("write `{near}`"),
            );
            let message = format!("there is no rule `{name}` for the standards to set");
            Finding::new(&UNKNOWN_FIELD, span, message, help)
        })
        .collect()
}

/// Runs all rules; `earlier` are the findings of language, catalog and model.
pub fn judge(files: &Files, job: &Job<'_>, earlier: Vec<Finding>) -> Judged {
    let (model, standards) = (job.model, job.standards);
    let mut report = Report::default();
    for rule in RULES {
        (rule.check)(job, &mut report);
    }
    let waived = |finding: &Finding| model.waivers.iter().any(|waiver| waives(waiver, finding));
    super::controls::settle(job, &mut report.findings, &waived);
    apply_severities(standards, &mut report);
    let mut findings = earlier;
    findings.append(&mut strange_rules(standards));
    findings.append(&mut report.findings);
    apply_waivers(model, &mut findings);
    // A blower's curve that turns back is told in its catalog; no working point on it is the same mistake.
    if findings.iter().any(|finding| finding.kind.code == "CAT010") {
        findings.retain(|finding| finding.kind.code != "AIR012");
    }
    await_mending(&mut findings, &mut report.not_checked);
    findings.sort_by_cached_key(|finding| {
        let at = files.position(finding.span);
        (
            files.name(finding.span.file).to_owned(),
            at.line,
            at.column,
            finding.kind.code,
            finding.message.clone(),
        )
    });
    findings
        .dedup_by(|a, b| a.kind.code == b.kind.code && a.span == b.span && a.message == b.message);
    debug_assert!(
        findings
            .iter()
            .all(|finding| finding.severity <= Severity::Error)
    );
    let mut not_checked = report.not_checked;
    not_checked.dedup();
    Judged {
        findings,
        not_checked,
        loosened: report.loosened,
    }
}
