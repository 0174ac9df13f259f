//! Plans, schedules and charts of the examples: every outlet and every hole once, at the distance that the model has.

use std::collections::BTreeSet;

use bayrun::Checked;
use bayrun::packet::page::{Block, Page};
use bayrun::packet::text::Words;
use bayrun::packet::{Packet, compile, lists, write_set};
use bayrun::quantity::length_text;

use super::crew::{EXAMPLES, checked, page, rows, source, tables};

/// The pages whose id begins with `start`.
fn pages<'p>(packet: &'p Packet<'_>, start: &str) -> Vec<&'p Page> {
    packet
        .pages
        .iter()
        .filter(|page| page.id.starts_with(start))
        .collect()
}

fn all_rows(pages: &[&Page]) -> Vec<Vec<String>> {
    pages
        .iter()
        .flat_map(|page| tables(page))
        .flat_map(rows)
        .collect()
}

fn names(checked: &Checked) -> Vec<String> {
    let outlets = checked.model.house.outlets();
    let mut names: Vec<String> = outlets.map(|outlet| outlet.name.clone()).collect();
    names.sort();
    names
}

#[test]
fn every_outlet_stands_once_in_the_schedule_with_its_run() {
    for example in EXAMPLES {
        let checked = checked(example);
        let source = source(&checked);
        let packet = compile(&source);
        let rows = all_rows(&pages(&packet, "outlets-"));
        let mut listed: Vec<String> = rows.iter().map(|row| row[0].clone()).collect();
        listed.sort();
        assert_eq!(listed, names(&checked), "{example}");
        for row in rows {
            let run = checked
                .model
                .runs
                .values()
                .find(|run| run.outlet.as_deref() == Some(row[0].as_str()))
                .expect("a run");
            assert_eq!(row[5], run.trunk.value);
            assert_eq!(row[6], length_text(run.station.expect("a place").value));
            assert_eq!(row[8], length_text(run.length().expect("a length")));
        }
    }
}

#[test]
fn every_hole_stands_once_in_a_chart_at_the_model_s_distance() {
    for example in EXAMPLES {
        let checked = checked(example);
        let source = source(&checked);
        let packet = compile(&source);
        let mut charts = pages(&packet, "trunk-");
        charts.extend(pages(&packet, "holes-"));
        let rows = all_rows(&charts);
        let (folded, single): (Vec<_>, Vec<_>) = rows.into_iter().partition(|row| row.len() == 9);
        let thirds: Vec<&[String]> = folded.iter().flat_map(|row| row.chunks(3)).collect();
        for run in checked.model.runs.values() {
            let station = length_text(run.station.expect("a place").value);
            let alone = single.iter().filter(|row| row[1] == run.name);
            let start = format!("{}, ", run.name);
            let among = thirds.iter().filter(|part| part[1].starts_with(&start));
            let places: Vec<&String> = alone
                .inspect(|row| assert!(!row[3].is_empty(), "no hole for {}", run.name))
                .map(|row| &row[0])
                .chain(among.map(|part| &part[0]))
                .collect();
            assert_eq!(places, [&station], "{example}: run {}", run.name);
            let drawn = drawn(&charts, &format!("{}: {station}", run.name));
            assert_eq!(drawn, 1, "{example}: {} is drawn {drawn} times", run.name);
        }
    }
}

/// How many texts of the drawings on `pages` read `text`.
fn drawn(pages: &[&Page], text: &str) -> usize {
    let mut count = 0;
    for page in pages {
        for block in &page.blocks {
            if let Block::Drawing { scene, .. } = block {
                scene.each_text(&mut |found| {
                    count += usize::from(found.plain(Words::english()) == text);
                });
            }
        }
    }
    count
}

#[test]
fn each_story_has_its_rooms_and_outlets_on_its_plan() {
    let checked = checked("larkspur-lane");
    let source = source(&checked);
    let packet = compile(&source);
    for room in checked.model.house.rooms.values() {
        let plan = page(&packet, &format!("plan-{}", room.story.value));
        assert_eq!(drawn(&[plan], &room.name), 1, "room {}", room.name);
        for outlet in &room.outlets {
            assert_eq!(drawn(&[plan], &outlet.name), 1, "outlet {}", outlet.name);
        }
    }
    // The tubes go down through the attic: each is named there once.
    let attic = page(&packet, "plan-attic");
    for name in names(&checked) {
        assert_eq!(drawn(&[attic], &name), 1, "{name}");
    }
}

#[test]
fn drawings_keep_to_their_paper() {
    for example in EXAMPLES {
        let checked = checked(example);
        let source = source(&checked);
        for page in compile(&source).pages {
            let (wide, high) = if page.sideways {
                (690.0, 400.0)
            } else {
                (500.0, 560.0)
            };
            for block in &page.blocks {
                if let Block::Drawing { scene, .. } = block {
                    let area = scene.area();
                    assert!(
                        area.width <= wide + 1e-6 && area.height <= high + 1e-6,
                        "{example} {}: {area:?}",
                        page.id
                    );
                }
            }
        }
    }
}

#[test]
fn tags_carry_the_length_and_the_place_of_each_run() {
    let checked = checked("larkspur-lane");
    let source = source(&checked);
    let packet = compile(&source);
    let rows = all_rows(&[page(&packet, "run-tags")]);
    let tags: BTreeSet<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(tags.len(), checked.model.runs.len());
    assert_eq!(rows.len(), checked.model.runs.len());
    let row = rows.iter().find(|row| row[0] == "ki1").expect("run ki1");
    assert_eq!(
        row[1..],
        ["ki1, kitchen", "15 ft", "3", "north-leg at 3 ft", "east"]
    );
}

#[test]
fn the_unit_is_set_by_its_corner_and_its_spaces_are_measured() {
    let checked = checked("larkspur-lane");
    let source = source(&checked);
    let packet = compile(&source);
    // 4-ton, flat: 54 in along an east discharge, 33 in across, its middle at 6 ft, 13 ft.
    let ledger = &checked.ledger;
    let inches = |id: &str| ledger.real(id).expect("a figure");
    assert!((inches("air-handler.ah.from_west") - (72.0 - 27.0)).abs() < 1e-9);
    assert!((inches("air-handler.ah.from_south") - (156.0 - 16.5)).abs() < 1e-9);
    assert!((inches("air-handler.ah.underside") - 10.0).abs() < 1e-9);
    let rows = all_rows(&[page(&packet, "spaces-ah")]);
    let front = rows.iter().find(|row| row[0] == "S1").expect("front");
    assert_eq!(
        front[1..4],
        ["blower drawn out to the front", "18 in", "east"]
    );
}

#[test]
fn outlets_and_holes_are_listed_with_bare_numbers() {
    let checked = checked("larkspur-lane");
    let source = source(&checked);
    let lists = lists(&source);
    let csv = |file: &str| {
        lists
            .iter()
            .find(|list| list.file() == file)
            .and_then(|list| list.csv(Words::english()))
            .expect("a list")
    };
    let holes = csv("lists/holes.csv");
    assert_eq!(holes.lines().count(), 1 + checked.model.runs.len());
    assert!(
        holes.contains("\nki1,north-leg,B-01,36,2.125,east\n"),
        "{holes}"
    );
    let outlets = csv("lists/outlets.csv");
    assert_eq!(outlets.lines().count(), 1 + names(&checked).len());
    assert!(
        outlets.contains("\nki1,kitchen,first,ceiling,36,36,north-leg,36,east,180,3"),
        "{outlets}"
    );
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    for example in EXAMPLES {
        let write = || {
            let checked = checked(example);
            let source = source(&checked);
            let packet = compile(&source);
            let home = tempfile::tempdir().expect("folder");
            let folder = home.path().join("packet");
            let none = bayrun::packet::typst::TypstTrouble::NotFound;
            let printer = bayrun::packet::set::Printer {
                typst: Err(&none),
                paper: bayrun::packet::typst::Paper::Letter,
                limit: std::time::Duration::from_secs(1),
            };
            let written = write_set(
                &folder,
                &packet,
                &lists(&source),
                &printer,
                Words::english(),
            )
            .expect("a set");
            assert_eq!(written.trouble, Some(none));
            written
                .files
                .iter()
                .map(|file| std::fs::read(folder.join(file)).expect("a file"))
                .collect::<Vec<_>>()
        };
        assert!(write() == write(), "{example}");
    }
}

#[test]
fn errors_left_are_holds_and_mark_the_packet() {
    let path = "examples/mistakes/mistakes.bay";
    let whole = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let checked = bayrun::Workshop::new(&bayrun::source::Disk, None)
        .check(&whole, path)
        .expect("the example");
    let source = source(&checked);
    let packet = compile(&source);
    let errors = checked.counts().error;
    assert!(errors > 0);
    assert_eq!(packet.job.draft, Some(errors));
    assert_eq!(packet.faults(Words::english()), Vec::<String>::new());
    let held = all_rows(&[page(&packet, "cover")]);
    assert!(held.len() >= errors, "{} of {errors}", held.len());
}
