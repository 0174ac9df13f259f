//! Puts edits into texts; everything between them stays as it is, comments and layout too.

use std::collections::BTreeMap;

use crate::source::{Edit, FileId, Files, Span};

/// Puts text behind a place.
pub(super) fn insert(span: Span, text: impl Into<String>) -> Edit {
    Edit {
        span: Span::new(span.file, span.end, span.end),
        text: text.into(),
    }
}

/// Puts text in the place of what stands there.
pub(super) fn replace(span: Span, text: impl Into<String>) -> Edit {
    Edit {
        span,
        text: text.into(),
    }
}

/// The texts of the files that `edits` touch, changed. None when two edits overlap or leave their file.
pub fn apply<'e>(
    files: &Files,
    edits: impl IntoIterator<Item = &'e Edit>,
) -> Option<BTreeMap<FileId, String>> {
    let mut by_file: BTreeMap<FileId, Vec<&Edit>> = BTreeMap::new();
    for edit in edits {
        by_file.entry(edit.span.file).or_default().push(edit);
    }
    by_file
        .into_iter()
        .map(|(id, mut edits)| {
            let text = files.get(id)?.text();
            // Stable: insertions at one place keep their order.
            edits.sort_by_key(|edit| (edit.span.start, edit.span.end));
            let mut out = String::with_capacity(text.len() + 64 * edits.len());
            let mut at = 0_usize;
            for edit in edits {
                let (start, end) = (edit.span.start as usize, edit.span.end as usize);
                out.push_str(text.get(at..start)?);
                out.push_str(&edit.text);
                at = end;
            }
            out.push_str(text.get(at..)?);
            Some((id, out))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::SourceFile;

    fn file(text: &str) -> (Files, FileId) {
        let mut files = Files::default();
        let id = files.add(SourceFile::new("a.bay", text, None));
        (files, id)
    }

    fn edit(id: FileId, start: u32, end: u32, text: &str) -> Edit {
        Edit {
            span: Span::new(id, start, end),
            text: text.to_owned(),
        }
    }

    #[test]
    fn the_text_between_edits_stays() {
        let (files, id) = file("tap 4 # set by ear\r\nrun a { }\r\n");
        let edits = [edit(id, 29, 29, "x"), edit(id, 4, 5, "3")];
        let texts = apply(&files, &edits).expect("apart");
        assert_eq!(
            texts.get(&id).map(String::as_str),
            Some("tap 3 # set by ear\r\nrun a { }x\r\n")
        );
    }

    #[test]
    fn overlapping_edits_are_refused() {
        let (files, id) = file("tap 4");
        assert_eq!(
            apply(&files, &[edit(id, 0, 4, "a"), edit(id, 3, 5, "b")]),
            None
        );
        assert_eq!(apply(&files, &[edit(id, 4, 9, "a")]), None);
    }
}
