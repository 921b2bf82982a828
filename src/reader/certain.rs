//! Which changes to a coach's words are certain: those that lose nothing.
//!
//! `check --fix` writes a change without a question, so it may only put quotes, capitals, blanks
//! and hyphens right, turn a date around, or replace one misspelt word by one of nearly the same
//! spelling. All else is advice, for the coach to follow.

use crate::finding::{Finding, Place};

/// Quotes of every shape: straight ones, and those that word processors put in their place.
pub(crate) const QUOTES: [char; 8] =
    ['"', '\'', '\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}', '\u{201a}'];

/// The finding with the change of what is `written` at `place` to `meant`, where it is certain.
pub(crate) fn offer(finding: Finding, place: Place, written: &str, meant: String) -> Finding {
    match written != meant && loses_nothing(written, &meant) {
        true => finding.edit(place, meant),
        false => finding,
    }
}

/// Whether `after` holds all that `before` does: every word and number, or for one misspelt word
/// one of nearly the same spelling.
pub fn loses_nothing(before: &str, after: &str) -> bool {
    let (before, after) = (bare(before), bare(after));
    before == after
        || letters(before) == letters(after)
        || same_numbers(before, after)
        || one_word_for_one(before, after)
}

/// Without blanks and quotes at its ends.
fn bare(text: &str) -> &str {
    text.trim().trim_matches(QUOTES)
}

/// Blanks, hyphens and the dashes that word processors make of them part words, and are often taken
/// for each other: "warm up", "warm-up".
fn parts_words(letter: char) -> bool {
    letter.is_whitespace() || "-_\u{2010}\u{2011}\u{2012}\u{2013}\u{2014}".contains(letter)
}

/// Its letters in lower case, without what parts words.
fn letters(text: &str) -> String {
    text.chars().filter(|letter| !parts_words(*letter)).flat_map(char::to_lowercase).collect()
}

/// Whether both are the same whole numbers, in whatever order: a date and its turn.
fn same_numbers(before: &str, after: &str) -> bool {
    let numbers = |text: &str| -> Option<Vec<u32>> {
        let mut numbers: Vec<u32> = text
            .split(['/', '.', '-'])
            .map(|field| field.trim().parse().ok())
            .collect::<Option<_>>()?;
        numbers.sort_unstable();
        Some(numbers)
    };
    numbers(before).is_some_and(|before| Some(before) == numbers(after))
}

fn one_word_for_one(before: &str, after: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        text.split(parts_words).filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
    };
    let (before, after) = (words(before), words(after));
    let mut others = before.iter().zip(&after).filter(|(before, after)| before != after);
    before.len() == after.len()
        && others.next().is_some_and(|(before, after)| is_slip(before, after))
        && others.next().is_none()
}

/// Whether `word` is `meant` but for a slip of the keyboard: a letter too many, left out, or
/// another in its place, or two that changed places; twice at most in a word of six and more.
/// The first letter is rarely a slip, so it must be right, or be the second.
pub(crate) fn is_slip(word: &str, meant: &str) -> bool {
    let is_word = |text: &str| text.chars().count() > 2 && text.chars().all(char::is_alphabetic);
    if !is_word(word) || !is_word(meant) {
        return false;
    }
    let first = |text: &str, nth: usize| text.chars().nth(nth);
    let begins_alike = first(word, 0) == first(meant, 0)
        || first(word, 0) == first(meant, 1) && first(word, 1) == first(meant, 0);
    let most = if word.chars().count().min(meant.chars().count()) < 6 { 1 } else { 2 };
    begins_alike && strsim::osa_distance(word, meant) <= most
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_loses_nothing_is_certain() {
        // By hand: the words and numbers of the left side are all on the right side, or one word
        // of the left side is misspelt there.
        for (before, after) in [
            ("1:30", "\"1:30\""),
            ("\u{201c}Legs\u{201d}", "\"Legs\""),
            ("\"Improver\"", "\"improver\""),
            ("\"warm up\"", "\"warm-up\""),
            ("\"Warmup\"", "\"warm-up\""),
            ("\"beginer\"", "\"beginner\""),
            ("\"begginer\"", "\"beginner\""),
            ("rset", "rest"),
            ("\"mian set\"", "\"main set\""),
            ("24/11/2026", "2026-11-24"),
            ("\"2026-11-24\"", "2026-11-24"),
        ] {
            assert!(loses_nothing(before, after), "{before} to {after}");
        }
        for (before, after) in [
            ("30", "25"),
            ("fly/free", "fly"),
            ("stroke", "stroke of choice"),
            ("\"main\"", "\"main set\""),
            ("test", "rest"),
            ("\"ez\"", "\"easy\""),
            ("fr", "free"),
            ("24/11/2026", "2026-11-25"),
            ("\"hard steady\"", "\"herd stedy\""),
            ("50", "500"),
        ] {
            assert!(!loses_nothing(before, after), "{before} to {after}");
        }
    }
}
