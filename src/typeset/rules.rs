//! The rule about signs that no font has.

use crate::finding::{Severity, rules};

/// What to do about a sign that no font has.
pub(crate) const LETTERS: &str = "write it in letters; cards have Latin, Greek and Cyrillic ones";

rules! {
    pub(crate) GLYPH_MISSING {
        id: "glyph-missing",
        severity: Severity::Error,
        summary: "a sign is in none of the fonts",
        why: "On the card it would be an empty box, in the middle of a word.",
        unworried: "Never; latin, greek and cyrillic letters are all there.",
        before: "cue = \"long arms \u{1f3ca}\"",
        after: "cue = \"long arms\"",
        source: "The fonts that come with this program.",
    }
}
