//! Arrows between folders run one way, files stay small, and each says what it is.

use std::fs;
use std::path::Path;

use crate::support::cases::{files_below, root};

/// Folders of `src/` in the order in which the data travels.
const ORDER: &[&str] = &[
    "source", "quantity", "language", "catalog", "model", "physics", "figures", "systems",
    "material", "rules", "packet", "advise", "workshop", "cli",
];

fn sources() -> Vec<(String, String)> {
    let src = root().join("src");
    files_below(&src, "rs")
        .into_iter()
        .map(|path| {
            let name = path
                .strip_prefix(&src)
                .unwrap()
                .to_string_lossy()
                .replace('\\', "/");
            (name, fs::read_to_string(path).unwrap())
        })
        .collect()
}

fn folder(file: &str) -> &str {
    file.split('/').next().unwrap().trim_end_matches(".rs")
}

/// The folders that a file's `crate::…` paths name.
fn names(text: &str) -> Vec<String> {
    text.match_indices("crate::")
        .filter(|(at, _)| !text[..*at].ends_with('$'))
        .map(|(at, found)| {
            text[at + found.len()..]
                .chars()
                .take_while(|c| c.is_alphanumeric() || *c == '_')
                .collect::<String>()
        })
        .filter(|name| ORDER.contains(&name.as_str()))
        .collect()
}

#[test]
fn no_folder_imports_from_one_below_it() {
    let rank = |name: &str| ORDER.iter().position(|folder| *folder == name);
    let mut wrong = Vec::new();
    for (file, text) in sources() {
        let Some(own) = rank(folder(&file)) else {
            continue;
        };
        for name in names(&text) {
            let theirs = rank(&name).unwrap();
            if theirs > own {
                wrong.push(format!("src/{file} names `crate::{name}`"));
            }
            if folder(&file) == "physics" && name != "physics" && name != "quantity" {
                wrong.push(format!(
                    "src/{file} names `crate::{name}`: physics knows no job"
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_file_says_what_it_is() {
    for (file, text) in sources() {
        assert!(text.starts_with("//! "), "src/{file} opens with `//!`");
    }
}

#[test]
fn a_folder_s_mod_file_holds_no_logic() {
    for (file, text) in sources() {
        if file.ends_with("/mod.rs") {
            let logic = text
                .lines()
                .find(|line| line.trim_start().starts_with("fn ") || line.starts_with("impl "));
            assert!(logic.is_none(), "src/{file}: {logic:?}");
        }
    }
}

#[test]
fn the_top_level_is_closed() {
    let allowed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "grammar",
        "src",
        "templates",
        "tests",
        "examples",
        "target",
    ];
    for item in fs::read_dir(root()).unwrap() {
        let name = item.unwrap().file_name().to_string_lossy().into_owned();
        assert!(
            name.starts_with('.') || allowed.contains(&name.as_str()),
            "`{name}` stands at the top level"
        );
    }
}

#[test]
fn only_one_file_names_the_report_library() {
    for (file, text) in sources() {
        assert!(
            !text.contains("miette::") || file == "source/human.rs",
            "src/{file} names miette"
        );
    }
    assert!(Path::new(&root().join("src/source/human.rs")).exists());
}
