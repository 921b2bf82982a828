//! The rule about words files.

use crate::finding::{Severity, rules};

rules! {
    pub(super) PLACEHOLDER_AMISS {
        id: "placeholder-amiss",
        severity: Severity::Error,
        summary: "a value in braces is missing from a words file, or is none",
        why: "Without {time} a card says \"rest\" and not how long.",
        unworried: "Never: the number would be missing on every card.",
        before: "rounds = \"rondes\"",
        after: "rounds = \"{count} rondes\"",
        source: "The words files of this program.",
    }
}
