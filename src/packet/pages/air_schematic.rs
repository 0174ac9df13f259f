//! The air page: trunk and branches laid straight, not to scale, with the flow of every leg and every run.

use super::air_columns::{Column, Stretch, rows_of};
use super::source::PageSource;
use crate::model::{AirHandler, Run, Trunk};
use crate::packet::font::{Weight, text_width};
use crate::packet::page::{Block, Page, Trade};
use crate::packet::scene::{Anchor, Area, Fill, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, Words, say};

/// Points between two runs.
const APART: f64 = 14.0;
/// Room for the unit, or for the name of a branch, before the first leg.
const HEAD: f64 = 88.0;
/// Half of the height in which a trunk is drawn.
const HALF: f64 = 10.0;
/// From the trunk's edge to the labels.
const STUB: f64 = 12.0;
/// Height of a run's letters.
const LETTERS: f64 = 9.0;
/// Between two rows.
const GAP: f64 = 10.0;
/// The highest drawing that leaves room for the facts above it.
const HIGHEST: f64 = 510.0;

/// One row of the drawing: part of a trunk.
struct Row<'m> {
    trunk: &'m Trunk,
    stretches: Vec<Stretch<'m>>,
    first: bool,
    last: bool,
    above: f64,
    below: f64,
}

impl Row<'_> {
    fn height(&self) -> f64 {
        self.above + self.below + 2.0 * (HALF + STUB) + GAP
    }
}

fn label(source: &PageSource<'_>, run: &Run) -> Text {
    let flow = source.of_or_mark(&format!("run.{}.airflow", run.name));
    let named = if flow.is_empty() {
        Text::tag(&run.name)
    } else {
        Text::named(Text::tag(&run.name), flow)
    };
    match &run.orifice {
        Some(orifice) => {
            let sheet = source.catalog.orifices.get(&orifice.value);
            let bore = sheet.map(|sheet| source.quote(sheet.bore.span));
            Text::listed([named, bore.unwrap_or_else(|| source.word(orifice))])
        }
        None => named,
    }
}

fn branch_label(source: &PageSource<'_>, name: &str) -> Text {
    let flow = source.of_or_mark(&format!("trunk.{name}.leg-1.airflow"));
    Text::named(say("air.to").with("branch", Text::tag(name)), flow)
}

fn wide(text: &Text) -> f64 {
    text_width(&text.plain(Words::english()), Weight::Regular, LETTERS)
}

fn rows<'m>(source: &PageSource<'m>, unit: &AirHandler) -> Vec<Row<'m>> {
    let own = |trunk: &&Trunk| {
        let of = source.model.unit_of(&trunk.name);
        of.is_some_and(|of| of.name == unit.name)
    };
    let most = Scene::WIDEST - HEAD - 8.0;
    let mut out = Vec::new();
    for trunk in source.model.trunks.values().filter(own) {
        let packed = rows_of(source, trunk, most, APART);
        let count = packed.len();
        for (n, stretches) in packed.into_iter().enumerate() {
            let mut sides = [0.0_f64; 2];
            for column in stretches.iter().flat_map(|stretch| &stretch.columns) {
                let [above, below] = &mut sides;
                if let Some(run) = column.above {
                    *above = above.max(wide(&label(source, run)));
                }
                if let Some(run) = column.below {
                    *below = below.max(wide(&label(source, run)));
                }
                if let Some(branch) = column.branch {
                    *above = above.max(wide(&branch_label(source, branch)));
                }
            }
            let [above, below] = sides;
            out.push(Row {
                trunk,
                stretches,
                first: n == 0,
                last: n + 1 == count,
                above: above.max(20.0),
                below: below.max(20.0),
            });
        }
    }
    out
}

struct Sheet<'c, 's> {
    source: &'c PageSource<'s>,
    unit: &'c AirHandler,
    scene: Scene,
}

impl Sheet<'_, '_> {
    /// The unit with its plenum, or the name of the branch.
    fn head(&mut self, row: &Row<'_>, middle: f64) {
        let of = |what: &str| {
            self.source
                .of_or_mark(&format!("air-handler.{}.{what}", self.unit.name))
        };
        let root = row.trunk.parent.is_none();
        if root && row.first {
            self.scene.rectangle(
                Area::new(2.0, middle - 26.0, HEAD - 2.0, 52.0),
                Pen::HEAVY,
                Fill::None,
            );
            let lines = [
                (Text::tag(&self.unit.name), Lettering::NAME),
                (of("plenum-pressure"), Lettering::LABEL),
                (say("air.in-plenum").into(), Lettering::LABEL.sized(9.0)),
            ];
            for ((text, lettering), y) in lines.into_iter().zip([-10.0, 5.0, 18.0]) {
                let at = Point::at(HEAD / 2.0, middle + y);
                self.scene.text(at, lettering, text);
            }
            return;
        }
        let words = match (&row.trunk.parent, row.first) {
            (Some((parent, _)), true) => say("air.from").with("trunk", Text::tag(parent)),
            _ => say("air.goes-on").with("trunk", Text::tag(&row.trunk.name)),
        };
        let name = Text::tag(&row.trunk.name);
        let left = Lettering::LABEL.anchored(Anchor::Start).sized(9.0);
        self.scene.text(
            Point::at(4.0, middle - 2.0),
            Lettering::NAME.anchored(Anchor::Start).sized(11.0),
            name,
        );
        self.scene.text(Point::at(4.0, middle + 10.0), left, words);
    }

    fn row(&mut self, row: &Row<'_>, top: f64) {
        let middle = top + row.above + STUB + HALF;
        self.head(row, middle);
        let mut x = HEAD;
        for stretch in &row.stretches {
            let area = Area::new(x, middle - HALF, stretch.wide, 2.0 * HALF);
            self.scene.rectangle(area, Pen::MEDIUM, Fill::White);
            if stretch.first {
                let id = format!("trunk.{}.leg-{}.airflow", row.trunk.name, stretch.leg + 1);
                let flow = self.source.of_or_mark(&id);
                let at = Point::at(x + 5.0, middle + 3.5);
                let bold = Lettering::NAME.anchored(Anchor::Start).sized(10.0);
                self.scene.text(at, bold, flow);
            }
            for (n, column) in stretch.columns.iter().enumerate() {
                self.column(column, x + APART * (n as f64 + 0.75), middle);
            }
            x += stretch.wide;
        }
        let (up, down) = (middle - HALF - 2.0, middle + HALF + 2.0);
        let pen = if row.last {
            Pen::solid(3.5)
        } else {
            Pen::HIDDEN
        };
        self.scene.line(Point::at(x, up), Point::at(x, down), pen);
    }

    fn column(&mut self, column: &Column<'_>, x: f64, middle: f64) {
        let up = middle - HALF;
        let down = middle + HALF;
        let read_up = Lettering::LABEL.sized(LETTERS).upward();
        if let Some(run) = column.above {
            let end = Point::at(x, up - STUB + 3.0);
            self.scene.line(Point::at(x, up), end, Pen::MEDIUM);
            let at = Point::at(x + 3.5, up - STUB);
            let text = label(self.source, run);
            self.scene.text(at, read_up.anchored(Anchor::Start), text);
        }
        if let Some(run) = column.below {
            let end = Point::at(x, down + STUB - 3.0);
            self.scene.line(Point::at(x, down), end, Pen::MEDIUM);
            let at = Point::at(x + 3.5, down + STUB);
            let text = label(self.source, run);
            self.scene.text(at, read_up.anchored(Anchor::End), text);
        }
        if let Some(branch) = column.branch {
            let end = Point::at(x, up - STUB + 3.0);
            self.scene.line(Point::at(x, up), end, Pen::solid(5.0));
            let at = Point::at(x + 3.5, up - STUB);
            let lettering = Lettering {
                weight: Weight::Bold,
                ..read_up.anchored(Anchor::Start)
            };
            let text = branch_label(self.source, branch);
            self.scene.text(at, lettering, text);
        }
    }
}

fn scenes(source: &PageSource<'_>, unit: &AirHandler) -> Vec<Scene> {
    let mut groups: Vec<Vec<Row<'_>>> = Vec::new();
    for row in rows(source, unit) {
        let fits = groups.last().is_some_and(|group| {
            group.iter().map(Row::height).sum::<f64>() + row.height() <= HIGHEST
        });
        match groups.last_mut().filter(|_| fits) {
            Some(group) => group.push(row),
            None => groups.push(vec![row]),
        }
    }
    let draw = |group: Vec<Row<'_>>| {
        let high: f64 = group.iter().map(Row::height).sum();
        let mut sheet = Sheet {
            source,
            unit,
            scene: Scene::new(Scene::WIDEST, high),
        };
        let mut top = 2.0;
        for row in &group {
            sheet.row(row, top);
            top += row.height();
        }
        sheet.scene
    };
    groups.into_iter().map(draw).collect()
}

/// One page a unit that has a trunk.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    for unit in source.model.air_handlers.values() {
        let scenes = scenes(source, unit);
        if scenes.is_empty() {
            continue;
        }
        let id = |what: &str| format!("air-handler.{}.{what}", unit.name);
        let title = say("air.title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("air-{}", unit.name), title).trades(&[
            Trade::SheetMetal,
            Trade::Lead,
            Trade::ServiceTech,
        ]);
        page.rests_on(source.files, unit.whole);
        for run in source.model.runs.values() {
            page.rests_on(source.files, run.whole);
        }
        let flow = source.big_fact(say("air.flow"), &id("airflow"));
        if let Some(flow) = flow {
            page.put(Block::Facts(vec![flow]));
        }
        for reason in source.why_not([id("airflow")]) {
            page.put(Block::paragraph(reason));
        }
        for scene in scenes {
            page.put(Block::drawing(say("air.drawing"), scene));
        }
        page.put(Block::note(say("air.note")));
        pages.push(page);
    }
}
