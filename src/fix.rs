//! Puts right what is certainly wrong: byte edits of the session file, all else untouched.

use crate::finding::FileId;
use crate::intake::Intake;

/// The text with every certain edit made, and how many; `None` where there are none.
///
/// Of two edits that overlap the first is made; the other is found again afterwards.
pub fn apply(intake: &Intake) -> Option<(String, usize)> {
    let source = intake.sources.first()?;
    let edits = intake
        .findings
        .iter()
        .filter_map(|finding| finding.edit.as_ref())
        .filter(|edit| edit.place.file == FileId::MAIN)
        // An edit that changes nothing would be made for ever.
        .filter(|edit| source.slice(edit.place.span()) != edit.text)
        .map(|edit| (edit.place.span(), edit.text.as_str()))
        .collect();
    let (text, count) = source.edited(edits);
    (count > 0).then_some((text, count))
}
