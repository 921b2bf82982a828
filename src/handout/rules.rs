//! The rules of the hand-out.

use crate::finding::{Rule, Severity};

/// The rules this stage finds by.
pub static RULES: &[&Rule] = &[&NOTICE_TOO_LONG];

/// The notice has no room.
pub static NOTICE_TOO_LONG: Rule = Rule {
    id: "notice-too-long",
    severity: Severity::Error,
    summary: "the pool's notice has no room on the back of a strip",
    why: "Half a notice is worse than none: what the lifeguards ask may stand in the other half.",
    unworried: "Never; a long notice can be handed out on a sheet of its own.",
    before: "notice = \"\"\"the whole of the pool's terms and conditions\"\"\"",
    after: "notice = \"Doors open at 19:00. The lifeguard's whistle means: to the wall.\"",
    source: "The layout of this program.",
};
