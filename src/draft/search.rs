//! The best sizes of the patterns of a session: inside the bands, in the time or at the
//! distance.
//!
//! A session's cost is a sum over its parts once its whole length is given, so for each whole
//! length the parts beside the main set are put together first, and of choices that are alike
//! for what follows only the cheapest goes on. Work is counted and never timed: the same wish
//! always ends the same.

mod around;
mod choice;
mod mains;

use std::cell::Cell;

pub(super) use around::{Side, Sides};
pub(super) use mains::Mains;

use choice::Choice;

use super::size::{Bench, Size};
use crate::measure::Lengths;
use crate::plan::awkward::uneven;
use crate::plan::bands::{band, holds};
use crate::session::ShareBand;
use crate::session::words::PartKind;

/// The seconds and lengths a session may have, ends included.
#[derive(Clone, Copy, Debug)]
pub(super) struct Window {
    /// Least and most seconds, changeovers counted.
    pub seconds: (u32, u32),
    /// Least and most lengths.
    pub lengths: (u32, u32),
    /// The lengths rather met than any other of the window, if any are.
    pub wished_lengths: Option<u32>,
    /// Which session of the window is wanted.
    pub aim: Aim,
}

/// Which of the sessions that fit is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    /// The one a coach would rather chalk.
    Best,
    /// The one that takes least time.
    Quickest,
    /// The one that takes most time.
    Slowest,
}

impl Window {
    /// Whether it matters how long a choice takes, beside what it costs.
    fn is_timed(&self) -> bool {
        self.aim == Aim::Best && self.seconds.1 < u32::MAX
    }
}

/// A session found: each part's kind and size, in the order they are swum.
#[derive(Clone, Debug)]
pub(super) struct Found<'a> {
    pub parts: Vec<(PartKind, Size<'a>)>,
    pub lengths: u32,
    pub seconds: u32,
}

/// So many sessions are returned, the best first.
const BEST: usize = 4;

/// Choices that are still looked at for a wish, so that one far out is refused soon and not
/// after every session there is has been tried.
pub(super) struct Patience(Cell<u64>);

impl Patience {
    pub fn of(choices: u64) -> Self {
        Self(Cell::new(choices))
    }

    /// As many as at first, for another search.
    pub fn renew(&self, choices: u64) {
        self.0.set(choices);
    }

    /// Whether there is none left.
    pub fn is_lost(&self) -> bool {
        self.0.get() == 0
    }

    /// Takes so many choices off; false where none was left.
    fn spend(&self, choices: usize) -> bool {
        let left = self.0.get();
        self.0.set(left.saturating_sub(u64::try_from(choices).unwrap_or(u64::MAX)));
        left > 0
    }
}

/// The best few sessions of these parts in a window, the best first.
pub(super) fn best<'a>(
    bench: Bench<'_>,
    sides: &Sides<'_, 'a>,
    mains: &Mains<'_, 'a>,
    window: Window,
    patience: &Patience,
) -> Vec<Found<'a>> {
    let changeover = bench.head.changeover.get();
    let main_band = band(bench.head, PartKind::MainSet);
    let mut kept: Vec<(u64, Choice<'_, 'a>, Choice<'_, 'a>)> = Vec::new();
    for whole in mains.wholes(main_band, window) {
        if patience.is_lost() {
            break;
        }
        if !could_end_in_time(bench, sides, mains, whole, window) {
            continue;
        }
        let base = cost_of_whole(bench, whole, window);
        for around in sides.at(bench, whole, window, patience).iter() {
            let Some(lengths) = whole.checked_sub(around.lengths) else { continue };
            if main_band.is_some_and(|band| !holds(band, lengths.into(), whole.into())) {
                continue;
            }
            // The last line has no changeover after it.
            let fixed = around.seconds.saturating_sub(changeover);
            let Some(most) = window.seconds.1.checked_sub(fixed) else { continue };
            let span = (window.seconds.0.saturating_sub(fixed), most);
            for main in mains.of(lengths, span) {
                if !patience.spend(1) {
                    break;
                }
                if around.peak > main.peak {
                    continue;
                }
                let seconds = fixed.saturating_add(main.seconds);
                let cost = match window.aim {
                    Aim::Quickest => u64::from(seconds),
                    Aim::Slowest => u64::from(u32::MAX - seconds),
                    Aim::Best => base + around.points + main.points + idle_cost(window, seconds),
                };
                if kept.len() == BEST && kept.last().is_some_and(|(worst, ..)| cost >= *worst) {
                    continue;
                }
                let at = kept.partition_point(|(known, ..)| *known <= cost);
                kept.insert(at, (cost, *main, *around));
                kept.truncate(BEST);
            }
        }
    }
    kept.iter().map(|(_, main, around)| found(sides, around, main, changeover)).collect()
}

/// Whether the parts have sizes that together end inside the window, each by itself: what does
/// not is not looked at more closely.
fn could_end_in_time(
    bench: Bench<'_>,
    sides: &Sides<'_, '_>,
    mains: &Mains<'_, '_>,
    whole: u32,
    window: Window,
) -> bool {
    let main_band = band(bench.head, PartKind::MainSet);
    let (Some(beside), Some(main)) = (sides.span(bench, whole), mains.span(main_band, whole))
    else {
        return false;
    };
    let changeover = bench.head.changeover.get();
    let least = beside.0.saturating_add(main.0).saturating_sub(changeover);
    let most = beside.1.saturating_add(main.1).saturating_sub(changeover);
    least <= window.seconds.1 && window.seconds.0 <= most
}

/// Points for the whole length alone. A round total is easier to remember.
fn cost_of_whole(bench: Bench<'_>, whole: u32, window: Window) -> u64 {
    let off = window.wished_lengths.map_or(0, |wished| u64::from(whole.abs_diff(wished)) * 10);
    off + u64::from(uneven(bench.head.pool.value.distance(Lengths::new(whole))))
}

/// Points for time that is left.
fn idle_cost(window: Window, seconds: u32) -> u64 {
    u64::from(window.seconds.1.saturating_sub(seconds).min(3600) / 30)
}

/// Points for a share off the middle of its band, nothing outside it.
fn share_cost(band: Option<ShareBand>, lengths: u32, whole: u32) -> Option<u64> {
    let Some(band) = band else { return Some(0) };
    let (lengths, whole) = (u64::from(lengths), u64::from(whole));
    if !holds(band, lengths, whole) {
        return None;
    }
    let wanted = u64::from((band.least + band.most) / 2) * whole;
    Some((lengths * 100).abs_diff(wanted) / whole.max(1))
}

fn found<'a>(
    sides: &Sides<'_, 'a>,
    around: &Choice<'_, 'a>,
    main: &Choice<'_, 'a>,
    changeover: u32,
) -> Found<'a> {
    let mut parts: Vec<(PartKind, Size<'a>)> =
        sides.kinds().zip(around.sizes()).map(|(kind, size)| (kind, size.clone())).collect();
    parts.extend(main.sizes().map(|size| (PartKind::MainSet, size.clone())));
    // Kinds are in the order they are swum; parts of one kind stay as they are.
    parts.sort_by_key(|(kind, _)| *kind);
    let seconds = around.seconds.saturating_add(main.seconds).saturating_sub(changeover);
    Found { parts, lengths: around.lengths + main.lengths, seconds }
}
