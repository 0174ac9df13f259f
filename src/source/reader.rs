//! Where texts come from: the disk, memory, or memory laid over the disk.
//!
//! The pipeline reads through [`Reader`] alone, so that the same files always give the same answer.

use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};

/// Why a file could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadError {
    /// There is no such file.
    NotFound,
    /// It is larger than the limit in bytes.
    TooLarge(u64),
    /// It is not UTF-8 text.
    NotText,
    /// The system's own words.
    Other(String),
}

impl std::fmt::Display for ReadError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NotFound => f.write_str("there is no such file"),
            Self::TooLarge(limit) => write!(f, "it is larger than {} MB", limit / 1_000_000),
            Self::NotText => f.write_str("it is not UTF-8 text"),
            Self::Other(words) => f.write_str(words),
        }
    }
}

/// Reads files and settles what a path really names.
pub trait Reader: Sync {
    /// The text at `path`, at most `limit` bytes.
    fn read(&self, path: &Path, limit: u64) -> Result<String, ReadError>;

    /// The path after links and `..`, if it exists.
    fn real_path(&self, path: &Path) -> Result<PathBuf, ReadError>;

    /// About how many bytes stand at `path`, where that is cheap to say: only an order of work hangs on it.
    fn size(&self, _path: &Path) -> u64 {
        0
    }
}

/// The file system.
#[derive(Clone, Copy, Debug, Default)]
pub struct Disk;

fn io_error(error: &std::io::Error) -> ReadError {
    match error.kind() {
        std::io::ErrorKind::NotFound => ReadError::NotFound,
        std::io::ErrorKind::PermissionDenied => {
            ReadError::Other("reading it is not permitted".into())
        }
        std::io::ErrorKind::IsADirectory => ReadError::Other("it is a folder".into()),
        kind => ReadError::Other(kind.to_string()),
    }
}

impl Reader for Disk {
    fn read(&self, path: &Path, limit: u64) -> Result<String, ReadError> {
        use std::io::Read as _;
        let file = std::fs::File::open(path).map_err(|e| io_error(&e))?;
        let about = file.metadata().map_err(|e| io_error(&e))?;
        if about.is_dir() {
            return Err(ReadError::Other("it is a folder".into()));
        }
        if !about.is_file() {
            return Err(ReadError::Other("it is not a plain file".into()));
        }
        if about.len() > limit {
            return Err(ReadError::TooLarge(limit));
        }
        // One byte more than the file: its end is then found without growing.
        let mut bytes = Vec::with_capacity(usize::try_from(about.len()).unwrap_or(0) + 1);
        file.take(limit + 1)
            .read_to_end(&mut bytes)
            .map_err(|e| io_error(&e))?;
        if bytes.len() as u64 > limit {
            return Err(ReadError::TooLarge(limit));
        }
        String::from_utf8(bytes).map_err(|_| ReadError::NotText)
    }

    fn real_path(&self, path: &Path) -> Result<PathBuf, ReadError> {
        std::fs::canonicalize(path).map_err(|e| io_error(&e))
    }

    fn size(&self, path: &Path) -> u64 {
        std::fs::metadata(path).map_or(0, |about| about.len())
    }
}

/// Takes `.` and `..` out of a path without asking the disk.
fn plain(path: &Path) -> PathBuf {
    let mut out = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => {
                if !out.pop() {
                    out.push("..");
                }
            }
            other => out.push(other),
        }
    }
    out
}

/// Files held in memory, for tests and the editor.
#[derive(Clone, Debug, Default)]
pub struct Memory(BTreeMap<PathBuf, String>);

impl Memory {
    /// Adds or replaces a text.
    #[must_use]
    pub fn with(mut self, path: impl Into<PathBuf>, text: impl Into<String>) -> Self {
        self.0.insert(plain(&path.into()), text.into());
        self
    }
}

impl Reader for Memory {
    fn read(&self, path: &Path, limit: u64) -> Result<String, ReadError> {
        let text = self.0.get(&plain(path)).ok_or(ReadError::NotFound)?;
        if text.len() as u64 > limit {
            Err(ReadError::TooLarge(limit))
        } else {
            Ok(text.clone())
        }
    }

    fn real_path(&self, path: &Path) -> Result<PathBuf, ReadError> {
        let path = plain(path);
        let known = self.0.keys().any(|file| file.starts_with(&path));
        if known {
            Ok(path)
        } else {
            Err(ReadError::NotFound)
        }
    }
}

/// Texts in memory that stand before those of another reader (unsaved edits, planted faults in tests).
pub struct Overlay<'a> {
    /// Looked at first. Paths as the lower reader's `real_path` gives them.
    pub above: Memory,
    /// Asked for the rest.
    pub below: &'a dyn Reader,
}

impl Reader for Overlay<'_> {
    fn read(&self, path: &Path, limit: u64) -> Result<String, ReadError> {
        match self.above.read(path, limit) {
            Err(ReadError::NotFound) => self.below.read(path, limit),
            other => other,
        }
    }

    fn real_path(&self, path: &Path) -> Result<PathBuf, ReadError> {
        self.below
            .real_path(path)
            .or_else(|_| self.above.real_path(path))
    }
}
