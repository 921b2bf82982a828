//! How large the sessions of a block may be: what the pool, the patterns and the minutes allow.

use super::{BlockDraftError, BlockWish};
use crate::block::advice::longest_share_percent;
use crate::block::progression::{Ask, NoProgression};
use crate::draft::{Library, Nearest, Open, Wish, draft_if_met, least_session};
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

/// The wish in lengths of its pool: what is swum today rounded down, the goal up.
pub(super) fn ask(
    wish: &BlockWish,
    library: &Library,
    club: Open<'_>,
) -> Result<Ask, BlockDraftError> {
    let length = wish.pool.length().true_length().grid();
    let lengths = |count: u64| Lengths::new(u32::try_from(count).unwrap_or(u32::MAX));
    let down = |distance: Distance| lengths(distance.true_length().grid() / length);
    let from = down(wish.from);
    if from.get() == 0 {
        return Err(BlockDraftError::LessThanALength { from: wish.from, pool: wish.pool });
    }
    let refused = |error| BlockDraftError::NoProgression { error, farthest: None };
    if !LIMITS.repeat_distance.holds(wish.to.thirds() / 3) {
        return Err(BlockDraftError::PastTheLimit { to: wish.to });
    }
    let to = lengths(wish.to.true_length().grid().div_ceil(length));
    if to <= from {
        return Err(refused(NoProgression::ThereAlready));
    }
    let kinds = Kinds { wish, library, club };
    let goals = [Goal::Endurance, Goal::Technique].into_iter().take(wish.sessions.min(2) as usize);
    let least = goals.filter_map(|goal| kinds.least_of(goal)).map(|near| kinds.lengths(near)).max();
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
        least: Lengths::new(least.unwrap_or(0)),
        most: None,
        usual: Lengths::new(usual - usual % (2 * round_laps)),
        most_beside: in_minutes(most),
        round_laps,
        before_a_day: wish.day.is_some(),
    };
    if let Some(time) = wish.time {
        let needs = kinds.in_minutes(from, to, time)?;
        let most = needs.map(|needs| kinds.in_time(needs, time).get().max(kinds.lengths(needs)));
        if let Some(most) = most {
            // Where the minutes are few, the swim takes more of its session.
            let tight = u32::try_from(u64::from(to.get()) * 100 / u64::from(most.max(1)));
            ask.longest_share_percent = share.max(tight.unwrap_or(100).saturating_add(1));
            ask.most = Some(Lengths::new(most));
        }
    }
    Ok(ask)
}

/// Laps that make a hundred, where two do.
fn round_laps(wish: &BlockWish) -> u32 {
    let laps = |count: u32| wish.pool.distance(Lengths::new(2 * count)).thirds();
    let is_hundreds = laps(2).is_multiple_of(300) && !laps(1).is_multiple_of(300);
    if is_hundreds { 2 } else { 1 }
}

/// The sessions that a block may be made of.
struct Kinds<'a> {
    wish: &'a BlockWish,
    library: &'a Library,
    club: Open<'a>,
}

impl Kinds<'_> {
    /// The least session for a goal that there is whatever the focus.
    fn least_of(&self, goal: Goal) -> Option<Nearest> {
        let focuses = self.library.focuses(goal, self.wish.level);
        let all = focuses.into_iter().filter_map(|focus| {
            // In the first week no swim is longer than what is swum today.
            let wish = Wish { focus: Some(focus.to_owned()), ..self.wish_for(goal) };
            let wish = Wish { longest: Some(self.wish.from), ..wish };
            least_session(&wish, self.library, self.club)
        });
        all.max_by_key(|near| near.distance.thirds())
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

    /// The least session that holds the goal, which must not take longer than `time`.
    fn in_minutes(
        &self,
        from: Lengths,
        to: Lengths,
        time: Seconds,
    ) -> Result<Option<Nearest>, BlockDraftError> {
        let pool = self.wish.pool;
        let around = |swim: u32| {
            let unbroken = Some(pool.distance(Lengths::new(swim)));
            let wish = Wish { unbroken, ..self.wish_for(Goal::Endurance) };
            least_session(&wish, self.library, self.club)
        };
        let Some(needs) = around(to.get()) else { return Ok(None) };
        if needs.seconds <= time {
            return Ok(Some(needs));
        }
        // The longest swim in that time, by halving: a longer swim never takes less.
        let fits = |laps: u32| around(laps * 2).is_some_and(|near| near.seconds <= time);
        let (mut most, mut over) = (from.get() / 2, to.get().div_ceil(2));
        let mut longest = None;
        while most + 1 < over {
            let middle = most.midpoint(over);
            if fits(middle) {
                (most, longest) = (middle, Some(pool.distance(Lengths::new(middle * 2))));
            } else {
                over = middle;
            }
        }
        Err(BlockDraftError::LongerThanMinutes { to: self.wish.to, needs, time, longest })
    }

    fn lengths(&self, near: Nearest) -> u32 {
        let length = self.wish.pool.length().thirds().max(1);
        u32::try_from(near.distance.thirds() / length).unwrap_or(u32::MAX)
    }

    /// About the lengths of a session like `near` in so much time, in whole laps.
    fn in_time(&self, near: Nearest, time: Seconds) -> Lengths {
        let leisurely = u64::from(near.seconds.get()) * u64::from(LEISURE_PERCENT) / 100;
        let lengths = u64::from(self.lengths(near)) * u64::from(time.get()) / leisurely.max(1);
        Lengths::new(u32::try_from(lengths / 2 * 2).unwrap_or(u32::MAX))
    }
}
