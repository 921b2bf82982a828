//! Facts by their form: a pool, a date, a time of day, how long.

use std::ops::Range;

use super::super::word::{Word, is_number, words};
use crate::measure::{Pool, Unit};
use crate::reader::rules;
use crate::reader::value::{likely_time, likely_time_of_day};

/// What says the course, where its pool is no other than that. Common practice, no source.
const COURSES: [(&str, &str); 9] = [
    ("scm", "25 m"),
    ("scy", "25 yd"),
    ("lcm", "50 m"),
    ("short course metres", "25 m"),
    ("short course meters", "25 m"),
    ("short course yards", "25 yd"),
    ("long course", "50 m"),
    ("long course metres", "50 m"),
    ("long course meters", "50 m"),
];

/// Days and words that may stand beside a date and say nothing more.
const DAYS: [&str; 25] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "mon",
    "tue",
    "tues",
    "wed",
    "weds",
    "thu",
    "thur",
    "thurs",
    "fri",
    "sat",
    "sun",
    "am",
    "pm",
    "tonight",
    "tomorrow",
    "noon",
    "on",
    "in",
];

/// The months by their first letters.
const MONTHS: [&str; 12] =
    ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/// The date that a text is: "12 Jan 2027", "January 12, 2027", "24/11/2026", "2026-11-24".
pub(super) fn date(text: &str) -> Option<String> {
    if let Ok(known) = text.parse::<toml::value::Datetime>() {
        return known.date.filter(|_| known.time.is_none()).map(|date| date.to_string());
    }
    if let Some(date) = rules::likely_date(text) {
        return Some(date.to_string());
    }
    let (day, month, year) = day_of(text)?;
    crate::measure::Date::new(year?, month, day).ok().map(|date| date.to_string())
}

/// Day, month and year, of a date with the month's name.
fn day_of(text: &str) -> Option<(u8, u8, Option<u16>)> {
    let lower = text.to_lowercase().replace(',', " ");
    let (mut day, mut month, mut year) = (None, None, None);
    for word in lower.split_whitespace() {
        let number = word.trim_end_matches(|sign: char| sign.is_alphabetic());
        if let Some(at) = MONTHS.iter().position(|name| word.starts_with(name)) {
            month = u8::try_from(at + 1).ok();
        } else if number.len() == 4 {
            year = number.parse().ok();
        } else if (1..=2).contains(&number.len()) && day.is_none() {
            day = number.parse().ok();
        } else if !DAYS.contains(&word) {
            return None;
        }
    }
    Some((day?, month?, year))
}

/// The pieces of a line between its signs: commas, full stops, brackets, spaced dashes.
pub(super) fn segments(text: &str) -> Vec<Range<usize>> {
    let mut pieces = Vec::new();
    let mut from = 0;
    for word in words(text) {
        let ends = matches!(word.text, "," | ";" | "." | "!" | "(" | ")" | "?" | ":" | "/")
            || word.text == "-" && !is_time_dash(text, word.span.clone());
        if ends {
            pieces.push(from..word.span.start);
            from = word.span.end;
        }
    }
    pieces.push(from..text.len());
    pieces
}

/// Whether a dash stands between two times: "20:30 - 21:30".
fn is_time_dash(text: &str, span: Range<usize>) -> bool {
    let before = text.get(..span.start).unwrap_or_default().trim_end();
    let behind = text.get(span.end..).unwrap_or_default().trim_start();
    let digits = |text: &str, last: bool| {
        let word = if last { text.rsplit(' ').next() } else { text.split(' ').next() };
        word.is_some_and(|word| {
            word.contains([':', '.']) && word.starts_with(|sign: char| sign.is_ascii_digit())
        })
    };
    digits(before, true) && digits(behind, false)
}

/// A text without the days and small words before and behind it.
pub(super) fn without_days(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_day =
        |word: &&&str| DAYS.contains(&word.trim_end_matches(['s', '.'])) || DAYS.contains(word);
    let front = words.iter().take_while(is_day).count();
    words.get(front..).unwrap_or_default().join(" ")
}

/// "12 june", "14/03", "6/2": a day without its year.
pub(super) fn is_day(text: &str) -> bool {
    let numbers = text.split(['/', '.']).filter(|number| is_number(number)).count();
    let slashed = numbers == 2 && text.split(['/', '.']).count() == 2 && text.len() <= 5;
    let named = text.split_whitespace().count() == 2 && day_of(text).is_some();
    slashed && text.contains('/') || named
}

/// "45 min", "1 h", "90 minutes".
pub(super) fn minutes(text: &str) -> Option<u32> {
    let unit = ["min", "mins", "minutes", "minute", "h", "hr", "hour", "hours", "hrs"];
    let last = text.rsplit(|sign: char| !sign.is_alphabetic()).next()?;
    let time = unit.contains(&last).then(|| likely_time(text))??;
    let time: crate::measure::Seconds = time.parse().ok()?;
    time.get().is_multiple_of(60).then_some(time.get() / 60)
}

/// "19:15", "7.15 pm", "20:00-21:00", "6pm to 7.30": the start, and how long in minutes.
pub(super) fn from_to(text: &str) -> Option<(String, Option<u32>)> {
    let text = text
        .replace(" to ", "-")
        .replace(" til ", "-")
        .replace(" till ", "-")
        .replace(" until ", "-");
    let parts: Vec<&str> = text.split('-').map(str::trim).collect();
    let clock =
        |text: &str| text.contains([':', '.']) || text.ends_with("am") || text.ends_with("pm");
    match parts.as_slice() {
        [one] if clock(one) => Some((likely_time_of_day(one)?.to_string(), None)),
        [from, to] if clock(to) || clock(from) => {
            let half = ["am", "pm"].into_iter().find(|half| to.ends_with(half)).unwrap_or_default();
            let begins = match from.ends_with("am") || from.ends_with("pm") {
                true => (*from).to_owned(),
                false => format!("{from}{half}"),
            };
            let whole = |text: &str| {
                likely_time_of_day(text).or_else(|| likely_time_of_day(&format!("{text}:00")))
            };
            let (starts, ends) = (whole(&begins)?, whole(to)?);
            let minute = |time: &str| {
                let (hour, minute) = time.split_once(':')?;
                Some(hour.parse::<u32>().ok()? * 60 + minute.parse::<u32>().ok()?)
            };
            let long = minute(&ends.to_string())?.checked_sub(minute(&starts.to_string())?);
            Some((starts.to_string(), long.filter(|long| *long > 0)))
        }
        _ => None,
    }
}

/// The pool that a text is: "25 m", "25 yd pool", "scm", "long course".
pub(super) fn pool(text: &str) -> Option<Pool> {
    let text = text.to_lowercase();
    let text = ["pool", "bath", "baths"]
        .iter()
        .fold(text.trim(), |text, word| text.trim_end_matches(word).trim_end());
    let text = text.trim_start_matches("short course ").trim_start_matches("long course ");
    let known = COURSES.iter().find(|(course, _)| *course == text).map(|(_, pool)| *pool);
    let pool: Pool = known.unwrap_or(text).parse().ok()?;
    Some(pool)
}

/// A pool that a word begins: "25m", "33 m pool", "SCM"; and whether it is surely one.
pub(super) fn spoken_pool(words: &[Word<'_>], at: usize) -> Option<(Pool, Range<usize>, bool)> {
    let word = words.get(at)?;
    if let Some((_, pool)) =
        COURSES.iter().find(|(course, _)| word.text.eq_ignore_ascii_case(course))
    {
        return Some((pool.parse().ok()?, word.span.clone(), true));
    }
    let number = word.number().filter(|number| (10..=60).contains(number))?;
    let number = u32::try_from(number).ok()?;
    let next = words.get(at + 1);
    let unit = next.and_then(|word| unit_of(word.text));
    let is_pool = |word: &Word<'_>| word.is_any(&["pool", "bath", "baths", "side"]);
    let before = words.get(..at).unwrap_or_default().iter().rev().take(3).any(is_pool);
    match unit {
        Some(unit) => {
            let behind = words.get(at + 2);
            let sure = behind.is_some_and(is_pool) || before;
            let swum = behind.is_some_and(|word| {
                word.is_any(&["fast", "from", "into", "off", "underwater", "swim", "easy"])
            });
            let span = word.span.start..next.map_or(word.span.end, |word| word.span.end);
            (!swum).then_some((Pool::whole(number, unit)?, span, sure))
        }
        None if before || next.is_some_and(is_pool) => {
            Some((Pool::whole(number, Unit::Metre)?, word.span.clone(), true))
        }
        None => None,
    }
}

fn unit_of(text: &str) -> Option<Unit> {
    Unit::from_word(&text.to_lowercase())
}
