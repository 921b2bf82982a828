//! The quickest and the slowest way to swim a number of lengths: exactly, and by bounds that cost
//! a hundredth of that.

use super::{allowed_by_line, wall};
use crate::plan::recut::choices::Choice;
use crate::plan::recut::search::step::{ANYTHING, Allowed};
use crate::plan::recut::space::{LineSpace, Space};

/// An end of a span of times.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plan::recut) enum End {
    Quickest,
    Slowest,
}

/// No way leads here.
const NOWHERE: i64 = i64::MAX;

/// A wall broken outweighs every time there is.
const WALL: i64 = 1 << 40;

/// A choice as the span sees it: its lengths, and its walls and time in one number, least first.
#[derive(Clone, Copy)]
struct Step {
    lengths: u32,
    weight: i64,
}

impl End {
    fn weight(self, walls: u32, seconds: u32) -> i64 {
        let seconds = i64::from(seconds);
        i64::from(walls) * WALL + if self == End::Quickest { seconds } else { -seconds }
    }

    /// The walls and the time that make a weight.
    fn apart(self, weight: i64) -> Option<(u32, u32)> {
        let (walls, seconds) = match self {
            End::Quickest => (weight.div_euclid(WALL), weight.rem_euclid(WALL)),
            End::Slowest => {
                let walls = -(-weight).div_euclid(WALL);
                (walls, walls * WALL - weight)
            }
        };
        Some((u32::try_from(walls).ok()?, u32::try_from(seconds).unwrap_or(u32::MAX)))
    }

    /// A line's choices, of those of equal lengths the one that counts.
    fn steps(self, line: &LineSpace) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::with_capacity(line.choices.len());
        for choice in &line.choices {
            let weight = self.weight(choice.cost.walls, choice.seconds);
            match steps.iter_mut().find(|step| step.lengths == choice.lengths) {
                Some(step) => step.weight = step.weight.min(weight),
                None => steps.push(Step { lengths: choice.lengths, weight }),
            }
        }
        steps
    }
}

/// The walls broken and the time of the quickest way to swim exactly `lengths`, or of the
/// slowest; of those that break the fewest walls.
pub(in crate::plan::recut) fn time_span(
    space: &Space,
    lengths: u32,
    end: End,
) -> Option<(u32, u32)> {
    let whole = Allowed { least_lengths: lengths, most_lengths: lengths, ..ANYTHING };
    let lines = space.parts.iter().flat_map(|part| &part.lines);
    // The least weight of each number of lengths from `first` on.
    let (mut first, mut least) = (0_u32, vec![0_i64]);
    for (line, allowed) in lines.zip(allowed_by_line(space, whole)) {
        let steps = end.steps(line);
        let all = || steps.iter().map(|step| step.lengths);
        let low = first.saturating_add(all().min()?).max(allowed.least_lengths);
        let last = first.saturating_add(u32::try_from(least.len()).ok()?.saturating_sub(1));
        let high = last.saturating_add(all().max()?).min(allowed.most_lengths);
        let count = usize::try_from(high.checked_sub(low)?).ok()? + 1;
        let mut next = vec![NOWHERE; count];
        for (before, weight) in (first..).zip(&least) {
            if *weight == NOWHERE {
                continue;
            }
            for step in &steps {
                let at = before.saturating_add(step.lengths).wrapping_sub(low);
                if let Some(kept) = next.get_mut(at as usize) {
                    *kept = (*kept).min(weight.saturating_add(step.weight));
                }
            }
        }
        for (total, weight) in (low..).zip(&mut next) {
            if *weight != NOWHERE {
                *weight = weight.saturating_add(i64::from(wall(line.home, total)) * WALL);
            }
        }
        (first, least) = (low, next);
    }
    let weight = least.first().copied().filter(|weight| *weight != NOWHERE)?;
    end.apart(weight)
}

/// Times are priced by the length in so many parts of a second.
const PRICE_PARTS: i64 = 16;

/// A time that no way of swimming `lengths` is quicker than, or slower than.
///
/// Each length is given a price: a line then takes the choice that is cheapest at it, and what the
/// lengths cost together is given back. That holds at every price (Lagrange's bound, as in Everett
/// 1963, Operations Research 11(3):399-417); the best is found by halving.
pub(in crate::plan::recut) fn bound(space: &Space, lengths: u32, end: End) -> u32 {
    let lines = || space.parts.iter().flat_map(|part| &part.lines);
    let priced = |price: i64| -> (i64, i64) {
        let (mut time, mut taken) = (0_i64, 0_i64);
        for line in lines() {
            let value = |choice: &Choice| {
                let seconds = i64::from(choice.seconds) * PRICE_PARTS;
                let value = seconds - price * i64::from(choice.lengths);
                if end == End::Quickest { value } else { -value }
            };
            let best = line.choices.iter().map(|choice| (value(choice), choice.lengths)).min();
            let (value, lengths) = best.unwrap_or_default();
            time += if end == End::Quickest { value } else { -value };
            taken += i64::from(lengths);
        }
        (time + price * i64::from(lengths), taken)
    };
    let (mut low, mut high) = (0_i64, 1 << 20);
    let mut best = priced(0).0;
    while low + 1 < high {
        let price = (low + high) / 2;
        let (time, taken) = priced(price);
        best = if end == End::Quickest { best.max(time) } else { best.min(time) };
        // At a higher price for the quickest, longer choices are taken; for the slowest, shorter.
        let too_few = (taken < i64::from(lengths)) == (end == End::Quickest);
        if too_few { low = price } else { high = price }
    }
    let rounded = if end == End::Quickest { best + PRICE_PARTS - 1 } else { best };
    u32::try_from(rounded.div_euclid(PRICE_PARTS).max(0)).unwrap_or(u32::MAX)
}

/// The fewest walls that any way breaks, whatever its lengths.
pub(in crate::plan::recut) fn walls_bound(space: &Space) -> u32 {
    // By whether the lengths so far are odd.
    let mut fewest = [Some(0_u32), None];
    for line in space.parts.iter().flat_map(|part| &part.lines) {
        let mut next = [None, None];
        for (odd, walls) in [0_u32, 1].into_iter().zip(fewest) {
            let Some(walls) = walls else { continue };
            for choice in &line.choices {
                let total = (odd + choice.lengths) % 2;
                let walls = walls + choice.cost.walls + wall(line.home, total);
                if let Some(kept) = next.get_mut(total as usize) {
                    *kept = Some(kept.map_or(walls, |kept: u32| kept.min(walls)));
                }
            }
        }
        fewest = next;
    }
    fewest.into_iter().flatten().min().unwrap_or(0)
}
