//! A whole set as one line of text: "2 x 100 free easy, rest 20 s: loose ankles".
//!
//! The swim line comes first, then clauses in any order, with commas between them or not: a rest, a
//! send-off, an effort, a pattern, gear, strokes to count, "fixed". What stands behind a colon or a
//! spaced dash is the cue. Words that are no clause become part of the cue, and a note lists them.

use std::collections::HashSet;
use std::ops::Range;
use std::sync::LazyLock;

use super::chalk::{self, ChalkError};
use super::line;
use super::rules::{UNREADABLE_SWIM, WORDS_KEPT_AS_CUE};
use super::swim::{Course, Legs, Swim};
use super::words::{EffortWord, Keep, Mode, Pattern, Stroke, gear_stem, gear_stems, printed_gear};
use super::{Activity, Aim, Line, OnSaid, RestSaid, Set};
use crate::finding::{Finding, Place, Placed};
use crate::measure::{LIMITS, Seconds};
use crate::reader::trade_words::TradeWord;
use crate::reader::value::{Node, OwnWords, likely_time};

/// What stands before a time; common practice, no source.
const BEFORE_ON: [&str; 11] = [
    "start every",
    "start",
    "leave on",
    "leaving on",
    "going on",
    "on the",
    "on",
    "@",
    "off",
    "every",
    "at",
];
const BEFORE_REST: [&str; 9] =
    ["pause", "rest interval", "rests of", "rest of", "rest:", "rest", "ri", "with", "r"];

/// What stands behind a time that is a rest; common practice, no source.
const BEHIND_REST: [&str; 9] = [
    "rest between each",
    "between each",
    "rest each",
    "rest interval",
    "rests",
    "rest",
    "recovery",
    "ri",
    "r",
];

/// What stands before gear; common practice, no source.
const WITH: [&str; 4] = ["with ", "w/", "using ", "w "];

/// What is counted and is no time.
const COUNTED: [&str; 6] = ["strokes", "breaths", "kicks", "lengths", "strokes,", "breaths,"];

/// A shorter time behind "off" is a rest. Common practice, no source.
const LEAST_SEND_OFF: Seconds = Seconds::new(20);

/// The most words a clause has.
const MOST_WORDS: usize = 6;

/// A clause of a set line.
#[derive(Clone)]
enum Clause {
    Rest(RestSaid),
    On(OnSaid),
    Effort(EffortWord),
    Pattern(Pattern),
    Gear(String),
    Strokes(Aim),
    RestAfter(Seconds),
    Keep(Keep),
    Fixed,
}

/// The words of a line and their bytes in it.
type Words<'l> = Vec<(&'l str, Range<usize>)>;

/// Reads a set line. A time with words of which none is of a swim is an activity, and words without
/// a number are a remark; nothing, and a finding, where it is none of these.
pub(super) fn read(node: Node<'_>, text: &str, found: &mut Vec<Finding>) -> Option<Line> {
    let Some(offset) = node.raw.find(text) else {
        found.push(
            Finding::new(&UNREADABLE_SWIM, "a set line holds an escape")
                .label(node.place, "")
                .help("write it without a backslash"),
        );
        return None;
    };
    if text.chars().count() as u64 > LIMITS.text_characters.most {
        found.push(Finding::new(&UNREADABLE_SWIM, "a set line is too long").label(node.place, ""));
        return None;
    }
    let base = node.place.start + offset;
    let at =
        |span: Range<usize>| Place { start: base + span.start, end: base + span.end, ..node.place };
    match line_at(text, node.own, &at, node.place, found) {
        Ok(line) => Some(line),
        Err(_) if says_no_numbers(text) => {
            let start = text.len() - text.trim_start().len();
            let words = text.trim();
            let place = at(start..start + words.len());
            Some(Line::Remark(Placed::new(words.to_owned(), place)))
        }
        Err((error, span)) => {
            let line = text.get(span.clone())?;
            let place = at(span);
            found.push(chalk::unreadable(Node { place, raw: line, ..node }, line, error));
            None
        }
    }
}

/// The line that a text says, where `at` says where its bytes are and `whole` where it is; or why there
/// is no swim in it, and which bytes of it that is said of.
pub(super) fn line_at(
    text: &str,
    own: &OwnWords,
    at: &dyn Fn(Range<usize>) -> Place,
    whole: Place,
    found: &mut Vec<Finding>,
) -> Result<Line, (ChalkError, Range<usize>)> {
    let (body, cue) = parted(text, own);
    let words = words_of(body);
    let Some((swim, count)) = longest_swim(body, &words, own) else {
        let line = body.trim();
        let start = body.len() - body.trim_start().len();
        let error = line::swim_of_club(line, own).err().unwrap_or(ChalkError::Unended);
        return Err((error, start..start + line.len()));
    };
    let end = words.get(count - 1).map_or(0, |(_, span)| span.end);
    let start = words.first().map_or(0, |(_, span)| span.start);
    let end = start + body.get(start..end).unwrap_or_default().trim_end_matches(',').len();
    let mut set = Set {
        swim: Placed::new(swim, at(start..end)),
        rest: None,
        rest_after: None,
        on: None,
        effort: None,
        pattern: None,
        cue: None,
        strokes: None,
        gear: Vec::new(),
        fixed: false,
        keep: None,
        lanes: Vec::new(),
        read_whole: true,
        place: whole,
    };
    let rest = words.get(count..).unwrap_or_default();
    let strange = clauses(body, rest, &mut set, own, at);
    if let Some(time) = time_alone(&set)
        && let Some(first) = strange.first().or(cue.as_ref())
    {
        let last = cue.as_ref().or(strange.last()).unwrap_or(first);
        let span = first.start..last.end;
        let what = text.get(span.clone()).unwrap_or_default().to_owned();
        let time = Placed::new(time, set.swim.place);
        return Ok(Line::Activity(Activity { what: Placed::new(what, at(span)), time }));
    }
    let said = cue.map(|span| (text.get(span.clone()).unwrap_or_default().to_owned(), at(span)));
    if let Some((first, last)) = strange.first().zip(strange.last()) {
        let place = at(first.start..last.end);
        let kept: Vec<&str> = strange.iter().filter_map(|span| body.get(span.clone())).collect();
        let kept = kept.join(" ");
        let title = format!("\"{kept}\" is kept as a cue");
        found.push(
            Finding::new(&WORDS_KEPT_AS_CUE, title)
                .label(place, "not understood")
                .help("write a cue behind a colon; a clause is a rest, a send-off, an effort, a pattern or gear"),
        );
        let whole = said.as_ref().map_or(kept.clone(), |(cue, _)| format!("{kept}; {cue}"));
        set.cue = Some(Placed::new(whole, said.map_or(place, |(_, place)| place)));
    } else {
        set.cue = said.map(|(cue, place)| Placed::new(cue, place));
    }
    Ok(Line::Set(Box::new(set)))
}

/// Whether a text counts nothing: neither digits nor a sign of times.
pub(super) fn says_no_numbers(text: &str) -> bool {
    let is_times = |word: &str| matches!(word, "x" | "X" | "\u{d7}");
    let has_digit = text.chars().any(|sign| sign.is_ascii_digit());
    !has_digit && text.contains(char::is_alphabetic) && !text.split_whitespace().any(is_times)
}

/// The time of a set of which nothing else is said: no stroke, no effort, no rest, no gear.
fn time_alone(set: &Set) -> Option<Seconds> {
    let Swim {
        repeats: 1, course: Course::Timed(time), way, legs: Legs::Whole, differ: None, ..
    } = &set.swim.value
    else {
        return None;
    };
    let bare = set.rest.is_none() && set.on.is_none() && set.effort.is_none();
    let bare = bare && set.pattern.is_none() && set.gear.is_empty() && set.strokes.is_none();
    (bare && way.is_empty()).then_some(*time)
}

/// The line before its cue, and the bytes of the cue: behind a colon that is neither of a time nor
/// inside the swim line, or behind a spaced dash.
fn parted<'t>(text: &'t str, own: &OwnWords) -> (&'t str, Option<Range<usize>>) {
    let mut cut: Option<(usize, usize)> = None;
    let words = words_of(text);
    let swum =
        longest_swim(text, &words, own).and_then(|(_, count)| words.get(count.checked_sub(1)?));
    let swum_to = swum.map_or(0, |(_, span)| span.end);
    for sign in [":", " - ", " \u{2013} ", " \u{2014} "] {
        for (at, _) in text.match_indices(sign) {
            let behind = text.get(at + sign.len()..).unwrap_or_default();
            let is_time = sign == ":" && behind.starts_with(|c: char| c.is_ascii_digit());
            if !is_time && at >= swum_to && at > 0 && cut.is_none_or(|(known, _)| at < known) {
                cut = Some((at, at + sign.len()));
            }
        }
    }
    let Some((at, behind)) = cut else { return (text, None) };
    let cue = text.get(behind..).unwrap_or_default();
    let start = behind + cue.len() - cue.trim_start().len();
    let end = start + cue.trim().len();
    (text.get(..at).unwrap_or_default(), (start < end).then_some(start..end))
}

fn words_of(body: &str) -> Words<'_> {
    let mut words = Vec::new();
    let mut at = 0;
    for word in body.split_whitespace() {
        let start = at + body.get(at..).and_then(|rest| rest.find(word)).unwrap_or(0);
        at = start + word.len();
        words.push((word, start..at));
    }
    words
}

/// The most words from the start that are a swim line, with how many they are.
fn longest_swim(body: &str, words: &Words<'_>, own: &OwnWords) -> Option<(Swim, usize)> {
    let start = words.first()?.1.start;
    let text = body.get(start..)?;
    let ends =
        words.iter().map(|(word, span)| span.start + word.trim_end_matches(',').len() - start);
    let ends: Vec<usize> = ends.collect();
    let (swim, at) = line::longest_swim(text, &ends, own)?;
    Some((swim, at + 1))
}

/// Reads clauses into a set; what is none is returned, word by word.
fn clauses(
    body: &str,
    words: &[(&str, Range<usize>)],
    set: &mut Set,
    own: &OwnWords,
    at: &dyn Fn(Range<usize>) -> Place,
) -> Vec<Range<usize>> {
    let (mut strange, mut next) = (Vec::new(), 0);
    while let Some((word, span)) = words.get(next) {
        // "descend 1-4" is of the swim, "descend" a clause.
        let numbered = words
            .get(next + 1)
            .is_some_and(|(word, _)| word.starts_with(|sign: char| sign.is_ascii_digit()));
        if numbered
            && Pattern::from_any_spelling(word).is_some()
            && let Some((swim, count)) = more_of_swim(body, words, next, set, own)
        {
            set.swim.value = swim;
            next += count;
            continue;
        }
        let most = MOST_WORDS.min(words.len() - next);
        let known = (1..=most).rev().find_map(|count| {
            let end = words.get(next + count - 1)?.1.end;
            let text = body.get(span.start..end)?;
            // A clause ends at a comma.
            if text.trim_end_matches(',').contains(',') {
                return None;
            }
            // "every 6 strokes" is no send-off.
            let counted = words.get(next + count).is_some_and(|(word, _)| COUNTED.contains(word));
            if counted && !text.ends_with([',', ';']) {
                return None;
            }
            let text = text.trim_end_matches([',', ';']);
            let (clause, time) = clause(text, own)?;
            let place = at(span.start + time.start..span.start + time.end);
            Some((count, clause, place))
        });
        if known.is_none()
            && let Some((swim, count)) = more_of_swim(body, words, next, set, own)
        {
            set.swim.value = swim;
            next += count;
            continue;
        }
        match known {
            Some((count, clause, place)) if put(set, clause.clone(), place) => next += count,
            _ if ["and", "&", "+"].contains(word) => next += 1,
            _ => {
                let end = span.start + word.trim_end_matches([',', ';']).len();
                if end > span.start {
                    strange.push(span.start..end);
                }
                next += 1;
            }
        }
    }
    strange
}

/// Words behind a clause that belong to the swim: "4 x 50 on 1:00, odd free, even back", and how many.
fn more_of_swim(
    body: &str,
    words: &[(&str, Range<usize>)],
    next: usize,
    set: &Set,
    own: &OwnWords,
) -> Option<(Swim, usize)> {
    let swim = &set.swim.value;
    let (word, span) = words.get(next)?;
    let free = swim.legs == Legs::Whole && swim.differ.is_none();
    let begins =
        word.starts_with(['(', '#']) || word.starts_with(|sign: char| sign.is_ascii_digit());
    let lower = word.to_ascii_lowercase();
    let named = BEGINS_MORE.contains(&lower.as_str())
        || Stroke::from_any_spelling(lower.trim_end_matches(',')).is_some()
        || Mode::from_any_spelling(lower.trim_end_matches(',')).is_some()
        || swim.grouped.is_none() && Pattern::from_any_spelling(&lower).is_some();
    if !free || !(begins || named) {
        return None;
    }
    let most = MOST_MORE.min(words.len() - next);
    let taken = words.get(next..next + most)?;
    let text = body.get(span.start..taken.last()?.1.end)?;
    [" ", ": ", ", "].iter().find_map(|sign| {
        let swum = format!("{swim}{sign}");
        let ends = taken.iter().map(|(word, at)| {
            swum.len() + at.start - span.start + word.trim_end_matches([',', ';']).len()
        });
        let ends: Vec<usize> = ends.collect();
        let (longer, at) = line::longest_swim(&format!("{swum}{text}"), &ends, own)?;
        // A distance behind a clause is no step of a ladder.
        (longer.course == swim.course && longer != *swim).then_some((longer, at + 1))
    })
}

/// Words that begin how the repeats of a set differ.
const BEGINS_MORE: [&str; 7] = ["odd", "odds", "even", "evens", "every", "last", "im"];

/// The most words of a swim that stand behind a clause.
const MOST_MORE: usize = 16;

/// Puts a clause into a set that has none of its kind yet.
fn put(set: &mut Set, clause: Clause, place: Place) -> bool {
    match clause {
        Clause::Rest(rest) if set.rest.is_none() => set.rest = Some(Placed::new(rest, place)),
        Clause::On(on) if set.on.is_none() => set.on = Some(Placed::new(on, place)),
        Clause::Effort(effort) if set.effort.is_none() => {
            set.effort = Some(Placed::new(effort, place));
        }
        Clause::Pattern(pattern) if set.pattern.is_none() => {
            set.pattern = Some(Placed::new(pattern, place));
        }
        Clause::Strokes(aim) if set.strokes.is_none() => {
            set.strokes = Some(Placed::new(aim, place));
        }
        Clause::RestAfter(rest) if set.rest_after.is_none() => {
            set.rest_after = Some(Placed::new(rest, place));
        }
        Clause::Keep(keep) if set.keep.is_none() => set.keep = Some(Placed::new(keep, place)),
        Clause::Gear(gear) => set.gear.push(Placed::new(gear, place)),
        Clause::Fixed => set.fixed = true,
        _ => return false,
    }
    true
}

/// A clause, and the bytes of its value in the text.
fn clause(text: &str, own: &OwnWords) -> Option<(Clause, Range<usize>)> {
    let lower = text.to_lowercase();
    let whole = 0..text.len();
    if let Some(effort) = effort(text, own) {
        return Some((Clause::Effort(effort), whole));
    }
    if let Some(pattern) = Pattern::from_any_spelling(&lower) {
        return Some((Clause::Pattern(pattern), whole));
    }
    let other = match lower.as_str() {
        "fixed" => Some(Clause::Fixed),
        "count strokes" | "count" => Some(Clause::Strokes(Aim::Count)),
        "hold strokes" | "hold count" => Some(Clause::Strokes(Aim::Hold)),
        "one stroke fewer" => Some(Clause::Strokes(Aim::Fewer(1))),
        "two strokes fewer" => Some(Clause::Strokes(Aim::Fewer(2))),
        "keep lengths" => Some(Clause::Keep(Keep::Lengths)),
        "keep distance" => Some(Clause::Keep(Keep::Distance)),
        "rest when you need" | "rest when needed" | "rest as needed" | "rest as you need" => {
            Some(Clause::Rest(RestSaid::WhenNeeded))
        }
        _ => None,
    };
    if let Some(other) = other.or_else(|| fewer(&lower)).or_else(|| rest_after(&lower)) {
        return Some((other, whole));
    }
    // Small letters of the same bytes, so that places are of the text itself.
    timed(&text.to_ascii_lowercase())
        .or_else(|| gear(&lower).map(|gear| (Clause::Gear(gear), whole)))
}

/// "3 strokes fewer".
fn fewer(lower: &str) -> Option<Clause> {
    let number =
        lower.strip_suffix("strokes fewer").or_else(|| lower.strip_suffix("stroke fewer"))?;
    number.trim().parse().ok().map(|fewer| Clause::Strokes(Aim::Fewer(fewer)))
}

/// "then rest 1 min".
fn rest_after(lower: &str) -> Option<Clause> {
    let time = lower.strip_prefix("then rest")?;
    within(&plain_seconds(time)).map(Clause::RestAfter)
}

/// An effort, also behind "@" or "at".
fn effort(text: &str, own: &OwnWords) -> Option<EffortWord> {
    let text = text.strip_prefix('@').or_else(|| text.strip_prefix("at ")).unwrap_or(text).trim();
    EffortWord::from_club_spelling(text, own)
}

/// A rest or a send-off.
fn timed(lower: &str) -> Option<(Clause, Range<usize>)> {
    let behind = |before: &[&str]| {
        before.iter().find_map(|word| {
            let time = lower.strip_prefix(word)?;
            Some((time.trim().to_owned(), lower.len() - time.trim_start().len()..lower.len()))
        })
    };
    // "@ 15 s rest" is a rest.
    let is_rest = BEHIND_REST
        .iter()
        .any(|word| lower.strip_suffix(word).is_some_and(|time| time.ends_with([' ', '"'])));
    if let Some((text, span)) = behind(&BEFORE_ON)
        && is_rest
    {
        let time = BEHIND_REST.iter().find_map(|word| text.strip_suffix(word)).unwrap_or(&text);
        return Some((Clause::Rest(RestSaid::Of(within(&plain_seconds(time))?)), span));
    }
    if let Some((text, span)) = behind(&BEFORE_ON) {
        let (time, per_100) = match text.split_once('/') {
            Some((time, "100")) => (time.to_owned(), true),
            _ => (text, false),
        };
        let time = within(&time)?;
        // "off 10 s" is a rest: nobody leaves every ten seconds.
        if lower.starts_with("off") && time < LEAST_SEND_OFF {
            return Some((Clause::Rest(RestSaid::Of(time)), span));
        }
        let on = if per_100 { OnSaid::Per100(time) } else { OnSaid::Every(time) };
        return Some((Clause::On(on), span));
    }
    let before = BEHIND_REST.iter().find_map(|word| {
        let time = lower.strip_suffix(word)?;
        time.ends_with(|sign: char| !sign.is_alphabetic() || sign == 's').then_some(time)
    });
    let (text, span) = match before {
        Some(time) => (time.trim().to_owned(), 0..time.trim_end().len()),
        None => behind(&BEFORE_REST)
            .or_else(|| says_seconds(lower).then(|| (lower.to_owned(), 0..lower.len())))?,
    };
    let text = plain_seconds(&text);
    let rest = match text.strip_suffix("or more").or_else(|| text.strip_suffix('+')) {
        Some(least) => RestSaid::OrMore(within(least)?),
        None => match crate::reader::value::range_of_times(&text) {
            Some((least, most)) => RestSaid::Between(within(&least)?, within(&most)?),
            None => RestSaid::Of(within(&text)?),
        },
    };
    Some((Clause::Rest(rest), span))
}

/// Whether a time alone is a rest: it says seconds, in a word or in a sign.
fn says_seconds(lower: &str) -> bool {
    let units = ["s", "sec", "secs", "seconds", "\"", "''"];
    lower.starts_with(|sign: char| sign.is_ascii_digit())
        && units.iter().any(|unit| lower.ends_with(unit))
        || lower.strip_prefix(':').is_some_and(|digits| digits.len() == 2)
}

/// A time with the signs of seconds in words: "20\"", "20''", ":20", and "20" for seconds of rest.
fn plain_seconds(text: &str) -> String {
    let text = text.trim();
    let bare = text.trim_end_matches(['"', '\'']).trim_start_matches(':').trim();
    let is_seconds =
        !bare.is_empty() && bare.len() <= 2 && bare.bytes().all(|b| b.is_ascii_digit());
    if is_seconds { format!("{bare} s") } else { text.to_owned() }
}

fn within(text: &str) -> Option<Seconds> {
    let time: Seconds = likely_time(text.trim())?.parse().ok()?;
    LIMITS.rest_s.holds(u64::from(time.get())).then_some(time)
}

/// Gear behind "with", or a piece that has a name of its own.
fn gear(lower: &str) -> Option<String> {
    let with = WITH.iter().find_map(|word| lower.strip_prefix(word)).map(str::trim);
    let name = with.unwrap_or(lower);
    let article =
        ["a ", "an ", "the ", "your "].iter().find_map(|article| name.strip_prefix(article));
    let name = article.unwrap_or(name);
    static STEMS: LazyLock<HashSet<String>> =
        LazyLock::new(|| KNOWN_GEAR.into_iter().flat_map(gear_stems).collect());
    let known = name.len() < 30 && STEMS.contains(&gear_stem(name));
    // "using" takes any.
    let named = lower.starts_with("using ") && !name.is_empty();
    (known && !name.is_empty() || named).then(|| printed_gear(name).to_owned())
}

/// Gear that is known without "with"; common practice, no source.
const KNOWN_GEAR: [&str; 9] = [
    "board",
    "pull buoy",
    "paddles",
    "finger paddles",
    "fins",
    "snorkel",
    "band",
    "tow float",
    "rope",
];
