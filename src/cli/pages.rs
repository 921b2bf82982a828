//! The documents a session is printed as, and what they are called.

use std::path::{Path, PathBuf};

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::Refusal;
use super::sheets::SheetOptions;
use crate::finding::Finding;
use crate::intake::Ready;
use crate::measure::Pool;
use crate::paint::pdf::{self, Meta};
use crate::plan::Version;
use crate::press::{Press, Wishes};
use crate::sheet::Faces;
use crate::source::Source;

/// One PDF of a session.
pub(super) struct Document {
    /// The pools in it: "25m", or "25m-25yd" where one version is behind the other.
    pub name: String,
    /// The PDF.
    pub bytes: Vec<u8>,
}

/// The cards of one document, not yet on paper.
pub(super) struct Cards {
    /// The session's own title.
    pub title: String,
    /// The pools: "25m", or "25m-25yd".
    pub name: String,
    /// The pools in words: "25 m".
    pub pools: String,
    /// What the document says about itself.
    pub meta: Meta,
    /// The cards, with the other pool's behind them where both sides are printed.
    pub faces: Vec<Faces>,
    /// The language of their own words, where nobody who coaches in it has read them over.
    pub unreviewed: Option<String>,
}

/// The PDFs of a session: one for each pool, or one for both where backs are printed. None,
/// and findings, where an error is found.
pub(super) fn documents(
    ready: &Ready,
    pools: &[Pool],
    options: &SheetOptions,
    wishes: &Wishes,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Result<Vec<Document>, Refusal> {
    let cards = cards(ready, pools, options.two_sided(), wishes, sources, findings);
    let document = |cards: Cards| {
        let name = cards.name.clone();
        Ok(Document { name, bytes: pdf(cards, options)? })
    };
    cards.into_iter().map(document).collect()
}

/// The PDF of one document's cards, on paper as asked for.
pub(super) fn pdf(cards: Cards, options: &SheetOptions) -> Result<Vec<u8>, Refusal> {
    Ok(pdf::write(&options.lay(cards.faces)?, &[], &cards.meta)?)
}

/// The cards of a session, a document for each pool, or one for two pools where `two_sided`.
pub(super) fn cards(
    ready: &Ready,
    pools: &[Pool],
    two_sided: bool,
    wishes: &Wishes,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Vec<Cards> {
    let mut documents = Vec::new();
    let Some(press) = Press::set_up(&ready.session, sources, wishes, findings) else {
        return documents;
    };
    for pools in pools.chunks(if two_sided { 2 } else { 1 }) {
        let versions: Vec<Option<Version>> = pools.iter().map(|pool| other(ready, *pool)).collect();
        let mut versions = versions.iter().map(|other| other.as_ref().unwrap_or(&ready.written));
        let Some(front) = versions.next() else { continue };
        let faces = press.faces(front, versions.next(), findings);
        let names: Vec<String> = pools.iter().map(|pool| pool.file_stem()).collect();
        let unreviewed = press.unreviewed_language().map(str::to_owned);
        let (name, meta) = (names.join("-"), press.meta(pools));
        let title = ready.session.title.value.clone();
        let pools: Vec<String> = pools.iter().map(Pool::to_string).collect();
        let pools = pools.join(" / ");
        documents.push(Cards { title, name, pools, meta, faces, unreviewed });
    }
    if findings.iter().any(Finding::is_error) {
        documents.clear();
    }
    documents
}

/// The version for `pool`, unless it is the written one, which is worked out already.
fn other(ready: &Ready, pool: Pool) -> Option<Version> {
    (pool != ready.session.pool.value).then(|| Version::of(&ready.session, pool))
}

/// `<stem>-25m` beside the input or under `folder`, an extension yet to come.
pub(super) fn target(input: &Path, folder: Option<&Path>, name: &str) -> PathBuf {
    let stem = match input.file_stem() {
        Some(stem) if input != Path::new("-") => stem.to_string_lossy().into_owned(),
        _ => "session".to_owned(),
    };
    let folder = folder.or_else(|| input.parent()).unwrap_or(Path::new(""));
    folder.join(format!("{stem}-{name}"))
}

/// A name is cut at so many letters: file systems take 255 bytes, and a letter may have four.
const MOST_OF_A_NAME: usize = 50;

/// A title as the name of a file, in letters, digits and hyphens: "6 weeks: the mile" is
/// "6-weeks-the-mile". None of a title without letters and digits.
pub(super) fn name_from(title: &str) -> Option<String> {
    let mut name = String::new();
    for sign in title.nfc().filter(|sign| !is_combining_mark(*sign)) {
        if sign.is_alphanumeric() {
            name.extend(sign.to_lowercase());
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    let name: String = name.chars().take(MOST_OF_A_NAME).collect();
    let name = name.trim_end_matches('-');
    (!name.is_empty()).then(|| name.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_names_a_file() {
        for (title, name) in [
            ("6 weeks: the mile", "6-weeks-the-mile"),
            ("  ../etc/passwd\n", "etc-passwd"),
            // One accent in two forms: e with an acute, and e with the acute behind it.
            ("\u{c9}t\u{e9}", "\u{e9}t\u{e9}"),
            ("E\u{301}te\u{301}", "\u{e9}t\u{e9}"),
            ("\u{41b}\u{435}\u{442}\u{43e}", "\u{43b}\u{435}\u{442}\u{43e}"),
        ] {
            assert_eq!(name_from(title).as_deref(), Some(name), "{title}");
        }
        assert_eq!(name_from(" \u{1f3ca} ! "), None);
        assert_eq!(name_from(&"ab ".repeat(99)).map(|name| name.chars().count()), Some(50));
    }
}
