//! Waivers: which finding, on what, why, by whom.

use crate::language::Entry;
use crate::source::{Finding, Span, Spanned};

use super::builder::Builder;
use super::mistakes::WAIVER_NOT_ALLOWED;

/// A waiver and the thing it stands in.
#[derive(Clone, Debug)]
pub struct Waiver {
    /// Code or name of the rule.
    pub code: Spanned<String>,
    /// Why.
    pub reason: Spanned<String>,
    /// Who waived it.
    pub by: Option<Spanned<String>>,
    /// When.
    pub on: Option<Spanned<String>>,
    /// The statement.
    pub span: Span,
    /// The block it stands in; none for the whole job.
    pub scope: Option<Span>,
    /// The thing it stands in, in words.
    pub thing: String,
}

/// All waivers below `entries`, each with the block it stands in.
pub(super) fn collect(entries: &[Entry], scope: Option<&Entry>, out: &mut Vec<Waiver>) {
    for entry in entries {
        if entry.word.word == "waive" && !entry.flawed {
            let (Some(code), Some(reason)) =
                (entry.text("code").known(), entry.text("reason").known())
            else {
                continue;
            };
            let block = scope.filter(|block| block.word.word != "job");
            let name = block
                .and_then(|block| block.text("name").known())
                .map(|name| format!(" {}", name.value));
            out.push(Waiver {
                code,
                reason,
                by: entry.text("who").known(),
                on: entry.text("date").known(),
                span: entry.span,
                scope: block.map(|block| block.whole),
                thing: block.map_or_else(
                    || "the whole job".to_owned(),
                    |block| format!("{}{}", block.word.word, name.unwrap_or_default()),
                ),
            });
        }
        collect(&entry.body, Some(entry), out);
    }
}

/// Mistakes of the file itself can't be waived.
pub(super) fn refuse_waivers(builder: &mut Builder<'_>) {
    let refused: Vec<Finding> = builder
        .model
        .waivers
        .iter()
        .filter(|waiver| {
            let code = waiver.code.value.to_ascii_uppercase();
            ["LNG", "CAT", "MOD"]
                .iter()
                .any(|family| code.starts_with(family))
        })
        .map(|waiver| {
            Finding::new(
                &WAIVER_NOT_ALLOWED,
                waiver.code.span,
                format!(
                    "`{}` is a mistake in the file and can't be waived",
                    waiver.code.value
                ),
                "mend the mistake and take the waiver out",
            )
        })
        .collect();
    builder.findings.extend(refused);
}
