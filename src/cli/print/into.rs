//! All sessions in one PDF.

use std::fs;
use std::path::{Path, PathBuf};

use super::batch::Summary;
use super::session::{Taken, Version};
use crate::cli::tell::Teller;
use crate::cli::{Refusal, write};
use crate::paint::pdf::{self, Made, Meta};
use crate::sheet::{Bookmark, Sheet};

/// Prints what was taken, in the order of the files; tells of those that failed.
pub(super) fn print(
    into: &Path,
    files: &[PathBuf],
    taken: Vec<Result<Taken, Refusal>>,
    made: Option<Made>,
    teller: &mut Teller,
    summary: &mut Summary,
) -> Result<(), Refusal> {
    let mut binder = Binder::default();
    for (path, one) in files.iter().zip(taken) {
        match one {
            Ok(mut taken) => {
                taken.tell(path, teller, summary);
                binder.add(std::mem::take(&mut taken.versions));
            }
            Err(refusal) => summary.refused(path, &refusal, teller),
        }
    }
    if binder.sheets.is_empty() {
        return Ok(());
    }
    let stem = into.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let bytes = binder.bytes(stem, made)?;
    if let Some(folder) = into.parent() {
        fs::create_dir_all(folder)
            .map_err(|error| Refusal::Write { path: folder.display().to_string(), error })?;
    }
    write::whole(into, &bytes)?;
    summary.wrote(1);
    if files.len() == 1 {
        teller.note(format_args!("wrote {}", into.display()));
    }
    Ok(())
}

#[derive(Default)]
struct Binder {
    sheets: Vec<Sheet>,
    bookmarks: Vec<Bookmark>,
    meta: Option<Meta>,
}

impl Binder {
    /// Adds a session: a bookmark for it, and one for each of its versions where there are more.
    fn add(&mut self, versions: Vec<Version>) {
        let several = versions.len() > 1;
        for (index, version) in versions.into_iter().enumerate() {
            let page = self.sheets.len();
            if index == 0 {
                self.bookmarks.push(Bookmark { title: version.title.clone(), page, depth: 0 });
            }
            if several {
                let title = version.pool.to_string();
                self.bookmarks.push(Bookmark { title, page, depth: 1 });
            }
            self.sheets.extend(version.sheets);
            self.meta.get_or_insert(version.meta);
        }
    }

    /// The document speaks the language of its first session, and is as old as it.
    fn bytes(self, title: String, made: Option<Made>) -> Result<Vec<u8>, Refusal> {
        let first = self.meta.unwrap_or_default();
        let meta = Meta { title, made: made.or(first.made), ..first };
        Ok(pdf::write(&self.sheets, &self.bookmarks, &meta)?)
    }
}
