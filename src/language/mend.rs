//! The change of one word that would make a misfit statement read: tried on its text before it is told.

use crate::source::{Edit, Span};

use super::cursor::Cursor;
use super::entry::Field;
use super::load::Lets;
use super::matcher::Match;
use super::pattern::Element;
use super::table::Word;
use super::token::{Token, TokenKind, tokens};
use super::word_distance;

/// A change, and what it is in words.
pub(super) struct Mend {
    pub(super) edit: Edit,
    pub(super) help: String,
    /// Whether the words to change are the whole of what is wrong.
    pub(super) whole: bool,
}

/// A statement as it reads once mended: what is said in it is known, though its words are still wrong.
pub(super) struct Mended {
    pub(super) mend: Mend,
    pub(super) fields: Vec<Field>,
    /// Where the statement ends in the file.
    pub(super) end: u32,
}

/// The literal words of a pattern.
fn literals(elements: &[Element], out: &mut Vec<&'static str>) {
    for element in elements {
        match element {
            Element::Literal(word) => out.push(word),
            Element::Group { parts, .. } => literals(parts, out),
            _ => {}
        }
    }
}

/// `2026/11/20`, or `11/20/2026` as the trade writes it, as the language writes a day.
fn day(text: &str) -> Option<String> {
    let mut parts = text.split(['/', '.']);
    let (one, two, three) = (parts.next()?, parts.next()?, parts.next()?);
    let all = [one, two, three];
    let digits = |part: &&str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    if parts.next().is_some() || !all.iter().all(digits) {
        return None;
    }
    match (one.len(), three.len()) {
        (4, 1 | 2) => Some(format!("{one}-{two:0>2}-{three:0>2}")),
        (1 | 2, 4) => Some(format!("{three}-{one:0>2}-{two:0>2}")),
        _ => None,
    }
}

/// A misfit statement and what is known of it.
pub(super) struct Misfit<'a> {
    pub(super) cursor: &'a Cursor<'a>,
    pub(super) lets: &'a Lets,
    pub(super) word: &'static Word,
    /// First byte of the word.
    pub(super) start: u32,
}

impl Misfit<'_> {
    fn token(&self, at: usize) -> Option<Token> {
        self.cursor.tokens.get(at).copied()
    }

    /// The statement's line from its word on.
    fn end(&self) -> u32 {
        let ends = |token: &&Token| token.kind == TokenKind::Break && token.start >= self.start;
        let whole = u32::try_from(self.cursor.text.len()).unwrap_or(u32::MAX);
        self.cursor
            .tokens
            .iter()
            .find(ends)
            .map_or(whole, |token| token.start)
    }

    /// The statement read once `edit` is made: its fields, at their places in the file, and its end.
    fn reads(&self, edit: &Edit) -> Option<(Vec<Field>, u32)> {
        let text = |from: u32, to: u32| self.cursor.text.get(from as usize..to as usize);
        let before = text(self.start, edit.span.start)?;
        let after = text(edit.span.end, self.end().max(edit.span.end))?;
        let line = format!("{before}{}{after}", edit.text);
        let kept: Vec<Token> = tokens(&line)
            .into_iter()
            .filter(|token| !token.kind.is_trivia())
            .collect();
        let mut cursor = Cursor {
            text: &line,
            tokens: &kept,
            at: 1,
            file: self.cursor.file,
        };
        let mut matching = Match {
            cursor: &mut cursor,
            lets: self.lets,
            word: self.word.word,
            example: self.word.example,
            fields: Vec::new(),
        };
        matching.read(&self.word.shape().elements).ok()?;
        let mut fields = matching.fields;
        // What stands behind a comma starts a statement of its own.
        let next = cursor
            .peek_at(1)
            .filter(|_| cursor.peek().is_some_and(|t| t.kind == TokenKind::Comma));
        let starts = next.is_none_or(|t| matches!(t.kind, TokenKind::Word | TokenKind::Break));
        if !cursor.clause_over() || !starts {
            return None;
        }
        let in_file = |at: u32| {
            let changed = edit.span.start - self.start;
            let new = changed + u32::try_from(edit.text.len()).unwrap_or(0);
            if at <= changed {
                self.start + at
            } else if at >= new {
                edit.span.end + (at - new)
            } else {
                edit.span.start
            }
        };
        for field in &mut fields {
            let span = field.value.span;
            field.value.span = Span::new(span.file, in_file(span.start), in_file(span.end));
        }
        // Words that are taken out at the end belong to the statement.
        let end = cursor.end_of_last().end;
        let end = if end == edit.span.start - self.start {
            in_file(end).max(edit.span.end)
        } else {
            in_file(end)
        };
        Some((fields, end))
    }

    fn change(&self, from: u32, to: u32, text: &str, help: String) -> Mend {
        Mend {
            edit: Edit {
                span: Span::new(self.cursor.file, from, to),
                text: text.to_owned(),
            },
            help,
            whole: false,
        }
    }

    /// `14 ft 0 in` reads as one length, where two were meant.
    fn commas_between_amounts(&self) -> Vec<Mend> {
        let own = self.cursor.tokens.get(..self.cursor.at).unwrap_or(&[]);
        own.windows(2)
            .filter_map(|pair| match pair {
                [unit, number]
                    if unit.start > self.start
                        && unit.kind == TokenKind::Word
                        && number.kind == TokenKind::Number =>
                {
                    let help = format!("put a comma before `{}`", self.cursor.words(*number));
                    Some(self.change(unit.end, unit.end, ",", help))
                }
                _ => None,
            })
            .collect()
    }

    /// `0,75 in` and `3,750 Btu/h`: a comma inside a number, for a point or between thousands.
    fn commas_in_numbers(&self) -> Vec<Mend> {
        let end = self.end();
        let own = self.cursor.tokens.windows(3);
        own.filter_map(|three| match three {
            [whole, comma, part]
                if whole.start > self.start
                    && part.end <= end
                    && comma.kind == TokenKind::Comma
                    && [whole.kind, part.kind] == [TokenKind::Number; 2]
                    && whole.end == comma.start
                    && comma.end == part.start =>
            {
                let (whole_words, part_words) =
                    (self.cursor.words(*whole), self.cursor.words(*part));
                let thousands = part_words.len() == 3 && !whole_words.trim_matches('0').is_empty();
                let point = if thousands { "" } else { "." };
                let number = format!("{whole_words}{point}{part_words}");
                let help = if thousands {
                    format!("write `{number}`, without a comma")
                } else {
                    format!("write `{number}`, with a point")
                };
                let mut mend = self.change(whole.start, part.end, &number, help);
                mend.whole = true;
                Some(mend)
            }
            _ => None,
        })
        .collect()
    }

    fn tries(&self) -> Vec<Mend> {
        let mut out = self.commas_in_numbers();
        let at = self.cursor.at;
        let words = |token: Token| self.cursor.words(token);
        let here = self.token(at);
        let before = at.checked_sub(1).and_then(|n| self.token(n));
        // A word said twice, here or just before.
        for second in [at, at.saturating_sub(1)] {
            let first = second.checked_sub(1).and_then(|n| self.token(n));
            if let (Some(first), Some(second)) = (first, self.token(second))
                && first.kind == TokenKind::Word
                && words(first) == words(second)
            {
                let help = format!("write `{}` once", words(first));
                out.push(self.change(first.end, second.end, "", help));
            }
        }
        // A day written with slashes.
        for first in [here, before].into_iter().flatten() {
            let rest = self.cursor.text.get(first.start as usize..).unwrap_or("");
            let text: &str = rest
                .split(|c: char| c.is_whitespace() || c == ',' || c == '}')
                .next()
                .unwrap_or("");
            if let Some(day) = day(text) {
                let end = first.start + u32::try_from(text.len()).unwrap_or(0);
                let mut mend = self.change(first.start, end, &day, format!("write `{day}`"));
                mend.whole = true;
                out.push(mend);
            }
        }
        let Some(token) = here.filter(|t| t.kind != TokenKind::Break) else {
            return out;
        };
        if matches!(words(token), "by" | "X" | "*") {
            out.push(self.change(
                token.start,
                token.end,
                "x",
                format!("write `x`, as in `{}`", self.word.example),
            ));
        }
        // Marks of other notations: a comma or nothing stands in their place.
        match words(token) {
            ";" => out.push(self.change(
                token.start,
                token.end,
                ",",
                "write a comma in place of `;`".to_owned(),
            )),
            mark @ (":" | "=") => {
                let help = format!("leave `{mark}` out, as in `{}`", self.word.example);
                out.push(self.change(token.start, token.end, "", help));
            }
            // A dash as a phone or a word processor writes it.
            dash @ ("–" | "—" | "−") => {
                let help = format!("write the plain `-` in place of `{dash}`");
                out.push(self.change(token.start, token.end, "-", help));
            }
            _ => {}
        }
        // The unit of a voltage, which the word says already.
        if matches!(words(token), "V" | "v" | "volts") {
            let from = before.map_or(token.start, |before| before.end);
            let help = format!(
                "leave `{}` out, as in `{}`",
                words(token),
                self.word.example
            );
            out.push(self.change(from, token.end, "", help));
        }
        if let (Some(before), true) = (before, self.word.pattern.contains(',')) {
            let help = format!("put a comma before `{}`", words(token));
            out.push(self.change(before.end, before.end, ",", help));
        }
        out.extend(self.commas_between_amounts());
        let mut own = Vec::new();
        literals(&self.word.shape().elements, &mut own);
        for literal in own.into_iter().filter(|literal| literal.len() > 1) {
            if word_distance(literal, words(token)) == 1 {
                let help = format!("write `{literal}`");
                out.push(self.change(token.start, token.end, literal, help));
            }
            let help = format!("put `{literal}` before `{}`", words(token));
            out.push(self.change(token.start, token.start, &format!("{literal} "), help));
        }
        out
    }

    /// The first change after which the statement reads.
    pub(super) fn mend(&self) -> Option<Mended> {
        self.tries().into_iter().find_map(|mend| {
            let (fields, end) = self.reads(&mend.edit)?;
            Some(Mended { mend, fields, end })
        })
    }
}
