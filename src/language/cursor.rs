//! A reader's place among the tokens of a file.

use crate::source::{FileId, Span};

use super::entry::Unknown;
use super::token::{Token, TokenKind};

/// A reader's place among the tokens of a file, trivia left out.
pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
    pub(super) at: usize,
    pub(super) file: FileId,
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

    pub(super) fn unknown_ahead(&self) -> Option<Unknown> {
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
