//! What a catalog says against itself: curves, ranges, ports, terminals.

use super::Catalog;
use crate::source::Finding;

/// Checks everything that one file can be held to.
pub(super) fn check(_catalog: &Catalog, _findings: &mut Vec<Finding>) {}
