//! Walks through the words of one value: amounts with words and marks between them.

use super::measured::Measured;
use super::misread::Misread;
use crate::quantity::{Length, Piece, QuantityError, pieces, read_pieces};

/// Walks through the pieces of one scalar.
pub(super) struct Cursor<'t> {
    text: &'t str,
    pieces: Vec<Piece<'t>>,
    at: usize,
}

impl<'t> Cursor<'t> {
    /// Reads all of `text` by `read`; words left over are a mistake.
    pub(super) fn whole<T>(
        text: &'t str,
        read: impl FnOnce(&mut Self) -> Result<T, Misread>,
    ) -> Result<T, Misread> {
        let mut cursor = Self {
            text,
            pieces: pieces(text),
            at: 0,
        };
        let value = read(&mut cursor)?;
        match cursor.pieces.get(cursor.at) {
            None => Ok(value),
            Some(rest) => Err(Misread::Form {
                range: (rest.start, text.len()),
                wanted: "these words are left over",
                example: "18 in",
            }),
        }
    }

    fn rest(&self) -> &[Piece<'t>] {
        self.pieces.get(self.at..).unwrap_or(&[])
    }

    /// Takes `word` if it stands here.
    pub(super) fn takes(&mut self, word: &str) -> bool {
        let there = self.rest().first().is_some_and(|p| p.text == word);
        self.at += usize::from(there);
        there
    }

    /// One amount, below zero only where `signed`.
    pub(super) fn signed<M: Measured>(&mut self, signed: bool) -> Result<M, Misread> {
        let from = self.rest().first().map_or(self.text.len(), |p| p.start);
        let (quantity, used) = read_pieces(self.rest(), M::DIMENSION)
            .map_err(|error| Misread::Amount(error, M::DIMENSION))?;
        self.at += used;
        let to = self
            .pieces
            .get(self.at.saturating_sub(1))
            .map_or(self.text.len(), |p| p.end);
        let value =
            M::of(&quantity).ok_or(Misread::Amount(QuantityError::NoNumber, M::DIMENSION))?;
        if !signed && value.number() < 0.0 {
            return Err(Misread::Negative { range: (from, to) });
        }
        Ok(value)
    }

    /// One amount above zero.
    pub(super) fn above_zero(&mut self) -> Result<Length, Misread> {
        let from = self.rest().first().map_or(0, |p| p.start);
        let length: Length = self.signed(false)?;
        if length > Length::ZERO {
            return Ok(length);
        }
        let to = self
            .pieces
            .get(self.at.saturating_sub(1))
            .map_or(self.text.len(), |p| p.end);
        Err(Misread::Zero { range: (from, to) })
    }

    /// One amount.
    pub(super) fn amount<M: Measured>(&mut self) -> Result<M, Misread> {
        self.signed(M::SIGNED)
    }

    /// One word or mark that has to stand here.
    pub(super) fn word(
        &mut self,
        word: &str,
        wanted: &'static str,
        example: &'static str,
    ) -> Result<(), Misread> {
        if self.takes(word) {
            return Ok(());
        }
        let range = self
            .rest()
            .first()
            .map_or((0, self.text.len()), |p| (p.start, p.end));
        Err(Misread::Form {
            range,
            wanted,
            example,
        })
    }
}
