//! Places, boxes and cross-sections in a unit's own axes.

use schemars::{Schema, json_schema};

use super::cursor::Cursor;
use super::measured::form_schema;
use super::misread::Misread;
use super::stated::Readable;
use crate::quantity::Length;

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
            if cursor.takes("round") {
                return Ok(Self::Round(first));
            }
            if cursor.takes("x") {
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
