//! Puts right what is certainly wrong: byte edits of a file, all else untouched.

use serde_json::{Value, json};

use crate::finding::{Edit, FileId, Finding};
use crate::reader::loses_nothing;
use crate::source::{Position, Source};

/// A file with more changes than this is not put right by a machine.
const MOST_CHANGES: usize = 1000;

/// One change that was made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Where it begins.
    pub at: Position,
    /// What was there.
    pub before: String,
    /// What is there now.
    pub after: String,
}

impl Change {
    /// The change as an object with the keys of a finding, `"changed"` for its severity, and what was
    /// there `before` and is there `after`. Its line and column are those of the text it was made in:
    /// a change can move what is behind it.
    pub fn json(&self, file: &str) -> Value {
        json!({
            "file": file,
            "id": null,
            "severity": "changed",
            "title": self.to_string(),
            "line": self.at.line,
            "column": self.at.column,
            "before": self.before,
            "after": self.after,
            "labels": [],
            "help": [],
            "edits": [],
        })
    }
}

/// "0:20 becomes "0:20"".
impl std::fmt::Display for Change {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} becomes {}", self.before, self.after)
    }
}

/// The text with every certain edit of `findings` made, and the changes in their order; `None`
/// where there are none.
///
/// Of two edits that overlap the first is made; the other is found again afterwards.
pub fn apply(source: &Source, findings: &[Finding]) -> Option<(String, Vec<Change>)> {
    let mut edits: Vec<&Edit> = findings
        .iter()
        .filter_map(|finding| finding.edit.as_ref())
        .filter(|edit| edit.place.file == FileId::MAIN)
        .filter(|edit| is_certain(source, edit))
        .collect();
    edits.sort_by_key(|edit| (edit.place.start, edit.place.end));
    let mut end = 0;
    edits.retain(|edit| {
        let apart = edit.place.start >= end;
        end = if apart { edit.place.end } else { end };
        apart
    });
    if edits.is_empty() {
        return None;
    }
    let changes = edits.iter().map(|edit| change(source, edit)).collect();
    let edits = edits.iter().map(|edit| (edit.place.span(), edit.text.as_str())).collect();
    Some((source.edited(edits).0, changes))
}

/// Whether an edit changes something, and loses nothing. One that changes nothing would be made
/// for ever.
fn is_certain(source: &Source, edit: &Edit) -> bool {
    let before = source.slice(edit.place.span());
    before != edit.text && loses_nothing(before, &edit.text)
}

fn change(source: &Source, edit: &Edit) -> Change {
    Change {
        at: source.position(edit.place.start),
        before: source.slice(edit.place.span()).to_owned(),
        after: edit.text.clone(),
    }
}

/// A file with all that is certain put right, and the changes made, by what `look` finds in it.
///
/// What is put right can uncover the next fault: the quotes first, then the time in them. So the
/// file is looked at again, until nothing is certain any more.
pub fn all(source: Source, look: &dyn Fn(&Source) -> Vec<Finding>) -> (Source, Vec<Change>) {
    let (mut now, mut changes) = (source, Vec::new());
    while changes.len() < MOST_CHANGES
        && let Some((text, mut made)) = apply(&now, &look(&now))
    {
        now = Source::new(now.path(), text);
        changes.append(&mut made);
    }
    (now, changes)
}
