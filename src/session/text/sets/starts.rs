//! Where a set begins: a count, a distance, a time that is swum.

use super::super::word::{Word, is_number};
use crate::measure::Unit;
use crate::session::line::is_term;

/// Words before a number that is no distance. Common practice, no source.
pub(super) const BEFORE_OTHER_NUMBERS: [&str; 46] = [
    "rest", "rests", "r", "ri", "on", "off", "@", "at", "hold", "holding", "under", "every",
    "lane", "lanes", "group", "level", "by", "to", "than", "take", "subtract", "minus", "no",
    "no.", "#", "hr", "first", "last", "miss", "out", "for", "in", "over", "within", "each", "of",
    "your", "per", "approx", "total", "tot", "next", "the", "is", "are", "middle",
];

/// Words behind a number that is no distance. Common practice, no source.
const BEHIND_OTHER_NUMBERS: [&str; 30] = [
    "s", "sec", "secs", "sec.", "seconds", "second", "min", "mins", "minute", "minutes", "rest",
    "rests", "ri", "off", "pace", "bpm", "strokes", "breaths", "times", "rounds", "rds", "rd",
    "swimmers", "people", "degrees", "pool", "recovery", "%", "r", "between",
];

/// Words that join sets and say nothing else.
pub(super) const JOINS: [&str; 10] =
    ["then", "and", "&", "plus", "finally", "next", "+", ";", ",", "/"];

/// The least number that is a distance without a unit, and the most.
const BARE: std::ops::RangeInclusive<u64> = 15..=10_000;

/// A distance, or several of a ladder, that begin at a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Far {
    /// Its number.
    pub number: u64,
    /// How many words it takes, its unit among them.
    pub words: usize,
    /// Whether its unit is said.
    pub has_unit: bool,
}

/// A count before a bracket: how many times, and the word of the bracket.
pub(super) fn group(words: &[Word<'_>], at: usize) -> Option<(u64, usize)> {
    let count = words.get(at)?.number()?;
    words.get(at + 1).filter(|word| word.is_times() || word.is_any(&["rounds", "rds"]))?;
    let of = usize::from(words.get(at + 2).is_some_and(|word| word.is_any(&["of"])));
    let open = at + 2 + of;
    let bracket = words.get(open).filter(|word| matches!(word.text, "(" | "{" | "["))?;
    let inside = words.get(open + 1);
    let holds = inside.is_none()
        || bracket.text == "{"
        || start_at(words, open + 1, true).is_some()
        || group(words, open + 1).is_some();
    holds.then_some((count, open))
}

/// The word of the bracket that closes the one at `open`.
pub(in crate::session::text) fn closing(words: &[Word<'_>], open: usize) -> Option<usize> {
    let mut depth = 0_usize;
    words.iter().enumerate().skip(open).find_map(|(at, word)| {
        match word.text {
            "(" | "{" | "[" => depth += 1,
            ")" | "}" | "]" => depth = depth.saturating_sub(1),
            _ => {}
        }
        (depth == 0).then_some(at)
    })
}

/// The distances that follow one another from a word on with nothing but a sign between them, each
/// with its word.
pub(super) fn run(words: &[Word<'_>], at: usize) -> Vec<(usize, Far)> {
    let mut run = Vec::new();
    let mut next = at;
    while let Some(far) = distance(words, next) {
        run.push((next, far));
        next += far.words;
        let sign =
            words.get(next).is_some_and(|word| matches!(word.text, "," | "-" | "/" | "+" | "&"));
        next += usize::from(sign);
    }
    run
}

/// What begins at a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Start {
    /// A count and what is counted.
    Counted { count: u64, far: Option<Far>, words: usize },
    /// A distance, or a time that is swum.
    Bare(Far),
}

pub(super) fn start_at(words: &[Word<'_>], at: usize, first: bool) -> Option<Start> {
    if let Some((count, behind)) = counted(words, at) {
        let far = distance(words, behind);
        let taken = behind + far.map_or(0, |far| far.words) - at;
        return Some(Start::Counted { count, far, words: taken });
    }
    if group(words, at).is_some() {
        return Some(Start::Counted { count: 1, far: None, words: 1 });
    }
    let word = words.get(at)?;
    let far_behind = || {
        (at + 1..words.len())
            .any(|at| distance(words, at).is_some_and(|far| !far.has_unit || far.number >= 15))
    };
    if word.is_any(&["broken", "ladder", "pyramid"])
        && far_behind()
        && (first || before(words, at).is_some_and(|word| word.is_any(&JOINS) || word.text == "."))
    {
        return Some(Start::Bare(Far { number: 0, words: 1, has_unit: true }));
    }
    if first && word.is_any(&["half"]) {
        return Some(Start::Bare(Far { number: 0, words: 1, has_unit: true }));
    }
    let far = distance(words, at).or_else(|| timed(words, at))?;
    let lead = before(words, at).is_some_and(|word| {
        !first && (word.is_any(&BEFORE_OTHER_NUMBERS) || word.text == "x" || is_ordinal(word.text))
    });
    (!lead).then_some(Start::Bare(far))
}

/// "4th", "1st": what stands behind it is counted by it.
fn is_ordinal(text: &str) -> bool {
    let digits = text.trim_end_matches(char::is_alphabetic);
    is_number(digits)
        && ["st", "nd", "rd", "th"].iter().any(|ending| text.get(digits.len()..) == Some(*ending))
}

pub(super) fn before<'a, 't>(words: &'a [Word<'t>], at: usize) -> Option<&'a Word<'t>> {
    at.checked_sub(1).and_then(|before| words.get(before))
}

/// A count: how many, and the word of what is counted. "8 x 50", "3 lots of 100", "10 100s".
pub(super) fn counted(words: &[Word<'_>], at: usize) -> Option<(u64, usize)> {
    let count = words.get(at)?.number().filter(|count| *count > 0)?;
    if before(words, at).is_some_and(|word| word.is_any(&["the", "for", "@", "rest", "no.", "#"])) {
        return None;
    }
    let next = words.get(at + 1)?;
    if next.is_times() {
        let of = usize::from(words.get(at + 2).is_some_and(|word| word.is_any(&["of"])));
        let what = words.get(at + 2 + of)?;
        let far = distance(words, at + 2 + of).is_some() || timed(words, at + 2 + of).is_some();
        let named = what.is_any(&["broken", "ladder", "pyramid", "half"])
            || what.text.contains('-')
            || what.text.contains("1/2");
        // "3 x 10 press-ups" is no swim.
        let swum =
            words.get(at + 3 + of).is_none_or(|word| is_swum(word.text) || word.text.len() == 1);
        let small = what.number().is_some() && swum || is_decimal(what.text);
        return (far || named || small).then_some((count, at + 2 + of));
    }
    let plural = next.text.strip_suffix('s').is_some_and(is_number);
    let far = distance(words, at + 1).filter(|far| plural && BARE.contains(&far.number));
    (count < 50 && far.is_some()).then_some((count, at + 1))
}

/// "12.5", half a length of 25.
fn is_decimal(text: &str) -> bool {
    text.split_once('.').is_some_and(|(whole, part)| is_number(whole) && part == "5")
}

/// The distance that begins at a word.
pub(super) fn distance(words: &[Word<'_>], at: usize) -> Option<Far> {
    let word = words.get(at)?;
    let steps: Vec<u64> = word
        .text
        .split('-')
        .filter_map(|step| is_number(step).then(|| step.parse().ok())?)
        .collect();
    if steps.len() > 1 && word.text.split('-').count() == steps.len() {
        let far = steps.iter().all(|step| BARE.contains(step))
            && !next_is(words, at + 1, &BEHIND_OTHER_NUMBERS);
        return far.then(|| Far { number: steps.iter().sum(), words: 1, has_unit: false });
    }
    let number = word
        .number()
        .or_else(|| word.text.strip_suffix('s').filter(|text| is_number(text))?.parse().ok())?;
    let fraction = usize::from(
        words.get(at + 1).is_some_and(|word| matches!(word.text, "1/2" | "1/3" | "2/3")),
    );
    let unit = words.get(at + 1 + fraction).filter(|word| is_unit(word.text));
    if unit.is_some() {
        let pool = next_is(words, at + 2 + fraction, &["pool", "pools", "bath", "baths", "side"]);
        return (!pool).then_some(Far { number, words: 2 + fraction, has_unit: true });
    }
    let other = next_is(words, at + 1, &BEHIND_OTHER_NUMBERS)
        && !is_swim_letter(words, at)
        && !leaves_on(words, at + 1);
    let far = BARE.contains(&number) && !other && !words.get(at + 1).is_some_and(Word::is_times);
    far.then_some(Far { number, words: 1, has_unit: false })
}

/// "100 off 2:00": a send-off behind a distance, and no rest.
fn leaves_on(words: &[Word<'_>], at: usize) -> bool {
    next_is(words, at, &["off"])
        && words.get(at + 1).is_some_and(|word| word.text.contains([':', '.']))
}

/// "300 s, 200 k", "25 k 25 d 25 s": a lone s is a swim behind a hundred, or behind other legs.
fn is_swim_letter(words: &[Word<'_>], at: usize) -> bool {
    let number = words.get(at).and_then(Word::number).unwrap_or(0);
    let letter = next_is(words, at + 1, &["s"]);
    let behind_leg = number >= 25
        && before(words, at).is_some_and(|word| word.text == "/" || is_swum(word.text));
    let rest = next_is(words, at + 2, &["rest", "rests", "ri", "between", "off", "recovery"]);
    letter && !rest && (number >= 100 || behind_leg)
}

fn next_is(words: &[Word<'_>], at: usize, of: &[&str]) -> bool {
    words.get(at).is_some_and(|word| word.is_any(of))
}

/// A time that is swum, or spent without a swim: "10 mins easy", not "1 min rest".
fn timed(words: &[Word<'_>], at: usize) -> Option<Far> {
    let word = words.get(at)?;
    word.number().filter(|number| *number > 0)?;
    let unit = words.get(at + 1)?.is_any(&["min", "mins", "minute", "minutes"]);
    let after = words.get(at + 2);
    let rest = after.is_none_or(|word| {
        word.is_any(&[
            "rest", "rests", "ri", "off", "extra", "between", "recovery", "break", "from", "later",
            "before", "early",
        ])
    });
    (unit && !rest).then_some(Far { number: 0, words: 2, has_unit: true })
}

/// Units of a distance; common practice, no source.
fn is_unit(text: &str) -> bool {
    let lower = text.to_lowercase();
    Unit::from_word(&lower).is_some()
        || matches!(
            lower.as_str(),
            "length" | "lengths" | "width" | "widths" | "metre" | "yds" | "y"
        )
}

/// Whether a word says how something is swum.
pub(super) fn is_swum(text: &str) -> bool {
    let lower = text.to_lowercase();
    let first = lower.split(['/', ',']).next().unwrap_or_default();
    is_term(first)
        || matches!(
            first,
            "d" | "s"
                | "mixed"
                | "mix"
                | "loosen"
                | "your"
                | "own"
                | "front"
                | "reverse"
                | "social"
        )
}
