//! Every sort of finding that reading a catalog or shop standards can raise, by code.

use super::amount::{BAD_AMOUNT, NEGATIVE_AMOUNT, WRONG_DIMENSION};
use super::node::UNREADABLE_CATALOG;
use super::reading::{FIELD_TWICE, MISSING_FIELD, UNKNOWN_FIELD, WRONG_SHAPE};
use super::shelf::DUPLICATE_MODEL;
use super::stated::UNKNOWN_WORD;
use crate::source::Kind;

/// The kinds of this folder, sorted by code.
pub const KINDS: &[&Kind] = &[
    &UNREADABLE_CATALOG,
    &MISSING_FIELD,
    &UNKNOWN_FIELD,
    &WRONG_DIMENSION,
    &BAD_AMOUNT,
    &WRONG_SHAPE,
    &UNKNOWN_WORD,
    &DUPLICATE_MODEL,
    &FIELD_TWICE,
    &NEGATIVE_AMOUNT,
];
