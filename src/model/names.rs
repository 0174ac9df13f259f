//! Who carries which name: unique per kind, with the nearest one for a name that nothing carries.

use foldhash::fast::RandomState;
use indexmap::IndexMap;

use crate::language::{with_article, word_distance};
use crate::source::{Edit, Finding, Span, Spanned};

use super::mistakes::{NAME_TAKEN, NAME_UNKNOWN};

/// Whether `finding` says that nothing carries `name`.
fn lacks(finding: &Finding, name: &str) -> bool {
    finding.kind.code == NAME_UNKNOWN.code && finding.message.ends_with(&format!(" `{name}`"))
}

/// Whether the second of two like names of one of `kinds` is the one that `name` is meant for.
///
/// Its finding then says so: the name that nothing carries is what the second one is to be called.
pub(super) fn is_meant_for_second(
    kinds: &[&'static str],
    name: &str,
    findings: &mut [Finding],
) -> bool {
    let of_kind = |finding: &Finding| {
        kinds.iter().any(|kind| {
            let words = format!("there is already {} `", with_article(kind));
            finding.message.starts_with(&words)
        })
    };
    let taken = |finding: &&mut Finding| {
        let free = finding.edits.first().is_none_or(|edit| edit.text == name);
        finding.kind.code == NAME_TAKEN.code && free && of_kind(finding)
    };
    let Some(finding) = findings.iter_mut().find(taken) else {
        return false;
    };
    if finding.edits.is_empty() {
        finding.help = format!("write `{name}`, which another line names and nothing carries");
        finding.edits.push(Edit {
            span: finding.span,
            text: name.to_owned(),
        });
    }
    true
}

/// The names of one job, by kind.
#[derive(Clone, Debug, Default)]
pub struct Names {
    known: IndexMap<&'static str, IndexMap<String, Span, RandomState>, RandomState>,
}

impl Names {
    /// Enters a name; a second one of the kind is reported.
    pub fn enter(
        &mut self,
        kind: &'static str,
        name: &Spanned<String>,
        findings: &mut Vec<Finding>,
    ) -> bool {
        let of_kind = self.known.entry(kind).or_default();
        if let Some(first) = of_kind.get(&name.value) {
            findings.push(
                Finding::new(
                    &NAME_TAKEN,
                    name.span,
                    format!("there is already {} `{}`", with_article(kind), name.value),
                    format!("give it another name, as in `{}-2`", name.value),
                )
                .label(*first, "first named here"),
            );
            return false;
        }
        of_kind.insert(name.value.clone(), name.span);
        true
    }

    /// Whether something of one of `kinds` carries `name`.
    pub fn has(&self, kinds: &[&str], name: &str) -> bool {
        kinds.iter().any(|kind| {
            self.known
                .get(*kind)
                .is_some_and(|names| names.contains_key(name))
        })
    }

    /// The kind that carries `name`, of `kinds`.
    pub fn kind_of(&self, kinds: &[&str], name: &str) -> Option<&'static str> {
        self.known
            .iter()
            .find(|(kind, names)| kinds.contains(kind) && names.contains_key(name))
            .map(|(kind, _)| *kind)
    }

    /// The name of one of `kinds` nearest to `name`.
    pub fn nearest(&self, kinds: &[&str], name: &str) -> Option<&str> {
        self.known
            .iter()
            .filter(|(kind, _)| kinds.contains(kind))
            .flat_map(|(_, names)| names.keys())
            .map(|known| (word_distance(known, name), known.as_str()))
            .filter(|(distance, known)| *distance <= 1 + known.len() / 4)
            .min()
            .map(|(_, known)| known)
    }

    /// Checks that `name` is carried by something of `kinds`; reports it with the nearest one when not.
    pub fn expect(
        &self,
        kinds: &[&'static str],
        name: &Spanned<String>,
        findings: &mut Vec<Finding>,
    ) -> bool {
        if self.has(kinds, &name.value) {
            return true;
        }
        if let Some(first) = findings.iter_mut().find(|first| lacks(first, &name.value)) {
            // The same name again is the same mistake: its mend reaches every mention.
            if let Some(near) = self.nearest(kinds, &name.value)
                && first.edits.iter().all(|edit| edit.span != name.span)
            {
                first.edits.push(Edit {
                    span: name.span,
                    text: near.to_owned(),
                });
            }
            return false;
        }
        if is_meant_for_second(kinds, &name.value, findings) {
            return false;
        }
        let what = match kinds {
            [_, _, _, _, ..] => "thing".to_owned(),
            few => few.join(" or "),
        };
        let near = self.nearest(kinds, &name.value);
        let known: Vec<String> = self
            .known
            .iter()
            .filter(|(kind, _)| kinds.contains(kind))
            .flat_map(|(_, names)| names.keys())
            .take(6)
            .map(|known| format!("`{known}`"))
            .collect();
        let help = match (near, known.is_empty()) {
            (Some(near), _) => format!("write `{near}`"),
            (None, true) => format!("add {} named `{}`", with_article(&what), name.value),
            (None, false) => format!("use a known one, such as {}", known.join(", ")),
        };
        let mut finding = Finding::new(
            &NAME_UNKNOWN,
            name.span,
            format!("there is no {what} `{}`", name.value),
            help,
        );
        if let Some(near) = near {
            finding = finding.edit(name.span, near);
        }
        findings.push(finding);
        false
    }
}
