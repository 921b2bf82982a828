//! Distances and ranges of repeats that a cue names.

use super::Swum;
use super::tables::{DISTANCES, OTHER_NOUNS, OTHER_SWIMS, TIME_LEADS, TIME_UNITS};
use super::words::{Words, is_clock};
use crate::measure::{Distance, Lengths};

/// What a number counts that is no distance.
const NO_DISTANCE: &[&str] =
    &["h", "%", "per", "percent", "stroke", "strokes", "beat", "beats", "bpm", "m/min", "spl"];

/// Words before a range that is none of repeats: "breathe every 3-5".
const NO_REPEATS: &[&str] = &["every", "breathe", "breathing", "breath"];

/// Before a number that is a time, where nothing says that it is a distance: "under 75".
const TIMES: &[&str] = &["under", "sub", "below"];

/// Units behind a number, and "s": "3 x 100s".
const ENDS: &[&str] = &["m", "yd", "yds", "y", "'s", "\u{2019}s", "s"];

impl Words<'_> {
    /// "1-4", "#1-3", "1 to 4": repeats of the set, from one to another.
    pub fn is_range(&self, at: usize, repeats: u32) -> bool {
        let word = self.at(at).trim_start_matches('#');
        let (from, to, after) = match word.split_once(['-', '\u{2013}', '\u{2212}']) {
            Some((from, to)) => (from, to, self.after(at)),
            None if ["to", "through"].contains(&self.after(at)) => {
                (word, self.at(at + 2), self.at(at + 3))
            }
            None => return false,
        };
        let counts = NO_REPEATS.contains(&self.before(at)) || OTHER_NOUNS.contains(&after);
        let of_ten = after == "of" || TIME_LEADS.contains(&self.before(at));
        match (from.parse::<u32>(), to.parse::<u32>()) {
            (Ok(from), Ok(to)) => 1 <= from && from < to && to <= repeats && !counts && !of_ten,
            _ => false,
        }
    }

    /// A distance of whole lengths that is no more than the set's.
    pub fn is_distance(&self, at: usize, set: Swum) -> bool {
        let (word, before, after) = (self.at(at), self.before(at), self.after(at));
        let word = DISTANCES.iter().find(|(name, _)| *name == word).map_or(word, |known| known.1);
        let digits = word.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(word.len());
        let (number, end) = word.split_at(digits);
        let Ok(number) = number.parse::<u64>() else { return false };
        // "rest 30s" are seconds, "by 25s" are not.
        let is_time = (end == "s" && number < 50 && before != "by")
            || (end.is_empty() && TIMES.contains(&before));
        let counts = NO_DISTANCE.contains(&after) || TIME_UNITS.contains(&after);
        // "1:40 per 100" is a pace, "your 400" another swim.
        let is_pace = before == "per" && is_clock(self.before(at.saturating_sub(1)));
        let is_other = OTHER_SWIMS.contains(&before) || is_pace;
        let distance = Distance::whole(number.min(100_000), set.pool.unit());
        let whole = Lengths::new(set.each.get().saturating_mul(set.repeats));
        (end.is_empty() || ENDS.contains(&end))
            && !is_time
            && !counts
            && !is_other
            && number > 0
            && distance.sixths() <= set.pool.distance(whole).sixths()
            && set.pool.lengths(distance).is_some()
    }
}
