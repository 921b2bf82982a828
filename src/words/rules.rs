//! The rule of words files.

use crate::finding::{Rule, Severity};

/// The rules this stage finds by.
pub static RULES: &[&Rule] = &[&PLACEHOLDER_AMISS];

pub(super) static PLACEHOLDER_AMISS: Rule = Rule {
    id: "placeholder-amiss",
    severity: Severity::Error,
    summary: "a value in braces is missing from a words file, or is none",
    why: "Without {time} a card says \"rest\" and not how long.",
    unworried: "Never: the number would be missing on every card.",
    before: "rounds = \"rondes\"",
    after: "rounds = \"{count} rondes\"",
    source: "The words files of this program.",
};
