//! The drain page: profile, trap, legs, supports, and the steps with their cautions.

use super::drain_profile::{branch_words, leg_tag, level, support_tag, supports, whole};
use super::drain_trap::{end, suffix, trap};
use super::fitted::watches_water;
use super::source::PageSource;
use crate::material::{Piece, System};
use crate::model::{Drain, Ending, Mark};
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Text, say};

/// A page for each drain.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let drains = source.model.drains.values();
    pages.extend(drains.map(|drain| page(source, drain)));
}

fn facts(source: &PageSource<'_>, drain: &Drain) -> Block {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let mut facts = Vec::new();
    for (n, _) in drain.traps().enumerate() {
        let end = suffix(n);
        let of = |what: &str| source.of(&id(&format!("{what}{end}")));
        facts.push(Fact::big(say("drain.fact-drop"), of("trap-drop")));
        facts.push(Fact::big(say("drain.fact-seal"), of("trap-seal")));
        facts.push(Fact::new(say("drain.fact-distance"), of("trap-distance")));
    }
    if drain.pan.is_none() {
        let suction = format!("air-handler.{}.pan-suction", drain.unit);
        facts.push(Fact::new(say("drain.fact-suction"), source.of(&suction)));
    }
    facts.push(Fact::new(
        say("drain.fact-pipe"),
        source.word_or_not(drain.pipe.as_ref()),
    ));
    if let Some(solvent) = &drain.solvent {
        facts.push(Fact::new(say("drain.fact-solvent"), source.word(solvent)));
    }
    Block::Facts(facts)
}

/// What concerns the whole of it: water, room for the trap, wrapping, fall and supports.
fn whole_facts(source: &PageSource<'_>, drain: &Drain) -> Block {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let mut facts = Vec::new();
    for (name, what) in [
        (say("drain.fact-flow"), "flow-hour"),
        (say("drain.fact-wettest"), "flow-wettest-hour"),
        (say("drain.fact-height"), "trap-height"),
        (say("drain.fact-height-needed"), "trap-height-needed"),
    ] {
        if let Some(figure) = source.known(&id(what)) {
            facts.push(Fact::new(name, Text::figure(figure)));
        }
    }
    for (name, said) in [
        (say("drain.fact-insulation"), &drain.insulation),
        (say("drain.fact-freeze"), &drain.freeze),
        (say("drain.fact-seen"), &drain.seen),
    ] {
        if let Some(said) = said {
            facts.push(Fact::new(name, source.word(said)));
        }
    }
    for (name, what) in [
        (say("drain.fact-available"), "fall-available"),
        (say("drain.fact-needed"), "fall-needed"),
        (say("drain.fact-usual"), "fall-usual"),
        (say("drain.fact-supports"), "support-spacing"),
    ] {
        facts.push(Fact::new(name, source.of(&id(what))));
    }
    Block::Facts(facts)
}

fn legs(source: &PageSource<'_>, drain: &Drain) -> Block {
    let mut table = Table::new(vec![
        Column::left(say("drain.col-leg")),
        Column::left(say("drain.col-way")),
        Column::right(say("drain.col-length")),
        Column::right(say("drain.col-fall")),
        Column::right(say("drain.col-slope")),
        Column::right(say("drain.col-start-below")),
        Column::right(say("drain.col-end-below")),
        Column::right(say("drain.col-end-above")),
    ]);
    for (n, leg) in drain.legs.iter().enumerate() {
        let id = |what: &str| format!("drain.{}.leg-{}-{what}", drain.name, n + 1);
        table.row([
            leg_tag(n),
            source.name(leg.span, leg.direction.word()),
            source.of(&id("length")),
            source.known_or_not(&id("fall")),
            source.of_or_empty(&id("slope")),
            source.of(&id("start-below")),
            source.of(&id("end-below")),
            source.of(&id("end")),
        ]);
    }
    Block::Table(table)
}

/// What the first trap has in hand, and what its start-up asks.
fn in_hand(source: &PageSource<'_>, drain: &Drain) -> Option<Block> {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let facts: Vec<Fact> = [
        (say("drain.clean"), "trap-running@clean"),
        (say("drain.dirty"), "trap-running@dirty"),
        (say("drain.start-fall"), "trap-start-fall"),
        (say("drain.flood-margin"), "trap-flood-margin"),
        (say("drain.may-lack"), "trap-may-lack"),
        (say("drain.swing-margin"), "trap-swing-margin"),
        (say("drain.swing-time"), "trap-swing-time"),
    ]
    .into_iter()
    .filter_map(|(name, what)| Some(Fact::new(name, Text::figure(source.known(&id(what))?))))
    .collect();
    (!facts.is_empty()).then_some(Block::Facts(facts))
}

/// What each level leg carries, and how it hangs.
fn carries(source: &PageSource<'_>, drain: &Drain) -> Option<Block> {
    let mut table = Table::new(vec![
        Column::left(say("drain.col-leg")),
        Column::right(say("drain.col-carries")),
        Column::right(say("drain.col-depth")),
        Column::right(say("drain.col-summer")),
        Column::right(say("drain.col-sag")),
        Column::right(say("drain.col-most")),
    ]);
    let mut any = false;
    for (n, _) in drain.legs.iter().enumerate() {
        let id = |what: &str| format!("drain.{}.leg-{}-{what}", drain.name, n + 1);
        if source.known(&id("capacity")).is_none() {
            continue;
        }
        any = true;
        table.row([
            leg_tag(n),
            source.of(&id("capacity")),
            source.of_or_empty(&id("depth")),
            source.of_or_empty(&id("summer")),
            source.of_or_empty(&id("sag")),
            source.of_or_empty(&id("support-most")),
        ]);
    }
    any.then_some(Block::Table(table))
}

/// What to cut for this drain.
fn cuts(source: &PageSource<'_>, drain: &Drain) -> Option<Block> {
    let pieces: Vec<&Piece> = source
        .material
        .pieces
        .iter()
        .filter(|piece| piece.system == System::Drain && piece.route == drain.name)
        .collect();
    (!pieces.is_empty()).then(|| super::pieces::table(source, &pieces))
}

fn support_table(source: &PageSource<'_>, drain: &Drain) -> Option<Block> {
    let numbers = supports(source, drain);
    if numbers.is_empty() {
        return None;
    }
    let mut table = Table::new(vec![
        Column::left(say("drain.col-support")),
        Column::left(say("drain.col-leg")),
        Column::right(say("drain.col-along")),
        Column::right(say("drain.col-below")),
        Column::right(say("drain.col-above")),
    ]);
    for k in numbers {
        let of = |what: &str| source.of(&format!("drain.{}.support-{k}-{what}", drain.name));
        table.row([
            support_tag(k),
            of("leg"),
            of("along"),
            of("below"),
            of("height"),
        ]);
    }
    Some(Block::Table(table))
}

fn steps(source: &PageSource<'_>, drain: &Drain) -> Block {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let mut steps = Vec::new();
    for (n, _) in drain.traps().enumerate() {
        let end = suffix(n);
        steps.push(
            Tick::new(
                say("drain.step-trap")
                    .with("drop", source.of(&id(&format!("trap-drop{end}"))))
                    .with("seal", source.of(&id(&format!("trap-seal{end}")))),
            )
            .caution(Caution::new(Hazard::Water, say("drain.caution-trap"))),
        );
    }
    let mut cleanouts = drain.happenings.iter().filter_map(|happening| {
        let Mark::Cleanout { branch, .. } = &happening.mark else {
            return None;
        };
        Some(branch.as_ref())
    });
    if let Some(first) = cleanouts.next() {
        steps.push(Tick::new(say("drain.step-cleanout")));
        for branch in std::iter::once(first).chain(cleanouts).flatten() {
            let words = branch_words(source, branch);
            steps.push(Tick::new(
                say("drain.step-cleanout-in").with("fitting", words),
            ));
        }
    }
    steps.push(
        Tick::new(say("drain.step-join"))
            .caution(Caution::new(Hazard::Fire, say("drain.caution-fumes")))
            .caution(Caution::new(Hazard::Cut, say("drain.caution-cut"))),
    );
    steps.push(Tick::new(say("drain.step-flow")));
    steps.push(Tick::new(say("drain.step-hang")));
    if let Some(ending) = &drain.ending {
        let to = &ending.to.value;
        if !source.model.pumps.contains_key(to) && !source.model.drains.contains_key(to) {
            let to = source.word(&ending.to);
            steps.push(Tick::new(say("drain.step-ask").with("to", to)));
        }
        steps.push(match source.model.drains.get(to) {
            Some(_) => join_step(source, ending),
            None => end_step(source, ending),
        });
    }
    steps.push(
        Tick::new(say("drain.step-cold"))
            .caution(Caution::new(Hazard::Freezing, say("drain.caution-cold"))),
    );
    if drain.pan.is_none() {
        steps.push(Tick::new(if drain.is_second_line() {
            say("drain.step-fill-second")
        } else {
            say("drain.step-fill")
        }));
    }
    steps.push(
        Tick::new(say("drain.step-pour"))
            .caution(Caution::new(Hazard::Water, say("drain.caution-pour")))
            .caution(Caution::new(
                Hazard::Shock,
                say("drain.caution-water-shock"),
            )),
    );
    steps.push(Tick::new(say("drain.step-run")));
    if watches_water(source) {
        steps.push(Tick::new(say("drain.step-float")));
    }
    Block::Ticks(steps)
}

fn page(source: &PageSource<'_>, drain: &Drain) -> Page {
    let title = say("drain.title").with("name", source.name(drain.span, &drain.name));
    let mut page = Page::new(format!("drain-{}", drain.name), title).trades(&[
        Trade::Lead,
        Trade::Plumber,
        Trade::ServiceTech,
    ]);
    page.rests_on(source.files, drain.whole);
    page.put(facts(source, drain));
    let traps: Vec<_> = drain
        .traps()
        .map(|(happening, drop, seal)| (happening, drop.value, seal.value))
        .collect();
    for (n, found) in traps.iter().enumerate() {
        let scene = trap(source, drain, n, *found);
        page.put(Block::drawing(say("drain.trap-drawing"), scene));
    }
    if let Some(facts) = in_hand(source, drain) {
        page.put(Block::heading(say("drain.in-hand")));
        page.put(facts);
        page.put(Block::note(say("drain.in-hand-note")));
        let id = |what: &str| format!("drain.{}.trap-swing-{what}", drain.name);
        let left = source.ledger.real(&id("margin"));
        if let (Some(left), Some(time)) = (left, source.known(&id("time"))) {
            let words = if left < 0.0 {
                say("drain.swing-lost")
            } else {
                say("drain.swing-held")
            };
            page.put(Block::note(words.with("time", Text::figure(time))));
        }
    }
    page.put(Block::heading(say("drain.whole-facts")));
    page.put(whole_facts(source, drain));
    if traps.is_empty() && drain.pan.is_none() {
        page.put(Block::paragraph(say("drain.no-trap")));
    }
    if let Some((title, scene)) = level(source, drain) {
        page.put(Block::drawing(title, scene));
        page.put(Block::note(say("drain.level-note")));
    }
    page.put(Block::heading(say("drain.legs")));
    page.put(legs(source, drain));
    page.put(Block::note(say("drain.legs-note")));
    if let Some(table) = carries(source, drain) {
        page.put(Block::heading(say("drain.carries")));
        page.put(table);
    }
    if let Some(table) = cuts(source, drain) {
        page.put(Block::heading(say("drain.cuts")));
        page.put(table);
    }
    if let Some(table) = support_table(source, drain) {
        page.put(Block::heading(say("drain.supports")));
        page.put(table);
    }
    if let Some((title, scene)) = whole(source, drain) {
        page.put(Block::drawing(title, scene));
    }
    match end(source, drain) {
        Some(scene) => page.put(Block::drawing(say("drain.end-drawing"), scene)),
        None if drain.ending.is_none() => page.put(Block::paragraph(say("drain.no-end"))),
        None => {}
    }
    page.put(Block::heading(say("drain.steps")));
    page.put(steps(source, drain));
    page
}

/// The step that joins a drain to another drain of the job.
fn join_step(source: &PageSource<'_>, ending: &Ending) -> Tick {
    let to = source.word(&ending.to);
    Tick::new(match &ending.branch {
        Some(branch) => say("drain.step-join-in")
            .with("to", to)
            .with("fitting", branch_words(source, branch)),
        None => say("drain.step-join-drain").with("to", to),
    })
}

/// The step that ends a pipe or a tube where and how the spec says.
pub(super) fn end_step(source: &PageSource<'_>, ending: &Ending) -> Tick {
    let how = ending
        .how
        .as_ref()
        .map_or_else(Text::empty, |how| source.word(how));
    Tick::new(
        say("drain.step-end")
            .with("to", source.word(&ending.to))
            .with("how", how),
    )
}
