//! The pages of a basement whose water is pumped: trap, pan and pump, with every figure on paper.

use bayrun::packet::compile;
use bayrun::packet::page::Block;
use bayrun::packet::text::Words;
use bayrun::source::Disk;
use bayrun::{Checked, Workshop};

use super::crew::{page, rows, source, tables};
use crate::support::cases::root;

fn lifted() -> Checked {
    let path = root().join("tests/houses/lifted.bay");
    Workshop::new(&Disk, None)
        .check(&path, "lifted.bay")
        .unwrap()
}

/// Names and values of a page's facts.
fn facts(page: &bayrun::packet::Page) -> Vec<(String, String)> {
    let words = Words::english();
    let all = page.blocks.iter().filter_map(|block| match block {
        Block::Facts(facts) => Some(facts),
        _ => None,
    });
    all.flatten()
        .map(|fact| (fact.name.plain(words), fact.value.plain(words)))
        .collect()
}

#[test]
fn pan_and_pump_have_pages_and_nothing_is_left_to_mend() {
    let checked = lifted();
    let source = source(&checked);
    let packet = compile(&source);
    assert_eq!(packet.faults(Words::english()), Vec::<String>::new());
    let shown = |id: &str| checked.ledger.get(id).unwrap().shown().text;
    let pump = facts(page(&packet, "pump-lift"));
    for id in [
        "lift",
        "moves-hour",
        "inflow-hour",
        "cycles",
        "run-off",
        "reserve",
    ] {
        let value = shown(&format!("pump.lift.{id}"));
        assert!(
            pump.iter().any(|(_, shown)| *shown == value),
            "{id}: {value} in {pump:?}"
        );
    }
    let pan = facts(page(&packet, "pan-catch"));
    for id in ["size-east", "size-north", "depth", "unit-above-rim"] {
        let value = shown(&format!("pan.catch.{id}"));
        assert!(
            pan.iter().any(|(_, shown)| *shown == value),
            "{id}: {value} in {pan:?}"
        );
    }
    let drain = page(&packet, "drain-primary");
    let trap = facts(drain);
    for id in [
        "trap-start-fall",
        "trap-may-lack",
        "trap-swing-margin",
        "trap-height-needed",
    ] {
        let value = shown(&format!("drain.primary.{id}"));
        assert!(
            trap.iter().any(|(_, shown)| *shown == value),
            "{id}: {value}"
        );
    }
    // Each piece of the drain stands on its page with the length to cut.
    let all: Vec<Vec<String>> = tables(drain).flat_map(rows).collect();
    let pieces = checked
        .material
        .pieces
        .iter()
        .filter(|piece| piece.route == "primary");
    for piece in pieces {
        assert!(all.iter().any(|row| row[0] == piece.tag), "{}", piece.tag);
    }
}
