//! What stands on a page.

use super::caution::Caution;
use crate::packet::scene::Scene;
use crate::packet::text::Text;

/// One block of a page, top to bottom.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading within the page.
    Heading(Text),
    /// Running text.
    Paragraph(Text),
    /// Names and values.
    Facts(Vec<Fact>),
    /// Columns and rows.
    Table(Table),
    /// Steps to tick off, in order of work.
    Ticks(Vec<Tick>),
    /// A caution that concerns the whole page.
    Caution(Caution),
    /// A drawing with its title.
    Drawing {
        /// What it shows, with its scale.
        title: Text,
        /// The drawing.
        scene: Scene,
    },
    /// Blanks to fill in by hand.
    Blanks(Vec<Blank>),
    /// A remark in smaller type.
    Note(Text),
    /// The list of all pages.
    Contents,
}

impl Block {
    /// A heading.
    pub fn heading(text: impl Into<Text>) -> Self {
        Self::Heading(text.into())
    }

    /// Running text.
    pub fn paragraph(text: impl Into<Text>) -> Self {
        Self::Paragraph(text.into())
    }

    /// A remark.
    pub fn note(text: impl Into<Text>) -> Self {
        Self::Note(text.into())
    }

    /// A drawing with its title.
    pub fn drawing(title: impl Into<Text>, scene: Scene) -> Self {
        Self::Drawing {
            title: title.into(),
            scene,
        }
    }

    /// Visits every text in it, those of drawings included.
    pub fn each_text(&self, visit: &mut dyn FnMut(&Text)) {
        match self {
            Self::Heading(text) | Self::Paragraph(text) | Self::Note(text) => visit(text),
            Self::Facts(facts) => facts.iter().for_each(|fact| {
                visit(&fact.name);
                visit(&fact.value);
            }),
            Self::Table(table) => {
                table.columns.iter().for_each(|column| visit(&column.head));
                let rows = table.rows.iter().flat_map(|row| &row.cells);
                rows.for_each(&mut *visit);
            }
            Self::Ticks(ticks) => ticks.iter().for_each(|tick| {
                visit(&tick.text);
                tick.cautions
                    .iter()
                    .for_each(|caution| visit(&caution.text));
            }),
            Self::Caution(caution) => visit(&caution.text),
            Self::Drawing { title, scene } => {
                visit(title);
                scene.each_text(visit);
            }
            Self::Blanks(blanks) => blanks.iter().for_each(|blank| {
                visit(&blank.name);
                visit(&blank.expected);
                visit(&blank.unit);
            }),
            Self::Contents => {}
        }
    }
}

/// A name and a value.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// What it is.
    pub name: Text,
    /// How much.
    pub value: Text,
    /// Whether it is the figure in hand, printed large.
    pub big: bool,
}

impl Fact {
    /// A fact in body type.
    pub fn new(name: impl Into<Text>, value: impl Into<Text>) -> Self {
        Self {
            name: name.into(),
            value: value.into(),
            big: false,
        }
    }

    /// The figure in hand.
    pub fn big(name: impl Into<Text>, value: impl Into<Text>) -> Self {
        Self {
            big: true,
            ..Self::new(name, value)
        }
    }
}

/// On which side a column's texts stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
    /// Short marks.
    Center,
}

impl Align {
    /// The word that templates know.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Center => "center",
        }
    }
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// What stands in it.
    pub head: Text,
    /// On which side.
    pub align: Align,
    /// Whether it takes the room that is left.
    pub wide: bool,
}

impl Column {
    /// A column of words.
    pub fn left(head: impl Into<Text>) -> Self {
        Self {
            head: head.into(),
            align: Align::Left,
            wide: false,
        }
    }

    /// A column of numbers.
    pub fn right(head: impl Into<Text>) -> Self {
        Self {
            align: Align::Right,
            ..Self::left(head)
        }
    }

    /// A column of marks.
    pub fn center(head: impl Into<Text>) -> Self {
        Self {
            align: Align::Center,
            ..Self::left(head)
        }
    }

    /// The column that takes the room that is left.
    #[must_use]
    pub fn wide(self) -> Self {
        Self { wide: true, ..self }
    }
}

/// A row of a table; its first cell names it.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// One text a column.
    pub cells: Vec<Text>,
    /// Whether it stands out (a sum, a change).
    pub strong: bool,
}

/// Columns and rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<Row>,
}

impl Table {
    /// A table without rows.
    pub const fn new(columns: Vec<Column>) -> Self {
        Self {
            columns,
            rows: Vec::new(),
        }
    }

    /// Adds a row; cells that are missing are empty, those too many are a fault of the builder.
    pub fn row(&mut self, cells: impl IntoIterator<Item = Text>) {
        self.add(cells, false);
    }

    /// Adds a row that stands out.
    pub fn strong_row(&mut self, cells: impl IntoIterator<Item = Text>) {
        self.add(cells, true);
    }

    fn add(&mut self, cells: impl IntoIterator<Item = Text>, strong: bool) {
        let mut cells: Vec<Text> = cells.into_iter().collect();
        while cells.len() < self.columns.len() {
            cells.push(Text::empty());
        }
        self.rows.push(Row { cells, strong });
    }
}

/// A step to tick off, with the cautions that concern it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// What to do.
    pub text: Text,
    /// What can hurt while doing it.
    pub cautions: Vec<Caution>,
}

impl Tick {
    /// A step.
    pub fn new(text: impl Into<Text>) -> Self {
        Self {
            text: text.into(),
            cautions: Vec::new(),
        }
    }

    /// With a caution beside it.
    #[must_use]
    pub fn caution(mut self, caution: Caution) -> Self {
        self.cautions.push(caution);
        self
    }
}

/// A blank to fill in by hand, with what is expected beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// What to measure or write.
    pub name: Text,
    /// What the figures expect; empty when nothing.
    pub expected: Text,
    /// The unit behind the blank; empty for words.
    pub unit: Text,
}

impl Blank {
    /// A blank for words: a name, a date.
    pub fn new(name: impl Into<Text>) -> Self {
        Self {
            name: name.into(),
            expected: Text::empty(),
            unit: Text::empty(),
        }
    }

    /// What the figures expect.
    #[must_use]
    pub fn expected(mut self, text: impl Into<Text>) -> Self {
        self.expected = text.into();
        self
    }

    /// The unit behind the blank.
    #[must_use]
    pub fn unit(mut self, text: impl Into<Text>) -> Self {
        self.unit = text.into();
        self
    }
}
