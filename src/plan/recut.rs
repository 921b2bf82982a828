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
mod in_time;
mod search;
mod wishes;

#[cfg(test)]
mod tests;

pub use change::{Change, Changed, CutSwim, Why};

use crate::check::CheckedSession;
use crate::measure::{Distance, Lengths, Pool, Seconds};
use crate::session::Lane;
use crate::session::words::Keep;
use board::{Board, Scale, free_and_held};
use choices::Chooser;
use desk::Desk;
use in_time::in_time;
use search::{Aim, Found};

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
    let booked = session.booked.as_ref().map(|booked| booked.value);
    let Some(lane) = lane else { return inside_booking(session, pool, base, booked) };
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

/// The other pool's version inside the booking. As written, a session is never cut: that it
/// runs over is told to the coach instead; length for length is a wish of its own.
fn inside_booking(
    session: &CheckedSession,
    pool: Pool,
    base: Recut,
    booked: Option<Seconds>,
) -> Recut {
    match booked.filter(|booked| base.seconds > *booked) {
        Some(booked) if pool != session.pool.value && session.keep == Keep::Distance => {
            recut(session, pool, None, Target::AtMost(booked)).unwrap_or_else(Impossible::nearest)
        }
        _ => base,
    }
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
    let own = desk.written.lines().map(|line| desk.own_length(line).grid()).sum();
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
