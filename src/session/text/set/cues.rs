//! What of a set is a cue whatever it says.

use std::ops::Range;

use super::super::plain::Plain;
use super::super::word::{Word, words};

/// What of a set is a cue whatever it says, with the set without it: words in quotes, "1 on 1 off",
/// "@ 5 sec less than before", the last 100 of a single swim.
pub(super) fn cues(plain: &Plain) -> (Plain, Vec<Plain>) {
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

/// Words that compare a time with another.
const COMPARED: [&str; 8] =
    ["less", "more", "faster", "slower", "quicker", "better", "under", "over"];
