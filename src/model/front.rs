//! Panels and disconnects as what somebody stands before.

use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::place::{Direction, Point};
use super::power::{Disconnect, Panel};

/// Something with a front that somebody works before.
#[derive(Clone, Copy, Debug)]
pub struct Front<'m> {
    /// `panel` or `disconnect`.
    pub word: &'static str,
    /// Its name.
    pub name: &'m str,
    /// The middle of its back on its floor.
    pub point: Option<Point>,
    /// Which way it looks.
    pub faces: Option<&'m Spanned<Direction>>,
    /// Its width, where it is said.
    pub width: Option<Length>,
    /// Its story; none outdoors.
    pub story: Option<&'m str>,
    /// Its head.
    pub span: Span,
}

impl Front<'_> {
    /// The id of a figure of it: `panel.p1.headroom`.
    pub fn id(&self, what: &str) -> String {
        format!("{}.{}.{what}", self.word, self.name)
    }
}

impl Panel {
    /// Its front.
    pub fn front(&self) -> Front<'_> {
        Front {
            word: "panel",
            name: &self.name,
            point: self.point,
            faces: self.faces.as_ref(),
            width: self.width.map(|width| width.value),
            story: self.story.as_deref(),
            span: self.span,
        }
    }
}

impl Disconnect {
    /// Its front.
    pub fn front(&self) -> Front<'_> {
        Front {
            word: "disconnect",
            name: &self.name,
            point: self.at.as_ref().map(|at| at.value),
            faces: self.faces.as_ref(),
            width: self.width.map(|width| width.value),
            story: self.story.as_deref(),
            span: self.span,
        }
    }
}
