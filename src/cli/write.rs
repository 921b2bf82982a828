//! Files written whole or not at all.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::Refusal;

/// Writes `bytes` to `path` by way of a temporary file beside it. A file that is there
/// already keeps its permissions; a link stays a link, and what it leads to is written.
pub(super) fn whole(path: &Path, bytes: &[u8]) -> Result<(), Refusal> {
    let target = path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
    let path = target.as_path();
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder.to_path_buf(),
        _ => PathBuf::from("."),
    };
    let refused = |error| Refusal::Write { path: path.display().to_string(), error };
    if !folder.is_dir() {
        return Err(Refusal::NoFolder(folder.display().to_string()));
    }
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(refused)?;
    file.write_all(bytes).map_err(refused)?;
    permit(file.as_file(), path).map_err(refused)?;
    file.persist(path).map_err(|error| refused(error.error))?;
    Ok(())
}

/// Refuses to take the place of a file that is there, unless it is meant.
pub(super) fn may_take(path: &Path, force: bool) -> Result<(), Refusal> {
    match !force && path.exists() {
        true => Err(Refusal::Exists(path.display().to_string())),
        false => Ok(()),
    }
}

/// Makes a folder, and those it lies in, where they are not there.
pub(super) fn folder(path: &Path) -> Result<(), Refusal> {
    fs::create_dir_all(path)
        .map_err(|error| Refusal::Write { path: path.display().to_string(), error })
}

/// A temporary file is its owner's alone; a card is not.
fn permit(file: &File, path: &Path) -> io::Result<()> {
    match fs::metadata(path) {
        Ok(old) => file.set_permissions(old.permissions()),
        Err(_) => readable_by_all(file),
    }
}

#[cfg(unix)]
fn readable_by_all(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_all(_: &File) -> io::Result<()> {
    Ok(())
}
