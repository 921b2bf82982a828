//! Reads one set of a message: its habits of writing are rewritten as a set line has them.

use std::ops::Range;

use super::plain::Plain;
use super::sets::dashed;
use super::word::{Word, is_number, words};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::measure::LIMITS;
use crate::reader::trade_words::TradeWord;
use crate::reader::value::OwnWords;
use crate::session::chalk::ChalkError;
use crate::session::swim::{Course, Legs};
use crate::session::words::{EffortWord, Mode, Stroke};
use crate::session::{Activity, Line, Set, set_line};

/// A set as read, with what was found.
pub(super) struct SetRead {
    pub line: Line,
    pub found: Vec<Finding>,
}

/// Reads a set, of several ways to write the same in that which leaves the fewest words over.
pub(super) fn read(plain: &Plain, own: &OwnWords) -> Result<SetRead, (ChalkError, Range<usize>)> {
    if plain.text().chars().count() as u64 > LIMITS.text_characters.most * 2 {
        return Err((ChalkError::Unended, plain.whole()));
    }
    let (plain, cues) = cues(plain);
    let mut read = without_cues(&plain, own)?;
    if let Line::Set(set) = &mut read.line {
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

/// A line that begins with a number in a word and what is counted, with the number in figures: "ten
/// minutes easy", "six x 50".
pub(super) fn counted_in_words(plain: &Plain) -> Option<Plain> {
    let words = words(plain.text());
    let first = words.first().filter(|word| word.number().is_none())?;
    let number = super::times::number(first)?;
    let counted = words
        .get(1)?
        .is_any(&["min", "mins", "minutes", "x", "times", "lengths", "length", "lots", "widths"]);
    let mut figures = plain.clone();
    figures.replace(first.span.clone(), &number.to_string());
    counted.then_some(figures)
}

/// "Ladder x 2: 400-300" is "2 x ladder: 400-300".
fn ladders(plain: &mut Plain) {
    let edit = {
        let words = words(plain.text());
        match words.as_slice() {
            [ladder, times, count, ..]
                if ladder.is_any(&["ladder", "pyramid"])
                    && times.is_times()
                    && count.number().is_some() =>
            {
                let behind = words.get(3).filter(|word| word.text == ":").unwrap_or(count).span.end;
                Some((ladder.span.start..behind, format!("{} x", count.text)))
            }
            _ => None,
        }
    };
    if let Some((span, new)) = edit {
        plain.replace(span, &new);
    }
}

/// What of a set is a cue whatever it says, with the set without it: words in quotes, "1 on 1 off",
/// "@ 5 sec less than before", the last 100 of a single swim.
fn cues(plain: &Plain) -> (Plain, Vec<Plain>) {
    let mut cues = Vec::new();
    let mut plain = plain.clone();
    while let Some(span) = cue_span(&plain) {
        let cue = plain.slice(span.clone());
        let inner = cue.text().trim_matches(['"', ' ', ',', '(', ')']).len();
        let start = cue.text().len() - cue.text().trim_start_matches(['"', ' ', ',', '(']).len();
        cues.push(cue.slice(start..start + inner));
        let before = plain.text().get(..span.start).unwrap_or_default().trim_end();
        let sign = before.trim_end_matches(['-', ':', ',', ' ']).len();
        plain.replace(sign..span.end, "");
    }
    (plain, cues)
}

/// "on the 1:10 base" is so long for each 100.
fn base(plain: &mut Plain) {
    let edit = {
        let words = words(plain.text());
        let at = words.iter().position(|word| word.is_any(&["base"])).filter(|at| *at > 0);
        at.and_then(|at| {
            let (time, base) = (words.get(at - 1)?, words.get(at)?);
            is_clock(time.text).then_some((time.span.end..base.span.end, "/100"))
        })
    };
    if let Some((span, new)) = edit {
        plain.replace(span, new);
    }
}

fn cue_span(plain: &Plain) -> Option<Range<usize>> {
    let text = plain.text();
    let opens = text.match_indices('"').find(|(at, _)| {
        let before = text.get(..*at).unwrap_or_default();
        before.ends_with([' ', '(', ','])
    });
    if let Some((open, _)) = opens
        && let Some(length) = text.get(open + 1..).and_then(|rest| rest.find('"'))
    {
        return Some(open..open + length + 2);
    }
    if let Some(open) = text.find("(or ")
        && let Some(length) = text.get(open..).and_then(|rest| rest.find(')'))
    {
        return Some(open..open + length + 1);
    }
    let words = words(text);
    let span = |from: usize, to: usize| Some(words.get(from)?.span.start..words.get(to)?.span.end);
    let small = |at: usize| words.get(at).and_then(Word::number).is_some_and(|number| number < 15);
    let is = |at: usize, of: &[&str]| words.get(at).is_some_and(|word| word.is_any(of));
    let last = words.len().checked_sub(1)?;
    for at in 1..words.len() {
        let comma = usize::from(is(at + 2, &[",", "/", "and", "+"]));
        let on_off = small(at)
            && small(at + 2 + comma)
            && is(at + 1, &["on"])
            && is(at + 3 + comma, &["off"]);
        if on_off && words.get(at - 1).is_some_and(|word| !word.is_times()) {
            return span(at, at + 3 + comma);
        }
        // "@ 5 sec less than before"
        if is(at, &["@", "on", "off"]) && (at + 1..=at + 3).any(|at| is(at, &COMPARED)) {
            return span(at, last);
        }
        let single = words.get(1).is_some_and(|word| !word.is_times())
            || words.first().is_some_and(|word| word.text == "1");
        if single && is(at, &["last", "first", "every", "middle", "odd", "odds", "even", "evens"]) {
            return span(at, last);
        }
    }
    None
}

/// "12 x 25 on 30, 3 hard 1 easy" is "12 x 25: 3 hard, 1 easy, on 30": so many of each in turn.
fn cycle(plain: &mut Plain) {
    let found = {
        let words = words(plain.text());
        let counted = words.get(1).is_some_and(Word::is_times);
        let repeats = words.first().and_then(Word::number).filter(|_| counted);
        let number = |at: usize| {
            words.get(at).and_then(Word::number).filter(|number| (1..15).contains(number))
        };
        let effort = |at: usize| {
            words.get(at).is_some_and(|word| EffortWord::from_any_spelling(word.text).is_some())
        };
        repeats.and_then(|repeats| {
            let at = (3..words.len()).find(|at| {
                let both = number(*at).zip(number(at + 2));
                effort(at + 1)
                    && effort(at + 3)
                    && both.is_some_and(|(one, other)| repeats % (one + other) == 0)
            })?;
            let (far, first) = (words.get(2)?, words.get(at)?);
            let (middle, second, last) =
                (words.get(at + 1)?, words.get(at + 2)?, words.get(at + 3)?);
            Some((
                far.span.end,
                first.span.start..middle.span.end,
                second.span.start..last.span.end,
            ))
        })
    };
    let Some((far_end, one, other)) = found else { return };
    let mut whole = plain.slice(0..far_end);
    let before = plain.slice(far_end..one.start);
    let before = before.slice(0..before.text().trim_end_matches([',', ' ', ':', '-']).len());
    let sign = |text: &str| Plain::of(text, whole.whole().end);
    for piece in
        [&sign(":"), &plain.slice(one), &sign(","), &plain.slice(other.clone()), &sign(",")]
    {
        whole.join(piece);
    }
    whole.join(&before);
    whole.join(&plain.slice(other.end..plain.text().len()));
    *plain = whole;
}

/// Words that compare a time with another.
const COMPARED: [&str; 8] =
    ["less", "more", "faster", "slower", "quicker", "better", "under", "over"];

/// "8 x 25 - 2 of each": a spaced dash before a small number is no step of a ladder.
fn dash_before_number(plain: &mut Plain) {
    let spans: Vec<Range<usize>> = {
        let words = words(plain.text());
        let small =
            |at: usize| words.get(at).and_then(Word::number).is_some_and(|number| number < 100);
        (1..words.len())
            .filter(|at| small(at + 1) && words.get(*at).is_some_and(|word| word.text == "-"))
            .filter_map(|at| Some(words.get(at - 1)?.span.end..words.get(at)?.span.end))
            .collect()
    };
    spans.into_iter().rev().for_each(|span| plain.replace(span, ":"));
}

/// "3 lots of 100", "4 times 50", "10 100s".
fn counts(plain: &mut Plain) {
    let edits: Edits = {
        let words = words(plain.text());
        match words.as_slice() {
            [count, times, of, ..]
                if count.number().is_some()
                    && times.is_any(&["lots", "times"])
                    && of.is_any(&["of"]) =>
            {
                vec![(times.span.start..of.span.end, "x".to_owned())]
            }
            [count, times, ..] if count.number().is_some() && times.is_any(&["lots", "times"]) => {
                vec![(times.span.clone(), "x".to_owned())]
            }
            [count, far, ..]
                if count.number().is_some()
                    && far.text.strip_suffix('s').is_some_and(is_number) =>
            {
                vec![(count.span.end..far.span.start, " x ".to_owned())]
            }
            _ => Vec::new(),
        }
    };
    apply(plain, edits);
}

/// "100 free x 4" is "4 x 100 free".
fn behind_count(plain: &mut Plain) {
    let edit = {
        let words = words(plain.text());
        let at = words.iter().position(Word::is_times).filter(|at| *at > 1);
        at.and_then(|at| {
            let count = words.get(at + 1).filter(|word| word.number().is_some())?;
            let ends = words
                .get(at + 2)
                .is_none_or(|word| !word.text.starts_with(|sign: char| sign.is_ascii_digit()));
            let begins = words.first().filter(|word| word.number().is_some())?;
            let before = words.get(at - 1).filter(|word| word.number().is_none())?;
            ends.then(|| {
                (before.span.end..count.span.end, begins.span.start, count.text.to_owned())
            })
        })
    };
    if let Some((span, start, count)) = edit {
        plain.replace(span, "");
        plain.replace(start..start, &format!("{count} x "));
    }
}

/// Whole words for those of one letter behind a distance, and for counts in words. Common practice, no
/// source.
fn whole_words(plain: &mut Plain) {
    let edits: Edits = {
        let words = words(plain.text());
        let whole = |word: &Word<'_>| match word.text {
            "s" | "S" => Some("swim"),
            "d" | "D" => Some("drill"),
            _ => None,
        };
        // "10 minutes straight" is swum.
        let timed = words.get(1).is_some_and(|word| word.is_any(&["min", "mins", "minutes"]));
        let straight = words.get(2).filter(|word| {
            timed && word.is_any(&["straight", "non-stop", "nonstop", "continuous"])
        });
        if let Some(word) = straight {
            return plain.replace(word.span.clone(), &format!("swim {}", word.text));
        }
        let behind = |at: usize| {
            let far = at.checked_sub(1).and_then(|at| words.get(at)).and_then(Word::number);
            // "rest 30 s" is a time: before a distance there is a sign of times, a leg, or nothing.
            let before = at.checked_sub(2).and_then(|at| words.get(at));
            let begins = before.is_none_or(|word| {
                word.is_times()
                    || word.is_any(&["as", "/", "(", "+", "="])
                    || word.text.len() == 1 && word.is_any(&["k", "p", "d", "s"])
                    || Stroke::from_any_spelling(word.text).is_some()
                    || Mode::from_any_spelling(word.text).is_some()
            });
            far.is_some_and(|number| number >= 25) && begins
        };
        let leg_before = |at: usize| {
            let before = at.checked_sub(1).and_then(|at| words.get(at));
            before.is_some_and(|word| word.is_any(&["k", "d", "p", "kick", "drill", "pull", "/"]))
        };
        let plural = |at: usize, word: &Word<'_>| {
            let number =
                word.text.strip_suffix('s').filter(|number| is_number(number) && leg_before(at))?;
            Some((word.span.clone(), format!("{number} swim")))
        };
        words
            .iter()
            .enumerate()
            .filter_map(|(at, word)| match behind(at) {
                true => Some((word.span.clone(), whole(word)?.to_owned())),
                false => plural(at, word),
            })
            .collect()
    };
    apply(plain, edits);
}

/// "Broken 400 free: 200 r10, 100 r10, 50 r10, 50" is "400 free broken 200-100-50-50, 10 s".
fn broken(plain: &mut Plain) {
    let edits: Option<Edits> = {
        let words = words(plain.text());
        let at = words.iter().position(|word| word.is_any(&["broken"]));
        at.and_then(|at| broken_edits(&words, at, plain.text()))
    };
    apply(plain, edits.unwrap_or_default());
}

fn broken_edits(words: &[Word<'_>], at: usize, text: &str) -> Option<Edits> {
    let whole = words.get(at + 1)?;
    let far = whole.number()?;
    let mut next = at + 2;
    let signs = |word: &Word<'_>| matches!(word.text, ":" | "," | "-" | "(" | ")" | "+");
    while words.get(next).is_some_and(|word| {
        !signs(word) && !word.is_any(&["as", "each", "into", "in"]) && word.number().is_none()
    }) {
        next += 1;
    }
    let named_to = words.get(next - 1)?.span.end;
    let (mut pieces, mut sum, mut rest) = (Vec::new(), 0, None);
    let (mut first, mut last) = (None, named_to);
    while let Some(word) = words.get(next).filter(|_| sum < far || rest.is_none()) {
        let rest_words = rest_of(words, next);
        if let Some((time, count)) = rest_words {
            rest = rest.or(Some(time));
            next += count;
            last = words.get(next - 1)?.span.end;
            first = first.or(Some(word.span.start));
            continue;
        }
        let steps: Vec<u64> = word.text.split('-').filter_map(|step| step.parse().ok()).collect();
        if steps.len() > 1 && steps.len() == word.text.split('-').count() {
            pieces.extend(steps.iter().map(u64::to_string));
            sum = steps.iter().fold(sum, |sum, step| sum.saturating_add(*step));
            next += 1;
            first = first.or(Some(word.span.start));
            last = words.get(next - 1)?.span.end;
        } else if let Some(number) = word.number() {
            let times = words
                .get(next + 1)
                .filter(|word| word.is_times())
                .and_then(|_| words.get(next + 2)?.number());
            let (count, piece, taken) = times.map_or((1, number, 1), |piece| (number, piece, 3));
            if sum + count * piece > far || count > 40 {
                break;
            }
            pieces.extend((0..count).map(|_| piece.to_string()));
            sum += count * piece;
            next += taken;
            first = first.or(Some(word.span.start));
            last = words.get(next - 1)?.span.end;
        } else if sum < far
            || signs(word)
            || word.is_any(&["with", "at", "each", "break", "between"])
        {
            next += 1;
        } else {
            break;
        }
    }
    if sum != far || pieces.len() < 2 {
        return None;
    }
    // What stands on behind the rest is part of it.
    let behind = words.iter().filter(|word| word.span.start >= last);
    let more =
        behind.take_while(|word| word.is_any(&["between", "at", "each", "break", "rest"])).last();
    let last = more.map_or(last, |word| word.span.end);
    let rest = rest.map(|rest| format!(", {rest} s")).unwrap_or_default();
    let name = text.get(whole.span.start..named_to)?.trim_end_matches(',').to_owned();
    let broken = words.get(at)?;
    Some(vec![(broken.span.start..last, format!("{name} broken {}{rest}", pieces.join("-")))])
}

/// A rest of seconds that begins at a word, and how many words it takes: "r10", ":20 rest", "r 5".
fn rest_of(words: &[Word<'_>], at: usize) -> Option<(u64, usize)> {
    let word = words.get(at)?;
    let seconds =
        |text: &str| text.trim_start_matches(':').trim_end_matches(['s', '"']).parse::<u64>().ok();
    if let Some(rest) =
        word.text.strip_prefix(['r', 'R']).filter(|rest| !rest.is_empty()).and_then(seconds)
    {
        return Some((rest, 1));
    }
    if word.is_any(&["r", "rest", "ri"]) {
        return Some((words.get(at + 1).and_then(|word| seconds(word.text))?, 2));
    }
    if word.text.starts_with(':') || word.text.ends_with(['"']) {
        let rest = seconds(word.text)?;
        let named = words.get(at + 1).is_some_and(|word| word.is_any(&["rest", "r", "ri"]));
        return Some((rest, 1 + usize::from(named)));
    }
    let unit = words.get(at + 1).is_some_and(|word| word.is_any(&["s", "sec", "secs", "seconds"]));
    let rest = word.number().filter(|_| unit)?;
    let named = words.get(at + 2).is_some_and(|word| word.is_any(&["rest", "r", "ri"]));
    Some((rest, 2 + usize::from(named)))
}

/// "Ladder free: 50, 100, 150", "100 + 200 + 100": steps with dashes between them.
fn ladder(plain: &mut Plain) {
    let named = {
        let words = words(plain.text());
        let first = words
            .first()
            .filter(|word| word.is_any(&["ladder", "pyramid"]))
            .map(|word| word.span.clone());
        let steps =
            words.iter().position(|word| word.text.starts_with(|sign: char| sign.is_ascii_digit()));
        first.zip(steps.and_then(|at| words.get(at)).map(|word| word.span.start))
    };
    if let Some((name, steps)) = named {
        let mut ladder = plain.slice(steps..plain.text().len());
        dashed(&mut ladder);
        let between = plain.slice(name.end..steps);
        let way = between.text().trim_end_matches([':', ',', '-', ' ']).len();
        let way = between.slice(0..way);
        if way.is_blank() {
            *plain = ladder;
        } else {
            let end = ladder.text().find(' ').unwrap_or(ladder.text().len());
            let mut whole = ladder.slice(0..end);
            whole.join(&way);
            whole.join(&ladder.slice(end..ladder.text().len()));
            *plain = whole;
        }
    } else {
        dashed(plain);
    }
}

/// "400 as 100 free / 100 back / 200 kick", "75 = 25 back 50 crawl": legs in brackets.
fn legs(plain: &mut Plain) {
    let edits = legs_edits(plain.text()).unwrap_or_default();
    apply(plain, edits);
}

fn legs_edits(text: &str) -> Option<Edits> {
    let words = words(text);
    let counted = words.get(1).is_some_and(Word::is_times);
    let far_at = if counted { 2 } else { 0 };
    let far = words.get(far_at)?.number()?;
    let says = |word: &Word<'_>| word.is_any(&["as", "=", "-", ":"]);
    let bracket = words.iter().any(|word| word.text == "(");
    let as_at = words.iter().position(says).or_else(|| {
        // Without a sign: the first distance behind the one that is parted.
        let legs = words.iter().enumerate().skip(far_at + 1);
        legs.into_iter()
            .find(|(_, word)| word.number().is_some_and(|number| number >= 10 && number < far))
            .map(|(at, _)| at - 1)
    })?;
    if bracket && words.get(as_at).is_some_and(|word| !says(word)) {
        return None;
    }
    let mut starts: Vec<usize> = Vec::new();
    let (mut sum, mut next) = (0, as_at + 1);
    while let Some(word) = words.get(next).filter(|_| sum < far) {
        if let Some(number) = word.number().filter(|number| *number >= 5) {
            starts.push(next);
            sum += number;
        } else if word.text == "(" || word.text == ")" {
            return None;
        }
        next += 1;
    }
    if sum != far || starts.len() < 2 || starts.first() != Some(&(as_at + 1)) {
        return None;
    }
    while words.get(next).is_some_and(|word| {
        word.text.chars().all(char::is_alphabetic)
            && !word.is_any(&["rest", "r", "ri", "on", "off", "with", "w"])
    }) {
        next += 1;
    }
    let says_as = words.get(as_at).filter(|word| says(word));
    let mut edits: Edits = Vec::new();
    let first = words.get(*starts.first()?)?;
    let opens = says_as.map_or(first.span.start, |word| word.span.start);
    edits.push((opens..first.span.start, "(".to_owned()));
    // The comma or slash before each leg but the first.
    for start in starts.iter().skip(1) {
        let mut before = start - 1;
        while words
            .get(before)
            .is_some_and(|word| matches!(word.text, "," | "/" | "+" | "&" | "and" | "-"))
        {
            before -= 1;
        }
        edits.push((words.get(before)?.span.end..words.get(*start)?.span.start, ", ".to_owned()));
    }
    let end = words.get(next - 1)?.span.end;
    let comma = words.get(next).is_some_and(|word| word.text == ",");
    edits.push((end..end, if comma { ")".to_owned() } else { "),".to_owned() }));
    Some(edits)
}

/// Times as coaches write them in a hurry: "@ 115", "6 x 50 k 1.05", "on 1:30/1:40".
fn times(plain: &mut Plain) {
    let edits: Edits = {
        let words = words(plain.text());
        let counted = words.get(1).is_some_and(Word::is_times);
        let mut depth = 0_usize;
        let mut edits = Vec::new();
        let mut timed = words.iter().any(|word| word.is_any(&["@", "on", "off"]));
        for (at, word) in words.iter().enumerate() {
            match word.text {
                "(" => depth += 1,
                ")" => depth = depth.saturating_sub(1),
                _ => {}
            }
            let before = at.checked_sub(1).and_then(|before| words.get(before));
            let sent = before.is_some_and(|word| word.is_any(&["@", "on", "off", "the"]));
            let far = if counted { at == 2 } else { at == 0 };
            if depth > 0 || far || at == 0 {
                continue;
            }
            if sent {
                let next_pace = words.get(at + 1).is_some_and(|word| word.is_any(&["pace"]));
                if let Some(time) =
                    digits_of_time(word.text).filter(|_| word.text.len() == 3 && !next_pace)
                {
                    edits.push((word.span.clone(), time));
                }
                if let Some((first, rest)) = word.text.split_once('/').filter(|(first, rest)| {
                    !next_pace
                        && is_clock(first)
                        && is_clock(rest.split('/').next().unwrap_or_default())
                }) {
                    edits.push((word.span.clone(), format!("{first}, {rest}")));
                }
                continue;
            }
            let lone = !timed
                && counted
                && before.is_some_and(|word| {
                    !word.is_any(&[
                        "r", "rest", "ri", "hold", "holding", "under", "by", "last", "first",
                        "no.", "#", "for", "of", "(", "x", "at", "descend", "build", "desc", ",",
                    ])
                });
            let ends = words.get(at + 1).is_none_or(|word| {
                word.text == ","
                    || word.number().is_some()
                    || !word.is_any(&[
                        "s", "sec", "secs", "rest", "ri", "min", "mins", "m", "yd", "strokes",
                        "pace", "%", "r", "x", "off",
                    ])
            });
            if lone
                && ends
                && let Some(time) = lone_time(word.text)
            {
                edits.push((word.span.clone(), format!("on {time}")));
                timed = true;
            }
        }
        edits
    };
    apply(plain, edits);
}

/// "1:45" or "1.45".
fn is_clock(text: &str) -> bool {
    text.split_once([':', '.']).is_some_and(|(minutes, seconds)| {
        minutes.len() <= 2
            && minutes.bytes().all(|byte| byte.is_ascii_digit())
            && seconds.len() == 2
            && seconds.bytes().all(|byte| byte.is_ascii_digit())
    })
}

/// A time that stands alone behind a counted swim.
fn lone_time(text: &str) -> Option<String> {
    if is_clock(text) && !text.starts_with(':') {
        return Some(text.replace('.', ":"));
    }
    digits_of_time(text)
}

/// "115" is 1:15, "50" is 50 s.
fn digits_of_time(text: &str) -> Option<String> {
    if !is_number(text) || !(2..=3).contains(&text.len()) {
        return None;
    }
    let (minutes, seconds) = text.split_at(text.len() - 2);
    let in_a_minute = seconds.parse::<u32>().is_ok_and(|seconds| seconds < 60);
    match minutes {
        "" => Some(format!("{seconds} s")),
        minutes if in_a_minute => Some(format!("{minutes}:{seconds}")),
        _ => None,
    }
}
