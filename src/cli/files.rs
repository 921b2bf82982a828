//! Which files a command works on.

use std::fs;
use std::path::{Path, PathBuf};

use super::Refusal;

/// The files named, a folder for the session files in it, in the order of names.
pub(super) fn expand(named: &[PathBuf]) -> Result<Vec<PathBuf>, Refusal> {
    let mut files = Vec::new();
    for path in named {
        if path != Path::new("-") && path.is_dir() {
            files.extend(in_folder(path)?);
        } else {
            files.push(path.clone());
        }
    }
    Ok(files)
}

fn in_folder(folder: &Path) -> Result<Vec<PathBuf>, Refusal> {
    let shown = folder.display().to_string();
    let refused = |error| Refusal::Folder { path: shown.clone(), error };
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).map_err(refused)? {
        let path = entry.map_err(refused)?.path();
        if path.extension().is_some_and(|extension| extension == "toml") && path.is_file() {
            files.push(path);
        }
    }
    if files.is_empty() {
        return Err(Refusal::NoSessions(shown));
    }
    files.sort();
    Ok(files)
}
