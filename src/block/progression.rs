//! From "can swim this today" to "wants that": weekly totals and the longest swim of each
//! week, in whole lengths. Pure arithmetic, exact.
//!
//! Every fourth week is easier, but never the last, unless a day follows it: a habit of coaches,
//! no source. The other weeks grow: the total by at most a setting (10 % unless set, common
//! practice), the longest swim without a stop by at most another (half of itself unless set), and
//! both by no more than the goal asks for. The longest swim grows only as far as its week's total
//! holds it; a total that would stand still for want of a whole length goes up by one lap, out and
//! back. The session of the longest swim takes what the others leave: these grow no further than
//! a session without it is usually swum.

use thiserror::Error;

use crate::measure::{LIMITS, Lengths};

/// Growth of a week's total in per cent, unless set. Common practice and not proven: runners
/// who kept to it were hurt as often as those who did not (Buist et al. 2008, Am J Sports Med
/// 36(1):33-39).
pub const USUAL_GROWTH_PERCENT: u32 = 10;

/// Growth of the longest swim from week to week in per cent, unless set: half of itself.
/// The week's total stays under its own limit, so this takes rests out and adds no distance.
/// A choice of this program, no source.
pub const USUAL_LONGEST_GROWTH_PERCENT: u32 = 50;

/// Every so many weeks one is easier. Three weeks up and one easier is common practice, no source.
const EASIER_EVERY: u32 = 4;

/// What of a full week an easier week keeps, in per cent. Common practice, no source.
const EASIER_KEEPS_PERCENT: u32 = 70;

/// A first session is no longer than so many times what can be swum without a stop, unless none
/// so short can be drafted. A choice of this program, no source.
const MOST_OF_FROM: u32 = 10;

/// What a block is to do. Distances are lengths of its pool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ask {
    /// Swum today without a stop.
    pub from: Lengths,
    /// To be swum without a stop at the end.
    pub to: Lengths,
    /// Weeks there are.
    pub weeks: u32,
    /// Sessions in each.
    pub sessions: u32,
    /// The most of a session that may be one swim, in per cent: what warm-up and cool-down leave.
    pub longest_share_percent: u32,
    /// The most a week's total may grow by, in per cent.
    pub growth_percent: u32,
    /// The most the longest swim may grow by from week to week, in per cent.
    pub longest_growth_percent: u32,
    /// A session as it is swum today, if that is known.
    pub session: Option<Lengths>,
    /// A first session as it is usually swum, where today's is not known.
    pub usual: Lengths,
    /// The least session there is.
    pub least: Lengths,
    /// The most a session may have, where that is limited.
    pub most: Option<Lengths>,
    /// The most a session without the longest swim has, where that is limited.
    pub most_beside: Option<Lengths>,
    /// Laps that make a round distance: two where a length is 25.
    pub round_laps: u32,
    /// Whether the last week is an easier one, because a day follows it.
    pub before_a_day: bool,
}

/// One week of a progression.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Whether it is one of the easier weeks.
    pub easier: bool,
    /// All its lengths.
    pub total: Lengths,
    /// The lengths of each session, the longest last: an even number each.
    pub sessions: Vec<Lengths>,
    /// The longest swim without a stop.
    pub longest: Lengths,
}

/// Why there is no progression.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum NoProgression {
    /// More weeks are needed.
    #[error("{} too few; {would_do} would do", weeks_are(*weeks))]
    TooFewWeeks {
        /// Weeks given.
        weeks: u32,
        /// The fewest that would do.
        would_do: u32,
    },
    /// The goal is swum today.
    #[error("that far is swum without a stop already; choose a longer goal")]
    ThereAlready,
    /// No number of weeks would do.
    #[error("no block of up to {} weeks leads there with so little growth", LIMITS.weeks.most)]
    TooFar,
    /// A number that no block has.
    #[error("a block has at least one week, one session a week and one length to start from")]
    Nothing,
}

/// "1 week is", "2 weeks are".
fn weeks_are(weeks: u32) -> String {
    if weeks == 1 { "1 week is".to_owned() } else { format!("{weeks} weeks are") }
}

/// `start` grown by `percent` each step, in multiples of `unit` rounded down: `steps` numbers
/// after the start.
///
/// The growth compounds exactly (to 10^-18, which is exact for nine steps of whole per cents);
/// only what is given out is rounded, so the rounding does not add up.
pub fn compounded(start: u64, percent: u32, unit: u64, steps: u32) -> Vec<u64> {
    const ONE: u128 = 1_000_000_000_000_000_000;
    let unit = u128::from(unit.max(1));
    // The numbers are lengths of a session; only a mistake could pass this.
    let most = u128::MAX / 1000;
    let mut exact = (u128::from(start) * ONE).min(most);
    let mut grown = Vec::new();
    for _ in 0..steps {
        exact = (exact * u128::from(100 + percent.min(800)) / 100).min(most);
        let whole = exact / ONE / unit * unit;
        grown.push(u64::try_from(whole).unwrap_or(u64::MAX));
    }
    grown
}

/// Which weeks are easier ones.
fn easier_weeks(ask: &Ask) -> Vec<bool> {
    let leading = ask.weeks.saturating_sub(u32::from(ask.before_a_day));
    (0..ask.weeks).map(|index| index >= leading || is_easier(index, leading)).collect()
}

/// Whether week `index`, from 0, of `weeks` that lead up is an easier one.
fn is_easier(index: u32, weeks: u32) -> bool {
    (index + 1).is_multiple_of(EASIER_EVERY) && index + 1 < weeks
}

/// Computes the weeks from what is swum today to the goal, in order.
///
/// # Errors
///
/// Where no weeks, or not so few, lead there.
pub fn progression(ask: &Ask) -> Result<Vec<Step>, NoProgression> {
    let nothing = ask.weeks == 0 || ask.sessions == 0 || ask.from.get() == 0;
    if nothing || ask.longest_share_percent == 0 {
        return Err(NoProgression::Nothing);
    }
    if ask.to <= ask.from {
        return Err(NoProgression::ThereAlready);
    }
    if let Some(steps) = within(ask) {
        return Ok(steps);
    }
    match fewest_weeks(ask) {
        Some(would_do) => Err(NoProgression::TooFewWeeks { weeks: ask.weeks, would_do }),
        None => Err(NoProgression::TooFar),
    }
}

/// The fewest weeks that lead there, whatever weeks are asked for.
pub fn fewest_weeks(ask: &Ask) -> Option<u32> {
    let most = u32::try_from(LIMITS.weeks.most).unwrap_or(u32::MAX);
    (1..=most).find(|weeks| within(&Ask { weeks: *weeks, ..*ask }).is_some())
}

/// The farthest goal that so many weeks lead to, where the one that is asked for is too far.
pub fn farthest(ask: &Ask) -> Option<Lengths> {
    let nearer = (ask.from.get() + 1..ask.to.get()).rev().map(Lengths::new);
    nearer.into_iter().find(|to| within(&Ask { to: *to, ..*ask }).is_some())
}

/// The weeks, if they are enough.
fn within(ask: &Ask) -> Option<Vec<Step>> {
    let easier = easier_weeks(ask);
    let full = easier.iter().filter(|easier| !**easier).count();
    let sizes = Sizes::of(ask);
    let half = ask.growth_percent.div_ceil(2);
    let (laps, swims) = sizes.starts(ask).find_map(|start| {
        (half..=ask.growth_percent).find_map(|percent| {
            let laps = sizes.weekly_laps(ask, start, percent, full);
            let swims = longest_swims(ask, &sizes, &laps)?;
            Some((laps, swims))
        })
    })?;
    let others = sizes.others_at_last(ask, *laps.last()?);
    let mut next: usize = 0;
    let step = |easier: &bool| {
        next += usize::from(!*easier);
        let (laps, swim) = (*laps.get(next.checked_sub(1)?)?, *swims.get(next.checked_sub(1)?)?);
        Some(match easier {
            true => sizes.easier_week(ask, laps, swim, others),
            false => sizes.week(ask, laps, swim, others),
        })
    };
    easier.iter().map(step).collect()
}

/// What sessions may have, in laps.
struct Sizes {
    /// A first session.
    first: u32,
    /// The least a session without the longest swim has.
    least: u32,
    /// The most of one.
    most_beside: u32,
    /// The most that the session of the longest swim has.
    most: u32,
}

impl Sizes {
    fn of(ask: &Ask) -> Self {
        let most_first = ask.from.get().saturating_mul(MOST_OF_FROM).min(ask.usual.get());
        let floor = ask.least.get().max(2);
        // A week of the least sessions could not be followed by an easier one.
        let above = floor.saturating_add(2);
        let most = ask.most.map_or(u32::MAX, Lengths::get) / 2;
        let first = (ask.session.map_or(most_first, Lengths::get).max(above) / 2).min(most).max(1);
        let goal = holding(ask, laps_up(ask.to.get())) / 2;
        // More than the goal asks for is not swum, but a session may always grow by half.
        let most = most.min(goal.max(first + first / 2));
        let most_beside = ask.most_beside.map_or(u32::MAX, Lengths::get) / 2;
        let least = first.min(most_beside).max(floor.div_ceil(2)).min(first);
        Self { first, least, most_beside: most_beside.clamp(least, most.max(least)), most }
    }

    /// First weeks: of what is usual, or from the least that will do on; of today's sessions, if
    /// these are known.
    fn starts(&self, ask: &Ask) -> impl Iterator<Item = u32> + use<> {
        let others = self.least.saturating_mul(ask.sessions - 1);
        let needed = (holding(ask, swim_down(ask.from.get())) / 2).saturating_add(others);
        let least = self.first.saturating_mul(ask.sessions).max(needed);
        let most_first = ask.from.get().saturating_mul(MOST_OF_FROM) / 2;
        let most = match ask.session {
            // A first session of what is swum today is just that; one of the program's choosing
            // is modest.
            Some(_) => least,
            None => most_first.saturating_mul(ask.sessions).max(least),
        };
        least..=most.min(self.most_of_a_week(ask)).max(least)
    }

    fn most_of_a_week(&self, ask: &Ask) -> u32 {
        self.most.saturating_add(self.most_beside.saturating_mul(ask.sessions - 1))
    }

    /// The laps of each full week.
    fn weekly_laps(&self, ask: &Ask, start: u32, percent: u32, weeks: usize) -> Vec<u32> {
        let mut laps = vec![start];
        let steps = u32::try_from(weeks.saturating_sub(1)).unwrap_or(u32::MAX);
        let limit = self.most_of_a_week(ask).max(start);
        for exact in compounded(u64::from(start), percent, 1, steps) {
            let before = laps.last().copied().unwrap_or(start);
            let most = grown(before, ask.growth_percent);
            let exact = u32::try_from(exact).unwrap_or(u32::MAX);
            laps.push(exact.min(most).max(before + 1).min(limit));
        }
        laps
    }

    /// The longest swim that a week of so many laps holds, its other sessions being the least.
    fn holds(&self, ask: &Ask, laps: u32) -> u32 {
        let others = self.least.saturating_mul(ask.sessions - 1);
        let long = laps.saturating_sub(others).min(self.most).saturating_mul(2);
        let share = u64::from(long) * u64::from(ask.longest_share_percent) / 100;
        swim_down(u32::try_from(share).unwrap_or(u32::MAX))
    }

    /// What each of the other sessions has in the last full week.
    fn others_at_last(&self, ask: &Ask, laps: u32) -> u32 {
        let needed = holding(ask, laps_up(ask.to.get())) / 2;
        let left = laps.saturating_sub(needed).checked_div(ask.sessions - 1).unwrap_or(0);
        round(ask, left).clamp(self.least, self.most_beside)
    }

    /// A full week of `laps` laps in all, its other sessions of `others` at most.
    fn week(&self, ask: &Ask, laps: u32, longest: u32, others: u32) -> Step {
        let beside = ask.sessions - 1;
        let needed = holding(ask, longest) / 2;
        let room = laps.saturating_sub(needed).checked_div(beside).unwrap_or(0);
        let too_long = laps.saturating_sub(self.most.saturating_mul(ask.sessions));
        let even = round(ask, laps / ask.sessions);
        let other = even.min(others).min(room).max(self.least.min(room)).max(too_long);
        let long = laps.saturating_sub(other.saturating_mul(beside));
        // What is over the most of one session goes to the others.
        let over = long.saturating_sub(self.most.max(needed));
        let other = other + over.checked_div(beside).unwrap_or(0);
        let long = laps.saturating_sub(other.saturating_mul(beside));
        let sessions = (0..beside).map(|_| other).chain([long]);
        Step {
            easier: false,
            total: Lengths::new(2 * laps),
            sessions: sessions.map(|laps| Lengths::new(2 * laps)).collect(),
            longest: Lengths::new(longest),
        }
    }

    /// The easier week behind a full one.
    fn easier_week(&self, ask: &Ask, laps: u32, longest: u32, others: u32) -> Step {
        let keeps = |number: u32| number * EASIER_KEEPS_PERCENT / 100;
        let floor = ask.least.get().div_ceil(2).max(1);
        let laps = keeps(laps).max(floor * ask.sessions).min(laps);
        let eased = Self { least: floor.min(self.least), ..*self };
        // What was swum before the block is no effort in it, where the week holds it.
        let today = swim_down(ask.from.get()).min(eased.holds(ask, laps)).min(longest);
        let longest = swim_down(keeps(longest)).max(today).max(1);
        Step { easier: true, ..eased.week(ask, laps, longest, keeps(others).max(floor)) }
    }
}

/// Laps rounded down to a round distance.
fn round(ask: &Ask, laps: u32) -> u32 {
    laps - laps % ask.round_laps.max(1)
}

/// The lengths of a session that holds a swim of so many.
fn holding(ask: &Ask, swim: u32) -> u32 {
    let hundredfold = u64::from(swim) * 100;
    let least = hundredfold.div_ceil(u64::from(ask.longest_share_percent.max(1)));
    laps_up(u32::try_from(least).unwrap_or(u32::MAX - 1))
}

/// The longest swim of each full week, from today's to the goal, none longer than its week holds;
/// nothing where the steps are too few. The growth is the least whole per cent that leads there;
/// where that stalls for want of a whole length, a lap a week.
fn longest_swims(ask: &Ask, sizes: &Sizes, laps: &[u32]) -> Option<Vec<u32>> {
    let to = laps_up(ask.to.get());
    let path = |percent, by_laps| path(ask, sizes, laps, percent, by_laps);
    let reaches = |swims: &Vec<u32>| swims.last() == Some(&to);
    // The quickest growth first, to see whether any would do.
    path(ask.longest_growth_percent, true).filter(reaches)?;
    let ways = [false, true].into_iter();
    ways.flat_map(|by_laps| (1..=ask.longest_growth_percent).map(move |p| (p, by_laps)))
        .find_map(|(percent, by_laps)| path(percent, by_laps).filter(reaches))
}

/// The longest swims at one growth; `by_laps` makes a stall go up by a lap.
fn path(ask: &Ask, sizes: &Sizes, laps: &[u32], percent: u32, by_laps: bool) -> Option<Vec<u32>> {
    let (from, to) = (swim_down(ask.from.get()), laps_up(ask.to.get()));
    let first = from.min(to);
    if sizes.holds(ask, *laps.first()?) < first {
        return None;
    }
    let mut swims = vec![first];
    let growing = u32::try_from(laps.len().saturating_sub(1)).ok()?;
    let exact = compounded(u64::from(from), percent, 1, growing);
    for (exact, laps) in exact.into_iter().zip(laps.iter().skip(1)) {
        let before = *swims.last()?;
        let most = swim_down(grown(before, ask.longest_growth_percent)).max(lap_more(before));
        // A step of a lap can be ahead of the growth; then it goes on from there.
        // Over a year half of itself more each week is past any number: the goal ends it.
        let exact = u32::try_from(exact).unwrap_or(u32::MAX);
        let nearest_lap = exact.saturating_add(1) / 2 * 2;
        let wanted = nearest_lap.max(swim_down(grown(before, percent)));
        let wanted = if by_laps { wanted.max(lap_more(before)) } else { wanted.max(before) };
        swims.push(wanted.min(most).min(sizes.holds(ask, *laps)).max(before).min(to));
    }
    Some(swims)
}

/// `number` grown by `percent`, rounded down.
fn grown(number: u32, percent: u32) -> u32 {
    let grown = u64::from(number) * u64::from(100 + percent) / 100;
    u32::try_from(grown).unwrap_or(u32::MAX)
}

/// Whole laps, rounded up, in lengths.
pub(super) fn laps_up(lengths: u32) -> u32 {
    lengths.div_ceil(2) * 2
}

/// A swim of whole laps, rounded down, in lengths; a single length stays one.
fn swim_down(lengths: u32) -> u32 {
    if lengths < 2 { lengths } else { lengths / 2 * 2 }
}

/// The next longer swim that ends at its start wall.
fn lap_more(lengths: u32) -> u32 {
    lengths / 2 * 2 + 2
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ten weeks, two sessions each, from 200 m to 1,500 m in a pool of 25 m, for beginners.
    fn ask() -> Ask {
        Ask {
            from: Lengths::new(8),
            to: Lengths::new(60),
            weeks: 10,
            sessions: 2,
            longest_share_percent: 75,
            growth_percent: 10,
            longest_growth_percent: 50,
            session: None,
            usual: Lengths::new(24),
            least: Lengths::new(0),
            most: None,
            most_beside: None,
            round_laps: 2,
            before_a_day: false,
        }
    }

    #[test]
    fn growth_compounds_exactly_and_only_the_result_is_rounded() {
        // By definition: 1500 x 1.1^n = 1650, 1815, 1996.5, 2196.15, 2415.765. In tenths of a
        // metre first, then down to 25 m.
        assert_eq!(compounded(15_000, 10, 1, 3), [16_500, 18_150, 19_965]);
        assert_eq!(compounded(1500, 10, 25, 5), [1650, 1800, 1975, 2175, 2400]);
        // Rounding each week anew would fall behind: 1975 x 1.1 = 2172.5 is 2150.
        // From 400 down to 50: 440, 484, 532.4 are 400, 450, 500; the first step stalls.
        assert_eq!(compounded(400, 10, 50, 3), [400, 450, 500]);
        assert_eq!(compounded(u64::MAX, 200, 1, 2).len(), 2);
    }

    #[test]
    fn a_stall_steps_by_a_lap() {
        // One session of 400 m, 8 laps of a 25 m pool, 10 % more is 8.8 laps: the next week has
        // 9, and so on, a lap a week, until 10 % is more than a lap.
        let one = Ask { sessions: 1, ..ask() };
        assert_eq!(Sizes::of(&one).weekly_laps(&one, 8, 10, 5), [8, 9, 10, 11, 12]);
    }

    #[test]
    fn easier_weeks_are_every_fourth_and_never_the_last() {
        let numbers = |ask: Ask| -> Vec<usize> {
            let easier = easier_weeks(&ask);
            (1..).zip(easier).filter(|(_, easier)| *easier).map(|(number, _)| number).collect()
        };
        let weeks = |weeks| Ask { weeks, ..ask() };
        assert_eq!(numbers(weeks(10)), [4, 8]);
        assert_eq!(numbers(weeks(8)), [4]);
        assert_eq!(numbers(weeks(4)), [0_usize; 0]);
        // Before a day the last is easier, and the one before it never.
        let before = |weeks| Ask { weeks, before_a_day: true, ..ask() };
        assert_eq!(numbers(before(10)), [4, 8, 10]);
        assert_eq!(numbers(before(9)), [4, 9]);
        assert_eq!(numbers(before(5)), [5]);
        assert_eq!(numbers(before(1)), [1]);
    }

    #[test]
    fn ten_weeks_from_200_to_1500_by_hand() {
        let steps = progression(&ask()).expect("the weeks do");
        // Full weeks are 1, 2, 3, 5, 6, 7, 9, 10: seven steps. 8 lengths x 1.33^7 = 58.9 are too
        // few, 8 x 1.34^7 = 62.1 do. 8 x 1.34^n = 10.7, 14.4, 19.2, 25.8, 34.6, 46.3, 62.1; whole
        // lengths to the nearest lap, 10, 14, 20, 26, 34, 46, and the goal 60. Weeks 4 and 8 keep
        // 70 % of 14 and of 34: 9.8 and 23.8, down to laps 8 and 22.
        let longest: Vec<u32> = steps.iter().map(|step| step.longest.get()).collect();
        assert_eq!(longest, [8, 10, 14, 8, 20, 26, 34, 22, 46, 60]);
        // A first session has 24 lengths, 12 laps, and the other session stays there. 60 lengths
        // are 75 % of 80, 40 laps, so week 10 has 52 laps or more. Each week is at most 10 % over
        // the whole laps before: from 28 laps 30, 33, 36, 39, 42, 46, 50, too few. From 29 laps
        // 31, 34, 37, 40, 44, 48, 52: enough. At 9 % 29 x 1.09^7 = 53.0, but rounded down week by
        // week 31, 34, 37, 40, 44, 48, 52 (52.8) are also the floors of 31.6, 34.5, 37.6, 40.9,
        // 44.6, 48.6, 53.0: 48 x 1.1 = 52.8. The totals are the same.
        // Weeks 4 and 8 keep 70 % of 34 and of 44: 23.8 and 30.8.
        let totals: Vec<u32> = steps.iter().map(|step| step.total.get() / 2).collect();
        assert_eq!(totals, [29, 31, 34, 23, 37, 40, 44, 30, 48, 52]);
        let laps = |week: usize| -> Vec<u32> {
            steps[week - 1].sessions.iter().map(|session| session.get() / 2).collect()
        };
        assert_eq!(laps(1), [12, 17]);
        assert_eq!(laps(10), [12, 40]);
    }

    #[test]
    fn who_swims_50_m_finds_a_way_to_400() {
        // Two lengths of 25 m to sixteen. A first session has 10 x 50 m at most, 10 laps: twice
        // a week 20. 16 lengths are 75 % of 22 (21.3, up to laps), 11 laps, and the other
        // session's 10: 21 laps, a lap more, so that the totals are no hindrance. The longest swim by half of itself or a lap: 2, 4, 6, 8, 12, 16
        // (18), six full weeks; with the fourth of them easier seven weeks.
        let fifty = Ask {
            from: Lengths::new(2),
            to: Lengths::new(16),
            weeks: 6,
            least: Lengths::new(12),
            ..ask()
        };
        let few = progression(&fifty);
        assert_eq!(few, Err(NoProgression::TooFewWeeks { weeks: 6, would_do: 7 }));
        let steps = progression(&Ask { weeks: 10, ..fifty }).expect("ten weeks do");
        assert_eq!(steps.last().map(|step| step.longest), Some(Lengths::new(16)));
        assert_eq!(steps[0].longest, Lengths::new(2));
        for pair in steps.windows(2).filter(|pair| !pair[0].easier && !pair[1].easier) {
            let (before, now) = (pair[0].longest.get(), pair[1].longest.get());
            assert!(
                before <= now && now <= (before + before / 2).max(before + 2),
                "{before} {now}"
            );
        }
    }

    #[test]
    fn the_last_week_before_a_day_is_easier_and_the_goal_is_before_it() {
        let steps = progression(&Ask { weeks: 11, before_a_day: true, ..ask() }).expect("enough");
        assert_eq!(steps[9].longest, Lengths::new(60));
        // 70 % of 52 laps are 36.4, of 60 lengths 42.
        assert!(steps[10].easier);
        assert_eq!((steps[10].total, steps[10].longest), (Lengths::new(72), Lengths::new(42)));
    }

    #[test]
    fn weeks_beyond_what_would_do_are_never_too_few() {
        // Whoever has two years has the eight weeks too. Half of itself more for sixty weeks is a
        // number of twelve digits: it is the most, and no fault.
        for (from, to, before_a_day) in
            [(8, 60, false), (8, 60, true), (2, 16, false), (40, 66, false)]
        {
            let wanted =
                Ask { from: Lengths::new(from), to: Lengths::new(to), before_a_day, ..ask() };
            let fewest = fewest_weeks(&wanted).expect("some weeks do");
            for weeks in fewest..=104 {
                let steps = progression(&Ask { weeks, ..wanted });
                assert!(steps.is_ok(), "{from} to {to} in {weeks} weeks: {steps:?}");
            }
        }
    }

    #[test]
    fn one_week_is_one_week() {
        let one = NoProgression::TooFewWeeks { weeks: 1, would_do: 8 };
        assert_eq!(one.to_string(), "1 week is too few; 8 would do");
        let two = NoProgression::TooFewWeeks { weeks: 2, would_do: 8 };
        assert_eq!(two.to_string(), "2 weeks are too few; 8 would do");
    }

    #[test]
    fn too_few_weeks_say_how_many_would_do() {
        // The longest swim by half of itself, down to laps: 8, 12, 18, 26, 38, 56, 60 in seven
        // full weeks. The totals, from 10 x 200 m a session, 80 lengths or 40 laps, are more than
        // enough; so eight weeks, the fourth of them easier.
        let four = progression(&Ask { weeks: 4, ..ask() });
        assert_eq!(four, Err(NoProgression::TooFewWeeks { weeks: 4, would_do: 8 }));
        assert!(progression(&Ask { weeks: 8, ..ask() }).is_ok());
        // In four weeks, all full: 8, 12, 18, 26.
        assert_eq!(farthest(&Ask { weeks: 4, ..ask() }), Some(Lengths::new(26)));
        let there = progression(&Ask { to: Lengths::new(8), ..ask() });
        assert_eq!(there, Err(NoProgression::ThereAlready));
        let far =
            Ask { to: Lengths::new(4000), growth_percent: 1, longest_growth_percent: 1, ..ask() };
        assert_eq!(progression(&far), Err(NoProgression::TooFar));
    }
}
