//! The pages on air: flows that add up, points that lie on their curves, outlets that stand once.

use std::collections::BTreeMap;

use bayrun::catalog::Stated;
use bayrun::figures::Figure;
use bayrun::packet::page::{Block, Page};
use bayrun::packet::scene::Scene;
use bayrun::packet::text::Words;
use bayrun::packet::{PageSource, compile};

use super::crew::{EXAMPLES, checked, page, rows, source, tables};

fn scenes(page: &Page) -> Vec<&Scene> {
    let scene = |block: &'_ Block| matches!(block, Block::Drawing { .. });
    page.blocks
        .iter()
        .filter(|block| scene(block))
        .map(|block| match block {
            Block::Drawing { scene, .. } => scene,
            _ => unreachable!(),
        })
        .collect()
}

/// How often each figure is drawn on a page.
fn drawn(page: &Page) -> BTreeMap<String, usize> {
    let mut out = BTreeMap::new();
    for scene in scenes(page) {
        scene.each_text(&mut |text| {
            text.each_figure(&mut |id| *out.entry(id.to_owned()).or_default() += 1);
        });
    }
    out
}

pub(super) fn plain(page: &Page) -> String {
    let mut all = String::new();
    page.each_text(&mut |text| {
        all.push_str(&text.plain(Words::english()));
        all.push('\n');
    });
    all
}

#[test]
fn the_runs_on_the_schematic_add_up_to_the_units_airflow() {
    for example in EXAMPLES {
        let checked = checked(example);
        let source = source(&checked);
        let packet = compile(&source);
        let mut runs = 0;
        for unit in checked.model.air_handlers.values() {
            let page = page(&packet, &format!("air-{}", unit.name));
            let drawn = drawn(page);
            let flows: Vec<(&String, &usize)> = drawn
                .iter()
                .filter(|(id, _)| id.starts_with("run.") && id.ends_with(".airflow"))
                .collect();
            assert!(flows.iter().all(|(_, times)| **times == 1), "{flows:?}");
            let sum: f64 = flows
                .iter()
                .map(|(id, _)| checked.ledger.real(id).expect("a flow"))
                .sum();
            let whole = checked
                .ledger
                .real(&format!("air-handler.{}.airflow", unit.name))
                .expect("an airflow");
            assert!(
                (sum / whole - 1.0).abs() < 1e-6,
                "{example}: {sum} of {whole}"
            );
            runs += flows.len();
            assert!(drawn.contains_key(&format!("air-handler.{}.plenum-pressure", unit.name)));
        }
        assert_eq!(runs, checked.model.runs.len(), "{example}");
    }
}

#[test]
fn every_leg_has_its_flow_and_every_orifice_its_bore() {
    let checked = checked("larkspur-lane");
    let source = source(&checked);
    let packet = compile(&source);
    let page = page(&packet, "air-ah");
    let drawn = drawn(page);
    for trunk in checked.model.trunks.values() {
        for leg in 1..=trunk.legs.len() {
            let id = format!("trunk.{}.leg-{leg}.airflow", trunk.name);
            // The first leg of a branch stands at its tee too.
            let times = usize::from(leg == 1 && trunk.parent.is_some()) + 1;
            assert_eq!(drawn.get(&id), Some(&times), "{id}");
        }
    }
    let words = plain(page);
    for run in checked.model.runs.values() {
        let line = words
            .lines()
            .find(|line| line.starts_with(&format!("{}: ", run.name)))
            .expect("the run");
        let bore = run.orifice.as_ref().map(|orifice| {
            let sheet = checked.catalog.orifices.get(&orifice.value).expect("held");
            checked.files.text(sheet.bore.span).to_owned()
        });
        match bore {
            Some(bore) => assert!(line.ends_with(&format!(", {bore}")), "{line}"),
            None => assert!(line.ends_with(" cfm"), "{line}"),
        }
    }
}

/// Pressure of the catalog's curve at a flow, straight between its points.
fn on_curve(points: &[(f64, f64)], flow: f64) -> f64 {
    let pair = points
        .windows(2)
        .find(|pair| pair[0].0 <= flow && flow <= pair[1].0)
        .expect("inside the curve");
    let [(a, pa), (b, pb)] = [pair[0], pair[1]];
    pa + (pb - pa) * (flow - a) / (b - a)
}

fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
        .filter_map(|part| part.parse().ok())
        .collect()
}

fn value<'t>(line: &'t str, name: &str) -> Option<&'t str> {
    let start = line.find(&format!(" {name}=\""))? + name.len() + 3;
    line.get(start..)?.split('"').next()
}

/// How far a point lies from a broken line.
fn distance(line: &[(f64, f64)], (x, y): (f64, f64)) -> f64 {
    line.windows(2)
        .map(|pair| {
            let [(ax, ay), (bx, by)] = [pair[0], pair[1]];
            let (dx, dy) = (bx - ax, by - ay);
            let long = dx * dx + dy * dy;
            let t = if long > 0.0 {
                (((x - ax) * dx + (y - ay) * dy) / long).clamp(0.0, 1.0)
            } else {
                0.0
            };
            libm::hypot(ax + t * dx - x, ay + t * dy - y)
        })
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn each_working_point_lies_on_its_taps_curve_and_on_the_ducts() {
    let mut points = 0;
    for example in EXAMPLES {
        let checked = checked(example);
        let source = source(&checked);
        let packet = compile(&source);
        for unit in checked.model.air_handlers.values() {
            let density = checked.ledger.real("air.supply-density").expect("density");
            for (name, tap) in unit.sheet.blower.taps.iter() {
                let of = |what: &str| {
                    let id = format!("air-handler.{}.{what}@summer.tap{name}", unit.name);
                    checked.ledger.real(&id)
                };
                let Some((flow, external)) = of("airflow").zip(of("external-static")) else {
                    continue;
                };
                let mut curve: Vec<(f64, f64)> = tap
                    .points
                    .iter()
                    .flatten()
                    .filter_map(Stated::get)
                    .map(|point| (point.flow.value(), point.pressure.value()))
                    .collect();
                curve.sort_by(|a, b| a.0.total_cmp(&b.0));
                let blown = on_curve(&curve, flow) * density / 0.075;
                assert!(
                    (blown / external - 1.0).abs() < 5e-3,
                    "{example}, tap {name}: {blown} blown, {external} taken"
                );
                points += 1;
            }
            let page = page(&packet, &format!("fan-{}", unit.name));
            let svg = scenes(page)[0].svg(Words::english());
            let lines: Vec<Vec<(f64, f64)>> = svg
                .lines()
                .filter(|line| line.starts_with("<path") && line.contains("fill=\"none\""))
                .filter_map(|line| value(line, "d"))
                .filter(|d| !d.ends_with('Z'))
                .map(|d| numbers(d).chunks(2).map(|xy| (xy[0], xy[1])).collect())
                .filter(|line: &Vec<_>| line.len() > 2)
                .collect();
            let circles: Vec<(f64, f64)> = svg
                .lines()
                .filter(|line| line.starts_with("<circle"))
                .map(|line| {
                    let of = |name| value(line, name).unwrap().parse::<f64>().unwrap();
                    (of("cx"), of("cy"))
                })
                .collect();
            assert!(!circles.is_empty());
            for circle in circles {
                let near = lines
                    .iter()
                    .filter(|line| distance(line, circle) < 0.5)
                    .count();
                assert!(near >= 2, "{example}: {circle:?} lies on {near} curves");
            }
        }
    }
    assert!(points >= 2, "{points} taps");
}

#[test]
fn every_outlet_stands_once_in_the_start_up_record_with_its_range() {
    for example in EXAMPLES {
        let checked = checked(example);
        let source = source(&checked);
        let packet = compile(&source);
        let page = page(&packet, "start-up-outlets");
        let table = tables(page).next().expect("a table");
        let rows = rows(table);
        let halves: Vec<&[String]> = rows
            .iter()
            .flat_map(|row| row.chunks(4))
            .filter(|half| !half[0].is_empty())
            .collect();
        assert_eq!(halves.len(), checked.model.runs.len());
        for run in checked.model.runs.values() {
            let of: Vec<_> = halves.iter().filter(|half| half[0] == run.name).collect();
            assert_eq!(of.len(), 1, "{example}: {}", run.name);
            let real = |what: &str| {
                let id = format!("run.{}.{what}", run.name);
                checked.ledger.real(&id).expect("known")
            };
            let (flow, least, most) =
                (real("airflow"), real("reading-least"), real("reading-most"));
            assert!((least / flow - 0.9).abs() < 1e-9 && (most / flow - 1.1).abs() < 1e-9);
            assert!(of[0][2].contains(" to "), "{:?}", of[0]);
        }
        assert!(plain(page).contains("10 %"), "the tolerance is named");
    }
}

#[test]
fn the_grid_holds_the_design_day() {
    let checked = checked("larkspur-lane");
    let real = |id: &str| checked.ledger.real(id);
    let axis = |word: &str| -> Vec<f64> {
        (1..)
            .map_while(|n| real(&format!("coil.ah.split-{word}-{n}")))
            .collect()
    };
    let (outdoors, wet_bulbs) = (axis("outdoor"), axis("wet-bulb"));
    assert!(outdoors.len() > 1 && wet_bulbs.len() > 1);
    let split = |i: usize, j: usize| real(&format!("coil.ah.split-{}-{}", i + 1, j + 1));
    for j in 0..wet_bulbs.len() {
        let down: Vec<f64> = (0..outdoors.len()).filter_map(|i| split(i, j)).collect();
        assert!(
            down.windows(2).all(|pair| pair[0] > pair[1]),
            "hotter out, less: {down:?}"
        );
    }
    for i in 0..outdoors.len() {
        let across: Vec<f64> = (0..wet_bulbs.len()).filter_map(|j| split(i, j)).collect();
        assert!(
            across.windows(2).all(|pair| pair[0] > pair[1]),
            "wetter in, less: {across:?}"
        );
    }
    // The design day lies between the entries around it.
    let design = real("coil.ah.temperature-split").expect("at design");
    let wet = real("coil.ah.entering-wet-bulb").expect("at design");
    let i = outdoors
        .iter()
        .position(|out| *out > 93.0)
        .expect("hotter than design");
    let j = wet_bulbs
        .iter()
        .position(|own| *own > wet)
        .expect("wetter than design");
    let (most, least) = (split(i - 1, j - 1).unwrap(), split(i, j).unwrap());
    assert!(
        least < design && design < most,
        "{least} < {design} < {most}"
    );
    let source = source(&checked);
    let packet = compile(&source);
    let table = tables(page(&packet, "start-up-split-ah"))
        .next()
        .expect("a table");
    assert_eq!(rows(table).len(), outdoors.len());
}

#[test]
fn rooms_return_and_coil_print_what_is_solved() {
    let checked = checked("larkspur-lane");
    let source = source(&checked);
    let packet = compile(&source);
    let printed = |page_id: &str, figure: &str| {
        let mut found = false;
        page(&packet, page_id).each_text(&mut |text| {
            text.each_figure(&mut |id| found |= id == figure);
        });
        found
    };
    for (at, figure) in [
        ("return-ret", "return.ret.airflow"),
        ("return-ret", "return.ret.face-velocity"),
        ("return-ret", "air-handler.ah.cabinet-suction-dirty"),
        ("coil-ah", "coil.ah.freeze-margin"),
        ("coil-ah", "coil.ah.freeze-airflow"),
        ("coil-ah", "coil.ah.moisture"),
        ("start-up", "air-handler.ah.plenum-pressure"),
        ("start-up", "air-handler.ah.external-static"),
        ("start-up", "air-handler.ah.blower-power"),
        ("start-up", "coil.ah.temperature-split"),
        ("room-air", "house.spread"),
        ("room-air", "house.spread@winter"),
    ] {
        assert!(printed(at, figure), "{figure} on {at}");
    }
    for room in checked.model.house.rooms.values() {
        if room.unconditioned || room.served_by.is_some() {
            continue;
        }
        for what in [
            "airflow-needed",
            "airflow",
            "share",
            "temperature",
            "temperature@winter",
        ] {
            let id = format!("room.{}.{what}", room.name);
            assert!(printed("room-air", &id), "{id}");
        }
    }
}

#[test]
fn a_page_says_why_a_figure_is_not_known() {
    let checked = checked("larkspur-lane");
    let mut ledger = checked.ledger.clone();
    let reason = "the loss of the filter: the catalog does not give it";
    let gone: Vec<String> = ledger
        .iter()
        .map(|figure| figure.id.clone())
        .filter(|id| {
            let solved = [
                "air-handler.ah.airflow",
                "run.",
                "coil.ah.",
                "return.ret.",
                "room.",
            ];
            solved.iter().any(|start| id.starts_with(start))
                && ["airflow", "total", "freeze-margin"]
                    .iter()
                    .any(|what| id.contains(what))
        })
        .collect();
    for id in gone {
        ledger.enter(Figure::unknown(id, reason));
    }
    let own = source(&checked);
    let source = PageSource {
        ledger: &ledger,
        ..own
    };
    let packet = compile(&source);
    assert_eq!(packet.faults(Words::english()), Vec::<String>::new());
    for id in ["air-ah", "fan-ah", "coil-ah", "room-air", "return-ret"] {
        let words = plain(page(&packet, id));
        assert!(
            words.contains(&format!("not known: {reason}")),
            "{id}: {words}"
        );
    }
    let printed = plain(page(&packet, "air-ah"));
    assert!(printed.contains("de1: not known"), "{printed}");
}

/// Zones and further conditions have their page, with the figures of the ledger.
#[test]
fn zones_and_further_conditions_are_printed() {
    let back = "filter \"24 x 24 in filter\", measured 8 ft }";
    let zones = "\nventilation fresh to ah.return { flow 80 cfm }\nzone east { room kitchen, room dining }\nzone west { room living, room den }\ndamper de in main at 12 ft { zone east }\n";
    let mild = "condition mild-damp, outdoor 85 F, indoor 74 F at 55 %RH\n  origin ";
    let checked = crate::comfort::lane(
        &[
            (back, &format!("{back}{zones}")),
            ("origin ", mild),
            ("tap 4\n", "tap 4, first-stage-tap 2\n"),
        ],
        &[],
    );
    let source = source(&checked);
    let packet = compile(&source);
    assert!(packet.faults(Words::english()).is_empty());
    let zoned = plain(page(&packet, "zones-ah"));
    for word in ["east", "west", "west alone", "damper de in main at 12 ft"] {
        assert!(zoned.contains(word), "{word}: {zoned}");
    }
    let alone = checked
        .ledger
        .get("air-handler.ah.airflow@zone-west")
        .unwrap();
    assert!(zoned.contains(&alone.shown().text), "{zoned}");
    // At the first stage's tap the same zones, and no figure that rests on the whole capacity.
    for suffix in ["@zone-west.first-stage", "@summer.tap2"] {
        let figure = checked
            .ledger
            .get(&format!("air-handler.ah.airflow{suffix}"));
        assert!(
            zoned.contains(&figure.unwrap().shown().text),
            "{suffix}: {zoned}"
        );
    }
    assert!(zoned.contains("west alone, first stage"), "{zoned}");
    let rooms = plain(page(&packet, "room-air"));
    for id in [
        "room.kitchen.temperature@mild-damp",
        "house.spread@mild-damp",
    ] {
        let shown = checked.ledger.get(id).unwrap().shown().text;
        assert!(rooms.contains(&shown), "{id} {shown}: {rooms}");
    }
    assert!(rooms.contains("condition mild-damp"), "{rooms}");
    assert!(plain(page(&packet, "coil-ah")).contains("condition mild-damp"));
    assert!(plain(page(&packet, "return-ret")).contains("Mixed with outdoor air, winter"));
}
