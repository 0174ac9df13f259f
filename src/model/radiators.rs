//! Old radiators that stay live beside the coils.

use crate::language::Entry;
use crate::source::{Span, Spanned};

use super::builder::Builder;

/// Old radiators that stay live.
#[derive(Clone, Debug)]
pub struct Radiators {
    /// Their name.
    pub name: String,
    /// The boiler that feeds them.
    pub boiler: Spanned<String>,
    /// Rooms and the heat given there, Btu/h.
    pub rooms: Vec<(Spanned<String>, Spanned<f64>)>,
    /// The water temperature at which they give it, °F.
    pub rated: Option<Spanned<f64>>,
    /// The temperature at which their water comes back, °F.
    pub returns: Option<Spanned<f64>>,
    /// Their head.
    pub span: Span,
    /// Whether part of them was misread, or is not known yet.
    pub flawed: bool,
}

pub(super) fn radiators(builder: &mut Builder<'_>, entry: &Entry) -> Option<Radiators> {
    let name = entry.text("name").known()?;
    let mut flawed = entry.flawed || entry.body_flawed;
    let mut rooms = Vec::new();
    for child in entry.children("room") {
        match (child.text("room").known(), builder.real(child, "heat")) {
            (Some(room), Some(heat)) => rooms.push((room, heat)),
            _ => flawed = true,
        }
    }
    let mut temperature = |word: &str| {
        let said = entry.child(word);
        let value = said.and_then(|child| builder.real(child, "temperature"));
        flawed |= said.is_some() && value.is_none();
        value
    };
    let (rated, returns) = (temperature("rated"), temperature("returns"));
    Some(Radiators {
        name: name.value,
        boiler: entry.text("boiler").known()?,
        rooms,
        rated,
        returns,
        span: entry.span,
        flawed,
    })
}
