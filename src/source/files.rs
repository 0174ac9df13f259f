//! The texts of a job and the turning of byte ranges into lines and columns.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{FileId, Span};

/// One text with its name as given and the starts of its lines.
#[derive(Debug)]
pub struct SourceFile {
    name: String,
    text: Arc<str>,
    line_starts: Arc<[u32]>,
    included_from: Option<Span>,
}

impl SourceFile {
    /// A file named as the user gave it (with `/`), with its text as read.
    pub fn new(
        name: impl Into<String>,
        text: impl Into<String>,
        included_from: Option<Span>,
    ) -> Self {
        let text = text.into();
        let after = |(at, _)| u32::try_from(at + 1).unwrap_or(u32::MAX);
        let mut line_starts = vec![0];
        line_starts.extend(text.match_indices('\n').map(after));
        Self {
            name: name.into().replace('\\', "/"),
            text: text.into(),
            line_starts: line_starts.into(),
            included_from,
        }
    }

    /// The same text under another name, for a shared file that several jobs name in their own ways.
    #[must_use]
    pub fn named(&self, name: impl Into<String>) -> Self {
        Self {
            name: name.into().replace('\\', "/"),
            text: Arc::clone(&self.text),
            line_starts: Arc::clone(&self.line_starts),
            included_from: self.included_from,
        }
    }

    /// The name as given.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The `include` that brought the file in.
    pub const fn included_from(&self) -> Option<Span> {
        self.included_from
    }

    /// Line and column, both from 1, of byte `at`. Columns count Unicode scalars;
    /// a byte order mark counts 0, a carriage return before a line feed belongs to the break.
    fn line_column(&self, at: u32) -> (u32, u32) {
        let at = at.min(u32::try_from(self.text.len()).unwrap_or(u32::MAX));
        let line = self
            .line_starts
            .partition_point(|start| *start <= at)
            .max(1);
        let start = self.line_starts.get(line - 1).copied().unwrap_or(0) as usize;
        let before = self.text.get(start..at as usize).unwrap_or("");
        let column = before.chars().filter(|c| *c != '\u{feff}').count() + 1;
        (
            u32::try_from(line).unwrap_or(u32::MAX),
            u32::try_from(column).unwrap_or(u32::MAX),
        )
    }
}

/// Where a span begins and ends, in lines and columns from 1, end exclusive.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// First line.
    pub line: u32,
    /// First column.
    pub column: u32,
    /// Last line.
    pub end_line: u32,
    /// One past the last column.
    pub end_column: u32,
}

/// Every text that one job rests on: its own files and the shared catalogs.
#[derive(Clone, Debug, Default)]
pub struct Files {
    own: Vec<Arc<SourceFile>>,
    shared: BTreeMap<FileId, Arc<SourceFile>>,
}

impl Files {
    /// Adds a file of this job and hands out its id.
    pub fn add(&mut self, file: SourceFile) -> FileId {
        let id = FileId::own(u32::try_from(self.own.len()).unwrap_or(u32::MAX));
        self.own.push(Arc::new(file));
        id
    }

    /// Makes a shared file known under the id that its shelf gave it.
    pub fn attach(&mut self, id: FileId, file: Arc<SourceFile>) {
        self.shared.insert(id, file);
    }

    /// The file, if this job knows it.
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        if id.is_shared() {
            self.shared.get(&id).map(Arc::as_ref)
        } else {
            self.own.get(id.index()).map(Arc::as_ref)
        }
    }

    /// The name as given, or `?`.
    pub fn name(&self, id: FileId) -> &str {
        self.get(id).map_or("?", SourceFile::name)
    }

    /// The words at `span`, empty when it lies outside its file.
    pub fn text(&self, span: Span) -> &str {
        self.get(span.file)
            .and_then(|file| file.text().get(span.start as usize..span.end as usize))
            .unwrap_or("")
    }

    /// Lines and columns of `span`.
    pub fn position(&self, span: Span) -> Position {
        let Some(file) = self.get(span.file) else {
            return Position {
                line: 1,
                column: 1,
                end_line: 1,
                end_column: 1,
            };
        };
        let (line, column) = file.line_column(span.start);
        let (end_line, end_column) = file.line_column(span.end.max(span.start));
        Position {
            line,
            column,
            end_line,
            end_column,
        }
    }

    /// `file:line` of a span, as figures print their inputs.
    pub fn place(&self, span: Span) -> String {
        format!("{}:{}", self.name(span.file), self.position(span).line)
    }

    /// All files, own ones first, in the order they were read.
    pub fn iter(&self) -> impl Iterator<Item = &SourceFile> {
        self.own.iter().chain(self.shared.values()).map(Arc::as_ref)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_scalars_and_skip_the_byte_order_mark() {
        let mut files = Files::default();
        let id = files.add(SourceFile::new("a", "\u{feff}é\tx\r\nzweite", None));
        // BOM 3 bytes, é 2, tab 1, then x at byte 6
        let x = files.position(Span::new(id, 6, 7));
        assert_eq!((x.line, x.column, x.end_column), (1, 3, 4));
        let second = files.position(Span::new(id, 9, 15));
        assert_eq!((second.line, second.column, second.end_column), (2, 1, 7));
    }
}
