//! Nameplates, terminals and safeties agree with themselves.

use crate::catalog::reading::choices;
use crate::catalog::{
    AirHandler, Named, Plate, Safety, SafetyType, Stated, Terminal, VoltageSetting,
};
use crate::quantity::{Current, Dimension, show_pair};
use crate::source::{Finding, Kind, Relation, Severity, Why};

/// A terminal that is not there.
pub(in crate::catalog) const UNKNOWN_TERMINAL: Kind = Kind {
    code: "CAT013",
    name: "unknown_terminal",
    title: "a terminal is named that the unit does not have",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That jumpers, landings, empty terminals, safeties and what runs the blower name terminals that the same unit lists.",
        on_site: "An electrician looks for a letter that is not on the strip, and guesses.",
        fix: "Use the letters of the terminal list, or add the terminal to it.",
    },
};

/// A plate that contradicts itself.
pub(in crate::catalog) const BREAKER_UNDER_AMPACITY: Kind = Kind {
    code: "CAT018",
    name: "breaker_under_ampacity",
    title: "a nameplate's currents contradict each other",
    severity: Severity::Error,
    source: "NEC 440.4(B), by definition of the marked values",
    why: Why {
        checks: "That the running current is not above the minimum circuit ampacity, nor that above the maximum breaker.",
        on_site: "A breaker bought by such a plate trips, or the cable is too small.",
        fix: "Read the plate again; the columns for two voltages are most often mixed.",
    },
};

/// A terminal both fed and empty.
pub(in crate::catalog) const EMPTY_TERMINAL_FED: Kind = Kind {
    code: "CAT020",
    name: "empty_terminal_fed",
    title: "a terminal that stays empty is given a conductor",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That no conductor of a voltage setting lands on a terminal that the same setting keeps empty.",
        on_site: "One of the two burns the motor.",
        fix: "Compare the landing and the empty terminals with the wiring picture of that setting.",
    },
};

/// A cut-out that opens and closes the wrong way round.
pub(in crate::catalog) const SAFETY_WITHOUT_GAP: Kind = Kind {
    code: "CAT024",
    name: "safety_without_gap",
    title: "a safety closes on the wrong side of where it opens",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That a freeze cut-out closes warmer than it opens, and a high limit cooler.",
        on_site: "A cut-out without a gap chatters, or the margin to freezing is computed from the wrong figure.",
        fix: "Swap the two temperatures, or look them up again.",
    },
};

fn terminal(
    named: &Stated<String>,
    known: &Named<Terminal>,
    what: &str,
    findings: &mut Vec<Finding>,
) {
    let Some(name) = named.as_ref().filter(|name| !known.contains_key(*name)) else {
        return;
    };
    let near = known.nearest(name);
    let mut finding = Finding::new(
        &UNKNOWN_TERMINAL,
        named.span,
        format!("{what} names terminal `{name}`, which the unit does not have"),
        match near {
            Some(near) => format!("write `{near}`"),
            None => choices(known.keys().map(String::as_str), name),
        },
    );
    if let Some(near) = near {
        finding = finding.edit(named.span, near);
    }
    findings.push(finding);
}

fn setting(
    name: &str,
    setting: &VoltageSetting,
    known: &Named<Terminal>,
    findings: &mut Vec<Finding>,
) {
    let lands = [
        Some(&setting.lands.line_1),
        setting.lands.line_2.as_ref(),
        setting.lands.neutral.as_ref(),
        Some(&setting.lands.ground),
    ];
    for landing in lands.into_iter().flatten() {
        terminal(
            landing,
            known,
            &format!("the landing of `{name}`"),
            findings,
        );
    }
    for jumper in setting.jumpers.iter().flatten() {
        for end in [&jumper.from, &jumper.to] {
            terminal(end, known, &format!("a jumper of `{name}`"), findings);
        }
    }
    for empty in setting.empty.iter().flatten() {
        terminal(
            empty,
            known,
            &format!("the empty list of `{name}`"),
            findings,
        );
        let fed = lands
            .into_iter()
            .flatten()
            .find(|landing| landing.as_ref().is_some() && landing.as_ref() == empty.as_ref());
        if let (Some(fed), Some(which)) = (fed, empty.as_ref()) {
            findings.push(
                Finding::new(
                    &EMPTY_TERMINAL_FED,
                    fed.span,
                    format!("a conductor lands on `{which}`, which stays empty at `{name}`"),
                    "land it on another terminal, or take this one out of `empty`",
                )
                .label(empty.span, "stays empty"),
            );
        }
    }
}

fn currents(
    low: (&Stated<Current>, &str),
    high: (&Stated<Current>, &str),
    findings: &mut Vec<Finding>,
) {
    let (Some(low_amps), Some(high_amps)) = (low.0.get(), high.0.get()) else {
        return;
    };
    if low_amps <= high_amps {
        return;
    }
    let (found, needed) = show_pair(high_amps.value(), low_amps.value(), Dimension::Current);
    findings.push(
        Finding::new(
            &BREAKER_UNDER_AMPACITY,
            high.0.span,
            format!("the {} is below the {}", high.1, low.1),
            format!(
                "give the {} at least {}, or look both up again",
                high.1, needed.text
            ),
        )
        .measured(found, Relation::AtLeast, needed)
        .label(low.0.span, low.1),
    );
}

/// The plate of an outdoor unit, boiler or chiller.
pub(super) fn plate(plate: &Plate, findings: &mut Vec<Finding>) {
    currents(
        (&plate.least_ampacity, "minimum circuit ampacity"),
        (&plate.most_breaker, "maximum breaker"),
        findings,
    );
}

fn safety(name: &str, safety: &Safety, control: &Named<Terminal>, findings: &mut Vec<Finding>) {
    let what = format!("safety `{name}`");
    for one in safety.stops.iter().chain(safety.terminals.iter().flatten()) {
        terminal(one, control, &what, findings);
    }
    let (Some(opens), Some(closes), Some(of)) =
        (&safety.opens, &safety.closes, safety.type_of.get())
    else {
        return;
    };
    let (Some(open), Some(close)) = (opens.get(), closes.get()) else {
        return;
    };
    let (wrong, side, relation) = match of {
        SafetyType::Freeze => (close <= open, "above", Relation::AtLeast),
        SafetyType::HighLimit => (close >= open, "below", Relation::AtMost),
        SafetyType::Float | SafetyType::Pressure | SafetyType::Door | SafetyType::Leak => return,
    };
    if wrong {
        let relation = if close == open {
            Relation::Not
        } else {
            relation
        };
        let (found, needed) = show_pair(close.value(), open.value(), Dimension::Temperature);
        findings.push(
            Finding::new(
                &SAFETY_WITHOUT_GAP,
                closes.span,
                format!(
                    "`{name}` does not close {side} where it opens, as a {} does",
                    of.word()
                ),
                format!("give `closes` a temperature {side} {}", needed.text),
            )
            .measured(found, relation, needed)
            .label(opens.span, "opens here"),
        );
    }
}

/// The electrical side of an air handler.
pub(super) fn air_handler(unit: &AirHandler, findings: &mut Vec<Finding>) {
    for (name, one) in unit.electrical.settings.iter() {
        setting(name, one, &unit.electrical.terminals, findings);
        currents(
            (&one.running, "running current"),
            (&one.least_ampacity, "minimum circuit ampacity"),
            findings,
        );
        currents(
            (&one.least_ampacity, "minimum circuit ampacity"),
            (&one.most_breaker, "maximum breaker"),
            findings,
        );
    }
    for named in unit.blower_on.iter().flatten() {
        terminal(named, &unit.control, "`blower-on`", findings);
    }
    for (name, one) in unit.safeties.iter() {
        safety(name, one, &unit.control, findings);
    }
    let (Some(rating), Some(load)) = (
        unit.transformer.rating.get(),
        unit.transformer.own_load.get(),
    ) else {
        return;
    };
    if load > rating {
        let (found, needed) = show_pair(load.value(), rating.value(), Dimension::ApparentPower);
        let help = format!("give the own load at most {}", needed.text);
        findings.push(
            Finding::new(
                &BREAKER_UNDER_AMPACITY,
                unit.transformer.own_load.span,
                "the unit's own load is more than its transformer gives",
                help,
            )
            .measured(found, Relation::AtMost, needed)
            .label(unit.transformer.rating.span, "the transformer"),
        );
    }
}
