//! A plan from its figures, with sums that hold.

use thiserror::Error;

use super::{LanePlan, LinePlan, PartPlan, Plan, RecutFrom, recut};
use crate::finding::{Place, Placed};
use crate::measure::{Date, Lengths, Pace, Pool, Seconds, TimeOfDay};
use crate::session::words::{Goal, Level};

/// What a plan is put together from: all of it but the sums.
///
/// [`Plan::new`] adds up the whole; the sums of sets and parts are given, and must be right.
#[derive(Clone, Debug)]
pub struct Figures {
    /// The session's title.
    pub title: Placed<String>,
    /// Its date, if it has one.
    pub date: Option<Date>,
    /// The club's name.
    pub club: Option<Placed<String>>,
    /// What the session develops.
    pub goal: Option<Goal>,
    /// Whom it is for.
    pub level: Level,
    /// The one skill it attends to.
    pub focus: Option<Placed<String>>,
    /// The pool it is worked out for.
    pub pool: Pool,
    /// The pace the times follow from; may be per 100 of the other unit.
    pub pace: Pace,
    /// Whether that is the level's usual one, for none is said.
    pub at_usual_pace: bool,
    /// The lane, where the plan is one lane's.
    pub lane: Option<LanePlan>,
    /// The written session this one was cut from, when it is not as written.
    pub recut: Option<RecutFrom>,
    /// What the recut changed, in the order of the file.
    pub changes: Vec<recut::Change>,
    /// Parts in order; their shares and times of day are set when the plan is made.
    pub parts: Vec<PartPlan>,
    /// The pause between consecutive set lines.
    pub changeover: Seconds,
    /// The pool booking, if the session has one.
    pub booked: Option<Placed<Seconds>>,
    /// When the session begins, if it says.
    pub starts: Option<TimeOfDay>,
    /// Everything to bring, listed or used, in order of first mention.
    pub gear: Vec<Placed<String>>,
}

/// A sum of a set or a part is not the sum of what is in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("the lengths or the seconds of a {what} do not add up")]
pub struct WrongSum {
    /// "set" or "part".
    pub what: &'static str,
    /// Where it is written.
    pub place: Place,
}

impl Plan {
    /// A plan of these figures: its lengths, its time, the shares of its parts and the times of
    /// day at which they begin are computed.
    ///
    /// # Errors
    ///
    /// Where a set's rounds, lengths or seconds are not what its repeats in all rounds give, or a
    /// part's are not the sum of its lines.
    pub fn new(figures: Figures) -> Result<Self, WrongSum> {
        for part in &figures.parts {
            sets_add_up(&part.lines, 1)?;
            if (lengths_of(&part.lines), seconds_of(&part.lines)) != (part.lengths, part.seconds) {
                return Err(WrongSum { what: "part", place: part.place });
            }
        }
        Ok(figures.added_up())
    }

    /// The same plan begun at `starts`: each part's time of day follows.
    pub(crate) fn start_at(&mut self, starts: TimeOfDay) {
        self.starts = Some(starts);
        set_times(&mut self.parts, self.changeover, self.starts);
    }
}

impl Figures {
    /// The plan, where the sums of sets and parts are right.
    pub(super) fn added_up(mut self) -> Plan {
        let lengths = self.parts.iter().map(|part| part.lengths.get());
        let lengths = Lengths::new(lengths.fold(0, u32::saturating_add));
        let each: Vec<u64> =
            self.parts.iter().map(|part| part.distance(self.pool).sixths()).collect();
        let whole = each.iter().sum();
        for (part, own) in self.parts.iter_mut().zip(&each) {
            part.share_permille = share_permille(*own, whole);
        }
        for (part, percent) in self.parts.iter_mut().zip(share_percents(&each)) {
            part.share_percent = percent;
        }
        // Nobody knows when a part begins at a pace that nobody said.
        let starts = self.starts.filter(|_| !self.at_usual_pace);
        let seconds = set_times(&mut self.parts, self.changeover, starts);
        Plan {
            title: self.title,
            date: self.date,
            club: self.club,
            goal: self.goal,
            level: self.level,
            focus: self.focus,
            pool: self.pool,
            pace: self.pace,
            at_usual_pace: self.at_usual_pace,
            lane: self.lane,
            recut: self.recut,
            changes: self.changes,
            parts: self.parts,
            changeover: self.changeover,
            seconds,
            lengths,
            booked: self.booked,
            starts: self.starts,
            gear: self.gear,
        }
    }
}

/// Whether the sums of every set are what its repeats give in `rounds` rounds.
fn sets_add_up(lines: &[LinePlan], rounds: u32) -> Result<(), WrongSum> {
    for line in lines {
        match line {
            LinePlan::Activity { .. } | LinePlan::Remark(_) => {}
            LinePlan::Rounds { count, lines, .. } => {
                sets_add_up(lines, rounds.saturating_mul(*count))?;
            }
            LinePlan::Set(set) => {
                let lengths = Lengths::new(set.cycle.lengths().get().saturating_mul(rounds));
                let seconds = set.round_seconds().times(rounds);
                if (set.rounds, set.lengths, set.seconds) != (rounds, lengths, seconds) {
                    return Err(WrongSum { what: "set", place: set.place });
                }
            }
        }
    }
    Ok(())
}

/// Lengths of all lines together.
pub(super) fn lengths_of(lines: &[LinePlan]) -> Lengths {
    Lengths::new(lines.iter().map(|line| line.lengths().get()).fold(0, u32::saturating_add))
}

/// Time of all lines together, without changeovers.
pub(super) fn seconds_of(lines: &[LinePlan]) -> Seconds {
    lines.iter().fold(Seconds::ZERO, |sum, line| sum.plus(line.seconds()))
}

/// Sets when each part begins, and gives the time of the whole.
fn set_times(parts: &mut [PartPlan], changeover: Seconds, starts: Option<TimeOfDay>) -> Seconds {
    let mut clock = Seconds::ZERO;
    let mut swum_before = false;
    for part in parts {
        for (index, line) in part.lines.iter().enumerate() {
            // Between consecutive lines comes a changeover, parts do not matter. What is said or
            // done without a swim has its own time.
            if swum_before && line.is_swum() {
                clock = clock.plus(changeover);
            }
            if index == 0 {
                part.starts = starts.map(|start| start.after(clock));
            }
            clock = clock.plus(line.seconds());
            swum_before |= line.is_swum();
        }
    }
    clock
}

/// A share in tenths of a per cent, rounded half up.
fn share_permille(part: u64, whole: u64) -> u32 {
    let (part, whole) = (u128::from(part), u128::from(whole).max(1));
    u32::try_from((2000 * part + whole) / (2 * whole)).unwrap_or(u32::MAX)
}

/// Shares in whole per cent that are 100 together: each is rounded down, and what is then missing
/// goes to those that lost most, of equals to the first (the method of the largest remainder).
fn share_percents(parts: &[u64]) -> Vec<u32> {
    let whole: u64 = parts.iter().sum();
    if whole == 0 {
        return vec![0; parts.len()];
    }
    let hundredfold = |part: &u64| 100 * part;
    let mut percents: Vec<u64> = parts.iter().map(|part| hundredfold(part) / whole).collect();
    let missing = 100_u64.saturating_sub(percents.iter().sum());
    let mut by_loss: Vec<usize> = (0..parts.len()).collect();
    by_loss.sort_by_key(|index| {
        std::cmp::Reverse(parts.get(*index).map_or(0, |part| hundredfold(part) % whole))
    });
    for index in by_loss.into_iter().take(usize::try_from(missing).unwrap_or(0)) {
        if let Some(percent) = percents.get_mut(index) {
            *percent += 1;
        }
    }
    percents.into_iter().map(|percent| u32::try_from(percent).unwrap_or(100)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn percents(parts: &[u32]) -> Vec<u32> {
        share_percents(&parts.iter().copied().map(u64::from).collect::<Vec<_>>())
    }

    /// By hand: shares of 13.46, 73.08 and 13.46 are 99 rounded down, and 0.46 is the largest
    /// remainder, the first of two; thirds of 33.33 leave one; 16.67 three times and 50 leave two.
    #[test]
    fn printed_shares_are_a_hundred_together() {
        assert_eq!(percents(&[350, 1900, 350]), [14, 73, 13]);
        assert_eq!(percents(&[1, 1, 1]), [34, 33, 33]);
        assert_eq!(percents(&[1, 3, 1, 1]), [17, 50, 17, 16]);
        assert_eq!(percents(&[8]), [100]);
        assert_eq!(percents(&[]), Vec::<u32>::new());
        // 350 of 2,600 is 13.46 %, and no longer 14 by way of 13.5.
        assert_eq!(percents(&[350, 2250]), [13, 87]);
    }

    #[test]
    fn shares_of_any_parts_are_a_hundred_together() {
        for first in 1..40 {
            for second in 1..40 {
                let sum: u32 = percents(&[first, second, 7, 2 * first + 1]).iter().sum();
                assert_eq!(sum, 100, "{first} and {second}");
            }
        }
    }
}
