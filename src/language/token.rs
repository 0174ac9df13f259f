//! Text into tokens by the pest grammar. Every byte lands in one token, so the text can be put together again.

use pest::Parser as _;
use pest_derive::Parser;

#[derive(Parser)]
#[grammar = "../grammar/bayrun.pest"]
struct Pieces;

/// The shape of a token.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// Spaces and the like.
    Space,
    /// From `#` to the line's end.
    Comment,
    /// A line break: `\n` or `\r\n`.
    Break,
    /// A quoted text with its quotes.
    String,
    /// A quote that its line does not close.
    Unclosed,
    /// `{`
    Open,
    /// `}`
    Close,
    /// `,`
    Comma,
    /// `2026-11-20`
    Date,
    /// A number, with or without a fraction.
    Number,
    /// `26-0417`
    Label,
    /// A foot or inch mark right after a number.
    Prime,
    /// A word or name.
    Word,
    /// Any other sign.
    Mark,
}

impl TokenKind {
    /// Whether it carries no meaning.
    pub const fn is_trivia(self) -> bool {
        matches!(self, Self::Space | Self::Comment)
    }
}

/// A token: its shape and its bytes in the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Token {
    /// Its shape.
    pub kind: TokenKind,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

fn kind_of(rule: Rule) -> Option<TokenKind> {
    Some(match rule {
        Rule::r#break => TokenKind::Break,
        Rule::comment => TokenKind::Comment,
        Rule::string => TokenKind::String,
        Rule::unclosed => TokenKind::Unclosed,
        Rule::open => TokenKind::Open,
        Rule::close => TokenKind::Close,
        Rule::comma => TokenKind::Comma,
        Rule::date => TokenKind::Date,
        Rule::mixed | Rule::fraction | Rule::number => TokenKind::Number,
        Rule::label => TokenKind::Label,
        Rule::prime => TokenKind::Prime,
        Rule::word => TokenKind::Word,
        Rule::mark => TokenKind::Mark,
        _ => return None,
    })
}

/// All tokens of `text`, breaks and trivia included, in order and without gaps.
pub fn tokens(text: &str) -> Vec<Token> {
    let mut out = Tokens {
        all: Vec::with_capacity(text.len() / 2),
        done: 0,
    };
    // The grammar takes every text; should it not, the text is one sign, reported as such.
    let Ok(pairs) = Pieces::parse(Rule::file, text) else {
        out.put(TokenKind::Mark, 0, text.len());
        return out.all;
    };
    for pair in pairs.flat_map(pest::iterators::Pair::into_inner) {
        let Some(kind) = kind_of(pair.as_rule()) else {
            continue;
        };
        let span = pair.as_span();
        // `2-1/4"`: the mark at the end of a mixed number is a token of its own.
        let inner_prime = (pair.as_rule() == Rule::mixed)
            .then(|| pair.into_inner().next())
            .flatten()
            .map(|prime| prime.as_span());
        let end = inner_prime.map_or(span.end(), |prime| prime.start());
        out.put(kind, span.start(), end);
        if let Some(prime) = inner_prime {
            out.put(TokenKind::Prime, prime.start(), prime.end());
        }
    }
    out.space_up_to(text.len());
    out.all
}

/// Tokens as they are found; what was passed over before one is space.
struct Tokens {
    all: Vec<Token>,
    /// One past the last byte that has its token.
    done: usize,
}

impl Tokens {
    fn put(&mut self, kind: TokenKind, start: usize, end: usize) {
        self.space_up_to(start);
        self.push(kind, start, end);
    }

    fn space_up_to(&mut self, start: usize) {
        if self.done < start {
            self.push(TokenKind::Space, self.done, start);
        }
    }

    fn push(&mut self, kind: TokenKind, start: usize, end: usize) {
        let at = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        self.all.push(Token {
            kind,
            start: at(start),
            end: at(end),
        });
        self.done = end;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn shapes(text: &str) -> Vec<(TokenKind, &str)> {
        tokens(text)
            .into_iter()
            .filter(|t| !t.kind.is_trivia())
            .map(|t| (t.kind, text.get(t.start as usize..t.end as usize).unwrap()))
            .collect()
    }

    #[test]
    fn inch_marks_follow_digits_and_quotes_open_elsewhere() {
        use TokenKind::{Number, Prime, String, Word};
        assert_eq!(
            shapes("pipe \"9 in\" 12'6\" 2-1/4\""),
            [
                (Word, "pipe"),
                (String, "\"9 in\""),
                (Number, "12"),
                (Prime, "'"),
                (Number, "6"),
                (Prime, "\""),
                (Number, "2-1/4"),
                (Prime, "\""),
            ]
        );
    }

    #[test]
    fn numbers_dates_and_labels() {
        use TokenKind::{Comma, Date, Label, Number, Word};
        assert_eq!(
            shapes("26-0417, 2026-11-20, 12ft 7/8 -2 in # note"),
            [
                (Label, "26-0417"),
                (Comma, ","),
                (Date, "2026-11-20"),
                (Comma, ","),
                (Number, "12"),
                (Word, "ft"),
                (Number, "7/8"),
                (Number, "-2"),
                (Word, "in"),
            ]
        );
    }

    proptest! {
        #[test]
        fn tokens_cover_every_byte(text in "\\PC*|[a-z0-9\" {},#'\\n\\r\\t.½”-]*") {
            let mut at = 0;
            for token in tokens(&text) {
                prop_assert_eq!(token.start, at);
                at = token.end;
            }
            prop_assert_eq!(at as usize, text.len());
        }

        #[test]
        fn lines_end_what_stands_on_them(text in "[a-z0-9\" {},#'\n\r\t.½”-]*") {
            for token in tokens(&text) {
                let words = text.get(token.start as usize..token.end as usize).unwrap();
                prop_assert_eq!(words.contains('\n'), token.kind == TokenKind::Break, "{:?}", words);
                prop_assert_eq!(
                    words.chars().all(|c| " \t".contains(c)),
                    token.kind == TokenKind::Space
                );
            }
        }
    }
}
