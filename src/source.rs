//! Stage 0, the source: a file's text with the starts of its lines.
//!
//! ```
//! use deckcard::source::{self, Position, Source};
//!
//! // From a text, or from bytes that may be none; `load` reads a file or standard input.
//! let source = Source::new("tuesday.toml", "title = \"Legs\"\npool = \"25 m\"\n");
//! assert_eq!(source.position(15), Position { line: 2, column: 1 });
//! assert!(source::from_bytes("tuesday.toml", b"title = \"\xff\"".to_vec()).is_err());
//! ```

mod kinds;

use std::fs::{self, File, Metadata};
use std::io::{self, Read};
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use thiserror::Error;

use crate::finding::{FileId, Finding, Place, Rule, Severity, rules};
use crate::measure::LIMITS;

/// A text that was read whole: valid UTF-8, and no larger than the limit where it came from a file.
#[derive(Clone, Debug)]
pub struct Source {
    path: String,
    text: String,
    line_starts: Vec<usize>,
    /// The text as the parser takes it, where faults of writing had to be mended first.
    mended: OnceLock<Box<str>>,
}

/// A line and column, both from 1; columns count characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// Line of the file.
    pub line: usize,
    /// Character of the line.
    pub column: usize,
}

impl Source {
    /// A source of a text that is already in memory; `path` is what messages call it. The text may
    /// have any length: only [`load`] and [`from_bytes`] hold it to the limit.
    pub fn new(path: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        let line_starts =
            std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { path: path.into(), text, line_starts, mended: OnceLock::new() }
    }

    /// What messages call the file.
    pub fn path(&self) -> &str {
        &self.path
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Keeps a mended form of the text, for a tree that borrows from it. The first is kept: it is
    /// a function of the text.
    pub(crate) fn keep_mended(&self, mended: String) -> &str {
        self.mended.get_or_init(|| mended.into_boxed_str())
    }

    /// The text of a span, empty where the span is not inside the text.
    pub fn slice(&self, span: Range<usize>) -> &str {
        self.text.get(span).unwrap_or_default()
    }

    /// Line and column of a byte; a byte past the end is at the end.
    pub fn position(&self, byte: usize) -> Position {
        let byte = byte.min(self.text.len());
        let line = self.line_starts.partition_point(|start| *start <= byte);
        let start = self.line_starts.get(line.saturating_sub(1)).copied().unwrap_or(0);
        let before = self.text.get(start..byte).unwrap_or_default();
        Position { line, column: before.chars().count() + 1 }
    }

    /// The text with the bytes of each span replaced, and how many were. Of two spans that
    /// overlap the first is replaced; a span that is not inside the text is left alone.
    pub fn edited(&self, mut edits: Vec<(Range<usize>, &str)>) -> (String, usize) {
        edits.sort_by_key(|(span, _)| (span.start, span.end));
        let (mut out, mut at, mut count) = (String::with_capacity(self.text.len()), 0, 0);
        for (span, new) in edits {
            if span.start < at || self.text.get(span.clone()).is_none() {
                continue;
            }
            out.push_str(self.slice(at..span.start));
            out.push_str(new);
            at = span.end;
            count += 1;
        }
        out.push_str(self.slice(at..self.text.len()));
        (out, count)
    }

    /// The folder that names inside the file are relative to.
    pub fn folder(&self) -> PathBuf {
        Path::new(&self.path).parent().map(Path::to_path_buf).unwrap_or_default()
    }
}

/// Why there is no source.
#[derive(Debug, Error)]
pub enum LoadError {
    /// The system refused.
    #[error("cannot read {path}: {}", reason(error))]
    Io {
        /// The file.
        path: String,
        /// The system's reason.
        error: io::Error,
    },
    /// The bytes were read but are no text of a session.
    #[error("{}", .0.1.title)]
    Rejected(Box<(Source, Finding)>),
}

/// Why the system refused, in everyday words where there are some: "there is no such file".
pub fn reason(error: &io::Error) -> String {
    let words = match error.kind() {
        io::ErrorKind::NotFound => "there is no such file",
        io::ErrorKind::PermissionDenied => "it may not be opened",
        io::ErrorKind::IsADirectory => "it is a folder",
        io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => "it is a file, not a folder",
        io::ErrorKind::StorageFull => "the disk is full",
        io::ErrorKind::ReadOnlyFilesystem => "the disk can only be read",
        io::ErrorKind::QuotaExceeded => "there is no room left for this user",
        io::ErrorKind::FileTooLarge => "no file may be so large here",
        io::ErrorKind::InvalidFilename => "its name is too long, or none that a disk takes",
        _ if is_a_loop(error) => "it is a link that leads back to itself",
        _ => return error.to_string(),
    };
    words.to_owned()
}

/// Whether links led from one to the next without end: ELOOP, for which the standard library has no
/// kind yet. It is 40 on Linux (asm-generic/errno.h), 62 on macOS and the BSDs (sys/errno.h).
fn is_a_loop(error: &io::Error) -> bool {
    let number = match () {
        () if cfg!(any(target_os = "linux", target_os = "android")) => 40,
        () if cfg!(unix) => 62,
        () => return false,
    };
    error.raw_os_error() == Some(number)
}

/// Reads a file; `-` is standard input. For a name that a file or an option gives, [`file()`] is meant.
///
/// Never reads more than the limit of bytes, 1 MiB, however large the file is.
///
/// # Errors
///
/// [`LoadError::Io`] where the system refuses the file; [`LoadError::Rejected`], with a finding to
/// show, where it is too large, no UTF-8 or of a kind that is no text.
pub fn load(path: &Path) -> Result<Source, LoadError> {
    if path != Path::new("-") {
        return file(path);
    }
    read("standard input", || limited(io::stdin().lock()))
}

/// Reads a file that is named inside another or by an option, where `-` names nothing: standard input
/// holds one file.
///
/// # Errors
///
/// As [`load`].
pub fn file(path: &Path) -> Result<Source, LoadError> {
    read(&path.display().to_string(), || match path == Path::new("-") {
        true => Err(io::Error::other("a file is to be named here, and - is none")),
        false => limited(opened(path)?),
    })
}

fn read(shown: &str, bytes: impl FnOnce() -> io::Result<Vec<u8>>) -> Result<Source, LoadError> {
    match bytes() {
        Ok(bytes) => from_bytes(shown, bytes),
        Err(error) => Err(LoadError::Io { path: shown.to_owned(), error }),
    }
}

/// The bytes of a file that may be in any coding; `-` is standard input.
///
/// # Errors
///
/// [`LoadError::Io`] where the system refuses the file; [`LoadError::Rejected`] where it is too large.
pub fn load_bytes(path: &Path) -> Result<Vec<u8>, LoadError> {
    let shown = shown(path);
    let bytes = match path == Path::new("-") {
        true => limited(io::stdin().lock()),
        false => opened(path).and_then(limited),
    };
    match bytes {
        Ok(bytes) => within_limit(&shown, bytes),
        Err(error) => Err(LoadError::Io { path: shown, error }),
    }
}

/// What messages call a file.
pub fn shown(path: &Path) -> String {
    if path == Path::new("-") { "standard input".to_owned() } else { path.display().to_string() }
}

fn within_limit(path: &str, bytes: Vec<u8>) -> Result<Vec<u8>, LoadError> {
    if LIMITS.file_bytes.holds(bytes.len() as u64) {
        return Ok(bytes);
    }
    let finding = Finding::new(&FILE_TOO_LARGE, "the file is larger than 1 MiB")
        .label(Place::new(FileId::MAIN, 0..0), "")
        .help("a session file has a few thousand characters; is this the right file?");
    Err(LoadError::Rejected(Box::new((Source::new(path, ""), finding))))
}

fn limited(from: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(LIMITS.file_bytes.most + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Opens a file, and nothing that only looks like one: a pipe would be waited for without end.
pub(crate) fn opened(path: &Path) -> io::Result<File> {
    let there = fs::metadata(path)?;
    if !is_device(&there) {
        is_a_file(&there)?;
    }
    File::open(path)
}

/// Says what is there where it is no file.
pub(crate) fn is_a_file(there: &Metadata) -> io::Result<()> {
    if there.is_file() {
        return Ok(());
    }
    Err(match (there.is_dir(), is_pipe(there)) {
        (true, _) => io::ErrorKind::IsADirectory.into(),
        (_, true) => io::Error::other("it is a pipe, not a file"),
        _ => io::Error::other("it is no file"),
    })
}

#[cfg(unix)]
fn is_pipe(there: &Metadata) -> bool {
    std::os::unix::fs::FileTypeExt::is_fifo(&there.file_type())
}

#[cfg(not(unix))]
fn is_pipe(_: &Metadata) -> bool {
    false
}

/// Whether it takes or gives bytes one after the other, as a terminal does and /dev/null.
#[cfg(unix)]
pub(crate) fn is_device(there: &Metadata) -> bool {
    std::os::unix::fs::FileTypeExt::is_char_device(&there.file_type())
}

/// Whether it takes or gives bytes one after the other.
#[cfg(not(unix))]
pub(crate) fn is_device(_: &Metadata) -> bool {
    false
}

/// Makes a source of the bytes of a file that messages call `path`.
///
/// # Errors
///
/// [`LoadError::Rejected`], as [`load`].
pub fn from_bytes(path: &str, bytes: Vec<u8>) -> Result<Source, LoadError> {
    let reject =
        |source: Source, finding: Finding| Err(LoadError::Rejected(Box::new((source, finding))));
    let bytes = within_limit(path, bytes)?;
    if let Some((what, help)) = kinds::other_kind(&bytes) {
        let finding = Finding::new(&NOT_UTF8, format!("the file is {what} and no plain text"))
            .label(Place::new(FileId::MAIN, 0..0), "")
            .help(help);
        return reject(Source::new(path, ""), finding);
    }
    String::from_utf8(bytes).map(|text| Source::new(path, text)).or_else(|error| {
        let good = error.utf8_error().valid_up_to();
        let text = String::from_utf8_lossy(error.as_bytes().get(..good).unwrap_or_default());
        let source = Source::new(path, text);
        let place = Place::new(FileId::MAIN, good..good);
        let finding = Finding::new(&NOT_UTF8, "the file is not plain UTF-8 text")
            .label(place, "the first character that cannot be read")
            .help("save it in the editor as \"UTF-8\", or retype the letter here");
        reject(source, finding)
    })
}

/// The rules by which a file is refused before it is read.
pub const REFUSALS: [&Rule; 2] = [&NOT_UTF8, &FILE_TOO_LARGE];

rules! {
    NOT_UTF8 {
        id: "not-utf8",
        severity: Severity::Error,
        summary: "the file is not UTF-8 text",
        why: "A letter saved in an older coding cannot be distinguished from another; on the card it would \
              be the wrong letter. A word processor's own format is no text at all.",
        unworried: "Never: nothing can be read safely from such a file.",
        before: "title = \"Brasse coul\u{fffd}e\"",
        after: "title = \"Brasse coul\u{e9}e\"",
        source: "The TOML format asks for UTF-8.",
    }

    FILE_TOO_LARGE {
        id: "file-too-large",
        severity: Severity::Error,
        summary: "the file is larger than 1 MiB",
        why: "A session is some thousand characters. A file this large is another file, named by a slip.",
        unworried: "Never: no session comes near the limit.",
        before: "deckcard print holiday-video.mp4",
        after: "deckcard print tuesday.toml",
        source: "A limit of this program.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn positions_count_lines_and_characters() {
        let source = Source::new("a.toml", "title = \"é\"\nx\n");
        assert_eq!(source.position(0), Position { line: 1, column: 1 });
        // The é is two bytes and one column: byte 11 is the closing quote, column 11.
        assert_eq!(source.position(11), Position { line: 1, column: 11 });
        assert_eq!(source.position(13), Position { line: 2, column: 1 });
        assert_eq!(source.position(99), Position { line: 3, column: 1 });
    }

    #[test]
    fn bytes_that_are_no_text_are_reported_with_their_place() {
        let Err(LoadError::Rejected(rejected)) =
            from_bytes("x.toml", b"a = 1\nb = \"\xe9\"\n".to_vec())
        else {
            panic!("latin-1 is not UTF-8");
        };
        let (source, finding) = *rejected;
        assert_eq!(finding.rule.id, "not-utf8");
        let place = finding.labels[0].place;
        assert_eq!(source.position(place.start), Position { line: 2, column: 6 });
    }
}
