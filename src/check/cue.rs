//! Cues that name numbers of their set: "100 free, 100 back", "by 50", "1-4 easy". With other
//! numbers beside them they would be wrong.

use crate::measure::{Distance, Lengths, Pool};

/// What a number counts that is no distance.
const NO_DISTANCE: &[&str] = &[
    "s", "sec", "secs", "second", "seconds", "min", "mins", "minute", "minutes", "h", "%", "per",
    "percent", "stroke", "strokes", "beat", "beats", "bpm", "m/min",
];

/// Words before a range that is none of repeats: "breathe every 3-5".
const NO_REPEATS: &[&str] = &["every", "breathe", "breathing", "breath"];

/// Units behind a number, and "s": "3 x 100s".
const ENDS: &[&str] = &["m", "yd", "yds", "y", "'s", "\u{2019}s", "s"];

/// Whether a cue beside `repeats` of `each` lengths names a distance of whole lengths, or repeats by
/// their number.
pub fn names_numbers(cue: &str, repeats: u32, each: Lengths, pool: Pool) -> bool {
    let cue = cue.to_lowercase();
    let parted = |sign: char| sign.is_whitespace() || ",;()+/[]\u{d7}".contains(sign);
    let words: Vec<&str> = cue
        .split(parted)
        .map(|word| word.trim_matches(|sign: char| ".!?\"\u{201c}\u{201d}".contains(sign)))
        .filter(|word| !word.is_empty())
        .collect();
    let whole = Lengths::new(each.get().saturating_mul(repeats));
    let most = pool.distance(whole);
    words.iter().enumerate().any(|(at, word)| {
        let before = at.checked_sub(1).and_then(|at| words.get(at)).copied().unwrap_or_default();
        let after = words.get(at + 1).copied().unwrap_or_default();
        (is_range(word, repeats) && !NO_REPEATS.contains(&before))
            || (is_distance(word, before, pool, most) && !NO_DISTANCE.contains(&after))
    })
}

/// "1-4", "#1-3": repeats of the set, from one to another.
fn is_range(word: &str, repeats: u32) -> bool {
    let word = word.trim_start_matches('#');
    let Some((from, to)) = word.split_once(['-', '\u{2013}', '\u{2212}']) else { return false };
    match (from.parse::<u32>(), to.parse::<u32>()) {
        (Ok(from), Ok(to)) => 1 <= from && from < to && to <= repeats,
        _ => false,
    }
}

/// A distance of whole lengths that is no more than the set's.
fn is_distance(word: &str, before: &str, pool: Pool, most: Distance) -> bool {
    let digits = word.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(word.len());
    let (number, end) = word.split_at(digits);
    let Ok(number) = number.parse::<u64>() else { return false };
    // "rest 30s" are seconds, "by 25s" are not.
    let is_time = end == "s" && number < 50 && before != "by";
    let distance = Distance::whole(number.min(100_000), pool.unit());
    (end.is_empty() || ENDS.contains(&end))
        && !is_time
        && number > 0
        && distance.thirds() <= most.thirds()
        && pool.lengths(distance).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cues as coaches write them (common practice, no source), beside 6 x 100 in 25 m.
    #[test]
    fn numbers_of_the_set_are_told_from_others() {
        let pool: Pool = "25 m".parse().expect("a pool");
        for (cue, expected) in [
            ("100 fr, 100 bk", true),
            ("3/5/7/9 by 100", true),
            ("by 25s", true),
            ("1-4 easy, 5-6 hard", true),
            ("#1\u{2013}3 steady", true),
            ("one 50 fly and back, one 50 breast and free", true),
            ("last 25m all out", true),
            ("even pace: second 50 as the first", true),
            ("breathe every 3, long arms", false),
            ("breathe 3-5", false),
            ("breathe every 3-5", false),
            ("last 10 m fast", false),
            ("hold 1:25", false),
            ("under 75 s each", false),
            ("100 % today", false),
            ("50 strokes at most", false),
            ("5 kicks off each wall", false),
            ("30s rest if you need it", false),
            ("7-8 of 10", false),
            ("2000 m by the end of the month", false),
            ("toes long", false),
        ] {
            assert_eq!(names_numbers(cue, 6, Lengths::new(4), pool), expected, "{cue}");
        }
    }
}
