//! One catalog file held against itself, and all catalogs of a job against each other.

use super::curve::{Runs, curve, heating};
use super::{air, cabinet, plate, stock};
use crate::catalog::{Catalog, Shelf, Standards, Stated, nearest};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

/// A name that no catalog of the job holds.
pub(in crate::catalog) const UNKNOWN_STOCK: Kind = Kind {
    code: "CAT022",
    name: "unknown_stock",
    title: "a catalog or the standards name an item that no catalog holds",
    severity: Severity::Warning,
    source: "common practice",
    why: Why {
        checks: "That the adapters and water coils a unit lists, and the stock the shop prefers, are in the catalogs that the job names.",
        on_site: "The list of what fits is empty, and the adapter is found out on the day.",
        fix: "Name the catalog that holds the item in the job, or correct its name.",
    },
};

/// Checks everything that one file can be held to.
pub(in crate::catalog) fn check(catalog: &Catalog, findings: &mut Vec<Finding>) {
    for unit in catalog.air_handlers.values() {
        for (name, port) in unit.ports.iter() {
            cabinet::port(name, port, unit.size.get(), unit.size.span, findings);
        }
        cabinet::discharge(unit.orientation.get(), &unit.ports.supply, findings);
        air::air_handler(unit, findings);
        plate::air_handler(unit, findings);
    }
    for unit in catalog.outdoor_units.values() {
        for (name, port) in [("suction", &unit.suction), ("liquid", &unit.liquid)] {
            cabinet::port(name, port, unit.size.get(), unit.size.span, findings);
        }
        plate::plate(&unit.plate, findings);
    }
    for unit in catalog.water_coils.values() {
        for (name, port) in [("supply", &unit.supply), ("return", &unit.return_water)] {
            cabinet::port(name, port, unit.size.get(), unit.size.span, findings);
        }
    }
    for unit in catalog.boilers.values() {
        plate::plate(&unit.plate, findings);
    }
    for unit in catalog.chillers.values() {
        plate::plate(&unit.plate, findings);
    }
    for (name, one) in catalog.outdoor_units.iter() {
        if let Some(sheet) = &one.heating {
            let what = format!("`{name}` in heating");
            heating(&sheet.points, one.span, &what, findings);
        }
    }
    for (name, one) in catalog.circulators.iter() {
        let what = format!("`{name}`");
        curve(&one.points, one.span, &what, Runs::FlowFalls, findings);
    }
    for (name, one) in catalog.pumps.iter() {
        let what = format!("`{name}`");
        curve(&one.points, one.span, &what, Runs::FlowFalls, findings);
    }
    for (name, one) in catalog.filters.iter() {
        let what = format!("`{name}`");
        curve(&one.clean, one.span, &what, Runs::BothRise, findings);
    }
    for (name, one) in catalog.grilles.iter() {
        let what = format!("`{name}`");
        curve(&one.points, one.span, &what, Runs::BothRise, findings);
    }
    stock::stock(catalog, findings);
}

fn named<T>(name: &Stated<String>, shelf: &Shelf<T>, what: &str, findings: &mut Vec<Finding>) {
    // Without the shelf the job simply does not name that catalog.
    let Some(word) = name
        .as_ref()
        .filter(|word| !shelf.is_empty() && !shelf.contains_key(*word))
    else {
        return;
    };
    unknown(name, word, shelf.nearest(word), what, findings);
}

fn unknown(
    at: &Stated<String>,
    word: &str,
    near: Option<&str>,
    what: &str,
    findings: &mut Vec<Finding>,
) {
    let mut finding = Finding::new(
        &UNKNOWN_STOCK,
        at.span,
        format!("no catalog of the job holds the {what} `{word}`"),
        match near {
            Some(near) => format!("write `{near}`"),
            None => "name the catalog that holds it with a `catalog` line in the job".to_owned(),
        },
    );
    if let Some(near) = near {
        finding = finding
            .measured(Shown::word(word), Relation::Equal, Shown::word(near))
            .edit(at.span, near);
    }
    findings.push(finding);
}

impl Catalog {
    /// Holds the merged catalogs of a job against each other: what units list has to be on a shelf.
    pub fn link(&self, findings: &mut Vec<Finding>) {
        if self.gaps {
            return;
        }
        for unit in self.air_handlers.values() {
            for adapter in &unit.adapters {
                named(adapter, &self.adapters, "adapter", findings);
            }
            for coil in unit.water_coils.iter().flatten() {
                named(coil, &self.water_coils, "water coil", findings);
            }
        }
    }
}

impl Standards {
    /// Holds the preferred stock against the catalogs of a job. Silent for a job without stock.
    pub fn link(&self, catalog: &Catalog, findings: &mut Vec<Finding>) {
        let names = catalog.stock_names();
        if names.is_empty() || catalog.gaps {
            return;
        }
        for stated in self.preferred_stock.values() {
            let Some(word) = stated.as_ref().filter(|w| !names.contains(&w.as_str())) else {
                continue;
            };
            let near = nearest(names.iter().copied(), word);
            unknown(stated, word, near, "preferred item", findings);
        }
    }
}
