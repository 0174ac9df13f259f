//! The pages of the examples: each wire and each leg once, the empty terminals named, nothing left unfilled.

use std::path::Path;

use bayrun::packet::page::{Block, Table};
use bayrun::packet::text::Words;
use bayrun::packet::{Packet, Page, PageSource, compile, lists};
use bayrun::quantity::{Length, length_text};
use bayrun::source::{Disk, Memory, Overlay};
use bayrun::{Checked, Workshop};

pub(super) const EXAMPLES: [&str; 3] = ["larkspur-lane", "old-farmhouse", "first-job"];

pub(super) fn checked(example: &str) -> Checked {
    let path = format!("examples/{example}/{example}.bay");
    let whole = Path::new(env!("CARGO_MANIFEST_DIR")).join(&path);
    Workshop::new(&Disk, None)
        .check(&whole, &path)
        .expect("an example")
}

pub(super) fn source(checked: &Checked) -> PageSource<'_> {
    PageSource {
        files: &checked.files,
        model: &checked.model,
        catalog: &checked.catalog,
        standards: &checked.standards,
        ledger: &checked.ledger,
        material: &checked.material,
        findings: &checked.findings,
        not_checked: &checked.not_checked,
        loosened: &checked.loosened,
    }
}

pub(super) fn page<'p>(packet: &'p Packet<'_>, id: &str) -> &'p Page {
    packet
        .pages
        .iter()
        .find(|page| page.id == id)
        .unwrap_or_else(|| panic!("no page `{id}`"))
}

pub(super) fn tables(page: &Page) -> impl Iterator<Item = &Table> {
    page.blocks.iter().filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    })
}

pub(super) fn rows(table: &Table) -> Vec<Vec<String>> {
    let words = Words::english();
    let row = |cells: &[bayrun::packet::Text]| cells.iter().map(|cell| cell.plain(words)).collect();
    table.rows.iter().map(|r| row(&r.cells)).collect()
}

pub(super) fn steps(page: &Page) -> Vec<String> {
    let ticks = page.blocks.iter().filter_map(|block| match block {
        Block::Ticks(ticks) => Some(ticks),
        _ => None,
    });
    ticks
        .flatten()
        .map(|tick| tick.text.plain(Words::english()))
        .collect()
}

#[test]
fn the_examples_leave_nothing_for_a_builder_to_mend() {
    for example in EXAMPLES {
        let checked = checked(example);
        let source = source(&checked);
        let packet = compile(&source);
        assert_eq!(
            packet.faults(Words::english()),
            Vec::<String>::new(),
            "{example}"
        );
        for page in &packet.pages {
            page.each_text(&mut |text| {
                let plain = text.plain(Words::english());
                assert!(
                    !plain.contains("not computed"),
                    "{example} {}: {plain}",
                    page.id
                );
            });
        }
    }
}

#[test]
fn every_control_wire_stands_once_in_the_table_and_in_the_list() {
    for example in EXAMPLES {
        let checked = checked(example);
        let source = source(&checked);
        let packet = compile(&source);
        let table = tables(page(&packet, "controls-from-to"))
            .next()
            .expect("wires");
        let rows = rows(table);
        let csv = lists(&source)
            .iter()
            .find(|list| list.file() == "lists/wires.csv")
            .and_then(|list| list.csv(Words::english()))
            .expect("wires.csv");
        let mut n = 0;
        for cable in checked.model.cables.values() {
            for wire in &cable.wires {
                n += 1;
                let wanted = [
                    &cable.name,
                    &wire.colour.value,
                    &wire.from.value,
                    &wire.to.value,
                ];
                let found = rows
                    .iter()
                    .filter(|row| row.iter().zip(wanted).all(|(a, b)| a == b));
                assert_eq!(found.count(), 1, "{wanted:?}");
                let ends = format!(
                    ",{},{},{}",
                    wire.colour.value, wire.from.value, wire.to.value
                );
                let of_cable = |line: &&str| line.starts_with(&cable.name) && line.ends_with(&ends);
                assert_eq!(csv.lines().filter(of_cable).count(), 1, "{csv}");
            }
        }
        assert_eq!(rows.len(), n, "{example}");
    }
}

#[test]
fn every_conductor_of_the_drawing_has_its_color_in_words() {
    let checked = checked("larkspur-lane");
    let packet = compile(&source(&checked));
    let drawn = page(&packet, "controls-drawn");
    let mut colours = Vec::new();
    drawn.each_text(&mut |text| colours.push(text.plain(Words::english())));
    // A line is named at each of its ends, the end at the unit left out.
    let named = |colour: &str| colours.iter().filter(|c| *c == colour).count();
    assert_eq!(named("blue"), 1);
    assert_eq!(named("green"), 1);
    assert_eq!(named("yellow"), 2);
}

#[test]
fn each_leg_of_the_drain_stands_once_with_its_ends() {
    let checked = checked("larkspur-lane");
    let packet = compile(&source(&checked));
    let all = rows(tables(page(&packet, "drain-primary")).next().expect("legs"));
    let short: Vec<Vec<&str>> = all
        .iter()
        .map(|row| [0, 1, 5, 6].map(|n| row[n].as_str()).to_vec())
        .collect();
    let drain = &checked.model.drains["primary"];
    let below = |point: bayrun::model::Point| length_text(drain.start.z - point.z);
    assert_eq!(short.len(), drain.legs.len());
    for (n, (row, leg)) in short.iter().zip(&drain.legs).enumerate() {
        let (tag, start, end) = (format!("leg-{}", n + 1), below(leg.start), below(leg.end));
        assert_eq!(*row, [&tag, leg.direction.word(), &start, &end]);
    }
    // Behind the trap the pipe starts at the weir.
    let (_, drop, _) = drain.traps().next().expect("a trap");
    assert_eq!(short[1][2], length_text(drop.value));
}

#[test]
fn supports_stand_at_their_spacing_and_at_the_end_of_each_leg() {
    let checked = checked("larkspur-lane");
    let packet = compile(&source(&checked));
    let supports = rows(
        tables(page(&packet, "drain-primary"))
            .nth(3)
            .expect("supports"),
    );
    let drain = &checked.model.drains["primary"];
    for (n, leg) in drain.legs.iter().enumerate() {
        let tag = format!("leg-{}", n + 1);
        let own: Vec<Length> = (1..=supports.len())
            .zip(&supports)
            .filter(|(_, row)| row[1] == tag)
            .filter_map(|(k, _)| {
                checked
                    .ledger
                    .length(&format!("drain.primary.support-{k}-along"))
            })
            .collect();
        let level = leg.direction.is_level();
        let most = if level {
            drain.hangers.expect("spacing").value
        } else {
            Length::feet(10)
        };
        let mut from = Length::ZERO;
        for along in &own {
            assert!(*along - from <= most, "{tag}: {own:?}");
            from = *along;
        }
        assert_eq!(from, leg.length, "{tag} ends without a support");
        let last = supports
            .iter()
            .rev()
            .find(|row| row[1] == tag)
            .expect("a support");
        assert_eq!(last[3], length_text(drain.start.z - leg.end.z), "{tag}");
    }
}

#[test]
fn the_setting_names_what_lands_and_what_stays_empty() {
    let checked = checked("larkspur-lane");
    let packet = compile(&source(&checked));
    let voltage = page(&packet, "voltage-ah");
    let steps = steps(voltage);
    let at = |start: &str| {
        steps
            .iter()
            .position(|step| step.starts_with(start))
            .unwrap_or_else(|| panic!("no step `{start}`: {steps:#?}"))
    };
    assert!(at("Lock the breaker out") < at("Test dead"));
    assert!(at("Test dead") < at("Land bare (ground) on GND"));
    assert!(at("Land bare (ground) on GND") < at("Land black (first hot) on L1"));
    assert!(at("Land white (second hot) on L2") < at("Leave LV EMPTY"));
    assert!(at("Check that NO jumper joins J1 and J2") < at("Leave LV EMPTY"));
    assert!(at("Leave LV EMPTY") < at("Breaker on, disconnect open: measure"));
    let lands = rows(tables(voltage).next().expect("terminals"));
    let lv = lands.iter().find(|row| row[0] == "LV").expect("LV");
    assert_eq!(lv[2], "STAYS EMPTY");
}

/// Larkspur Lane with words changed.
pub(super) fn changed(words: &[(&str, &str)]) -> Checked {
    let path = "examples/larkspur-lane/larkspur-lane.bay";
    let whole = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let mut text = std::fs::read_to_string(&whole).expect("the example");
    for (from, to) in words {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    let reader = Overlay {
        above: Memory::default().with(&whole, text),
        below: &Disk,
    };
    Workshop::new(&reader, None)
        .check(&whole, path)
        .expect("the example")
}

#[test]
fn conductors_that_the_job_does_not_mention_are_named() {
    let said = |words: &[(&str, &str)]| {
        let checked = changed(words);
        let packet = compile(&source(&checked));
        super::air::plain(page(&packet, "controls-from-to"))
    };
    let unsaid = said(&[(
        "  spare orange, spare brown, spare black\n",
        "  spare orange\n",
    )]);
    let note = "Neither landed nor called unused in this job: brown, black of stat-cable";
    assert!(unsaid.contains(note), "{unsaid}");
    assert!(!said(&[]).contains("Neither landed"));
}

#[test]
fn a_conversion_starts_from_the_setting_as_delivered() {
    let checked = changed(&[
        (
            "voltage-setting \"as shipped 208-240 V\"",
            "voltage-setting \"converted to 120 V\", jumper from J1 to J2",
        ),
        (
            "breaker-positions 14 16, breaker 15 A 2-pole",
            "breaker-positions 14, breaker 15 A 1-pole",
        ),
        ("measured 62 ft, volts 240", "measured 62 ft, volts 120"),
        (
            "land black on L1, land white on L2",
            "land black on LV, land white on L2",
        ),
    ]);
    assert_eq!(checked.counts().error + checked.counts().warning, 0);
    let packet = compile(&source(&checked));
    let steps = steps(page(&packet, "voltage-ah"));
    let at = |start: &str| {
        let found = steps.iter().position(|step| step.starts_with(start));
        found.unwrap_or_else(|| panic!("no step `{start}`: {steps:#?}"))
    };
    assert!(at("Test dead") < at("It comes set as shipped 208-240 V"));
    assert!(at("It comes set as shipped 208-240 V") < at("Fit the jumper from J1 to J2"));
    assert!(at("Fit the jumper from J1 to J2") < at("Land black (first hot) on LV"));
    assert!(at("Leave L1 EMPTY") < at("Breaker on, disconnect open: measure"));
}

#[test]
fn a_wye_asks_for_the_other_tap_of_the_transformer() {
    let low = "The supply is low in its range";
    let has = |checked: &Checked| {
        let packet = compile(&source(checked));
        steps(page(&packet, "voltage-ah"))
            .iter()
            .any(|step| step.starts_with(low))
    };
    let wye = changed(&[
        ("supply 240/120", "supply 208/120"),
        ("volts 240", "volts 208"),
    ]);
    assert_eq!(wye.counts().error + wye.counts().warning, 0);
    assert!(has(&wye));
    assert!(!has(&checked("larkspur-lane")));
}

#[test]
fn everything_that_takes_power_stands_in_one_table() {
    let checked = checked("larkspur-lane");
    let packet = compile(&source(&checked));
    let rows = rows(tables(page(&packet, "power")).next().expect("a table"));
    let circuit = |unit: &str| {
        let row = rows.iter().find(|row| row[0] == unit);
        row.unwrap_or_else(|| panic!("no row `{unit}`"))[1].clone()
    };
    // The circulator hangs on the boiler's circuit.
    assert_eq!(circuit("c1"), "heater-power");
    assert_eq!(circuit("heater"), "heater-power");
    assert_eq!(circuit("ou"), "ou-power");
    // 25 A × 0.76 in an attic of 128 °F, ended at 15 A by sheath and terminals; 4.4 + 0.6 A on the boiler's circuit.
    let figure = |id: &str| checked.ledger.real(id).expect("a figure");
    assert!((figure("circuit.ah-power.ampacity-corrected") - 19.0).abs() < 1e-9);
    assert!((figure("circuit.ah-power.ampacity") - 15.0).abs() < 1e-9);
    assert!((figure("circuit.heater-power.least-ampacity") - 5.0).abs() < 1e-9);
    // 2 × 98 A × 48 ft × 0.778 Ω per 1000 ft ÷ 240 V.
    let start = 2.0 * 98.0 * 48.0 * 0.778 / 1000.0 / 240.0 * 100.0;
    assert!((figure("circuit.ou-power.start-drop") - start).abs() < 1e-9);
}

#[test]
fn each_circuit_has_a_page_and_each_named_thing_is_printed() {
    let checked = checked("larkspur-lane");
    let packet = compile(&source(&checked));
    for name in checked.model.circuits.keys() {
        page(&packet, &format!("feed-{name}"));
    }
    let mut printed = String::new();
    for page in &packet.pages {
        page.each_text(&mut |text| {
            printed.push_str(&text.plain(Words::english()));
            printed.push('\n');
        });
    }
    let drawn = ["story", "room", "trunk", "run"];
    let parts = checked.model.parts.iter();
    for part in parts.filter(|part| !drawn.contains(&part.kind)) {
        let name = part.name.as_deref().unwrap_or_default();
        assert!(printed.contains(name), "{} {name}", part.kind);
    }
    for said in [
        "height 10 in",
        "gfci",
        "rises 9 in per ft toward north",
        "flow 7 gpm",
    ] {
        assert!(printed.contains(said), "{said}");
    }
}

#[test]
fn sources_and_counts_close_the_packet() {
    let checked = checked("larkspur-lane");
    let packet = compile(&source(&checked));
    let last: Vec<&str> = packet
        .pages
        .iter()
        .rev()
        .take(2)
        .map(|p| p.id.as_str())
        .collect();
    assert_eq!(last, ["sources", "checked"]);
    let listed = rows(tables(page(&packet, "sources")).next().expect("sources"));
    assert!(
        listed.iter().any(|row| row[0] == "IRC Table P2605.1"),
        "{listed:?}"
    );
}

#[test]
fn every_piece_and_every_need_is_printed_and_listed_once() {
    let checked = checked("larkspur-lane");
    let source = source(&checked);
    let packet = compile(&source);
    let ids = [
        "pieces-trunk",
        "pieces-tube",
        "pieces-pipe",
        "pieces-line-set",
        "pieces-cable",
    ];
    let mut tags: Vec<String> = Vec::new();
    for id in ids {
        let table = tables(page(&packet, id)).next().expect("pieces");
        tags.extend(rows(table).into_iter().map(|row| row[0].clone()));
    }
    tags.sort();
    let mut wanted: Vec<&str> = source
        .material
        .pieces
        .iter()
        .map(|p| p.tag.as_str())
        .collect();
    wanted.sort_unstable();
    assert_eq!(tags, wanted);
    let csv = |name: &str| {
        let lists = lists(&source);
        let list = lists.iter().find(|list| list.file() == name).expect(name);
        list.csv(Words::english()).expect(name)
    };
    assert_eq!(csv("lists/pieces.csv").lines().count(), wanted.len() + 1);
    let pulled = rows(
        tables(page(&packet, "pull-list"))
            .next()
            .expect("pull list"),
    );
    assert_eq!(pulled.len(), source.material.needs.len());
    let bought = source
        .material
        .needs
        .iter()
        .filter(|need| need.quantity() != Some(0));
    assert_eq!(csv("lists/order.csv").lines().count(), bought.count() + 1);
    let unproven = page(&packet, "pieces-trunk").blocks.iter().any(|block| {
        matches!(block, Block::Note(text) if text.plain(Words::english()).contains("Not proven"))
    });
    assert!(unproven);
}
