//! Findings: what the program noticed, as data. Drawing them is in the submodules.

use std::ops::Range;

/// Which of the files read together: the session file, or the club file it names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub usize);

impl FileId {
    /// The session file itself.
    pub const SESSION: FileId = FileId(0);
}

/// A stretch of bytes in one of the files read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Place {
    /// A place in `file`.
    pub fn new(file: FileId, span: Range<usize>) -> Self {
        Self { file, start: span.start, end: span.end }
    }

    /// The byte range, without the file.
    pub fn span(self) -> Range<usize> {
        self.start..self.end
    }
}

/// A value that remembers where it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub place: Place,
}

impl<T> Placed<T> {
    /// `value`, written at `place`.
    pub fn new(value: T, place: Place) -> Self {
        Self { value, place }
    }

    /// The same place for a value made from this one.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Placed<U> {
        Placed { value: change(self.value), place: self.place }
    }
}
