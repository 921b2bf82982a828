//! Habits of writing, rewritten as a set line has them.

use std::ops::Range;

use super::super::plain::Plain;
use super::super::sets::dashed;
use super::super::word::{Word, is_number, words};
use super::times::is_clock;
use super::{Edits, apply};
use crate::reader::trade_words::TradeWord;
use crate::session::words::{EffortWord, Mode, Stroke};

/// A line that begins with a number in a word and what is counted, with the number in figures: "ten
/// minutes easy", "six x 50".
pub(in crate::session::text) fn counted_in_words(plain: &Plain) -> Option<Plain> {
    let words = words(plain.text());
    let first = words.first().filter(|word| word.number().is_none())?;
    let number = super::super::times::number(first)?;
    let plural = words.get(1)?.text.strip_suffix('s').is_some_and(is_number);
    let counted = plural
        || words.get(1)?.is_any(&[
            "min", "mins", "minutes", "x", "times", "lengths", "length", "lots", "widths",
        ]);
    let mut figures = plain.clone();
    figures.replace(first.span.clone(), &number.to_string());
    counted.then_some(figures)
}

/// "Ladder x 2: 400-300" is "2 x ladder: 400-300".
pub(super) fn ladders(plain: &mut Plain) {
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

/// "on the 1:10 base" is so long for each 100.
pub(super) fn base(plain: &mut Plain) {
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

/// "12 x 25 on 30, 3 hard 1 easy" is "12 x 25: 3 hard, 1 easy, on 30": so many of each in turn.
pub(super) fn cycle(plain: &mut Plain) {
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

/// "3 lots of 100", "4 times 50", "10 100s".
pub(super) fn counts(plain: &mut Plain) {
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
pub(super) fn behind_count(plain: &mut Plain) {
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
pub(super) fn whole_words(plain: &mut Plain) {
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

/// "Ladder free: 50, 100, 150", "100 + 200 + 100": steps with dashes between them.
pub(super) fn ladder(plain: &mut Plain) {
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

/// "8 x 25 - 2 of each": a spaced dash before a small number is no step of a ladder.
pub(super) fn dash_before_number(plain: &mut Plain) {
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
