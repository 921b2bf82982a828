//! Files written whole or not at all.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::Refusal;

/// Writes `bytes` to `path` by way of a temporary file beside it.
pub(super) fn whole(path: &Path, bytes: &[u8]) -> Result<(), Refusal> {
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder.to_path_buf(),
        _ => PathBuf::from("."),
    };
    let refused = |error| Refusal::Write { path: path.display().to_string(), error };
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(refused)?;
    file.write_all(bytes).map_err(refused)?;
    readable_by_all(file.as_file()).map_err(refused)?;
    file.persist(path).map_err(|error| refused(error.error))?;
    Ok(())
}

/// A temporary file is its owner's alone; a card is not.
#[cfg(unix)]
fn readable_by_all(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_all(_: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}
