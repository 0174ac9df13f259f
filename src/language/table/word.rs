//! A row of the table.

use std::collections::HashMap;
use std::sync::{LazyLock, OnceLock};

use foldhash::fast::RandomState;

use crate::language::pattern::Shape;

/// How often a word may stand in its block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// It has to stand there, once.
    One,
    /// It may stand there, once.
    Maybe,
    /// It may stand there any number of times.
    Many,
}

/// A word of the language.
#[derive(Debug)]
pub struct Word {
    /// The word.
    pub word: &'static str,
    /// What follows it, in the notation of `language/pattern.rs`.
    pub pattern: &'static str,
    /// Groups of words that its block may hold; none when it has no block.
    pub body: &'static [&'static [Word]],
    /// How often it may stand in its block.
    pub need: Need,
    /// What it says, in one sentence.
    pub doc: &'static str,
    /// A line that uses it.
    pub example: &'static str,
}

/// The patterns of the table, each read when it is first asked for. Jobs that are read side by side wait for none.
static SHAPES: LazyLock<HashMap<&'static str, OnceLock<Shape>, RandomState>> =
    LazyLock::new(|| {
        let all = all_words();
        all.iter()
            .map(|(_, word)| (word.pattern, OnceLock::new()))
            .collect()
    });

impl Word {
    /// A word without a block.
    pub(super) const fn plain(
        word: &'static str,
        pattern: &'static str,
        need: Need,
        doc: &'static str,
        example: &'static str,
    ) -> Self {
        Self {
            word,
            pattern,
            body: &[],
            need,
            doc,
            example,
        }
    }

    /// A word with a block.
    pub(super) const fn block(
        word: &'static str,
        pattern: &'static str,
        body: &'static [&'static [Self]],
        need: Need,
        doc: &'static str,
        example: &'static str,
    ) -> Self {
        Self {
            word,
            pattern,
            body,
            need,
            doc,
            example,
        }
    }

    /// What follows it, read once a run. A test reads every pattern of the table, so that none is malformed.
    pub fn shape(&self) -> &'static Shape {
        let read = || Shape::of(self.pattern);
        SHAPES.get(self.pattern).map_or_else(
            || Box::leak(Box::new(read())) as &_,
            |kept| kept.get_or_init(read),
        )
    }

    /// Whether the word opens a block.
    pub const fn has_block(&self) -> bool {
        !self.body.is_empty()
    }
}

/// Every word with the words of the blocks it stands in, top first; each block once.
pub fn all_words() -> Vec<(Vec<&'static str>, &'static Word)> {
    fn walk(
        groups: &'static [&'static [Word]],
        path: &[&'static str],
        out: &mut Vec<(Vec<&'static str>, &'static Word)>,
    ) {
        for word in groups.iter().copied().flatten() {
            out.push((path.to_vec(), word));
            // A branch may hold branches: each word is followed down once.
            if word.has_block() && !path.contains(&word.word) {
                let mut below = path.to_vec();
                below.push(word.word);
                walk(word.body, &below, out);
            }
        }
    }
    let mut out = Vec::new();
    walk(super::TOP, &[], &mut out);
    out
}
