//! Files written whole or not at all, and together where they belong together.

use std::collections::BTreeSet;
use std::fs::{self, File, Metadata};
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use super::reporter::Reporter;
use super::unfinished::{self, Temporary};
use super::{Refusal, answer};
use crate::source::{self, reason};

/// What becomes of a file that may only be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum ReadOnly {
    /// It is kept.
    Kept,
    /// It is replaced, for that was asked for.
    Replaced,
}

impl ReadOnly {
    /// As `--force` says.
    pub fn unless(force: bool) -> Self {
        if force { Self::Replaced } else { Self::Kept }
    }
}

/// A file that was written.
#[derive(Debug)]
pub(super) struct Wrote {
    /// Its name.
    pub path: PathBuf,
    /// Whether a file of an earlier run was there.
    pub replaced: bool,
}

/// "wrote s-25m.pdf", and whether it is in the place of another.
impl std::fmt::Display for Wrote {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let replaced = if self.replaced { ", in place of an earlier file" } else { "" };
        write!(f, "wrote {}{replaced}", self.path.display())
    }
}

/// Writes one file.
pub(super) fn one(path: &Path, bytes: &[u8], read_only: ReadOnly) -> Result<Wrote, Refusal> {
    let replaced = Staged::of(path, bytes, read_only).and_then(|staged| {
        let replaced = staged.replaced;
        unfinished::uninterrupted(|| put_all(vec![staged])).map(|()| replaced)
    })?;
    Ok(Wrote { path: path.to_owned(), replaced })
}

/// Writes files that belong together, in their order: all of them, or none.
///
/// Each is first written whole under another name beside its own. A file that is there already keeps
/// its permissions; a link stays a link, and what it leads to is written; what is written to a device
/// goes to the device.
pub(super) fn all<B: AsRef<[u8]>>(
    files: &[(PathBuf, B)],
    read_only: ReadOnly,
) -> Result<Vec<Wrote>, Refusal> {
    let mut staged = Vec::with_capacity(files.len());
    for (path, bytes) in files {
        staged.push(Staged::of(path, bytes.as_ref(), read_only)?);
    }
    let mut places = BTreeSet::new();
    for (path, _) in files {
        if !places.insert(place(path)) {
            return Err(Refusal::SameTarget(path.display().to_string()));
        }
    }
    let replaced: Vec<bool> = staged.iter().map(|staged| staged.replaced).collect();
    unfinished::uninterrupted(|| put_all(staged))?;
    let paths = files.iter().map(|(path, _)| path.clone());
    Ok(paths.zip(replaced).map(|(path, replaced)| Wrote { path, replaced }).collect())
}

/// Writes a text to the file that is named, or to standard output where none is.
pub(super) fn text(
    output: Option<&Path>,
    text: &str,
    force: bool,
    reporter: &Reporter,
) -> Result<(), Refusal> {
    let Some(target) = output.filter(|output| *output != Path::new("-")) else {
        return answer::document(text);
    };
    may_take(target, force)?;
    reporter.note(one(target, text.as_bytes(), ReadOnly::unless(force))?);
    Ok(())
}

/// Refuses to take the place of a file that is there, unless it is meant.
pub(super) fn may_take(path: &Path, force: bool) -> Result<(), Refusal> {
    let takes_a_place = fs::metadata(path).is_ok_and(|there| !source::is_device(&there));
    match !force && takes_a_place {
        true => Err(Refusal::Exists(path.display().to_string())),
        false => Ok(()),
    }
}

/// Makes a folder, and those it lies in, where they are not there.
pub(super) fn folder(path: &Path) -> Result<(), Refusal> {
    unfinished::folder(path).map_err(|error| refused(path, error))
}

/// Why the system did not let a file be written.
pub(super) fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::PermissionDenied => "it may not be written".to_owned(),
        _ => reason(error),
    }
}

fn refused(path: &Path, error: io::Error) -> Refusal {
    Refusal::Write { path: path.display().to_string(), error }
}

/// A file that is written whole, and not yet in its place.
struct Staged {
    path: PathBuf,
    replaced: bool,
    content: Content,
}

enum Content {
    /// To be renamed to the target.
    File { temporary: Temporary, target: PathBuf, folder: PathBuf },
    /// To be written, for a device has no whole.
    Device { device: File, bytes: Vec<u8> },
}

impl Staged {
    fn of(path: &Path, bytes: &[u8], read_only: ReadOnly) -> Result<Self, Refusal> {
        let refused = |error| refused(path, error);
        let there = fs::metadata(path).ok();
        if let Some(there) = &there
            && source::is_device(there)
        {
            let device = fs::OpenOptions::new().write(true).open(path).map_err(refused)?;
            if device.is_terminal() {
                return Err(Refusal::NotForATerminal("a file"));
            }
            let content = Content::Device { device, bytes: bytes.to_vec() };
            return Ok(Self { path: path.to_owned(), replaced: false, content });
        }
        if let Some(there) = &there {
            may_replace(there, read_only).map_err(refused)?;
        }
        let target = led_to(path).map_err(refused)?;
        let folder = match target.parent() {
            Some(folder) if folder != Path::new("") => folder.to_path_buf(),
            _ => PathBuf::from("."),
        };
        if let Err(error) = is_folder(&folder) {
            return Err(match error.kind() {
                io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => {
                    Refusal::NoFolder(folder.display().to_string())
                }
                _ => refused(error),
            });
        }
        let temporary = written(&folder, bytes, there.as_ref()).map_err(refused)?;
        let content = Content::File { temporary, target, folder };
        Ok(Self { path: path.to_owned(), replaced: there.is_some(), content })
    }

    /// Puts the file in its place; what was there is kept beside it where it may have to come back.
    fn put(self, may_come_back: bool) -> Result<Option<Undo>, Refusal> {
        let refused = |error| refused(&self.path, error);
        match self.content {
            Content::Device { mut device, bytes } => {
                device.write_all(&bytes).map_err(refused)?;
                Ok(None)
            }
            Content::File { temporary, target, folder } => {
                let old = match self.replaced && may_come_back {
                    true => Some(Temporary::of(&target, &folder).map_err(refused)?),
                    false => None,
                };
                temporary.put(&target).map_err(|(error, _)| refused(error))?;
                Ok(may_come_back.then_some(Undo { target, old }))
            }
        }
    }
}

/// How a place looked before a file was put there.
struct Undo {
    target: PathBuf,
    old: Option<Temporary>,
}

impl Undo {
    /// As far as the system lets it. Where what was there cannot come back it is kept beside its
    /// place, for it is the only copy: its name is returned.
    fn undo(self) -> Option<PathBuf> {
        let Some(old) = self.old else {
            let _ = fs::remove_file(&self.target);
            return None;
        };
        old.put(&self.target).err().map(|(_, old)| old.keep())
    }
}

/// Puts files in their places, one after the other; where one cannot be put, those before it are
/// taken back.
fn put_all(staged: Vec<Staged>) -> Result<(), Refusal> {
    let several = staged.len() > 1;
    let mut done = Vec::new();
    for one in staged {
        match one.put(several) {
            Ok(undo) => done.extend(undo),
            Err(refusal) => {
                let undone = done.into_iter().rev().filter_map(|undo: Undo| {
                    let target = undo.target.clone();
                    undo.undo().map(|kept| (target, kept))
                });
                return Err(undone.fold(refusal, |refusal, (target, kept)| Refusal::Kept {
                    refusal: Box::new(refusal),
                    path: target.display().to_string(),
                    kept: kept.display().to_string(),
                }));
            }
        }
    }
    Ok(())
}

/// Whether what is there is a file that may be replaced.
fn may_replace(there: &Metadata, read_only: ReadOnly) -> io::Result<()> {
    source::is_a_file(there)?;
    match there.permissions().readonly() && read_only == ReadOnly::Kept {
        true => Err(io::Error::other("it may only be read, and is kept")),
        false => Ok(()),
    }
}

fn is_folder(path: &Path) -> io::Result<()> {
    match fs::metadata(path)?.is_dir() {
        true => Ok(()),
        false => Err(io::ErrorKind::NotADirectory.into()),
    }
}

/// So many links are followed from one to the next; Linux follows 40 (path_resolution(7)).
const MOST_LINKS: usize = 40;

/// The file that `path` is, or that the links it is lead to, there already or not.
fn led_to(path: &Path) -> io::Result<PathBuf> {
    let mut at = path.to_path_buf();
    for _ in 0..MOST_LINKS {
        let Ok(to) = fs::read_link(&at) else { return Ok(at) };
        at = at.parent().unwrap_or(Path::new("")).join(to);
    }
    Err(io::Error::other("it is a link that leads back to itself"))
}

/// Where a file is really written, by whatever name: two names of one place are equal.
pub(super) fn place(path: &Path) -> PathBuf {
    let target = led_to(path).unwrap_or_else(|_| path.to_path_buf());
    let folder = match target.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    let folder = folder.canonicalize().unwrap_or_else(|_| folder.to_path_buf());
    let name = target.file_name().unwrap_or_default();
    // These systems make no difference between a.pdf and A.pdf.
    match cfg!(any(windows, target_os = "macos")) {
        true => folder.join(name.to_string_lossy().to_lowercase()),
        false => folder.join(name),
    }
}

/// The bytes in a file beside the one they are meant for, with its permissions if it is there.
fn written(folder: &Path, bytes: &[u8], there: Option<&Metadata>) -> io::Result<Temporary> {
    let (mut file, temporary) = Temporary::new(folder)?;
    file.write_all(bytes)?;
    if let Some(there) = there {
        file.set_permissions(there.permissions())?;
    }
    Ok(temporary)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What stops a rename after all was written is rare: here a folder that comes between.
    #[test]
    fn what_was_replaced_comes_back_where_a_later_file_cannot_be_put() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = |name: &str| folder.path().join(name);
        fs::write(path("a"), "old").expect("written");
        let names = ["a", "b", "c", "d"];
        let staged: Vec<Staged> = names
            .iter()
            .map(|name| Staged::of(&path(name), b"new", ReadOnly::Kept).expect("staged"))
            .collect();
        fs::create_dir_all(path("c/in the way")).expect("a folder");
        assert!(matches!(put_all(staged), Err(Refusal::Write { .. })));
        assert_eq!(fs::read(path("a")).expect("a file"), b"old");
        let mut left: Vec<_> = fs::read_dir(folder.path())
            .expect("a folder")
            .map(|entry| entry.expect("an entry").file_name())
            .collect();
        left.sort();
        assert_eq!(left, ["a", "c"]);
    }

    #[test]
    fn what_cannot_come_back_is_kept_beside_its_place_and_named() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = |name: &str| folder.path().join(name);
        fs::write(path("a"), "the coach's own").expect("written");
        let old = Temporary::of(&path("a"), folder.path()).expect("a second name");
        fs::remove_file(path("a")).expect("removed");
        fs::create_dir_all(path("a/in the way")).expect("a folder");
        let kept = Undo { target: path("a"), old: Some(old) }.undo().expect("kept");
        assert_eq!(fs::read_to_string(&kept).expect("a file"), "the coach's own");
        let refusal = Refusal::Kept {
            refusal: Box::new(Refusal::InputTwice),
            path: "a".to_owned(),
            kept: ".deckcard-x.part".to_owned(),
        };
        assert!(refusal.to_string().ends_with("; the earlier a is kept as .deckcard-x.part"));
    }

    #[test]
    fn all_or_none_are_written_and_said_to_be_new_or_not() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = |name: &str| folder.path().join(name);
        fs::write(path("a"), "old").expect("written");
        let files = [(path("a"), "new a"), (path("b"), "new b")];
        let wrote = all(&files, ReadOnly::Kept).expect("written");
        let replaced: Vec<bool> = wrote.iter().map(|wrote| wrote.replaced).collect();
        assert_eq!(replaced, [true, false]);
        assert_eq!(fs::read(path("a")).expect("a file"), b"new a");
        assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 2);
    }
}
