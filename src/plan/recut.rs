//! The same session with other repeats: for another pool, a distance, a time, a lane.
//!
//! One engine makes them all. What it prefers to what is written in `wishes`; what a line
//! may become, in `choices`; how the best of all is found, in `search`.

use thiserror::Error;

mod board;
mod build;
mod change;
mod choices;
mod desk;
mod search;
mod wishes;

#[cfg(test)]
mod tests;

pub use change::{Change, Changed, CutSwim, Why};

use crate::check::CheckedSession;
use crate::measure::{Distance, LIMITS, Lengths, Pool, Seconds};
use crate::session::Lane;
use crate::session::words::Keep;
use board::{Board, Scale, free_and_held, lines};
use choices::Chooser;
use desk::{Desk, is_held_line};
use search::{Aim, End, Found};

/// What a recut is to come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    /// About the distance of the written session.
    Equal,
    /// A distance, in any unit.
    Distance(Distance),
    /// A time, changeovers counted: never past it, and little of it left.
    Time(Seconds),
    /// About the distance of the written session, or less where that would pass this time.
    AtMost(Seconds),
}

/// A session cut anew.
#[derive(Clone, Debug)]
pub struct Recut {
    /// The session for its new pool: repeats, lengths and send-offs are those to be swum.
    pub session: CheckedSession,
    /// What is other than written, in the order of the file.
    pub changes: Vec<Change>,
    /// All lengths.
    pub lengths: Lengths,
    /// All sets and changeovers, at the pace it was cut for.
    pub seconds: Seconds,
}

impl Recut {
    /// The whole distance.
    pub fn distance(&self) -> Distance {
        self.session.pool.value.distance(self.lengths)
    }

    /// Whether any set has other repeats, lengths or rounds than written.
    pub fn changes_swims(&self) -> bool {
        self.changes.iter().any(|change| !matches!(change.what, Changed::SendOff { .. }))
    }
}

/// A target that cannot be come to.
#[derive(Debug, Error)]
pub enum Impossible {
    /// The distance is more than a pair of lengths away from anything there is.
    #[error("no recut comes to {wanted}; the nearest is {}: {why}", nearest.distance())]
    Distance {
        /// What was wanted.
        wanted: Distance,
        /// The nearest there is.
        nearest: Box<Recut>,
        /// Why there is none nearer.
        why: Obstacle,
    },
    /// The time is passed, or far from used.
    #[error("no recut comes out in {wanted}; the nearest takes {}: {why}", nearest.seconds)]
    Time {
        /// What was wanted.
        wanted: Seconds,
        /// The nearest there is.
        nearest: Box<Recut>,
        /// Why there is none nearer.
        why: Obstacle,
    },
}

impl Impossible {
    /// The nearest recut there is.
    pub fn nearest(self) -> Recut {
        match self {
            Impossible::Distance { nearest, .. } | Impossible::Time { nearest, .. } => *nearest,
        }
    }
}

/// Why a target cannot be come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Obstacle {
    /// There is nothing left to cut.
    #[error("every set keeps at least one repeat, and drills and fixed sets are never changed")]
    AtLeast,
    /// There is nothing left to add.
    #[error("more repeats or rounds than this are over the limits of a session")]
    AtMost,
    /// It would leave swimmers at the wrong wall.
    #[error("a set that ended where it began would end at the far wall")]
    Walls,
    /// The steps are too large.
    #[error("its sets and rounds only go in larger steps")]
    Steps,
}

/// Steps away from its own size at which a line is looked at: first near by, and further
/// only where no total near the target is found so.
const BREADTHS: [u32; 3] = [1, 3, 9];

/// The breadth of a search that must come out in a time.
const BREADTH_IN_TIME: u32 = 2;

/// Cuts `session` anew for `pool`, at its own pace or a lane's.
pub fn recut(
    session: &CheckedSession,
    pool: Pool,
    lane: Option<&Lane>,
    target: Target,
) -> Result<Recut, Impossible> {
    let desk = Desk::new(session, pool, lane);
    match target {
        Target::Equal => Ok(equal(desk)),
        Target::Distance(wanted) => to_distance(desk, wanted),
        Target::Time(wanted) => in_time(desk, wanted, u32::MAX),
        Target::AtMost(most) => {
            let equal = equal(desk);
            if equal.seconds <= most {
                return Ok(equal);
            }
            in_time(desk, most, equal.lengths.get())
        }
    }
}

/// The session as a plan of it in `pool` and for `lane` is swum: at equal distance or length
/// for length as it asks, and inside the booking.
pub(super) fn for_plan(session: &CheckedSession, pool: Pool, lane: Option<&Lane>) -> Recut {
    let desk = Desk::new(session, pool, lane);
    let base = match session.keep {
        Keep::Lengths => build::length_for_length(desk),
        Keep::Distance => equal(desk),
    };
    let Some(lane) = lane else { return base };
    let booked = session.booked.as_ref().map(|booked| booked.value);
    let stretch = lane.stretch.as_ref().is_some_and(|stretch| stretch.value);
    let wanted =
        if session.together { together(session, pool, booked) } else { booked.filter(|_| stretch) };
    let cut = match (wanted, booked) {
        (Some(wanted), _) if !fills(base.seconds, wanted) => {
            recut(session, pool, Some(lane), Target::Time(wanted))
        }
        (None, Some(booked)) if base.seconds > booked => {
            recut(session, pool, Some(lane), Target::AtMost(booked))
        }
        _ => Ok(base),
    };
    cut.unwrap_or_else(Impossible::nearest)
}

/// Whether a time is used but for a minute, and not passed.
fn fills(seconds: Seconds, wanted: Seconds) -> bool {
    seconds <= wanted && wanted.less(seconds).get() <= wishes::IDLE_FREE_S
}

/// When lanes that finish together do: with the booking if one of them is to fill it or the
/// session itself would pass it, else with the session at its own pace.
fn together(session: &CheckedSession, pool: Pool, booked: Option<Seconds>) -> Option<Seconds> {
    let stretches =
        session.lanes.iter().any(|lane| lane.stretch.as_ref().is_some_and(|stretch| stretch.value));
    let own = for_plan(session, pool, None).seconds;
    Some(match booked {
        Some(booked) if stretches || own > booked => booked,
        _ => own,
    })
}

/// The session at about its own distance.
fn equal(desk: Desk<'_>) -> Recut {
    if desk.same_pool() {
        return build::length_for_length(desk);
    }
    let own = lines(desk.written).map(|line| desk.own_length(line).grid()).sum();
    let (board, found) = toward(desk, own, BREADTH_IN_TIME);
    build::of(desk, &board, &found, Why::Pool(desk.pool))
}

fn to_distance(desk: Desk<'_>, wanted: Distance) -> Result<Recut, Impossible> {
    let grid = wanted.true_length().grid();
    let (board, found) = toward(desk, grid, BREADTHS[0]);
    let cut = build::of(desk, &board, &found, Why::Distance);
    let length = board.length_grid;
    let off = (u64::from(found.lengths) * length).abs_diff(grid);
    if off <= 2 * length {
        return Ok(cut);
    }
    let (least, most) = board.span();
    let why = if grid < u64::from(least) * length {
        Obstacle::AtLeast
    } else if grid > u64::from(most) * length {
        Obstacle::AtMost
    } else {
        Obstacle::Steps
    };
    Err(Impossible::Distance { wanted, nearest: Box::new(cut), why })
}

/// The best recut with a total near `grid`, looked for from `first` steps on.
fn toward(desk: Desk<'_>, grid: u64, first: u32) -> (Board, Found) {
    let (free, held) = free_and_held(desk);
    let scale = Scale { now: u128::from(grid.saturating_sub(held)), was: u128::from(free) };
    let breadths = [first].into_iter().chain(BREADTHS.into_iter().filter(|more| *more > first));
    let mut best: Option<(Board, Found)> = None;
    for breadth in breadths {
        let board = Board::new(desk, scale, breadth);
        let Some(found) = search::best(&board, Aim::Near { grid }) else { continue };
        let near = found.cost.walls == 0 && found.cost.miss == 0;
        if best.as_ref().is_none_or(|(_, before)| found.cost < before.cost) {
            best = Some((board, found));
        }
        if near {
            break;
        }
    }
    best.unwrap_or_else(|| build::unsearched(desk))
}

/// The longest recut of at most `most_lengths` that comes out in `wanted`.
fn in_time(desk: Desk<'_>, wanted: Seconds, most_lengths: u32) -> Result<Recut, Impossible> {
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
    let cut = build::of(desk, &board, &found, why);
    if !keeps_walls {
        let why = Obstacle::Walls;
        return Err(Impossible::Time { wanted, nearest: Box::new(cut), why });
    }
    let unused = wanted.less(cut.seconds);
    let limited = most_lengths < u32::MAX;
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
    for line in lines(desk.written) {
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
        let own = lines(desk.written).map(desk::line_lengths).fold(0, u32::saturating_add);
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
    let free = lines(&cut.session).filter(|line| !is_held_line(line)).flat_map(choices::sets_of);
    let more = free.filter(|(set, _)| !desk::is_held(set)).map(|(set, rounds)| {
        let repeats = if set.each.ends_at_start() { 1 } else { 2 };
        here.repeat_seconds(set, set.each).times(repeats).times(rounds)
    });
    more.min().unwrap_or(Seconds::new(u32::MAX))
}
