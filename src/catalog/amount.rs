//! Amounts with units as catalogs write them: one amount, a range, a size, a place, a point of a curve.

use schemars::{Schema, json_schema};

use super::stated::{Misread, Readable};
use crate::quantity::{
    AirFlow, ApparentPower, Current, Dimension, Duration, HeatFlow, Length, Mass, Piece, Power,
    Pressure, Quantity, QuantityError, RValue, Ratio, Slope, Temperature, Voltage, Volume,
    WaterFlow, WireGauge, pieces, read_pieces,
};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

/// An amount of another dimension than its field.
pub(super) const WRONG_DIMENSION: Kind = Kind {
    code: "CAT004",
    name: "wrong_dimension",
    title: "an amount has another dimension than its field",
    severity: Severity::Error,
    source: "schema `grammar/catalog.schema.json`",
    why: Why {
        checks: "That a weight is a weight and a pressure a pressure.",
        on_site: "A figure in the wrong column of the maker's sheet becomes a wrong breaker or a wrong trap.",
        fix: "Look at the sheet again; the help shows how the field's own unit is written.",
    },
};

/// An amount that cannot be read.
pub(super) const BAD_AMOUNT: Kind = Kind {
    code: "CAT005",
    name: "bad_amount",
    title: "an amount is not readable",
    severity: Severity::Error,
    source: "schema `grammar/catalog.schema.json`",
    why: Why {
        checks: "That an amount is a number with a unit the trade writes.",
        on_site: "The figure is not known, and what depends on it is not checked.",
        fix: "Write the number and its unit the way the help shows.",
    },
};

/// An amount below zero where only a positive one has a sense.
pub(super) const NEGATIVE_AMOUNT: Kind = Kind {
    code: "CAT014",
    name: "negative_amount",
    title: "an amount is below zero",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That lengths, weights, flows, pressures and prices are not below zero. Suction is written as a positive figure.",
        on_site: "A trap sized for a suction with the wrong sign floods the pan.",
        fix: "Write the amount without its sign; the field's name says the direction.",
    },
};

/// A range whose lower end lies above its upper one.
pub(super) const EMPTY_RANGE: Kind = Kind {
    code: "CAT011",
    name: "empty_range",
    title: "a range is empty",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That the first figure of a range is not above the second.",
        on_site: "No job can ever lie within it, so every job would be called wrong.",
        fix: "Swap the two figures, or look them up again.",
    },
};

/// `an air flow`, `a length`.
fn with_article(name: &str) -> String {
    let vowel = name.starts_with(['a', 'e', 'i', 'o']);
    format!("{} {name}", if vowel { "an" } else { "a" })
}

/// The finding for an amount that does not read; `place` turns a range of `words` into a place.
pub(super) fn amount_finding(
    error: &QuantityError,
    wanted: Dimension,
    words: &str,
    field: &str,
    place: impl Fn(usize, usize) -> Span,
) -> Finding {
    let example = wanted.example();
    match error {
        QuantityError::Dimension { range, found } => {
            let part = words.get(range.0..range.1).unwrap_or(words);
            let (found, needed) = (found.name(), wanted.name());
            Finding::new(
                &WRONG_DIMENSION,
                place(range.0, range.1),
                format!(
                    "`{part}` is {}, and `{field}` takes {}",
                    with_article(found),
                    with_article(needed)
                ),
                format!("write it as `{example}` is written"),
            )
            .measured(Shown::word(found), Relation::Equal, Shown::word(needed))
        }
        QuantityError::NoNumber => Finding::new(
            &BAD_AMOUNT,
            place(0, words.len()),
            format!(
                "`{words}` holds no number where `{field}` takes {}",
                with_article(wanted.name())
            ),
            format!("write an amount such as `{example}`, or `maker does not say`"),
        ),
        QuantityError::NoUnit { range } => Finding::new(
            &BAD_AMOUNT,
            place(range.0, range.1),
            format!(
                "`{}` has no unit",
                words.get(range.0..range.1).unwrap_or(words)
            ),
            format!("add the unit, as in `{example}`"),
        ),
        QuantityError::UnknownUnit { range, nearest } => {
            let unit = words.get(range.0..range.1).unwrap_or(words).trim();
            let at = place(range.0, range.1);
            let finding = Finding::new(
                &BAD_AMOUNT,
                at,
                format!("`{unit}` is not a unit of {}", wanted.name()),
                match nearest {
                    Some(near) => format!("write `{near}`"),
                    None => format!("write it as `{example}` is written"),
                },
            );
            match nearest {
                Some(near) => finding.edit(at, *near),
                None => finding,
            }
        }
        QuantityError::Number { range, what } => Finding::new(
            &BAD_AMOUNT,
            place(range.0, range.1),
            format!(
                "`{}` is not readable: {what}",
                words.get(range.0..range.1).unwrap_or(words)
            ),
            format!("write it as `{example}` is written"),
        ),
    }
}

/// A type that one dimension has.
pub trait Measured: Copy {
    /// Its dimension.
    const DIMENSION: Dimension;
    /// Whether it may lie below zero.
    const SIGNED: bool;

    /// From an amount of that dimension.
    fn of(quantity: &Quantity) -> Option<Self>;

    /// Its number in the canonical unit.
    fn number(self) -> f64;
}

macro_rules! measured {
    ($($name:ident $signed:literal,)+) => {$(
        impl Measured for $name {
            const DIMENSION: Dimension = Dimension::$name;
            const SIGNED: bool = $signed;

            fn of(quantity: &Quantity) -> Option<Self> {
                Some(Self::new(quantity.real()))
            }

            fn number(self) -> f64 {
                self.value()
            }
        }

        impl Readable for $name {
            fn parse(text: &str) -> Result<Self, Misread> {
                Cursor::whole(text, Cursor::amount)
            }

            fn name() -> String {
                Dimension::$name.name().to_owned()
            }

            fn schema() -> Schema {
                amount_schema(Dimension::$name)
            }
        }
    )+};
}

measured! {
    AirFlow false,
    ApparentPower false,
    Current false,
    Duration false,
    HeatFlow false,
    Mass false,
    Power false,
    Pressure false,
    RValue false,
    Ratio false,
    Temperature true,
    Voltage false,
    Volume false,
    WaterFlow false,
    WireGauge true,
}

impl Measured for Length {
    const DIMENSION: Dimension = Dimension::Length;
    const SIGNED: bool = false;

    fn of(quantity: &Quantity) -> Option<Self> {
        quantity.length()
    }

    fn number(self) -> f64 {
        self.to_inches()
    }
}

impl Readable for Length {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, Cursor::amount)
    }

    fn name() -> String {
        "length".to_owned()
    }

    fn schema() -> Schema {
        amount_schema(Dimension::Length)
    }
}

impl Measured for Slope {
    const DIMENSION: Dimension = Dimension::Slope;
    const SIGNED: bool = false;

    fn of(quantity: &Quantity) -> Option<Self> {
        quantity.slope()
    }

    fn number(self) -> f64 {
        self.in_per_ft()
    }
}

impl Readable for Slope {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, Cursor::amount)
    }

    fn name() -> String {
        "slope".to_owned()
    }

    fn schema() -> Schema {
        amount_schema(Dimension::Slope)
    }
}

fn amount_schema(dimension: Dimension) -> Schema {
    form_schema(dimension.name(), dimension.example())
}

fn form_schema(what: &str, example: &str) -> Schema {
    json_schema!({ "type": "string", "title": what, "examples": [example] })
}

/// Walks through the pieces of one scalar.
pub(super) struct Cursor<'t> {
    text: &'t str,
    pieces: Vec<Piece<'t>>,
    at: usize,
}

impl<'t> Cursor<'t> {
    /// Reads all of `text` by `read`; words left over are a mistake.
    pub(super) fn whole<T>(
        text: &'t str,
        read: impl FnOnce(&mut Self) -> Result<T, Misread>,
    ) -> Result<T, Misread> {
        let mut cursor = Self {
            text,
            pieces: pieces(text),
            at: 0,
        };
        let value = read(&mut cursor)?;
        match cursor.pieces.get(cursor.at) {
            None => Ok(value),
            Some(rest) => Err(Misread::Form {
                range: (rest.start, text.len()),
                wanted: "these words are left over",
                example: "18 in",
            }),
        }
    }

    fn rest(&self) -> &[Piece<'t>] {
        self.pieces.get(self.at..).unwrap_or(&[])
    }

    fn next_is(&self, word: &str) -> bool {
        self.rest().first().is_some_and(|p| p.text == word)
    }

    fn signed<M: Measured>(&mut self, signed: bool) -> Result<M, Misread> {
        let from = self.rest().first().map_or(self.text.len(), |p| p.start);
        let (quantity, used) = read_pieces(self.rest(), M::DIMENSION)
            .map_err(|error| Misread::Amount(error, M::DIMENSION))?;
        self.at += used;
        let to = self
            .pieces
            .get(self.at.saturating_sub(1))
            .map_or(self.text.len(), |p| p.end);
        let value =
            M::of(&quantity).ok_or(Misread::Amount(QuantityError::NoNumber, M::DIMENSION))?;
        if !signed && value.number() < 0.0 {
            return Err(Misread::Negative { range: (from, to) });
        }
        Ok(value)
    }

    /// One amount above zero.
    fn above_zero(&mut self) -> Result<Length, Misread> {
        let from = self.rest().first().map_or(0, |p| p.start);
        let length: Length = self.signed(false)?;
        if length > Length::ZERO {
            return Ok(length);
        }
        let to = self
            .pieces
            .get(self.at.saturating_sub(1))
            .map_or(self.text.len(), |p| p.end);
        Err(Misread::Zero { range: (from, to) })
    }

    /// One amount.
    pub(super) fn amount<M: Measured>(&mut self) -> Result<M, Misread> {
        self.signed(M::SIGNED)
    }

    /// One word or mark that has to stand here.
    pub(super) fn word(
        &mut self,
        word: &str,
        wanted: &'static str,
        example: &'static str,
    ) -> Result<(), Misread> {
        if self.next_is(word) {
            self.at += 1;
            return Ok(());
        }
        let range = self
            .rest()
            .first()
            .map_or((0, self.text.len()), |p| (p.start, p.end));
        Err(Misread::Form {
            range,
            wanted,
            example,
        })
    }
}

/// From one amount to another: `220 cfm to 350 cfm`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range<T> {
    /// The lower end.
    pub least: T,
    /// The upper end.
    pub most: T,
}

impl<M: Measured + PartialOrd> Range<M> {
    /// Whether `value` lies within, ends included.
    pub fn holds(&self, value: M) -> bool {
        self.least <= value && value <= self.most
    }
}

impl<M: Measured> Readable for Range<M> {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, |cursor| {
            let least: M = cursor.amount()?;
            cursor.word(
                "to",
                "a range has `to` between its ends",
                "220 cfm to 350 cfm",
            )?;
            let most: M = cursor.amount()?;
            if least.number() > most.number() {
                return Err(Misread::EmptyRange {
                    dimension: M::DIMENSION,
                    least: least.number(),
                    most: most.number(),
                });
            }
            Ok(Self { least, most })
        })
    }

    fn name() -> String {
        format!("range of {}", M::DIMENSION.name())
    }

    fn schema() -> Schema {
        let example = M::DIMENSION.example();
        form_schema(
            &format!("{} from … to …", M::DIMENSION.name()),
            &format!("{example} to {example}"),
        )
    }
}

/// A place in a unit's own axes: x from the back to the front, y to the left as seen looking that way, z up;
/// the origin is the back right bottom corner of the cabinet.
///
/// The front of a horizontal unit is its discharge end. A vertical unit discharges at the top; its front is the
/// side that the blower is served from, and a job's `discharge toward` says where that front faces.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Point {
    /// Along the discharge, from the back.
    pub x: Length,
    /// To the left, from the right side.
    pub y: Length,
    /// Up, from the bottom.
    pub z: Length,
}

const PLACE: &str = "54 in, 11 in, 9 in";

impl Readable for Point {
    fn parse(text: &str) -> Result<Self, Misread> {
        const COMMA: &str =
            "a place is three lengths with commas: along the discharge, to the left, up";
        Cursor::whole(text, |cursor| {
            let x = cursor.signed(true)?;
            cursor.word(",", COMMA, PLACE)?;
            let y = cursor.signed(true)?;
            cursor.word(",", COMMA, PLACE)?;
            let z = cursor.signed(true)?;
            Ok(Self { x, y, z })
        })
    }

    fn name() -> String {
        "place".to_owned()
    }

    fn schema() -> Schema {
        form_schema("place: along the discharge, to the left, up", PLACE)
    }
}

/// A box: along the discharge × across × up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Size {
    /// Along the discharge.
    pub length: Length,
    /// Across.
    pub width: Length,
    /// Up.
    pub height: Length,
}

const BOX: &str = "54 in x 22 in x 18 in";

impl Readable for Size {
    fn parse(text: &str) -> Result<Self, Misread> {
        const TIMES: &str = "a size is length x width x height";
        Cursor::whole(text, |cursor| {
            let length = cursor.above_zero()?;
            cursor.word("x", TIMES, BOX)?;
            let width = cursor.above_zero()?;
            cursor.word("x", TIMES, BOX)?;
            let height = cursor.above_zero()?;
            Ok(Self {
                length,
                width,
                height,
            })
        })
    }

    fn name() -> String {
        "size".to_owned()
    }

    fn schema() -> Schema {
        form_schema("size: length x width x height", BOX)
    }
}

/// The cross-section of a port, a trunk or a grille.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// `9 in round`.
    Round(Length),
    /// `8 in x 14 in`: width and height as seen.
    Rectangular(Length, Length),
    /// `3/4 in`: a pipe's trade size, or a hole.
    Pipe(Length),
}

impl Section {
    /// Its largest measure across.
    pub fn across(self) -> Length {
        match self {
            Self::Round(d) | Self::Pipe(d) => d,
            Self::Rectangular(w, h) => w.max(h),
        }
    }

    /// Width and height as seen.
    pub const fn extent(self) -> (Length, Length) {
        match self {
            Self::Round(d) | Self::Pipe(d) => (d, d),
            Self::Rectangular(w, h) => (w, h),
        }
    }
}

impl Readable for Section {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, |cursor| {
            let first = cursor.above_zero()?;
            if cursor.next_is("round") {
                cursor.at += 1;
                return Ok(Self::Round(first));
            }
            if cursor.next_is("x") {
                cursor.at += 1;
                return Ok(Self::Rectangular(first, cursor.above_zero()?));
            }
            Ok(Self::Pipe(first))
        })
    }

    fn name() -> String {
        "section".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({
            "type": "string",
            "title": "cross-section: round, width x height, or a pipe's trade size",
            "examples": ["9 in round", "8 in x 14 in", "3/4 in"],
        })
    }
}

/// A point of a curve: `620 cfm at 1.5 inwc`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint<A, B> {
    /// The flow.
    pub flow: A,
    /// The pressure at that flow.
    pub pressure: B,
}

/// A point of an air curve.
pub type AirPoint = CurvePoint<AirFlow, Pressure>;
/// A point of a pump's curve, the head as a pressure.
pub type WaterPoint = CurvePoint<WaterFlow, Pressure>;

impl<A: Measured, B: Measured> Readable for CurvePoint<A, B> {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, |cursor| {
            let flow = cursor.amount()?;
            cursor.word(
                "at",
                "a point is a flow at a pressure",
                "620 cfm at 1.5 inwc",
            )?;
            Ok(Self {
                flow,
                pressure: cursor.amount()?,
            })
        })
    }

    fn name() -> String {
        format!(
            "point of {} and {}",
            A::DIMENSION.name(),
            B::DIMENSION.name()
        )
    }

    fn schema() -> Schema {
        form_schema(
            &format!("{} at {}", A::DIMENSION.name(), B::DIMENSION.name()),
            &format!("{} at {}", A::DIMENSION.example(), B::DIMENSION.example()),
        )
    }
}

/// What a coil does with air that enters in one state:
/// `80 F dry, 67 F wet = 36 kBtu/h total, 25.2 kBtu/h sensible`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoolingEntry {
    /// Entering dry bulb.
    pub dry_bulb: Temperature,
    /// Entering wet bulb.
    pub wet_bulb: Temperature,
    /// Total capacity.
    pub total: HeatFlow,
    /// Sensible capacity.
    pub sensible: HeatFlow,
}

const COOLING: &str = "80 F dry, 67 F wet = 36 kBtu/h total, 25 kBtu/h sensible";

impl Readable for CoolingEntry {
    fn parse(text: &str) -> Result<Self, Misread> {
        const FORM: &str = "an entry is air entering = heat taken out";
        Cursor::whole(text, |cursor| {
            let dry_bulb = cursor.amount()?;
            cursor.word("dry", FORM, COOLING)?;
            cursor.word(",", FORM, COOLING)?;
            let wet_bulb = cursor.amount()?;
            cursor.word("wet", FORM, COOLING)?;
            cursor.word("=", FORM, COOLING)?;
            let total = cursor.amount()?;
            cursor.word("total", FORM, COOLING)?;
            cursor.word(",", FORM, COOLING)?;
            let sensible = cursor.amount()?;
            cursor.word("sensible", FORM, COOLING)?;
            Ok(Self {
                dry_bulb,
                wet_bulb,
                total,
                sensible,
            })
        })
    }

    fn name() -> String {
        "cooling entry".to_owned()
    }

    fn schema() -> Schema {
        form_schema("air entering = heat taken out", COOLING)
    }
}

/// A count, written without a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Count(pub u32);

impl Readable for Count {
    fn parse(text: &str) -> Result<Self, Misread> {
        text.trim().parse().map(Self).map_err(|_| Misread::Form {
            range: (0, text.len()),
            wanted: "a count is a whole number from zero",
            example: "4",
        })
    }

    fn name() -> String {
        "count".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "type": "integer", "minimum": 0 })
    }
}

/// A bare figure without a unit: a loss coefficient, a factor. Not below zero.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Factor(pub f64);

impl Readable for Factor {
    fn parse(text: &str) -> Result<Self, Misread> {
        text.trim()
            .parse::<f64>()
            .ok()
            .filter(|n| n.is_finite() && *n >= 0.0 && *n < 1e9)
            .map(Self)
            .ok_or(Misread::Form {
                range: (0, text.len()),
                wanted: "a factor is a number from zero, without a unit",
                example: "0.35",
            })
    }

    fn name() -> String {
        "factor".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "type": "number", "minimum": 0 })
    }
}

/// A price in whole cents: `$12.40`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Price(pub i64);

impl Price {
    /// `12.40`, without the sign of the currency.
    pub fn text(self) -> String {
        format!("{}.{:02}", self.0 / 100, self.0 % 100)
    }
}

impl Readable for Price {
    fn parse(text: &str) -> Result<Self, Misread> {
        let bad = || Misread::Form {
            range: (0, text.len()),
            wanted: "a price is dollars with two decimals or none",
            example: "$12.40",
        };
        let body = text.trim().strip_prefix('$').ok_or_else(bad)?.trim();
        let (dollars, cents) = body.split_once('.').unwrap_or((body, "00"));
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if dollars.is_empty() || dollars.len() > 9 || cents.len() != 2 {
            return Err(bad());
        }
        if !digits(dollars) || !digits(cents) {
            return Err(bad());
        }
        let number = |s: &str| s.parse::<i64>().map_err(|_| bad());
        Ok(Self(number(dollars)? * 100 + number(cents)?))
    }

    fn name() -> String {
        "price".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "type": "string", "title": "price", "pattern": "^\\$ ?[0-9]{1,9}(\\.[0-9]{2})?$", "examples": ["$12.40"] })
    }
}
