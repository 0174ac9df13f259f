//! The tree against what the same crate reads through `serde`, and what it says of text that is no catalog.

use super::*;
use serde_json::Value as Plain;

fn read(text: &str) -> Result<Node, String> {
    let mut findings = Vec::new();
    tree(FileId::own(0), text, &mut findings).ok_or_else(|| findings[0].message.clone())
}

/// Whether the general reader, asked for the same text through `serde`, says the same.
fn same(node: &Node, plain: &Plain) -> bool {
    match (&node.value, plain) {
        (Value::Nothing, Plain::Null) => true,
        (Value::Words(words), Plain::String(other)) => words == other,
        (Value::Words(words), Plain::Bool(other)) => {
            ["yes", "y", "true", "on"].contains(&words.to_lowercase().as_str()) == *other
        }
        (Value::Words(words), Plain::Number(other)) => words.parse().ok() == other.as_f64(),
        (Value::List(items), Plain::Array(others)) => {
            items.len() == others.len()
                && items
                    .iter()
                    .zip(others)
                    .all(|(item, other)| same(item, other))
        }
        (Value::Map(entries), Plain::Object(others)) => {
            entries.len() == others.len()
                && entries.iter().all(|(key, value)| {
                    others
                        .get(&key.value)
                        .is_some_and(|other| same(value, other))
                })
        }
        _ => false,
    }
}

#[test]
fn every_catalog_of_the_examples_reads_as_through_serde() {
    let mut files = 0;
    for folder in ["examples/shop", "tests/cases/catalog"] {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|ending| ending != "yaml") {
                continue;
            }
            let text = std::fs::read_to_string(&path).unwrap();
            match (read(&text), serde_yaml::from_str::<Plain>(&text)) {
                (Ok(node), Ok(plain)) => assert!(same(&node, &plain), "{}", path.display()),
                (Err(_), Err(_)) => {}
                // Keys written twice are kept here, to be reported at both places.
                (Ok(_), Err(error)) if error.to_string().contains("duplicate") => {}
                (ours, theirs) => panic!("{}: {ours:?} {theirs:?}", path.display()),
            }
            files += 1;
        }
    }
    assert!(files > 10, "{files} catalogs compared");
}

#[test]
fn odd_but_plain_yaml_reads_as_through_serde() {
    for text in [
        "a: 'it''s'\nb: \"x\\ty\"\nc: >\n  folded\n  words\nd: |\n  kept\n  lines\n",
        "a: &x { b: 1, c: [2, 3] }\nd: *x\ne: [*x, *x]\n",
        "base: &b { k: 1, l: 2 }\nother: { <<: *b, l: 3 }\n",
        "p: &p { k: 1 }\nq: &q { k: 2, m: 4 }\nr: { <<: [*p, *q], n: 5 }\n",
        "a: &x { b: &y 12.5, c: *y }\nd: *x\n",
        "a: ~\nb:\nc: null\nd: !!str null\ne: \"~\"\n",
        "---\na: yes\n...\n",
        "? a\n: 1\n",
        "- 1\n- - 2\n  - 3\n- {}\n- []\n",
    ] {
        let plain: Plain = serde_yaml::from_str(text).unwrap();
        let node = read(text).unwrap();
        assert!(same(&node, &plain), "{text}: {node:?} {plain}");
    }
}

#[test]
fn an_alias_keeps_both_places() {
    let text = "a: &x { b: 12 }\nc: *x\n";
    let Value::Map(entries) = read(text).unwrap().value else {
        panic!("no mapping")
    };
    let Value::Map(inner) = &entries[1].1.value else {
        panic!("no mapping behind the alias")
    };
    let part = |span: Span| text.get(span.start as usize..span.end as usize).unwrap();
    assert_eq!(part(inner[0].1.span), "12");
    assert_eq!(inner[0].1.via.map(part), Some("*x"));
    assert_eq!(entries[0].1.via, None);
}

#[test]
fn what_cannot_be_read_says_why() {
    let deep = "[".repeat(40);
    let mut lines = vec![String::from("a: &a [1, 1, 1, 1, 1, 1, 1, 1, 1, 1]")];
    for (name, of) in ["b", "c", "d", "e", "f", "g"].iter().zip("abcdef".chars()) {
        let ten = vec![format!("*{of}"); 10].join(", ");
        lines.push(format!("{name}: &{name} [{ten}]"));
    }
    // A long word behind many aliases, and more anchors than are ever looked through.
    let long = format!(
        "a: &a {}\nb: [{}]\n",
        "x".repeat(100_000),
        vec!["*a"; 100].join(", ")
    );
    let anchors = (0..2_001)
        .map(|n| format!("- &a{n} 1\n"))
        .collect::<Vec<_>>()
        .concat();
    let wide = lines.join("\n");
    for (text, words) in [
        ("a: &a [*a]\n", "inside the value that it names"),
        ("a: 1\n---\nb: 2\n", "a second document"),
        ("a: {<<: 3}\n", "takes over the lines of a mapping"),
        ("a: *nowhere\n", "anchor"),
        ("a: \"open\n", ""),
        (deep.as_str(), ""),
        (wide.as_str(), "aliases counted at each use"),
        (long.as_str(), "letters stand in one file"),
        (anchors.as_str(), "anchors stand in one file"),
    ] {
        let said = read(text).unwrap_err();
        assert!(said.contains(words), "{text}: {said}");
    }
}
