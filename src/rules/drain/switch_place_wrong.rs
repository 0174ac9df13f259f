//! A float switch sits where it is made to sit, and where the water comes.

use crate::catalog::{FloatPlace, FloatSwitch, Stated};
use crate::model::{Drain, Mark, Pan};
use crate::quantity::show_length;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN041",
        name: "switch_place_wrong",
        title: "float switch where it does not catch the overflow",
        severity: Severity::Error,
        source: "IMC 307.2.3.1; IRC M1411.3.1.1; the equipment's catalog",
        why: Why {
            checks: "The switch in a pan is made for pans and trips below the rim, one on a drain is made for drains; and where the unit has neither a secondary port nor a pan, the switch sits in the unit's own pan: one in the drain line does not count.",
            on_site: "A clog before the switch fills the pan, and the switch hangs dry in the pipe.",
            fix: "Use the switch that is made for the place.",
        },
    },
    example: Example {
        wrong: "pan p2 under ah { size 54 in x 31 in, depth 2 in, switch \"Test drain float switch\" }",
        right: "pan p2 under ah { size 54 in x 31 in, depth 2 in, item \"31 x 54 in pan\", switch \"Test pan float switch\" }",
    },
    check,
};

/// The switch of the catalogs that is made for one of these places.
fn made_for<'a>(job: &Job<'a>, places: &[FloatPlace]) -> Option<&'a str> {
    let found = job.catalog.float_switches.iter().find(|(_, switch)| {
        switch
            .place
            .get()
            .is_some_and(|place| places.contains(&place))
    });
    found.map(|(name, _)| name.as_str())
}

/// A switch that is made for another place.
fn elsewhere(
    job: &Job<'_>,
    (span, switch, edit): (Span, &FloatSwitch, Span),
    (thing, places): (&str, &[FloatPlace]),
    report: &mut Report,
) {
    let Some(place) = switch.place.get().filter(|place| !places.contains(place)) else {
        return;
    };
    let good = made_for(job, places);
    let needed: Vec<&str> = places.iter().map(|place| place.word()).collect();
    let mut finding = Finding::new(
        &RULE.kind,
        span,
        format!(
            "the float switch of {thing} is made for the {}",
            place.word()
        ),
        good.map_or_else(
            || "use a switch that is made for this place".to_owned(),
            |good| format!("use `{good}`"),
        ),
    )
    .measured(
        Shown::word(place.word()),
        Relation::OneOf,
        Shown::word(needed.join(", ")),
    )
    .label(switch.place.span, "what it is made for");
    if let Some(good) = good {
        finding = finding.edit(edit, format!("\"{good}\""));
    }
    report.find(finding);
}

fn in_pan(job: &Job<'_>, pan: &Pan, report: &mut Report) {
    let Some(named) = &pan.switch else { return };
    let Some(switch) = job.catalog.float_switches.get(&named.value) else {
        return;
    };
    elsewhere(
        job,
        (named.span, switch, named.span),
        (&format!("pan `{}`", pan.name), &[FloatPlace::AuxiliaryPan]),
        report,
    );
    let trips = switch.trips.as_ref().and_then(Stated::get);
    let (Some(trips), Some(depth)) = (trips, pan.depth) else {
        return;
    };
    if trips < depth.value {
        return;
    }
    report.find(
        Finding::new(
            &RULE.kind,
            named.span,
            format!(
                "the switch of pan `{}` trips no lower than its rim",
                pan.name
            ),
            "use a deeper pan, or a switch that trips lower",
        )
        .measured(
            show_length(trips),
            Relation::AtMost,
            show_length(depth.value - crate::quantity::Length::sixteenths(1)),
        )
        .label(depth.span, "the depth of the pan"),
    );
}

fn on_drain(job: &Job<'_>, drain: &Drain, report: &mut Report) {
    let panned = job
        .model
        .pans
        .values()
        .any(|pan| pan.unit.value == drain.unit);
    for happening in &drain.happenings {
        let Mark::FloatSwitch(name) = &happening.mark else {
            continue;
        };
        if let Some(switch) = job.catalog.float_switches.get(name) {
            let words = Span::new(
                happening.span.file,
                happening
                    .span
                    .end
                    .saturating_sub(u32::try_from(name.len() + 2).unwrap_or(0)),
                happening.span.end,
            );
            elsewhere(
                job,
                (happening.span, switch, words),
                (
                    &format!("drain `{}`", drain.name),
                    &[FloatPlace::DrainLine, FloatPlace::SecondaryDrain],
                ),
                report,
            );
        }
        let unit = job.model.air_handlers.get(&drain.unit);
        let Some(unit) = unit.filter(|_| !panned && drain.port_name() == "drain") else {
            continue;
        };
        let own = super::second_line_missing::has_own_switch(unit);
        if unit.sheet.ports.secondary_drain.is_some() || own {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                happening.span,
                format!(
                    "`{}` has neither a secondary port nor a pan, and a switch in the drain line does not catch its overflow",
                    unit.name
                ),
                "set the switch into the unit's own pan, or a pan with a switch under the unit",
            )
            .measured(
                Shown::word("drain line"),
                Relation::Equal,
                Shown::word("primary pan"),
            )
            .label(unit.span, "the unit"),
        );
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    for pan in job.model.pans.values() {
        in_pan(job, pan, report);
    }
    for drain in job.model.drains.values() {
        on_drain(job, drain, report);
    }
}
