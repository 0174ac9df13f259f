//! A cut list as a plain text: one fact a line, whole numbers.

use super::first_fit::Stock;

/// Stock, pieces and kerf of one cut list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutList {
    /// Width of a cut.
    pub kerf: u64,
    /// Stock lengths with price and count.
    pub stocks: Vec<Stock>,
    /// Every piece, one by one.
    pub pieces: Vec<u64>,
}

/// A line that does not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong.
    pub message: String,
}

/// Most pieces that a list may ask for.
const MOST_PIECES: u64 = 5_000;
/// Largest length or price: sums of the most pieces stay whole.
const LARGEST: u64 = 1_000_000_000_000;

fn numbers(words: &[&str]) -> Result<Vec<u64>, String> {
    words
        .iter()
        .map(|word| match word.parse::<u64>() {
            Ok(number) if number <= LARGEST => Ok(number),
            Ok(_) => Err(format!("`{word}` is more than {LARGEST}")),
            Err(_) => Err(format!("`{word}` is not a whole number from zero")),
        })
        .collect()
}

fn line(list: &mut CutList, words: &[&str]) -> Result<(), String> {
    let Some((word, rest)) = words.split_first() else {
        return Ok(());
    };
    match *word {
        // What the lengths are in, and the best plan known: neither changes the plan.
        "unit" | "optimum" => Ok(()),
        "kerf" => match numbers(rest)?.as_slice() {
            [kerf] => {
                list.kerf = *kerf;
                Ok(())
            }
            _ => Err("`kerf` takes one number, as in `kerf 2`".to_owned()),
        },
        "stock" => {
            let (length, price, count) = match numbers(rest)?.as_slice() {
                [length, price] => (*length, *price, None),
                [length, price, count] => (*length, *price, Some(*count)),
                _ => {
                    return Err(
                        "`stock` takes length, price and, if limited, count, as in `stock 1920 1190`"
                            .to_owned(),
                    );
                }
            };
            if length == 0 {
                return Err("a stock length is above zero".to_owned());
            }
            list.stocks.push(Stock {
                length,
                price,
                count,
            });
            Ok(())
        }
        "piece" => match numbers(rest)?.as_slice() {
            [0, _] => Err("a piece is longer than zero".to_owned()),
            [length, count] => {
                let held = u64::try_from(list.pieces.len()).unwrap_or(u64::MAX);
                if count.saturating_add(held) > MOST_PIECES {
                    return Err(format!("more than {MOST_PIECES} pieces"));
                }
                for _ in 0..*count {
                    list.pieces.push(*length);
                }
                Ok(())
            }
            _ => Err("`piece` takes length and count, as in `piece 905 3`".to_owned()),
        },
        other => Err(format!(
            "`{other}` is not known here; lines start with unit, kerf, stock, piece or optimum"
        )),
    }
}

/// Reads a cut list; every line that does not read is given back with its number.
pub fn read(text: &str) -> Result<CutList, Vec<Misread>> {
    let mut list = CutList::default();
    let mut wrong = Vec::new();
    for (number, text) in text.trim_start_matches('\u{feff}').lines().enumerate() {
        let text = text.trim();
        if text.starts_with('#') {
            continue;
        }
        let words: Vec<&str> = text.split_whitespace().collect();
        if let Err(message) = line(&mut list, &words) {
            wrong.push(Misread {
                line: number + 1,
                message,
            });
        }
    }
    if wrong.is_empty() {
        let longest = list.stocks.iter().map(|stock| stock.length).max();
        if let Some(piece) = list.pieces.iter().find(|piece| Some(**piece) > longest) {
            wrong.push(Misread {
                line: text
                    .lines()
                    .position(|line| line.trim().starts_with(&format!("piece {piece} ")))
                    .map_or(1, |at| at + 1),
                message: format!("no stock is as long as the piece of {piece}"),
            });
        }
    }
    if wrong.is_empty() {
        Ok(list)
    } else {
        Err(wrong)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_line_is_one_fact() {
        let list = read("# name: small\nunit 1/16 in\nkerf 2\nstock 1920 1190\nstock 598 0 2\npiece 905 3\noptimum 1190\n").unwrap();
        assert_eq!(list.kerf, 2);
        assert_eq!(list.pieces, [905, 905, 905]);
        assert_eq!(list.stocks[1].count, Some(2));
    }

    #[test]
    fn every_bad_line_is_said_with_its_number() {
        let wrong = read("kerf x\nstock 10\npeice 4 1\npiece -4 1\npiece 1 99999\n").unwrap_err();
        let lines: Vec<usize> = wrong.iter().map(|misread| misread.line).collect();
        assert_eq!(lines, [1, 2, 3, 4, 5]);
        let long = read("kerf 0\nstock 10 1\npiece 4 1\npiece 11 1\n").unwrap_err();
        assert_eq!(long[0].line, 4);
    }
}
