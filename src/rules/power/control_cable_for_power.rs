//! Power goes through power cable, of 14 AWG or thicker.

use crate::catalog::{Cable, CableUse};
use crate::model::Circuit;
use crate::physics::conductor::Size;
use crate::physics::feed::carried;
use crate::quantity::number_text;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::laid_of;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR040",
        name: "control_cable_for_power",
        title: "control cable or too thin a wire for power",
        severity: Severity::Error,
        source: "NEC 210.19(A)(4) and 310.3(A), from memory; 725.136",
        why: Why {
            checks: "The cable of a circuit is a power cable by the catalog, and its conductors are 14 AWG or thicker.",
            on_site: "A thermostat cable of 18 AWG carries what a breaker of 15 A lets through, and glows in the wall before it trips.",
            fix: "Take building cable of the size that the breaker asks for.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"18/2\", measured 62 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

/// The thinnest conductor of a branch circuit.
const THINNEST: i8 = 14;
/// Where nothing says that it is hotter, °F.
const AMBIENT: f64 = 86.0;

fn is_thick(size: Size) -> bool {
    !matches!(size, Size::Awg(gauge) if gauge > THINNEST)
}

/// The thinnest power cable with ground that carries what the breaker lets through.
fn better<'a>(job: &Job<'a>, circuit: &Circuit) -> Option<&'a str> {
    let breaker = circuit.breaker?.value;
    let carries = |cable: &Cable| {
        let size = cable.gauge.get().and_then(Size::awg)?;
        let found = carried(size, &laid_of(circuit, cable, AMBIENT)?)?;
        is_thick(size).then_some(found.ampacity.value())
    };
    job.catalog
        .cables
        .iter()
        .filter(|(_, cable)| {
            cable.use_for.get() == Some(CableUse::Power) && cable.ground.get() == Some(true)
        })
        .filter_map(|(name, cable)| Some((name.as_str(), carries(cable)?)))
        .filter(|(_, carried)| *carried >= breaker)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(name, _)| name)
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(item) = &circuit.cable else { continue };
        let Some(cable) = job.catalog.cables.get(&item.value) else {
            continue;
        };
        let control = cable.use_for.get() == Some(CableUse::Control);
        let size = cable.gauge.get().and_then(Size::awg);
        if !control && size.is_none_or(is_thick) {
            continue;
        }
        let gauge = cable.gauge.get().map_or_else(String::new, |gauge| {
            format!("{} AWG ", number_text(gauge.value(), 0))
        });
        let sort = if control {
            "control cable"
        } else {
            "power cable"
        };
        let better = better(job, circuit);
        let help = match better {
            Some(name) => format!("write `cable \"{name}\"`"),
            None => "take a power cable of 14 AWG or thicker".to_owned(),
        };
        let mut finding = Finding::new(
            &RULE.kind,
            item.span,
            format!(
                "circuit `{}` goes through {sort} `{}`",
                circuit.name, item.value
            ),
            help,
        )
        .measured(
            Shown::word(format!("{gauge}{sort}")),
            Relation::Equal,
            Shown::word("power cable of 14 AWG or thicker"),
        )
        .label(cable.use_for.span, "the catalog says so");
        if let Some(name) = better {
            finding = finding.edit(item.span, format!("\"{name}\""));
        }
        report.find(finding);
    }
}
