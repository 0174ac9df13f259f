//! Conductors on paper: no word on another conductor's line, no two lines in one, contacts of line voltage, remarks.

use std::path::Path;

use bayrun::packet::page::Block;
use bayrun::packet::text::Words;
use bayrun::packet::{Packet, compile, lists};
use bayrun::source::{Disk, Memory, Overlay};
use bayrun::{Checked, Workshop};

use super::air::plain;
use super::crew::{EXAMPLES, changed, checked, page, rows, source, steps, tables};
use crate::generate::sound;

/// A word of a drawing with the area that it covers, and the height of its base line.
#[derive(Debug)]
struct Word {
    text: String,
    left: f64,
    top: f64,
    wide: f64,
    high: f64,
    base: f64,
}

type Segment = [(f64, f64); 2];

/// Words, and conductors as their straight parts, of a control drawing.
struct Drawn {
    words: Vec<Word>,
    conductors: Vec<Vec<Segment>>,
}

fn number(line: &str, name: &str) -> f64 {
    let start = line.find(&format!(" {name}=\"")).expect(name) + name.len() + 3;
    let rest = &line[start..];
    rest[..rest.find('"').unwrap()].parse().expect(name)
}

/// Reads the drawing as it is printed: lines that stay open and are of the middle weight are conductors.
fn drawn(svg: &str) -> Drawn {
    let mut out = Drawn {
        words: Vec::new(),
        conductors: Vec::new(),
    };
    let mut ground: Option<&str> = None;
    for line in svg.lines() {
        if line.starts_with("<rect") && line.contains("fill-opacity") {
            ground = Some(line);
        } else if let (true, Some(ground)) = (line.starts_with("<text"), ground) {
            let text = &line[line.find('>').unwrap() + 1..line.rfind("</text>").unwrap()];
            out.words.push(Word {
                text: text.to_owned(),
                left: number(ground, "x"),
                top: number(ground, "y"),
                wide: number(ground, "width"),
                high: number(ground, "height"),
                base: number(line, "y"),
            });
        } else if let Some(path) = line.strip_prefix("<path d=\"M") {
            let path = &path[..path.find('"').unwrap()];
            if path.ends_with('Z') || !line.contains("stroke-width=\"1.2\"") {
                continue;
            }
            let points: Vec<(f64, f64)> = path
                .split('L')
                .map(|point| {
                    let (x, y) = point.split_once(' ').unwrap();
                    (x.parse().unwrap(), y.parse().unwrap())
                })
                .collect();
            out.conductors
                .push(points.windows(2).map(|pair| [pair[0], pair[1]]).collect());
        }
    }
    out
}

/// Whether a part that runs level or upright passes through an area, its edges left out.
fn crosses(word: &Word, [a, b]: Segment) -> bool {
    const EDGE: f64 = 0.2;
    let (left, right) = (word.left + EDGE, word.left + word.wide - EDGE);
    let (top, low) = (word.top + EDGE, word.top + word.high - EDGE);
    a.0.max(b.0) > left && a.0.min(b.0) < right && a.1.max(b.1) > top && a.1.min(b.1) < low
}

/// How far two parts run side by side, closer than a line is wide.
fn together(one: Segment, other: Segment) -> f64 {
    let along = |level: bool, [a, b]: Segment| {
        let (own, far) = if level { (a.0, b.0) } else { (a.1, b.1) };
        let across = if level { (a.1, b.1) } else { (a.0, b.0) };
        ((across.0 - across.1).abs() < 1e-6).then_some((own.min(far), own.max(far), across.0))
    };
    [true, false]
        .into_iter()
        .filter_map(|level| Some((along(level, one)?, along(level, other)?)))
        .filter(|(a, b)| (a.2 - b.2).abs() < 1.2)
        .map(|(a, b)| a.1.min(b.1) - a.0.max(b.0))
        .fold(0.0, f64::max)
}

fn hold(job: &str, checked: &Checked) -> usize {
    let packet = compile(&source(checked));
    let colours: Vec<&str> = checked
        .model
        .cables
        .values()
        .flat_map(|cable| cable.wires.iter().map(|wire| wire.colour.value.as_str()))
        .collect();
    let mut found = 0;
    let pages = packet.pages.iter();
    for page in pages.filter(|page| page.id.starts_with("controls-drawn")) {
        for block in &page.blocks {
            let Block::Drawing { scene, .. } = block else {
                continue;
            };
            let drawn = drawn(&scene.svg(Words::english()));
            assert!(!drawn.conductors.is_empty(), "{job} {}", page.id);
            for word in &drawn.words {
                let parts = drawn.conductors.iter().flatten();
                let on: Vec<_> = parts.filter(|part| crosses(word, **part)).collect();
                assert!(on.is_empty(), "{job} {}: {word:?} on {on:?}", page.id);
                if !colours.contains(&word.text.as_str()) {
                    continue;
                }
                found += 1;
                // The conductor below it is its own: there is one, and no other is as near.
                let middle = word.left + word.wide / 2.0;
                let below = drawn.conductors.iter().filter(|conductor| {
                    conductor.iter().any(|[a, b]| {
                        let level = (a.1 - b.1).abs() < 1e-6;
                        let under = a.0.min(b.0) < middle && middle < a.0.max(b.0);
                        level && under && (0.0..6.0).contains(&(a.1 - word.base))
                    })
                });
                assert_eq!(below.count(), 1, "{job} {}: {word:?}", page.id);
            }
            for (n, one) in drawn.conductors.iter().enumerate() {
                for other in drawn.conductors.iter().skip(n + 1) {
                    let far = one
                        .iter()
                        .flat_map(|one| other.iter().map(|other| together(*one, *other)))
                        .fold(0.0, f64::max);
                    assert!(far < 1e-6, "{job} {}: {one:?} on {other:?}", page.id);
                }
            }
        }
    }
    found
}

#[test]
fn no_word_stands_on_another_conductor() {
    let mut found = 0;
    for example in EXAMPLES {
        found += hold(example, &checked(example));
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for seed in 1..=12 {
        let name = format!("examples/first-job/seed-{seed}.bay");
        let whole = root.join(&name);
        let reader = Overlay {
            above: Memory::default().with(&whole, sound(seed)),
            below: &Disk,
        };
        let job = Workshop::new(&reader, None).check(&whole, &name);
        found += hold(&name, &job.expect("a generated job"));
    }
    assert!(found > 120, "{found} colors");
}

fn farmhouse(look: impl Fn(&Checked, &Packet<'_>)) {
    let checked = checked("old-farmhouse");
    let packet = compile(&source(&checked));
    look(&checked, &packet);
}

#[test]
fn a_contact_that_starts_a_pump_is_drawn_listed_and_measured() {
    farmhouse(|checked, packet| {
        let feed = page(packet, "feed-c-down-power");
        assert!(plain(feed).contains("black goes through COM and NO of relay down-starts"));
        let steps = steps(feed);
        let at = |said: &str| {
            let found = steps.iter().position(|step| step.contains(said));
            found.unwrap_or_else(|| panic!("{said}: {steps:#?}"))
        };
        let land = at("black from the breaker on COM, black from NO on to c-down");
        let before = at("measure from COM of down-starts");
        let behind = at("at NO and at c-down: nothing while down-starts is not fed");
        assert!(land < before && before < behind);
        assert!(
            !steps
                .iter()
                .any(|step| step.contains("measure at the unit"))
        );
        let expected = [
            ["c-down-power", "black", "p1 position 32", "down-starts.COM"],
            ["c-down-power", "black", "down-starts.NO", "c-down"],
        ];
        let listed: Vec<_> = tables(page(packet, "controls-from-to"))
            .flat_map(rows)
            .collect();
        for wanted in expected {
            assert!(listed.iter().any(|row| row[..4] == wanted), "{wanted:?}");
        }
        let csv = lists(&source(checked))
            .iter()
            .find(|list| list.file() == "lists/wires.csv")
            .and_then(|list| list.csv(Words::english()))
            .expect("wires.csv");
        assert!(
            csv.contains("c-down-power,w1,black,p1 position 32,down-starts.COM"),
            "{csv}"
        );
        assert!(
            csv.contains("c-down-power,w2,black,down-starts.NO,c-down"),
            "{csv}"
        );
        let said = plain(page(packet, "controls-from-to"));
        assert!(
            said.contains("lock out c-down-power, c-up-power as well"),
            "{said}"
        );
        for unit in ["down", "up"] {
            let drawing = plain(page(packet, &format!("controls-drawn-{unit}")));
            assert!(drawing.contains("black from breaker"), "{drawing}");
            assert!(drawing.contains(&format!("black to c-{unit}")), "{drawing}");
        }
        let terminals = tables(page(packet, "controls-terminals")).flat_map(rows);
        let landed: Vec<String> = terminals
            .map(|row| row[2].clone())
            .filter(|lands| lands.starts_with("black"))
            .collect();
        assert_eq!(
            landed,
            [
                "black from p1 position 32, c-down-power",
                "black to c-down",
                "black from p1 position 34, c-up-power",
                "black to c-up"
            ]
        );
    });
}

#[test]
fn start_up_asks_for_voltage_where_it_can_be_measured() {
    farmhouse(|_, packet| {
        let record = plain(page(packet, "start-up"));
        for (unit, place) in [
            ("down", "Voltage at the disconnect"),
            ("lift", "Voltage at its supply terminals"),
            ("old", "Voltage at its supply terminals"),
            ("c-up", "Voltage at COM of up-starts, before the contact"),
        ] {
            assert!(
                record.contains(&format!("{place}, {unit}")),
                "{place} {unit}"
            );
        }
        assert_eq!(record.matches("at the disconnect").count(), 4);
    });
}

#[test]
fn white_that_is_hot_is_marked_with_and_without_landings() {
    let has = |example: &str, id: &str| {
        let checked = checked(example);
        let packet = compile(&source(&checked));
        plain(page(&packet, id)).contains("Mark white all round with tape")
    };
    assert!(has("larkspur-lane", "feed-ah-power"));
    assert!(has("larkspur-lane", "feed-ou-power"));
    assert!(has("larkspur-lane", "voltage-ah"));
    assert!(has("old-farmhouse", "feed-down-out-power"));
    // At 120 V white is the neutral.
    assert!(!has("larkspur-lane", "feed-heater-power"));
    assert!(!has("old-farmhouse", "feed-c-up-power"));
}

#[test]
fn every_remark_is_printed_and_stands_at_its_thing() {
    let checked = changed(&[
        (
            "  number      26-0417,",
            "  note \"ring twice\"\n  number      26-0417,",
        ),
        (
            "  enters ah.power\n",
            "  enters ah.power\n  note \"keep off the purlin\"\n",
        ),
        (
            "  type \"18/8\", measured 40 ft",
            "  note \"leave a loop behind the plate\"\n  type \"18/8\", measured 40 ft",
        ),
        (
            "outlet ba1 in ceiling at 3 ft, 4 ft, model \"2 in outlet, white\"",
            "outlet ba1 in ceiling at 3 ft, 4 ft { model \"2 in outlet, white\", note \"mind the fan\" }",
        ),
        (
            "disconnect ou-switch for ou { distance 4 ft",
            "disconnect ou-switch for ou { note \"left of the gate\", distance 4 ft",
        ),
    ]);
    let packet = compile(&source(&checked));
    let found: Vec<_> = tables(page(&packet, "notes")).flat_map(rows).collect();
    let wanted = [
        ["job", "ring twice"],
        ["outlet ba1", "mind the fan"],
        ["circuit ah-power", "keep off the purlin"],
        ["disconnect ou-switch", "left of the gate"],
        ["cable stat-cable", "leave a loop behind the plate"],
    ];
    assert_eq!(found, wanted);
    assert!(plain(page(&packet, "feed-ah-power")).contains("keep off the purlin"));
    assert!(plain(page(&packet, "controls-from-to")).contains("leave a loop behind the plate"));
}

#[test]
fn a_float_switch_is_proven_the_way_it_works() {
    let proven = |words: &[(&str, &str)]| {
        let checked = changed(words);
        let packet = compile(&source(&checked));
        let steps = steps(page(&packet, "controls-from-to"));
        let of: Vec<String> = steps
            .into_iter()
            .filter(|step| step.starts_with("Float switch"))
            .collect();
        of.join("|")
    };
    let opens = proven(&[]);
    assert!(opens.starts_with("Float switch pan-float,"), "{opens}");
    assert!(opens.contains("none with the float up"), "{opens}");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let shop = root.join("examples/shop/controls.yaml");
    let text = std::fs::read_to_string(&shop).expect("the catalog");
    let reader = Overlay {
        above: Memory::default().with(
            &shop,
            text.replace("opens-on-rise: yes", "opens-on-rise: no"),
        ),
        below: &Disk,
    };
    let path = "examples/larkspur-lane/larkspur-lane.bay";
    let checked = Workshop::new(&reader, None).check(&root.join(path), path);
    let checked = checked.expect("the example");
    let closes = plain(page(&compile(&source(&checked)), "controls-from-to"));
    assert!(
        closes.contains("no continuity with the float down, continuity with"),
        "{closes}"
    );
    // Without conductors on it there is nothing to prove.
    let gone = proven(&[
        ("  wire red   from pan-float.S1 to ah.F1\n", ""),
        ("  wire white from pan-float.S2 to ah.F2\n", ""),
    ]);
    assert_eq!(gone, "");
}

/// What a meter shows in Larkspur Lane: R whatever is called, the output and the coil with their call, and the boiler's
/// own voltage across its loop while nothing closes it.
#[test]
fn the_meter_shows_what_the_page_says() {
    let checked = checked("larkspur-lane");
    let packet = compile(&source(&checked));
    let runs = page(&packet, "controls-runs");
    let said = plain(runs);
    assert!(said.contains("It always does at ah.R."), "{said}");
    assert!(
        said.contains("The other way round at heater.TT1 to TT2"),
        "{said}"
    );
    let rows = rows(tables(runs).next().expect("calls"));
    let of = |call: &str| {
        let row = rows.iter().find(|row| row[1] == call);
        let row = row.unwrap_or_else(|| panic!("{call}: {rows:?}"));
        (row[2].as_str(), row[3].as_str())
    };
    assert_eq!(of("nothing"), ("nothing", "nothing"));
    assert_eq!(of("cooling"), ("ah.G, ah.Y, ah.YO, ou.Y1", "nothing"));
    assert_eq!(
        of("heat"),
        ("ah.W, ah.WO, heat-relay.A1", "heater.TT1 to TT2")
    );
}
