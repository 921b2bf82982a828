//! The same session with other repeats: for another pool, a distance, a time, a lane.
//!
//! One engine makes them all. What it prefers to what is written in `wishes`; what a line
//! may become, in `choices`; how the best of all is found, in `search`.

use thiserror::Error;

mod build;
mod change;
mod choices;
mod in_time;
mod reason;
mod search;
mod shapes;
mod space;
mod transfer;
mod wishes;

#[cfg(test)]
mod tests;

pub use change::{Change, Changed, CutSet, CutSwim, Why};

use crate::check::CheckedSession;
use crate::measure::{Distance, Lengths, Pool, Seconds};
use crate::session::Lane;
use crate::session::words::Keep;
use choices::Chooser;
use in_time::in_time;
use search::{Found, Sought};
use space::{Scale, Space, free_and_held};
use transfer::Transfer;

/// What a recut is to reach.
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
        self.session.distance()
    }

    /// Whether any set has other repeats, lengths or rounds than written.
    pub fn changes_swims(&self) -> bool {
        self.changes.iter().any(|change| !matches!(change.what, Changed::SendOff { .. }))
    }
}

/// A target that cannot be reached.
#[derive(Debug, Error)]
pub enum Impossible {
    /// The distance is more than a pair of lengths away from anything there is.
    #[error("no recut reaches {}; the nearest is {}: {why}", wanted.with_commas(), nearest.distance().with_commas())]
    Distance {
        /// What was wanted.
        wanted: Distance,
        /// The nearest there is.
        nearest: Box<Recut>,
        /// Why there is none nearer.
        why: Obstacle,
    },
    /// The time is passed, or far from used.
    #[error("{}", not_in_time(*wanted, nearest.seconds, *other_wall, *why))]
    Time {
        /// What was wanted.
        wanted: Seconds,
        /// The nearest there is.
        nearest: Box<Recut>,
        /// How long one takes that ends at other walls than `nearest`: the least that keeps the
        /// walls, where `nearest` does not; a quicker one that breaks them, where it does.
        other_wall: Option<Seconds>,
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

fn not_in_time(
    wanted: Seconds,
    nearest: Seconds,
    other_wall: Option<Seconds>,
    why: Obstacle,
) -> String {
    match (other_wall, why) {
        (Some(kept), Obstacle::Walls) => format!(
            "no recut that ends each set where it began comes out in {wanted}; the least takes {kept}: \
             in {nearest} a set would end at the far wall"
        ),
        (Some(far), _) => format!(
            "no recut comes out in {wanted}; the least takes {nearest}, and {far} with a set that ends \
             at the far wall: {why}"
        ),
        (None, _) if nearest <= wanted => {
            format!("no recut fills {wanted}; the fullest takes {nearest}: {why}")
        }
        (None, _) => format!("no recut comes out in {wanted}; the nearest takes {nearest}: {why}"),
    }
}

/// Why a target cannot be reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Obstacle {
    /// There is nothing left to cut.
    #[error(
        "every set keeps at least one repeat, and drills, timed and fixed sets are never changed"
    )]
    AtLeast,
    /// Nothing may be changed.
    #[error("drills, timed swims and fixed sets are never changed, and it has nothing else")]
    Held,
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

/// Time that a recut leaves unused, and the least that could be added to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// The time left.
    pub unused: Seconds,
    /// What is least to add: one repeat, or two.
    pub more: CutSwim,
    /// How long that takes.
    pub takes: Seconds,
    /// Whether the set would end at the far wall with it.
    pub ends_away: bool,
}

/// What `cut` leaves of `wanted`, where that is more than a minute: the quickest repeat there is to
/// add, which fits and ends at the far wall, or does not fit.
pub fn left_of(cut: &Recut, wanted: Seconds) -> Option<Left> {
    let unused = wanted.less(cut.seconds);
    if unused.get() <= wishes::IDLE_FREE_S {
        return None;
    }
    let here = Transfer::new(&cut.session, cut.session.pool.value, None);
    let more = in_time::repeats_more(cut, here).into_iter().min_by_key(|more| more.seconds)?;
    Some(Left { unused, more: more.swim, takes: more.seconds, ends_away: more.ends_away })
}

/// Steps away from its own size at which a line is looked at: first near by, and further
/// only where no total near the target is found so.
const BREADTHS: [u32; 3] = [1, 3, 9];

/// The breadth of a search that must come out in a time.
const BREADTH_IN_TIME: u32 = 2;

/// Cuts `session` anew for `pool`, at its own pace or a lane's. Of a session in which some sets are
/// for some lanes only, it is what the lane swims, or the first lane.
pub fn recut(
    session: &CheckedSession,
    pool: Pool,
    lane: Option<&Lane>,
    target: Target,
) -> Result<Recut, Impossible> {
    match session.has_sets_of_lanes() {
        true => cut(Transfer::new(&session.swum_by(lane), pool, lane), target),
        false => cut(Transfer::new(session, pool, lane), target),
    }
}

/// The same at the session's own pace, with the parts drawn into the bands of its level, also
/// those that were outside them.
pub fn recut_into_bands(
    session: &CheckedSession,
    pool: Pool,
    target: Target,
) -> Result<Recut, Impossible> {
    cut(Transfer { into_bands: true, ..Transfer::new(session, pool, None) }, target)
}

fn cut(transfer: Transfer<'_>, target: Target) -> Result<Recut, Impossible> {
    match target {
        Target::Equal => Ok(equal(transfer)),
        Target::Distance(wanted) => to_distance(transfer, wanted),
        Target::Time(wanted) => in_time(transfer, wanted, u32::MAX),
        Target::AtMost(most) => inside(transfer, equal(transfer), most),
    }
}

/// `base`, or no more lengths than it has in at most a time where it would pass that.
fn inside(transfer: Transfer<'_>, base: Recut, most: Seconds) -> Result<Recut, Impossible> {
    if base.seconds <= most {
        return Ok(base);
    }
    in_time(transfer, most, base.lengths.get())
}

/// The session as it is swum in `pool` at its own pace: at equal distance or length for
/// length as it asks, and the other pool's version inside the booking.
///
/// As written, a session is never cut: that it runs over is reported to the coach instead; and
/// length for length is a wish of its own.
pub fn for_pool(session: &CheckedSession, pool: Pool) -> Recut {
    let transfer = Transfer::new(session, pool, None);
    let base = as_kept(transfer);
    match &session.booked {
        Some(booked) if !transfer.same_pool() && session.keep == Keep::Distance => {
            inside(transfer, base, booked.value).unwrap_or_else(Impossible::nearest)
        }
        _ => base,
    }
}

/// A session in its own pool as a lane swims it, inside the booking; `together` is when all lanes
/// are to finish.
pub(super) fn for_lane(session: &CheckedSession, lane: &Lane, together: Option<Seconds>) -> Recut {
    let transfer = Transfer::new(session, session.pool.value, Some(lane));
    let base = build::length_for_length(transfer);
    let booked = session.booked.as_ref().map(|booked| booked.value);
    let cut = match (together.or(booked.filter(|_| stretches(lane))), booked) {
        (Some(wanted), _) if !fills(base.seconds, wanted) => in_time(transfer, wanted, u32::MAX),
        (None, Some(booked)) => inside(transfer, base, booked),
        _ => Ok(base),
    };
    cut.unwrap_or_else(Impossible::nearest)
}

/// When lanes that finish together do, the session itself taking `own`: with the booking if
/// one of them is to fill it or the session would pass it, else with the session. `None`
/// where each finishes by itself.
pub(super) fn together(session: &CheckedSession, own: Seconds) -> Option<Seconds> {
    let booked = session.booked.as_ref().map(|booked| booked.value);
    session.together.then(|| match booked {
        Some(booked) if session.lanes.iter().any(stretches) || own > booked => booked,
        _ => own,
    })
}

fn stretches(lane: &Lane) -> bool {
    lane.stretch.as_ref().is_some_and(|stretch| stretch.value)
}

/// At equal distance or length for length, as the session asks.
fn as_kept(transfer: Transfer<'_>) -> Recut {
    match transfer.written.keep {
        Keep::Lengths => build::length_for_length(transfer),
        Keep::Distance => equal(transfer),
    }
}

/// Whether a time is used but for a minute, and not passed.
fn fills(seconds: Seconds, wanted: Seconds) -> bool {
    seconds <= wanted && wanted.less(seconds).get() <= wishes::IDLE_FREE_S
}

/// The session at about its own distance.
fn equal(transfer: Transfer<'_>) -> Recut {
    if transfer.same_pool() && !transfer.into_bands {
        return build::length_for_length(transfer);
    }
    let transfer = Transfer { keeps_sizes: !transfer.same_pool(), ..transfer };
    let own = transfer.written.lines().map(|line| transfer.own_length(line).grid()).sum();
    let (space, found) = toward(transfer, own, BREADTH_IN_TIME);
    let why = if transfer.same_pool() { Why::Bands } else { Why::Pool(transfer.pool) };
    build::of(transfer, &space, &found, why)
}

fn to_distance(transfer: Transfer<'_>, wanted: Distance) -> Result<Recut, Impossible> {
    let grid = wanted.true_length().grid();
    let (space, found) = toward(transfer, grid, BREADTHS[0]);
    let cut = build::of(transfer, &space, &found, Why::Distance);
    let length = space.length_grid;
    let off = (u64::from(found.lengths) * length).abs_diff(grid);
    if off <= 2 * length {
        return Ok(cut);
    }
    let (least, most) = space.span();
    let why = if least == most {
        Obstacle::Held
    } else if grid < u64::from(least) * length {
        Obstacle::AtLeast
    } else if grid > u64::from(most) * length {
        Obstacle::AtMost
    } else {
        Obstacle::Steps
    };
    Err(Impossible::Distance { wanted, nearest: Box::new(cut), why })
}

/// The best recut with a total near `grid`, looked for from `first` steps on.
fn toward(transfer: Transfer<'_>, grid: u64, first: u32) -> (Space, Found) {
    let (free, held) = free_and_held(transfer);
    let scale = Scale { now: u128::from(grid.saturating_sub(held)), was: u128::from(free) };
    let breadths = [first].into_iter().chain(BREADTHS.into_iter().filter(|more| *more > first));
    let mut best: Option<(Space, Found)> = None;
    for breadth in breadths {
        let space = Space::new(transfer, scale, breadth);
        let Some(found) = search::best(&space, Sought::Near { grid }) else { continue };
        let cost = found.cost;
        let drawn_in = !transfer.into_bands || cost.share_permille == 0;
        let near = cost.walls == 0 && cost.miss == 0 && drawn_in;
        if best.as_ref().is_none_or(|(_, before)| found.cost < before.cost) {
            best = Some((space, found));
        }
        if near {
            break;
        }
    }
    best.unwrap_or_else(|| build::unsearched(transfer))
}
