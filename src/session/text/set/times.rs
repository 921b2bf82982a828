//! Times as coaches write them in a hurry.

use std::ops::Range;

use super::super::plain::Plain;
use super::super::word::{Word, is_number, words};
use super::{Edits, apply};

/// Times as coaches write them in a hurry: "@ 115", "6 x 50 k 1.05", "on 1:30/1:40".
pub(super) fn times(plain: &mut Plain) {
    let edits: Edits = {
        let words = words(plain.text());
        let counted = words.get(1).is_some_and(Word::is_times);
        let far_at = if counted { 2 } else { 0 };
        let mut lone = counted && !words.iter().any(|word| word.is_any(&SENT));
        let mut depth = 0_usize;
        let mut edits = Vec::new();
        for (at, word) in words.iter().enumerate() {
            match word.text {
                "(" => depth += 1,
                ")" => depth = depth.saturating_sub(1),
                _ => {}
            }
            let before = at.checked_sub(1).and_then(|before| words.get(before));
            let Some(before) = before.filter(|_| depth == 0 && at != far_at) else { continue };
            let behind = words.get(at + 1);
            if before.is_any(&SENT) || before.is_any(&["the"]) {
                edits.extend(sent(word, behind));
            } else if lone
                && stands_alone(before, behind)
                && let Some(time) = lone_time(word.text)
            {
                edits.push((word.span.clone(), format!("on {time}")));
                lone = false;
            }
        }
        edits
    };
    apply(plain, edits);
}

/// What stands before a send-off.
const SENT: [&str; 3] = ["@", "on", "off"];

/// Words before a number behind a set that is no send-off. Common practice, no source.
const BEFORE_OTHERS: [&str; 20] = [
    "r", "rest", "ri", "hold", "holding", "under", "by", "last", "first", "no.", "#", "for", "of",
    "(", "x", "at", "descend", "build", "desc", ",",
];

/// Words behind a number that is no send-off. Common practice, no source.
const BEHIND_OTHERS: [&str; 14] = [
    "s", "sec", "secs", "rest", "ri", "min", "mins", "m", "yd", "strokes", "pace", "%", "r", "off",
];

/// A send-off as a set line has it: "115" is 1:15, and of several by lane the first.
fn sent(word: &Word<'_>, behind: Option<&Word<'_>>) -> Option<(Range<usize>, String)> {
    if behind.is_some_and(|word| word.is_any(&["pace"])) {
        return None;
    }
    if let Some((first, rest)) = word.text.split_once('/') {
        let next = rest.split('/').next().unwrap_or_default();
        let lanes = is_clock(first) && is_clock(next);
        return lanes.then(|| (word.span.clone(), format!("{first}, {rest}")));
    }
    let time = digits_of_time(word.text).filter(|_| word.text.len() == 3)?;
    Some((word.span.clone(), time))
}

/// Whether a number behind a set is a time by itself: "6 x 50 k 1.05".
fn stands_alone(before: &Word<'_>, behind: Option<&Word<'_>>) -> bool {
    let ends = behind.is_none_or(|word| !word.is_times() && !word.is_any(&BEHIND_OTHERS));
    !before.is_any(&BEFORE_OTHERS) && ends
}

/// "1:45" or "1.45".
pub(super) fn is_clock(text: &str) -> bool {
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
