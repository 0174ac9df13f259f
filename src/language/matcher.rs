//! Reads the values of one statement against its pattern, token by token.

use crate::source::{Finding, Relation, Shown, Spanned};

mod amount;

use super::cursor::Cursor;
use super::entry::{Field, Value};
use super::load::Lets;
use super::mistake::{BAD_DATE, BAD_NAME, UNCLOSED_STRING, UNKNOWN_VALUE, WORD_MISPLACED};
use super::pattern::{Element, Slot, SlotType};
use super::token::{Token, TokenKind};
use super::{with_article, word_distance};

/// The statement's reading: values so far, and the first thing that did not fit.
pub(super) struct Match<'c, 'a> {
    pub(super) cursor: &'c mut Cursor<'a>,
    pub(super) lets: &'c Lets,
    /// The word whose pattern is read, for messages.
    pub(super) word: &'static str,
    pub(super) example: &'static str,
    pub(super) fields: Vec<Field>,
}

type Fit = Result<(), Box<Finding>>;

fn literal_is(words: &str, literal: &str) -> bool {
    words.eq_ignore_ascii_case(literal) || literal == "x" && words == "×"
}

impl Match<'_, '_> {
    /// Reads all of `elements`; stops at the first thing that does not fit.
    pub(super) fn read(&mut self, elements: &[Element]) -> Fit {
        for element in elements {
            match element {
                Element::Comma => self.comma()?,
                Element::Literal(literal) => self.literal(literal)?,
                Element::Slot(slot) => self.slot(slot)?,
                Element::Group { parts, many } => {
                    while self.starts(parts) {
                        self.read(parts)?;
                        if !many {
                            break;
                        }
                    }
                }
            }
        }
        Ok(())
    }

    /// Whether the tokens ahead begin like `parts`.
    fn starts(&self, parts: &[Element]) -> bool {
        let mut ahead = 0;
        let mut parts = parts.iter();
        let mut part = parts.next();
        if part == Some(&Element::Comma) {
            if self
                .cursor
                .peek()
                .is_none_or(|t| t.kind != TokenKind::Comma)
            {
                return false;
            }
            ahead = 1;
            part = parts.next();
        }
        let Some(token) = self.cursor.peek_at(ahead) else {
            return false;
        };
        let words = self.cursor.words(token);
        match part {
            Some(Element::Literal(literal)) => literal_is(words, literal),
            Some(Element::Slot(slot)) => match &slot.kind {
                SlotType::Choice(choices) => choices.iter().any(|c| c.eq_ignore_ascii_case(words)),
                SlotType::Amount(_) => token.kind == TokenKind::Number,
                SlotType::Text => token.kind == TokenKind::String,
                SlotType::Date => token.kind == TokenKind::Date,
                SlotType::Name | SlotType::Reference | SlotType::Label | SlotType::Anything => {
                    matches!(
                        token.kind,
                        TokenKind::Word | TokenKind::Number | TokenKind::Label
                    )
                }
            },
            _ => false,
        }
    }

    fn misplaced(&self, wanted: &str) -> Box<Finding> {
        let cursor = &self.cursor;
        let found = match cursor.peek() {
            None => "the file ends".to_owned(),
            Some(t) if t.kind == TokenKind::Break => "the line ends".to_owned(),
            Some(t) if t.kind == TokenKind::Unclosed => {
                return Box::new(Finding::new(
                    &UNCLOSED_STRING,
                    cursor.span(t),
                    "this quote is not closed on its line",
                    format!("end it with `\"`, as in `{}`", self.example),
                ));
            }
            Some(t) => format!("`{}` stands here", cursor.words(t)),
        };
        let mut span = cursor.here();
        if span.is_empty() {
            // The end of a line has no words: show the last ones before it.
            let last = cursor.at.checked_sub(1).and_then(|n| cursor.tokens.get(n));
            span = last.map_or(span, |t| cursor.span(*t));
        }
        Box::new(Finding::new(
            &WORD_MISPLACED,
            span,
            format!("`{}` wants {wanted} here, and {found}", self.word),
            format!("write it as in `{}`", self.example),
        ))
    }

    fn comma(&mut self) -> Fit {
        if self
            .cursor
            .peek()
            .is_some_and(|t| t.kind == TokenKind::Comma)
        {
            self.cursor.at += 1;
            while self
                .cursor
                .peek()
                .is_some_and(|t| t.kind == TokenKind::Break)
            {
                self.cursor.at += 1;
            }
            return Ok(());
        }
        Err(self.misplaced("a comma and more"))
    }

    fn literal(&mut self, literal: &'static str) -> Fit {
        if literal_is(self.cursor.peek_words(), literal) {
            self.cursor.at += 1;
            return Ok(());
        }
        Err(self.misplaced(&format!("`{literal}`")))
    }

    fn take(&mut self, slot: &Slot, tokens: usize, value: Value) {
        let first = self.cursor.here();
        let last = self
            .cursor
            .peek_at(tokens.saturating_sub(1))
            .map_or(first, |t| self.cursor.span(t));
        self.cursor.at += tokens;
        self.fields.push(Field {
            slot: slot.name,
            value: Spanned::new(value, first.to(last)),
        });
    }

    fn slot(&mut self, slot: &Slot) -> Fit {
        if let Some(unknown) = self.cursor.unknown_ahead()
            && !matches!(slot.kind, SlotType::Name)
        {
            self.take(slot, 2, Value::Unknown(unknown));
            return Ok(());
        }
        let Some(token) = self.cursor.peek() else {
            return Err(self.misplaced(&wanted(&slot.kind)));
        };
        let words = self.cursor.words(token);
        match &slot.kind {
            SlotType::Amount(dimension) => self.amount(slot, *dimension),
            SlotType::Text if token.kind == TokenKind::String => {
                let inside = words.trim_matches(['"', '“', '”', '„']).to_owned();
                self.take(slot, 1, Value::Text(inside));
                Ok(())
            }
            SlotType::Date if token.kind == TokenKind::Date => {
                if !real_date(words) {
                    return Err(Box::new(Finding::new(
                        &BAD_DATE,
                        self.cursor.span(token),
                        format!("`{words}` is no day of the calendar"),
                        "write year, month and day, as in `2026-11-20`",
                    )));
                }
                self.take(slot, 1, Value::Date(words.to_owned()));
                Ok(())
            }
            SlotType::Name if token.kind == TokenKind::Word => {
                let plain = words
                    .chars()
                    .all(|c| c.is_alphanumeric() || c == '-' || c == '_')
                    && words.starts_with(char::is_alphabetic);
                if !plain {
                    return Err(Box::new(Finding::new(
                        &BAD_NAME,
                        self.cursor.span(token),
                        format!("`{words}` can't be a name"),
                        "a name is a letter, then letters, digits and dashes, as in `bed-east`",
                    )));
                }
                self.take(slot, 1, Value::Word(words.to_owned()));
                Ok(())
            }
            SlotType::Name if matches!(token.kind, TokenKind::Number | TokenKind::Label) => {
                // `2nd-bath` is a number and a word that touch: show both.
                let touching = self
                    .cursor
                    .peek_at(1)
                    .filter(|next| next.start == token.end);
                let whole = touching.map_or(token, |next| Token {
                    end: next.end,
                    ..token
                });
                Err(Box::new(Finding::new(
                    &BAD_NAME,
                    self.cursor.span(whole),
                    format!(
                        "a name starts with a letter, and `{}` does not",
                        self.cursor.words(whole)
                    ),
                    "put a letter first, as in `bed-2`",
                )))
            }
            SlotType::Reference if token.kind == TokenKind::Word => {
                self.take(slot, 1, Value::Word(words.to_owned()));
                Ok(())
            }
            SlotType::Label
                if matches!(
                    token.kind,
                    TokenKind::Word | TokenKind::Number | TokenKind::Label | TokenKind::Date
                ) =>
            {
                self.take(slot, 1, Value::Word(words.to_owned()));
                Ok(())
            }
            SlotType::Label if token.kind == TokenKind::String => {
                let inside = words.trim_matches(['"', '“', '”', '„']).to_owned();
                self.take(slot, 1, Value::Word(inside));
                Ok(())
            }
            SlotType::Choice(choices) => self.choice(slot, choices, token, words),
            SlotType::Anything if !self.cursor.clause_over() => {
                let span = self.cursor.rest_of_clause();
                let text = self
                    .cursor
                    .text
                    .get(span.start as usize..span.end as usize)
                    .unwrap_or("")
                    .to_owned();
                while !self.cursor.clause_over() {
                    self.cursor.at += 1;
                }
                self.fields.push(Field {
                    slot: slot.name,
                    value: Spanned::new(Value::Text(text), span),
                });
                Ok(())
            }
            other => Err(self.misplaced(&wanted(other))),
        }
    }

    fn choice(&mut self, slot: &Slot, choices: &[&'static str], token: Token, words: &str) -> Fit {
        if let Some(choice) = choices.iter().find(|c| c.eq_ignore_ascii_case(words)) {
            self.take(slot, 1, Value::Word((*choice).to_owned()));
            return Ok(());
        }
        if !matches!(
            token.kind,
            TokenKind::Word | TokenKind::Number | TokenKind::Label
        ) {
            return Err(self.misplaced(&format!("one of {}", list(choices))));
        }
        let near = choices
            .iter()
            .filter(|c| word_distance(c, words) <= 2)
            .min_by_key(|c| word_distance(c, words));
        let span = self.cursor.span(token);
        let mut finding = Finding::new(
            &UNKNOWN_VALUE,
            span,
            format!(
                "`{words}` is none of the words that `{}` takes here",
                self.word
            ),
            near.map_or_else(
                || format!("use one of {}", list(choices)),
                |near| format!("write `{near}`"),
            ),
        )
        .measured(
            Shown::word(words),
            Relation::OneOf,
            Shown {
                value: crate::source::Scalar::Words(
                    choices.iter().map(|c| (*c).to_owned()).collect(),
                ),
                unit: None,
                text: choices.join(", "),
            },
        );
        if let Some(near) = near {
            finding = finding.edit(span, *near);
        }
        Err(Box::new(finding))
    }
}

fn list(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|w| format!("`{w}`")).collect();
    quoted.join(", ")
}

fn wanted(kind: &SlotType) -> String {
    match kind {
        SlotType::Amount(dimension) => {
            format!(
                "{} such as `{}`",
                with_article(dimension.name()),
                dimension.example()
            )
        }
        SlotType::Name | SlotType::Reference => "a name".to_owned(),
        SlotType::Text => "a text in quotes".to_owned(),
        SlotType::Date => "a date such as `2026-11-20`".to_owned(),
        SlotType::Label => "a word or number".to_owned(),
        SlotType::Choice(choices) => format!("one of {}", list(choices)),
        SlotType::Anything => "a value".to_owned(),
    }
}

fn real_date(text: &str) -> bool {
    let mut parts = text.split('-').map(|part| part.parse::<u32>().unwrap_or(0));
    let (Some(year), Some(month), Some(day)) = (parts.next(), parts.next(), parts.next()) else {
        return false;
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    (1..=days).contains(&day)
}
