//! Times as coaches write them in a hurry.

use super::super::plain::Plain;
use super::super::word::{Word, is_number, words};
use super::{Edits, apply};

/// Times as coaches write them in a hurry: "@ 115", "6 x 50 k 1.05", "on 1:30/1:40".
pub(super) fn times(plain: &mut Plain) {
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
pub(super) fn is_clock(text: &str) -> bool {
    text.split_once([':', '.']).is_some_and(|(minutes, seconds)| {
        minutes.len() <= 2
            && minutes.bytes().all(|byte| byte.is_ascii_digit())
            && seconds.len() == 2
            && seconds.bytes().all(|byte| byte.is_ascii_digit())
    })
}

/// A time that stands alone behind a counted swim.
pub(super) fn lone_time(text: &str) -> Option<String> {
    if is_clock(text) && !text.starts_with(':') {
        return Some(text.replace('.', ":"));
    }
    digits_of_time(text)
}

/// "115" is 1:15, "50" is 50 s.
pub(super) fn digits_of_time(text: &str) -> Option<String> {
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
