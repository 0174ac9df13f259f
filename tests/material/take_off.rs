//! Small jobs taken off by hand.

use std::path::Path;

use bayrun::figures::{FigureValue, Input};
use bayrun::material::Material;
use bayrun::quantity::Length;
use bayrun::source::{Disk, Memory, Overlay};
use bayrun::{Checked, Workshop};
use proptest::prelude::*;

use crate::support::cases::root;

fn check(lines: &str) -> Checked {
    let text =
        format!("bayrun 1\ninclude \"../houses/shell.bay\"\ncatalog \"fittings.yaml\"\n{lines}\n");
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
    let figure = checked.ledger.get("hole.r-05.on_joint").unwrap();
    assert_eq!(figure.value, FigureValue::Bool(false));
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
fn a_piece_rests_on_the_legs_and_the_fittings_beside_it() {
    let checked = whole();
    let said = |id: &str| -> Vec<String> {
        let inputs = &checked.ledger.get(id).unwrap().inputs;
        let words = inputs.iter().filter_map(|input| match input {
            Input::Place { text, .. } => Some(text.clone()),
            _ => None,
        });
        words.collect()
    };
    let first = said("piece.t-01.length");
    assert!(first.contains(&"east 3 ft".to_owned()), "{first:?}");
    assert!(
        first.contains(&"11 in square to 9 in round: length 7 in".to_owned()),
        "{first:?}"
    );
    let last = said("piece.t-05.length");
    assert!(
        last.contains(&"9 in cap: length 1 in".to_owned()),
        "{last:?}"
    );
    let drop = said("piece.d-07.length");
    assert!(
        drop.contains(&"3/4 in PVC tee: laying 9/16 in, socket 23/32 in".to_owned()),
        "{drop:?}"
    );
}

#[test]
fn nothing_to_take_off_leaves_empty_lists() {
    let checked = check("");
    assert!(checked.material.pieces.is_empty() && checked.material.cut_lists.is_empty());
}

/// How many of an item are used and how many units are ordered.
fn counted(checked: &Checked, item: &str) -> (Option<usize>, Option<usize>) {
    let found = checked.material.needs.iter().find(|need| need.item == item);
    let need = found.unwrap_or_else(|| panic!("nothing asks for `{item}`"));
    (need.count, need.quantity())
}

#[test]
fn a_tee_takes_half_its_length_off_each_way_and_an_elbow_its_own() {
    // shop.yaml: adapter 7 in, tee 13 in, elbow 11 in to its middle, cap 1 in, stock 60 in, joint 1 1/2 in.
    // main: 7 to 113 1/2 | 126 1/2 to 157 | 179 to 227; leg: 6 1/2 to 71, 6 in left for its last piece.
    let checked = check(
        "trunk main from ah.supply {
           adapter \"11 in square to 9 in round\", pipe \"9 in round\"
           east 10 ft
           tee leg { north 6 ft, cap }
           east 4 ft
           south 5 ft, cap
         }",
    );
    let trunk = [
        ("T-01", Some(60.0)),
        ("T-02", Some(49.5)),
        ("T-03", Some(32.0)),
        ("T-04", Some(49.5)),
    ];
    assert_eq!(cuts(&checked.material, 'T'), trunk);
    let branch = [("B-01", Some(60.0)), ("B-02", Some(7.5))];
    assert_eq!(cuts(&checked.material, 'B'), branch);
    assert_eq!(counted(&checked, "9 in tee").0, Some(1));
    assert_eq!(counted(&checked, "9 in elbow").0, Some(1));
    assert_eq!(counted(&checked, "9 in cap").0, Some(2));
    // Joints: 2 in the first stretch and its tee, 2 + 2 + 3 in the others: 3 + 2 + 2 + 3 = 10, three screws each.
    assert_eq!(counted(&checked, "sheet-metal screw"), (Some(30), Some(1)));
    assert_eq!(counted(&checked, "adapter screw"), (Some(8), Some(1)));
    let tee = checked.material.holes.iter().find(|hole| hole.tag == "leg");
    let tee = tee.unwrap();
    assert_eq!((tee.distance, tee.piece.as_ref()), (Length::feet(10), None));
    assert_eq!(tee.side, "north");
}

#[test]
fn a_smaller_branch_starts_with_a_reducer() {
    // fittings.yaml: reducer 6 in, cap 1 in; shop.yaml: half the 9 in tee is 6 1/2 in, joint 1 1/2 in.
    let checked = check(
        "trunk main from ah.supply {
           adapter \"11 in square to 9 in round\", pipe \"9 in round\"
           east 6 ft
           tee leg { pipe \"7 in round\", north 4 ft, cap }
           east 4 ft, cap
         }",
    );
    let length = 48.0 - 6.5 - 6.0 - 1.0 + 1.5;
    assert_eq!(cuts(&checked.material, 'B'), [("B-01", Some(length))]);
    assert_eq!(counted(&checked, "9 to 7 in reducer").0, Some(1));
}

#[test]
fn a_drain_with_a_trap_is_cut_socket_to_socket() {
    // 3/4 in PVC of shop.yaml and fittings.yaml: laying 9/16, socket 23/32, inside 0.824, outside 1.05 in,
    // male adapter 1/4, coupling 1/16 in. Trap middle to middle: down 2 1/8 + 2 + 0.824, up 2 + 0.824.
    // The leg behind it starts 2 x 9/16 + 2 x 23/32 further on, at the outlet's elbow.
    let checked = check(
        "drain primary from ah.drain {
           pipe \"3/4 in PVC\"
           south 4 in, cleanout, trap drop 2 1/8 in, seal 2 in
           south 4 ft, fall 1 in, vent 8 in
           down 14 ft 6 in
           discharge to laundry-sink, air gap 2 in
         }",
    );
    let sixteenth = |inches: f64| (inches * 16.0).floor() / 16.0;
    let down = 174.0 - 0.5625;
    let want = [
        ("D-01", Some(4.0 - 0.25 - 0.5625)),
        ("D-02", Some(sixteenth(2.125 + 2.0 + 0.824 - 1.125))),
        ("D-03", Some(2.0 * 0.71875)),
        ("D-04", Some(sixteenth(2.0 + 0.824 - 1.125))),
        ("D-05", Some(48.0 - (1.125 + 1.4375 + 0.5625) - 0.5625)),
        ("D-06", Some(sixteenth(8.0 + 0.525 - 0.5625))),
        ("D-07", Some(120.0)),
        ("D-08", Some(down - 120.0 - 0.125)),
    ];
    assert_eq!(cuts(&checked.material, 'D'), want);
    let built = checked.ledger.length("drain.primary.seal_built");
    assert_eq!(built, Some(Length::inches(2)));
    assert_eq!(counted(&checked, "3/4 in PVC elbow").0, Some(3));
    assert_eq!(counted(&checked, "3/4 in PVC coupling").0, Some(1));
    assert_eq!(counted(&checked, "3/4 in PVC cleanout").0, Some(1));
    // Longest first: 120 | 53 5/16 + 44 5/16 + 7 15/16 + 3 13/16 + 3 3/16 + 1 11/16 + 1 7/16 and six cuts.
    assert_eq!(counted(&checked, "3/4 in PVC"), (Some(2), Some(2)));
    let list = &checked.material.cut_lists[0];
    assert_eq!((list.label(), list.cost), ("proven", 1360));
}

#[test]
fn a_seal_that_fittings_cannot_make_is_built_deeper() {
    // Elbow on elbow: 2 x (9/16 + 23/32) - 0.824 = 1.7385 in of seal at the least.
    let checked = check(
        "drain primary from ah.drain {
           pipe \"3/4 in PVC\"
           south 4 in, cleanout, trap drop 2 1/8 in, seal 1 1/8 in
           south 4 ft, fall 1 in
           discharge to laundry-sink, air gap 2 in
         }",
    );
    let built = checked.ledger.length("drain.primary.seal_built").unwrap();
    assert!((built.to_inches() - 1.7385).abs() < 1e-9, "{built:?}");
    let up = checked.material.pieces.iter().find(|p| p.tag == "D-04");
    assert_eq!(up.unwrap().length, Some(Length::sixteenths(23)));
}

#[test]
fn stock_on_hand_is_cut_first() {
    let lines = "on-hand \"3/4 in PVC\", 1 of 8 ft
        drain primary from ah.drain {
           pipe \"3/4 in PVC\"
           south 7 ft
           discharge to laundry-sink, air gap 2 in
         }";
    let checked = check(lines);
    let list = &checked.material.cut_lists[0];
    assert!(list.bars[0].on_hand);
    // 84 in less 1/4 at the adapter, and one cut of 1/8 in: 12 1/8 in are left of 96.
    assert_eq!(list.bars[0].offcut, Length::sixteenths(12 * 16 + 2));
    assert_eq!(counted(&checked, "3/4 in PVC"), (Some(1), Some(0)));
    let order = &checked.material.lists(&checked.ledger)[2];
    assert!(order.rows.iter().all(|row| row[0] != "3/4 in PVC"));
}

#[test]
fn what_is_open_or_not_stocked_is_listed_with_the_reason() {
    let checked = check(
        "trunk main from ah.supply { adapter \"11 in square to 9 in round\", pipe \"13 in round\", east 6 ft, cap }
         run d1 from main at 2 ft { tube \"2 in sound tube\", measured to measure }",
    );
    let reasons: Vec<_> = checked
        .material
        .pieces
        .iter()
        .map(|piece| (piece.tag.as_str(), piece.cut, piece.reason.as_deref()))
        .collect();
    let want = [
        (
            "T-01",
            None,
            Some("no catalog of the job holds the pipe `13 in round`"),
        ),
        ("R-01", None, Some("`measured` is still `to measure`")),
    ];
    assert_eq!(reasons, want);
    let list = &checked.material.lists(&checked.ledger)[0];
    assert_eq!(list.rows[1][4], "`measured` is still `to measure`");
    assert_eq!(list.rows[1][5], "");
}

#[test]
fn refrigerant_lines_and_cable_are_one_piece_each() {
    let checked = check(
        "outdoor-unit ou { model \"Test 3-ton outdoor\", at 36 ft, 6 ft, pad 4 in }
         line-set ls from ou to ah { suction \"7/8 in\", liquid \"3/8 in\", measured 42 ft }
         panel p1 on first { at 30 ft, 1 ft, supply 240/120, rating 200 A }
         circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    );
    let lines = [("L-01", Some(504.0)), ("L-02", Some(504.0))];
    assert_eq!(cuts(&checked.material, 'L'), lines);
    // 2 ft at each end to make up.
    assert_eq!(cuts(&checked.material, 'P'), [("P-01", Some(66.0 * 12.0))]);
    // Four brazed joints, three to a pack.
    assert_eq!(counted(&checked, "brazing rod").0, Some(2));
}

#[test]
fn water_pipe_loses_its_elbows_and_vents() {
    let checked = check(
        "boiler heater { model \"Test boiler\", on first, center 28 ft, 10 ft }
         water-coil wc on ah { model \"Example medium water coil\" }
         water-pipe hot from heater.supply to wc.supply { pipe \"3/4 in copper L\", up 9 ft, west 3 ft, vent }",
    );
    // fittings.yaml: elbow 5/8 in, vent 3/4 in.
    let want = [
        ("W-01", Some(108.0 - 0.625)),
        ("W-02", Some(36.0 - 0.625 - 0.75)),
    ];
    assert_eq!(cuts(&checked.material, 'W'), want);
}

#[test]
fn what_the_tape_finds_beyond_the_drawn_legs_is_cut_and_bought() {
    let with = |tape: &str| {
        check(&format!(
            "boiler heater {{ model \"Test boiler\", on first, center 28 ft, 10 ft }}
             water-coil wc on ah {{ model \"Example medium water coil\" }}
             water-pipe hot from heater.supply to wc.supply {{ pipe \"3/4 in copper L\", up 9 ft, west 3 ft, vent{tape} }}"
        ))
    };
    let drawn = cuts(&with("").material, 'W').len();
    assert_eq!(drawn, 2);
    assert_eq!(cuts(&with(", measured 12 ft").material, 'W').len(), drawn);
    // 24 ft 6 in taped, 12 ft drawn: 12 ft 6 in more, a stock length of 10 ft and the rest, less the coupling's 1/8 in.
    let taped = with(", measured 24 ft 6 in");
    let more: Vec<_> = cuts(&taped.material, 'W').split_off(drawn);
    assert_eq!(more, [("W-03", Some(120.0)), ("W-04", Some(30.0 - 0.125))]);
    assert_eq!(counted(&taped, "3/4 in copper coupling").0, Some(2));
    assert!(
        taped
            .material
            .pieces
            .iter()
            .any(|piece| piece.tag == "W-03" && piece.field_cut)
    );
    let mistakes = |checked: &Checked| {
        let codes = checked.findings.iter().map(|finding| finding.kind.code);
        codes.filter(|code| *code == "MOD019").count()
    };
    assert_eq!(mistakes(&with(", measured 12 ft")), 0);
    assert_eq!(mistakes(&with(", measured 11 ft 11 in")), 1);
}

#[test]
fn upright_pipe_is_held_as_often_as_its_catalog_says_and_no_less_than_the_code() {
    let held = |pipe: &str| {
        let checked = check(&format!(
            "drain primary from ah.drain {{
               pipe \"{pipe}\", solvent \"PVC cement\"
               south 4 in, cleanout, trap drop 2 3/8 in, seal 1 1/4 in
               south 4 ft, fall 1 in
               down 9 ft
               discharge to laundry-sink, air gap 2 in
             }}"
        ));
        let spacing = checked
            .ledger
            .length("drain.primary.support-spacing-upright");
        let supports = checked.ledger.real("drain.primary.supports");
        let straps: usize = checked
            .material
            .needs
            .iter()
            .filter(|need| need.item.contains("pipe clamp"))
            .filter_map(|need| need.count)
            .sum();
        (spacing, supports, straps)
    };
    // 9 ft upright: three supports of 3 ft where one of 10 ft did.
    let (close, many, more) = held("3/4 in held PVC");
    let (far, few, less) = held("3/4 in loose PVC");
    assert_eq!(close, Some(Length::feet(3)));
    assert_eq!(far, Some(Length::feet(10)));
    assert_eq!(many.unwrap() - few.unwrap(), 2.0);
    assert_eq!(more - less, 2);
}

#[test]
fn what_is_there_already_is_not_bought_and_what_is_added_to_it_is() {
    let with = |word: &str| {
        check(&format!(
            "boiler heater {{ model \"Test boiler\"{word}, on first, center 28 ft, 10 ft, backflow-preventer, mixing-valve }}"
        ))
    };
    let asks = |checked: &Checked, item: &str| {
        let needs = &checked.material.needs;
        needs.iter().any(|need| need.item == item)
    };
    let new = with("");
    assert!(asks(&new, "Test boiler") && new.material.existing.is_empty());
    let old = with(", existing");
    assert!(!asks(&old, "Test boiler"));
    let (model, head) = old.material.existing[0];
    assert_eq!(old.files.text(model), "\"Test boiler\"");
    assert!(old.files.text(head).contains("boiler heater"));
    for added in ["backflow preventer", "mixing valve"] {
        assert_eq!(counted(&old, added).0, Some(1), "{added}");
    }
}

#[test]
fn a_hole_on_the_joint_of_two_legs_says_so() {
    // Legs meet at 36 in, and the joint reaches to 37 1/2: a hole of 2 1/8 in clears it from 38 9/16 in on.
    let run = |name: &str, at: &str| {
        format!("run {name} from main at {at}, side north {{ tube \"2 in sound tube\" }}\n")
    };
    let checked = check(&format!(
        "trunk main from ah.supply {{
           adapter \"11 in square to 9 in round\", pipe \"9 in round\"
           east 3 ft, removable
           east 3 ft, cap
         }}
         {}{}{}",
        run("a", "3 ft"),
        run("b", "38 1/2 in"),
        run("c", "38 9/16 in")
    ));
    let on_joint: Vec<bool> = checked
        .material
        .holes
        .iter()
        .map(|hole| hole.on_joint)
        .collect();
    assert_eq!(on_joint, [true, true, false]);
}

#[test]
fn a_hanger_that_is_not_stocked_is_listed_without_a_number() {
    let checked = check(
        "trunk main from ah.supply { pipe \"7 in round\", east 6 ft, cap }
         trunk other from ah.supply { pipe \"13 in round\", east 6 ft, cap }",
    );
    // The 9 in strap goes around 7 in pipe; nothing is known of 13 in pipe.
    assert_eq!(counted(&checked, "trunk strap").0, Some(2));
    assert_eq!(counted(&checked, "hangers for trunk"), (None, None));
    let order = &checked.material.lists(&checked.ledger)[2];
    let row = order.rows.iter().find(|row| row[0] == "hangers for trunk");
    assert_eq!(row.unwrap()[2], "as needed");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Pieces less their joints, and what the fittings take up, make up the legs to the nanometre.
    #[test]
    fn pieces_and_allowances_make_up_the_legs(
        legs in proptest::collection::vec((40_i64..4000, any::<bool>()), 1..6),
        holes in proptest::collection::vec(0_i64..6000, 0..5),
        capped in any::<bool>(),
    ) {
        let mut text = String::from("trunk main from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\"\n");
        let directions = ["east", "north", "east", "south", "east", "north"];
        let (mut station, mut taken, mut turns) = (0, Length::inches(7), 0);
        let mut last = "";
        for ((sixteenths, straight), direction) in legs.iter().zip(directions) {
            // Room for the fittings at both ends.
            let long = sixteenths + 24 * 16;
            let direction = if *straight && !last.is_empty() { last } else { direction };
            if !last.is_empty() && direction != last {
                turns += 1;
            }
            text += &format!("{direction} {long}/16 in\n");
            station += long;
            last = direction;
        }
        taken += Length::inches(11) * (2 * turns);
        if capped {
            text += "cap\n";
            taken += Length::INCH;
        }
        text += "}\n";
        for (n, at) in holes.iter().enumerate() {
            text += &format!("run x{n} from main at {}/16 in, side left {{ tube \"2 in sound tube\" }}\n", at % station);
        }
        let checked = check(&text);
        let pieces = &checked.material.pieces;
        let joint = Length::sixteenths(24);
        let trunk: Vec<_> = pieces.iter().filter(|piece| piece.tag.starts_with('T')).collect();
        let count = i64::try_from(trunk.len()).unwrap();
        // The last piece slips into the cap; at an open end it has no joint.
        let joints = if capped { count } else { count - 1 };
        let sum: Length = trunk.iter().map(|piece| piece.length.unwrap()).sum();
        prop_assert_eq!(sum - joint * joints + taken, Length::sixteenths(station), "{}", text);
        for piece in &trunk {
            prop_assert!(piece.length.unwrap() <= Length::feet(5));
        }
        for hole in &checked.material.holes {
            prop_assert_eq!(hole.piece.is_some(), hole.in_piece.is_some());
        }
    }
}
