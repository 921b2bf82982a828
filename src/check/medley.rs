//! Medleys in whole lengths: a stroke changes at a wall, never in mid-pool.

use unicode_segmentation::UnicodeSegmentation;

use super::CheckedSet;
use crate::measure::{Distance, Lengths, Pool};
use crate::reader::trade_words::TradeWord;
use crate::session::words::Stroke;

/// A medley has four strokes (World Aquatics, Swimming Rules, SW 9).
const STROKES: u32 = 4;

/// A medley of three: the 150 m of World Para Swimming, for its classes SM1 to SM4.
const STROKES_OF_THREE: u32 = 3;

/// It is swum over this distance and no other.
const DISTANCE_OF_THREE: u64 = 150;

/// Half a medley: a length for each of two strokes.
const LENGTHS_OF_HALF: u32 = 2;

/// A cue that says so has a stroke for each repeat. Common practice, no source.
const IN_TURN: [&str; 1] = ["order"];

/// How many strokes a medley of so many lengths of a pool has, each over the same number of them;
/// `None` where a stroke would change in mid-pool.
pub fn strokes_of_medley(each: Lengths, pool: Pool) -> Option<u32> {
    let goes = |strokes| each.get() > 0 && each.get().is_multiple_of(strokes);
    if goes(STROKES) {
        return Some(STROKES);
    }
    (goes(STROKES_OF_THREE) && lengths_of_three(pool) == Some(each)).then_some(STROKES_OF_THREE)
}

/// The lengths of a medley of three strokes in a pool.
fn lengths_of_three(pool: Pool) -> Option<Lengths> {
    let lengths = pool.lengths(Distance::whole(DISTANCE_OF_THREE, pool.unit()))?;
    lengths.get().is_multiple_of(STROKES_OF_THREE).then_some(lengths)
}

/// The lengths of the shortest medley of four strokes that is at least so many.
pub fn medley_from(each: Lengths) -> Lengths {
    Lengths::new(each.get().max(1).next_multiple_of(STROKES))
}

/// Whether a stroke of a medley would change between two walls: it has `each` lengths a repeat,
/// and the cue does not say how the strokes are shared out among the repeats.
pub fn changes_in_mid_pool(stroke: Stroke, each: Lengths, pool: Pool, cue: Option<&str>) -> bool {
    stroke == Stroke::Im
        && strokes_of_medley(each, pool).is_none()
        && !cue.is_some_and(|cue| shares_out(cue, each))
}

/// Whether a cue names an order of strokes, or two of them at least beside two lengths at least.
fn shares_out(cue: &str, each: Lengths) -> bool {
    let cue = cue.to_lowercase();
    let in_turn = cue.unicode_words().any(|word| IN_TURN.contains(&word));
    in_turn || (each.get() >= LENGTHS_OF_HALF && names_strokes(&cue))
}

/// Whether a cue in small letters names two strokes at least.
fn names_strokes(cue: &str) -> bool {
    let mut named: Vec<Stroke> = Vec::new();
    for word in cue.unicode_words() {
        let stroke = Stroke::from_any_spelling(word);
        named.extend(stroke.filter(|stroke| *stroke != Stroke::Im && !named.contains(stroke)));
    }
    named.len() >= 2
}

/// The lengths that repeats of a medley may have in a pool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum MedleyLengths {
    /// Multiples: a whole length for each stroke, or out and back for half a medley.
    Multiples(u32),
    /// No others than these.
    Only(Lengths),
}

/// The lengths that a set written for `home` may have in `pool`, where it is a medley that can be
/// swum as written.
pub(crate) fn medley_lengths(set: &CheckedSet, home: Pool, pool: Pool) -> Option<MedleyLengths> {
    let each = set.cycle.longest();
    if set.stroke() != Stroke::Im || set.cycle.is_shaped() || set.cycle.is_held() {
        return None;
    }
    match strokes_of_medley(each, home) {
        Some(STROKES_OF_THREE) => {
            let only = lengths_of_three(pool).map(MedleyLengths::Only);
            Some(only.unwrap_or(MedleyLengths::Multiples(STROKES)))
        }
        Some(strokes) => Some(MedleyLengths::Multiples(strokes)),
        None => {
            let cue = set.cue.as_ref()?.value.to_lowercase();
            let shared = each.get() >= LENGTHS_OF_HALF && names_strokes(&cue);
            let even = each.get().is_multiple_of(LENGTHS_OF_HALF);
            let step = if even { LENGTHS_OF_HALF } else { each.get() };
            shared.then_some(MedleyLengths::Multiples(step))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 100 m is four lengths of 25 m and two of 50 m; 150 m is six and three; 250 m is
    /// ten and five; 100 m is three lengths of 33 1/3 m.
    #[test]
    fn strokes_change_at_walls_or_not() {
        let mid_pool = |(each, pool): (u32, &str)| {
            let pool = pool.parse().expect("a pool");
            changes_in_mid_pool(Stroke::Im, Lengths::new(each), pool, None)
        };
        for swum in [(4, "25 m"), (6, "25 m"), (6, "25 yd"), (3, "50 m"), (4, "33 1/3 m")] {
            assert!(!mid_pool(swum), "{swum:?}");
        }
        for not in
            [(2, "25 m"), (3, "25 m"), (1, "50 m"), (5, "50 m"), (6, "50 m"), (3, "33 1/3 m")]
        {
            assert!(mid_pool(not), "{not:?}");
        }
        let pool = "25 m".parse().expect("a pool");
        assert!(!changes_in_mid_pool(Stroke::Fly, Lengths::new(1), pool, None));
    }

    #[test]
    fn the_least_medley_is_four_lengths() {
        let from = |each| medley_from(Lengths::new(each)).get();
        assert_eq!([0, 1, 4, 5, 8].map(from), [4, 4, 4, 8, 8]);
    }

    #[test]
    fn a_cue_may_say_which_strokes() {
        let pool = "25 m".parse().expect("a pool");
        let of = |each, cue| changes_in_mid_pool(Stroke::Im, Lengths::new(each), pool, Some(cue));
        let mid_pool = |cue| of(2, cue);
        // One length has no wall between two strokes; in turn it may be one of them.
        assert!(of(1, "one 50 fly and back, one 50 breast and free"));
        assert!(!of(1, "in IM order"));
        assert!(!mid_pool("one 50 fly and back, one 50 breast and free"));
        assert!(!mid_pool("In IM order"));
        assert!(mid_pool("come back strong in the medley"));
        assert!(mid_pool("long"));
    }
}
