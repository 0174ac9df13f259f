//! A thermostat gets the hot side of the transformer, or it has nothing to call with.

use crate::catalog::Role;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

use super::{last_words, wire_to_add};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL004",
        name: "thermostat_unfed",
        title: "thermostat without power for its calls",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "A power terminal of the thermostat is joined to the hot side of a transformer.",
            on_site: "The thermostat switches nothing: the house stays as it is and every unit tests good.",
            fix: "Wire the terminal from the air handler's power terminal.",
        },
    },
    example: Example {
        wrong: "cable stat-cable from stat to ah { type \"18/5\", wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
        right: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    if net.flawed {
        return;
    }
    for thermostat in job.model.thermostats.values() {
        let own: Vec<(usize, Option<Role>)> = net
            .points()
            .filter(|(_, point)| point.unit() == Some(&thermostat.name))
            .map(|(n, point)| (n, point.role()))
            .collect();
        let inlets: Vec<usize> = own
            .iter()
            .filter(|(_, role)| *role == Some(Role::PowerIn))
            .map(|(n, _)| *n)
            .collect();
        if inlets.is_empty() || !own.iter().any(|(n, _)| net.is_wired(*n)) {
            continue;
        }
        let with = |n: usize, roles: &[Role]| {
            net.members(net.net(n))
                .any(|(_, point)| point.role().is_some_and(|role| roles.contains(&role)))
        };
        // Power on common is reported as that.
        if inlets
            .iter()
            .any(|n| with(*n, &[Role::Power, Role::Common]))
        {
            continue;
        }
        let Some(inlet) = inlets.first().copied() else {
            continue;
        };
        let name = net.at(inlet).map_or("", |point| point.name.as_str());
        let hot = net
            .points()
            .find(|(_, point)| point.role() == Some(Role::Power));
        let hot = hot.map(|(_, point)| point.name.clone());
        let ends = net.members(net.net(inlet)).find(|(n, point)| {
            *n != inlet && point.unit().is_some_and(|unit| unit != thermostat.name)
        });
        let needed = Shown::word(
            hot.clone()
                .unwrap_or_else(|| "the hot side of a transformer".to_owned()),
        );
        if let Some((n, point)) = ends {
            let span = last_words(net, inlet, n).unwrap_or(thermostat.span);
            let mut finding = Finding::new(
                &RULE.kind,
                span,
                format!(
                    "`{name}` is joined to `{}`, which gives no power",
                    point.name
                ),
                hot.as_ref().map_or_else(
                    || "land it on a power terminal".to_owned(),
                    |hot| format!("land it on `{hot}`"),
                ),
            )
            .measured(Shown::word(point.name.clone()), Relation::Equal, needed);
            if let Some(hot) = hot {
                finding = finding.edit(span, hot);
            }
            report.find(finding);
            continue;
        }
        let cable =
            job.model.cables.values().find(|cable| {
                cable.from.value == thermostat.name || cable.to.value == thermostat.name
            });
        let (help, edit) = wire_to_add(job, cable, name, hot.as_deref().unwrap_or("…"));
        let mut finding = Finding::new(
            &RULE.kind,
            thermostat.span,
            format!("nothing feeds `{name}`: the thermostat has no power to call with"),
            help,
        )
        .measured(Shown::word("no wire"), Relation::Equal, needed);
        if let Some((after, words)) = edit {
            finding = finding.edit(after, words);
        }
        report.find(finding);
    }
}
