//! The words of a line of a message: signs at the ends of a word stand by themselves.

use std::ops::Range;

/// A word or a sign, with its bytes in the line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Word<'t> {
    pub text: &'t str,
    pub span: Range<usize>,
}

/// Signs that stand by themselves wherever they are in a word.
const ALONE: [char; 8] = ['(', ')', '{', '}', '[', ']', ';', '+'];
/// Signs that stand by themselves at the end of a word.
const AT_THE_END: [char; 5] = [',', ':', '.', '!', '?'];

/// Words that say how often, between a count and what is counted. Common practice, no source.
const TIMES: [&str; 5] = ["x", "X", "*", "times", "lots"];

impl Word<'_> {
    /// Whether it is a sign or a word of times.
    pub fn is_times(&self) -> bool {
        TIMES.contains(&self.text)
    }

    /// Whether it is one of some words, whatever its capitals.
    pub fn is_any(&self, of: &[&str]) -> bool {
        of.iter().any(|word| word.eq_ignore_ascii_case(self.text))
    }

    /// The whole number that it is.
    pub fn number(&self) -> Option<u64> {
        is_number(self.text).then(|| self.text.parse().ok())?
    }
}

/// Whether a word is a whole number of at most five digits.
pub(super) fn is_number(text: &str) -> bool {
    (1..=5).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Parts a line into words.
pub(super) fn words(line: &str) -> Vec<Word<'_>> {
    let mut words = Vec::new();
    let mut at = 0;
    while let Some(rest) = line.get(at..).filter(|rest| !rest.is_empty()) {
        let trimmed = rest.trim_start();
        at += rest.len() - trimmed.len();
        let end = trimmed.find(char::is_whitespace).unwrap_or(trimmed.len());
        pieces(trimmed.get(..end).unwrap_or_default(), at, &mut words);
        at += end;
        if trimmed.is_empty() {
            break;
        }
    }
    words
}

/// A word between spaces, with its signs by themselves.
fn pieces<'t>(chunk: &'t str, base: usize, words: &mut Vec<Word<'t>>) {
    let mut from = 0;
    let mut push = |span: Range<usize>| {
        if let Some(text) = chunk.get(span.clone()).filter(|text| !text.is_empty()) {
            words.push(Word { text, span: base + span.start..base + span.end });
        }
    };
    for (at, sign) in chunk.char_indices() {
        if ALONE.contains(&sign) {
            ended(chunk, from..at, &mut push);
            push(at..at + sign.len_utf8());
            from = at + sign.len_utf8();
        }
    }
    ended(chunk, from..chunk.len(), &mut push);
}

/// A word whose last signs stand by themselves, but for those of a short form such as "w.u.".
fn ended(chunk: &str, span: Range<usize>, push: &mut impl FnMut(Range<usize>)) {
    let text = chunk.get(span.clone()).unwrap_or_default();
    let body = text.trim_end_matches(AT_THE_END);
    let body = if text.ends_with('.') && body.contains('.') && !body.contains(char::is_numeric) {
        text
    } else {
        body
    };
    push(span.start..span.start + body.len());
    let mut at = span.start + body.len();
    for sign in text.get(body.len()..).unwrap_or_default().chars() {
        push(at..at + sign.len_utf8());
        at += sign.len_utf8();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_at_the_end_of_a_word_stand_by_themselves() {
        let texts = |line| words(line).into_iter().map(|word| word.text).collect::<Vec<_>>();
        assert_eq!(
            texts("Main: 4 x 50 @ 1:30, r10."),
            ["Main", ":", "4", "x", "50", "@", "1:30", ",", "r10", "."]
        );
        assert_eq!(
            texts("2 x (50 + 25) w.u. 7.15"),
            ["2", "x", "(", "50", "+", "25", ")", "w.u.", "7.15"]
        );
        assert!(texts("  ").is_empty());
    }
}
