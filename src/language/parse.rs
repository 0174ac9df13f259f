//! Blocks and statements: reads a file's tokens against the table, with a block stack of its own,
//! so that a missing brace costs one finding and a bad line costs that line.

use crate::source::{FileId, Finding, Span};

use super::cursor::Cursor;
use super::entry::{Entry, Value};
use super::load::Loader;
use super::matcher::Match;
use super::mistake::{
    STRAY_CLOSE, TOO_DEEP, UNCLOSED_BLOCK, VERSION_MISSING, WORD_MISPLACED, WORDS_LEFT,
};
use super::table::{TOP, Word};
use super::token::{TokenKind, tokens};
use super::word_distance;

use complaint::named;

mod complaint;

/// How deep blocks may stand in one another.
const DEEPEST: usize = 32;

/// The words that a block knows.
type Groups = &'static [&'static [Word]];

fn find(groups: Groups, words: &str) -> Option<&'static Word> {
    groups
        .iter()
        .copied()
        .flatten()
        .find(|word| word.word == words)
}

fn nearest(groups: Groups, words: &str) -> Option<&'static Word> {
    groups
        .iter()
        .copied()
        .flatten()
        .map(|word| (word_distance(word.word, words), word))
        .filter(|(distance, word)| *distance <= 1 + word.word.len() / 5)
        .min_by_key(|(distance, word)| (*distance, word.word))
        .map(|(_, word)| word)
}

struct OpenBlock {
    groups: Groups,
    head: Span,
    name: String,
}

/// Reads one file into entries; included files are read where they stand.
pub(super) fn read_file(
    loader: &mut Loader<'_>,
    file: FileId,
    text: &str,
    main: bool,
) -> Vec<Entry> {
    let all = tokens(text);
    let kept: Vec<_> = all
        .into_iter()
        .filter(|token| !token.kind.is_trivia())
        .collect();
    let cursor = Cursor {
        text,
        tokens: &kept,
        at: 0,
        file,
    };
    let mut parser = Parser {
        loader,
        cursor,
        open: Vec::new(),
        unwind: None,
    };
    parser.version(main);
    parser.body(TOP).0
}

struct Parser<'l, 'r, 'a> {
    loader: &'l mut Loader<'r>,
    cursor: Cursor<'a>,
    open: Vec<OpenBlock>,
    /// Set when a block was found unclosed: the number of open blocks to go back to.
    unwind: Option<usize>,
}

impl Parser<'_, '_, '_> {
    fn report(&mut self, finding: Finding) {
        self.loader.findings.push(finding);
    }

    fn version(&mut self, main: bool) {
        while self
            .cursor
            .peek()
            .is_some_and(|t| t.kind == TokenKind::Break)
        {
            self.cursor.at += 1;
        }
        let here = self.cursor.here();
        if self.cursor.peek_words() != "bayrun" {
            if main {
                let shown = if here.is_empty() {
                    here
                } else {
                    self.cursor.rest_of_clause()
                };
                let finding = Finding::new(
                    &VERSION_MISSING,
                    shown,
                    "the file does not start with the language version",
                    "put `bayrun 1` on the first line",
                )
                .edit(Span::new(here.file, 0, 0), "bayrun 1\n");
                self.report(finding);
            }
            return;
        }
        self.cursor.at += 1;
        let version = self.cursor.peek_words();
        let over = self.cursor.clause_over();
        if version == "1" {
            self.cursor.at += 1;
            return;
        }
        let span = if over { here } else { self.cursor.here() };
        let message = if over {
            "the language version lacks its number".to_owned()
        } else {
            format!("language version `{version}` is not one that this program reads")
        };
        let edit = Span::new(
            here.file,
            here.start,
            if over { here.end } else { span.end },
        );
        self.report(
            Finding::new(&VERSION_MISSING, span, message, "write `bayrun 1`")
                .edit(edit, "bayrun 1"),
        );
        while self
            .cursor
            .peek()
            .is_some_and(|t| t.kind != TokenKind::Break)
        {
            self.cursor.at += 1;
        }
    }

    /// Reads statements up to the block's end; says whether part of it was wrong, and where it ended.
    fn body(&mut self, groups: Groups) -> (Vec<Entry>, bool, Vec<&'static str>) {
        let mut entries: Vec<Entry> = Vec::new();
        let mut flawed = false;
        // Words that a misspelt one was most likely meant to be: not reported as missing as well.
        let mut meant: Vec<&'static str> = Vec::new();
        loop {
            if self.unwind.is_some() {
                return (entries, true, meant);
            }
            let Some(token) = self.cursor.peek() else {
                return (entries, flawed, meant);
            };
            match token.kind {
                TokenKind::Break | TokenKind::Comma => self.cursor.at += 1,
                TokenKind::Close => {
                    if self.too_early(groups) {
                        flawed = true;
                        continue;
                    }
                    if !self.open.is_empty() {
                        return (entries, flawed, meant);
                    }
                    let span = self.cursor.span(token);
                    self.cursor.at += 1;
                    self.report(
                        Finding::new(&STRAY_CLOSE, span, "this `}` closes nothing", "take it out")
                            .edit(span, ""),
                    );
                }
                TokenKind::Word => {
                    let words = self.cursor.words(token);
                    if words == "end"
                        && !self.open.is_empty()
                        && find(groups, "end").is_none()
                        && self.alone()
                    {
                        return (entries, flawed, meant);
                    }
                    match find(groups, words) {
                        Some(word) => {
                            let entry = self.entry(word);
                            flawed |= entry.flawed;
                            self.twice(groups, &entries, &entry);
                            let included = self.bring_in(&entry);
                            entries.push(entry);
                            entries.extend(included);
                        }
                        None if self.belongs_above(words) => return (entries, true, meant),
                        None => {
                            if let Some(entry) = self.misspelt(groups, words, &entries) {
                                entries.push(entry);
                                continue;
                            }
                            flawed = true;
                            meant.extend(self.unknown_word(groups, words));
                        }
                    }
                }
                _ => {
                    flawed = true;
                    self.no_word(token.kind);
                }
            }
        }
    }

    /// Goes on to the next statement: past commas that are followed by no known word, past whole blocks.
    fn skip(&mut self, groups: Groups) {
        let mut depth = 0_usize;
        let mut first = true;
        while let Some(token) = self.cursor.peek() {
            match token.kind {
                TokenKind::Open => depth += 1,
                TokenKind::Close if depth == 0 => return,
                TokenKind::Close => depth -= 1,
                TokenKind::Break if depth == 0 => return,
                TokenKind::Comma if depth == 0 && !first => {
                    let known = self.cursor.peek_at(1).is_some_and(|t| {
                        t.kind == TokenKind::Word && find(groups, self.cursor.words(t)).is_some()
                    });
                    if known {
                        return;
                    }
                }
                // A block that is skipped and never closed must not swallow the house.
                TokenKind::Word if depth > 0 => {
                    let starts = self
                        .cursor
                        .at
                        .checked_sub(1)
                        .and_then(|n| self.cursor.tokens.get(n))
                        .is_some_and(|t| t.kind == TokenKind::Break);
                    let words = self.cursor.words(token);
                    if starts
                        && find(TOP, words).is_some_and(Word::has_block)
                        && find(groups, words).is_none()
                    {
                        return;
                    }
                }
                _ => {}
            }
            first = false;
            self.cursor.at += 1;
        }
    }

    fn entry(&mut self, word: &'static Word) -> Entry {
        let word_span = self.cursor.here();
        self.cursor.at += 1;
        let mut matching = Match {
            cursor: &mut self.cursor,
            lets: &self.loader.lets,
            word: word.word,
            example: word.example,
            fields: Vec::new(),
        };
        let fit = matching.read(&word.shape().elements);
        let mut fields = matching.fields;
        let mut flawed = false;
        let misfit = match fit {
            Err(finding) => Some(*finding),
            Ok(()) if self.cursor.clause_over() => None,
            Ok(()) => Some(self.words_left(word)),
        };
        if let Some(finding) = misfit {
            // `24O` is neither 24 nor anything else, and `6 in 16 ft` is neither the one nor the other.
            let touches = self.cursor.here().start == self.cursor.end_of_last().end
                || self
                    .cursor
                    .peek()
                    .is_some_and(|token| token.kind == TokenKind::Number);
            if let Some(mended) = self.report_misfit(word, word_span, finding) {
                fields = mended;
            } else {
                flawed = true;
                if let (Some(last), true) = (fields.last_mut(), touches) {
                    last.value.value = Value::Bad;
                }
                self.pass_clause(word);
            }
        }
        self.refuse_impossible(word, &mut fields);
        let span = word_span.to(self.cursor.end_of_last());
        let mut entry = Entry {
            word,
            word_span,
            span,
            whole: span,
            fields,
            body: Vec::new(),
            flawed,
            body_flawed: false,
        };
        self.block(&mut entry);
        entry
    }

    /// After a misfit: on to the statement's end, or to its block.
    fn pass_clause(&mut self, word: &'static Word) {
        let groups = self.open.last().map_or(TOP, |block| block.groups);
        while let Some(token) = self.cursor.peek() {
            match token.kind {
                TokenKind::Break | TokenKind::Close => return,
                TokenKind::Open if word.has_block() => return,
                TokenKind::Open => return self.skip(groups),
                TokenKind::Comma => {
                    let known = self.cursor.peek_at(1).is_some_and(|t| {
                        t.kind == TokenKind::Word && find(groups, self.cursor.words(t)).is_some()
                    });
                    if known {
                        return;
                    }
                    self.cursor.at += 1;
                }
                _ => self.cursor.at += 1,
            }
        }
    }

    fn block(&mut self, entry: &mut Entry) {
        let word = entry.word;
        let open = self
            .cursor
            .peek()
            .is_some_and(|t| t.kind == TokenKind::Open);
        let brace_lost = !open && word.has_block() && self.body_follows(word);
        if brace_lost {
            let end = self.cursor.end_of_last();
            self.report(
                Finding::new(
                    &WORD_MISPLACED,
                    entry.span,
                    format!("{} lacks the `{{` that opens its block", named(entry)),
                    "put `{` at the end of this line",
                )
                .edit(end, " {"),
            );
        } else if !open {
            if word.has_block() && !entry.flawed {
                self.missing(entry, &[]);
            }
            return;
        }
        let brace = self.cursor.here();
        if !word.has_block() {
            entry.flawed = true;
            self.report(Finding::new(
                &WORD_MISPLACED,
                brace,
                format!("`{}` has no block", word.word),
                format!("write it as in `{}`", word.example),
            ));
            let groups = self.open.last().map_or(TOP, |block| block.groups);
            self.skip(groups);
            return;
        }
        if self.open.len() >= DEEPEST {
            entry.flawed = true;
            self.report(Finding::new(
                &TOO_DEEP,
                brace,
                format!("blocks stand more than {DEEPEST} deep in one another here"),
                "close blocks where they end",
            ));
            self.skip(&[]);
            return;
        }
        if open {
            self.cursor.at += 1;
        }
        let depth = self.open.len();
        self.open.push(OpenBlock {
            groups: word.body,
            head: entry.span,
            name: named(entry),
        });
        let (body, flawed, meant) = self.body(word.body);
        self.open.truncate(depth);
        entry.body = body;
        entry.body_flawed = flawed;
        if let Some(target) = self.unwind {
            if target == depth {
                self.unwind = None;
            }
            entry.whole = entry.span.to(self.cursor.end_of_last());
            return self.missing(entry, &meant);
        }
        match self.cursor.peek() {
            // `}` or a line `end`.
            Some(_) => {
                self.cursor.at += 1;
                entry.whole = entry.span.to(self.cursor.end_of_last());
                self.after_block();
            }
            None => {
                entry.whole = entry.span.to(self.cursor.end_of_last());
                // Several blocks left open by one missing brace: the innermost tells it.
                let end = Span::new(entry.span.file, u32::MAX, u32::MAX);
                if !self.loader.unclosed_reported && !self.brace_in_quote(entry.span, end) {
                    self.loader.unclosed_reported = true;
                    self.report(Finding::new(
                        &UNCLOSED_BLOCK,
                        entry.span,
                        format!("{} is not closed before the file ends", named(entry)),
                        "put `}` where it ends",
                    ));
                }
            }
        }
        self.missing(entry, &meant);
    }

    /// Whether the next line starts with a word of this block that the block around it does not know.
    fn body_follows(&self, word: &'static Word) -> bool {
        let rest = self.cursor.tokens.get(self.cursor.at..).unwrap_or(&[]);
        let around = self.open.last().map_or(TOP, |block| block.groups);
        rest.iter()
            .find(|token| token.kind != TokenKind::Break)
            .is_some_and(|token| {
                let words = self.cursor.words(*token);
                rest.first()
                    .is_some_and(|first| first.kind == TokenKind::Break)
                    && token.kind == TokenKind::Word
                    && find(word.body, words).is_some()
                    && find(around, words).is_none()
            })
    }

    fn after_block(&mut self) {
        if !self.cursor.clause_over() {
            let span = self.cursor.rest_of_clause();
            self.report(Finding::new(
                &WORDS_LEFT,
                span,
                "words follow a closing brace on its line",
                "put them on a line of their own",
            ));
            while !self.cursor.clause_over() {
                self.cursor.at += 1;
            }
        }
    }

    /// An `include` or `let` at the top: reads the file, or keeps the value.
    fn bring_in(&mut self, entry: &Entry) -> Vec<Entry> {
        if !self.open.is_empty() || entry.flawed {
            return Vec::new();
        }
        match entry.word.word {
            "include" => self.loader.include(entry),
            "let" => {
                self.loader.name_value(entry);
                Vec::new()
            }
            _ => Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests;
