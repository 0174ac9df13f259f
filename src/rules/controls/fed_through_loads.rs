//! No load gets part of the voltage through another load.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::controls::{CONTROL_VOLTS, Draw, Stray};

use super::proved::{is_told_on, landings_on, place_of};

/// Volts at which a coil surely lets go where the catalog does not say: a contactor's may hold down to a fifth of its
/// rating (IEC 60947-4-1, from memory).
const LETS_GO: f64 = CONTROL_VOLTS / 5.0;

/// Volts at which a coil surely pulls in where the catalog does not say: a contactor's does at 85 % of its rating
/// (IEC 60947-4-1, from memory).
const PULLS_IN: f64 = CONTROL_VOLTS * 0.85;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL037",
        name: "fed_through_loads",
        title: "load fed through another load",
        severity: Severity::Error,
        source: "the equipment's catalog for the voltages at which a coil pulls in and lets go; IEC 60947-4-1 (from memory) where it gives none; Kirchhoff's laws",
        why: Why {
            checks: "The wiring is solved with the resistance of each load for every call of the thermostats with every set of safeties open: what is not called gets no voltage through the coil or board of something else that would pull it in or hold it, and what is called does not share its voltage with a load in series.",
            on_site: "Two coils between power and common each get half: both hum and neither pulls in; or a relay is held in backwards through another unit's board and lets nothing stop. The meter shows 9 V or 14 V, and parts are replaced that are sound.",
            fix: "Land the other side of the coil on common, as the report says: each load stands alone between its call and common.",
        },
    },
    example: Example {
        wrong: "relay r2 { model \"Test relay\", on ah }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.R to r2.A1, wire white from ah.W to r2.A2 }",
        right: "relay r2 { model \"Test relay\", on ah }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.W to r2.A1, wire white from ah.C to r2.A2 }",
    },
    check,
};

/// What a stray voltage does to its load.
#[derive(Clone, Copy, Debug)]
enum Does {
    /// It pulls the load in: its own voltage, and the least that does so.
    Pulls(f64, f64),
    /// It holds the load in once it has pulled in: its own voltage, and the least that does so.
    Holds(f64, f64),
    /// The load is called and gets too little: its own voltage, and the least that pulls it in.
    Starves(f64, f64),
    /// The catalog does not say what so much does.
    Unknown(f64),
}

/// What the voltage of a load does by its catalog; none where that is nothing.
fn does(draw: &Draw, stray: &Stray, called: bool, ever_fed: bool) -> Option<Does> {
    let pulls_at = draw.pulls_at.unwrap_or(PULLS_IN);
    if called {
        return (stray.pulling < pulls_at).then_some(Does::Starves(stray.pulling, pulls_at));
    }
    if stray.pulling >= pulls_at {
        return Some(Does::Pulls(stray.pulling, pulls_at));
    }
    match draw.holds_at {
        Some(least) => (ever_fed && stray.held >= least).then_some(Does::Holds(stray.held, least)),
        None => Some(Does::Unknown(stray.volts())),
    }
}

/// Whether the call that a load is there for, or that drives its coil, is up in the case that shows a stray.
fn is_called(job: &Job<'_>, stray: &Stray) -> bool {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    let Some(load) = circuit.loads().get(stray.load) else {
        return false;
    };
    let up = |call| {
        let mut states = stray.case.calls.iter();
        states.any(|n| {
            let state = circuit.states().get(*n);
            state.is_some_and(|state| state.calls.contains(&call))
        })
    };
    match load.wanted() {
        Some(call) => up(call),
        None => net
            .drives(load.at)
            .iter()
            .any(|drive| drive.call.is_some_and(up)),
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    if net.flawed || job.model.cables.is_empty() {
        return;
    }
    let strays = job.wiring.strays(job.model, job.catalog);
    if strays.is_empty() {
        return;
    }
    let own = Limit::default_of(LETS_GO, "IEC 60947-4-1 (from memory)", Severity::Warning);
    let most = job.limit(
        &RULE.kind,
        ("stray-voltage", Dimension::Voltage),
        Relation::AtMost,
        own,
        report,
    );
    let ohms = circuit.ohms(job.model, job.catalog);
    let mut all: Vec<(&Stray, Does)> = strays
        .iter()
        .filter_map(|stray| {
            let draw = ohms.draws().get(stray.load)?;
            let ever = circuit.is_ever_fed(stray.load);
            // A coil that no call feeds whole pulls in here or never.
            let dead = !ever && circuit.loads().get(stray.load)?.is_coil();
            let does = does(draw, stray, dead || is_called(job, stray), ever)?;
            Some((stray, does))
        })
        .filter(|(_, does)| !matches!(does, Does::Unknown(volts) if *volts <= most.value))
        .collect();
    // The gravest first: what is told on its way is told once.
    let rank = |does: &Does| match does {
        Does::Pulls(volts, _) => (0, *volts),
        Does::Starves(volts, _) => (1, *volts),
        Does::Holds(volts, _) => (2, *volts),
        Does::Unknown(volts) => (3, *volts),
    };
    all.sort_by(|(_, a), (_, b)| {
        let (a, b) = (rank(a), rank(b));
        a.0.cmp(&b.0).then(b.1.total_cmp(&a.1))
    });
    for (stray, does) in all {
        let told = is_told_on(report, &landings_on(net, &stray.way));
        if let (Some(finding), false) = (finding(job, stray, does, &most), told) {
            report.find(finding);
        }
    }
}

fn finding(job: &Job<'_>, stray: &Stray, does: Does, most: &Limit<f64>) -> Option<Finding> {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    let name = |n: usize| net.at(n).map_or("", |point| point.name.as_str());
    let load = circuit.loads().get(stray.load)?;
    let mend = circuit.stray_mend(stray);
    let join = mend
        .map(|(join, _)| join)
        .or_else(|| circuit.stray_landing(stray));
    let span = join
        .and_then(|join| circuit.words_of(join))
        .or_else(|| place_of(net, load.at))?;
    let others: Vec<String> = stray
        .loads
        .iter()
        .filter(|n| **n != stray.load)
        .filter_map(|n| circuit.loads().get(*n))
        .map(|load| format!("`{}`", name(load.at)))
        .collect();
    let (volts, limit, relation, what) = match does {
        Does::Pulls(volts, least) => (volts, least, Relation::AtMost, "enough to pull it in"),
        Does::Holds(volts, least) => (
            volts,
            least,
            Relation::AtMost,
            "enough to hold it in once it has pulled in",
        ),
        Does::Starves(volts, least) => (volts, least, Relation::AtLeast, "too little to pull in"),
        Does::Unknown(volts) => (
            volts,
            most.value,
            Relation::AtMost,
            "and its catalog does not say that it lets go there",
        ),
    };
    let (found, needed) = show_pair(volts, limit, Dimension::Voltage);
    let way = net.path_words(&stray.way);
    let help = match mend {
        Some((_, to)) => format!("land it on `{}`; now: {way}", name(to)),
        None => format!("land each load alone between its call and common; now: {way}"),
    };
    let mut finding = Finding::new(
        &RULE.kind,
        span,
        format!(
            "{}, and `{}` gets voltage through {}, {what}",
            circuit.whole_words(&stray.case),
            name(load.at),
            others.join(" and "),
        ),
        help,
    )
    .measured(found, relation, needed);
    if let Some((_, to)) = mend {
        finding = finding.edit(span, name(to));
    }
    // A coil on the way that never gets its whole voltage is an error whatever the others do.
    let dead = !circuit.coils_astray(std::slice::from_ref(stray)).is_empty();
    if matches!(does, Does::Unknown(_)) && !dead {
        finding = finding.severity(most.severity).source(most.source.clone());
    }
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::systems::controls::Case;

    fn stray(pulling: f64, held: f64) -> Stray {
        Stray {
            load: 0,
            pulling,
            held,
            case: Case::default(),
            way: Vec::new(),
            loads: Vec::new(),
        }
    }

    #[test]
    fn a_voltage_is_judged_by_the_figures_of_the_catalog() {
        let draw = Draw {
            pulls_at: Some(18.0),
            holds_at: Some(7.0),
            ..Draw::default()
        };
        let found = |pulling, held, called, ever| does(&draw, &stray(pulling, held), called, ever);
        assert!(matches!(
            found(18.0, 0.0, false, true),
            Some(Does::Pulls(..))
        ));
        assert!(matches!(
            found(17.9, 7.0, false, true),
            Some(Does::Holds(..))
        ));
        assert!(found(17.9, 6.9, false, true).is_none());
        assert!(found(17.9, 7.0, false, false).is_none());
        assert!(matches!(
            found(17.9, 20.0, true, true),
            Some(Does::Starves(..))
        ));
        assert!(found(18.0, 20.0, true, true).is_none());
    }

    #[test]
    fn without_figures_the_standard_s_shares_stand() {
        let found = |volts, called| does(&Draw::default(), &stray(volts, volts), called, true);
        assert!(matches!(found(20.4, false), Some(Does::Pulls(..))));
        assert!(matches!(found(20.3, false), Some(Does::Unknown(_))));
        assert!(matches!(found(20.3, true), Some(Does::Starves(..))));
        assert!(found(20.4, true).is_none());
    }
}
