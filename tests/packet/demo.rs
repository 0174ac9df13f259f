//! A made-up packet: one page for each kind of block, and drawings with every kind of line.

use bayrun::figures::{Figure, Ledger};
use bayrun::packet::page::{
    Blank, Block, Caution, Column, Date, Fact, Hazard, JobFacts, Packet, Page, Table, Tick, Trade,
};
use bayrun::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scale, Scene};
use bayrun::packet::set::{HOLES, List, PIECES};
use bayrun::packet::text::Words;
use bayrun::packet::{Text, say};
use bayrun::quantity::{Dimension, Length, Slope};
use bayrun::source::{FileId, Files, SourceFile, Span};

/// The shipped words and those of the demo.
pub(super) fn words() -> Words {
    let shipped = include_str!("../../templates/words/english.txt");
    Words::parse(&format!("{shipped}\n{}", include_str!("demo.txt")))
}

/// What the made-up packet rests on.
pub(super) struct Ground {
    pub files: Files,
    pub ledger: Ledger,
    file: FileId,
}

const JOB: &str = "bayrun 1\njob \"Larkspur Lane 14\" { number 26-0417, revision C, 2026-11-20 }\n\
    room bed-east\nroom bed-west\nroom hall-closet-and-linen\nroom bath\nroom study\n\
    side south\nside north\nstory second\n";

impl Ground {
    pub(super) fn new() -> Self {
        let mut files = Files::default();
        let file = files.add(SourceFile::new("demo.bay", JOB, None));
        let mut ledger = Ledger::default();
        let mut length = |id: &str, sixteenths: i64| {
            ledger.enter(Figure::length(id, Length::sixteenths(sixteenths)));
        };
        length("drain.primary.drop", 36);
        length("drain.primary.seal", 18);
        length("drain.primary.fall", 36);
        length("drain.primary.leg", 9 * 12 * 16);
        length("room.bed-east.width", 14 * 12 * 16);
        length("room.bed-east.depth", (12 * 12 + 6) * 16);
        for n in 0..30 {
            length(&format!("run.o{n}.length"), 16 * 12 * 9 + 37 * n);
            length(&format!("hole.o{n}.distance"), 16 * 18 + 16 * 9 * n + n);
        }
        for n in 0..30_u8 {
            let flow = 33.0 + f64::from(n) * 0.37;
            ledger.enter(Figure::number(
                format!("run.o{n}.airflow"),
                flow,
                Dimension::AirFlow,
            ));
        }
        for (id, value, dimension) in [
            ("unit.ah.suction", 0.62, Dimension::Pressure),
            ("feed.ah.volts", 240.0, Dimension::Voltage),
            ("unit.ah.weight", 212.0, Dimension::Mass),
            ("house.airflow", 1160.0, Dimension::AirFlow),
            ("house.outlets", 30.0, Dimension::Count),
        ] {
            ledger.enter(Figure::number(id, value, dimension));
        }
        ledger.enter(Figure::slope(
            "drain.primary.slope",
            Slope::of(Length::sixteenths(36), Length::feet(9)).expect("slope"),
        ));
        ledger.enter(Figure::unknown("unit.ah.sound", "the maker does not say"));
        Self {
            files,
            ledger,
            file,
        }
    }

    /// The first place where these words stand in the job.
    pub(super) fn quote(&self, words: &str) -> Text {
        let start = JOB.find(words).expect("words of the job");
        let at = |n: usize| u32::try_from(n).expect("short");
        Text::quote(
            &self.files,
            Span::new(self.file, at(start), at(start + words.len())),
        )
    }

    fn of(&self, id: &str) -> Text {
        Text::of(&self.ledger, id)
    }

    pub(super) fn packet(&self, draft: Option<usize>) -> Packet<'_> {
        Packet {
            job: JobFacts {
                title: self.quote("\"Larkspur Lane 14\""),
                number: self.quote("26-0417"),
                revision: self.quote("C"),
                revised: self.quote("2026-11-20"),
                date: Date::parse("2026-11-20"),
                revisions: vec![(self.quote("C"), self.quote("2026-11-20"))],
                draft,
            },
            pages: vec![
                self.cover(),
                self.plan(),
                self.schedule(),
                self.trunk(),
                self.drain(),
                self.power(),
                self.start(),
            ],
            ledger: &self.ledger,
            files: &self.files,
        }
    }

    pub(super) fn lists(&self) -> Vec<List> {
        let mut pieces = List::new(&PIECES);
        let mut holes = List::new(&HOLES);
        for n in 0..30 {
            let tag = Text::tag(&format!("o{n}"));
            let length = self.of(&format!("run.o{n}.length"));
            let room = self.quote("bed-east");
            pieces.row([
                tag.clone(),
                self.quote("room"),
                self.quote("room"),
                Text::empty(),
                length.clone(),
                length,
                Text::tag("main"),
                tag.clone(),
                room,
                self.quote("second"),
            ]);
            holes.row([
                tag,
                Text::tag("main"),
                Text::tag("m1"),
                self.of(&format!("hole.o{n}.distance")),
            ]);
        }
        vec![pieces, holes]
    }

    fn cover(&self) -> Page {
        let mut page = Page::new("cover", say("demo.cover"));
        page.put(Block::paragraph(
            say("demo.intro").with("job", self.quote("\"Larkspur Lane 14\"")),
        ));
        page.put(Block::Contents);
        page.put(Block::heading(say("demo.heading")));
        page.put(Block::Facts(vec![
            Fact::new(say("demo.outlets"), self.of("house.outlets")),
            Fact::new(say("demo.airflow"), self.of("house.airflow")),
            Fact::new(say("demo.note-col"), self.of("unit.ah.sound")),
        ]));
        page.put(Block::Blanks(vec![
            Blank::new(say("demo.name")),
            Blank::new(say("demo.signed")),
            Blank::new(say("demo.day")),
        ]));
        page
    }

    fn plan(&self) -> Page {
        let (wide, deep) = (Length::feet(38), Length::feet(26));
        let scale = Scale::fit(wide, deep, 480.0, 460.0);
        let points = |feet: i64| scale.points(Length::feet(feet));
        let (left, top) = (20.0, 40.0);
        let mut scene = Scene::new(500.0, points(26) + 130.0);
        let place = |x: i64, y: i64| Point::at(left + points(x), top + points(26 - y));
        let room = |scene: &mut Scene, x: i64, y: i64, w: i64, h: i64, name: &str| {
            scene.rectangle(
                Area::around(place(x, y), place(x + w, y + h)),
                Pen::HEAVY,
                Fill::None,
            );
            let middle = Area::around(place(x, y), place(x + w, y + h)).middle();
            scene.text(middle, Lettering::NAME, self.quote(name));
        };
        room(&mut scene, 0, 0, 14, 12, "bed-west");
        room(&mut scene, 0, 14, 18, 12, "study");
        room(&mut scene, 24, 0, 14, 12, "bed-east");
        room(&mut scene, 24, 14, 14, 12, "bath");
        scene.rectangle(
            Area::around(place(18, 14), place(24, 26)),
            Pen::MEDIUM,
            Fill::Hatch(Hatch::Rising),
        );
        scene.rectangle(
            Area::around(place(14, 0), place(17, 5)),
            Pen::MEDIUM,
            Fill::Hatch(Hatch::Crossed),
        );
        scene.path([place(2, 13), place(36, 13)], Pen::HIDDEN);
        scene.path([place(20, 13), place(20, 3)], Pen::CENTER);
        scene.rectangle(
            Area::around(place(17, 12), place(21, 15)),
            Pen::HEAVY,
            Fill::White,
        );
        scene.rectangle(
            Area::around(place(16, 11), place(22, 16)),
            Pen::CLEAR,
            Fill::None,
        );
        let mut n = 0;
        for (x0, y0) in [(0, 0), (0, 14), (24, 0), (24, 14)] {
            for (x, y) in [(2, 2), (5, 2), (8, 2), (11, 2), (2, 10), (7, 10), (11, 10)] {
                let at = place(x0 + x, y0 + y);
                scene.circle(at, 3.0, Pen::MEDIUM, Fill::White);
                scene.leader(at, Text::tag(&format!("o{n}")));
                n += 1;
            }
        }
        scene.dimension(
            place(24, 12),
            place(38, 12),
            5.0,
            self.of("room.bed-east.width"),
        );
        scene.dimension(
            place(38, 0),
            place(38, 12),
            8.0,
            self.of("room.bed-east.depth"),
        );
        scene.scale_bar(Point::at(left, top + points(26) + 50.0), scale);
        scene.north(Point::at(450.0, top + points(26) + 50.0), 20.0);
        let title = say("demo.plan").with("scale", &scale.figure("drawing.plan.scale"));
        let mut page =
            Page::new("plan-second", title.clone()).trades(&[Trade::Lead, Trade::SheetMetal]);
        page.put(Block::drawing(title, scene));
        page.put(Block::note(say("demo.remark")));
        page
    }

    fn schedule(&self) -> Page {
        let mut page = Page::new("schedule", say("demo.schedule")).trades(&[Trade::SheetMetal]);
        let mut table = Table::new(vec![
            Column::left(say("demo.outlets")),
            Column::left(say("demo.room")).wide(),
            Column::left(say("demo.story")),
            Column::right(say("demo.airflow")),
            Column::right(say("demo.length")),
            Column::right(say("demo.from")),
            Column::center(say("demo.side")),
            Column::left(say("demo.note-col")),
        ]);
        let rooms = ["bed-east", "hall-closet-and-linen", "bath"];
        for (n, room) in (0..30).zip(rooms.into_iter().cycle()) {
            table.row([
                Text::tag(&format!("o{n}")),
                self.quote(room),
                self.quote("second"),
                self.of(&format!("run.o{n}.airflow")),
                self.of(&format!("run.o{n}.length")),
                self.of(&format!("hole.o{n}.distance")),
                self.quote("south"),
                if n % 4 == 0 {
                    Text::blank()
                } else {
                    Text::empty()
                },
            ]);
        }
        table.strong_row([
            Text::from(say("demo.total")),
            Text::empty(),
            Text::empty(),
            self.of("house.airflow"),
        ]);
        page.put(Block::Table(table));
        page
    }

    fn trunk(&self) -> Page {
        let mut page = Page::new("trunk-main", say("demo.trunk"))
            .trades(&[Trade::SheetMetal])
            .sideways();
        let mut scene = Scene::new(Scene::WIDEST_SIDEWAYS, 250.0);
        scene.rectangle(
            Area::new(20.0, 120.0, 60.0, 50.0),
            Pen::HEAVY,
            Fill::Hatch(Hatch::Dots),
        );
        scene.rectangle(
            Area::new(80.0, 130.0, 560.0, 30.0),
            Pen::MEDIUM,
            Fill::White,
        );
        scene.line(Point::at(80.0, 145.0), Point::at(640.0, 145.0), Pen::CENTER);
        for n in 0..14_i64 {
            let x = 120.0 + 37.0 * n as f64;
            let y = if n % 2 == 0 { 136.0 } else { 154.0 };
            scene.circle(Point::at(x, y), 4.0, Pen::MEDIUM, Fill::Black);
            scene.leader(
                Point::at(x, y),
                Text::named(
                    Text::tag(&format!("o{n}")),
                    self.of(&format!("hole.o{n}.distance")),
                ),
            );
        }
        scene.dimension(
            Point::at(80.0, 160.0),
            Point::at(120.0, 160.0),
            -60.0,
            self.of("hole.o0.distance"),
        );
        page.put(Block::drawing(say("demo.trunk"), scene));
        page.put(Block::note(say("demo.remark")));
        page
    }

    fn drain(&self) -> Page {
        let mut page = Page::new("drain-primary", say("demo.drain")).trades(&[Trade::Plumber]);
        page.put(Block::Facts(vec![
            Fact::big(say("demo.drop"), self.of("drain.primary.drop")),
            Fact::big(say("demo.seal"), self.of("drain.primary.seal")),
        ]));
        let mut scene = Scene::new(500.0, 220.0);
        scene.rectangle(
            Area::new(10.0, 20.0, 90.0, 60.0),
            Pen::HEAVY,
            Fill::Hatch(Hatch::Level),
        );
        scene.path(
            [
                (100.0, 70.0),
                (120.0, 70.0),
                (120.0, 130.0),
                (150.0, 130.0),
                (150.0, 100.0),
                (460.0, 120.0),
                (460.0, 200.0),
            ]
            .map(|(x, y)| Point::at(x, y)),
            Pen::solid(4.0),
        );
        scene.dimension(
            Point::at(120.0, 70.0),
            Point::at(120.0, 100.0),
            -30.0,
            self.of("drain.primary.drop"),
        );
        scene.dimension(
            Point::at(150.0, 100.0),
            Point::at(460.0, 100.0),
            20.0,
            self.of("drain.primary.leg"),
        );
        scene.leader(Point::at(300.0, 110.0), self.of("drain.primary.slope"));
        scene.leader(Point::at(135.0, 130.0), self.of("drain.primary.seal"));
        scene.text(
            Point::at(14.0, 200.0),
            Lettering::NAME.anchored(Anchor::Start),
            self.quote("second"),
        );
        scene.rectangle(
            Area::new(200.0, 170.0, 60.0, 30.0),
            Pen::MEDIUM,
            Fill::Hatch(Hatch::Falling),
        );
        page.put(Block::drawing(say("demo.drain"), scene));
        page.put(Block::Ticks(vec![
            Tick::new(say("demo.remark")).caution(Caution::new(Hazard::Water, say("demo.water"))),
        ]));
        page
    }

    fn power(&self) -> Page {
        let mut page = Page::new("power-ah", say("demo.power")).trades(&[Trade::Electrician]);
        page.put(Block::Ticks(vec![
            Tick::new(say("demo.step-off")).caution(Caution::new(Hazard::Shock, say("demo.shock"))),
            Tick::new(say("demo.step-jumper").with("volts", self.of("feed.ah.volts"))),
            Tick::new(say("demo.step-lift").with("weight", self.of("unit.ah.weight")))
                .caution(Caution::new(Hazard::Weight, say("demo.heavy"))),
        ]));
        for hazard in Hazard::ALL {
            page.put(Block::Caution(Caution::new(hazard, say("demo.general"))));
        }
        page
    }

    fn start(&self) -> Page {
        let mut page = Page::new("start-up", say("demo.start")).trades(&[Trade::ServiceTech]);
        page.put(Block::Blanks(vec![
            Blank::new(say("demo.suction"))
                .expected(self.of("unit.ah.suction"))
                .unit(say("demo.unit-in")),
            Blank::new(say("demo.volts"))
                .expected(self.of("feed.ah.volts"))
                .unit(say("demo.unit-volt")),
        ]));
        page
    }
}

#[test]
fn the_demo_has_no_fault_and_a_planted_one_is_found() {
    let ground = Ground::new();
    let mut packet = ground.packet(None);
    assert_eq!(packet.faults(&words()), Vec::<String>::new());
    packet.pages[0].put(Block::paragraph(Text::of(&ground.ledger, "no.such")));
    let again = packet.pages[0].clone();
    packet.pages.push(again);
    let faults = packet.faults(&words());
    assert!(faults.iter().any(|f| f.contains("no.such")), "{faults:?}");
    assert!(faults.iter().any(|f| f.contains("two pages")), "{faults:?}");
}

#[test]
fn a_trade_gets_its_pages_and_those_of_everyone() {
    let ground = Ground::new();
    let packet = ground.packet(None).of_trade(Trade::Plumber);
    let ids: Vec<_> = packet.pages.iter().map(|page| page.id.as_str()).collect();
    assert_eq!(ids, ["cover", "drain-primary"]);
}
