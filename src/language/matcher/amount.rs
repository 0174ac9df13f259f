//! Amounts where the pattern asks for one: read, named by `let`, or wrong.

use crate::language::entry::Value;
use crate::language::mistake::{
    AMOUNT_MISREAD, UNKNOWN_VALUE, WORD_MISPLACED, WRONG_DIMENSION, WRONG_UNIT,
};
use crate::language::pattern::Slot;
use crate::language::token::{Token, TokenKind};
use crate::language::{with_article, word_distance};
use crate::quantity::{Dimension, Piece, PieceKind, QuantityError, pieces, read_pieces};
use crate::source::{Finding, Relation, Shown, Span};

use super::{Fit, Match, wanted};

impl Match<'_, '_> {
    pub(super) fn amount(&mut self, slot: &Slot, dimension: Dimension) -> Fit {
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
    pub(super) fn named_amount(&mut self, slot: &Slot, dimension: Dimension, token: Token) -> Fit {
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

    pub(super) fn amount_finding(&self, error: &QuantityError, dimension: Dimension) -> Finding {
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
