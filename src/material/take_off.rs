//! Takes the pieces off the model.

use crate::catalog::Catalog;
use crate::figures::Ledger;
use crate::model::Model;

/// What is to be cut and bought.
#[derive(Debug, Default)]
pub struct Material {}

/// The material of a job.
pub fn take_off(model: &Model, catalog: &Catalog, ledger: &Ledger) -> Material {
    let _ = (model, catalog, ledger);
    Material::default()
}
