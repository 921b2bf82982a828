//! The rule about words files.

use crate::finding::{Severity, rules};

rules! {
    pub(super) WRONG_PLACEHOLDER {
        id: "wrong-placeholder",
        severity: Severity::Error,
        summary: "a words file leaves out a value in braces, or has one that does not exist",
        why: "Without {time} a card says \"rest\" and not how long.",
        unworried: "Never: the number would be missing on every card.",
        before: "rounds = \"rondes\"",
        after: "rounds = \"{count} rondes\"",
        source: "The words files of this program.",
    }
}
