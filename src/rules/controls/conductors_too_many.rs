//! A cable has a conductor for each of its wires.

use crate::catalog::{Cable as Sheet, Stated};
use crate::model::Cable;
use crate::quantity::WireGauge;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL011",
        name: "conductors_too_many",
        title: "more wires than the cable has conductors",
        severity: Severity::Error,
        source: "the stock's catalog",
        why: Why {
            checks: "A cable's wires and spare conductors are no more than it has.",
            on_site: "The cable is in the wall when the crew finds that a conductor is missing.",
            fix: "Use the larger cable named in the report.",
        },
    },
    example: Example {
        wrong: "cable extra from stat to ah { type \"18/2\", spare red, spare white, spare green }",
        right: "cable extra from stat to ah { type \"18/5\", spare red, spare white, spare green }",
    },
    check,
};

/// Whether a cable of the stock can take the place of one as it lies: for the same use, no thinner, and rated for
/// where it lies as its own is.
pub(super) fn can_replace(cable: &Cable, own: &Sheet, other: &Sheet) -> bool {
    let gauge = |sheet: &Sheet| sheet.gauge.get().map(WireGauge::value);
    let thinner = gauge(own)
        .zip(gauge(other))
        .is_some_and(|(own, other)| other > own);
    let is = |stated: &Option<Stated<bool>>| stated.as_ref().and_then(Stated::get) == Some(true);
    let exposed = cable.outdoors.is_some() && !is(&other.outdoors);
    let burns = is(&own.plenum) && !is(&other.plenum);
    own.use_for.get() == other.use_for.get() && !thinner && !exposed && !burns
}

fn check(job: &Job<'_>, report: &mut Report) {
    for cable in job.model.cables.values() {
        let Some(item) = &cable.item else { continue };
        let of = |what: &str| job.ledger.real(&format!("cable.{}.{what}", cable.name));
        let (Some(used), Some(has)) = (of("conductors-used"), of("conductors")) else {
            if !job.catalog.cables.contains_key(&item.value) {
                let reason = format!("no catalog of the job holds a cable `{}`", item.value);
                report.not_checked(
                    &RULE.kind,
                    format!("cable {}", cable.name),
                    reason,
                    Some(item.span),
                );
            }
            continue;
        };
        let mut colours: Vec<&str> = cable
            .wires
            .iter()
            .map(|wire| &wire.colour)
            .chain(&cable.spares)
            .map(|c| c.value.as_str())
            .collect();
        colours.sort_unstable();
        let twice = colours.windows(2).any(|pair| pair.first() == pair.last());
        // A colour used twice is reported as that.
        if used <= has || twice {
            continue;
        }
        let stock = job.catalog.cables.get(&item.value);
        let better = job
            .catalog
            .cables
            .iter()
            .filter(|(_, other)| stock.is_some_and(|own| can_replace(cable, own, other)))
            .filter_map(|(name, other)| Some((other.conductors.get()?.0, name, other)))
            .filter(|(count, ..)| f64::from(*count) >= used)
            // One that has the colours already in use comes first.
            .min_by_key(|(count, _, other)| {
                let missing = colours
                    .iter()
                    .filter(|colour| {
                        !other
                            .colours
                            .iter()
                            .filter_map(Stated::as_ref)
                            .any(|c| c == *colour)
                    })
                    .count();
                (missing, *count)
            })
            .map(|(_, name, _)| name);
        let count = |n: f64| Shown {
            value: crate::source::Scalar::Number(n),
            unit: None,
            text: n.to_string(),
        };
        let mut finding = Finding::new(
            &RULE.kind,
            item.span,
            format!("cable `{}` has more wires than conductors", cable.name),
            better.map_or_else(
                || "use a cable with more conductors".to_owned(),
                |name| format!("write `type \"{name}\"`"),
            ),
        )
        .measured(count(used), Relation::AtMost, count(has));
        if let Some(own) = stock {
            finding = finding.label(own.conductors.span, "conductors of the cable");
        }
        if let Some(name) = better {
            finding = finding.edit(item.span, format!("\"{name}\""));
        }
        report.find(finding);
    }
}
