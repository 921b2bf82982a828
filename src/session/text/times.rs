//! How often a group of lines is swum: "3 rounds:", "2 x {", "(x 3)", "three times through".

use std::ops::Range;

use super::word::Word;
use crate::reader::value::CARDINALS;

/// A count of rounds, with its bytes in the line and how many words say it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Often {
    pub count: u64,
    pub span: Range<usize>,
    pub words: usize,
}

/// Words behind a number that make it a count of rounds. Common practice, no source.
const ROUNDS: [&str; 9] = ["rounds", "round", "rds", "rd", "times", "sets", "x", "X", "circuits"];

/// A number in figures or in a word.
pub(super) fn number(word: &Word<'_>) -> Option<u64> {
    let lower = word.text.to_lowercase();
    let named = CARDINALS.iter().position(|known| *known == lower).map(|at| at as u64 + 1);
    word.number().or(named)
}

/// The rounds that words begin with: "3 rds", "Three rounds of", "2 times through", "x 3", "twice".
pub(super) fn often(words: &[Word<'_>]) -> Option<Often> {
    let first = words.first()?;
    let (count, mut taken) = match first {
        word if word.is_any(&["twice"]) => (2, 1),
        word if word.is_any(&["x"]) => (number(words.get(1)?)?, 2),
        word => {
            let rounds = words.get(1).filter(|word| word.is_any(&ROUNDS))?;
            // Brackets hold the sets of their rounds, or the rest between them.
            let rests = words.iter().skip(3).any(|word| word.is_any(&["between", "rest", "after"]));
            let named = rounds.is_any(&["rounds", "rds", "round", "rd"]);
            let brackets = words.get(2).is_some_and(|word| matches!(word.text, "{" | "(" | "["))
                && !(named && rests);
            let through = words.get(2).is_some_and(|word| word.is_any(&["through", "thru"]));
            // "3 x 100" is a set; "3 x through" and "3 x" alone are rounds.
            let alone = words.get(2).is_none_or(|word| matches!(word.text, ":" | ")" | "]" | ","));
            if brackets || rounds.is_any(&["x", "times", "sets"]) && !through && !alone {
                return None;
            }
            (number(word)?, 2)
        }
    };
    while words.get(taken).is_some_and(|word| word.is_any(&["through", "thru", "of", "of:", "the"]))
    {
        taken += 1;
    }
    let last = words.get(taken - 1)?;
    Some(Often { count, span: first.span.start..last.span.end, words: taken })
}

/// The rounds that a sentence is the head of, in more words: "go through this 3 times, 30 s rest after
/// each:".
pub(super) fn head_in_words(words: &[Word<'_>]) -> Option<Often> {
    let does = words.first()?.is_any(&["go", "swim", "do", "repeat"]);
    let ends = words.last()?.text == ":";
    let at = (1..words.len().min(7)).find(|at| words.get(*at..).and_then(often).is_some())?;
    let found = often(words.get(at..)?)?;
    (does && ends).then_some(Often { words: at + found.words, ..found })
}

/// Whether a sentence says that all before it is swum several times: "go through all of part 2 twice".
pub(super) fn all_again(words: &[Word<'_>]) -> Option<Often> {
    let does = words
        .first()
        .is_some_and(|word| word.is_any(&["go", "swim", "do", "repeat", "all", "everything"]));
    let all = words.iter().any(|word| {
        word.is_any(&["all", "whole", "lot", "everything", "through", "that", "this", "it", "part"])
    });
    let at = (1..words.len()).find(|at| words.get(*at..).and_then(often).is_some())?;
    let often = often(words.get(at..)?)?;
    (does && all && at + often.words >= words.len().saturating_sub(2)).then_some(often)
}

#[cfg(test)]
mod tests {
    use super::super::word::words;
    use super::*;

    #[test]
    fn rounds_are_told_from_sets() {
        for (line, wanted) in [
            ("3 rds:", Some((3, 2))),
            ("Three rounds:", Some((3, 2))),
            ("2 rounds, 1 min between rounds", Some((2, 2))),
            ("3 times through:", Some((3, 3))),
            ("x 3)", Some((3, 2))),
            ("2 rds (1 min between rounds):", Some((2, 2))),
            ("2 rounds (4 x 50, 100 back)", None),
            ("2 x", Some((2, 2))),
            ("twice", Some((2, 1))),
            ("3 x 100 free", None),
            ("3 times 100 free", None),
            ("200 free", None),
        ] {
            let found = often(&words(line)).map(|often| (often.count, often.words));
            assert_eq!(found, wanted, "{line}");
        }
        let again = |line: &str| all_again(&words(line)).map(|often| often.count);
        assert_eq!(again("Go through all of part 2 twice."), Some(2));
        assert_eq!(again("do it all 3 times"), Some(3));
        assert_eq!(again("we did this twice last year and nobody drowned"), None);
    }
}
