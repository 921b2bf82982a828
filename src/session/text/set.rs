//! Reads one set of a message: its habits of writing are rewritten as a set line has them.

mod broken;
mod cues;
mod habits;
mod legs;
mod times;

pub(super) use habits::counted_in_words;

use std::ops::Range;

use super::plain::Plain;
use super::word::{Word, words};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::measure::{LIMITS, Pool};
use crate::reader::value::OwnWords;
use crate::session::chalk::ChalkError;
use crate::session::rules::WORDS_KEPT_AS_CUE;
use crate::session::swim::{Asked, Course, Legs};
use crate::session::{Activity, Line, Set, set_line};
use broken::broken;
use cues::cues;
use habits::{base, behind_count, counts, cycle, dash_before_number, ladder, ladders, whole_words};
use legs::legs;
use times::times;

/// A set as read, with what was found.
pub(super) struct SetRead {
    pub line: Line,
    pub found: Vec<Finding>,
}

/// Reads a set: its habits rewritten, what is a cue in any case taken out of it first.
pub(super) fn read(
    plain: &Plain,
    own: &OwnWords,
    pool: Option<Pool>,
) -> Result<SetRead, (ChalkError, Range<usize>)> {
    if plain.text().chars().count() as u64 > LIMITS.text_characters.most * 2 {
        return Err((ChalkError::Unended, plain.whole()));
    }
    let (plain, cues) = cues(plain);
    let mut read = without_cues(&plain, own)?;
    if let Line::Set(set) = &mut read.line {
        legs_in_lengths(set, pool, &mut read.found);
        if let Some(cue) = &mut set.cue
            && let Some(inner) = cue.value.strip_prefix('(').and_then(|cue| cue.strip_suffix(')'))
            && !inner.contains(['(', ')'])
        {
            cue.value = inner.to_owned();
        }
        for cue in cues {
            let (text, at) = (cue.text().to_owned(), place(cue.whole()));
            set.cue = Some(match set.cue.take() {
                Some(known) => {
                    let (start, end) =
                        (known.place.start.min(at.start), known.place.end.max(at.end));
                    Placed::new(format!("{}; {text}", known.value), place(start..end))
                }
                None => Placed::new(text, at),
            });
        }
    }
    Ok(read)
}

fn without_cues(plain: &Plain, own: &OwnWords) -> Result<SetRead, (ChalkError, Range<usize>)> {
    let mut plain = rewritten(plain);
    brackets(&mut plain, own);
    for (way, before) in ways(&plain) {
        // What is before the sign may hold words of its own that are not understood.
        let own_left = one_way(&before, own).map_or(0, |read| words_left(&read));
        if let Ok(read) = one_way(&way, own)
            && words_left(&read) <= own_left
        {
            return Ok(read);
        }
    }
    one_way(&plain, own)
}

/// The ways to read a dash or a colon as no more than a comma or a space, each with what is before it:
/// they stand only where every word behind is understood. Else a cue begins there.
fn ways(plain: &Plain) -> Vec<(Plain, Plain)> {
    let text = plain.text();
    let mut cuts: Vec<Range<usize>> =
        text.match_indices(" - ").map(|(at, sign)| at..at + sign.len()).collect();
    let is_colon = |at: usize| text.get(at + 1..).is_some_and(|rest| rest.starts_with(' '));
    cuts.extend(text.match_indices(':').filter(|(at, _)| is_colon(*at)).map(|(at, _)| at..at + 1));
    cuts.sort_by_key(|cut| cut.start);
    let mut ways = Vec::new();
    if let [first, _, ..] = cuts.as_slice() {
        let mut way = plain.clone();
        cuts.iter().rev().for_each(|cut| way.replace(cut.clone(), ", "));
        ways.push((way, plain.slice(0..first.start)));
    }
    for cut in &cuts {
        for sign in [", ", " "] {
            let mut way = plain.clone();
            way.replace(cut.clone(), sign);
            ways.push((way, plain.slice(0..cut.start)));
        }
    }
    ways
}

/// Brackets that hold clauses are no more than commas, and a number alone in them is the set's sum.
fn brackets(plain: &mut Plain, own: &OwnWords) {
    let edits: Edits = {
        let words = words(plain.text());
        let number = |at: usize| words.get(at).and_then(Word::number);
        let whole = match words.get(1).is_some_and(Word::is_times) {
            true => number(0).zip(number(2)).and_then(|(count, far)| count.checked_mul(far)),
            false => number(0),
        };
        let mut edits: Edits = Vec::new();
        for (open, word) in words.iter().enumerate().filter(|(_, word)| word.text == "(") {
            let Some(close) = (open + 1..words.len())
                .find(|at| words.get(*at).is_some_and(|word| word.text == ")"))
            else {
                continue;
            };
            let Some(end) = words.get(close).map(|word| word.span.clone()) else { continue };
            let inner = plain.slice(word.span.end..end.start);
            if whole.is_some() && inner.text().parse().ok() == whole {
                edits.push((word.span.start..end.end, String::new()));
            } else if !is_plural(inner.text()) && clauses_alone(&inner, own).is_some() {
                let before = open
                    .checked_sub(1)
                    .and_then(|at| words.get(at))
                    .map_or(word.span.start, |word| word.span.end);
                let behind = words.get(close + 1).is_some_and(|word| word.text == ",");
                let inside = words.get(close - 1).map_or(end.start, |word| word.span.end);
                edits.push((before..word.span.end, ", ".to_owned()));
                edits.push((inside..end.end, if behind { "" } else { "," }.to_owned()));
            }
        }
        edits
    };
    apply(plain, edits);
}

/// "100s": a distance several times, and no rest.
fn is_plural(text: &str) -> bool {
    let number = text.strip_suffix('s').and_then(|number| number.parse::<u64>().ok());
    number.is_some_and(|number| number >= 50 && number.is_multiple_of(25))
}

/// How many words were not understood: those of a note, and those of a cue.
fn words_left(read: &SetRead) -> usize {
    let count = |text: &str| text.split_whitespace().count();
    match &read.line {
        Line::Set(set) => {
            let cue = set.cue.as_ref().map_or(0, |cue| count(&cue.value));
            2 * cue + read.found.len()
        }
        _ => 0,
    }
}

fn one_way(plain: &Plain, own: &OwnWords) -> Result<SetRead, (ChalkError, Range<usize>)> {
    let at = |span: Range<usize>| place(plain.source(span));
    let mut found = Vec::new();
    let line = set_line::line_at(plain.text(), own, &at, place(plain.whole()), &mut found);
    line.map(|line| SetRead { line: settled(line, plain), found })
        .map_err(|(error, span)| (error, plain.source(span)))
}

/// A rest beside a send-off is after the set, and minutes beside the pool are no swim.
fn settled(line: Line, plain: &Plain) -> Line {
    let Line::Set(mut set) = line else { return line };
    if set.on.is_some()
        && set.rest_after.is_none()
        && let Some(rest) = set.rest.take()
    {
        set.rest_after = Some(Placed::new(rest.value.counts(), rest.place));
    }
    let text = plain.text().to_lowercase();
    let ashore = ASHORE.iter().any(|word| text.contains(word));
    match set.swim.value.course {
        Course::Timed(time) if ashore => {
            let what = Placed::new(plain.text().to_owned(), place(plain.whole()));
            Line::Activity(Activity { what, time: Placed::new(time, set.swim.place) })
        }
        _ => Line::Set(set),
    }
}

/// Words of what is done beside the pool. Common practice, no source.
const ASHORE: [&str; 6] = ["on deck", "poolside", "on land", "dry land", "dryland", "stretch"];

/// Legs of less than a length cannot be counted: they are the set's cue.
fn legs_in_lengths(set: &mut Set, pool: Option<Pool>, found: &mut Vec<Finding>) {
    let Some(length) = pool.map(|pool| pool.length().sixths()) else { return };
    let part =
        |asked: &Asked| matches!(asked, Asked::Number(sixths, _) if !sixths.is_multiple_of(length));
    let parts = match &set.swim.value.legs {
        Legs::Parts(legs) => legs.iter().any(|(asked, _)| part(asked)),
        Legs::Turns { by: Some(by), .. } => part(by),
        Legs::Turns { by: None, .. } | Legs::Whole => false,
    };
    if !parts {
        return;
    }
    let said = set.swim.value.to_string();
    set.swim.value.legs = Legs::Whole;
    let bare = set.swim.value.to_string();
    let legs = said.strip_prefix(&bare).unwrap_or(&said).trim().trim_matches(['(', ')']).to_owned();
    let at = set.place;
    found.push(
        Finding::new(
            &WORDS_KEPT_AS_CUE,
            format!("\"{legs}\" is less than a length, and kept as a cue"),
        )
        .label(at, ""),
    );
    let cue = set.cue.take().map_or(legs.clone(), |cue| format!("{legs}; {}", cue.value));
    set.cue = Some(Placed::new(cue, at));
}

/// The place of some bytes of the message.
pub(super) fn place(bytes: Range<usize>) -> Place {
    Place::new(FileId::MAIN, bytes)
}

/// Whether words are only clauses of a set: what they say is then of the set before them.
pub(super) fn clauses_alone(plain: &Plain, own: &OwnWords) -> Option<Set> {
    let mut set = Plain::of("2 x 100", plain.whole().start);
    set.join(&Plain::of(",", plain.whole().start));
    set.join(plain);
    times(&mut set);
    let read = one_way(&set, own).ok()?;
    match read.line {
        Line::Set(set)
            if set.cue.is_none()
                && read.found.is_empty()
                && set.swim.value.legs == Legs::Whole
                && set.swim.value.differ.is_none()
                && set.swim.value.grouped.is_none()
                && set.swim.value.repeats == 2 =>
        {
            Some(*set)
        }
        _ => None,
    }
}

/// A set whose habits of writing are those of a set line.
fn rewritten(plain: &Plain) -> Plain {
    let mut plain = plain.clone();
    for rewrite in [
        base,
        ladders,
        counts,
        behind_count,
        cycle,
        whole_words,
        broken,
        ladder,
        legs,
        dash_before_number,
        times,
    ] {
        rewrite(&mut plain);
    }
    plain
}

type Edits = Vec<(Range<usize>, String)>;

fn apply(plain: &mut Plain, edits: Edits) {
    let mut edits = edits;
    edits.sort_by_key(|(span, _)| span.start);
    edits.into_iter().rev().for_each(|(span, new)| plain.replace(span, &new));
}
