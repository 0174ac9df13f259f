//! What every reader of the catalog shares: the findings, the field in hand, and the way a mapping is taken apart.
//!
//! A bad field costs that field: the finding is reported, and the field reads as not known.

use std::collections::BTreeSet;

use super::node::{Node, Value};
use super::stated::MAKER_SILENT;
use crate::source::{FileId, Finding, Kind, Relation, Severity, Shown, Span, Spanned, Why};

/// A field that has to be there.
pub(super) const MISSING_FIELD: Kind = Kind {
    code: "CAT002",
    name: "missing_field",
    title: "a field is missing",
    severity: Severity::Error,
    source: "schema `grammar/catalog.schema.json`",
    why: Why {
        checks: "That each model and each piece of stock says everything that a rule, a list or a page needs of it.",
        on_site: "What depends on the figure cannot be checked, and the crew finds out on a ladder.",
        fix: "Add the field, or write `maker does not say` after it: then it is listed as still to find out.",
    },
};

/// A field nobody reads.
pub(crate) const UNKNOWN_FIELD: Kind = Kind {
    code: "CAT003",
    name: "unknown_field",
    title: "a field is not known",
    severity: Severity::Error,
    source: "schema `grammar/catalog.schema.json`",
    why: Why {
        checks: "That every line of a catalog means something.",
        on_site: "A figure under a mistyped name is silently left out of every check that needs it.",
        fix: "Use the name proposed, or take the line out.",
    },
};

/// A mapping, a list or words where another of them belongs.
pub(super) const WRONG_SHAPE: Kind = Kind {
    code: "CAT006",
    name: "wrong_shape",
    title: "a value has another shape than its field",
    severity: Severity::Error,
    source: "schema `grammar/catalog.schema.json`",
    why: Why {
        checks: "That a list stands where several values are wanted, a mapping where named values are, and plain words elsewhere.",
        on_site: "The value is not read, and what depends on it is not checked.",
        fix: "Write it the way the help shows; most often one `-` or one level of indent is too many or too few.",
    },
};

/// The same key twice in one mapping.
pub(super) const FIELD_TWICE: Kind = Kind {
    code: "CAT009",
    name: "field_twice",
    title: "a field is given twice",
    severity: Severity::Error,
    source: "YAML 1.2.2, section 3.2.1.3",
    why: Why {
        checks: "That a field stands once in its mapping.",
        on_site: "Two figures for one thing: half the crew builds from the one, half from the other.",
        fix: "Keep the right one.",
    },
};

/// The state of one file's reading.
pub(super) struct Reading<'a> {
    pub(super) file: FileId,
    pub(super) text: &'a str,
    pub(super) findings: &'a mut Vec<Finding>,
    /// The field in hand, as its name in code.
    pub(super) field: &'static str,
    seen: BTreeSet<(&'static str, Span)>,
}

impl<'a> Reading<'a> {
    /// The start of a reading.
    pub(super) const fn new(file: FileId, text: &'a str, findings: &'a mut Vec<Finding>) -> Self {
        Self {
            file,
            text,
            findings,
            field: "file",
            seen: BTreeSet::new(),
        }
    }

    /// Reports once: a value behind an anchor is read as often as it is used.
    pub(super) fn report(&mut self, via: Option<Span>, finding: Finding) {
        if !self.seen.insert((finding.kind.code, finding.span)) {
            return;
        }
        let finding = match via {
            Some(span) => finding.label(span, "used here"),
            None => finding,
        };
        self.findings.push(finding);
    }

    /// The bytes `start..end` of a scalar's words as a place in the file, quotes or not.
    pub(super) fn within(&self, node: Span, words: &str, start: usize, end: usize) -> Span {
        let raw = self
            .text
            .get(node.start as usize..node.end as usize)
            .unwrap_or("");
        let Some(at) = raw.find(words).filter(|_| !words.is_empty()) else {
            return node;
        };
        let place = |n: usize| node.start + u32::try_from(at + n).unwrap_or(0);
        let (from, to) = (place(start), place(end));
        if from < to && to <= node.end {
            Span::new(self.file, from, to)
        } else {
            node
        }
    }

    pub(super) fn wrong_shape(&mut self, node: &Node, wanted: &str, help: &str) {
        let found = match &node.value {
            Value::Nothing => "nothing",
            Value::Words(_) => "words",
            Value::List(_) => "a list",
            Value::Map(_) => "a mapping",
        };
        let finding = Finding::new(
            &WRONG_SHAPE,
            node.span,
            format!("`{}` holds {found} instead of {wanted}", key_of(self.field)),
            help,
        )
        .measured(Shown::word(found), Relation::Equal, Shown::word(wanted));
        self.report(node.via, finding);
    }
}

/// A field's name in code → its key in YAML.
pub(super) fn key_of(field: &str) -> String {
    field.trim_start_matches("r#").replace('_', "-")
}

fn same_key(field: &str, key: &str) -> bool {
    let field = field.strip_prefix("r#").unwrap_or(field);
    field.len() == key.len()
        && field
            .bytes()
            .zip(key.bytes())
            .all(|(a, b)| a == b || a == b'_' && b == b'-')
}

/// Something that stands under a key.
pub(super) trait Field: Sized + schemars::JsonSchema {
    /// Whether leaving it out is a mistake.
    const REQUIRED: bool;

    /// Whether it is one value, which may say itself that the maker says nothing.
    const SINGLE: bool = false;

    /// Its schema; an optional one is left out, never null.
    fn schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        generator.subschema_for::<Self>()
    }

    /// Reads it; never fails as a whole.
    fn read(node: &Node, reading: &mut Reading<'_>) -> Self;

    /// What it is when it is not there; `at` is where it would stand.
    fn absent(at: Span) -> Self;
}

/// A mapping being taken apart field by field.
pub(super) struct Fields<'n> {
    node: &'n Node,
    entries: &'n [(Spanned<String>, Node)],
    taken: Vec<bool>,
    known: Vec<&'static str>,
    missing: Vec<&'static str>,
}

impl<'n> Fields<'n> {
    /// The node as a mapping, or a finding.
    pub(super) fn of(node: &'n Node, what: &str, reading: &mut Reading<'_>) -> Option<Self> {
        if node.silent() {
            return None;
        }
        let Value::Map(entries) = &node.value else {
            reading.wrong_shape(
                node,
                &format!("the fields of {what}"),
                "write its fields below it, one a line as `name: value`, indented by two spaces",
            );
            return None;
        };
        Some(Self {
            node,
            entries,
            taken: vec![false; entries.len()],
            known: Vec::new(),
            missing: Vec::new(),
        })
    }

    pub(super) fn take<F: Field>(&mut self, field: &'static str, reading: &mut Reading<'_>) -> F {
        self.known.push(field);
        let mut found: Option<&'n (Spanned<String>, Node)> = None;
        for (entry, taken) in self.entries.iter().zip(&mut self.taken) {
            if *taken || !same_key(field, &entry.0.value) {
                continue;
            }
            *taken = true;
            if let Some(first) = found {
                let finding = Finding::new(
                    &FIELD_TWICE,
                    entry.0.span,
                    format!("`{}` is given twice", entry.0.value),
                    "keep one of the two lines",
                )
                .label(first.0.span, "first given here");
                reading.report(entry.1.via, finding);
            } else {
                found = Some(entry);
            }
        }
        let outer = std::mem::replace(&mut reading.field, field);
        let value = if let Some((_, node)) = found {
            F::read(node, reading)
        } else {
            if F::REQUIRED {
                self.missing.push(field);
            }
            F::absent(self.node.span)
        };
        reading.field = outer;
        value
    }

    /// What was not asked for is not known; what was and is not there is missing, unless a mistyped key stands for it.
    pub(super) fn finish(mut self, what: &str, reading: &mut Reading<'_>) {
        let left: Vec<&(Spanned<String>, Node)> = self
            .entries
            .iter()
            .zip(&self.taken)
            .filter(|(_, taken)| !**taken)
            .map(|(entry, _)| entry)
            .collect();
        for (key, node) in left {
            let known: Vec<String> = self.known.iter().map(|field| key_of(field)).collect();
            let near = nearest(known.iter().map(String::as_str), &key.value);
            let help = match near {
                Some(near) => format!("write `{near}`"),
                None => format!(
                    "take it out, or {}",
                    choices(known.iter().map(String::as_str), &key.value)
                ),
            };
            if let Some(near) = near {
                self.missing.retain(|field| !same_key(field, near));
            }
            let mut finding = Finding::new(
                &UNKNOWN_FIELD,
                key.span,
                format!("`{}` is not a field of {what}", key.value),
                help,
            );
            if let Some(near) = near {
                finding = finding
                    .measured(
                        Shown::word(key.value.clone()),
                        Relation::Equal,
                        Shown::word(near),
                    )
                    .edit(key.span, near);
            }
            reading.report(node.via, finding);
        }
        if self.missing.is_empty() {
            return;
        }
        let keys: Vec<String> = self.missing.iter().map(|field| key_of(field)).collect();
        let finding = Finding::new(
            &MISSING_FIELD,
            self.node.span,
            format!(
                "`{}` of {what} {} missing",
                keys.join("`, `"),
                if keys.len() == 1 { "is" } else { "are" }
            ),
            match keys.as_slice() {
                [key] => format!("add `{key}:`, or `{key}: {MAKER_SILENT}`"),
                _ => format!("add a line for each, or `{MAKER_SILENT}` where it says nothing"),
            },
        );
        reading.report(self.node.via, finding);
    }
}

/// The known name nearest to `word`: without case first, then by edit distance up to a third of its length.
/// Words of one or two letters are too alike to guess by distance.
pub fn nearest<'k>(known: impl Iterator<Item = &'k str> + Clone, word: &str) -> Option<&'k str> {
    if let Some(same) = known.clone().find(|k| k.eq_ignore_ascii_case(word)) {
        return Some(same);
    }
    let low = word.to_lowercase();
    let longest = |k: &str| k.chars().count().max(low.chars().count());
    known
        .filter(|k| longest(k) > 2)
        .map(|k| (strsim::osa_distance(&k.to_lowercase(), &low), k))
        .filter(|(distance, k)| *distance <= 1.max(longest(k) / 3))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, k)| k)
}

/// `use one of: …`; of a long list the four nearest alone.
pub(super) fn choices<'k>(known: impl Iterator<Item = &'k str>, word: &str) -> String {
    let mut all: Vec<&str> = known.collect();
    if all.len() <= 8 {
        return format!("use one of: {}", all.join(", "));
    }
    let low = word.to_lowercase();
    all.sort_by_cached_key(|k| strsim::osa_distance(&k.to_lowercase(), &low));
    let count = all.len();
    all.truncate(4);
    format!("use one of {count} words, such as: {}", all.join(", "))
}
