//! Which files a command works on.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::Refusal;
use super::reporter::Reporter;
use crate::session;
use crate::source::{self, LoadError};

/// The files named, a folder for the session files in it, in the order of names. What cannot be
/// looked into is reported, and the others are worked on.
pub(super) fn expand(named: &[PathBuf], reporter: &mut Reporter) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = Vec::new();
    for path in named {
        if path == Path::new("-") {
            match files.contains(path) {
                true => reporter.refused(&Refusal::InputTwice),
                false => files.push(path.clone()),
            }
        } else if path.is_dir() {
            match in_folder(path, reporter) {
                Ok(found) => files.extend(found),
                Err(refusal) => reporter.refused(&refusal),
            }
        } else {
            files.push(path.clone());
        }
    }
    files
}

/// What a file of a folder is to a command that looks for sessions, by its name.
enum Named {
    /// To be read.
    Session,
    /// Not to be seen by people, and mostly not made by them: macOS leaves `._name` beside each file
    /// on a disk that is not its own.
    Hidden,
    /// A text, which may be a message that holds a session.
    Text,
    /// A session that an editor added an ending to.
    EndsInTxt,
    Other,
}

impl Named {
    fn of(path: &Path) -> Self {
        let ends_in = |path: &Path, ending: &str| {
            path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case(ending))
        };
        let is_hidden =
            path.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b"."));
        let stem = path.file_stem().map(Path::new).unwrap_or(Path::new(""));
        if ends_in(path, "toml") {
            if is_hidden { Self::Hidden } else { Self::Session }
        } else if ends_in(path, "txt") && ends_in(stem, "toml") && !is_hidden {
            Self::EndsInTxt
        } else if (ends_in(path, "txt") || ends_in(path, "md")) && !is_hidden {
            Self::Text
        } else {
            Self::Other
        }
    }
}

fn in_folder(folder: &Path, reporter: &Reporter) -> Result<Vec<PathBuf>, Refusal> {
    let mut files = Vec::new();
    for path in sorted(folder).map_err(|error| Refusal::Folder { path: shown(folder), error })? {
        let path_shown = shown(&path);
        match Named::of(&path) {
            // A link that leads nowhere is read as well, to be reported.
            Named::Session if !path.is_dir() => files.push(path),
            // Letters and lists may lie beside the messages.
            Named::Text if !path.is_dir() && holds_session(&path) => files.push(path),
            Named::Session | Named::Text | Named::Other => {}
            Named::Hidden => {
                reporter.note(format_args!("{path_shown} is a hidden file, and passed over"));
            }
            Named::EndsInTxt => {
                let better = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
                reporter.note(format_args!(
                    "{path_shown} is passed over: its name ends in .txt; call it {}",
                    better.unwrap_or_default()
                ));
            }
        }
    }
    match files.is_empty() {
        true => Err(Refusal::NoSessions(shown(folder))),
        false => Ok(files),
    }
}

/// Whether a text is a message that holds a session.
fn holds_session(path: &Path) -> bool {
    let none = |name: &str| {
        let error = io::Error::from(io::ErrorKind::NotFound);
        Err(LoadError::Io { path: name.to_owned(), error })
    };
    source::file(path).is_ok_and(|source| session::read(source, &none).session.is_some())
}

fn sorted(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut paths = Vec::new();
    for entry in fs::read_dir(folder)? {
        paths.push(entry?.path());
    }
    paths.sort();
    Ok(paths)
}

fn shown(path: &Path) -> String {
    path.display().to_string()
}

/// The files without those that are named a second time, in other words or the same.
pub(super) fn each_once(files: Vec<PathBuf>, reporter: &Reporter) -> Vec<PathBuf> {
    let mut seen = std::collections::BTreeSet::new();
    let mut once = Vec::with_capacity(files.len());
    for path in files {
        let real = fs::canonicalize(&path).unwrap_or_else(|_| path.clone());
        match seen.insert(real) {
            true => once.push(path),
            false => reporter.note(format_args!("{} is named twice", path.display())),
        }
    }
    once
}
