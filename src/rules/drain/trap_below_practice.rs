//! A trap keeps an inch in hand: drop of suction + 1 in, and half of that as seal.

use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::drain::PRACTICE_MARGIN;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN004",
        name: "trap_below_practice",
        title: "trap with less in hand than usual",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "The drop is at least the suction + 1 in, and the seal at least half of that.",
            on_site: "The trap works on the day of start-up, and floods when the filter has more dirt in it or the pipe a little less fall.",
            fix: "Set the trap lower and make it deeper, or lower the suction with a larger return.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some((_, drop, seal)) = drain.traps().next() else {
            continue;
        };
        let of = |what: &str| job.ledger.length(&format!("drain.{}.{what}", drain.name));
        let (Some(suction), Some(least_seal)) = (of("drop-least"), of("seal-least")) else {
            continue;
        };
        // What floods or loses its seal is reported as that.
        if drop.value <= suction || seal.value < least_seal || super::under_pressure(job, drain) {
            continue;
        }
        let own = Limit::default_of(PRACTICE_MARGIN, RULE.kind.source, RULE.kind.severity);
        let margin = job.limit(
            &RULE.kind,
            ("margin", Dimension::Length),
            Relation::AtLeast,
            own,
            report,
        );
        let sixteenth = Length::sixteenths(1);
        let good_drop = suction + margin.value;
        let good_seal = good_drop.half();
        let (low, shallow) = (drop.value < good_drop, seal.value < good_seal);
        let (drop_text, seal_text) = (
            length_text(good_drop.round_up_to(sixteenth)),
            length_text(good_seal.round_up_to(sixteenth)),
        );
        let (word, found, needed, says) = match (low, shallow) {
            (false, false) => continue,
            (true, _) => ("drop", drop, good_drop, "suction + 1 in"),
            (false, true) => ("seal", seal, good_seal, "half of suction + 1 in"),
        };
        let help = match (low, shallow) {
            (true, true) => format!("write `drop {drop_text}, seal {seal_text}`"),
            (true, false) => format!("write `drop {drop_text}`"),
            _ => format!("write `seal {seal_text}`"),
        };
        let says = if margin.value == PRACTICE_MARGIN {
            says.to_owned()
        } else {
            says.replace("1 in", &length_text(margin.value))
        };
        let mut finding = Finding::new(
            &RULE.kind,
            found.span,
            format!(
                "the {word} of the trap of drain `{}` is less than {says}",
                drain.name
            ),
            help,
        )
        .measured(
            show_length(found.value),
            Relation::AtLeast,
            show_length(needed.round_up_to(sixteenth)),
        )
        .severity(margin.severity)
        .source(margin.source);
        if low {
            finding = finding.edit(drop.span, drop_text);
        }
        if shallow {
            finding = finding.edit(seal.span, seal_text);
        }
        if let Some((span, words)) = super::suction_place(job, drain) {
            finding = finding.label(span, words);
        }
        report.find(finding);
    }
}
