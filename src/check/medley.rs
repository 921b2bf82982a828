//! Medleys in whole lengths: a stroke changes at a wall, never in mid-pool.

use unicode_segmentation::UnicodeSegmentation;

use super::CheckedSet;
use crate::measure::Lengths;
use crate::reader::trade_words::TradeWord;
use crate::session::words::Stroke;

/// A medley has four strokes (World Aquatics, Swimming Rules, SW 9).
const STROKES: u32 = 4;

/// A medley of three: the 150 m of World Para Swimming, for its classes SM1 to SM4.
const STROKES_OF_THREE: u32 = 3;

/// A cue that says so has a stroke for each repeat. Common practice, no source.
const IN_TURN: [&str; 1] = ["order"];

/// How many strokes a medley of so many lengths has, each over the same number of them; `None`
/// where a stroke would change in mid-pool.
pub fn strokes_of_medley(each: Lengths) -> Option<u32> {
    [STROKES, STROKES_OF_THREE]
        .into_iter()
        .find(|strokes| each.get() > 0 && each.get().is_multiple_of(*strokes))
}

/// Whether a stroke of a medley would change between two walls: it has `each` lengths a repeat,
/// and the cue does not say how the strokes are shared out among the repeats.
pub fn changes_in_mid_pool(stroke: Stroke, each: Lengths, cue: Option<&str>) -> bool {
    stroke == Stroke::Im && strokes_of_medley(each).is_none() && !cue.is_some_and(shares_out)
}

/// Whether a cue names two strokes at least, or an order of them.
fn shares_out(cue: &str) -> bool {
    let cue = cue.to_lowercase();
    let mut named: Vec<Stroke> = Vec::new();
    for word in cue.unicode_words() {
        if IN_TURN.contains(&word) {
            return true;
        }
        let stroke = Stroke::from_any_spelling(word);
        named.extend(stroke.filter(|stroke| *stroke != Stroke::Im && !named.contains(stroke)));
    }
    named.len() >= 2
}

/// The strokes a set keeps a whole length for in every pool: of a medley that can be swum.
pub(crate) fn strokes_kept(set: &CheckedSet) -> Option<u32> {
    (set.stroke == Stroke::Im).then(|| strokes_of_medley(set.each)).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 100 m is four lengths of 25 m and two of 50 m; 150 m is six and three; 250 m is
    /// ten and five.
    #[test]
    fn strokes_change_at_walls_or_not() {
        let mid_pool = |each| changes_in_mid_pool(Stroke::Im, Lengths::new(each), None);
        assert_eq!(
            [4, 2, 6, 3, 10, 5, 1].map(mid_pool),
            [false, true, false, false, true, true, true]
        );
        assert!(!changes_in_mid_pool(Stroke::Fly, Lengths::new(1), None));
    }

    #[test]
    fn a_cue_may_say_which_strokes() {
        let mid_pool = |cue| changes_in_mid_pool(Stroke::Im, Lengths::new(2), Some(cue));
        assert!(!mid_pool("one 50 fly and back, one 50 breast and free"));
        assert!(!mid_pool("In IM order"));
        assert!(mid_pool("come back strong in the medley"));
        assert!(mid_pool("long"));
    }
}
