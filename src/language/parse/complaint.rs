//! What is said of lines that read as nothing in the table.

use crate::language::all_words;
use crate::language::entry::{Entry, Field, Value};
use crate::language::impossible::impossible;
use crate::language::mend::Misfit;
use crate::language::mistake::{
    GIVEN_TWICE, MISSING_WORD, STRAY_CLOSE, UNCLOSED_BLOCK, UNCLOSED_STRING, UNKNOWN_WORD,
    WORD_MISPLACED, WORDS_LEFT,
};
use crate::language::table::{Need, TOP, Word, possible};
use crate::language::token::TokenKind;
use crate::source::{Finding, Span};

use super::{Groups, Parser, find, nearest};

/// A block as reports name it: its word with its name or title.
pub(super) fn named(entry: &Entry) -> String {
    let word = entry.word.word;
    entry
        .fields
        .iter()
        .find_map(|field| match (&field.value.value, field.slot) {
            (Value::Word(name), "name") => Some(format!("`{word} {name}`")),
            (Value::Text(title), "title") => Some(format!("`{word} \"{title}\"`")),
            _ => None,
        })
        .unwrap_or_else(|| format!("`{word}`"))
}

impl Parser<'_, '_, '_> {
    /// Whether a quote left open between the two places holds the brace that is missed: it is reported already.
    pub(super) fn brace_in_quote(&self, head: Span, here: Span) -> bool {
        self.cursor.tokens.iter().any(|token| {
            token.kind == TokenKind::Unclosed
                && head.start <= token.start
                && token.start < here.start
                && self.cursor.words(*token).contains('}')
        })
    }

    /// Whether the word stands alone on its line, as `end` does.
    pub(super) fn alone(&self) -> bool {
        let before = self
            .cursor
            .at
            .checked_sub(1)
            .and_then(|n| self.cursor.tokens.get(n));
        before.is_none_or(|t| t.kind == TokenKind::Break)
            && self
                .cursor
                .peek_at(1)
                .is_none_or(|t| t.kind == TokenKind::Break)
    }

    /// A word that this block does not know but one around it does, and that opens a block there:
    /// this block was not closed.
    pub(super) fn belongs_above(&mut self, words: &str) -> bool {
        let Some(depth) = self
            .open
            .iter()
            .rposition(|block| find(block.groups, words).is_some())
        else {
            // The top level has no open block of its own.
            return self.at_top(words);
        };
        self.leave_to(depth + 1)
    }

    pub(super) fn at_top(&mut self, words: &str) -> bool {
        if self.open.is_empty() || find(TOP, words).is_none_or(|word| !word.has_block()) {
            return false;
        }
        self.leave_to(0)
    }

    pub(super) fn leave_to(&mut self, depth: usize) -> bool {
        let here = self.cursor.here();
        let Some(block) = self.open.get(depth) else {
            return false;
        };
        self.unwind = Some(depth);
        if self.brace_in_quote(block.head, here) {
            return true;
        }
        let finding = Finding::new(
            &UNCLOSED_BLOCK,
            block.head,
            format!("{} is not closed before the next block begins", block.name),
            "put `}` on a line of its own before it",
        )
        .label(here, "the next block begins here")
        .edit(Span::new(here.file, here.start, here.start), "}\n");
        self.report(finding);
        true
    }

    /// A word misspelt by a letter or two, whose statement names a thing and reads as the word that was meant:
    /// reported once, and the thing is known to what refers to it.
    pub(super) fn misspelt(
        &mut self,
        groups: Groups,
        words: &str,
        entries: &[Entry],
    ) -> Option<Entry> {
        let near = nearest(groups, words)?;
        // Once-only words said already, and files to be brought in, are not what was meant for certain.
        let said = entries.iter().any(|entry| std::ptr::eq(entry.word, near));
        let names = near.pattern.contains("<name:name>") && near.has_block();
        if !names || said && near.need != Need::Many {
            return None;
        }
        let (at, told) = (self.cursor.at, self.loader.findings.len());
        let unclosed = self.loader.unclosed_reported;
        self.unknown_word(groups, words);
        self.cursor.at = at;
        let entry = self.entry(near);
        if entry.flawed || self.unwind.is_some() {
            self.loader.findings.truncate(told);
            self.loader.unclosed_reported = unclosed;
            self.unwind = None;
            self.cursor.at = at;
            return None;
        }
        Some(entry)
    }

    /// A brace at the end of a statement, where the lines after it still belong to the block: it closes too early.
    pub(super) fn too_early(&mut self, groups: Groups) -> bool {
        let Some(block) = self.open.last() else {
            return false;
        };
        let text = self.cursor.text;
        let line_start = |at: u32| {
            let before = text.get(..at as usize).unwrap_or("");
            before.rfind('\n').map_or(0, |n| n + 1)
        };
        let indent = |start: usize| {
            let line = text.get(start..).unwrap_or("");
            line.len() - line.trim_start_matches([' ', '\t']).len()
        };
        let here = self.cursor.here();
        let (own, head) = (line_start(here.start), line_start(block.head.start));
        let alone = text
            .get(own..here.start as usize)
            .is_none_or(|before| before.trim().is_empty());
        let rest = self.cursor.tokens.get(self.cursor.at + 1..).unwrap_or(&[]);
        let ends = rest.first().is_some_and(|t| t.kind == TokenKind::Break);
        let next = rest.iter().find(|token| token.kind != TokenKind::Break);
        let goes_on = next.is_some_and(|token| {
            token.kind == TokenKind::Word
                && find(groups, self.cursor.words(*token)).is_some()
                && indent(line_start(token.start)) > indent(head)
        });
        if own == head || alone || !ends || !goes_on {
            return false;
        }
        let finding = Finding::new(
            &STRAY_CLOSE,
            here,
            format!("this `}}` closes {} before its last line", block.name),
            "take it out",
        )
        .edit(here, "");
        self.report(finding);
        self.cursor.at += 1;
        true
    }

    pub(super) fn unknown_word(&mut self, groups: Groups, words: &str) -> Option<&'static str> {
        let span = self.cursor.here();
        let near = nearest(groups, words);
        let inside = self.open.last().map_or_else(
            || "the file's top level".to_owned(),
            |block| block.name.clone(),
        );
        let elsewhere = all_words()
            .into_iter()
            .find(|(path, word)| word.word == words && !path.is_empty());
        let help = match (near, elsewhere) {
            (Some(near), _) => format!("write `{}`, as in `{}`", near.word, near.example),
            (None, Some((path, _))) => format!("it belongs into a block `{}`", path.join(" … ")),
            (None, None) => {
                let known: Vec<&str> = groups
                    .iter()
                    .copied()
                    .flatten()
                    .take(8)
                    .map(|word| word.word)
                    .collect();
                format!("{inside} knows words such as `{}`", known.join("`, `"))
            }
        };
        let mut finding = Finding::new(
            &UNKNOWN_WORD,
            span,
            format!("`{words}` is not a word of {inside}"),
            help,
        );
        if let Some(near) = near {
            finding = finding.edit(span, near.word);
        }
        self.report(finding);
        self.skip(groups);
        near.map(|word| word.word)
    }

    pub(super) fn no_word(&mut self, kind: TokenKind) {
        let span = self.cursor.rest_of_clause();
        let groups = self.open.last().map_or(TOP, |block| block.groups);
        let finding = match kind {
            TokenKind::Unclosed => Finding::new(
                &UNCLOSED_STRING,
                self.cursor.here(),
                "this quote is not closed on its line",
                "put the closing `\"`",
            ),
            TokenKind::Open => Finding::new(
                &WORD_MISPLACED,
                self.cursor.here(),
                "this block has no word before it",
                "put the word and name before `{`, as in `room den on first {`",
            ),
            _ => Finding::new(
                &WORDS_LEFT,
                span,
                "a statement starts with a word, and this does not",
                "put the word before it, or take it out",
            ),
        };
        self.report(finding);
        self.skip(groups);
    }

    pub(super) fn words_left(&self, word: &'static Word) -> Finding {
        let span = self.cursor.rest_of_clause();
        let next = self.cursor.peek_words();
        let groups = self.open.last().map_or(TOP, |block| block.groups);
        let begins = find(groups, next).or_else(|| find(word.body, next));
        let help = match begins {
            Some(next) => format!("put a comma or a new line before `{}`", next.word),
            None if matches!(next, "=" | ":") => {
                format!("leave `{next}` out, as in `{}`", word.example)
            }
            None if word.pattern.contains(&format!(", {next} ")) => {
                format!("put a comma before `{next}`, as in `{}`", word.example)
            }
            None if next == ";" => "a comma or a new line ends a statement".to_owned(),
            None => format!("write it as in `{}`", word.example),
        };
        let finding = Finding::new(
            &WORDS_LEFT,
            span,
            format!("these words do not belong to `{}`", word.word),
            help,
        );
        if begins.is_some() {
            let before = self.cursor.end_of_last();
            return finding.edit(before, ",");
        }
        finding
    }

    pub(super) fn missing(&mut self, entry: &Entry, meant: &[&'static str]) {
        let lacking: Vec<&'static Word> = entry
            .word
            .body
            .iter()
            .copied()
            .flatten()
            .filter(|word| {
                word.need == Need::One
                    && !meant.contains(&word.word)
                    && entry.child(word.word).is_none()
            })
            .collect();
        let Some(first) = lacking.first() else { return };
        // A quote left open swallows the rest of its line, where the lacking words may stand.
        let swallowed = self.cursor.tokens.iter().any(|token| {
            token.kind == TokenKind::Unclosed
                && entry.whole.start <= token.start
                && token.start < entry.whole.end
        });
        if swallowed {
            return;
        }
        let words: Vec<String> = lacking
            .iter()
            .map(|word| format!("`{}`", word.word))
            .collect();
        self.report(Finding::new(
            &MISSING_WORD,
            entry.span,
            format!("{} lacks {}", named(entry), words.join(" and ")),
            format!(
                "add a line such as `{}`; a value not known yet is `to measure`",
                first.example
            ),
        ));
    }

    pub(super) fn twice(&mut self, groups: Groups, entries: &[Entry], entry: &Entry) {
        let once = groups
            .iter()
            .copied()
            .flatten()
            .any(|w| w.word == entry.word.word && w.need != Need::Many);
        if !once {
            return;
        }
        if let Some(first) = entries
            .iter()
            .find(|other| std::ptr::eq(other.word, entry.word))
        {
            let finding = Finding::new(
                &GIVEN_TWICE,
                entry.span,
                format!("`{}` is said twice", entry.word.word),
                "keep the right one",
            )
            .label(first.span, "first given here")
            .edit(entry.span, "");
            self.report(finding);
        }
    }

    /// Reports a misfit with the change of one word that would make the statement read, where there is one:
    /// then the statement counts as it reads with it.
    pub(super) fn report_misfit(
        &mut self,
        word: &'static Word,
        word_span: Span,
        mut finding: Finding,
    ) -> Option<Vec<Field>> {
        let misfit = Misfit {
            cursor: &self.cursor,
            lets: &self.loader.lets,
            word,
            start: word_span.start,
        };
        let mended = finding
            .edits
            .is_empty()
            .then(|| misfit.mend())
            .flatten()
            .map(|mended| {
                if mended.mend.whole {
                    finding.span = mended.mend.edit.span;
                }
                finding.help = mended.mend.help;
                finding.edits.push(mended.mend.edit);
                (mended.fields, mended.end)
            });
        self.report(finding);
        let (fields, end) = mended?;
        self.cursor.at = self
            .cursor
            .tokens
            .iter()
            .position(|token| token.start >= end)
            .unwrap_or(self.cursor.tokens.len());
        Some(fields)
    }

    /// Amounts that cannot be are reported here, and what depends on them stays silent.
    pub(super) fn refuse_impossible(&mut self, word: &'static Word, fields: &mut [Field]) {
        for field in fields {
            let Value::Amount(quantity) = field.value.value else {
                continue;
            };
            let Some(possible) = possible(word.word, quantity.dimension)
                .filter(|possible| !possible.holds(quantity.real()))
            else {
                continue;
            };
            let span = field.value.span;
            let words = self
                .cursor
                .text
                .get(span.start as usize..span.end as usize)
                .unwrap_or("");
            let finding = impossible(possible, quantity.real(), words, span, word.example);
            field.value.value = Value::Bad;
            self.report(finding);
        }
    }
}
