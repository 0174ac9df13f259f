//! A place: a file and a byte range in it.

/// Which file of a run. Ids are handed out by [`super::Files`] and by the shelf of shared catalogs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FileId(u32);

impl FileId {
    const SHARED: u32 = 1 << 31;

    /// The `index`-th file that belongs to one job alone.
    pub const fn own(index: u32) -> Self {
        Self(index & !Self::SHARED)
    }

    /// The `index`-th file that several jobs of a run share (a catalog).
    pub const fn shared(index: u32) -> Self {
        Self(index | Self::SHARED)
    }

    /// Whether several jobs of a run share this file.
    pub const fn is_shared(self) -> bool {
        self.0 & Self::SHARED != 0
    }

    /// Position among the own files, or among the shared ones.
    pub const fn index(self) -> usize {
        (self.0 & !Self::SHARED) as usize
    }
}

/// A byte range `start..end` of one file's text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The range `start..end` of `file`.
    pub const fn new(file: FileId, start: u32, end: u32) -> Self {
        Self { file, start, end }
    }

    /// From the start of `self` to the end of `other`; `self` alone when they lie in different files.
    pub fn to(self, other: Self) -> Self {
        if self.file == other.file {
            Self::new(
                self.file,
                self.start.min(other.start),
                self.end.max(other.end),
            )
        } else {
            self
        }
    }

    /// Length in bytes.
    pub const fn len(self) -> u32 {
        self.end.saturating_sub(self.start)
    }

    /// Whether the range holds no byte.
    pub const fn is_empty(self) -> bool {
        self.end <= self.start
    }
}

/// A value and the words it was read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spanned<T> {
    /// What was read.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// Ties `value` to `span`.
    pub const fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// The same place, another value.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned {
            value: f(self.value),
            span: self.span,
        }
    }
}
