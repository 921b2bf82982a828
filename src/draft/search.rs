//! The best sizes of the patterns of a session: inside the bands, in the time or at the
//! distance. Everything there is to choose from is looked at, but for what is far from its
//! share.

use std::cell::Cell;

use super::size::{Bench, Size, SizedSet};
use crate::advice::rest::Holds;
use crate::measure::Lengths;
use crate::plan::awkward::uneven;
use crate::plan::bands::{band, holds};
use crate::session::ShareBand;
use crate::session::words::{Effort, PartKind};

/// The seconds and lengths a session may have, ends included.
#[derive(Clone, Copy, Debug)]
pub(super) struct Window {
    /// Least and most seconds, changeovers counted.
    pub seconds: (u32, u32),
    /// Least and most lengths.
    pub lengths: (u32, u32),
    /// The lengths rather met than any other of the window, if any are.
    pub wished_lengths: Option<u32>,
}

/// The sizes of one part beside the main set.
#[derive(Clone)]
pub(super) struct Side<'m, 'a> {
    pub kind: PartKind,
    pub sizes: Vec<&'m Size<'a>>,
}

/// A session found: each part's kind and size, in the order they are swum.
#[derive(Clone, Debug)]
pub(super) struct Found<'a> {
    pub parts: Vec<(PartKind, Size<'a>)>,
    pub lengths: u32,
    pub seconds: u32,
}

/// Sizes of a side part that are tried, and how many of them of one number of lengths.
const SIDE_SIZES: usize = 9;
const SAME_LENGTHS: usize = 3;
/// Sizes of the main set that are tried.
const MAIN_SIZES: usize = 6000;
/// So many sessions are returned, the best first.
const BEST: usize = 4;

/// Choices that are still looked at for a wish, so that one far out is refused soon and not
/// after every session there is has been tried. They are counted and not timed: the same wish
/// always ends the same.
pub(super) struct Patience(Cell<u64>);

impl Patience {
    pub fn of(choices: u64) -> Self {
        Self(Cell::new(choices))
    }

    /// Whether there is none left.
    pub fn is_lost(&self) -> bool {
        self.0.get() == 0
    }

    /// Takes one choice off; false where none was left.
    fn spend(&self) -> bool {
        let left = self.0.get();
        self.0.set(left.saturating_sub(1));
        left > 0
    }
}

/// A choice of one size from each of the main set's patterns.
struct Main<'m, 'a> {
    sizes: Vec<&'m Size<'a>>,
    lengths: u32,
    /// Sets and a changeover for each line.
    seconds: u32,
    peak: Effort,
    awkward: u32,
}

impl<'m, 'a> Main<'m, 'a> {
    fn with(&self, size: &'m Size<'a>, changeover: u32) -> Self {
        let mut sizes = self.sizes.clone();
        sizes.push(size);
        Self {
            sizes,
            lengths: self.lengths + size.lengths,
            seconds: self.seconds.saturating_add(timed(size, changeover)),
            peak: self.peak.max(size.peak),
            awkward: self.awkward + size.awkward,
        }
    }
}

/// A choice of one size from each side part.
#[derive(Clone, Default)]
struct Sides {
    at: Vec<usize>,
    lengths: u32,
    /// Sets and a changeover for each line.
    seconds: u32,
    awkward: u32,
    /// The hardest of pre-set and post set.
    peak: Option<Effort>,
}

/// The best few sessions of these parts in a window, the best first.
pub(super) fn best<'a>(
    bench: Bench<'_>,
    sides: &[Side<'_, 'a>],
    main: &[&[Size<'a>]],
    window: Window,
    patience: &Patience,
) -> Vec<Found<'a>> {
    let changeover = bench.head.changeover.get();
    let mut mains = joined(main, changeover, window, patience);
    mains.sort_by_key(|main| main.seconds);
    let Some(about) = about_lengths(&mains, window, changeover) else { return Vec::new() };
    let trimmed: Vec<Vec<usize>> =
        sides.iter().map(|side| near_share(bench, side, about)).collect();
    let mut kept: Vec<(u64, &Main, Sides)> = Vec::new();
    for around in combined(sides, &trimmed, changeover) {
        // The last line has no changeover after it.
        let fixed = around.seconds.saturating_sub(changeover);
        let low = window.seconds.0.saturating_sub(fixed);
        let first = mains.partition_point(|main| main.seconds < low);
        for main in mains.iter().skip(first) {
            if main.seconds.saturating_add(fixed) > window.seconds.1 || !patience.spend() {
                break;
            }
            let Some(cost) = cost(bench, sides, &around, main, window) else { continue };
            let full = kept.len() == BEST;
            if full && kept.last().is_some_and(|(worst, ..)| cost >= *worst) {
                continue;
            }
            if !thins_nowhere(bench, main) {
                continue;
            }
            let at = kept.partition_point(|(known, ..)| *known <= cost);
            kept.insert(at, (cost, main, around.clone()));
            kept.truncate(BEST);
        }
    }
    kept.iter().map(|(_, main, around)| found(sides, around, main, changeover)).collect()
}

/// Every choice of one size from each of the main set's patterns; where there are too many,
/// those that are least awkward.
fn joined<'m, 'a>(
    patterns: &[&'m [Size<'a>]],
    changeover: u32,
    window: Window,
    patience: &Patience,
) -> Vec<Main<'m, 'a>> {
    let mut mains =
        vec![Main { sizes: Vec::new(), lengths: 0, seconds: 0, peak: Effort::Easy, awkward: 0 }];
    for sizes in patterns {
        let mut longer = Vec::new();
        for (main, size) in mains.iter().flat_map(|main| sizes.iter().map(move |s| (main, s))) {
            if !patience.spend() {
                break;
            }
            let seconds = main.seconds.saturating_add(timed(size, changeover));
            if main.lengths + size.lengths <= window.lengths.1 && seconds <= window.seconds.1 {
                longer.push(main.with(size, changeover));
            }
        }
        if longer.len() > MAIN_SIZES {
            longer.sort_by_key(|main| main.awkward);
            longer.truncate(MAIN_SIZES);
        }
        mains = longer;
    }
    mains.retain(|main| !main.sizes.is_empty());
    mains
}

/// About how many lengths the whole session will have.
fn about_lengths(mains: &[Main<'_, '_>], window: Window, changeover: u32) -> Option<u32> {
    if let Some(wished) = window.wished_lengths {
        return Some(wished);
    }
    let (mut lengths, mut seconds) = (0_u64, 0_u64);
    for main in mains {
        lengths += u64::from(main.lengths);
        seconds += u64::from(main.seconds);
    }
    let time = u64::from(window.seconds.1.saturating_add(changeover));
    u32::try_from(time * lengths / seconds.max(1)).ok().filter(|about| *about > 0)
}

/// The sizes of a side part that come nearest its usual share, of each number of lengths a
/// few.
fn near_share(bench: Bench<'_>, side: &Side<'_, '_>, about: u32) -> Vec<usize> {
    let share = middle(band(bench.head, side.kind));
    let wanted = u64::from(about) * u64::from(share) / 100;
    let mut order: Vec<usize> = (0..side.sizes.len()).collect();
    order.sort_by_key(|at| {
        side.sizes.get(*at).map(|size| {
            (u64::from(size.lengths).abs_diff(wanted), size.awkward, size.lengths, size.seconds)
        })
    });
    let lengths_of = |at: usize| side.sizes.get(at).map(|size| size.lengths);
    let mut kept: Vec<usize> = Vec::new();
    for at in order {
        let same = kept.iter().filter(|known| lengths_of(**known) == lengths_of(at)).count();
        if same < SAME_LENGTHS {
            kept.push(at);
        }
        if kept.len() == SIDE_SIZES {
            break;
        }
    }
    kept
}

/// Every choice of one size from each side part.
fn combined(sides: &[Side<'_, '_>], trimmed: &[Vec<usize>], changeover: u32) -> Vec<Sides> {
    let mut all = vec![Sides::default()];
    for (side, sizes) in sides.iter().zip(trimmed) {
        let beside_main = matches!(side.kind, PartKind::PreSet | PartKind::PostSet);
        let mut longer = Vec::with_capacity(all.len() * sizes.len());
        for (around, at) in all.iter().flat_map(|around| sizes.iter().map(move |at| (around, at))) {
            let Some(size) = side.sizes.get(*at) else { continue };
            let mut with = around.clone();
            with.at.push(*at);
            with.lengths += size.lengths;
            with.seconds = with.seconds.saturating_add(timed(size, changeover));
            with.awkward += size.awkward;
            with.peak = if beside_main { with.peak.max(Some(size.peak)) } else { with.peak };
            longer.push(with);
        }
        all = longer;
    }
    all
}

/// The time of a size, with a changeover for each line.
fn timed(size: &Size<'_>, changeover: u32) -> u32 {
    let lines = u32::try_from(size.lines.len()).unwrap_or(u32::MAX);
    size.seconds.saturating_add(lines.saturating_mul(changeover))
}

/// What a session costs in points, the less the better; nothing where a part is outside its
/// band, or the total outside the window.
fn cost(
    bench: Bench<'_>,
    sides: &[Side<'_, '_>],
    around: &Sides,
    main: &Main<'_, '_>,
    window: Window,
) -> Option<u64> {
    let lengths = around.lengths + main.lengths;
    let inside = window.lengths.0 <= lengths && lengths <= window.lengths.1;
    if !inside || around.peak.is_some_and(|peak| peak > main.peak) {
        return None;
    }
    let mut cost = u64::from(around.awkward + main.awkward);
    for (side, at) in sides.iter().zip(&around.at) {
        let share = side.sizes.get(*at).map_or(0, |size| size.lengths);
        cost += share_cost(band(bench.head, side.kind), share, lengths)?;
    }
    share_cost(band(bench.head, PartKind::MainSet), main.lengths, lengths)?;
    if let Some(wished) = window.wished_lengths {
        cost += u64::from(lengths.abs_diff(wished)) * 10;
    }
    // A round total is easier to remember.
    let total = bench.head.pool.value.distance(Lengths::new(lengths));
    cost += u64::from(uneven(total));
    let seconds = around.seconds.saturating_add(main.seconds);
    Some(cost + u64::from(window.seconds.1.saturating_sub(seconds).min(3600) / 30))
}

/// Points for a share off the middle of its band, nothing outside it.
fn share_cost(band: Option<ShareBand>, lengths: u32, whole: u32) -> Option<u64> {
    let Some(band) = band else { return Some(0) };
    let (lengths, whole) = (u64::from(lengths), u64::from(whole));
    if !holds(band, lengths, whole) {
        return None;
    }
    let wanted = u64::from(middle(Some(band))) * whole;
    Some((lengths * 100).abs_diff(wanted) / whole.max(1))
}

fn middle(band: Option<ShareBand>) -> u32 {
    band.map_or(10, |band| (band.least + band.most) / 2)
}

/// Whether a main set that is to hold its metres a minute does so to the end, by the measure of the
/// rule on main sets that thin out. Stricter than the rule, which lets ladders and broken swims be:
/// what the program writes itself has no reason to.
fn thins_nowhere(bench: Bench<'_>, main: &Main<'_, '_>) -> bool {
    let Some(holds) = Holds::of(bench.head.goal.value) else { return true };
    let lines = main.sizes.iter().flat_map(|size| &size.lines);
    let sets = lines
        .flat_map(|line| &line.sets)
        .filter(|set| holds.compares(set.mode, set.effort()) && !set.set.fixed);
    let work: Vec<&SizedSet<'_>> = sets.collect();
    work.windows(2).all(|pair| match pair {
        [before, now] if before.stroke == now.stroke => {
            let swum = |set: &SizedSet<'_>| (set.lengths(), set.seconds());
            !holds.falls(swum(now), swum(before))
        }
        _ => true,
    })
}

fn found<'a>(
    sides: &[Side<'_, 'a>],
    around: &Sides,
    main: &Main<'_, 'a>,
    changeover: u32,
) -> Found<'a> {
    let mut parts: Vec<(PartKind, Size<'a>)> = Vec::new();
    for (side, at) in sides.iter().zip(&around.at) {
        parts.extend(side.sizes.get(*at).map(|size| (side.kind, (*size).clone())));
    }
    parts.extend(main.sizes.iter().map(|size| (PartKind::MainSet, (*size).clone())));
    // Kinds are in the order they are swum; parts of one kind stay as they are.
    parts.sort_by_key(|(kind, _)| *kind);
    let seconds = around.seconds.saturating_add(main.seconds).saturating_sub(changeover);
    Found { parts, lengths: around.lengths + main.lengths, seconds }
}
