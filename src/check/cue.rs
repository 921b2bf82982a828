//! What a cue names of its set: "100 free, 100 back", "numbers 4 and 8 all out", "hold 1:15". With
//! other numbers beside them it would be wrong.

mod numbers;
mod tables;
mod words;

use crate::measure::{Lengths, Pool};
use words::Words;

/// What a cue names that a recut may take away.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CueNames {
    /// Distances of whole lengths, or repeats by their number or count.
    pub numbers: bool,
    /// A time to swim a repeat in.
    pub time: bool,
    /// Arm strokes of a length.
    pub strokes: bool,
    /// Lengths of a repeat by their number or count.
    pub lengths: bool,
    /// The first or the last length, so that there are two at least.
    pub ends: bool,
}

/// The numbers a set has in a pool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Swum {
    /// The pool.
    pub pool: Pool,
    /// Repeats.
    pub repeats: u32,
    /// Lengths of each.
    pub each: Lengths,
}

impl CueNames {
    /// What `cue` names of a set.
    pub fn of(cue: &str, set: Swum) -> Self {
        let cue = cue.to_lowercase().replace('&', " and ");
        let words = Words::of(&cue);
        let mut names = CueNames::default();
        for at in words.places() {
            names.numbers |= words.is_distance(at, set)
                || words.is_range(at, set.repeats)
                || words.is_repeat(at, set.repeats);
            names.time |= words.is_swim_time(at);
            names.strokes |= words.is_strokes(at);
            if let Some(length) = words.lengths(at) {
                // Beside repeats of one length, "length 8" is a repeat.
                let is_repeat = length > set.each.get() && set.each.get() == 1;
                names.numbers |= is_repeat;
                names.lengths = true;
            }
            names.ends |= words.is_end_length(at);
        }
        names.numbers |= words.places().filter(|at| words.is_ordinal(*at, set.repeats)).count() > 1;
        names
    }

    /// Whether the repeats of its set are held.
    pub fn holds_repeats(self) -> bool {
        self.numbers
    }

    /// Whether the distance of a repeat is held.
    pub fn holds_distance(self) -> bool {
        self.numbers || self.time || self.strokes || self.lengths
    }

    /// What of it is no longer so where a set has become another; `None` where all is.
    pub fn lost(self, was: Swum, is: Swum) -> Option<&'static str> {
        let number = |swum: Swum| swum.pool.distance(swum.each).sixths();
        let same_distance = number(was) == number(is);
        let one_length = was.each.get() > 1 && is.each.get() == 1;
        if self.numbers && !(same_distance && was.repeats == is.repeats) {
            Some("other numbers")
        } else if self.time && !same_distance {
            Some("a time for another distance")
        } else if (self.lengths && was.each != is.each) || (self.ends && one_length) {
            Some("other lengths")
        } else if self.strokes && !alike(was.pool, is.pool) {
            Some("strokes in another pool")
        } else {
            None
        }
    }
}

/// Whether a length of one pool is about one of another: 25 m and 25 yd, not 25 m and 50 m.
fn alike(a: Pool, b: Pool) -> bool {
    let grid = |pool: Pool| pool.length().true_length().grid();
    let (short, long) = (grid(a).min(grid(b)), grid(a).max(grid(b)));
    4 * long <= 5 * short
}

#[cfg(test)]
mod tests;
