//! The return: grille, filter and duct as the job says them.

use super::PageSource;
use crate::language::Entry;
use crate::packet::page::{Block, Caution, Fact, Hazard, Page, Tick, Trade};
use crate::packet::text::{Phrase, Text, say};

fn quoted(source: &PageSource<'_>, entry: &Entry, word: &str, slot: &str) -> Option<Text> {
    let value = entry.child(word)?.text(slot).known()?;
    Some(Text::quote(source.files, value.span))
}

/// What the solved circuit draws through it, and how strongly the cabinet then draws at the drain pan.
fn drawn(source: &PageSource<'_>, entry: &Entry, name: &str) -> Vec<Fact> {
    let of = |what: &str| source.known(&format!("return.{name}.{what}"));
    let port = entry.text("port").known();
    let unit = port.as_ref().and_then(|port| port.value.split('.').next());
    let cabinet = |what: &str| source.known(&format!("air-handler.{}.{what}", unit?));
    let mut facts = Vec::new();
    if let Some(flow) = of("airflow") {
        facts.push(Fact::big(say("return.airflow"), Text::figure(flow)));
    }
    for (name, figure) in [
        (say("return.face-velocity"), of("face-velocity")),
        (say("return.filter-velocity"), of("filter-velocity")),
        (say("return.loss"), of("loss")),
        (say("return.gain"), of("gain")),
        (say("return.suction"), cabinet("cabinet-suction")),
        (
            say("return.suction-dirty"),
            cabinet("cabinet-suction-dirty"),
        ),
        (say("return.airflow-dirty"), cabinet("airflow-dirty")),
    ] {
        if let Some(figure) = figure {
            facts.push(Fact::new(name, Text::figure(figure)));
        }
    }
    facts.extend(unit.into_iter().flat_map(|unit| mixed(source, unit)));
    facts
}

/// The air before the coil in both seasons, where outdoor air is mixed in.
fn mixed(source: &PageSource<'_>, unit: &str) -> Vec<Fact> {
    if source.figure(&format!("load.{unit}.ventilation")).is_none() {
        return Vec::new();
    }
    [
        (say("return.mixed-summer"), "coil", ""),
        (say("return.mixed-winter"), "heat", "@winter"),
    ]
    .into_iter()
    .filter_map(|(name, kind, suffix)| {
        let of = |what: &str| source.known(&format!("{kind}.{unit}.entering-{what}{suffix}"));
        let state = say("coil.state")
            .with("dry", Text::figure(of("dry-bulb")?))
            .with("wet", Text::figure(of("wet-bulb")?));
        Some(Fact::new(name, state))
    })
    .collect()
}

fn facts(source: &PageSource<'_>, entry: &Entry, name: &str) -> Vec<Fact> {
    let mut facts = drawn(source, entry, name);
    let mut put = |name: Phrase, value: Option<Text>| {
        if let Some(value) = value {
            facts.push(Fact::new(name, value));
        }
    };
    put(
        say("return.port"),
        entry
            .text("port")
            .known()
            .map(|port| Text::quote(source.files, port.span)),
    );
    put(
        say("return.grille"),
        quoted(source, entry, "grille", "grille"),
    );
    let grille = entry
        .child("grille")
        .and_then(|child| child.text("grille").known());
    let sheet = grille.and_then(|grille| source.catalog.grilles.get(&grille.value));
    put(
        say("return.opening"),
        sheet.map(|sheet| Text::quote(source.files, sheet.opening.span)),
    );
    put(say("return.room"), quoted(source, entry, "in", "room"));
    put(
        say("return.filter"),
        quoted(source, entry, "filter", "filter"),
    );
    let filter = entry
        .child("filter")
        .and_then(|child| child.text("filter").known());
    let sheet = filter.and_then(|filter| source.catalog.filters.get(&filter.value));
    put(
        say("return.filter-size"),
        sheet.map(|sheet| Text::quote(source.files, sheet.size.span)),
    );
    put(
        say("return.change"),
        sheet.map(|sheet| Text::quote(source.files, sheet.change.span)),
    );
    facts
}

/// One page a return.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let returns = source.model.blocks("return");
    for entry in returns {
        let Some(name) = entry.text("name").known() else {
            continue;
        };
        let title = say("return.title").with("name", Text::tag(&name.value));
        let mut page = Page::new(format!("return-{}", name.value), title)
            .trades(&[Trade::SheetMetal, Trade::ServiceTech]);
        page.rests_on(source.files, entry.whole);
        page.put(Block::Facts(facts(source, entry, &name.value)));
        for reason in source.why_not([format!("return.{}.airflow", name.value)]) {
            page.put(Block::note(reason));
        }
        page.put(Block::heading(say("return.as-written")));
        let ticks = entry
            .body
            .iter()
            .filter(|statement| !matches!(statement.word.word, "grille" | "in" | "filter"))
            .map(|statement| Tick::new(Text::quote(source.files, statement.span)))
            .chain([
                Tick::new(say("return.seal")),
                Tick::new(say("return.no-trunk-in"))
                    .caution(Caution::new(Hazard::Gas, say("return.gas"))),
                Tick::new(say("return.filter-out")),
            ])
            .collect();
        page.put(Block::Ticks(ticks));
        pages.push(page);
    }
}
