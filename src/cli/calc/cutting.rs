//! `cutting FILE`: pieces cut from stock lengths, first-fit decreasing, as JSON.

use std::path::Path;

use serde_json::json;

use super::run::CalcOutcome;
use crate::physics::packing::{CutList, Misread, pack, read};
use crate::source::{Disk, Reader as _};

/// The largest file that is read.
const LARGEST: u64 = 4 << 20;

/// Packs the cut list of one file.
pub(super) fn compute_cutting(path: &Path) -> CalcOutcome {
    let shown = path.display().to_string().replace('\\', "/");
    let text = match Disk.read(path, LARGEST) {
        Ok(text) => text,
        Err(error) => return CalcOutcome::refused(format!("`{shown}` can't be read: {error}")),
    };
    match read(&text) {
        Ok(list) => answer(&list, &shown),
        Err(wrong) => CalcOutcome {
            out: String::new(),
            err: wrong
                .iter()
                .map(|Misread { line, message }| format!("{shown}:{line}: {message}\n"))
                .collect(),
            code: 1,
        },
    }
}

fn answer(list: &CutList, shown: &str) -> CalcOutcome {
    let plan = pack(&list.stocks, &list.pieces, list.kerf);
    if let Some(&piece) = plan.unplaced.first() {
        let length = list.pieces.get(piece).copied().unwrap_or_default();
        return CalcOutcome {
            out: String::new(),
            err: format!(
                "{shown}: the stock that is to be had leaves no room for a piece of {length}\n"
            ),
            code: 1,
        };
    }
    let bars: Vec<_> = plan
        .bars
        .iter()
        .filter_map(|bar| {
            let stock = list.stocks.get(bar.stock)?;
            let pieces: Vec<u64> = bar
                .pieces
                .iter()
                .filter_map(|&piece| list.pieces.get(piece).copied())
                .collect();
            Some(json!({ "stock": stock.length, "price": stock.price, "pieces": pieces }))
        })
        .collect();
    let answer = json!({
        "cost": plan.cost,
        "bound": plan.bound,
        "proven": plan.proven(),
        "bars": bars,
    });
    CalcOutcome {
        out: format!("{answer:#}\n"),
        ..CalcOutcome::default()
    }
}
