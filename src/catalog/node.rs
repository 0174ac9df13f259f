//! YAML text → a tree in which every key and value knows its place. The only file that names the YAML crate.
//!
//! Scalars stay words here; what they mean is asked later, by whoever knows what should stand there.

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_yaml::{Location, Spanned as Located};

use super::stated::MAKER_SILENT;
use crate::source::{FileId, Finding, Kind, Severity, Span, Spanned, Why};

/// Text that the YAML reader gives up on.
pub(super) const UNREADABLE_CATALOG: Kind = Kind {
    code: "CAT001",
    name: "unreadable_catalog",
    title: "the file cannot be read as YAML",
    severity: Severity::Error,
    source: "YAML 1.2.2",
    why: Why {
        checks: "That a catalog, a file of standards or the root file is YAML at all, and of a size that can be read on every run.",
        on_site: "Nothing in the file counts: every model and every piece of stock that it holds is missing from the job.",
        fix: "Look at the line named: most often a quote is not closed, a line is not indented like its neighbours, or a tab stands where spaces belong.",
    },
};

/// A value of the tree.
#[derive(Clone, Debug)]
pub(super) enum Value {
    /// Nothing after the colon, or `~`.
    Nothing,
    /// Words, with or without quotes.
    Words(String),
    /// `- a` or `[a, b]`.
    List(Vec<Node>),
    /// `key: value` lines, in source order, keys as often as they stand.
    Map(Vec<(Spanned<String>, Node)>),
}

/// A value and where it stands; for lists and mappings, the key they stand under.
#[derive(Clone, Debug)]
pub(super) struct Node {
    /// What stands there.
    pub value: Value,
    /// The place of the words, or of the key over a list or mapping.
    pub span: Span,
    /// The `*alias` through which it was reached, when it was.
    pub via: Option<Span>,
}

impl Node {
    /// Whether the catalog says that the maker says nothing of it.
    pub(super) fn silent(&self) -> bool {
        matches!(&self.value, Value::Words(words) if words.trim() == MAKER_SILENT)
    }
}

#[derive(Debug)]
enum Raw {
    Nothing,
    Words(String),
    /// A number or yes/no: its words are taken from the text itself, so that `12.40` stays `12.40`.
    Plain,
    List(Vec<Located<Raw>>),
    Map(Vec<(Located<Raw>, Located<Raw>)>),
}

impl<'de> Deserialize<'de> for Raw {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Any)
    }
}

/// Takes whatever stands there. At the module's level, because the reader searches the name of each visitor.
struct Any;

impl<'de> Visitor<'de> for Any {
    type Value = Raw;

    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("words, a list or a mapping")
    }
    fn visit_unit<E>(self) -> Result<Raw, E> {
        Ok(Raw::Nothing)
    }
    fn visit_none<E>(self) -> Result<Raw, E> {
        Ok(Raw::Nothing)
    }
    fn visit_bool<E>(self, _: bool) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }
    fn visit_i64<E>(self, _: i64) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }
    fn visit_u64<E>(self, _: u64) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }
    fn visit_i128<E>(self, _: i128) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }
    fn visit_u128<E>(self, _: u128) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }
    fn visit_f64<E>(self, _: f64) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }
    fn visit_str<E>(self, words: &str) -> Result<Raw, E> {
        Ok(Raw::Words(words.to_owned()))
    }
    fn visit_string<E>(self, words: String) -> Result<Raw, E> {
        Ok(Raw::Words(words))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Raw, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = seq.next_element()? {
            list.push(item);
        }
        Ok(Raw::List(list))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Raw, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        Ok(Raw::Map(entries))
    }
}

struct Places<'a> {
    file: FileId,
    text: &'a str,
}

impl Places<'_> {
    fn span(&self, location: Location) -> Option<Span> {
        let span = location.span();
        let start = u32::try_from(span.byte_offset()?).ok()?;
        let end = start.checked_add(u32::try_from(span.byte_len()?).ok()?)?;
        (end as usize <= self.text.len()).then(|| Span::new(self.file, start, end))
    }

    /// The point that an error speaks of: its line and column, where it has no bytes.
    fn point(&self, location: Location) -> Option<Span> {
        if let Some(span) = self.span(location) {
            return Some(span);
        }
        let line = usize::try_from(location.line()).ok()?.checked_sub(1)?;
        let column = usize::try_from(location.column()).ok()?.saturating_sub(1);
        let start: usize = self
            .text
            .split_inclusive('\n')
            .take(line)
            .map(str::len)
            .sum();
        let rest = self.text.get(start..)?.lines().next().unwrap_or("");
        let within = rest
            .char_indices()
            .nth(column)
            .map_or(rest.len(), |(at, _)| at);
        let at = u32::try_from(start + within).ok()?;
        Some(Span::new(self.file, at, at))
    }

    fn words(&self, span: Span) -> &str {
        self.text
            .get(span.start as usize..span.end as usize)
            .unwrap_or("")
            .trim()
    }

    /// `under` is the key that a list or mapping stands under; `via` an alias further out.
    fn node(&self, raw: Located<Raw>, under: Option<Span>, via: Option<Span>) -> Node {
        let own = self
            .span(raw.defined)
            .unwrap_or_else(|| Span::new(self.file, 0, 0));
        let via = if raw.referenced == raw.defined {
            via
        } else {
            self.span(raw.referenced).or(via)
        };
        let over = under.unwrap_or(own);
        match raw.value {
            Raw::Nothing => Node {
                value: Value::Nothing,
                span: if own.is_empty() { over } else { own },
                via,
            },
            Raw::Words(words) => Node {
                value: Value::Words(words),
                span: own,
                via,
            },
            Raw::Plain => Node {
                value: Value::Words(self.words(own).to_owned()),
                span: own,
                via,
            },
            Raw::List(items) => {
                let items: Vec<Node> = items
                    .into_iter()
                    .map(|item| self.node(item, None, via))
                    .collect();
                Node {
                    span: under
                        .or_else(|| items.first().map(|n| n.span))
                        .unwrap_or(own),
                    value: Value::List(items),
                    via,
                }
            }
            Raw::Map(entries) => {
                let entries: Vec<(Spanned<String>, Node)> = entries
                    .into_iter()
                    .map(|(key, value)| {
                        let key = self.node(key, None, via);
                        let words = match key.value {
                            Value::Words(words) => words,
                            _ => self.words(key.span).to_owned(),
                        };
                        let value = self.node(value, Some(key.span), via);
                        (Spanned::new(words, key.span), value)
                    })
                    .collect();
                Node {
                    span: under
                        .or_else(|| entries.first().map(|(key, _)| key.span))
                        .unwrap_or(own),
                    value: Value::Map(entries),
                    via,
                }
            }
        }
    }
}

/// The budgets: a shop file of a megabyte is already a mistake, and 32 levels are more than any catalog needs.
fn options() -> serde_yaml::Options {
    serde_yaml::options! {
        budget: serde_yaml::budget! {
            max_events: 200_000,
            max_aliases: 5_000,
            max_anchors: 2_000,
            max_depth: 32,
            flow_nesting_limit: 32,
            max_documents: 1,
            max_nodes: 100_000,
            max_total_scalar_bytes: 4_000_000,
            max_merge_keys: 2_000,
        },
        duplicate_keys: serde_yaml::DuplicateKeyPolicy::PassThrough,
        alias_limits: serde_yaml::alias_limits! {
            max_total_replayed_events: 200_000,
            max_replay_stack_depth: 16,
        },
        with_snippet: false,
    }
}

/// Reads the whole text; a text that is no YAML is one finding and no tree.
pub(super) fn tree(file: FileId, text: &str, findings: &mut Vec<Finding>) -> Option<Node> {
    let places = Places { file, text };
    match serde_yaml::from_str_with_options::<Located<Raw>>(text, options()) {
        Ok(raw) => Some(places.node(raw, None, None)),
        Err(error) => {
            let at = error
                .location()
                .and_then(|location| places.point(location))
                .unwrap_or_else(|| Span::new(file, 0, 0));
            findings.push(unreadable(&places, at, &error));
            None
        }
    }
}

fn unreadable(places: &Places<'_>, at: Span, error: &serde_yaml::Error) -> Finding {
    let words = error.without_snippet().to_string();
    // The crate's own words end in its place and may take several lines; the place is shown anyway.
    let first = words.lines().next().unwrap_or("").trim();
    let first = first.split(" at line ").next().unwrap_or(first);
    let first = first.trim_end_matches(['.', ':', ',']);
    let at = places.line_rest(at);
    Finding::new(
        &UNREADABLE_CATALOG,
        at,
        format!("this is not YAML from here on: {first}"),
        "close what is open on this line or the one above, and indent with spaces as the neighbouring lines do",
    )
}

impl Places<'_> {
    /// An empty place grows to the words from there to the line's end, or of the line before it.
    fn line_rest(&self, at: Span) -> Span {
        if !at.is_empty() {
            return at;
        }
        let start = self.text.len().min(at.start as usize);
        let after = self.text.get(start..).unwrap_or("");
        let line = after.lines().next().unwrap_or("");
        if !line.trim().is_empty() {
            let end = start + line.trim_end().len();
            return Span::new(
                self.file,
                u32::try_from(start).unwrap_or(u32::MAX),
                u32::try_from(end).unwrap_or(u32::MAX),
            );
        }
        let before = self.text.get(..start).unwrap_or("").trim_end();
        let from = before.rfind('\n').map_or(0, |n| n + 1);
        Span::new(
            self.file,
            u32::try_from(from).unwrap_or(u32::MAX),
            u32::try_from(before.len()).unwrap_or(u32::MAX),
        )
    }
}
