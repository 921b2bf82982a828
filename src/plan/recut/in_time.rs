//! The recut that comes out in a time: as many lengths as fit, then the best of that many.

use super::board::{Board, Scale, free_and_held};
use super::change::Why;
use super::choices::{self, Chooser};
use super::desk::{self, Desk, is_held_line};
use super::search::{self, Aim, End};
use super::{BREADTH_IN_TIME, BREADTHS, Impossible, Obstacle, Recut, build, reason, wishes};
use crate::measure::{Distance, LIMITS, Seconds};

/// The longest recut of at most `most_lengths` that comes out in `wanted`.
pub(super) fn in_time(
    desk: Desk<'_>,
    wanted: Seconds,
    most_lengths: u32,
) -> Result<Recut, Impossible> {
    let for_lines = wanted.less(build::changeovers(desk.written));
    let cap = fair_lengths(desk, for_lines);
    let cap = stretched(desk, cap, for_lines.get()).min(most_lengths);
    let Some(Longest { board, lengths, keeps_walls }) = longest(desk, cap, for_lines.get()) else {
        let nearest = Box::new(shortest(desk));
        return Err(Impossible::Time { wanted, nearest, why: Obstacle::AtLeast });
    };
    let aim = Aim::Within { lengths, seconds: for_lines.get() };
    let found = search::best(&board, aim).unwrap_or_else(|| search::first_of(&board));
    let why = if desk.for_lane { Why::Lane } else { Why::Time };
    let mut cut = build::of(desk, &board, &found, why);
    let limited = most_lengths < u32::MAX;
    if why == Why::Time {
        reason::give(&mut cut, desk, limited);
    }
    if !keeps_walls {
        let why = Obstacle::Walls;
        return Err(Impossible::Time { wanted, nearest: Box::new(cut), why });
    }
    let unused = wanted.less(cut.seconds);
    if !limited && unused.get() > wishes::IDLE_FREE_S && unused >= least_more(&cut, desk) {
        let why = if lengths < cap / 2 { Obstacle::AtMost } else { Obstacle::Steps };
        return Err(Impossible::Time { wanted, nearest: Box::new(cut), why });
    }
    Ok(cut)
}

/// How many lengths fit a time if every free line is made longer or shorter alike.
fn fair_lengths(desk: Desk<'_>, for_lines: Seconds) -> u32 {
    let chooser = Chooser { desk, breadth: 0 };
    let (mut free_s, mut held_s): (u64, u64) = (0, 0);
    for line in desk.written.lines() {
        if is_held_line(line) {
            let own = desk.own_length(line);
            held_s += chooser.line(line, own).first().map_or(0, |only| u64::from(only.seconds));
        } else {
            for (set, rounds) in choices::sets_of(line) {
                free_s += u64::from(desk.ideal_seconds(set).times(rounds).get());
            }
        }
    }
    let (free, held) = free_and_held(desk);
    let left = u64::from(for_lines.get()).saturating_sub(held_s);
    let grown = u128::from(free) * u128::from(left) / u128::from(free_s.max(1));
    let grid = grown + u128::from(held);
    let length = u128::from(desk.true_length(1).grid());
    let most = Distance::whole(LIMITS.session_distance.most, desk.pool.unit());
    u32::try_from(grid.min(u128::from(most.true_length().grid())) / length).unwrap_or(u32::MAX)
}

/// Boards for numbers of lengths, all lines wished longer or shorter alike.
struct Ladder<'a> {
    desk: Desk<'a>,
    free: u64,
    held: u64,
    /// From one number of lengths to the next: pairs, where the session ends where it began.
    step: u32,
}

impl<'a> Ladder<'a> {
    fn new(desk: Desk<'a>) -> Self {
        let (free, held) = free_and_held(desk);
        let own = desk.written.lengths().get();
        Self { desk, free, held, step: if own.is_multiple_of(2) { 2 } else { 1 } }
    }

    fn board(&self, lengths: u32) -> Board {
        let now = self.desk.true_length(lengths).grid().saturating_sub(self.held);
        let scale = Scale { now: u128::from(now), was: u128::from(self.free) };
        Board::new(self.desk, scale, BREADTH_IN_TIME)
    }

    /// `lengths`, or the next step below.
    fn at_or_below(&self, lengths: u32) -> u32 {
        lengths - lengths % self.step
    }
}

/// `cap`, or more where even the slowest way to swim so many lengths leaves time unused:
/// sets that cannot be shortened further make a short session quicker than a fair share.
fn stretched(desk: Desk<'_>, cap: u32, seconds: u32) -> u32 {
    let ladder = Ladder::new(desk);
    let mut lengths = ladder.at_or_below(cap);
    let most = lengths.saturating_add(lengths / 2).saturating_add(20);
    while ladder.free > 0 && lengths < most {
        let slowest = search::time_span(&ladder.board(lengths), lengths, End::Slowest);
        if slowest
            .is_some_and(|(_, slowest)| slowest.saturating_add(wishes::IDLE_FREE_S) >= seconds)
        {
            return lengths.max(cap);
        }
        lengths += ladder.step;
    }
    cap
}

/// The most lengths that fit a time.
struct Longest {
    board: Board,
    lengths: u32,
    /// Whether every set that ended where it began still does.
    keeps_walls: bool,
}

/// The most lengths up to `cap` that can be swum in `seconds`, with the board for them.
///
/// Whether a number of lengths can be swum does not hang on how much longer the time might
/// be, so that more time never means fewer lengths.
fn longest(desk: Desk<'_>, cap: u32, seconds: u32) -> Option<Longest> {
    let ladder = Ladder::new(desk);
    for keeps_walls in [true, false] {
        let mut lengths = ladder.at_or_below(cap);
        while lengths > 0 && desk.true_length(lengths).grid() >= ladder.held {
            let board = ladder.board(lengths);
            let quickest = search::time_span(&board, lengths, End::Quickest);
            let fits = quickest.is_some_and(|(walls, quickest)| {
                quickest <= seconds && (!keeps_walls || walls <= board.fewest_walls())
            });
            if fits {
                return Some(Longest { board, lengths, keeps_walls });
            }
            lengths = lengths.saturating_sub(ladder.step);
        }
    }
    None
}

/// Every set cut to the least.
fn shortest(desk: Desk<'_>) -> Recut {
    let board = Board::new(desk, Scale { now: 0, was: 1 }, BREADTHS[0]);
    match search::best(&board, Aim::Near { grid: 0 }) {
        Some(found) => build::of(desk, &board, &found, Why::Time),
        None => build::length_for_length(desk),
    }
}

/// The time of the least that could still be added: a repeat, or two where one would end at
/// the far wall.
fn least_more(cut: &Recut, desk: Desk<'_>) -> Seconds {
    // The recut's own sets are spaced already; only their swims are worked out again.
    let here = Desk { written: &cut.session, for_lane: false, ..desk };
    let free = cut.session.lines().filter(|line| !is_held_line(line)).flat_map(choices::sets_of);
    let more = free.filter(|(set, _)| !desk::is_held(set)).map(|(set, rounds)| {
        let repeats = if set.each.ends_at_start() { 1 } else { 2 };
        here.repeat_seconds(set, set.each).times(repeats).times(rounds)
    });
    more.min().unwrap_or(Seconds::new(u32::MAX))
}
