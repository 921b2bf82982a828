//! The rules of reading, and the findings several readers share.

use crate::finding::{FileId, Finding, Place, Rule, Severity};
use crate::measure::Date;
use crate::source::Source;

/// The rules this stage finds by.
pub static RULES: &[&Rule] = &[
    &BAD_TOML,
    &NEEDS_QUOTES,
    &UNKNOWN_KEY,
    &MISSING_KEY,
    &WRONG_KIND,
    &UNKNOWN_WORD,
    &EMPTY_TEXT,
    &UNPRINTABLE,
    &OVER_LIMIT,
    &UNREADABLE_SWIM,
    &UNREADABLE_TIME,
    &UNREADABLE_DATE,
    &UNREADABLE_POOL,
    &CLUB_UNREADABLE,
];

const TOML: &str = "The TOML format, version 1.1.";
const FORMAT: &str = "The session format of this program.";
const NEVER: &str = "Never: the program would have to guess.";

pub(crate) static BAD_TOML: Rule = Rule {
    id: "bad-toml",
    severity: Severity::Error,
    summary: "a bracket, comma, quote or equals sign is missing or too many",
    why: "Where the marks do not pair up, it is not certain which set a rest belongs to.",
    unworried: NEVER,
    before: "sets = [ { swim = \"4 x 50 free\", rest = \"20 s\" ",
    after: "sets = [ { swim = \"4 x 50 free\", rest = \"20 s\" } ]",
    source: TOML,
};

pub(crate) static NEEDS_QUOTES: Rule = Rule {
    id: "needs-quotes",
    severity: Severity::Error,
    summary: "a time or a text stands without quotes",
    why: "Without quotes 1:30 is read as half past one at night, or not at all.",
    unworried: NEVER,
    before: "rest = 1:30",
    after: "rest = \"1:30\"",
    source: TOML,
};

pub(crate) static UNKNOWN_KEY: Rule = Rule {
    id: "unknown-key",
    severity: Severity::Error,
    summary: "a key is misspelt or does not belong there",
    why: "A misspelt \"rest\" that is passed over becomes a set without rest on the card.",
    unworried: "Never; a note to yourself goes behind a # instead.",
    before: "{ swim = \"4 x 50 free\", rset = \"20 s\" }",
    after: "{ swim = \"4 x 50 free\", rest = \"20 s\" }",
    source: FORMAT,
};

pub(crate) static MISSING_KEY: Rule = Rule {
    id: "missing-key",
    severity: Severity::Error,
    summary: "something a card cannot do without is missing",
    why: "Without a pool there are no lengths, without a pace no times.",
    unworried: NEVER,
    before: "title = \"Tuesday\"",
    after: "title = \"Tuesday\"\npool = \"25 m\"",
    source: FORMAT,
};

pub(crate) static WRONG_KIND: Rule = Rule {
    id: "wrong-kind",
    severity: Severity::Error,
    summary: "a number, text, list or table stands where another is wanted",
    why: "20 alone could be seconds, metres or repeats; the card must not guess.",
    unworried: NEVER,
    before: "rest = 20",
    after: "rest = \"20 s\"",
    source: FORMAT,
};

pub(crate) static UNKNOWN_WORD: Rule = Rule {
    id: "unknown-word",
    severity: Severity::Error,
    summary: "a word is not one of those the key takes",
    why: "Times and checks follow from the words for level, effort and part; a word the program \
          does not know would be left out of the sums.",
    unworried: NEVER,
    before: "effort = \"medium\"",
    after: "effort = \"steady\"",
    source: FORMAT,
};

pub(crate) static EMPTY_TEXT: Rule = Rule {
    id: "empty-text",
    severity: Severity::Error,
    summary: "a text is empty",
    why: "An empty title or cue leaves a hole on the card.",
    unworried: "Never; leave the key out where you have nothing to say.",
    before: "cue = \"\"",
    after: "cue = \"long arms\"",
    source: FORMAT,
};

pub(crate) static UNPRINTABLE: Rule = Rule {
    id: "unprintable",
    severity: Severity::Error,
    summary: "a text holds a line break or a sign no printer shows",
    why: "A cue is one line; the card breaks it where it fits.",
    unworried: NEVER,
    before: "cue = \"long arms\\nloose feet\"",
    after: "cue = \"long arms, loose feet\"",
    source: FORMAT,
};

pub(crate) static OVER_LIMIT: Rule = Rule {
    id: "over-limit",
    severity: Severity::Error,
    summary: "a number is beyond anything swum",
    why: "A slip of the keyboard, 100 repeats for 10, would fill the card and the evening.",
    unworried: "Never; the limits are far beyond any session.",
    before: "swim = \"8000 x 50 free\"",
    after: "swim = \"8 x 50 free\"",
    source: "Limits of this program, far beyond any session swum.",
};

pub(crate) static UNREADABLE_SWIM: Rule = Rule {
    id: "unreadable-swim",
    severity: Severity::Error,
    summary: "a swim line cannot be read",
    why: "The swim line is what the swimmer does; nothing in it may be guessed.",
    unworried: NEVER,
    before: "swim = \"4 times 50 free\"",
    after: "swim = \"4 x 50 free\"",
    source: FORMAT,
};

pub(crate) static UNREADABLE_TIME: Rule = Rule {
    id: "unreadable-time",
    severity: Severity::Error,
    summary: "a time cannot be read",
    why: "1:75 may be a slip for 1:15 or for 1:45; the difference is a missed send-off.",
    unworried: NEVER,
    before: "on = \"1:75\"",
    after: "on = \"1:45\"",
    source: FORMAT,
};

pub(crate) static UNREADABLE_DATE: Rule = Rule {
    id: "unreadable-date",
    severity: Severity::Error,
    summary: "a date cannot be read",
    why: "4/5/2027 is in April for some and in May for others.",
    unworried: NEVER,
    before: "date = 24/11/2026",
    after: "date = 2026-11-24",
    source: TOML,
};

pub(crate) static UNREADABLE_POOL: Rule = Rule {
    id: "unreadable-pool",
    severity: Severity::Error,
    summary: "a pool cannot be read",
    why: "25 m and 25 yd differ by two metres a length: two lengths and more over a session.",
    unworried: NEVER,
    before: "pool = \"25\"",
    after: "pool = \"25 m\"",
    source: FORMAT,
};

pub(crate) static CLUB_UNREADABLE: Rule = Rule {
    id: "club-unreadable",
    severity: Severity::Error,
    summary: "the club file named in the session cannot be read",
    why: "The club's speeds and stock decide the times and the size of the card.",
    unworried: "Never; leave the line out where there is no club file.",
    before: "club = \"clubb.toml\"",
    after: "club = \"club.toml\"",
    source: FORMAT,
};

/// A bare value that needs quotes, with the quoted form as a certain edit.
pub(crate) fn needs_quotes(key: &str, raw: &str, place: Place) -> Finding {
    let raw = raw.trim();
    let curly = ['\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}'];
    let bare = raw.trim_matches(curly);
    let title = if bare.len() < raw.len() {
        format!("{key} has curly quotes")
    } else {
        format!("{key} needs quotes")
    };
    let quoted = quoted(bare);
    Finding::new(&NEEDS_QUOTES, title)
        .label(place, "")
        .help(format!("write: {key} = {quoted}"))
        .edit(place, quoted)
}

/// Text as a TOML string.
pub(crate) fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

/// The word nearest to a misspelt one, if one is near enough.
pub fn nearest<'w>(word: &str, words: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let word = word.to_lowercase();
    words
        .map(|known| (strsim::jaro_winkler(&word, &known.to_lowercase()), known))
        .filter(|(score, _)| *score >= 0.82)
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
        .map(|(_, known)| known)
}

/// The date meant by "24/11/2026" or "2026-11-24" in quotes, where only one can be.
pub(crate) fn likely_date(raw: &str) -> Option<Date> {
    let numbers: Vec<u16> = raw
        .trim_matches(['"', '\''])
        .split(['/', '.', '-'])
        .map(|field| field.trim().parse().ok())
        .collect::<Option<_>>()?;
    let day_of = |number: u16| u8::try_from(number).ok();
    match numbers[..] {
        [year, month, day] if year > 31 => Date::new(year, day_of(month)?, day_of(day)?).ok(),
        // Day first for some and month first for others: certain only past the twelfth.
        [day, month, year] if day > 12 && year > 31 => {
            Date::new(year, day_of(month)?, day_of(day)?).ok()
        }
        [month, day, year] if day > 12 && year > 31 => {
            Date::new(year, day_of(month)?, day_of(day)?).ok()
        }
        _ => None,
    }
}

/// The one finding on a file without a single key.
pub(super) fn nothing_written(source: &Source) -> Finding {
    let title = match source.text().trim().is_empty() {
        true => "the file is empty",
        false => "the file holds nothing but comments",
    };
    Finding::new(&MISSING_KEY, title)
        .label(Place::new(FileId::SESSION, 0..0), "a session is missing")
        .help(format!("begin with this, and change what is yours:\n\n{SMALLEST}"))
}

/// The least that is a session.
const SMALLEST: &str = r#"title = "Legs that steer"
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
    fn a_misspelling_finds_its_word_and_a_stranger_none() {
        let keys = ["swim", "rest", "effort", "pattern"];
        assert_eq!(nearest("rset", keys.into_iter()), Some("rest"));
        assert_eq!(nearest("Swim", keys.into_iter()), Some("swim"));
        assert_eq!(nearest("colour", keys.into_iter()), None);
    }

    #[test]
    fn only_a_certain_date_is_offered() {
        assert_eq!(likely_date("24/11/2026").map(|d| d.to_string()), Some("2026-11-24".into()));
        assert_eq!(likely_date("11/24/2026").map(|d| d.to_string()), Some("2026-11-24".into()));
        assert_eq!(likely_date("4/5/2026"), None);
        assert_eq!(likely_date("31/2/2026"), None);
    }

    #[test]
    fn the_smallest_session_is_one() {
        let source = Source::new("x.toml", SMALLEST);
        let reading = crate::session::read(source, &|_| unreachable!("no club is named"));
        assert_eq!(reading.findings, []);
        assert!(reading.session.is_some());
    }
}
