//! Brings a job file and what it includes together, inside the job's root.

use std::path::{Path, PathBuf};

use indexmap::IndexMap;

use crate::source::{FileId, Files, Finding, ReadError, Reader, SourceFile, Span, Spanned};

use super::entry::Entry;
use super::mistake::{BAD_INCLUDE, GIVEN_TWICE};
use super::parse::read_file;

/// Bounds on what one job may bring in.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// Bytes of one file.
    pub file_bytes: u64,
    /// Files of one job.
    pub files: usize,
    /// How deep files may include one another.
    pub depth: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            file_bytes: 2_000_000,
            files: 64,
            depth: 16,
        }
    }
}

/// The folder that every file of a job stays under.
#[derive(Clone, Debug)]
pub struct Root(PathBuf);

impl Root {
    /// `given`, else the nearest folder above `job` that holds `bayrun.yaml`, else the job's folder.
    ///
    /// # Errors
    /// Says why the job or the given folder can't be found.
    pub fn of(reader: &dyn Reader, job: &Path, given: Option<&Path>) -> Result<Self, ReadError> {
        let job = reader.real_path(job)?;
        if let Some(given) = given {
            return reader.real_path(given).map(Self);
        }
        let folder = job.parent().unwrap_or(Path::new(""));
        let marked = folder
            .ancestors()
            .find(|above| reader.real_path(&above.join("bayrun.yaml")).is_ok());
        Ok(Self(marked.unwrap_or(folder).to_path_buf()))
    }

    /// The folder.
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Whether a real path lies under the root.
    pub fn holds(&self, real: &Path) -> bool {
        real.starts_with(&self.0)
    }
}

/// Values named by `let`, as written.
pub(super) type Lets = IndexMap<String, Spanned<String>>;

/// What reading a job gave.
#[derive(Debug)]
pub struct Loaded {
    /// Texts read.
    pub files: Files,
    /// Entries of the job file and what it includes, in order.
    pub entries: Vec<Entry>,
    /// The real folder of each own file, by file id, for catalogs named in it.
    pub folders: Vec<PathBuf>,
    /// Mistakes found.
    pub findings: Vec<Finding>,
}

pub(super) struct Loader<'r> {
    reader: &'r dyn Reader,
    root: &'r Root,
    limits: Limits,
    files: Files,
    folders: Vec<PathBuf>,
    /// Real paths of the files being read, outermost first.
    chain: Vec<(PathBuf, String)>,
    pub(super) lets: Lets,
    pub(super) findings: Vec<Finding>,
    pub(super) unclosed_reported: bool,
}

/// Reads the job at `path`, shown under `name`, with everything it includes.
///
/// # Errors
/// Only when the job file itself can't be read; all else is a finding.
pub fn load(
    reader: &dyn Reader,
    root: &Root,
    path: &Path,
    name: &str,
    limits: Limits,
) -> Result<Loaded, ReadError> {
    let real = reader.real_path(path)?;
    let text = reader.read(&real, limits.file_bytes)?;
    let mut loader = Loader {
        reader,
        root,
        limits,
        files: Files::default(),
        folders: Vec::new(),
        chain: Vec::new(),
        lets: Lets::new(),
        findings: Vec::new(),
        unclosed_reported: false,
    };
    let entries = loader.read(real, name, text, None);
    let Loader {
        files,
        folders,
        findings,
        ..
    } = loader;
    Ok(Loaded {
        files,
        entries,
        folders,
        findings,
    })
}

impl Loader<'_> {
    fn read(&mut self, real: PathBuf, name: &str, text: String, from: Option<Span>) -> Vec<Entry> {
        let main = from.is_none();
        let file = self.files.add(SourceFile::new(name, text.clone(), from));
        self.folders
            .push(real.parent().unwrap_or(Path::new("")).to_path_buf());
        self.chain.push((real, name.to_owned()));
        self.unclosed_reported = false;
        let entries = read_file(self, file, &text, main);
        self.unclosed_reported = false;
        self.chain.pop();
        entries
    }

    fn bad_include(&mut self, span: Span, message: String, help: &str) -> Vec<Entry> {
        self.findings
            .push(Finding::new(&BAD_INCLUDE, span, message, help));
        Vec::new()
    }

    pub(super) fn include(&mut self, entry: &Entry) -> Vec<Entry> {
        let Some(path) = entry.text("file").known() else {
            return Vec::new();
        };
        let span = path.span;
        let folder = self.folder_of(span.file);
        let name = beside(self.files.name(span.file), &path.value);
        let wanted = folder.join(&path.value);
        let relative = "write a path relative to this file, as in `include \"second-floor.bay\"`";
        if Path::new(&path.value).is_absolute() || path.value.is_empty() {
            return self.bad_include(
                span,
                format!("`{}` is not a relative path", path.value),
                relative,
            );
        }
        if self.files.iter().count() >= self.limits.files {
            let most = self.limits.files;
            return self.bad_include(
                span,
                format!("the job has more than {most} files"),
                "include fewer files",
            );
        }
        let real = match self.reader.real_path(&wanted) {
            Ok(real) => real,
            Err(error) => {
                return self.bad_include(
                    span,
                    format!("`{}` can't be read: {error}", path.value),
                    relative,
                );
            }
        };
        if !self.root.holds(&real) {
            return self.bad_include(
                span,
                format!("`{}` lies outside the job's root", path.value),
                "keep the file under the folder that holds `bayrun.yaml`",
            );
        }
        if let Some(first) = self.chain.iter().position(|(open, _)| *open == real) {
            let mut around: Vec<&str> = self
                .chain
                .get(first..)
                .unwrap_or(&[])
                .iter()
                .map(|(_, name)| name.as_str())
                .collect();
            around.push(&name);
            let message = format!(
                "the files include one another in a circle: {}",
                around.join(" → ")
            );
            return self.bad_include(span, message, "take one of the `include` lines out");
        }
        if self.chain.len() >= self.limits.depth {
            let most = self.limits.depth;
            return self.bad_include(
                span,
                format!("files include one another more than {most} deep"),
                "include less deeply",
            );
        }
        match self.reader.read(&real, self.limits.file_bytes) {
            Ok(text) => self.read(real, &name, text, Some(span)),
            Err(error) => self.bad_include(
                span,
                format!("`{}` can't be read: {error}", path.value),
                relative,
            ),
        }
    }

    fn folder_of(&self, file: FileId) -> PathBuf {
        self.folders.get(file.index()).cloned().unwrap_or_default()
    }

    pub(super) fn name_value(&mut self, entry: &Entry) {
        let (Some(name), Some(value)) = (entry.text("name").known(), entry.text("value").known())
        else {
            return;
        };
        if let Some(first) = self.lets.get(&name.value) {
            self.findings.push(
                Finding::new(
                    &GIVEN_TWICE,
                    name.span,
                    format!("`{}` is named twice", name.value),
                    "choose another name",
                )
                .label(first.span, "first given here"),
            );
            return;
        }
        self.lets.insert(name.value, value);
    }
}

/// `path` as seen from the file named `from`, with `/`, for reports.
pub(crate) fn beside(from: &str, path: &str) -> String {
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in path.split(['/', '\\']) {
        match part {
            "." => {}
            ".." if parts
                .last()
                .is_some_and(|last| *last != ".." && !last.is_empty()) =>
            {
                parts.pop();
            }
            other => parts.push(other),
        }
    }
    parts.join("/")
}
