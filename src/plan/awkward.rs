//! What a coach would rather not chalk, on one scale for recuts and drafts.
//!
//! Everything is as if a set were so much off its own size: a metre here weighs as much as a set
//! of 100 m that is 10 m off. Judgement, no source.

use crate::measure::Distance;

/// Seven lengths a repeat: nobody can count them, and they end at the far wall.
pub(crate) const SEVEN_LENGTHS_MM: u64 = 100_000;
/// Five, nine or more odd lengths a repeat, where the set had not so.
pub(crate) const ODD_LENGTHS_MM: u64 = 20_000;
/// A repeat that ended at its starting wall and no longer does.
pub(crate) const REPEAT_ENDS_AWAY_MM: u64 = 10_000;
/// Another distance for the repeats of a set that could keep its own.
pub(crate) const OTHER_LENGTHS_MM: u64 = 10_000;
/// A long swim that is no multiple of 50.
pub(crate) const LONG_NO_FIFTY_MM: u64 = 3_000;
/// An odd count from seven on: 7, 9, 11 times.
pub(crate) const ODD_COUNT_MM: u64 = 8_000;
/// An odd count where it was even: pairs are swum in pairs.
pub(crate) const PAIR_BROKEN_MM: u64 = 5_000;
/// A set that has become one swim.
pub(crate) const LONE_REPEAT_MM: u64 = 15_000;
/// One set inside a round changed, rather than the number of rounds.
pub(crate) const INSIDE_ROUND_MM: u64 = 5_000;
/// Where sets are chosen and not changed: three times, which is no pair.
const THREE_MM: u64 = 1_000;
/// Five times, or more than a dozen that are still easily counted: 14, 16, 20.
const LARGE_COUNT_MM: u64 = 3_000;

/// What so many lengths a repeat weigh, wherever the set comes from.
pub(crate) fn lengths_mm(each: u32) -> u64 {
    match each {
        7 => SEVEN_LENGTHS_MM,
        each if each >= 5 && each % 2 == 1 => ODD_LENGTHS_MM,
        _ => 0,
    }
}

/// What a count weighs that is chosen anew: 7, 9 and 18 times as much as an odd count in a recut.
pub(crate) fn count_mm(repeats: u32) -> u64 {
    match repeats {
        1 | 2 | 4 | 6 | 8 | 10 | 12 => 0,
        3 => THREE_MM,
        5 | 14 | 16 | 20 => LARGE_COUNT_MM,
        _ => ODD_COUNT_MM,
    }
}

/// How far a distance is from a round one, in points: 0 for whole hundreds, 1 for whole fifties,
/// else 2.
pub(crate) fn uneven(distance: Distance) -> u32 {
    let no_multiple_of = |whole: u64| u32::from(!distance.sixths().is_multiple_of(whole * 6));
    no_multiple_of(100) + no_multiple_of(50)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;

    #[test]
    fn hundreds_are_rounder_than_fifties() {
        let uneven = |whole: u64| uneven(Distance::whole(whole, Unit::Metre));
        assert_eq!([400, 150, 175].map(uneven), [0, 1, 2]);
    }

    #[test]
    fn odd_lengths_weigh_from_five_on() {
        assert_eq!([1, 3, 4, 5, 7, 9].map(lengths_mm), [0, 0, 0, 20_000, 100_000, 20_000]);
    }
}
