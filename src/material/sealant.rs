//! Sealants, primer, cement, solder: packs by what the catalog says that one covers.

use crate::catalog::{PipeMaterial, SealantType};
use crate::quantity::{Length, trade_length};

use super::desk::Desk;
use super::need::Sold;
use super::stock::Shelf;

/// Adds what the joints taken off so far ask for.
pub(super) fn take_off(desk: &mut Desk<'_>) {
    let sealed = desk.sealed;
    let kind = if has(desk, SealantType::Mastic) {
        SealantType::Mastic
    } else {
        SealantType::Tape
    };
    by_length(desk, kind, sealed, "trunk joints");
    let gaskets = desk.gaskets;
    by_length(desk, SealantType::Gasket, gaskets, "adapters and take-offs");
    let joints = |desk: &Desk<'_>, wanted: &[PipeMaterial]| -> usize {
        let of = |item: &str| desk.catalog.pipes.get(item).and_then(|p| p.material.get());
        desk.pieces
            .iter()
            .filter(|piece| piece.shelf == Shelf::Pipe)
            .filter(|piece| of(&piece.item).is_some_and(|m| wanted.contains(&m)))
            .map(|piece| piece.joints)
            .sum()
    };
    let plastic = joints(desk, &[PipeMaterial::Pvc]);
    by_joint(desk, SealantType::Primer, plastic, "plastic pipe");
    by_joint(desk, SealantType::Cement, plastic, "plastic pipe");
    let water = joints(desk, &[PipeMaterial::CopperL, PipeMaterial::CopperM]);
    by_joint(desk, SealantType::Solder, water, "copper water pipe");
    let lines = joints(desk, &[PipeMaterial::CopperRefrigerant]);
    by_joint(desk, SealantType::BrazingRod, lines, "refrigerant lines");
    let model = desk.model;
    let threads = model.drains.len();
    by_joint(desk, SealantType::ThreadSealant, threads, "threads");
}

fn has(desk: &Desk<'_>, kind: SealantType) -> bool {
    desk.catalog
        .sealants
        .values()
        .any(|sealant| sealant.type_of.get() == Some(kind))
}

fn by_length(desk: &mut Desk<'_>, kind: SealantType, length: Length, what_for: &str) {
    if length == Length::ZERO {
        return;
    }
    let Some((name, sealant)) = find(desk, kind) else {
        desk.needs.as_needed(kind.word(), Sold::default(), what_for);
        return;
    };
    let sold = Sold::at(sealant.span, Some(&sealant.price), None);
    match sealant
        .covers
        .as_ref()
        .and_then(crate::catalog::Stated::get)
    {
        Some(covers) if covers > Length::ZERO => {
            let packs = length.round_up_to(covers).nm() / covers.nm();
            let span = sealant.covers.as_ref().map_or(sealant.span, |c| c.span);
            let said = format!(
                "{} of joint, {} a pack",
                trade_length(length),
                trade_length(covers)
            );
            let count = usize::try_from(packs).unwrap_or(0);
            desk.needs
                .add(name, sold, count, what_for, Some((span, said)));
        }
        _ => desk.needs.as_needed(name, sold, what_for),
    }
}

fn by_joint(desk: &mut Desk<'_>, kind: SealantType, joints: usize, what_for: &str) {
    if joints == 0 {
        return;
    }
    let Some((name, sealant)) = find(desk, kind) else {
        desk.needs.as_needed(kind.word(), Sold::default(), what_for);
        return;
    };
    let sold = Sold::at(sealant.span, Some(&sealant.price), None);
    let covers = sealant
        .joints
        .as_ref()
        .and_then(crate::catalog::Stated::get)
        .and_then(|count| usize::try_from(count.0).ok())
        .filter(|count| *count > 0);
    match covers {
        Some(covers) => {
            let span = sealant.joints.as_ref().map_or(sealant.span, |c| c.span);
            let said = format!("{joints} joints, {covers} a pack");
            let count = joints.div_ceil(covers);
            desk.needs
                .add(name, sold, count, what_for, Some((span, said)));
        }
        None => desk.needs.as_needed(name, sold, what_for),
    }
}

fn find<'a>(desk: &Desk<'a>, kind: SealantType) -> Option<(&'a str, &'a crate::catalog::Sealant)> {
    desk.catalog
        .sealants
        .iter()
        .find(|(_, sealant)| sealant.type_of.get() == Some(kind))
        .map(|(name, sealant)| (name.as_str(), sealant))
}
