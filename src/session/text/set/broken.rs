//! Broken swims: the whole, its pieces, the rest between them.

use super::super::plain::Plain;
use super::super::word::{Word, words};
use super::{Edits, apply};

/// "Broken 400 free: 200 r10, 100 r10, 50 r10, 50" is "400 free broken 200-100-50-50, 10 s".
pub(super) fn broken(plain: &mut Plain) {
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
