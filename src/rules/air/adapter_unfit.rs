//! Between unit and trunk stands an adapter that fits both.

use crate::catalog::{Adapter, Section, TrunkPipe};
use crate::model::{AirHandler, Trunk};
use crate::quantity::trade_length;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR008",
        name: "adapter_unfit",
        title: "adapter missing, or not one that fits unit and trunk",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "That a trunk names the adapter at its unit, and that its ends are those of the unit's supply opening and of the trunk's first pipe.",
            on_site: "The piece does not fit on the day of the rough-in, and a makeshift one leaks at the place of highest pressure.",
            fix: "Name an adapter that the catalog lists for the unit and the trunk's pipe.",
        },
    },
    example: Example {
        wrong: "trunk side from ah.supply { pipe \"9 in round\", east 3 ft, removable, east 9 ft, cap }",
        right: "trunk side from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 3 ft, removable, east 9 ft, cap }",
    },
    check,
};

fn section_words(section: Section) -> String {
    match section {
        Section::Round(across) => format!("{} round", trade_length(across)),
        Section::Rectangular(w, h) => format!("{} x {}", trade_length(w), trade_length(h)),
        Section::Pipe(size) => trade_length(size),
    }
}

/// Whether an adapter's trunk end is that of the pipe; unknown ends are not held against it.
fn meets(adapter: &Adapter, pipe: &TrunkPipe) -> bool {
    let same_end = match (adapter.to.get(), pipe.section.get()) {
        (Some(to), Some(section)) => to == section,
        _ => true,
    };
    let same_stuff = match (adapter.trunk.get(), pipe.material.get()) {
        (Some(a), Some(b)) => a == b,
        _ => true,
    };
    same_end && same_stuff
}

/// The adapters that the unit's catalog lists and that meet the pipe, best first.
fn fitting<'j>(job: &'j Job<'_>, unit: &AirHandler, pipe: &TrunkPipe) -> Vec<&'j str> {
    unit.sheet
        .adapters
        .iter()
        .filter_map(|name| job.catalog.adapters.get_key_value(name.as_ref()?.as_str()))
        .filter(|(_, adapter)| meets(adapter, pipe))
        .map(|(name, _)| name.as_str())
        .collect()
}

fn check(job: &Job<'_>, report: &mut Report) {
    for trunk in job
        .model
        .trunks
        .values()
        .filter(|trunk| trunk.parent.is_none())
    {
        let first = trunk.legs.first();
        let pipe = first
            .and_then(|leg| leg.pipe.as_ref())
            .and_then(|pipe| job.catalog.trunk_pipes.get(&pipe.value));
        let (Some(unit), Some(first), Some(pipe)) = (job.model.unit_of(&trunk.name), first, pipe)
        else {
            continue;
        };
        if unit.sheet.adapters.is_empty() || trunk.flawed {
            continue;
        }
        let fitting = fitting(job, unit, pipe);
        let Some((at, message, found)) = fault(job, trunk, unit, pipe) else {
            continue;
        };
        let listed = unit.sheet.adapters.iter().filter_map(|name| name.as_ref());
        let (needed, help) = match fitting.first() {
            Some(best) => (fitting.join(", "), format!("write `adapter \"{best}\"`")),
            None => (
                pipe.section.get().map_or_else(
                    || "the trunk's section".to_owned(),
                    |section| format!("an adapter that ends at {}", section_words(section)),
                ),
                format!(
                    "no adapter of `{}` meets this pipe: use a pipe that one of them meets ({})",
                    unit.name,
                    listed.cloned().collect::<Vec<_>>().join(", ")
                ),
            ),
        };
        let mut finding = Finding::new(&RULE.kind, at, message, help)
            .measured(Shown::word(found), Relation::OneOf, Shown::word(needed))
            .label(
                unit.sheet.ports.supply.size.span,
                "the unit's supply opening",
            );
        if let Some(best) = fitting.first() {
            finding = match &trunk.adapter {
                Some(named) => finding.edit(named.span, format!("\"{best}\"")),
                None => {
                    let start = Span::new(first.span.file, first.span.start, first.span.start);
                    finding.edit(start, format!("adapter \"{best}\", "))
                }
            };
        }
        report.find(finding);
    }
}

/// Where the fault lies, what it is, and what stands there.
fn fault(
    job: &Job<'_>,
    trunk: &Trunk,
    unit: &AirHandler,
    pipe: &TrunkPipe,
) -> Option<(Span, String, String)> {
    let Some(named) = &trunk.adapter else {
        let message = format!("trunk `{}` has no adapter at `{}`", trunk.name, unit.name);
        return Some((trunk.span, message, "no adapter".to_owned()));
    };
    let Some(adapter) = job.catalog.adapters.get(&named.value) else {
        if job.catalog.gaps {
            return None;
        }
        let message = format!("no catalog of the job holds adapter `{}`", named.value);
        return Some((named.span, message, named.value.clone()));
    };
    let listed = unit
        .sheet
        .adapters
        .iter()
        .any(|name| name.as_ref() == Some(&named.value));
    let why = if !listed {
        format!("is not one that the catalog lists for `{}`", unit.name)
    } else if meets(adapter, pipe) {
        return None;
    } else {
        let to = adapter.to.get().map_or_else(String::new, section_words);
        let section = pipe.section.get().map_or_else(String::new, section_words);
        if to == section {
            "is made for another sort of trunk".to_owned()
        } else {
            format!("ends at {to}, and the trunk's pipe is {section}")
        }
    };
    let message = format!("adapter `{}` of trunk `{}` {why}", named.value, trunk.name);
    Some((named.span, message, named.value.clone()))
}
