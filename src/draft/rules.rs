//! The rules of pattern files.

use crate::finding::{FileId, Finding, Place, Placed, Severity, rules};
use crate::reader::rules::MISSING_KEY;
use crate::reader::{FileKind, nearest, offer, quoted};

rules! {
    pub(super) PATTERN_TWICE {
        id: "pattern-twice",
        severity: Severity::Error,
        summary: "a pattern has the id of another",
        why: "Drafts name their patterns by these ids; with two of one id nobody knows which was meant.",
        unworried: "Never; give one of them another id. The program's own patterns count as well.",
        before: "id = \"w-many-lengths\" in a file of your own",
        after: "id = \"hernmarsh-many-lengths\"",
        source: "The pattern files of this program.",
    }

    pub(super) SKILL_UNKNOWN {
        id: "skill-unknown",
        severity: Severity::Error,
        summary: "a pattern serves a skill that no file describes",
        why: "A pattern kept for a skill that is not there is never drafted, and nobody notices.",
        unworried: "Never; describe the skill under [[skill]], or leave skills out to serve them all.",
        before: "skills = [\"soft kik\"]",
        after: "skills = [\"soft kick\"]",
        source: "The pattern files of this program.",
    }
}

/// The finding on a file of another kind where patterns are wanted.
pub(super) fn no_patterns(kind: FileKind) -> Finding {
    Finding::new(&MISSING_KEY, format!("this is {kind} and no file of patterns"))
        .label(Place::new(FileId::MAIN, 0..0), "")
        .help("a file of patterns has a goal, and each pattern under [[pattern]]")
}

/// The finding on an id that an earlier pattern has.
pub(super) fn twice(id: &Placed<String>) -> Finding {
    Finding::new(&PATTERN_TWICE, format!("there are two patterns \"{}\"", id.value))
        .label(id.place, "the second")
        .help("give one of them another id; the program's own patterns count as well")
}

/// The finding on a skill that is not among `focuses`.
pub(super) fn unknown_skill<'f>(
    skill: &Placed<String>,
    focuses: impl Iterator<Item = &'f str>,
) -> Finding {
    let finding =
        Finding::new(&SKILL_UNKNOWN, format!("no file describes the skill \"{}\"", skill.value))
            .label(skill.place, "");
    match nearest(&skill.value, focuses) {
        Some(near) => {
            let near = quoted(near);
            offer(finding.help(format!("write: {near}")), skill.place, &skill.value, near)
        }
        None => finding.help("describe it under [[skill]], or leave skills out to serve them all"),
    }
}
