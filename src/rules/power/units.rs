//! Units that a circuit feeds, with their heads.

use crate::model::Model;
use crate::source::Span;

/// Every air handler, then other equipment of these kinds.
pub(super) fn units<'m>(
    model: &'m Model,
    kinds: &'static [&'static str],
) -> impl Iterator<Item = (&'m str, Span)> {
    let handlers = model.air_handlers.values();
    let others = model.equipment.values();
    handlers.map(|unit| (unit.name.as_str(), unit.span)).chain(
        others
            .filter(|unit| kinds.contains(&unit.kind))
            .map(|unit| (unit.name.as_str(), unit.span)),
    )
}
