//! The recut that comes out in a time: as many lengths as fit, then the best of that many.

use super::change::{CutSwim, Why};
use super::choices::{self, Chooser, Pick};
use super::search::{self, End, Found, Sought};
use super::space::{Scale, Space, free_and_held};
use super::transfer::Transfer;
use super::{BREADTH_IN_TIME, BREADTHS, Impossible, Obstacle, Recut, build, reason, wishes};
use crate::check::cycle::Resize;
use crate::check::{CheckedLine, CheckedSet};
use crate::measure::{Distance, LIMITS, Pool, Seconds};

/// The breadth in which time that is left is filled.
const BREADTH_TO_FILL: u32 = 9;

/// The longest recut of at most `most_lengths` that comes out in `wanted`.
pub(super) fn in_time(
    transfer: Transfer<'_>,
    wanted: Seconds,
    most_lengths: u32,
) -> Result<Recut, Impossible> {
    let for_lines = wanted.less(build::changeovers(transfer.written));
    let cap = fair_lengths(transfer, for_lines);
    let cap = stretched(transfer, cap, for_lines.get(), most_lengths).min(most_lengths);
    let Some(Longest { space, lengths, keeps_walls }) = longest(transfer, cap, for_lines.get())
    else {
        let (nearest, _) = shortest(transfer);
        let far = quickest_at_any_wall(transfer).seconds;
        let other_wall = (far < nearest.seconds).then_some(far);
        let (nearest, why) = (Box::new(nearest), Obstacle::AtLeast);
        return Err(Impossible::Time { wanted, nearest, other_wall, why });
    };
    let sought = Sought::Within { lengths, seconds: for_lines.get() };
    let found = search::best(&space, sought).unwrap_or_else(|| search::first_of(&space));
    // Lengths are shared out fairly. What time that leaves is filled with what still fits.
    let (space, found) = filled(transfer, space, found, for_lines.get(), most_lengths);
    let why = if transfer.for_lane { Why::Lane } else { Why::Time };
    let mut cut = build::of(transfer, &space, &found, why);
    let limited = most_lengths < u32::MAX;
    if why == Why::Time {
        reason::give(&mut cut, transfer, limited);
    }
    if !keeps_walls {
        let (kept, keeps_walls) = shortest(transfer);
        if keeps_walls && kept.seconds <= wanted && kept.lengths.get() <= most_lengths {
            return Ok(kept);
        }
        let other_wall = (keeps_walls && kept.seconds > wanted).then_some(kept.seconds);
        let (nearest, why) = (Box::new(cut), Obstacle::Walls);
        return Err(Impossible::Time { wanted, nearest, other_wall, why });
    }
    let unused = wanted.less(cut.seconds);
    if !limited && unused.get() > wishes::IDLE_FREE_S && unused >= least_more(&cut, transfer) {
        // A repeat more was tried: it is over a limit, or leaves the lane at the far wall later on.
        let why = if lengths < cap / 2 { Obstacle::AtMost } else { Obstacle::Walls };
        let nearest = Box::new(cut);
        return Err(Impossible::Time { wanted, nearest, other_wall: None, why });
    }
    Ok(cut)
}

/// What was found, with what still fits the time it leaves; each set may then have many more repeats
/// than are searched.
fn filled(
    transfer: Transfer<'_>,
    space: Space,
    found: Found,
    seconds: u32,
    most_lengths: u32,
) -> (Space, Found) {
    if seconds.saturating_sub(found.seconds) <= wishes::IDLE_FREE_S {
        return (space, found);
    }
    let wide = Ladder::new(transfer).space_at(found.lengths, BREADTH_TO_FILL);
    let lines = |space: &Space| -> Vec<Vec<Pick>> {
        let lines = space.parts.iter().flat_map(|part| &part.lines);
        lines.map(|line| line.choices.iter().map(|choice| choice.pick).collect()).collect()
    };
    let picks = lines(&space).into_iter().zip(lines(&wide)).zip(&found.picks);
    let picks: Option<Vec<usize>> = picks
        .map(|((narrow, wide), at)| wide.iter().position(|pick| Some(pick) == narrow.get(*at)))
        .collect();
    match picks {
        Some(picks) => {
            let found = search::filled(&wide, Found { picks, ..found }, seconds, most_lengths);
            (wide, found)
        }
        None => {
            let found = search::filled(&space, found, seconds, most_lengths);
            (space, found)
        }
    }
}

/// How many lengths fit a time if every free line is made longer or shorter alike.
fn fair_lengths(transfer: Transfer<'_>, for_lines: Seconds) -> u32 {
    let chooser = Chooser { transfer, breadth: 0 };
    let (mut free_s, mut held_s): (u64, u64) = (0, 0);
    for line in transfer.written.lines() {
        if transfer.holds_line(line) {
            let own = transfer.own_length(line);
            held_s += chooser.line(line, own).first().map_or(0, |only| u64::from(only.seconds));
        } else {
            for (set, rounds) in choices::sets_of(line) {
                free_s += u64::from(transfer.ideal_seconds(set).times(rounds).get());
            }
            if let CheckedLine::Rounds { lines, rest, count, .. } = line {
                let idle = transfer.round_without_a_swim(lines, rest.as_ref(), *count);
                free_s += u64::from(idle.get());
            }
        }
    }
    let (free, held) = free_and_held(transfer);
    let left = u64::from(for_lines.get()).saturating_sub(held_s);
    let grown = u128::from(free) * u128::from(left) / u128::from(free_s.max(1));
    let grid = grown + u128::from(held);
    let length = u128::from(transfer.true_length(1).grid());
    let most = Distance::whole(LIMITS.session_distance.most, transfer.pool.unit());
    u32::try_from(grid.min(u128::from(most.true_length().grid())) / length).unwrap_or(u32::MAX)
}

/// Spaces for numbers of lengths, all lines wished longer or shorter alike.
struct Ladder<'a> {
    transfer: Transfer<'a>,
    free: u64,
    held: u64,
    /// From one number of lengths to the next: pairs, where the session ends where it began.
    step: u32,
}

impl<'a> Ladder<'a> {
    fn new(transfer: Transfer<'a>) -> Self {
        let (free, held) = free_and_held(transfer);
        let own = transfer.written.lengths().get();
        Self { transfer, free, held, step: if own.is_multiple_of(2) { 2 } else { 1 } }
    }

    fn space(&self, lengths: u32) -> Space {
        self.space_at(lengths, BREADTH_IN_TIME)
    }

    fn space_at(&self, lengths: u32, breadth: u32) -> Space {
        let now = self.transfer.true_length(lengths).grid().saturating_sub(self.held);
        let scale = Scale { now: u128::from(now), was: u128::from(self.free) };
        Space::new(self.transfer, scale, breadth)
    }

    /// `lengths`, or the next step below.
    fn at_or_below(&self, lengths: u32) -> u32 {
        lengths - lengths % self.step
    }
}

/// A long way up or down the ladder is first halved by bounds, and then gone step by step from so
/// many steps before.
const STEPS_BEFORE: u32 = 16;

impl Ladder<'_> {
    /// Between `low` and `high`, `low` or a little below where `is_past` begins to hold.
    fn before(&self, low: u32, high: u32, is_past: impl Fn(u32) -> bool) -> u32 {
        let margin = STEPS_BEFORE * self.step;
        let (mut low, mut high) = (low, high);
        while high.saturating_sub(low) > margin {
            let middle = low + self.at_or_below((high - low) / 2);
            if is_past(middle) { high = middle } else { low = middle }
        }
        low
    }
}

/// `cap`, or more where even the slowest way to swim so many lengths leaves time unused:
/// sets that cannot be shortened further make a short session quicker than a fair share.
fn stretched(transfer: Transfer<'_>, cap: u32, seconds: u32, most_lengths: u32) -> u32 {
    let ladder = Ladder::new(transfer);
    if ladder.free == 0 {
        return cap;
    }
    let from = ladder.at_or_below(cap);
    let most = from.saturating_add(from / 2).saturating_add(20).min(most_lengths);
    let filled = |slowest: u32| slowest.saturating_add(wishes::IDLE_FREE_S) >= seconds;
    let might_fill = |space: &Space, lengths| filled(search::bound(space, lengths, End::Slowest));
    let margin = STEPS_BEFORE * ladder.step;
    let near = ladder.before(from, most, |lengths| might_fill(&ladder.space(lengths), lengths));
    let mut lengths = near.saturating_sub(margin).max(from);
    while lengths < most {
        let space = ladder.space(lengths);
        let slowest = || search::time_span(&space, lengths, End::Slowest);
        if might_fill(&space, lengths) && slowest().is_some_and(|(_, slowest)| filled(slowest)) {
            return lengths.max(cap);
        }
        lengths += ladder.step;
    }
    most.max(cap)
}

/// The most lengths that fit a time.
struct Longest {
    space: Space,
    lengths: u32,
    /// Whether every set that ended where it began still does.
    keeps_walls: bool,
}

/// For the sake of the walls, so many steps down the ladder are gone further.
const STEPS_FOR_WALLS: u32 = 200;

/// The most lengths up to `cap` that can be swum in `seconds`, with the space for them.
///
/// Whether a number of lengths can be swum does not depend on how much longer the time might
/// be, so that more time never means fewer lengths.
fn longest(transfer: Transfer<'_>, cap: u32, seconds: u32) -> Option<Longest> {
    let ladder = Ladder::new(transfer);
    let might_fit =
        |space: &Space, lengths| search::bound(space, lengths, End::Quickest) <= seconds;
    let top = ladder.at_or_below(cap);
    let near = ladder.before(0, top, |lengths| {
        transfer.true_length(lengths).grid() >= ladder.held
            && !might_fit(&ladder.space(lengths), lengths)
    });
    let mut lengths = near.saturating_add(2 * STEPS_BEFORE * ladder.step).min(top);
    let (mut at_any_wall, mut steps_left) = (None, STEPS_FOR_WALLS);
    while lengths > 0 && transfer.true_length(lengths).grid() >= ladder.held && steps_left > 0 {
        let space = ladder.space(lengths);
        let fewest = space.fewest_walls();
        let only_walls = at_any_wall.is_some();
        steps_left -= u32::from(only_walls);
        let worth = !only_walls || search::walls_bound(&space) <= fewest;
        let span = if worth && might_fit(&space, lengths) {
            search::time_span(&space, lengths, End::Quickest)
        } else {
            None
        };
        match span.filter(|(_, quickest)| *quickest <= seconds) {
            Some((walls, _)) if walls <= fewest => {
                return Some(Longest { space, lengths, keeps_walls: true });
            }
            Some(_) if !only_walls => {
                at_any_wall = Some(Longest { space, lengths, keeps_walls: false });
            }
            _ => {}
        }
        lengths = lengths.saturating_sub(ladder.step);
    }
    at_any_wall
}

/// Every set cut to the least, and whether those that ended where they began still do.
fn shortest(transfer: Transfer<'_>) -> (Recut, bool) {
    let space = Space::new(transfer, Scale { now: 0, was: 1 }, BREADTHS[0]);
    match search::best(&space, Sought::Near { grid: 0 }) {
        Some(found) => {
            let keeps_walls = found.cost.walls <= space.fewest_walls();
            (build::of(transfer, &space, &found, Why::Time), keeps_walls)
        }
        None => (build::length_for_length(transfer), true),
    }
}

/// Every set cut to the least, whichever wall it ends at.
fn quickest_at_any_wall(transfer: Transfer<'_>) -> Recut {
    let space = Space::new(transfer, Scale { now: 0, was: 1 }, BREADTHS[0]);
    build::of(transfer, &space, &search::quickest_of(&space), Why::Time)
}

/// The time of the least that could still be added: a repeat, or two where one would end at
/// the far wall.
fn least_more(cut: &Recut, transfer: Transfer<'_>) -> Seconds {
    let more = repeats_more(cut, transfer);
    let whole = more.iter().filter(|more| !more.ends_away).map(|more| more.seconds);
    whole.min().unwrap_or(Seconds::new(u32::MAX))
}

/// A set swum so many times through.
fn times_of(set: &CheckedSet, pool: Pool, times: u32) -> CheckedSet {
    set.recut(pool, pool, times, Resize::NONE)
}

/// What could be added to a set of a recut.
pub(super) struct More {
    pub swim: CutSwim,
    pub seconds: Seconds,
    /// Whether the set would then end at the far wall.
    pub ends_away: bool,
}

/// For each set that may change, a repeat more; where that ends at the far wall, two as well.
pub(super) fn repeats_more(cut: &Recut, transfer: Transfer<'_>) -> Vec<More> {
    // The recut's own sets are spaced already; only their swims are worked out again.
    let here = Transfer {
        written: &cut.session,
        pool: cut.session.pool.value,
        for_lane: false,
        ..transfer
    };
    let free = cut.session.lines().filter(|line| !here.holds_line(line)).flat_map(choices::sets_of);
    let free = free.filter(|(set, _)| !here.holds(set));
    free.flat_map(|(set, rounds)| {
        let more = |times: u32| build::swim(&times_of(set, here.pool, times), here.pool);
        let run = set.cycle.run();
        let repeat = here.run_time(set, run).seconds.times(rounds);
        let is_home = set.cycle.lengths().ends_at_start();
        let ends_away = is_home && !run.ends_at_start();
        let one = More { swim: more(1), seconds: repeat, ends_away };
        let two = More { swim: more(2), seconds: repeat.times(2), ends_away: false };
        [Some(one), ends_away.then_some(two)].into_iter().flatten()
    })
    .collect()
}
