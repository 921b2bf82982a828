//! Numbers behind the first swim of a line: other swims, rounds, a range, or a time for a distance.
//! A number without a unit of time could be a distance, so none is offered as a time.

use std::ops::Range;

use super::Swim;
use crate::reader::trade_words::TradeWord;
use crate::reader::{quoted, value::likely_time};
use crate::session::words::{Mode, Stroke};

/// Words between a number of repeats and what is repeated; common practice, no source.
const TIMES: [&str; 12] = [
    "times",
    "times.",
    "by",
    "of",
    "sets of",
    "sets",
    "reps of",
    "reps",
    "lots of",
    "repeats of",
    "rounds of",
    "rounds",
];

/// Units of time, as they are written behind a number.
const UNITS_OF_TIME: [&str; 10] =
    ["min", "mins", "minute", "minutes", "sec", "secs", "second", "seconds", "s", "'"];

/// Whether a word is a number without a unit, a bracket or comma beside it or not.
pub(super) fn is_bare_number(word: &str) -> bool {
    let word = word.trim_matches(|c: char| "(),;+&/".contains(c));
    !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether a word says what is swum, or how often, so that a number before it is a swim's.
pub(super) fn is_of_a_swim(word: &str) -> bool {
    let word = word.trim_matches(|c: char| "(),;".contains(c)).to_lowercase();
    ["x", "*", "m", "yd", "length", "lengths"].contains(&word.as_str())
        || Stroke::from_any_spelling(&word).is_some()
        || Mode::from_any_spelling(&word).is_some()
}

/// What the numbers of `line` from the word at `span` on ask for, where they are not of one swim.
pub(super) fn explain(line: &str, span: &Range<usize>) -> Option<String> {
    let (before, rest) = (line.get(..span.start)?, line.get(span.start..)?);
    for_distance(before, rest)
        .or_else(|| rounds(before, rest))
        .or_else(|| range(before, rest))
        .or_else(|| in_words(before, rest))
        .or_else(|| in_brackets(rest))
        .or_else(|| several(before, rest))
}

fn reads(line: &str) -> bool {
    Swim::parse(line).is_ok()
}

/// "4 x 1:00 free", "10 min easy": a time where the distance belongs.
fn for_distance(before: &str, rest: &str) -> Option<String> {
    let word = rest.split_whitespace().next()?;
    let number = before.trim_end().rsplit(|c: char| !c.is_ascii_digit()).next()?;
    let clock = before.ends_with(number) && word.starts_with([':', '\'', '"']);
    let unit = UNITS_OF_TIME.contains(&word.to_lowercase().as_str());
    if number.is_empty() || !clock && !unit {
        return None;
    }
    let blank = if clock { "" } else { " " };
    Some(format!(
        "\"{number}{blank}{word}\" is a time: a swim line needs a distance; write how far is swum \
         in it, as swim = \"200 free\""
    ))
}

/// "2 x 4 x 75 free" and "2 rounds of 4 x 75 free".
fn rounds(before: &str, rest: &str) -> Option<String> {
    let (sign, inner) = between(rest, &["x", "X", "\u{d7}", "*"])?;
    let (times, distance) = before.rsplit_once(['x', 'X', '\u{d7}', '*']).unwrap_or((before, ""));
    let (times, inner) = match distance.trim() {
        "" if sign.len() > 1 => (before.trim(), inner.to_owned()),
        "" => return None,
        distance => (times.trim(), format!("{distance} x {inner}")),
    };
    let repeated = Swim::parse(&inner).is_ok_and(|swim| swim.repeats > 1);
    (repeated && is_bare_number(times)).then(|| {
        format!(
            "rounds have a group of their own: {{ rounds = {times}, sets = [{{ swim = {} }}] }}",
            quoted(&inner)
        )
    })
}

/// The word or sign of a repeat at the start of `rest`, and what is behind it.
fn between<'r>(rest: &'r str, signs: &[&'static str]) -> Option<(&'static str, &'r str)> {
    let lower = rest.to_ascii_lowercase();
    let words = TIMES.iter().filter(|word| {
        lower.strip_prefix(**word).is_some_and(|behind| behind.starts_with(char::is_whitespace))
    });
    let longest = words.max_by_key(|word| word.len()).copied();
    let sign = || signs.iter().find(|sign| rest.starts_with(**sign)).copied();
    let found = longest.or_else(sign)?;
    Some((found, rest.get(found.len()..)?.trim()))
}

/// "4-6 x 75 free": one of the two numbers has to be chosen.
fn range(before: &str, rest: &str) -> Option<String> {
    let rest = rest.strip_prefix(['-', '\u{2013}']).or_else(|| rest.strip_prefix("to "))?.trim();
    let end = rest.find(|c: char| !c.is_ascii_digit())?;
    let (most, behind) = (rest.get(..end)?, rest.get(end..)?);
    let (least, most) = (format!("{}{behind}", before.trim()), format!("{most}{behind}"));
    (reads(&least) && reads(&most)).then(|| {
        format!("choose one number: swim = {} or swim = {}", quoted(&least), quoted(&most))
    })
}

/// "8 times 50 free", "4 sets of 75 free".
fn in_words(before: &str, rest: &str) -> Option<String> {
    let (word, inner) = between(rest, &[])?;
    let meant = format!("{} x {inner}", before.trim());
    match word.starts_with("rounds") && Swim::parse(inner).is_ok_and(|swim| swim.repeats > 1) {
        true => None,
        false if reads(&meant) => Some(format!("write: swim = {}", quoted(&meant))),
        false => {
            let repeated = Swim::parse(inner).is_ok_and(|swim| swim.repeats > 1);
            (repeated && is_bare_number(before.trim())).then(|| {
                format!(
                    "rounds have a group of their own: {{ rounds = {}, sets = [{{ swim = {} }}] }}",
                    before.trim(),
                    quoted(inner)
                )
            })
        }
    }
}

/// "(25 kick 50 swim)": how a repeat is parted. "(as 4 x 75)": how it may be swum.
fn in_brackets(rest: &str) -> Option<String> {
    let inside = rest.strip_prefix('(')?.split(')').next()?.trim();
    if !inside.contains(|c: char| c.is_ascii_digit()) || likely_time(inside).is_some() {
        return None;
    }
    let swim = inside.strip_prefix("as ").map_or(inside, str::trim);
    Some(match reads(swim) && Swim::parse(swim).is_ok_and(|swim| swim.repeats > 1) {
        true => format!(
            "a line holds one swim: where it is swum as {swim}, write swim = {}",
            quoted(swim)
        ),
        false => format!(
            "how a repeat is parted goes into its cue: cue = {}; or write a set for each swim",
            quoted(inside)
        ),
    })
}

/// A bare number that is neither behind a word for a rest or a send-off nor a time.
fn several(before: &str, rest: &str) -> Option<String> {
    let words: Vec<&str> = rest.split_whitespace().collect();
    let first = words.iter().position(|word| is_bare_number(word))?;
    let joined = ["+", "&", "and", ",", ";", "/", "then", "plus"];
    if first > 1 || first == 1 && !joined.contains(&words[0].to_lowercase().as_str()) {
        return None;
    }
    let behind = words.get(first + 1).copied();
    // "+15" at the end of a line is a rest for many.
    let ends = behind.is_none() && (words[0].starts_with('+') || words[0] == "+");
    if ends && is_short(words[first]) {
        return None;
    }
    let second = words[first..].join(" ");
    let second = second.trim_start_matches(|c: char| "+&,;/(".contains(c)).trim();
    let plain = before.trim().trim_end_matches([',', ';', '+', '&', '/']).trim();
    Some(match behind.is_some() && reads(plain) && reads(second) {
        true => format!(
            "a line holds one swim: write a set for each: swim = {} and swim = {}",
            quoted(plain),
            quoted(second)
        ),
        false => format!(
            "a line holds one swim: if \"{}\" is a distance, write a set for each swim; a time \
             belongs to rest or on, with its unit",
            words[first].trim_matches(|c: char| "(),;+&/".contains(c))
        ),
    })
}

/// Whether a number is too small for a distance in most pools.
pub(super) fn is_short(word: &str) -> bool {
    word.trim_start_matches('+').parse::<u32>().is_ok_and(|number| number < 25)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_behind_a_swim_are_no_times() {
        // The word at fault is the first the line's reader does not know.
        for (line, word, wanted) in [
            ("300 free + 100 back", "+", Some("swim = \"300 free\" and swim = \"100 back\"")),
            ("75 free 50 back", "50", Some("swim = \"75 free\" and swim = \"50 back\"")),
            ("200, 100, 50 free", ",", Some("write a set for each swim")),
            ("4 sets of 75 free", "sets", Some("swim = \"4 x 75 free\"")),
            ("4 sets of 8 x 50 free", "sets", Some("rounds = 4")),
            ("4-6 x 75 free", "-6", Some("swim = \"4 x 75 free\" or swim = \"6 x 75 free\"")),
            ("2 x 4 x 75 free", "x 75", Some("rounds = 2")),
            ("300 (as 4 x 75)", "(as", Some("swim = \"4 x 75\"")),
            ("4 x 75 free (25 kick 50 swim)", "(25", Some("cue = \"25 kick 50 swim\"")),
            ("4 x 1:00 free", ":00", Some("\"1:00\" is a time")),
            ("10 min easy", "min", Some("\"10 min\" is a time")),
            ("4 x 25 kick +15", "+15", None),
            ("4 x 50 free rest 15 s", "rest", None),
            ("4 x 50 free :20 rest", ":20", None),
            ("4 x 50 free on 1:15", "on", None),
        ] {
            let at = line.find(word).expect("the word");
            let end = at + word.split(' ').next().map_or(0, str::len);
            let said = explain(line, &(at..end));
            match wanted {
                Some(wanted) => {
                    assert!(
                        said.as_deref().is_some_and(|said| said.contains(wanted)),
                        "{line}: {said:?}"
                    );
                }
                None => assert_eq!(said, None, "{line}"),
            }
        }
    }
}
