//! The reference page of the language, written from the table.

use std::fmt::Write as _;

use super::table::{Need, POSSIBLE, TOP, VOLTS, Word};
use crate::quantity::number_text;

fn rows(out: &mut String, groups: &[&[Word]]) {
    out.push_str(
        "| word | what follows | how often | what it says | example |\n|---|---|---|---|---|\n",
    );
    for word in groups.iter().copied().flatten() {
        let need = match word.need {
            Need::One => "once, needed",
            Need::Maybe => "once",
            Need::Many => "any number",
        };
        let cell = |text: &str| text.replace('|', "\\|");
        let _ = writeln!(
            out,
            "| `{}` | {} | {need} | {} | `{}` |",
            word.word,
            if word.pattern.is_empty() {
                String::new()
            } else {
                format!("`{}`", cell(word.pattern))
            },
            cell(word.doc),
            cell(word.example),
        );
    }
    out.push('\n');
}

/// The whole page in Markdown.
pub fn reference_page() -> String {
    let mut out = String::from(include_str!("reference.md"));
    out.push_str(
        "\n## What an amount can be\n\nAn amount outside of these is a slip of the key, and is refused.\n\n| what | of the word | from | to |\n|---|---|---|---|\n",
    );
    for row in POSSIBLE.iter().chain([&VOLTS]) {
        let end = |value: f64| format!("{} {}", number_text(value, 0), row.unit);
        let word = row
            .word
            .map_or_else(|| "any".to_owned(), |word| format!("`{word}`"));
        let above = if row.with_least { "" } else { "above " };
        let _ = writeln!(
            out,
            "| {} | {word} | {above}{} | {} |",
            row.what,
            end(row.least).trim_end(),
            end(row.most).trim_end()
        );
    }
    out.push_str("\n## Words at the top of a file\n\n");
    rows(&mut out, TOP);
    let mut seen: Vec<*const Word> = Vec::new();
    for (path, word) in super::all_words() {
        if word.has_block() && !seen.contains(&std::ptr::from_ref(word)) {
            seen.push(std::ptr::from_ref(word));
            let mut place = path.clone();
            place.push(word.word);
            let _ = writeln!(
                out,
                "## In a block `{}`\n\n{}\n",
                place.join(" … "),
                word.doc
            );
            rows(&mut out, word.body);
        }
    }
    out
}
