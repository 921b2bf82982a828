//! Main sets of one pattern or several, joined.

use super::choice::{Choice, Work, own_points, pruned, timed};
use super::{Aim, Patience, Window};
use crate::advice::rest::Holds;
use crate::draft::size::{Bench, Size, SizedSet};
use crate::measure::LIMITS;
use crate::session::ShareBand;

/// Choices of one size from each of the main set's patterns, by lengths and then by seconds.
pub(in crate::draft) struct Mains<'m, 'a>(Vec<Choice<'m, 'a>>);

/// Main sets that are kept of some patterns.
const MOST_MAINS: usize = 3000;
/// Main sets of the same lengths and effort that are kept of all patterns.
const MOST_ALIKE: usize = 4;

impl<'m, 'a> Mains<'m, 'a> {
    /// Joins patterns in their order. Those of too many lengths or seconds for the window are
    /// left out, and those that thin out where they must not.
    pub fn joined(
        bench: Bench<'_>,
        patterns: &[&'m [Size<'a>]],
        window: Window,
        patience: &Patience,
    ) -> Self {
        let changeover = bench.head.changeover.get();
        let holds = bench.head.goal_said().and_then(Holds::of);
        let mut mains = vec![Choice::none()];
        for (at, sizes) in patterns.iter().enumerate() {
            let is_last = at + 1 == patterns.len();
            let sizes: Vec<(&'m Size<'a>, u32, Joint)> = sizes
                .iter()
                .map(|size| (size, timed(size, changeover), Joint::of(size, holds)))
                .filter(|(_, _, joint)| joint.holds_inside)
                .collect();
            if !patience.spend(mains.len().saturating_mul(sizes.len())) {
                return Self(Vec::new());
            }
            let mut longer = Vec::new();
            for (main, (size, seconds, joint)) in
                mains.iter().flat_map(|main| sizes.iter().map(move |size| (main, size)))
            {
                let mut with = main.with(size, own_points(size, *seconds, window), *seconds);
                let too_much = with.lengths > window.lengths.1 || with.seconds > window.seconds.1;
                if too_much || falls(holds, main.last, joint.first) {
                    continue;
                }
                with.peak = main.peak.max(size.peak);
                // Nothing follows the last pattern that would be compared with it.
                with.last = if is_last { None } else { joint.last.or(main.last) };
                longer.push(with);
            }
            mains = pruned(longer, window, MOST_MAINS);
        }
        if patterns.is_empty() {
            mains.clear();
        }
        mains.sort_by_key(|main| (main.lengths, main.seconds));
        mains.shrink_to_fit();
        Self(mains)
    }

    /// Several lists as one: of main sets that are alike for the parts beside them the few that
    /// are nearest to the aim.
    pub fn merged(lists: impl IntoIterator<Item = Self>, aim: Aim) -> Self {
        let mut all: Vec<Choice<'m, 'a>> = lists.into_iter().flat_map(|mains| mains.0).collect();
        let rank = |main: &Choice<'_, '_>| match aim {
            Aim::Slowest => u32::MAX - main.seconds,
            Aim::Quickest | Aim::Best => main.seconds,
        };
        all.sort_by_key(|main| (main.lengths, main.peak, rank(main)));
        let (mut before, mut alike) = (None, 0);
        all.retain(|main| {
            let key = Some((main.lengths, main.peak));
            alike = if key == before { alike + 1 } else { 1 };
            before = key;
            alike <= MOST_ALIKE
        });
        all.sort_by_key(|main| (main.lengths, main.seconds));
        Self(all)
    }

    /// Those of so many lengths that take from the one to the other of `seconds`.
    pub(super) fn of(&self, lengths: u32, seconds: (u32, u32)) -> &[Choice<'m, 'a>] {
        let from =
            self.0.partition_point(|main| (main.lengths, main.seconds) < (lengths, seconds.0));
        let to =
            self.0.partition_point(|main| (main.lengths, main.seconds) <= (lengths, seconds.1));
        self.0.get(from..to).unwrap_or_default()
    }

    /// The whole lengths of sessions that these can be the main set of, in the window. Every part
    /// ends where it began, so they are even.
    pub(super) fn wholes(
        &self,
        band: Option<ShareBand>,
        window: Window,
    ) -> impl Iterator<Item = u32> + use<> {
        let least = self.0.first().map_or(u32::MAX, |main| main.lengths);
        let most = self.0.last().map_or(0, |main| main.lengths);
        let whole = |lengths: u32, percent: u32| match percent {
            0 => u32::MAX,
            percent => {
                u32::try_from(u64::from(lengths) * 100 / u64::from(percent)).unwrap_or(u32::MAX)
            }
        };
        let (low, high) = band
            .map_or((least, u32::MAX), |band| (whole(least, band.most), whole(most, band.least)));
        let (low, high) = (low.max(window.lengths.0), high.min(window.lengths.1));
        // A band from 0 % or no band at all sets no end; the limits of a session do.
        let high = high.min(most_lengths());
        (low.div_ceil(2)..=high / 2).map(|laps| laps * 2)
    }

    /// Least and most seconds of those whose share of `whole` lengths is inside the band.
    pub(super) fn span(&self, band: Option<ShareBand>, whole: u32) -> Option<(u32, u32)> {
        let band = band.unwrap_or(ShareBand { least: 0, most: 100 });
        let whole = u64::from(whole);
        let below = |main: &Choice<'_, '_>| u64::from(main.lengths) * 100;
        let from = self.0.partition_point(|main| below(main) < u64::from(band.least) * whole);
        let to = self.0.partition_point(|main| below(main) <= u64::from(band.most) * whole);
        let inside = self.0.get(from..to)?;
        let least = inside.iter().map(|main| main.seconds).min()?;
        Some((least, inside.iter().map(|main| main.seconds).max()?))
    }
}

/// Lengths of the longest session in the shortest pool there is.
fn most_lengths() -> u32 {
    let lengths = LIMITS.session_distance.most * 3 / LIMITS.pool_thirds.least.max(1);
    u32::try_from(lengths).unwrap_or(u32::MAX)
}

/// What of a size is compared with the work before and after it, by the rule on main sets that
/// thin out.
struct Joint {
    holds_inside: bool,
    first: Option<Work>,
    last: Option<Work>,
}

impl Joint {
    fn of(size: &Size<'_>, holds: Option<Holds>) -> Self {
        let Some(rule) = holds else { return Self { holds_inside: true, first: None, last: None } };
        let sets = size.lines.iter().flat_map(|line| &line.sets);
        let work: Vec<Work> = sets
            .filter(|set| rule.compares(set.mode, set.effort()) && !set.set.fixed)
            .map(work)
            .collect();
        let pairs = work.windows(2);
        let holds_inside = pairs.into_iter().all(|pair| match pair {
            [before, now] => !falls(holds, Some(*before), Some(*now)),
            _ => true,
        });
        Self { holds_inside, first: work.first().copied(), last: work.last().copied() }
    }
}

fn work(set: &SizedSet<'_>) -> Work {
    Work { lengths: set.lengths(), seconds: set.seconds(), stroke: set.stroke }
}

/// Whether work falls too far behind the work before it.
fn falls(holds: Option<Holds>, before: Option<Work>, now: Option<Work>) -> bool {
    match (holds, before, now) {
        (Some(holds), Some(before), Some(now)) if before.stroke == now.stroke => {
            holds.falls((now.lengths, now.seconds), (before.lengths, before.seconds))
        }
        _ => false,
    }
}
