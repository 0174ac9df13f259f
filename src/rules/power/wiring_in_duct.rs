//! No power wiring lies in a duct, and none but metal-clad or listed wiring in a plenum.

use std::collections::BTreeMap;

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

/// What lies in a plenum, by the place of the words that make it one: told once, however much lies there.
type Plenums<'m> = BTreeMap<Span, Vec<(Wiring<'m>, &'m Spanned<String>)>>;

fn in_duct(
    job: &Job<'_>,
    wiring: &Wiring<'_>,
    way: &Spanned<String>,
    (word, span): (&str, Span),
    report: &mut Report,
) {
    let mut finding = Finding::new(
        &RULE.kind,
        way.span,
        format!("{} lies in {word} `{}`", wiring.words, way.value),
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
    .label(span, format!("the {word}"));
    if let Some(item) = wiring.item {
        finding = finding.label(item.span, "this cable");
    }
    report.find(finding.source(Section::IN_AIR.of(job)));
}

fn in_plenum(
    job: &Job<'_>,
    plenum: Span,
    all: &[(Wiring<'_>, &Spanned<String>)],
    report: &mut Report,
) {
    let Some(((wiring, way), more)) = all.split_first() else {
        return;
    };
    let them = if more.is_empty() { "it" } else { "them" };
    let space = &way.value;
    let help = match wiring.better {
        Some(name) => format!("write \"{name}\" for it, or lead {them} round `{space}`"),
        None => format!(
            "lead {them} round `{space}`, or take one that is {}",
            wiring.needed
        ),
    };
    let mut finding = Finding::new(
        &RULE.kind,
        way.span,
        format!(
            "{} lies in `{space}`, whose air is the return's",
            wiring.words
        ),
        help,
    )
    .measured(
        Shown::word(wiring.found),
        Relation::Equal,
        Shown::word(wiring.needed),
    )
    .label(plenum, "the return's plenum");
    if let Some(item) = wiring.item {
        finding = finding.label(item.span, "this cable");
        if let Some(name) = wiring.better {
            finding = finding.edit(item.span, format!("\"{name}\""));
        }
    }
    for (other, way) in more {
        let text = format!("{} lies there too: {}", other.words, other.found);
        finding = finding.label(way.span, text);
    }
    report.find(finding.source(Section::IN_AIR.of(job)));
}

/// Judges each way that a piece of wiring takes.
fn judge<'m>(
    job: &Job<'m>,
    wiring: impl Fn() -> Wiring<'m>,
    through: &'m [Spanned<String>],
    plenums: &mut Plenums<'m>,
    report: &mut Report,
) {
    for way in through {
        let wiring = wiring();
        match air(job, &way.value) {
            Some(Air::Duct(word, span)) if !wiring.passes_duct => {
                in_duct(job, &wiring, way, (word, span), report);
            }
            Some(Air::Plenum(plenum)) if !wiring.passes_plenum => {
                plenums.entry(plenum.span).or_default().push((wiring, way));
            }
            _ => {}
        }
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    let mut plenums = Plenums::new();
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
        let wiring = || Wiring {
            words: format!("the cable of circuit `{}`", circuit.name),
            item: circuit.cable.as_ref(),
            found: "plastic-sheathed",
            needed: "metal-clad or in a raceway",
            passes_plenum: cable.is_none_or(|cable| metal(cable.sheath.as_ref())),
            passes_duct: false,
            better,
        };
        judge(job, wiring, &circuit.through, &mut plenums, report);
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
        let wiring = || Wiring {
            words: format!("control cable `{}`", cable.name),
            item: cable.item.as_ref(),
            found: "not listed for it",
            needed: "listed for plenums",
            passes_plenum: passes,
            passes_duct: passes,
            better,
        };
        judge(job, wiring, &cable.through, &mut plenums, report);
    }
    for (plenum, all) in &plenums {
        in_plenum(job, *plenum, all, report);
    }
}
