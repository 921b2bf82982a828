//! Parts a line of a message into its sets: where a count or a distance begins another.

use std::ops::Range;

use super::plain::Plain;
use super::word::{Word, is_number, words};
use crate::measure::Unit;
use crate::reader::trade_words::TradeWord;
use crate::session::words::{EffortWord, Mode, Pattern, Stroke};

/// What stands on a line.
#[derive(Debug)]
pub(super) enum Item {
    /// One set, its clauses with it.
    Set(Plain),
    /// Sets in brackets that are swum through several times, the bytes of the count in the source, and
    /// what stands behind the bracket.
    Rounds { count: u64, count_at: Range<usize>, inner: Plain, behind: Plain },
    /// The same where the bracket is closed on a later line.
    Open { count: u64, count_at: Range<usize>, inner: Plain, closes: char },
}

/// A line that can be read in two ways of different distance, each as it would be written.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Doubt {
    pub one: String,
    pub other: String,
}

/// Sets, and the pieces of a swim that were told from sets only by their sum.
#[derive(Debug, Default)]
pub(super) struct Parted {
    pub items: Vec<Item>,
    /// Bytes of the line where distances behind a comma add up to the one before them.
    pub adds_up: Vec<Range<usize>>,
}

/// Words before a number that is no distance. Common practice, no source.
const BEFORE_OTHER_NUMBERS: [&str; 46] = [
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
const JOINS: [&str; 10] = ["then", "and", "&", "plus", "finally", "next", "+", ";", ",", "/"];

/// The least number that is a distance without a unit, and the most.
const BARE: std::ops::RangeInclusive<u64> = 15..=10_000;

/// A distance, or several of a ladder, that begin at a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Far {
    /// Its number.
    number: u64,
    /// How many words it takes, its unit among them.
    words: usize,
    /// Whether its unit is said.
    has_unit: bool,
}

/// Whether a set begins at the first word, behind words that only join.
pub(super) fn begins_set(text: &str) -> bool {
    let words = words(text);
    let start = words.iter().take_while(|word| word.is_any(&JOINS)).count();
    start_at(&words, start, true).is_some()
}

/// Whether a set of several repeats begins at the first word.
pub(super) fn begins_counted(text: &str) -> bool {
    let words = words(text);
    counted(&words, 0).is_some() || group(&words, 0).is_some()
}

/// Where sets may begin in a text, wherever they stand: for words that were not taken for sets.
pub(super) fn may_hold_set(text: &str) -> Option<Range<usize>> {
    let words = words(text);
    (0..words.len()).find_map(|at| {
        let count = counted(&words, at).is_some();
        let swum = distance(&words, at).is_some_and(|far| {
            far.number >= 25
                && words
                    .get(at + far.words)
                    .is_some_and(|word| is_swum(word.text) && word.text.len() > 1)
        });
        (count || swum).then(|| words.get(at).map(|word| word.span.clone()))?
    })
}

/// Parts a line that begins with a set.
pub(super) fn parted(plain: &Plain) -> Result<Parted, Doubt> {
    let text = plain.text();
    let words = words(text);
    let mut parted = Parted::default();
    let mut at = 0;
    while at < words.len() {
        at += words
            .iter()
            .skip(at)
            .take_while(|word| word.is_any(&JOINS) || word.text == ".")
            .count();
        let Some(first) = words.get(at) else { break };
        if let Some((count, open)) = group(&words, at) {
            at = rounds(plain, &words, (at, count, open), &mut parted);
            continue;
        }
        let end = set_end(&words, at, &mut parted.adds_up)?;
        let mut until = end;
        while until > at + 1
            && words.get(until - 1).is_some_and(|word| word.is_any(&JOINS) || word.text == ".")
        {
            until -= 1;
        }
        let last = words.get(until.saturating_sub(1)).map_or(first.span.end, |word| word.span.end);
        parted.items.push(Item::Set(plain.slice(first.span.start..last)));
        at = end.max(at + 1);
    }
    last_count(text, &words, parted)
}

/// "5 x 100 r15, 200 pull, x 2": a count behind several sets may be of the last or of all.
fn last_count(text: &str, words: &[Word<'_>], parted: Parted) -> Result<Parted, Doubt> {
    let [.., comma, times, count] = words else { return Ok(parted) };
    if comma.text != "," || !times.is_times() || count.number().is_none() || parted.items.len() < 2
    {
        return Ok(parted);
    }
    let sets = text.get(..comma.span.start).unwrap_or_default();
    let of_all = format!("{} x ({sets})", count.text);
    let last =
        words.iter().rev().skip(3).find(|word| word.text == ",").map_or(0, |word| word.span.end);
    let (before, last) = sets.split_at(last.min(sets.len()));
    Err(Doubt { one: of_all, other: format!("{before} {} x ({})", count.text, last.trim()) })
}

/// A count before a bracket: how many times, and the word of the bracket.
fn group(words: &[Word<'_>], at: usize) -> Option<(u64, usize)> {
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

/// Rounds in brackets from a word on; the word behind them.
fn rounds(
    plain: &Plain,
    words: &[Word<'_>],
    (at, count, open): (usize, u64, usize),
    parted: &mut Parted,
) -> usize {
    let span = |word: usize| {
        words.get(word).map_or(plain.text().len()..plain.text().len(), |word| word.span.clone())
    };
    let starts = span(at).start;
    let count_at = plain.source(span(at));
    let closes = match words.get(open).map(|word| word.text) {
        Some("{") => '}',
        Some("[") => ']',
        _ => ')',
    };
    let Some(close) = closing(words, open) else {
        let inner = plain.slice(span(open).end..plain.text().len());
        parted.items.push(Item::Open { count, count_at, inner, closes });
        return words.len();
    };
    let inner = plain.slice(span(open).end..span(close).start);
    let behind_end = (close + 1..words.len())
        .find(|at| start_at(words, *at, false).is_some() || group(words, *at).is_some())
        .unwrap_or(words.len());
    let mut last = behind_end;
    while last > close + 1 && words.get(last - 1).is_some_and(|word| word.is_any(&JOINS)) {
        last -= 1;
    }
    let behind =
        plain.slice(span(close).end..span(last.saturating_sub(1)).end.max(span(close).end));
    if only_distances(&inner) {
        let mut set = plain.slice(starts..span(open).start);
        let mut ladder = inner;
        dashed(&mut ladder);
        set.join(&ladder);
        set.join(&behind);
        parted.items.push(Item::Set(set));
    } else {
        parted.items.push(Item::Rounds { count, count_at, inner, behind });
    }
    behind_end
}

/// The word of the bracket that closes the one at `open`.
pub(super) fn closing(words: &[Word<'_>], open: usize) -> Option<usize> {
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

/// Whether a piece is nothing but two or more distances and signs between them.
fn only_distances(plain: &Plain) -> bool {
    let words = words(plain.text());
    let run = run(&words, 0);
    run.len() > 1 && run.last().is_some_and(|(at, far)| at + far.words == words.len())
        || plain.text().contains('-') && plain.text().split('-').all(|step| is_number(step.trim()))
}

/// Signs between distances written as dashes.
pub(super) fn dashed(plain: &mut Plain) {
    let spans: Vec<Range<usize>> = {
        let words = words(plain.text());
        let run = run(&words, 0);
        let ends = run
            .iter()
            .filter_map(|(at, far)| words.get(at + far.words - 1).map(|word| word.span.end));
        let starts =
            run.iter().skip(1).filter_map(|(at, _)| words.get(*at).map(|word| word.span.start));
        ends.zip(starts).map(|(end, start)| end..start).collect()
    };
    spans.into_iter().rev().for_each(|span| plain.replace(span, "-"));
}

/// The distances that follow one another from a word on with nothing but a sign between them, each
/// with its word.
fn run(words: &[Word<'_>], at: usize) -> Vec<(usize, Far)> {
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
enum Start {
    /// A count and what is counted.
    Counted { count: u64, far: Option<Far>, words: usize },
    /// A distance, or a time that is swum.
    Bare(Far),
}

fn start_at(words: &[Word<'_>], at: usize, first: bool) -> Option<Start> {
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

fn before<'a, 't>(words: &'a [Word<'t>], at: usize) -> Option<&'a Word<'t>> {
    at.checked_sub(1).and_then(|before| words.get(before))
}

/// A count: how many, and the word of what is counted. "8 x 50", "3 lots of 100", "10 100s".
fn counted(words: &[Word<'_>], at: usize) -> Option<(u64, usize)> {
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
fn distance(words: &[Word<'_>], at: usize) -> Option<Far> {
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
fn is_swum(text: &str) -> bool {
    let lower = text.to_lowercase();
    let first = lower.split(['/', ',']).next().unwrap_or_default();
    Stroke::from_any_spelling(first).is_some()
        || Mode::from_any_spelling(first).is_some()
        || EffortWord::from_any_spelling(first).is_some()
        || Pattern::from_any_spelling(first).is_some()
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

/// The word behind the set that begins at a word.
fn set_end(words: &[Word<'_>], at: usize, adds_up: &mut Vec<Range<usize>>) -> Result<usize, Doubt> {
    let start = start_at(words, at, true);
    let (count, far, mut next) = match start {
        Some(Start::Counted { count, far, words }) => (Some(count), far, at + words),
        Some(Start::Bare(far)) => (None, Some(far), at + far.words),
        None => (None, None, at + 1),
    };
    if words.get(at).is_some_and(|word| word.is_any(&["broken"]))
        || words.get(at + 2).is_some_and(|word| word.is_any(&["broken"]))
    {
        return Ok(broken_end(words, at));
    }
    // A ladder: distances that share the words behind the last.
    let named = words.get(at).is_some_and(|word| word.is_any(&["ladder", "pyramid"]));
    let steps = if named {
        (at..words.len()).find(|at| distance(words, *at).is_some()).unwrap_or(at)
    } else {
        at
    };
    let ladder = run(words, steps);
    if count.is_none() && (named || ladder.len() > 2) {
        next = ladder.last().map_or(next, |(at, far)| at + far.words);
    }
    if let Some(count) = count.filter(|count| *count > 1) {
        of_distances(words, at, next, count, far)?;
    }
    let in_lengths = words.get(next).is_some_and(|word| word.is_any(&["as", "="]));
    let mut depth = 0_usize;
    let mut quoted = false;
    while let Some(word) = words.get(next) {
        match word.text {
            "(" | "{" | "[" => depth += 1,
            ")" | "}" | "]" => depth = depth.saturating_sub(1),
            _ => {}
        }
        quoted ^= word.text.matches('"').count() % 2 == 1
            && !word.text.starts_with(|sign: char| sign.is_ascii_digit());
        if depth == 0
            && !quoted
            && let Some(begun) = start_at(words, next, false)
        {
            let of = far.map(|far| far.number);
            let pieces = far.and_then(|far| pieces(words, next, far));
            match (pieces, begun) {
                (Some(end), _) if is_pieces(words, next, count) => {
                    if before(words, next).is_some_and(|word| word.text == ",") {
                        adds_up.push(piece_span(words, next, end));
                    }
                    next = end;
                    continue;
                }
                (_, Start::Bare(short))
                    if count.is_some_and(|count| count > 1) && is_time(words, next, short) => {}
                (_, Start::Bare(_))
                    if words.get(next - 1).is_some_and(|word| word.text == "+")
                        && count.is_some_and(|count| count > 1) =>
                {
                    return Err(plus(words, at, next));
                }
                // "1 length back 1 length breast": how each repeat is swum.
                (_, Start::Bare(leg)) if in_lengths && leg.number > 0 && leg.number < 5 => {}
                (pieces, Start::Bare(_)) => {
                    let several = distance(words, next).is_some_and(|far| Some(far.number) < of);
                    if let Some(end) = pieces.filter(|_| several) {
                        adds_up.push(piece_span(words, next, end));
                    }
                    break;
                }
                _ => break,
            }
        }
        next += 1;
    }
    Ok(next)
}

fn piece_span(words: &[Word<'_>], from: usize, end: usize) -> Range<usize> {
    let start = words.get(from).map_or(0, |word| word.span.start);
    start..words.get(end - 1).map_or(start, |word| word.span.end)
}

/// Whether distances that add up to the one before are its pieces: where several repeats go before
/// them, or a sign that says so.
fn is_pieces(words: &[Word<'_>], at: usize, count: Option<u64>) -> bool {
    let sign = before(words, at).is_some_and(|word| word.is_any(&["as", "=", "-", ":", "of"]));
    sign || count.is_some_and(|count| count > 1)
}

/// A bare number behind several repeats is their time unless a word of a swim or a sign says else.
fn is_time(words: &[Word<'_>], at: usize, far: Far) -> bool {
    let joined = before(words, at).is_some_and(|word| word.is_any(&JOINS));
    let swum = words.get(at + far.words).is_some_and(|word| is_swum(word.text));
    !far.has_unit && !joined && !swum && far.number < 1000
}

/// "3 x 200 100 50", "3 x 300 / 200 / 100": one repeat of them all, or the first several times.
fn of_distances(
    words: &[Word<'_>],
    at: usize,
    next: usize,
    count: u64,
    far: Option<Far>,
) -> Result<(), Doubt> {
    let Some(far) = far else { return Ok(()) };
    let slash = usize::from(words.get(next).is_some_and(|word| word.text == "/"));
    let more = run(words, next + slash);
    let falling =
        more.windows(2).all(|pair| matches!(pair, [(_, a), (_, b)] if a.number > b.number));
    let round = more.iter().all(|(_, far)| far.number % 25 == 0) && far.number % 25 == 0;
    if more.len() < 2 || !(falling && round || slash > 0) {
        return Ok(());
    }
    let texts: Vec<String> = more.iter().map(|(_, far)| far.number.to_string()).collect();
    let first = words.get(at + 2).map_or("", |word| word.text);
    let behind = more.last().map_or(next, |(at, far)| at + far.words);
    let behind = written(words.get(behind..).unwrap_or_default());
    let one = format!("{count} x ({first}, {}){behind}", texts.join(", "));
    Err(Doubt { one, other: format!("{count} x {first}; {}{behind}", texts.join("; ")) })
}

/// Words as they are written: signs right behind the word before them.
fn written(words: &[Word<'_>]) -> String {
    words.iter().fold(String::new(), |mut text, word| {
        if !matches!(word.text, "," | ";" | "." | ":" | ")") {
            text.push(' ');
        }
        text.push_str(word.text);
        text
    })
}

/// "4 x 100 + 50 easy".
fn plus(words: &[Word<'_>], at: usize, next: usize) -> Doubt {
    let text =
        |from: usize, to: usize| written(words.get(from..to).unwrap_or_default()).trim().to_owned();
    let count = words.get(at).map_or("", |word| word.text);
    let first = text(at + 2, next - 1);
    let rest = text(next, words.len());
    Doubt {
        one: format!("{count} x ({first}, {rest})"),
        other: format!("{count} x {first}; {rest}"),
    }
}

/// The word behind distances from a word on that add up to the one the set is of.
fn pieces(words: &[Word<'_>], from: usize, far: Far) -> Option<usize> {
    let (mut sum, mut next) = (0, from);
    while let Some(word) = words.get(next) {
        if counted(words, next).is_some() || matches!(word.text, ")" | ";") {
            return None;
        }
        if let Some(piece) = distance(words, next).filter(|_| {
            !before(words, next)
                .is_some_and(|word| word.is_any(&BEFORE_OTHER_NUMBERS) && !word.is_any(&["of"]))
        }) {
            sum += piece.number;
            next += piece.words;
            if sum == far.number {
                // The words of the last piece.
                while words.get(next).is_some_and(|word| is_swum(word.text)) {
                    next += 1;
                }
                return Some(next);
            }
            if sum > far.number {
                return None;
            }
        } else {
            next += 1;
        }
    }
    None
}

/// The word behind a broken swim: its pieces and all they say.
fn broken_end(words: &[Word<'_>], at: usize) -> usize {
    let of = words
        .iter()
        .skip(at)
        .position(|word| word.number().is_some_and(|number| number >= 50))
        .map_or(at, |far| at + far);
    let whole = words.get(of).and_then(Word::number).unwrap_or(0);
    let (mut sum, mut next) = (0, of + 1);
    while next < words.len() {
        if sum == whole && start_at(words, next, false).is_some() {
            break;
        }
        if let Some((count, behind)) = counted(words, next)
            && let Some(far) = distance(words, behind)
        {
            sum += count * far.number;
            next = behind + far.words;
        } else if let Some(far) = distance(words, next).filter(|_| {
            sum < whole
                && !before(words, next)
                    .is_some_and(|word| word.is_any(&BEFORE_OTHER_NUMBERS) && !word.is_any(&["of"]))
        }) {
            sum += far.number;
            next += far.words;
        } else {
            next += 1;
        }
    }
    next
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(line: &str) -> Vec<String> {
        match parted(&Plain::of(line, 0)) {
            Ok(parted) => parted
                .items
                .into_iter()
                .map(|item| match item {
                    Item::Set(plain) => plain.text().to_owned(),
                    Item::Rounds { count, inner, behind, .. } => {
                        format!("{count} of [{}] {}", inner.text(), behind.text())
                    }
                    Item::Open { count, inner, .. } => format!("{count} of [{}", inner.text()),
                })
                .collect(),
            Err(doubt) => vec![format!("{} | {}", doubt.one, doubt.other)],
        }
    }

    #[test]
    fn a_line_is_parted_where_another_set_begins() {
        for (line, wanted) in [
            ("200fc 200bk 100fly k", vec!["200 fc", "200 bk", "100 fly k"]),
            ("300 + 6x50 - 20\" rest", vec!["300", "6 x 50 - 20\" rest"]),
            (
                "4x75 free, rest 20 s, count strokes: kick",
                vec!["4 x 75 free, rest 20 s, count strokes: kick"],
            ),
            ("300 s / 200 k / 100 p", vec!["300 s", "200 k", "100 p"]),
            ("6x50 k 115", vec!["6 x 50 k 115"]),
            ("5x200 245 300 315", vec!["5 x 200 245 300 315"]),
            ("10x50 on 50 hold 500 pace", vec!["10 x 50 on 50 hold 500 pace"]),
            ("3x 200 100 50 desc", vec!["3 x (200, 100, 50) desc | 3 x 200; 100; 50 desc"]),
            ("3 x 300 / 200 / 100", vec!["3 x (300, 200, 100) | 3 x 300; 200; 100"]),
            ("4 x 100 + 50 easy", vec!["4 x (100, 50 easy) | 4 x 100; 50 easy"]),
            ("100, 200, 300, 200 - r20 after each", vec!["100, 200, 300, 200 - r20 after each"]),
            ("2 x (50-100-150) FC neg split", vec!["2 x 50-100-150 FC neg split"]),
            (
                "3 x (200 pull r20 + 2 x 50 fast r30)",
                vec!["3 of [200 pull r20 + 2 x 50 fast r30] "],
            ),
            ("2x{ 4x50 k", vec!["2 of [4 x 50 k"]),
            ("6 x 75m = 25 back 50 crawl, 20\"", vec!["6 x 75 m = 25 back 50 crawl, 20\""]),
            (
                "4x75 FC as 25 k 25 d 25 s r15, 1 x 100 IM",
                vec!["4 x 75 FC as 25 k 25 d 25 s r15", "1 x 100 IM"],
            ),
            (
                "4x50 No. 1 stroke on 70, 25 fast 25 easy",
                vec!["4 x 50 No. 1 stroke on 70, 25 fast 25 easy"],
            ),
            (
                "Broken 200 stroke: 4x50 with :10 between",
                vec!["Broken 200 stroke: 4 x 50 with :10 between"],
            ),
            ("10 100s free on 2:00, 8 x 50s", vec!["10 100s free on 2:00", "8 x 50s"]),
            ("10 mins easy, 4 x 50", vec!["10 mins easy", "4 x 50"]),
            ("500 swim, last 100 IM", vec!["500 swim, last 100 IM"]),
        ] {
            let wanted: Vec<String> = wanted.into_iter().map(str::to_owned).collect();
            let found: Vec<String> = shown(line)
                .iter()
                .map(|text| text.trim_end_matches([',', ' ', '+', '/', ';']).to_owned())
                .collect();
            let wanted: Vec<String> =
                wanted.iter().map(|text| text.trim_end().to_owned()).collect();
            assert_eq!(found, wanted, "{line}");
        }
    }
}
