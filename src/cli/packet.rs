//! `bayrun packet`: the packet of a job.

use std::path::PathBuf;

use super::options::Paper;
use super::outcome::Outcome;

/// What was asked for.
#[derive(Debug)]
pub(super) struct Wanted {
    pub(super) job: Option<PathBuf>,
    pub(super) output: Option<PathBuf>,
    pub(super) draft: bool,
    pub(super) paper: Paper,
    pub(super) typst: Option<PathBuf>,
    pub(super) install_typst: bool,
    pub(super) root: Option<PathBuf>,
}

/// Writes the packet.
pub(super) fn packet(wanted: &Wanted) -> Outcome {
    Outcome::refused(format!("not built: {wanted:?}"))
}
