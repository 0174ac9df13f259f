//! Reads the values of one statement against its pattern, token by token.

use crate::quantity::{Dimension, Piece, PieceKind, QuantityError, pieces, read_pieces};
use crate::source::{Finding, Relation, Shown, Span, Spanned};

use super::entry::{Field, Unknown, Value};
use super::load::Lets;
use super::mistake::{
    AMOUNT_MISREAD, BAD_DATE, BAD_NAME, UNCLOSED_STRING, UNKNOWN_VALUE, WORD_MISPLACED,
    WRONG_DIMENSION, WRONG_UNIT,
};
use super::pattern::{Element, Slot, SlotType};
use super::token::{Token, TokenKind};
use super::{with_article, word_distance};

/// A reader's place among the tokens of a file, trivia left out.
pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
    pub(super) at: usize,
    pub(super) file: crate::source::FileId,
}

impl<'a> Cursor<'a> {
    pub(super) fn peek(&self) -> Option<Token> {
        self.tokens.get(self.at).copied()
    }

    pub(super) fn peek_at(&self, ahead: usize) -> Option<Token> {
        self.tokens.get(self.at + ahead).copied()
    }

    pub(super) fn words(&self, token: Token) -> &'a str {
        self.text
            .get(token.start as usize..token.end as usize)
            .unwrap_or("")
    }

    pub(super) fn peek_words(&self) -> &'a str {
        self.peek().map_or("", |token| self.words(token))
    }

    pub(super) const fn span(&self, token: Token) -> Span {
        Span::new(self.file, token.start, token.end)
    }

    /// The place of the next token, or an empty place at the end of the last one.
    pub(super) fn here(&self) -> Span {
        match self.peek() {
            Some(token) if token.kind != TokenKind::Break => self.span(token),
            _ => self.end_of_last(),
        }
    }

    /// The empty place after the token before this one.
    pub(super) fn end_of_last(&self) -> Span {
        let end = self
            .at
            .checked_sub(1)
            .and_then(|n| self.tokens.get(n))
            .map_or(0, |token| token.end);
        Span::new(self.file, end, end)
    }

    /// Whether the clause is over: comma, line end, brace or the file's end.
    pub(super) fn clause_over(&self) -> bool {
        self.peek().is_none_or(|token| {
            matches!(
                token.kind,
                TokenKind::Comma | TokenKind::Break | TokenKind::Open | TokenKind::Close
            )
        })
    }

    /// From the next token to the clause's end, for reports on words left over.
    pub(super) fn rest_of_clause(&self) -> Span {
        let mut ahead = 0;
        let mut span = self.here();
        while let Some(token) = self.peek_at(ahead) {
            if matches!(
                token.kind,
                TokenKind::Comma | TokenKind::Break | TokenKind::Open | TokenKind::Close
            ) {
                break;
            }
            span = span.to(self.span(token));
            ahead += 1;
        }
        span
    }

    fn unknown_ahead(&self) -> Option<Unknown> {
        let first = self
            .peek()
            .filter(|t| t.kind == TokenKind::Word)
            .map(|t| self.words(t))?;
        let second = self
            .peek_at(1)
            .filter(|t| t.kind == TokenKind::Word)
            .map(|t| self.words(t))?;
        match (first, second) {
            ("to", "measure") => Some(Unknown::ToMeasure),
            ("by", "others") => Some(Unknown::ByOthers),
            _ => None,
        }
    }
}

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
        let words = self.cursor.words(token).to_owned();
        match &slot.kind {
            SlotType::Amount(dimension) => self.amount(slot, *dimension),
            SlotType::Text if token.kind == TokenKind::String => {
                let inside = words.trim_matches(['"', '“', '”', '„']).to_owned();
                self.take(slot, 1, Value::Text(inside));
                Ok(())
            }
            SlotType::Date if token.kind == TokenKind::Date => {
                if !real_date(&words) {
                    return Err(Box::new(Finding::new(
                        &BAD_DATE,
                        self.cursor.span(token),
                        format!("`{words}` is no day of the calendar"),
                        "write year, month and day, as in `2026-11-20`",
                    )));
                }
                self.take(slot, 1, Value::Date(words));
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
                self.take(slot, 1, Value::Word(words));
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
                self.take(slot, 1, Value::Word(words));
                Ok(())
            }
            SlotType::Label
                if matches!(
                    token.kind,
                    TokenKind::Word | TokenKind::Number | TokenKind::Label | TokenKind::Date
                ) =>
            {
                self.take(slot, 1, Value::Word(words));
                Ok(())
            }
            SlotType::Label if token.kind == TokenKind::String => {
                let inside = words.trim_matches(['"', '“', '”', '„']).to_owned();
                self.take(slot, 1, Value::Word(inside));
                Ok(())
            }
            SlotType::Choice(choices) => self.choice(slot, choices, token, &words),
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

    fn amount(&mut self, slot: &Slot, dimension: Dimension) -> Fit {
        let token = self.cursor.peek();
        if let Some(token) = token.filter(|t| t.kind == TokenKind::Word) {
            return self.named_amount(slot, dimension, token);
        }
        let ahead: Vec<Piece<'_>> = self
            .cursor
            .tokens
            .get(self.cursor.at..)
            .unwrap_or(&[])
            .iter()
            .take_while(|t| {
                !matches!(
                    t.kind,
                    TokenKind::Comma
                        | TokenKind::Break
                        | TokenKind::Open
                        | TokenKind::Close
                        | TokenKind::String
                        | TokenKind::Unclosed
                )
            })
            .take(12)
            .map(|t| Piece {
                text: self.cursor.words(*t),
                start: t.start as usize,
                end: t.end as usize,
                kind: match t.kind {
                    TokenKind::Number => PieceKind::Number,
                    TokenKind::Word => PieceKind::Word,
                    _ => PieceKind::Mark,
                },
            })
            .collect();
        match read_pieces(&ahead, dimension) {
            Ok((quantity, used)) => {
                self.take(slot, used, Value::Amount(quantity));
                Ok(())
            }
            Err(QuantityError::NoNumber) => Err(self.misplaced(&wanted(&slot.kind))),
            Err(error) => Err(Box::new(self.amount_finding(&error, dimension))),
        }
    }

    /// A word where an amount belongs: a value named by `let`.
    fn named_amount(&mut self, slot: &Slot, dimension: Dimension, token: Token) -> Fit {
        let words = self.cursor.words(token);
        let Some(shared) = self.lets.get(words) else {
            let near = self
                .lets
                .keys()
                .find(|name| word_distance(name, words) <= 2);
            return match near {
                Some(near) => Err(Box::new(
                    Finding::new(
                        &UNKNOWN_VALUE,
                        self.cursor.span(token),
                        format!("no `let` names a value `{words}`"),
                        format!("write `{near}`"),
                    )
                    .edit(self.cursor.span(token), near),
                )),
                None => Err(self.misplaced(&wanted(&slot.kind))),
            };
        };
        let parts = pieces(&shared.value);
        match read_pieces(&parts, dimension) {
            Ok((quantity, used)) if used == parts.len() => {
                self.take(slot, 1, Value::Amount(quantity));
                Ok(())
            }
            Ok(_) | Err(_) => Err(Box::new(
                Finding::new(
                    &WRONG_DIMENSION,
                    self.cursor.span(token),
                    format!(
                        "`{}` wants {}, and `{words}` stands for `{}`",
                        self.word,
                        with_article(dimension.name()),
                        shared.value
                    ),
                    format!("use a value such as `{}`", dimension.example()),
                )
                .label(shared.span, "named here"),
            )),
        }
    }

    fn amount_finding(&self, error: &QuantityError, dimension: Dimension) -> Finding {
        let span = |range: &(usize, usize)| {
            let at = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
            Span::new(self.cursor.file, at(range.0), at(range.1))
        };
        let words = |range: &(usize, usize)| self.cursor.text.get(range.0..range.1).unwrap_or("");
        let name = with_article(dimension.name());
        let example = format!("write it as in `{}`", dimension.example());
        match error {
            QuantityError::NoNumber => Finding::new(
                &WORD_MISPLACED,
                self.cursor.here(),
                format!("`{}` wants {name}", self.word),
                example,
            ),
            QuantityError::NoUnit { range } => Finding::new(
                &WRONG_UNIT,
                span(range),
                format!(
                    "`{}` wants {name}, and `{}` has no unit",
                    self.word,
                    words(range)
                ),
                format!("add the unit, as in `{}`", dimension.example()),
            ),
            QuantityError::UnknownUnit { range, nearest } => {
                let finding = Finding::new(
                    &WRONG_UNIT,
                    span(range),
                    format!("`{}` is no unit of {}", words(range), dimension.name()),
                    nearest.map_or(example, |near| format!("write `{near}`")),
                );
                match nearest {
                    Some(near) => finding.edit(span(range), *near),
                    None => finding,
                }
            }
            QuantityError::Dimension { range, found } => Finding::new(
                &WRONG_DIMENSION,
                span(range),
                format!(
                    "`{}` wants {name}, and `{}` is {}",
                    self.word,
                    words(range),
                    with_article(found.name())
                ),
                example,
            )
            .measured(
                Shown::word(found.name()),
                Relation::Equal,
                Shown::word(dimension.name()),
            ),
            QuantityError::Number { range, what } => Finding::new(
                &AMOUNT_MISREAD,
                span(range),
                format!("`{}`: {what}", words(range)),
                example,
            ),
        }
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
