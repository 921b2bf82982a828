//! Sizes chosen so far, with their sums.

use super::{Aim, Window};
use crate::draft::size::Size;
use crate::session::words::{Effort, Stroke};

/// A session has four parts beside the main set at most, and a main set three patterns.
const MOST_SIZES: usize = 4;

/// A choice of one size from each of the first patterns or parts.
#[derive(Clone, Copy)]
pub(super) struct Choice<'m, 'a> {
    sizes: [Option<&'m Size<'a>>; MOST_SIZES],
    pub lengths: u32,
    /// Sets and a changeover for each line.
    pub seconds: u32,
    /// The hardest that counts.
    pub peak: Effort,
    /// What it costs so far.
    pub points: u64,
    /// The last work that what follows is compared with.
    pub last: Option<Work>,
}

/// What a set is as work: its lengths, its seconds with rests, its stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Work {
    pub lengths: u32,
    pub seconds: u32,
    pub stroke: Stroke,
}

impl<'m, 'a> Choice<'m, 'a> {
    /// Nothing chosen yet.
    pub fn none() -> Self {
        Self {
            sizes: [None; MOST_SIZES],
            lengths: 0,
            seconds: 0,
            peak: Effort::Easy,
            points: 0,
            last: None,
        }
    }

    /// One more size, which costs so many points, and whose time is `seconds`, changeovers
    /// included.
    pub fn with(mut self, size: &'m Size<'a>, points: u64, seconds: u32) -> Self {
        if let Some(free) = self.sizes.iter_mut().find(|chosen| chosen.is_none()) {
            *free = Some(size);
        }
        self.lengths = self.lengths.saturating_add(size.lengths);
        self.seconds = self.seconds.saturating_add(seconds);
        self.points = self.points.saturating_add(points);
        self
    }

    /// What was chosen, in order.
    pub fn sizes(&self) -> impl Iterator<Item = &'m Size<'a>> {
        self.sizes.into_iter().flatten()
    }
}

/// What a size costs by itself: what is awkward, or its time.
pub(super) fn own_points(size: &Size<'_>, seconds: u32, window: Window) -> u64 {
    match window.aim {
        Aim::Best => u64::from(size.awkward),
        Aim::Quickest => u64::from(seconds),
        Aim::Slowest => u64::from(u32::MAX - seconds),
    }
}

/// The time of a size, with a changeover for each line.
pub(super) fn timed(size: &Size<'_>, changeover: u32) -> u32 {
    let lines = u32::try_from(size.lines.len()).unwrap_or(u32::MAX);
    size.seconds.saturating_add(lines.saturating_mul(changeover))
}

/// Seconds within which two choices may pass for one, where there are too many: the finest that
/// leaves few enough is taken.
const STEPS_S: [u32; 5] = [1, 15, 30, 60, 120];

/// Of choices that are alike for what follows, the cheapest, the earlier of equals; and where
/// these are still more than `most`, those that are alike within more and more seconds.
pub(super) fn pruned<'m, 'a>(
    mut choices: Vec<Choice<'m, 'a>>,
    window: Window,
    most: usize,
) -> Vec<Choice<'m, 'a>> {
    let steps = if window.is_timed() { STEPS_S.as_slice() } else { &[u32::MAX] };
    for step in steps {
        let key = |c: &Choice<'_, '_>| (c.lengths, c.seconds / step, c.peak, c.last);
        choices.sort_by_key(|choice| (key(choice), choice.points));
        choices.dedup_by(|next, first| key(next) == key(first));
        // The quickest and the slowest have no likings: what is alike is one, whatever the rest.
        if choices.len() <= most || window.aim != Aim::Best {
            return choices;
        }
    }
    choices.sort_by_key(|choice| choice.points);
    choices.truncate(most);
    choices
}
