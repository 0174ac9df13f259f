//! YAML text → [`Node`]s. The only file that names the YAML crate.
//!
//! The tree is built from the parser's own events rather than through `serde`: a catalog is read on every run, its
//! values stay words, and the places of keys and values come with each event.

use std::borrow::Cow;
use std::collections::BTreeSet;

use serde_yaml::granit_parser::{Event, Marker, Options, Parser, ScalarStyle, StrInput, Tag};

use super::node::{Node, Value};
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

/// Lists and mappings inside each other, at most: more than any catalog needs.
const DEEPEST: usize = 32;
/// Values in a file, those behind aliases counted at each use: a file of that size is already a mistake.
const MOST_VALUES: usize = 100_000;
/// Bytes of words, counted likewise: a long word behind an alias fills the memory as well as many short ones.
const MOST_BYTES: usize = 4_000_000;
/// Anchors in a file, each looked for at every alias.
const MOST_ANCHORS: usize = 2_000;
/// The key that takes over the lines of another mapping (YAML 1.1, merge type).
const MERGE: &str = "<<";

/// Why reading stopped, and where.
struct Stopped {
    words: Cow<'static, str>,
    at: Span,
    help: &'static str,
}

const CLOSE_WHAT_IS_OPEN: &str = "close what is open on this line or the one above, and indent with spaces as the neighbouring lines do";

const SPLIT: &str = "split the catalog into files, one for a family";

/// What an `&anchor` stands on.
struct Anchored {
    id: usize,
    /// Nothing as long as the value is still being read.
    node: Option<Node>,
}

struct Reader<'a> {
    file: FileId,
    text: &'a str,
    events: Parser<'a, StrInput<'a>>,
    anchors: Vec<Anchored>,
    /// Read so far.
    read: Size,
}

/// How much a value holds.
#[derive(Clone, Copy, Default)]
struct Size {
    values: usize,
    bytes: usize,
}

impl Size {
    fn plus(self, other: Self) -> Self {
        Self {
            values: self.values.saturating_add(other.values),
            bytes: self.bytes.saturating_add(other.bytes),
        }
    }

    fn of(node: &Node) -> Self {
        let own = Self {
            values: 1,
            bytes: 0,
        };
        match &node.value {
            Value::Nothing => own,
            Value::Words(words) => Self {
                bytes: words.len(),
                ..own
            },
            Value::List(items) => items.iter().map(Self::of).fold(own, Self::plus),
            Value::Map(entries) => entries
                .iter()
                .map(|(key, value)| {
                    let key = Self {
                        values: 1,
                        bytes: key.value.len(),
                    };
                    key.plus(Self::of(value))
                })
                .fold(own, Self::plus),
        }
    }
}

/// One node's event with its place.
type Placed<'a> = (Event<'a>, Span);

/// Reads the whole text; a text that is no YAML is one finding and no tree.
pub(super) fn tree(file: FileId, text: &str, findings: &mut Vec<Finding>) -> Option<Node> {
    let mut reader = Reader {
        file,
        text,
        events: Parser::new_from_str_with_options(text, options()),
        anchors: Vec::new(),
        read: Size::default(),
    };
    match reader.document() {
        Ok(node) => Some(node),
        Err(stopped) => {
            let at = line_rest(text, stopped.at);
            let words = format!("this is not YAML from here on: {}", stopped.words);
            findings.push(Finding::new(&UNREADABLE_CATALOG, at, words, stopped.help));
            None
        }
    }
}

fn options() -> Options {
    let mut options = Options::default();
    options.flow_nesting_limit = DEEPEST;
    options.block_nesting_limit = DEEPEST;
    options
}

impl<'a> Reader<'a> {
    fn stopped(at: Span, words: impl Into<Cow<'static, str>>, help: &'static str) -> Stopped {
        Stopped {
            words: words.into(),
            at,
            help,
        }
    }

    /// The next event; the end of the text where there is none.
    fn next(&mut self) -> Result<Placed<'a>, Stopped> {
        match self.events.next_event() {
            Some(Ok((event, span))) => {
                let at = self.span(span.start, span.end);
                Ok((event, at))
            }
            Some(Err(error)) => {
                let at = self.point(*error.marker());
                let words = error.info();
                let first = words.lines().next().unwrap_or("").trim();
                let first = first.trim_end_matches(['.', ':', ',']).to_owned();
                Err(Self::stopped(at, first, CLOSE_WHAT_IS_OPEN))
            }
            None => Ok((Event::StreamEnd, Span::new(self.file, 0, 0))),
        }
    }

    fn document(&mut self) -> Result<Node, Stopped> {
        let mut root = None;
        loop {
            let (event, at) = self.next()?;
            match event {
                Event::StreamEnd => break,
                Event::StreamStart | Event::DocumentEnd => {}
                Event::DocumentStart(..) if root.is_some() => {
                    return Err(Self::stopped(
                        at,
                        "a second document starts here",
                        "keep one catalog to a file: move what follows into a file of its own",
                    ));
                }
                Event::DocumentStart(..) => {}
                event => root = Some(self.node((event, at), None, 0)?),
            }
        }
        Ok(root.unwrap_or(Node {
            value: Value::Nothing,
            span: Span::new(self.file, 0, 0),
            via: None,
        }))
    }

    /// `under` is the key that a list or mapping stands under.
    fn node(
        &mut self,
        (event, own): Placed<'a>,
        under: Option<Span>,
        depth: usize,
    ) -> Result<Node, Stopped> {
        let bytes = match &event {
            Event::Scalar(words, ..) => words.len(),
            _ => 0,
        };
        self.count(Size { values: 1, bytes }, own)?;
        let (anchor, node) = match event {
            Event::Scalar(words, style, anchor, tag) => {
                (anchor, scalar(words, style, tag, own, under))
            }
            Event::SequenceStart(_, anchor, _) => {
                self.open(anchor, own)?;
                (anchor, self.list(own, under, Self::deeper(depth, own)?)?)
            }
            Event::MappingStart(_, anchor, _) => {
                self.open(anchor, own)?;
                (anchor, self.map(own, under, Self::deeper(depth, own)?)?)
            }
            Event::Alias(id) => return self.alias(id, own, under),
            _ => {
                return Err(Self::stopped(
                    own,
                    "a value is missing here",
                    CLOSE_WHAT_IS_OPEN,
                ));
            }
        };
        if anchor != 0 {
            self.open(anchor, own)?;
            // The copy that aliases are made from counts as well.
            self.count(Size::of(&node), own)?;
            if let Some(open) = self.anchors.iter_mut().rfind(|one| one.id == anchor) {
                open.node = Some(node.clone());
            }
        }
        Ok(node)
    }

    fn open(&mut self, id: usize, at: Span) -> Result<(), Stopped> {
        if id != 0 && self.anchors.last().is_none_or(|last| last.id < id) {
            if self.anchors.len() >= MOST_ANCHORS {
                return Err(Self::stopped(
                    at,
                    format!("more than {MOST_ANCHORS} anchors stand in one file"),
                    SPLIT,
                ));
            }
            self.anchors.push(Anchored { id, node: None });
        }
        Ok(())
    }

    fn deeper(depth: usize, at: Span) -> Result<usize, Stopped> {
        if depth < DEEPEST {
            return Ok(depth + 1);
        }
        Err(Self::stopped(
            at,
            format!("more than {DEEPEST} lists and mappings stand inside each other"),
            "write the value on fewer levels",
        ))
    }

    fn count(&mut self, size: Size, at: Span) -> Result<(), Stopped> {
        self.read = self.read.plus(size);
        if self.read.bytes > MOST_BYTES {
            return Err(Self::stopped(
                at,
                format!(
                    "more than {MOST_BYTES} letters stand in one file, aliases counted at each use"
                ),
                SPLIT,
            ));
        }
        if self.read.values <= MOST_VALUES {
            return Ok(());
        }
        Err(Self::stopped(
            at,
            format!(
                "more than {MOST_VALUES} values stand in one file, aliases counted at each use"
            ),
            SPLIT,
        ))
    }

    fn list(&mut self, own: Span, under: Option<Span>, depth: usize) -> Result<Node, Stopped> {
        let mut items = Vec::new();
        loop {
            let (event, at) = self.next()?;
            if event == Event::SequenceEnd {
                break;
            }
            items.push(self.node((event, at), None, depth)?);
        }
        Ok(Node {
            span: under
                .or_else(|| items.first().map(|node| node.span))
                .unwrap_or(own),
            value: Value::List(items),
            via: None,
        })
    }

    fn map(&mut self, own: Span, under: Option<Span>, depth: usize) -> Result<Node, Stopped> {
        let mut entries: Vec<(Spanned<String>, Node)> = Vec::new();
        let mut merged = Vec::new();
        loop {
            let (event, at) = self.next()?;
            if event == Event::MappingEnd {
                break;
            }
            let merges = matches!(
                &event,
                Event::Scalar(words, ScalarStyle::Plain, _, None) if words == MERGE
            );
            let key = self.node((event, at), None, depth)?;
            let next = self.next()?;
            if merges {
                let taken = self.node(next, Some(key.span), depth)?;
                Self::merge(taken, &mut merged)?;
                continue;
            }
            let words = match key.value {
                Value::Words(words) => words,
                _ => self.words(at).to_owned(),
            };
            let value = self.node(next, Some(key.span), depth)?;
            entries.push((Spanned::new(words, key.span), value));
        }
        // What stands here itself goes before what is taken over, and of that the first.
        if !merged.is_empty() {
            let own = entries.iter().map(|(key, _)| key.value.clone());
            let mut known: BTreeSet<String> = own.collect();
            for (key, value) in merged {
                if known.insert(key.value.clone()) {
                    entries.push((key, value));
                }
            }
        }
        Ok(Node {
            span: under
                .or_else(|| entries.first().map(|(key, _)| key.span))
                .unwrap_or(own),
            value: Value::Map(entries),
            via: None,
        })
    }

    fn merge(taken: Node, into: &mut Vec<(Spanned<String>, Node)>) -> Result<(), Stopped> {
        match taken.value {
            Value::Map(entries) => {
                into.extend(entries);
                Ok(())
            }
            Value::List(items) => items
                .into_iter()
                .try_for_each(|item| Self::merge(item, into)),
            Value::Nothing => Ok(()),
            Value::Words(_) => Err(Self::stopped(
                taken.span,
                "`<<` takes over the lines of a mapping, and this is none",
                "name the mapping by its alias: `<<: *name`",
            )),
        }
    }

    /// The value behind an alias, every part of it reached through this place.
    fn alias(&mut self, id: usize, at: Span, under: Option<Span>) -> Result<Node, Stopped> {
        let known = self.anchors.iter().rfind(|one| one.id == id);
        let Some(node) = known.and_then(|one| one.node.as_ref()) else {
            return Err(Self::stopped(
                at,
                "this alias stands inside the value that it names",
                "write the inner value out",
            ));
        };
        let size = Size::of(node);
        let mut node = node.clone();
        self.count(size, at)?;
        reached_through(&mut node, at);
        if let (Value::List(_) | Value::Map(_), Some(key)) = (&node.value, under) {
            node.span = key;
        }
        Ok(node)
    }

    fn words(&self, at: Span) -> &'a str {
        self.text
            .get(at.start as usize..at.end as usize)
            .unwrap_or("")
            .trim()
    }

    fn span(&self, start: Marker, end: Marker) -> Span {
        let byte = |mark: Marker| mark.byte_offset().and_then(|at| u32::try_from(at).ok());
        match (byte(start), byte(end)) {
            (Some(start), Some(end)) if start <= end && end as usize <= self.text.len() => {
                Span::new(self.file, start, end)
            }
            _ => Span::new(self.file, 0, 0),
        }
    }

    /// The point that an error speaks of, by its line and column.
    fn point(&self, mark: Marker) -> Span {
        let start: usize = self
            .text
            .split_inclusive('\n')
            .take(mark.line().saturating_sub(1))
            .map(str::len)
            .sum();
        let rest = self.text.get(start..).unwrap_or("");
        let rest = rest.lines().next().unwrap_or("");
        let within = rest
            .char_indices()
            .nth(mark.col())
            .map_or(rest.len(), |(at, _)| at);
        let at = u32::try_from(start + within).unwrap_or(u32::MAX);
        Span::new(self.file, at, at)
    }
}

fn scalar(
    words: Cow<'_, str>,
    style: ScalarStyle,
    tag: Option<Cow<'_, Tag>>,
    own: Span,
    under: Option<Span>,
) -> Node {
    let text = tag.is_some_and(|tag| tag.core_suffix() == Some("str"));
    let nothing = style == ScalarStyle::Plain
        && !text
        && matches!(&*words, "" | "~" | "null" | "Null" | "NULL");
    if nothing {
        return Node {
            value: Value::Nothing,
            span: if own.is_empty() {
                under.unwrap_or(own)
            } else {
                own
            },
            via: None,
        };
    }
    Node {
        value: Value::Words(words.into_owned()),
        span: own,
        via: None,
    }
}

fn reached_through(node: &mut Node, alias: Span) {
    node.via = Some(alias);
    match &mut node.value {
        Value::Nothing | Value::Words(_) => {}
        Value::List(items) => items
            .iter_mut()
            .for_each(|item| reached_through(item, alias)),
        Value::Map(entries) => entries
            .iter_mut()
            .for_each(|(_, value)| reached_through(value, alias)),
    }
}

/// An empty place grows to the words from there to the line's end, or of the line before it.
fn line_rest(text: &str, at: Span) -> Span {
    if !at.is_empty() {
        return at;
    }
    let byte = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let start = text.len().min(at.start as usize);
    let after = text.get(start..).unwrap_or("");
    let line = after.lines().next().unwrap_or("");
    if !line.trim().is_empty() {
        let end = start + line.trim_end().len();
        return Span::new(at.file, byte(start), byte(end));
    }
    let before = text.get(..start).unwrap_or("").trim_end();
    let from = before.rfind('\n').map_or(0, |n| n + 1);
    Span::new(at.file, byte(from), byte(before.len()))
}

#[cfg(test)]
mod tests;
