//! The rules of reading, and the findings several readers share.

use crate::finding::{Finding, Place, Severity, rules};
use crate::measure::Date;
use crate::reader::certain::QUOTES;
use crate::reader::{offer, quoted};

const TOML: &str = "The TOML format, version 1.1.";
const FORMAT: &str = "The session format of this program.";
const NEVER: &str = "Never: the program would have to guess.";

rules! {
    pub(crate) BAD_TOML {
        id: "bad-toml",
        severity: Severity::Error,
        summary: "a bracket, comma, quote or equals sign is missing or too many",
        why: "Where the marks do not pair up, it is not certain which set a rest belongs to.",
        unworried: NEVER,
        before: "sets = [ { swim = \"4 x 50 free\", rest = \"20 s\" ",
        after: "sets = [ { swim = \"4 x 50 free\", rest = \"20 s\" } ]",
        source: TOML,
    }

    pub(crate) NEEDS_QUOTES {
        id: "needs-quotes",
        severity: Severity::Error,
        summary: "a time or a text has no quotes around it",
        why: "Without quotes 1:30 is read as half past one at night, or not at all.",
        unworried: NEVER,
        before: "rest = 1:30",
        after: "rest = \"1:30\"",
        source: TOML,
    }

    pub(crate) UNKNOWN_KEY {
        id: "unknown-key",
        severity: Severity::Error,
        summary: "a key is misspelt or does not belong there",
        why: "A misspelt \"rest\" that is passed over becomes a set without rest on the card.",
        unworried: "Never; a note to yourself goes behind a # instead.",
        before: "{ swim = \"4 x 50 free\", rset = \"20 s\" }",
        after: "{ swim = \"4 x 50 free\", rest = \"20 s\" }",
        source: FORMAT,
    }

    pub(crate) MISSING_KEY {
        id: "missing-key",
        severity: Severity::Error,
        summary: "something a card cannot do without is missing",
        why: "Without a pool there are no lengths, without a pace no times.",
        unworried: NEVER,
        before: "title = \"Tuesday\"",
        after: "title = \"Tuesday\"\npool = \"25 m\"",
        source: FORMAT,
    }

    pub(crate) WRONG_KIND {
        id: "wrong-kind",
        severity: Severity::Error,
        summary: "a number, text, list or table is where another kind of value is wanted",
        why: "20 alone could be seconds, metres or repeats; the card must not guess.",
        unworried: NEVER,
        before: "rest = 20",
        after: "rest = \"20 s\"",
        source: FORMAT,
    }

    pub(crate) UNKNOWN_WORD {
        id: "unknown-word",
        severity: Severity::Error,
        summary: "a word is not one of those the key takes",
        why: "Times and checks follow from the words for level, effort and part; a word the program \
              does not know would be left out of the sums.",
        unworried: NEVER,
        before: "effort = \"medium\"",
        after: "effort = \"steady\"",
        source: FORMAT,
    }

    pub(crate) EMPTY_TEXT {
        id: "empty-text",
        severity: Severity::Error,
        summary: "a text is empty",
        why: "An empty title or cue leaves a hole on the card.",
        unworried: "Never; leave the key out where you have nothing to say.",
        before: "cue = \"\"",
        after: "cue = \"long arms\"",
        source: FORMAT,
    }

    pub(crate) UNPRINTABLE {
        id: "unprintable",
        severity: Severity::Error,
        summary: "a text holds a line break or a sign no printer shows",
        why: "A cue is one line; the card breaks it where it fits.",
        unworried: NEVER,
        before: "cue = \"long arms\\nloose feet\"",
        after: "cue = \"long arms, loose feet\"",
        source: FORMAT,
    }

    pub(crate) OVER_LIMIT {
        id: "over-limit",
        severity: Severity::Error,
        summary: "a number is beyond anything swum",
        why: "A slip of the keyboard, 100 repeats for 10, would fill the card and the evening.",
        unworried: "Never; the limits are far beyond any session.",
        before: "swim = \"8000 x 50 free\"",
        after: "swim = \"8 x 50 free\"",
        source: "Limits of this program, far beyond any session swum.",
    }

    pub(crate) UNREADABLE_TIME {
        id: "unreadable-time",
        severity: Severity::Error,
        summary: "a time cannot be read",
        why: "1:75 may be a slip for 1:15 or for 1:45; the difference is a missed send-off.",
        unworried: NEVER,
        before: "on = \"1:75\"",
        after: "on = \"1:45\"",
        source: FORMAT,
    }

    pub(crate) UNREADABLE_DATE {
        id: "unreadable-date",
        severity: Severity::Error,
        summary: "a date cannot be read",
        why: "4/5/2027 is in April for some and in May for others.",
        unworried: NEVER,
        before: "date = 24/11/2026",
        after: "date = 2026-11-24",
        source: TOML,
    }

    pub(crate) UNREADABLE_POOL {
        id: "unreadable-pool",
        severity: Severity::Error,
        summary: "a pool cannot be read",
        why: "25 m and 25 yd differ by two metres a length: two lengths and more over a session.",
        unworried: NEVER,
        before: "pool = \"25\"",
        after: "pool = \"25 m\"",
        source: FORMAT,
    }

    pub(crate) UNREADABLE_DISTANCE {
        id: "unreadable-distance",
        severity: Severity::Error,
        summary: "a distance cannot be read",
        why: "400 m and 400 yd differ by nearly a length and a half; a goal must not be guessed.",
        unworried: NEVER,
        before: "goal = \"400\"",
        after: "goal = \"400 m\"",
        source: "The block format of this program.",
    }
}

/// How the title of a finding on a bare value ends.
const BARE: &str = "needs quotes";

/// Whether a finding is that one bare value needs quotes, and nothing else.
pub(crate) fn is_of_bare_value(finding: &Finding) -> bool {
    std::ptr::eq(finding.rule, &NEEDS_QUOTES)
        && finding.labels.len() == 1
        && finding.title.ends_with(BARE)
}

/// A bare value that needs quotes, or whose quotes are curly, with the quoted form as an edit.
pub(crate) fn needs_quotes(key: Option<&str>, raw: &str, place: Place) -> Finding {
    let raw = raw.trim();
    let bare = raw.trim_matches(QUOTES);
    let name = key.unwrap_or("this text");
    let title = match bare.len() < raw.len() {
        true => format!("{name} has curly quotes"),
        false => format!("{name} {BARE}"),
    };
    let quoted = quoted(bare);
    let finding = Finding::new(&NEEDS_QUOTES, title).label(place, "").help(match key {
        Some(key) => format!("write: {key} = {quoted}"),
        None => format!("write: {quoted}"),
    });
    offer(finding, place, raw, quoted)
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
        [day, month, year] if day == month && year > 31 => {
            Date::new(year, day_of(month)?, day_of(day)?).ok()
        }
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

/// The two dates that "05/03/2027" may be: the day first, or the month.
pub(crate) fn either_date(raw: &str) -> Option<[Date; 2]> {
    let numbers: Vec<u16> = raw
        .trim_matches(QUOTES)
        .split(['/', '.', '-'])
        .map(|field| field.trim().parse().ok())
        .collect::<Option<_>>()?;
    let [first, second, year] = numbers[..] else { return None };
    let (first, second) = (u8::try_from(first).ok()?, u8::try_from(second).ok()?);
    let year = if year < 100 { year + 2000 } else { year };
    Some([Date::new(year, second, first).ok()?, Date::new(year, first, second).ok()?])
}

/// How many days the month of "2027-02-30" has, where it has too few.
pub(crate) fn days_of_month(raw: &str) -> Option<u8> {
    let mut fields = raw.trim_matches(QUOTES).split('-').map(|field| field.trim().parse::<u16>());
    let (year, month, day) = (fields.next()?.ok()?, fields.next()?.ok()?, fields.next()?.ok()?);
    let month = u8::try_from(month).ok()?;
    let last = (28..=31).rev().find(|day| Date::new(year, month, *day).is_ok())?;
    (day > u16::from(last) && day < 100).then_some(last)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_certain_date_is_offered() {
        assert_eq!(likely_date("24/11/2026").map(|d| d.to_string()), Some("2026-11-24".into()));
        assert_eq!(likely_date("11/24/2026").map(|d| d.to_string()), Some("2026-11-24".into()));
        assert_eq!(likely_date("4/5/2026"), None);
        assert_eq!(likely_date("5/5/2026").map(|d| d.to_string()), Some("2026-05-05".into()));
        let both = either_date("05/03/2027").map(|both| both.map(|date| date.to_string()));
        assert_eq!(both, Some(["2027-03-05".to_owned(), "2027-05-03".to_owned()]));
        assert_eq!(likely_date("31/2/2026"), None);
    }
}
