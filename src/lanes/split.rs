//! Who swims in which lane: an exact split of the swimmers in order of pace.

use thiserror::Error;

use super::Swimmer;
use crate::measure::{LIMITS, Seconds};

/// One lane's swimmers, the slowest first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seating {
    /// Who swims in it; one at least.
    pub swimmers: Vec<Swimmer>,
}

impl Seating {
    /// The pace its card is cut for: that of its slowest, so that all make the send-offs.
    pub fn pace(&self) -> Seconds {
        self.swimmers.iter().map(|swimmer| swimmer.pace).max().unwrap_or_default()
    }

    /// From the quickest to the slowest in the lane.
    pub fn spread(&self) -> Seconds {
        let quickest = self.swimmers.iter().map(|swimmer| swimmer.pace).min();
        self.pace().less(quickest.unwrap_or_default())
    }
}

/// Why swimmers cannot be split.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum SplitError {
    /// No lanes, or more than a session may have.
    #[error("{0} lanes; there may be from 1 to 24")]
    Lanes(usize),
    /// Nobody to a lane, or more than a lane may hold.
    #[error("{0} to a lane; there may be from 1 to 50")]
    Most(usize),
    /// More swimmers than places.
    #[error("{swimmers} swimmers do not fit {lanes} lanes of {most}: {over} too many")]
    NoRoom {
        /// Swimmers.
        swimmers: usize,
        /// Lanes.
        lanes: usize,
        /// The most to a lane.
        most: usize,
        /// Those without a place.
        over: usize,
    },
}

/// Splits swimmers into at most `lanes` lanes of at most `most` swimmers, the slowest lane first.
///
/// The widest difference of pace within a lane is as small as can be; of the splits that
/// have it so, the one with the least differences in all, and then with the evenest lanes. Found
/// exactly, by dynamic programming over the swimmers in order of pace.
///
/// # Errors
///
/// Where there are more swimmers than places, or no such number of lanes or places.
pub fn split(
    mut swimmers: Vec<Swimmer>,
    lanes: usize,
    most: usize,
) -> Result<Vec<Seating>, SplitError> {
    if lanes == 0 || !LIMITS.lanes.holds(lanes as u64) {
        return Err(SplitError::Lanes(lanes));
    }
    if !LIMITS.swimmers.holds(most as u64) {
        return Err(SplitError::Most(most));
    }
    let over = swimmers.len().saturating_sub(lanes * most);
    if over > 0 {
        return Err(SplitError::NoRoom { swimmers: swimmers.len(), lanes, most, over });
    }
    swimmers.sort_by(|a, b| b.pace.cmp(&a.pace).then_with(|| a.name.cmp(&b.name)));
    let paces: Vec<u32> = swimmers.iter().map(|swimmer| swimmer.pace.get()).collect();
    let mut seating = Vec::new();
    for size in sizes(&paces, lanes, most) {
        let rest = swimmers.split_off(size.min(swimmers.len()));
        seating.push(Seating { swimmers });
        swimmers = rest;
    }
    Ok(seating)
}

/// How many swim in each lane, given paces from the slowest on.
fn sizes(paces: &[u32], lanes: usize, most: usize) -> Vec<usize> {
    let lanes = lanes.min(paces.len());
    let widest = table(paces, lanes, most, |best, width, _| best.max((u64::from(width), 0)));
    let limit = widest.last().and_then(|row| row.last()).copied().flatten();
    let Some(((limit, _), _)) = limit else { return Vec::new() };
    let best = table(paces, lanes, most, |(spread, squares), width, size| {
        if u64::from(width) > limit {
            return (u64::MAX, 0);
        }
        (spread.saturating_add(u64::from(width)), squares + (size * size) as u64)
    });
    let mut sizes = Vec::new();
    let mut end = paces.len();
    for lane in (1..=lanes).rev() {
        let cell = best.get(lane).and_then(|row| row.get(end)).copied().flatten();
        let Some((_, size)) = cell else { break };
        sizes.push(size);
        end -= size;
    }
    sizes.reverse();
    sizes
}

/// A row for each number of lanes, a cell for each number of swimmers in them: the best
/// there is, and how many swim in the last lane.
type Table = Vec<Vec<Option<((u64, u64), usize)>>>;

/// Fills the table; `add` puts a lane of a width and a size to the best of those before it.
fn table(
    paces: &[u32],
    lanes: usize,
    most: usize,
    add: impl Fn((u64, u64), u32, usize) -> (u64, u64),
) -> Table {
    let mut rows: Table = vec![vec![None; paces.len() + 1]; lanes + 1];
    rows[0][0] = Some(((0, 0), 0));
    for lane in 1..=lanes {
        for end in lane..=paces.len() {
            let sizes = (1..=most.min(end)).filter_map(|size| {
                let (before, _) = rows[lane - 1][end - size]?;
                let width = paces[end - size] - paces[end - 1];
                Some((add(before, width, size), size))
            });
            rows[lane][end] = sizes.min();
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    /// (widest, all, squares) of every split of `paces`, tried one by one after `before`.
    fn by_force(
        paces: &[u32],
        lanes: usize,
        most: usize,
        before: (u32, u32, usize),
    ) -> Option<(u32, u32, usize)> {
        if paces.is_empty() || lanes == 0 {
            return (paces.is_empty() && lanes == 0).then_some(before);
        }
        let (widest, all, squares) = before;
        let tries = (1..=most.min(paces.len())).filter_map(|size| {
            let width = paces[0] - paces[size - 1];
            let so_far = (widest.max(width), all + width, squares + size * size);
            by_force(&paces[size..], lanes - 1, most, so_far)
        });
        tries.min()
    }

    #[test]
    fn splits_are_as_good_as_trying_them_all() {
        let mut state: u32 = 7;
        for _ in 0..500 {
            let mut roll = |sides: u32| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (state >> 16) % sides
            };
            let mut paces: Vec<u32> = (0..1 + roll(9)).map(|_| 80 + roll(60)).collect();
            paces.sort_by(|a, b| b.cmp(a));
            let (lanes, most) = (1 + roll(4) as usize, 2 + roll(4) as usize);
            if paces.len() > lanes * most {
                continue;
            }
            let sizes = sizes(&paces, lanes, most);
            let (mut at, mut widest, mut all, mut squares) = (0, 0, 0, 0);
            for size in sizes {
                let width = paces[at] - paces[at + size - 1];
                (widest, all, squares) = (widest.max(width), all + width, squares + size * size);
                at += size;
            }
            assert_eq!(at, paces.len());
            let forced = by_force(&paces, lanes.min(paces.len()), most, (0, 0, 0));
            assert_eq!(Some((widest, all, squares)), forced, "{paces:?} {lanes} {most}");
        }
    }

    #[test]
    fn too_many_for_the_lanes_are_told() {
        let swimmer = Swimmer { name: "A".to_owned(), pace: Seconds::new(100) };
        let error = split(vec![swimmer; 9], 2, 4).expect_err("nine do not fit eight places");
        assert_eq!(error.to_string(), "9 swimmers do not fit 2 lanes of 4: 1 too many");
    }
}
