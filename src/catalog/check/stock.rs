//! Stock comes in lengths and packs above nothing.

use crate::catalog::{Catalog, Count, Stated};
use crate::quantity::{Length, show_length};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

/// A length or pack of nothing.
pub(in crate::catalog) const ZERO_AMOUNT: Kind = Kind {
    code: "CAT021",
    name: "zero_amount",
    title: "a size, length or pack is zero",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That cabinets, pipes, stock lengths, coils and packs are larger than nothing.",
        on_site: "Nothing can be cut from a stock length of zero, nor ordered in packs of none.",
        fix: "Write the length or count of the supplier's list.",
    },
};

fn length(what: &str, stated: &Stated<Length>, findings: &mut Vec<Finding>) {
    if stated.get() == Some(Length::ZERO) {
        findings.push(
            Finding::new(
                &ZERO_AMOUNT,
                stated.span,
                format!("`{what}` comes in lengths of nothing"),
                "write the supplier's length, such as `10 ft`",
            )
            .measured(
                show_length(Length::ZERO),
                Relation::AtLeast,
                show_length(Length::from_nm(1)),
            ),
        );
    }
}

fn pack(what: &str, stated: &Stated<Count>, findings: &mut Vec<Finding>) {
    if stated.get() == Some(Count(0)) {
        findings.push(
            Finding::new(
                &ZERO_AMOUNT,
                stated.span,
                format!("`{what}` comes in packs of none"),
                "write the pieces in a pack, `1` when it is sold singly",
            )
            .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
        );
    }
}

/// All stock of a catalog.
pub(super) fn stock(catalog: &Catalog, findings: &mut Vec<Finding>) {
    for (name, one) in catalog.trunk_pipes.iter() {
        length(name, &one.stock, findings);
    }
    for (name, one) in catalog.pipes.iter() {
        length(name, &one.stock, findings);
    }
    for (name, one) in catalog.tubes.iter() {
        length(name, &one.coil, findings);
    }
    for (name, one) in catalog.cables.iter() {
        length(name, &one.coil, findings);
    }
    for (name, one) in catalog.take_offs.iter() {
        pack(name, &one.pack, findings);
    }
    for (name, one) in catalog.outlets.iter() {
        pack(name, &one.pack, findings);
    }
    for (name, one) in catalog.orifices.iter() {
        pack(name, &one.pack, findings);
    }
    for (name, one) in catalog.hangers.iter() {
        pack(name, &one.pack, findings);
    }
    for (name, one) in catalog.fasteners.iter() {
        pack(name, &one.pack, findings);
    }
    let optional = catalog
        .trunk_fittings
        .iter()
        .map(|(name, one)| (name, &one.pack))
        .chain(
            catalog
                .pipe_fittings
                .iter()
                .map(|(name, one)| (name, &one.pack)),
        )
        .chain(catalog.filters.iter().map(|(name, one)| (name, &one.pack)));
    for (name, one) in optional {
        if let Some(one) = one {
            pack(name, one, findings);
        }
    }
}
