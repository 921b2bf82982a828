//! Puts right what is certainly wrong: byte edits of the session file, all else untouched.

use crate::finding::{Edit, FileId};
use crate::intake::Intake;

/// The text with every certain edit made, and how many; `None` where there are none.
///
/// Of two edits that overlap the first is made; the other is found again afterwards.
pub fn apply(intake: &Intake) -> Option<(String, usize)> {
    let text = intake.sources.first()?.text();
    let mut edits: Vec<&Edit> = intake
        .findings
        .iter()
        .filter_map(|finding| finding.edit.as_ref())
        .filter(|edit| edit.place.file == FileId::SESSION)
        // An edit that changes nothing would be made for ever.
        .filter(|edit| text.get(edit.place.span()).is_some_and(|old| old != edit.text))
        .collect();
    edits.sort_by_key(|edit| (edit.place.start, edit.place.end));
    let mut out = String::with_capacity(text.len());
    let (mut at, mut count) = (0, 0);
    for edit in edits {
        if edit.place.start < at {
            continue;
        }
        out.push_str(text.get(at..edit.place.start)?);
        out.push_str(&edit.text);
        at = edit.place.end;
        count += 1;
    }
    out.push_str(text.get(at..)?);
    (count > 0).then_some((out, count))
}
