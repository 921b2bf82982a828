//! Legs: pieces that add up to a repeat.

use super::super::plain::Plain;
use super::super::word::{Word, words};
use super::{Edits, apply};

/// "400 as 100 free / 100 back / 200 kick", "75 = 25 back 50 crawl": legs in brackets.
pub(super) fn legs(plain: &mut Plain) {
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
