//! The rule about the hand-out.

use crate::finding::{Severity, rules};

rules! {
    /// The notice has no room.
    pub NOTICE_TOO_LONG {
        id: "notice-too-long",
        severity: Severity::Error,
        summary: "the pool's notice has no room on the back of a strip",
        why: "Half a notice is worse than none: what the lifeguards ask may be in the other half.",
        unworried: "Never; a long notice can be handed out on a sheet of its own.",
        before: "notice = \"\"\"the whole of the pool's terms and conditions\"\"\"",
        after: "notice = \"Doors open at 19:00. The lifeguard's whistle means: to the wall.\"",
        source: "The layout of this program.",
    }
}
