//! The pace clock: where its hand is when a repeat starts.
//!
//! A line of a session begins at the top of the clock. Within it the hand runs on: from repeat to
//! repeat, and where every set of a rounds group has a send-off, from set to set and from round to
//! round as well. Where a set of the group has a rest instead, nobody can say where the hand will
//! be, and each of its other sets waits for the top.

#[cfg(test)]
mod tests;

use super::{LinePlan, Spacing};
use crate::measure::Seconds;

/// Where the hand is at the starts of a set, as far as it can be said in a few figures.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ClockHand {
    /// Its positions in order of coming, 60 for the top, begun again until the set is over; empty
    /// where they are not begun again within 60.
    pub positions: Vec<u32>,
    /// The time from start to start, where it moves the hand by as much each time.
    pub add: Option<Seconds>,
    /// In rounds: its positions in the first round, and how much later those of each round are.
    pub first_round: Option<(Vec<u32>, Seconds)>,
}

impl ClockHand {
    /// The hand at starts `every` so far apart, the first at the top: at start k it is at
    /// (k x send-off) mod 60. A cycle of several send-offs is gone through in order.
    pub fn from_the_top(every: &[Seconds], times: u32) -> Self {
        // After 60 repeats the hand is where it was.
        let mut starts = Starts::default();
        starts.add(0, every, times.min(2 * MOST_POSITIONS as u32));
        starts.hand(None)
    }
}

/// Starts of a set that are looked at; after 60 repeats or rounds the hand is where it was, and a
/// set of more starts than these in rounds is left to its send-off.
const MOST_STARTS: usize = 600;

/// Positions that are listed at most: after 60 seconds there are no others.
const MOST_POSITIONS: usize = 60;

/// The starts of one set, in seconds from the beginning of its line.
#[derive(Default)]
struct Starts {
    at_s: Vec<u64>,
    /// How many of them are in the first round.
    in_first_round: usize,
    /// Whether there are more than were looked at.
    more: bool,
}

impl Starts {
    /// Adds starts so far apart, the first at `from_s`, `times` through them; returned is when all
    /// are over.
    fn add(&mut self, from_s: u64, every: &[Seconds], times: u32) -> u64 {
        let run: u64 = every.iter().map(|every| u64::from(every.get())).sum();
        'all: for time in 0..u64::from(times) {
            let mut at_s = from_s + time * run;
            for every in every {
                if self.at_s.len() == MOST_STARTS {
                    self.more = true;
                    break 'all;
                }
                self.at_s.push(at_s);
                at_s += u64::from(every.get());
            }
        }
        from_s + u64::from(times) * run
    }

    /// Where the hand is at them; `round` is how long a round takes, where they are in one group.
    fn hand(&self, round: Option<Seconds>) -> ClockHand {
        let hands: Vec<u32> = self.at_s.iter().map(|at_s| hand(*at_s)).collect();
        let steps = || self.at_s.windows(2).map(|pair| pair[1].saturating_sub(pair[0]));
        let first = steps().next();
        let alike = |first: u64| steps().all(|step| step % 60 == first % 60);
        let add = first.filter(|first| alike(*first) && !self.more);
        let add = add.and_then(|add| u32::try_from(add).ok()).map(Seconds::new);
        let most = if self.more { 0 } else { hands.len().min(MOST_POSITIONS) };
        let listed = (1..=most).find(|after| is_begun_again(&hands, *after)).unwrap_or(0);
        let first_round = hands.get(..self.in_first_round).filter(|first| !first.is_empty());
        ClockHand {
            positions: hands.get(..listed).unwrap_or_default().to_vec(),
            add,
            first_round: round.and_then(|round| Some((first_round?.to_vec(), round))),
        }
    }
}

/// The hand so many seconds after it was at the top, with 60 for the top.
fn hand(at_s: u64) -> u32 {
    match (at_s % 60) as u32 {
        0 => 60,
        second => second,
    }
}

/// Whether positions are the first `after` of them, again and again.
fn is_begun_again(hands: &[u32], after: usize) -> bool {
    hands.iter().zip(hands.iter().skip(after)).all(|(before, now)| before == now)
}

/// Sets the positions of every set inside rounds: all its starts where the group runs on, else
/// those from the top of the clock, for which it waits.
pub(super) fn run_through_rounds(lines: &mut [LinePlan]) {
    for line in lines {
        let LinePlan::Rounds { count, lines, rest, .. } = line else { continue };
        if rest.is_none() && all_on_send_offs(lines) {
            let mut starts = Vec::new();
            let round_s = one_round(lines, 0, &mut starts, 0).0;
            for set in &mut starts {
                set.in_first_round = set.at_s.len();
            }
            let mut now_s = round_s;
            for _ in 1..*count {
                now_s = one_round(lines, now_s, &mut starts, 0).0;
            }
            let round = u32::try_from(round_s).ok().map(Seconds::new);
            give(lines, &mut starts.into_iter(), round);
        } else {
            wait_for_the_top(lines);
            run_through_rounds(lines);
        }
    }
}

fn all_on_send_offs(lines: &[LinePlan]) -> bool {
    lines.iter().all(|line| match line {
        LinePlan::Set(set) => {
            matches!(set.spacing, Spacing::SendOff { .. }) && set.rest_after.is_none()
        }
        LinePlan::Remark(_) => true,
        LinePlan::Activity { .. } => false,
        LinePlan::Rounds { rest: Some(_), .. } => false,
        LinePlan::Rounds { lines, .. } => all_on_send_offs(lines),
    })
}

/// Swims `lines` once from `now_s` on. The starts of its sets are added to those from number `set`
/// on; returned are the time afterwards and the number of the set that follows.
fn one_round(
    lines: &[LinePlan],
    mut now_s: u64,
    starts: &mut Vec<Starts>,
    mut set: usize,
) -> (u64, usize) {
    for line in lines {
        match line {
            LinePlan::Set(plan) => {
                if let Spacing::SendOff { every, .. } = &plan.spacing {
                    if starts.len() <= set {
                        starts.push(Starts::default());
                    }
                    if let Some(starts) = starts.get_mut(set) {
                        now_s = starts.add(now_s, every, plan.cycle.times);
                    }
                }
                set += 1;
            }
            LinePlan::Activity { .. } | LinePlan::Remark(_) => {}
            LinePlan::Rounds { count, lines, .. } => {
                let first = set;
                for _ in 0..*count {
                    (now_s, set) = one_round(lines, now_s, starts, first);
                }
            }
        }
    }
    (now_s, set)
}

/// Gives each set of `lines` its starts, in order; `round` is how much later they are in the next
/// round. What is in rounds within the rounds has no one such time.
fn give(lines: &mut [LinePlan], starts: &mut impl Iterator<Item = Starts>, round: Option<Seconds>) {
    for line in lines {
        match line {
            LinePlan::Set(set) => {
                if let (Spacing::SendOff { clock, .. }, Some(own)) =
                    (&mut set.spacing, starts.next())
                {
                    **clock = own.hand(round);
                }
            }
            LinePlan::Activity { .. } | LinePlan::Remark(_) => {}
            LinePlan::Rounds { lines, .. } => give(lines, starts, None),
        }
    }
}

fn wait_for_the_top(lines: &mut [LinePlan]) {
    for line in lines {
        if let LinePlan::Set(set) = line
            && let Spacing::SendOff { waits, .. } = &mut set.spacing
        {
            *waits = true;
        }
    }
}
