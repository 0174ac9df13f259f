//! YAML text → [`Node`]s. Only here and in `yaml/place.rs` the YAML crate is named.
//!
//! The tree is built from the parser's own events rather than through `serde`: a catalog is read on every run, its
//! values stay words, and the places of keys and values come with each event.

mod anchors;
mod place;
mod size;
mod stopped;

use std::borrow::Cow;
use std::collections::BTreeSet;

use serde_yaml::granit_parser::{Event, Options, Parser, ScalarStyle, StrInput, Tag};

use self::anchors::{Anchors, reached_through};
use self::place::{Page, line_rest};
use self::size::Size;
use self::stopped::{CLOSE_WHAT_IS_OPEN, Stopped};
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

/// The key that takes over the lines of another mapping (YAML 1.1, merge type).
const MERGE: &str = "<<";

struct Reader<'a> {
    page: Page<'a>,
    events: Parser<'a, StrInput<'a>>,
    anchors: Anchors,
    /// Read so far.
    read: Size,
}

/// One node's event with its place.
type Placed<'a> = (Event<'a>, Span);

/// Reads the whole text; a text that is no YAML is one finding and no tree.
pub(super) fn tree(file: FileId, text: &str, findings: &mut Vec<Finding>) -> Option<Node> {
    let mut reader = Reader {
        page: Page { file, text },
        events: Parser::new_from_str_with_options(text, options()),
        anchors: Anchors::default(),
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
    /// The next event; the end of the text where there is none.
    fn next(&mut self) -> Result<Placed<'a>, Stopped> {
        match self.events.next_event() {
            Some(Ok((event, span))) => {
                let at = self.page.span(span.start, span.end);
                Ok((event, at))
            }
            Some(Err(error)) => {
                let at = self.page.point(*error.marker());
                let words = error.info();
                let first = words.lines().next().unwrap_or("").trim();
                let first = first.trim_end_matches(['.', ':', ',']).to_owned();
                Err(Stopped::new(at, first, CLOSE_WHAT_IS_OPEN))
            }
            None => Ok((Event::StreamEnd, Span::new(self.page.file, 0, 0))),
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
                    return Err(Stopped::new(
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
            span: Span::new(self.page.file, 0, 0),
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
        self.read.count(Size { values: 1, bytes }, own)?;
        let (anchor, node) = match event {
            Event::Scalar(words, style, anchor, tag) => {
                (anchor, scalar(words, style, tag, own, under))
            }
            Event::SequenceStart(_, anchor, _) => {
                self.anchors.open(anchor, own)?;
                (anchor, self.list(own, under, Self::deeper(depth, own)?)?)
            }
            Event::MappingStart(_, anchor, _) => {
                self.anchors.open(anchor, own)?;
                (anchor, self.map(own, under, Self::deeper(depth, own)?)?)
            }
            Event::Alias(id) => return self.alias(id, own, under),
            _ => {
                return Err(Stopped::new(
                    own,
                    "a value is missing here",
                    CLOSE_WHAT_IS_OPEN,
                ));
            }
        };
        if anchor != 0 {
            self.anchors.open(anchor, own)?;
            // The copy that aliases are made from counts as well.
            self.read.count(Size::of(&node), own)?;
            self.anchors.close(anchor, &node);
        }
        Ok(node)
    }

    fn deeper(depth: usize, at: Span) -> Result<usize, Stopped> {
        if depth < DEEPEST {
            return Ok(depth + 1);
        }
        Err(Stopped::new(
            at,
            format!("more than {DEEPEST} lists and mappings stand inside each other"),
            "write the value on fewer levels",
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
                _ => self.page.words(at).to_owned(),
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
            Value::Words(_) => Err(Stopped::new(
                taken.span,
                "`<<` takes over the lines of a mapping, and this is none",
                "name the mapping by its alias: `<<: *name`",
            )),
        }
    }

    /// The value behind an alias, every part of it reached through this place.
    fn alias(&mut self, id: usize, at: Span, under: Option<Span>) -> Result<Node, Stopped> {
        let node = self.anchors.get(id, at)?;
        let size = Size::of(node);
        let mut node = node.clone();
        self.read.count(size, at)?;
        reached_through(&mut node, at);
        if let (Value::List(_) | Value::Map(_), Some(key)) = (&node.value, under) {
            node.span = key;
        }
        Ok(node)
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

#[cfg(test)]
mod tests;
