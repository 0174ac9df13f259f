//! Small jobs taken off by hand.

use std::path::Path;

use bayrun::material::Material;
use bayrun::quantity::Length;
use bayrun::source::{Disk, Memory, Overlay};
use bayrun::{Checked, Workshop};

use crate::support::cases::root;

fn check(lines: &str) -> Checked {
    let text = format!("bayrun 1\ninclude \"../houses/shell.bay\"\n{lines}\n");
    let path = root().join("tests/material/job.bay");
    let reader = Overlay {
        above: Memory::default().with(&path, text),
        below: &Disk,
    };
    Workshop::new(&reader, Some(root()))
        .check(Path::new(&path), "job.bay")
        .unwrap()
}

fn whole() -> Checked {
    let path = root().join("tests/houses/whole.bay");
    Workshop::new(&Disk, Some(root()))
        .check(&path, "whole.bay")
        .unwrap()
}

/// Tags and cut lengths of a system, in inches.
fn cuts(material: &Material, letter: char) -> Vec<(&str, Option<f64>)> {
    let of = material
        .pieces
        .iter()
        .filter(|piece| piece.tag.starts_with(letter));
    of.map(|piece| (piece.tag.as_str(), piece.cut.map(Length::to_inches)))
        .collect()
}

#[test]
fn a_trunk_loses_its_adapter_and_cap_and_gains_its_joints() {
    // shop.yaml: adapter 7 in, cap 1 in, stock 60 in, joint 1 1/2 in, hole 2 1/8 in.
    // trunk.bay: 3 ft removable, then 15 ft; take-offs at 24, 48, 96, 156 and 192 in.
    // T-01 runs from 7 to 36 in. The second leg runs from 36 to 215 in; full pieces reach 58 1/2 in:
    // to 94 1/2, where the hole at 96 would meet the joint, so to 96 - 1 1/16 - 1 1/2 = 93 7/16; then to
    // 151 15/16; then to 209, because 6 in are left for the last piece. Each piece has 1 1/2 in of joint.
    let checked = whole();
    let want = [
        ("T-01", Some(30.5)),
        ("T-02", Some(58.9375)),
        ("T-03", Some(60.0)),
        ("T-04", Some(58.5625)),
        ("T-05", Some(7.5)),
    ];
    assert_eq!(cuts(&checked.material, 'T'), want);
    let holes: Vec<_> = checked
        .material
        .holes
        .iter()
        .map(|hole| {
            let in_piece = hole.in_piece.map(Length::to_inches);
            (
                hole.tag.as_str(),
                hole.piece.as_deref(),
                in_piece,
                hole.on_joint,
            )
        })
        .collect();
    assert_eq!(holes[0], ("R-01", Some("T-01"), Some(17.0), false));
    assert_eq!(
        holes[4],
        ("R-05", Some("T-03"), Some(96.0 - 93.4375), false)
    );
    assert!(holes.iter().all(|hole| !hole.3));
}

#[test]
fn every_figure_that_a_list_prints_is_in_the_ledger() {
    let checked = whole();
    for piece in &checked.material.pieces {
        assert!(checked.ledger.get(&piece.length_figure()).is_some());
        assert_eq!(checked.ledger.length(&piece.cut_figure()), piece.cut);
    }
    for need in &checked.material.needs {
        let entered = checked.ledger.get(&need.quantity_figure()).is_some();
        assert_eq!(entered, need.quantity().is_some(), "{}", need.item);
    }
}

#[test]
fn nothing_to_take_off_leaves_empty_lists() {
    let checked = check("");
    assert!(checked.material.pieces.is_empty() && checked.material.cut_lists.is_empty());
}
