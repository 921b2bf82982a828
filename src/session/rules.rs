//! The rules of reading a session, and the finding on a file that has no words.

use crate::finding::{FileId, Finding, Place, Severity, rules};
use crate::reader::rules::MISSING_KEY;
use crate::source::Source;

const FORMAT: &str = "The session format of this program.";

rules! {
    pub(crate) UNREADABLE_SWIM {
        id: "unreadable-swim",
        severity: Severity::Error,
        summary: "a swim line cannot be read",
        why: "The swim line is what the swimmer does; nothing in it may be guessed.",
        unworried: "Never: the program would have to guess.",
        before: "swim = \"4 times 50 free\"",
        after: "swim = \"4 x 50 free\"",
        source: FORMAT,
    }

    pub(crate) WORDS_KEPT_AS_CUE {
        id: "words-kept-as-cue",
        severity: Severity::Note,
        summary: "words of a set line that are no clause are kept as its cue",
        why: "Nothing that is written is lost. What was not understood is printed below the set, and \
              counts for nothing.",
        unworried: "If they are what the swimmer is to think of; a colon before them says so.",
        before: "\"4 x 50 free toes long, rest 20 s\"",
        after: "\"4 x 50 free, rest 20 s: toes long\"",
        source: FORMAT,
    }

    pub(crate) PACE_WITHOUT_UNIT {
        id: "pace-without-unit",
        severity: Severity::Error,
        summary: "a club's pace does not say of which unit its 100 is",
        why: "100 m take nearly a tenth longer than 100 yd. A session in any pool takes the club's pace up, \
              so its own pool does not say it.",
        unworried: "Never: the program would have to guess.",
        before: "pace = \"2:10\" in a club file without a pool",
        after: "pace = \"2:10 per 100 m\"",
        source: FORMAT,
    }

    pub(crate) CLUB_UNREADABLE {
        id: "club-unreadable",
        severity: Severity::Error,
        summary: "the club file named in the session cannot be read",
        why: "The club's speeds and stock decide the times and the size of the card.",
        unworried: "Never; leave the line out where there is no club file.",
        before: "club = \"clubb.toml\"",
        after: "club = \"club.toml\"",
        source: FORMAT,
    }
}

/// The one finding on a file without a single key.
pub(super) fn nothing_written(source: &Source) -> Finding {
    let title = match source.text().trim().is_empty() {
        true => "the file is empty",
        false => "the file holds nothing but comments",
    };
    Finding::new(&MISSING_KEY, title)
        .label(Place::new(FileId::MAIN, 0..0), "a session is missing")
        .help(format!("begin with this, and change what is yours:\n\n{SMALLEST}"))
}

/// The least that is a session: some 1,000 m in a pool of 25 m. The program shows it where a file
/// is empty.
pub const SMALLEST: &str = r#"title = "Legs that steer"
pool  = "25 m"
level = "improver"
goal  = "technique"
focus = "kick from the hip"
pace  = "2:10"

[[part]]
kind = "warm-up"
sets = [{ swim = "4 x 50 free", rest = "20 s", effort = "easy" }]

[[part]]
kind = "main set"
sets = [{ swim = "12 x 50 free", rest = "20 s", cue = "kick from the hip" }]

[[part]]
kind = "cool-down"
sets = [{ swim = "4 x 50 choice", rest = "20 s", effort = "easy" }]"#;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_smallest_session_is_one() {
        let source = Source::new("x.toml", SMALLEST);
        let reading = crate::session::read(source, &|_| unreachable!("no club is named"));
        assert_eq!(reading.findings, []);
        assert!(reading.session.is_some());
    }
}
