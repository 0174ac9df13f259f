//! The YAML files of a run, each read once by whichever job asks first.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use crate::source::{FileId, Finding, ReadError, SourceFile};

/// A YAML file of the run, read once.
pub(super) struct Shared<T> {
    pub(super) id: FileId,
    pub(super) file: SourceFile,
    pub(super) value: T,
    pub(super) findings: Vec<Finding>,
}

pub(super) type Cell<T> = Arc<OnceLock<Result<Shared<T>, ReadError>>>;

/// Catalogs and standards of a run, by real path.
pub(super) struct Cupboard<T> {
    cells: Mutex<BTreeMap<PathBuf, (u32, Cell<T>)>>,
}

impl<T> Default for Cupboard<T> {
    fn default() -> Self {
        Self {
            cells: Mutex::default(),
        }
    }
}

impl<T> Cupboard<T> {
    /// The place of the file at `real`: its id, and the cell that the first job to ask fills.
    pub(super) fn place(&self, real: &Path, offset: u32) -> (FileId, Cell<T>) {
        let mut cells = self.cells.lock().unwrap_or_else(PoisonError::into_inner);
        let next = u32::try_from(cells.len()).unwrap_or(u32::MAX / 4);
        let (index, cell) = cells
            .entry(real.to_path_buf())
            .or_insert_with(|| (next, Cell::default()));
        // Catalogs take the even ids, standards the odd ones.
        (FileId::shared(*index * 2 + offset), Arc::clone(cell))
    }
}
