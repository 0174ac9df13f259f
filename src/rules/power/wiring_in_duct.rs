//! No power wiring lies in a duct, and none but metal-clad or listed wiring in a plenum.

use crate::catalog::{Sheath, Stated};
use crate::language::Entry;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Spanned, Why};
use crate::systems::power::cable_of;

use super::Section;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR033",
        name: "wiring_in_duct",
        title: "wiring in a duct or a plenum",
        severity: Severity::Error,
        source: "NEC 300.22(B), (C)(1); 725.135(B), (C), from memory",
        why: Why {
            checks: "The cable of a circuit passes through no trunk and no return. Where a return names a space as its `plenum`, a circuit through it is metal-clad or in a raceway, and a control cable there, or in a duct, is listed for it (`plenum: yes` in the catalog). The short way across a stud or joist space of a dwelling, which the code lets pass, is not written as a plenum.",
            on_site: "A cable that smoulders sends its smoke to every room through the outlets before anybody smells it; and the blower chafes it against the sheet.",
            fix: "Lead it beside the duct, and round the plenum or through it in metal.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, through main }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, through attic }",
    },
    check,
};

/// Where a piece of wiring lies that it may not.
enum Air<'m> {
    /// In a trunk or a return: its word, and its place.
    Duct(&'static str, Span),
    /// In a space that a return uses.
    Plenum(&'m Entry),
}

fn returns<'m>(job: &Job<'m>) -> impl Iterator<Item = &'m Entry> {
    let entries = job.model.entries.iter();
    entries.filter(|entry| entry.word.word == "return")
}

/// The air that a way leads through; none for a story or room that no return uses.
fn air<'m>(job: &Job<'m>, way: &str) -> Option<Air<'m>> {
    let house = &job.model.house;
    let named = |entry: &Entry, slot: &str| {
        let name = entry.text(slot).known();
        name.is_some_and(|name| name.value == way)
    };
    if house.stories.contains_key(way) || house.rooms.contains_key(way) {
        return returns(job)
            .flat_map(|entry| entry.children("plenum"))
            .find(|plenum| named(plenum, "space"))
            .map(Air::Plenum);
    }
    let trunk = job.model.trunks.get(way).map(|trunk| ("trunk", trunk.span));
    trunk
        .or_else(|| {
            let entry = returns(job).find(|entry| named(entry, "name"))?;
            Some(("return", entry.span))
        })
        .map(|(word, span)| Air::Duct(word, span))
}

/// A circuit or a control cable on its way.
struct Wiring<'m> {
    words: String,
    item: Option<&'m Spanned<String>>,
    /// What it has to be to lie in a plenum: found and needed, and whether that also frees it in a duct.
    found: &'static str,
    needed: &'static str,
    passes_plenum: bool,
    passes_duct: bool,
    /// Cables of the catalog that would do in its place.
    better: Option<&'m str>,
}

fn judge(job: &Job<'_>, wiring: &Wiring<'_>, way: &Spanned<String>, report: &mut Report) {
    let Some(air) = air(job, &way.value) else {
        return;
    };
    let words = &wiring.words;
    let mut finding = match air {
        Air::Duct(..) if wiring.passes_duct => return,
        Air::Plenum(_) if wiring.passes_plenum => return,
        Air::Duct(word, span) => Finding::new(
            &RULE.kind,
            way.span,
            format!("{words} lies in {word} `{}`", way.value),
            format!(
                "lead it beside the {word}, and take `through {}` out",
                way.value
            ),
        )
        .measured(
            Shown::word(format!("in the {word}")),
            Relation::Equal,
            Shown::word("outside it"),
        )
        .label(span, format!("the {word}")),
        Air::Plenum(plenum) => {
            let help = match wiring.better {
                Some(name) => format!("write \"{name}\" for it, or lead it round `{}`", way.value),
                None => format!(
                    "lead it round `{}`, or take one that is {}",
                    way.value, wiring.needed
                ),
            };
            let finding = Finding::new(
                &RULE.kind,
                way.span,
                format!("{words} lies in `{}`, whose air is the return's", way.value),
                help,
            )
            .measured(
                Shown::word(wiring.found),
                Relation::Equal,
                Shown::word(wiring.needed),
            )
            .label(plenum.span, "the return's plenum");
            match (wiring.item, wiring.better) {
                (Some(item), Some(name)) => finding.edit(item.span, format!("\"{name}\"")),
                _ => finding,
            }
        }
    };
    if let Some(item) = wiring.item {
        finding = finding.label(item.span, "this cable");
    }
    report.find(finding.source(Section::IN_AIR.of(job)));
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let metal = |sheath: Option<&Stated<Sheath>>| {
            let sheath = sheath.and_then(Stated::get);
            matches!(sheath, Some(Sheath::Mc | Sheath::Raceway))
        };
        let cable = cable_of(job.catalog, circuit);
        let better = cable.and_then(|cable| {
            let mut all = job.catalog.cables.iter();
            let found = all.find(|(_, other)| {
                metal(other.sheath.as_ref())
                    && other.gauge.get() == cable.gauge.get()
                    && other.conductors.get() == cable.conductors.get()
                    && other.ground.get() == cable.ground.get()
            });
            found.map(|(name, _)| name.as_str())
        });
        let wiring = Wiring {
            words: format!("the cable of circuit `{}`", circuit.name),
            item: circuit.cable.as_ref(),
            found: "plastic-sheathed",
            needed: "metal-clad or in a raceway",
            passes_plenum: cable.is_none_or(|cable| metal(cable.sheath.as_ref())),
            passes_duct: false,
            better,
        };
        for way in &circuit.through {
            judge(job, &wiring, way, report);
        }
    }
    for cable in job.model.cables.values() {
        let own = cable
            .item
            .as_ref()
            .and_then(|item| job.catalog.cables.get(&item.value));
        let listed = |plenum: Option<&Stated<bool>>| plenum.and_then(Stated::get) == Some(true);
        let passes = own.is_none_or(|own| listed(own.plenum.as_ref()));
        let better = own.and_then(|own| {
            let mut all = job.catalog.cables.iter();
            let found = all.find(|(_, other)| {
                listed(other.plenum.as_ref())
                    && other.use_for.get() == own.use_for.get()
                    && other.conductors.get() >= own.conductors.get()
            });
            found.map(|(name, _)| name.as_str())
        });
        let wiring = Wiring {
            words: format!("control cable `{}`", cable.name),
            item: cable.item.as_ref(),
            found: "not listed for it",
            needed: "listed for plenums",
            passes_plenum: passes,
            passes_duct: passes,
            better,
        };
        for way in &cable.through {
            judge(job, &wiring, way, report);
        }
    }
}
