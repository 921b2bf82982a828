//! All sessions in one PDF.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::batch::Summary;
use super::session::Taken;
use super::{Arguments, Written};
use crate::cli::pages::Cards;
use crate::cli::reporter::Reporter;
use crate::cli::write::{ReadOnly, Wrote};
use crate::cli::{Refusal, answer, preview, write};
use crate::drawing::Card;
use crate::paint::pdf::{self, Meta};
use crate::sheet::{Bookmark, Faces, Sheet};

/// Prints what was taken, in the order of the files; reports what was found, whatever became of the
/// file.
pub(super) fn print(
    into: &Path,
    files: &[PathBuf],
    mut taken: Vec<Result<Taken, Refusal>>,
    arguments: &Arguments,
    reporter: &mut Reporter,
    summary: &mut Summary,
) {
    let mut pile = Pile::default();
    for one in taken.iter_mut().flatten() {
        pile.add(std::mem::take(&mut one.documents));
    }
    let written = written(into, pile, arguments);
    for (path, one) in files.iter().zip(&taken) {
        match one {
            Ok(taken) => {
                taken.report(path, reporter);
                summary.session(path, taken, written.is_ok());
            }
            Err(refusal) => summary.refused(path, refusal, reporter),
        }
    }
    summary.files(&written);
    match &written {
        Ok(wrote) if files.len() == 1 && into != Path::new("-") => {
            wrote.iter().for_each(|wrote| reporter.note(wrote));
        }
        Ok(_) => {}
        Err(refusal) => reporter.refused(refusal),
    }
}

/// Writes the one file, with pictures of its pages where asked for; nothing without a card.
fn written(into: &Path, pile: Pile, arguments: &Arguments) -> Written {
    if pile.faces.is_empty() {
        return Ok(Vec::new());
    }
    let title = match into.file_stem() {
        Some(stem) if into != Path::new("-") => stem.to_string_lossy().into_owned(),
        _ => "sessions".to_owned(),
    };
    let bytes = pile.pdf(title, arguments)?;
    if into == Path::new("-") {
        answer::bytes(&bytes, "a PDF")?;
        return Ok(vec![Wrote { path: into.to_owned(), replaced: false }]);
    }
    if let Some(folder) = into.parent().filter(|folder| *folder != Path::new("")) {
        write::folder(folder)?;
    }
    let mut files = Vec::new();
    if arguments.preview {
        files = preview::pictures(&into.with_extension(""), &bytes)?;
    }
    files.insert(0, (into.to_owned(), bytes));
    write::all(&files, ReadOnly::Kept)
}

/// The cards of all sessions, and what leads to them.
#[derive(Default)]
struct Pile {
    faces: Vec<Faces>,
    marks: Vec<PendingBookmark>,
    meta: Option<Meta>,
}

/// A bookmark whose page is known once the cards lie on paper.
struct PendingBookmark {
    title: String,
    first: Arc<Card>,
    depth: usize,
}

impl Pile {
    /// Adds a session: a bookmark for it, and one for each of its versions where there are more.
    fn add(&mut self, documents: Vec<Cards>) {
        let several = documents.len() > 1;
        for (index, cards) in documents.into_iter().enumerate() {
            let Some(first) = cards.faces.first().map(|faces| faces.front.clone()) else {
                continue;
            };
            if index == 0 {
                self.marks.push(PendingBookmark {
                    title: cards.title,
                    first: first.clone(),
                    depth: 0,
                });
            }
            if several {
                self.marks.push(PendingBookmark { title: cards.pools, first, depth: 1 });
            }
            self.faces.extend(cards.faces);
            self.meta.get_or_insert(cards.meta);
        }
    }

    /// The document has the language and the date of its first session.
    fn pdf(self, title: String, arguments: &Arguments) -> Result<Vec<u8>, Refusal> {
        let sheets = arguments.sheets.lay(self.faces)?;
        let bookmarks = bookmarks(self.marks, &sheets);
        let meta = Meta { title, ..self.meta.unwrap_or_default() };
        Ok(pdf::write(&sheets, &bookmarks, &meta)?)
    }
}

/// Marks and sheets are in the same order, so one walk finds every page; where cards of other
/// sizes lie on sheets of their own, the walk starts again.
fn bookmarks(marks: Vec<PendingBookmark>, sheets: &[Sheet]) -> Vec<Bookmark> {
    let holds = |page: usize, card: &Arc<Card>| {
        sheets[page].placed.iter().any(|placed| Arc::ptr_eq(&placed.card, card))
    };
    let mut page = 0;
    let mut bookmarks = Vec::with_capacity(marks.len());
    for PendingBookmark { title, first, depth } in marks {
        let ahead = (page..sheets.len()).find(|page| holds(*page, &first));
        page = ahead.or_else(|| (0..page).find(|page| holds(*page, &first))).unwrap_or(page);
        bookmarks.push(Bookmark { title, page, depth });
    }
    bookmarks
}
