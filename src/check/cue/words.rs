//! A cue as words, and the words that name repeats, times and lengths.

use super::tables::{
    HOW, LENGTHS, NO_SWIM_TIME, NUMBER, ORDINALS, OTHER_LEADS, OTHER_NOUNS, REPEATS, SHARE,
    THROUGHOUT, TIME_LEADS, TIME_UNITS,
};
use crate::reader::value::CARDINALS;

/// Strokes a length that no swimmer stays below but off a wall.
const LEAST_STROKES: u32 = 8;

/// Seconds below which no repeat is swum.
const LEAST_SECONDS: u32 = 10;

/// The words of a cue in small letters, with commas, colons and the like between them as ",".
pub(super) struct Words<'a>(Vec<&'a str>);

impl<'a> Words<'a> {
    pub fn of(cue: &'a str) -> Self {
        let mut words = Vec::new();
        let spaces = |sign: char| sign.is_whitespace() || "()/[]+\u{d7}".contains(sign);
        for piece in cue.split(spaces).flat_map(|piece| piece.split_inclusive([',', ';'])) {
            let ends = piece.ends_with([',', ';', ':', '.', '!', '?', '\u{2026}']);
            let word =
                piece.trim_matches(|sign: char| ",;:.!?\"\u{201c}\u{201d}\u{2026}".contains(sign));
            // "2 x easy", and "4 and 8".
            if !word.is_empty() && word != "x" {
                words.push(word);
            }
            if ends {
                words.push(",");
            }
        }
        Self(words)
    }

    pub fn places(&self) -> std::ops::Range<usize> {
        0..self.0.len()
    }

    pub fn at(&self, at: usize) -> &'a str {
        self.0.get(at).copied().unwrap_or_default()
    }

    pub fn before(&self, at: usize) -> &'a str {
        at.checked_sub(1).map(|at| self.at(at)).unwrap_or_default()
    }

    pub fn after(&self, at: usize) -> &'a str {
        self.at(at + 1)
    }

    /// The word before a list of numbers: "numbers" before the 8 of "numbers 4, 6 and 8".
    fn leading(&self, at: usize) -> &'a str {
        let mut at = at;
        while let Some(before) = at.checked_sub(1) {
            let word = self.at(before);
            if digits(word).is_none() && !["and", ",", "or"].contains(&word) {
                return word;
            }
            at = before;
        }
        ""
    }

    /// Whether a number, or a count, of repeats is here.
    pub fn is_repeat(&self, at: usize, repeats: u32) -> bool {
        let (word, before, after) = (self.at(at), self.before(at), self.after(at));
        let held = |number: u32| (1..=repeats).contains(&number);
        if word.strip_prefix('#').and_then(digits).is_some_and(held) {
            return true;
        }
        if let Some(number) = digits(word)
            && held(number)
            && (self.is_numbered(at) || self.is_listed(at))
        {
            return true;
        }
        if let Some(number) = ordinal(word).filter(|number| held(*number)) {
            if self.is_share(at) {
                return false;
            }
            let is_one = number > 1 && (REPEATS.contains(&after) || HOW.contains(&after));
            let every = before == "every" && number > 2 && !OTHER_NOUNS.contains(&after);
            return is_one || every;
        }
        let Some(count) = count(word).filter(|count| held(*count)) else { return false };
        if OTHER_LEADS.contains(&before) {
            return false;
        }
        let then = self.at(at + 2);
        let shared = SHARE.contains(&before)
            && !OTHER_NOUNS.contains(&after)
            && !OTHER_NOUNS.contains(&then)
            && (count > 1);
        let how = HOW.contains(&after) || (after, then) == ("all", "out");
        let so_many = how && !OTHER_NOUNS.contains(&then);
        let times = count > 1 && after == "times";
        shared || so_many || times || (after, then) == ("of", "each")
    }

    /// "number 4", "no 8", "reps 2 and 3".
    fn is_numbered(&self, at: usize) -> bool {
        let lead = self.leading(at);
        NUMBER.contains(&lead) && !OTHER_NOUNS.contains(&self.after(at))
    }

    /// One of two numbers at least that rise: "1, 3, 5 easy", "2 and 4 hard".
    fn is_listed(&self, at: usize) -> bool {
        let joined = [",", "and"].contains(&self.after(at));
        let (this, next) = (digits(self.at(at)), digits(self.at(at + 2)));
        let mut end = at + 2;
        while [",", "and"].contains(&self.after(end)) && digits(self.at(end + 2)).is_some() {
            end += 2;
        }
        joined
            && this.zip(next).is_some_and(|(this, next)| this < next)
            && !OTHER_LEADS.contains(&self.leading(at))
            && !OTHER_NOUNS.contains(&self.after(end))
    }

    /// "third" behind another such word: "second third", "last third".
    fn is_share(&self, at: usize) -> bool {
        let before = self.before(at);
        ordinal(before).is_some() || ["last", "each"].contains(&before)
    }

    /// A repeat by its place, where another is named too: "1st", "from the first to the eighth".
    pub fn is_ordinal(&self, at: usize, repeats: u32) -> bool {
        ordinal(self.at(at)).is_some_and(|number| number <= repeats)
            && !self.is_share(at)
            && self.before(at) != "every"
            && !OTHER_NOUNS.contains(&self.after(at))
            && count(self.after(at)).is_none()
    }

    /// A time to swim a repeat in: "1:15", "under 60", "58 s each".
    pub fn is_swim_time(&self, at: usize) -> bool {
        let (word, before) = (self.at(at), self.before(at));
        let near = [at.wrapping_sub(2), at.wrapping_sub(1), at + 1, at + 2, at + 3];
        if near.into_iter().any(|at| NO_SWIM_TIME.contains(&self.at(at))) {
            return false;
        }
        if is_clock(word) {
            return true;
        }
        let unit = word.trim_start_matches(|sign: char| sign.is_ascii_digit());
        let joined = unit.len() < word.len() && TIME_UNITS.contains(&unit);
        let number = word.strip_suffix(unit).filter(|_| joined).unwrap_or(word);
        let Some(number) = digits(number) else { return false };
        let next = self.after(at);
        let is_timed = joined || TIME_UNITS.contains(&next);
        let minutes = unit.starts_with("min") || next.starts_with("min");
        let long = number >= LEAST_SECONDS || minutes;
        let each = [next, self.at(at + 2)].contains(&"each");
        let leads = TIME_LEADS.contains(&before);
        let bare = ["under", "sub", "below"].contains(&before) && !OTHER_NOUNS.contains(&next);
        long && ((is_timed && (leads || each)) || (bare && number >= LEAST_SECONDS))
    }

    /// Arm strokes of a length: "14 strokes a length", "16 spl".
    pub fn is_strokes(&self, at: usize) -> bool {
        let counts = ["strokes", "stroke", "spl"].contains(&self.after(at));
        let Some(number) = count(self.at(at)).filter(|_| counts) else { return false };
        let per = ["a", "per", "each", "every"].contains(&self.at(at + 2));
        let some = SHARE.contains(&self.before(at));
        !some && (per || self.after(at) == "spl" || number >= LEAST_STROKES)
    }

    /// The number or the count of lengths that is here.
    pub fn lengths(&self, at: usize) -> Option<u32> {
        let (word, before) = (self.at(at), self.before(at));
        if !LENGTHS.contains(&word) || ["no", "body"].contains(&self.before(at.saturating_sub(1))) {
            return None;
        }
        let behind = count(self.after(at)).filter(|_| !OTHER_NOUNS.contains(&self.at(at + 2)));
        // "one length at a time" is any of them.
        let at_a_time = self.after(at) == "at" && self.at(at + 2) == "a";
        let number = count(before).or_else(|| ordinal(before).filter(|number| *number > 1));
        number.filter(|_| !at_a_time).or(behind).or((before == "middle").then_some(2))
    }

    /// The first or the last length, or every other.
    pub fn is_end_length(&self, at: usize) -> bool {
        let (before, earlier) = (self.before(at), self.before(at.saturating_sub(1)));
        let throughout =
            earlier == "the" && THROUGHOUT.contains(&self.before(at.saturating_sub(2)));
        let end = ["first", "1st", "last", "final", "other", "odd", "even", "alternate"];
        LENGTHS.contains(&self.at(at)) && end.contains(&before) && !throughout
    }
}

/// A bare number in figures.
fn digits(word: &str) -> Option<u32> {
    let all = !word.is_empty() && word.bytes().all(|sign| sign.is_ascii_digit());
    all.then(|| word.parse().ok()).flatten()
}

/// A count in figures or in words: "4", "four", "4x".
fn count(word: &str) -> Option<u32> {
    let place = || CARDINALS.iter().position(|known| *known == word);
    let figures = digits(word.strip_suffix('x').unwrap_or(word));
    figures.or_else(|| place().and_then(|at| u32::try_from(at + 1).ok()))
}

/// A place in order: "4th", "fourth".
fn ordinal(word: &str) -> Option<u32> {
    let place = || ORDINALS.iter().position(|known| *known == word);
    let figures = ["st", "nd", "rd", "th"].iter().find_map(|end| word.strip_suffix(end));
    figures.and_then(digits).or_else(|| place().and_then(|at| u32::try_from(at + 1).ok()))
}

/// "1:15", "1:15.5".
pub(super) fn is_clock(word: &str) -> bool {
    let word = word.trim_end_matches('s');
    word.split_once(':').is_some_and(|(minutes, seconds)| {
        digits(minutes).is_some() && digits(seconds.split('.').next().unwrap_or(seconds)).is_some()
    })
}
