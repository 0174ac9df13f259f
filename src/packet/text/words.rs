//! The word table: lines of `key = words with {slots}`, one file a language.

use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The words of one language by key.
#[derive(Clone, Debug, Default)]
pub struct Words {
    by_key: BTreeMap<String, String>,
}

/// A part of an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece<'a> {
    /// Printed as it stands.
    Words(&'a str),
    /// Filled by a figure or quotation.
    Slot(&'a str),
}

static ENGLISH: LazyLock<Words> =
    LazyLock::new(|| Words::parse(include_str!("../../../templates/words/english.txt")));

impl Words {
    /// The English table.
    pub fn english() -> &'static Self {
        &ENGLISH
    }

    /// Reads a table; lines that start with `#` and empty lines are passed over.
    pub fn parse(table: &str) -> Self {
        let entries = table
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty() && !line.starts_with('#'))
            .filter_map(|line| line.split_once(" = "))
            .map(|(key, words)| (key.trim().to_owned(), words.trim().to_owned()));
        Self {
            by_key: entries.collect(),
        }
    }

    /// The words under `key`, slots and all.
    pub fn get(&self, key: &str) -> Option<&str> {
        self.by_key.get(key).map(String::as_str)
    }

    /// The words under `key`, cut at its slots.
    pub fn pieces(&self, key: &str) -> Option<Vec<Piece<'_>>> {
        let mut rest = self.get(key)?;
        let mut out = Vec::new();
        while let Some((before, after)) = rest.split_once('{') {
            let Some((slot, after)) = after.split_once('}') else {
                break;
            };
            if !before.is_empty() {
                out.push(Piece::Words(before));
            }
            out.push(Piece::Slot(slot));
            rest = after;
        }
        if !rest.is_empty() {
            out.push(Piece::Words(rest));
        }
        Some(out)
    }

    /// Every key in order.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.by_key.keys().map(String::as_str)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    fn sources(folder: &Path, out: &mut String) {
        let mut entries: Vec<_> = std::fs::read_dir(folder)
            .expect("folder")
            .map(|entry| entry.expect("entry").path())
            .collect();
        entries.sort();
        for path in entries {
            if path.is_dir() {
                sources(&path, out);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let text = std::fs::read_to_string(&path).expect("source");
                // Tests make up keys of their own.
                out.push_str(text.split("#[cfg(test)]").next().unwrap_or(""));
            }
        }
    }

    fn used_keys() -> BTreeSet<String> {
        let mut code = String::new();
        sources(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join("src/packet"),
            &mut code,
        );
        code.split("say(")
            .skip(1)
            .filter_map(|rest| rest.trim_start().strip_prefix('"'))
            .filter_map(|rest| rest.split_once('"'))
            .map(|(key, _)| key.to_owned())
            .collect()
    }

    #[test]
    fn every_key_in_the_code_has_words_and_every_entry_is_used() {
        let words = Words::english();
        let used = used_keys();
        assert!(used.len() > 5, "{used:?}");
        let without: Vec<_> = used.iter().filter(|k| words.get(k).is_none()).collect();
        assert!(without.is_empty(), "no words for {without:?}");
        // Those that templates ask for by themselves.
        let by_template = |key: &str| key.starts_with("template.") || key == "text.missing";
        let unused: Vec<_> = words
            .keys()
            .filter(|key| !by_template(key) && !used.contains(*key))
            .collect();
        assert!(unused.is_empty(), "never printed: {unused:?}");
    }

    #[test]
    fn no_number_hides_in_the_words() {
        for key in Words::english().keys() {
            let text = Words::english().get(key).unwrap_or("");
            let digit = text.chars().find(char::is_ascii_digit);
            assert_eq!(
                digit, None,
                "`{key}` holds a number that no figure explains"
            );
        }
    }

    #[test]
    fn no_key_stands_twice_and_every_line_is_read() {
        let table = include_str!("../../../templates/words/english.txt");
        let lines = table
            .lines()
            .filter(|line| !line.trim().is_empty() && !line.starts_with('#'))
            .count();
        assert_eq!(lines, Words::english().by_key.len());
    }

    #[test]
    fn slots_are_cut_out() {
        let words = Words::parse("a = one {x} two{y}");
        let pieces = words.pieces("a").expect("entry");
        let expected = [
            Piece::Words("one "),
            Piece::Slot("x"),
            Piece::Words(" two"),
            Piece::Slot("y"),
        ];
        assert_eq!(pieces, expected);
    }
}
