//! Every rule, sorted by code, and every sort of finding by code or name.

use crate::source::Kind;
use crate::{catalog, language, model};

use super::air;
use super::rule::Rule;

/// The rules in order of their codes.
pub static RULES: &[&Rule] = &[
    &air::room_without_outlet::RULE,
    &air::takeoff_near_fitting::RULE,
    &air::takeoffs_too_close::RULE,
    &air::first_piece_fixed::RULE,
    &air::run_too_short::RULE,
    &air::run_too_long::RULE,
    &air::run_too_many_bends::RULE,
    &air::adapter_unfit::RULE,
    &air::trunk_end_open::RULE,
    &air::room_beyond_reach::RULE,
    &air::outlets_too_few::RULE,
];

/// Every sort of finding: language, catalog, model, then rules.
pub fn kinds() -> impl Iterator<Item = &'static Kind> {
    language::PARSE_KINDS
        .iter()
        .copied()
        .chain(catalog::KINDS.iter().copied())
        .chain(model::KINDS.iter().copied())
        .chain(RULES.iter().map(|rule| &rule.kind))
}

fn named(kind: &Kind, word: &str) -> bool {
    kind.code.eq_ignore_ascii_case(word) || kind.name == word || kind.name.replace('_', "-") == word
}

/// The sort of finding with this code or name.
pub fn kind_named(word: &str) -> Option<&'static Kind> {
    kinds().find(|kind| named(kind, word))
}

/// The rule with this code or name.
pub fn rule_named(word: &str) -> Option<&'static Rule> {
    RULES.iter().copied().find(|rule| named(&rule.kind, word))
}
