//! Whole files read, and what is said of their mistakes.

use std::path::Path;

use crate::language::{Limits, Loaded, Root, all_words, load};
use crate::source::Memory;

fn read(text: &str) -> Loaded {
    let reader = Memory::default().with("/j/a.bay", text);
    let root = Root::of(&reader, Path::new("/j/a.bay"), None).unwrap();
    load(
        &reader,
        &root,
        Path::new("/j/a.bay"),
        "a.bay",
        Limits::default(),
    )
    .unwrap()
}

fn codes(text: &str) -> Vec<(String, String)> {
    let loaded = read(text);
    loaded
        .findings
        .iter()
        .map(|f| (f.kind.code.to_owned(), loaded.files.text(f.span).to_owned()))
        .collect()
}

#[test]
fn every_pattern_of_the_table_is_well_formed_and_every_example_reads() {
    for (path, word) in all_words() {
        let _ = word.shape();
        let opens = word.pattern.matches('[').count();
        assert_eq!(opens, word.pattern.matches(']').count(), "{}", word.word);
        let text = format!(
            "bayrun 1\n{}{}{}\n",
            path.iter().map(|w| opener(w)).collect::<String>(),
            word.example,
            "\n}".repeat(path.len())
        );
        let wrong: Vec<_> = codes(&text)
            .into_iter()
            .filter(|(code, _)| !matches!(code.as_str(), "LNG012" | "LNG017"))
            .collect();
        assert!(wrong.is_empty(), "{path:?} {}: {wrong:?}", word.word);
    }
}

fn opener(word: &str) -> String {
    let found = all_words()
        .into_iter()
        .find(|(_, w)| w.word == word && w.has_block())
        .unwrap()
        .1;
    let head = found.example.split('{').next().unwrap().to_owned();
    format!("{head} {{\n")
}

#[test]
fn a_bad_line_costs_that_line_alone() {
    let text = "bayrun 1\nstory a { floor 0 in, ceiling 8 cfm }\nroom r on a {\n  corner 1 ft, 2 ft\n  sise 3 ft x 4 ft\n  heating 12 ft\n  cooling sensible 3 kBtu/h, latent 1 kBtu/h\n}\n";
    assert_eq!(
        codes(text),
        [
            ("LNG003".to_owned(), "8 cfm".to_owned()),
            ("LNG001".to_owned(), "sise".to_owned()),
            ("LNG003".to_owned(), "12 ft".to_owned()),
        ]
    );
}

#[test]
fn a_missing_brace_costs_one_finding() {
    let text = "bayrun 1\nroom r on a {\n corner 0 ft, 0 ft\n size 1 ft x 1 ft\nroom s on a {\n corner 0 ft, 0 ft, size 1 ft x 1 ft }\n";
    let found = codes(text);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0], ("LNG010".to_owned(), "room r on a".to_owned()));
    assert_eq!(read(text).entries.len(), 2);
    let text = "bayrun 1\nroom s on a {\n corner 0 ft, 0 ft, size 1 ft x 1 ft\n";
    assert_eq!(codes(text).len(), 1);
    let text = "bayrun 1\nroom s on a {\n corner 0 ft, 0 ft, size 1 ft x 1 ft }\n}\nstory b { floor 0 in, ceiling 8 ft }\n";
    assert_eq!(codes(text), [("LNG011".to_owned(), "}".to_owned())]);
}

#[test]
fn end_closes_a_block_and_pasted_signs_are_understood() {
    let text = "bayrun 1\r\n\u{feff}room s on a {\r\n\tcorner 0 ft, 0 ft\r\n\tsize 12′ 6″ × 14’\r\n\tnote “from a phone”\r\nend\r\n";
    assert_eq!(codes(text), []);
}

#[test]
fn shared_values_are_used_by_name() {
    let text = "bayrun 1\nlet h = 8 ft 2 in\nstory a { floor 0 in, ceiling h }\nstory b { floor hh, ceiling 8 ft }\n";
    assert_eq!(codes(text), [("LNG006".to_owned(), "hh".to_owned())]);
}
