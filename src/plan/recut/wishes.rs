//! What a recut should be like, in the order in which one wish gives way to another.
//!
//! This is the one place that says what is preferred to what. Two things come before
//! every wish and are never traded, since no choice is made that lacks them: each repeat
//! is whole lengths and each set keeps a repeat; and no time limit is passed.

use crate::measure::TrueLength;

/// What a recut costs. Fields are compared from the first to the last, so the least
/// breach of one wish outweighs everything after it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    /// Sets that ended at their starting wall and no longer do, and moments at which the
    /// swimmers were at the wall of the session's start and no longer are.
    pub walls: u32,
    /// How far the total is off the wanted distance, beyond half a pair of lengths, on the
    /// grid of true lengths.
    pub miss: u64,
    /// Seconds of a wanted time left unused, beyond a minute.
    pub idle_s: u32,
    /// How far parts' shares are off what they were, beyond three points, and outside the
    /// level's bands if they were inside; thousandths of the distance.
    pub share_permille: u32,
    /// Sets and parts off their own size, and what is awkward to swim, in millimetres.
    pub drift_mm: u64,
    /// How far the total is off at all, on the grid of true lengths.
    pub off: u64,
    /// Round numbers win ties: a point for a set that is no hundred, two for no fifty.
    pub uneven: u32,
}

impl Cost {
    /// Both costs together.
    pub fn plus(self, other: Cost) -> Cost {
        Cost {
            walls: self.walls.saturating_add(other.walls),
            miss: self.miss.saturating_add(other.miss),
            idle_s: self.idle_s.saturating_add(other.idle_s),
            share_permille: self.share_permille.saturating_add(other.share_permille),
            drift_mm: self.drift_mm.saturating_add(other.drift_mm),
            off: self.off.saturating_add(other.off),
            uneven: self.uneven.saturating_add(other.uneven),
        }
    }
}

/// A time target may leave this much unused before it counts.
pub(super) const IDLE_FREE_S: u32 = 60;

/// A part's share may move this far before it counts, in thousandths.
pub(super) const SHARE_FREE_PERMILLE: u64 = 30;

/// A swim this long is one whose lengths a coach changes, rather than its count; in
/// metres or yards.
pub(super) const LONG_SWIM: u64 = 200;

/// How far something is off its own size: the square of the difference over the size, so
/// that large sets give way before small ones and two small steps before one large.
pub(super) fn drift_mm(now: TrueLength, wish: TrueLength) -> u64 {
    const GRID_PER_MM: u128 = (TrueLength::GRID_PER_METRE / 1000) as u128;
    let off = u128::from(now.grid().abs_diff(wish.grid()));
    let size = u128::from(wish.grid().max(1)) * GRID_PER_MM;
    u64::try_from(off * off / size).unwrap_or(u64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_earlier_wish_outweighs_all_later_ones() {
        let wall = Cost { walls: 1, ..Cost::default() };
        let rest = Cost { miss: 9, idle_s: 9, share_permille: 9, drift_mm: 9, off: 9, ..wall };
        assert!(Cost { walls: 0, ..rest } < wall);
        assert!(Cost { walls: 0, miss: 0, ..rest } < Cost { walls: 0, ..rest });
    }

    #[test]
    fn drift_is_the_square_over_the_size() {
        // By hand: 50 m off 200 m is 2500 / 200 = 12.5 m.
        let length = |metres: u64| TrueLength::from_grid(metres * TrueLength::GRID_PER_METRE);
        assert_eq!(drift_mm(length(250), length(200)), 12_500);
        assert_eq!(drift_mm(length(150), length(200)), 12_500);
    }
}
