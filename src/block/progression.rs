//! From "can swim this today" to "wants that": weekly totals and the longest swim of each
//! week, in whole lengths. Pure arithmetic, exact.
//!
//! Every fourth week is easier, but never the last: a habit of coaches, no source. The other weeks
//! grow: the total by at most a setting (10 % unless set, common practice), the longest swim without a stop by at most another
//! (half of itself unless set), and both by no more than the goal asks for. What would stand
//! still for want of a whole length goes up by one lap, out and back.

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

/// A first session is no longer than so many times what can be swum without a stop. A choice
/// of this program, no source.
const MOST_OF_FROM: u32 = 6;

/// The lengths of a usual first session at most, unless the goal asks for more: 600 m in a
/// pool of 25 m. A choice of this program.
const USUAL_FIRST: u32 = 24;

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
    #[error("{weeks} weeks are too few; {would_do} would do")]
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
    #[error("no block of up to {} weeks leads there", LIMITS.weeks.most)]
    TooFar,
    /// A number that no block has.
    #[error("a block has at least one week, one session a week and one length to start from")]
    Nothing,
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

/// Whether week `index`, from 0, of `weeks` is an easier one.
pub fn is_easier(index: u32, weeks: u32) -> bool {
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

/// The weeks, if they are enough.
fn within(ask: &Ask) -> Option<Vec<Step>> {
    let full = (0..ask.weeks).filter(|index| !is_easier(*index, ask.weeks)).count();
    let growing = u32::try_from(full).ok()?.checked_sub(1)?;
    let longest = longest_swims(ask, growing)?;
    let needed: Vec<u32> = longest
        .iter()
        .map(|swim| laps_up((swim * 100).div_ceil(ask.longest_share_percent)))
        .collect();
    let totals = totals(ask, &needed)?;
    let mut steps = Vec::new();
    let mut next = 0;
    for index in 0..ask.weeks {
        let easier = is_easier(index, ask.weeks);
        if !easier {
            next += 1;
        }
        let (laps, swim) = (totals.get(next - 1)?, longest.get(next - 1)?);
        steps.push(if easier { easier_week(ask, *laps, *swim) } else { week(ask, *laps, *swim) });
    }
    Some(steps)
}

/// A full week of `laps` laps in all.
fn week(ask: &Ask, laps: u32, longest: u32) -> Step {
    let (each, over) = (laps / ask.sessions, laps % ask.sessions);
    let sessions: Vec<Lengths> = (0..ask.sessions)
        .map(|index| each + u32::from(index >= ask.sessions - over))
        .map(|laps| Lengths::new(2 * laps))
        .collect();
    Step { easier: false, total: Lengths::new(2 * laps), sessions, longest: Lengths::new(longest) }
}

/// The easier week behind a full one.
fn easier_week(ask: &Ask, laps: u32, longest: u32) -> Step {
    let keeps = |number: u32| number * EASIER_KEEPS_PERCENT / 100;
    let laps = keeps(laps).max(ask.sessions);
    Step { easier: true, ..week(ask, laps, swim_down(keeps(longest)).max(1)) }
}

/// The longest swim of each full week, from today's to the goal; none where the steps are
/// too few. The growth is the least whole per cent that leads there.
fn longest_swims(ask: &Ask, growing: u32) -> Option<Vec<u32>> {
    let (from, to) = (swim_down(ask.from.get()), laps_up(ask.to.get()));
    (1..=ask.longest_growth_percent).find_map(|percent| {
        let mut swims = vec![from.min(to)];
        for exact in compounded(u64::from(from), percent, 2, growing) {
            let before = *swims.last()?;
            let most = swim_down(grown(before, ask.longest_growth_percent));
            // A step of a lap can be ahead of the growth; then it goes on from there.
            let exact = u32::try_from(exact).ok()?.max(swim_down(grown(before, percent)));
            let swim = exact.min(most).max(lap_more(before));
            swims.push(swim.min(to));
        }
        (swims.last() == Some(&to)).then_some(swims)
    })
}

/// The laps of each full week, all sessions together, such that one session of the week can
/// hold its longest swim. Starts from what is usual, or from the least that will do; grows by
/// the least whole per cent that will do, but by half of the setting at least.
fn totals(ask: &Ask, needed: &[u32]) -> Option<Vec<u32>> {
    let most_first = ask.from.get().saturating_mul(MOST_OF_FROM);
    let usual = most_first.min(USUAL_FIRST);
    let first = ask.session.map_or(usual, Lengths::get).max(*needed.first()?);
    // A first session of what is swum today may be any; one of the program's choosing is modest.
    let last = if ask.session.is_some() { first } else { most_first.max(first) };
    let starts = first / 2 * ask.sessions..=laps_up(last) / 2 * ask.sessions;
    for start in starts {
        let grown = (ask.growth_percent.div_ceil(2)..=ask.growth_percent).find_map(|percent| {
            let laps = weekly_laps(ask, start.max(ask.sessions), percent, needed.len());
            let holds = |(laps, needed): (&u32, &u32)| largest_session(ask, *laps) >= *needed;
            laps.iter().zip(needed).all(holds).then_some(laps)
        });
        if grown.is_some() {
            return grown;
        }
    }
    None
}

fn weekly_laps(ask: &Ask, start: u32, percent: u32, weeks: usize) -> Vec<u32> {
    let mut laps = vec![start];
    let steps = u32::try_from(weeks.saturating_sub(1)).unwrap_or(u32::MAX);
    for exact in compounded(u64::from(start), percent, 1, steps) {
        let before = laps.last().copied().unwrap_or(start);
        let most = grown(before, ask.growth_percent);
        let exact = u32::try_from(exact).unwrap_or(u32::MAX);
        laps.push(exact.min(most).max(before + 1));
    }
    laps
}

/// The lengths of the largest session when a week's laps are shared out.
fn largest_session(ask: &Ask, laps: u32) -> u32 {
    2 * laps.div_ceil(ask.sessions)
}

/// `number` grown by `percent`, rounded down.
fn grown(number: u32, percent: u32) -> u32 {
    let grown = u64::from(number) * u64::from(100 + percent) / 100;
    u32::try_from(grown).unwrap_or(u32::MAX)
}

/// Whole laps, rounded up, in lengths.
fn laps_up(lengths: u32) -> u32 {
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
        assert_eq!(weekly_laps(&one, 8, 10, 5), [8, 9, 10, 11, 12]);
    }

    #[test]
    fn easier_weeks_are_every_fourth_and_never_the_last() {
        let easier = |weeks| (0..weeks).filter(|i| is_easier(*i, weeks)).collect::<Vec<_>>();
        assert_eq!(easier(10), [3, 7]);
        assert_eq!(easier(8), [3]);
        assert_eq!(easier(4), [0_u32; 0]);
    }

    #[test]
    fn ten_weeks_from_200_to_1500_by_hand() {
        let steps = progression(&ask()).expect("the weeks do");
        // Full weeks are 1, 2, 3, 5, 6, 7, 9, 10: seven steps. 8 lengths x 1.33^7 = 58.9 are too
        // few, 8 x 1.34^7 = 62.1 do. 8 x 1.34^n = 10.7, 14.4, 19.2, 25.8, 34.6, 46.3, 62.1; down
        // to laps 10, 14, 18, 24, 34, 46, and the goal 60. Weeks 4 and 8 keep 70 % of 14 and of
        // 34: 9.8 and 23.8, down to laps 8 and 22.
        let longest: Vec<u32> = steps.iter().map(|step| step.longest.get()).collect();
        assert_eq!(longest, [8, 10, 14, 8, 18, 24, 34, 22, 46, 60]);
        // 60 lengths are 75 % of 80, so week 10 needs a session of 40 laps, the week 79 (39 + 40).
        // Each week is at most 10 % over the whole laps before. From 41: 45, 49, 53 (49 x 1.1 =
        // 53.9), 58, 63, 69, 75, too few. From 42: 46, 50, 55, 60, 66, 72 (72.6), 79 (79.2): enough.
        // Weeks 4 and 8 keep 70 % of 50 and of 66: 35 and 46.2.
        let totals: Vec<u32> = steps.iter().map(|step| step.total.get() / 2).collect();
        assert_eq!(totals, [42, 46, 50, 35, 55, 60, 66, 46, 72, 79]);
        assert_eq!(steps[9].sessions, [Lengths::new(78), Lengths::new(80)]);
    }

    #[test]
    fn too_few_weeks_say_how_many_would_do() {
        // The longest swim by half of itself, down to laps: 8, 12, 18, 26, 38, 56, 60 in seven
        // full weeks, which eight weeks have.
        let four = progression(&Ask { weeks: 4, ..ask() });
        assert_eq!(four, Err(NoProgression::TooFewWeeks { weeks: 4, would_do: 8 }));
        assert!(progression(&Ask { weeks: 8, ..ask() }).is_ok());
        let there = progression(&Ask { to: Lengths::new(8), ..ask() });
        assert_eq!(there, Err(NoProgression::ThereAlready));
        let far =
            Ask { to: Lengths::new(4000), growth_percent: 1, longest_growth_percent: 1, ..ask() };
        assert_eq!(progression(&far), Err(NoProgression::TooFar));
    }
}
