//! How large the sessions of a block may be: what the pool, the patterns and the minutes allow.

use std::collections::BTreeMap;

use super::{BlockDraftError, BlockWish};
use crate::block::advice::longest_share_percent;
use crate::block::progression::{Ask, NoProgression, laps_up};
use crate::draft::{
    Library, Nearest, Open, Wish, draft_if_met, least_session, most_distance, session_up_to,
};
use crate::measure::{Distance, LIMITS, Lengths, Seconds};
use crate::session::words::{Goal, Level};

/// Minutes of a first session, and the most of one without the longest swim where no minutes are
/// asked for: shorter is not worth the way to the pool, longer is no evening of technique. Common
/// practice, no source.
const USUAL_MINUTES: [(Level, u32, u32); 3] =
    [(Level::Beginner, 30, 45), (Level::Improver, 40, 60), (Level::Advanced, 45, 75)];

/// What a session takes beyond the quickest of its kind, in per cent: rests that a coach would
/// rather give. A choice of this program.
const LEISURE_PERCENT: u32 = 115;

/// What a block is to do, and the focuses its sessions may have.
pub(super) struct Sizing {
    pub ask: Ask,
    pub focuses: BTreeMap<Goal, Vec<String>>,
}

/// The wish in lengths of its pool: what is swum today rounded down, the goal up.
pub(super) fn sizing(
    wish: &BlockWish,
    library: &Library,
    club: Open<'_>,
) -> Result<Sizing, BlockDraftError> {
    let length = wish.pool.length().true_length().grid();
    let lengths = |count: u64| Lengths::new(u32::try_from(count).unwrap_or(u32::MAX));
    let down = |distance: Distance| lengths(distance.true_length().grid() / length);
    let from = down(wish.from);
    if from.get() == 0 {
        return Err(BlockDraftError::LessThanALength { from: wish.from, pool: wish.pool });
    }
    let refused = |error| BlockDraftError::NoProgression { error, farthest: None };
    if !LIMITS.repeat_distance.holds(wish.to.sixths() / 6) {
        return Err(BlockDraftError::PastTheLimit { to: wish.to });
    }
    let to = lengths(wish.to.true_length().grid().div_ceil(length));
    if to <= from {
        return Err(refused(NoProgression::ThereAlready));
    }
    let kinds = Kinds { wish, library, club };
    let (mut least, mut focuses) = (0, BTreeMap::new());
    let goals = [Goal::Endurance, Goal::Technique];
    for goal in goals.into_iter().take(if wish.sessions > 1 { 2 } else { 1 }) {
        let known = kinds.focuses(goal);
        if known.is_empty() {
            return Err(BlockDraftError::LevelTooHigh { level: wish.level, from: wish.from });
        }
        least = known.iter().map(|(_, near)| kinds.lengths(*near)).fold(least, u32::max);
        focuses.insert(goal, known.into_iter().map(|(focus, _)| focus).collect());
    }
    let minutes = USUAL_MINUTES.iter().find(|(level, ..)| *level == wish.level);
    let (first, most) = minutes.map_or((30, 60), |(_, first, most)| (*first, *most));
    let in_minutes = |minutes: u32| {
        let usual = Seconds::new(minutes * 60);
        kinds.filling(wish.time.map_or(usual, |time| time.min(usual)))
    };
    let round_laps = round_laps(wish);
    let usual = in_minutes(first).map_or(0, Lengths::get);
    let share = longest_share_percent(wish.level);
    let mut ask = Ask {
        from,
        to,
        weeks: wish.weeks,
        sessions: wish.sessions,
        longest_share_percent: share,
        growth_percent: wish.growth_percent,
        longest_growth_percent: wish.longest_growth_percent,
        session: wish.session.map(down),
        least: Lengths::new(least),
        most: None,
        usual: Lengths::new(usual - usual % (2 * round_laps)),
        most_beside: in_minutes(most),
        round_laps,
        before_a_day: wish.day.is_some(),
    };
    if let Some(most) = kinds.most_around(&ask)? {
        // Where there is little room, the swim takes more of its session: the whole laps of it.
        let swum = u64::from(laps_up(to.get()));
        let tight = u32::try_from(swum * 100 / u64::from(most.get().max(1)));
        let tight = tight.unwrap_or(100).saturating_add(1);
        ask.longest_share_percent = ask.longest_share_percent.max(tight);
        ask.most = Some(most);
    }
    Ok(Sizing { ask, focuses })
}

/// The longest swim of whole laps that `fits`, by halving: a longer swim never needs less.
fn longest(ask: &Ask, fits: impl Fn(u32) -> bool) -> Option<u32> {
    let (mut most, mut over) = (ask.from.get() / 2, ask.to.get().div_ceil(2));
    let mut longest = None;
    while most + 1 < over {
        let middle = most.midpoint(over);
        if fits(middle * 2) {
            (most, longest) = (middle, Some(middle * 2));
        } else {
            over = middle;
        }
    }
    longest
}

/// Laps that make a hundred, where two do.
fn round_laps(wish: &BlockWish) -> u32 {
    let laps = |count: u32| wish.pool.distance(Lengths::new(2 * count)).sixths();
    let is_hundreds = laps(2).is_multiple_of(600) && !laps(1).is_multiple_of(600);
    if is_hundreds { 2 } else { 1 }
}

/// The sessions that a block may be made of.
struct Kinds<'a> {
    wish: &'a BlockWish,
    library: &'a Library,
    club: Open<'a>,
}

impl Kinds<'_> {
    /// The focuses of a goal that there are sessions for, each with its least.
    fn focuses(&self, goal: Goal) -> Vec<(String, Nearest)> {
        let all = self.library.focuses(goal, self.wish.level).into_iter();
        all.filter_map(|focus| {
            // In the first week no swim is longer than what is swum today.
            let wish = Wish { focus: Some(focus.to_owned()), ..self.wish_for(goal) };
            let wish = Wish { longest: Some(self.wish.from), ..wish };
            Some((focus.to_owned(), least_session(&wish, self.library, self.club)?))
        })
        .collect()
    }

    /// The lengths of a session of technique that fills so much time.
    fn filling(&self, time: Seconds) -> Option<Lengths> {
        let wish = Wish { time: Some(time), distance: None, ..self.wish_for(Goal::Technique) };
        draft_if_met(&wish, self.library, self.club).map(|drafted| drafted.lengths)
    }

    fn wish_for(&self, goal: Goal) -> Wish {
        let BlockWish { level, pool, pace, .. } = *self.wish;
        Wish {
            gear: self.wish.gear.clone(),
            club: self.wish.club.clone(),
            distance: Some(pool.distance(Lengths::new(2))),
            ..Wish::new(level, goal, pool, pace)
        }
    }

    /// The most lengths that the session of the longest swim may have, which must hold the goal.
    fn most_around(&self, ask: &Ask) -> Result<Option<Lengths>, BlockDraftError> {
        let pool = self.wish.pool;
        let around = |swim: u32| Wish {
            unbroken: Some(pool.distance(Lengths::new(swim))),
            ..self.wish_for(Goal::Endurance)
        };
        let least = |swim: u32| least_session(&around(swim), self.library, self.club);
        let most = most_distance(&around(2));
        let holds = |near: Nearest| {
            let in_time = self.wish.time.is_none_or(|time| near.seconds <= time);
            in_time && near.distance.sixths() <= most.sixths()
        };
        let Some(needs) = least(ask.to.get()) else { return Ok(None) };
        if !holds(needs) {
            let (to, time) = (self.wish.to, self.wish.time);
            let longest = longest(ask, |swim| least(swim).is_some_and(holds));
            let longest = longest.map(|swim| pool.distance(Lengths::new(swim)));
            return Err(BlockDraftError::LongerThanMinutes { to, needs, time, most, longest });
        }
        // As long as is usual around such a swim, or as the minutes and the patterns allow.
        let usual = u64::from(ask.to.get()) * 100 / u64::from(ask.longest_share_percent.max(1));
        let usual = u32::try_from(usual).unwrap_or(u32::MAX).max(self.lengths(needs));
        let most_lengths = u32::try_from(most.sixths() / pool.length().sixths().max(1));
        // Some way on, so that a gap between two sizes is not taken for the end.
        let sought = usual.saturating_add(usual / 2).min(most_lengths.unwrap_or(u32::MAX));
        let sought = pool.distance(Lengths::new(sought));
        let there_is = session_up_to(&around(ask.to.get()), sought, self.library, self.club);
        let there_is = there_is.map_or(0, |near| self.lengths(near));
        // Where there is enough, it is no limit.
        let there_is = if there_is < usual { there_is } else { u32::MAX };
        let in_time = self.wish.time.map_or(u32::MAX, |time| self.in_time(needs, time).get());
        let limit = there_is.min(in_time);
        Ok((limit < u32::MAX).then(|| Lengths::new(limit.max(self.lengths(needs)))))
    }

    fn lengths(&self, near: Nearest) -> u32 {
        let length = self.wish.pool.length().sixths().max(1);
        u32::try_from(near.distance.sixths() / length).unwrap_or(u32::MAX)
    }

    /// About the lengths of a session like `near` in so much time, in whole laps.
    fn in_time(&self, near: Nearest, time: Seconds) -> Lengths {
        let leisurely = u64::from(near.seconds.get()) * u64::from(LEISURE_PERCENT) / 100;
        let lengths = u64::from(self.lengths(near)) * u64::from(time.get()) / leisurely.max(1);
        Lengths::new(u32::try_from(lengths / 2 * 2).unwrap_or(u32::MAX))
    }
}
