//! The pace clock: where its hand is when a repeat starts.
//!
//! A line of a session begins at the top of the clock. Within it the hand runs on: from repeat to
//! repeat, and where every set of a rounds group has a send-off, from set to set and from round to
//! round as well. Where a set of the group has a rest instead, nobody can say where the hand will
//! be, and each of its other sets waits for the top.

use super::{LinePlan, Spacing};
use crate::measure::Seconds;

/// The hand's positions at the starts of a set, the first at the top.
///
/// The position at start k is (k x send-off) mod 60, with 60 written for 0. The list ends
/// where it would begin again, or with the set.
pub fn clock_positions(send_off: Seconds, repeats: u32) -> Vec<u32> {
    let mut starts = Starts::default();
    starts.add(0, send_off, repeats);
    starts.positions
}

/// The hand's positions at the starts of one set, in order of coming, each once.
#[derive(Default)]
struct Starts {
    positions: Vec<u32>,
    /// A bit for each second of the clock.
    seen: u64,
}

impl Starts {
    /// Adds starts `every` so far apart, the first with the hand at `from_s`. The hand comes round
    /// after 60 of them at most.
    fn add(&mut self, from_s: u32, every: Seconds, repeats: u32) {
        for start in 0..repeats.min(60) {
            let hand = (from_s + start * (every.get() % 60)) % 60;
            if self.seen & (1 << hand) == 0 {
                self.seen |= 1 << hand;
                self.positions.push(if hand == 0 { 60 } else { hand });
            }
        }
    }
}

/// Sets the positions of every set inside rounds: all its starts where the group runs on, else
/// those from the top of the clock, for which it waits.
pub(super) fn run_through_rounds(lines: &mut [LinePlan]) {
    for line in lines {
        let LinePlan::Rounds { count, lines } = line else { continue };
        if all_on_send_offs(lines) {
            let mut starts = Vec::new();
            // After 60 rounds the hand is where it was.
            let mut hand_s = 0;
            for _ in 0..(*count).min(60) {
                hand_s = one_round(lines, hand_s, &mut starts, 0).0;
            }
            let mut starts = starts.into_iter();
            give(lines, &mut starts);
        } else {
            wait_for_the_top(lines);
            run_through_rounds(lines);
        }
    }
}

fn all_on_send_offs(lines: &[LinePlan]) -> bool {
    lines.iter().all(|line| match line {
        LinePlan::Set(set) => matches!(set.spacing, Spacing::SendOff { .. }),
        LinePlan::Rounds { lines, .. } => all_on_send_offs(lines),
    })
}

/// Swims `lines` once with the hand at `hand_s`. The starts of its sets are added to those from
/// number `set` on; returned are the hand afterwards and the number of the set that follows.
fn one_round(
    lines: &[LinePlan],
    mut hand_s: u32,
    starts: &mut Vec<Starts>,
    mut set: usize,
) -> (u32, usize) {
    for line in lines {
        match line {
            LinePlan::Set(plan) => {
                if let Spacing::SendOff { every, .. } = &plan.spacing {
                    if starts.len() <= set {
                        starts.push(Starts::default());
                    }
                    if let Some(starts) = starts.get_mut(set) {
                        starts.add(hand_s, *every, plan.repeats);
                    }
                    let all_s = u64::from(every.get()) * u64::from(plan.repeats);
                    hand_s = ((u64::from(hand_s) + all_s) % 60) as u32;
                }
                set += 1;
            }
            LinePlan::Rounds { count, lines } => {
                let first = set;
                for _ in 0..*count {
                    (hand_s, set) = one_round(lines, hand_s, starts, first);
                }
            }
        }
    }
    (hand_s, set)
}

/// Gives each set of `lines` its starts, in order.
fn give(lines: &mut [LinePlan], starts: &mut impl Iterator<Item = Starts>) {
    for line in lines {
        match line {
            LinePlan::Set(set) => {
                if let (Spacing::SendOff { clock, .. }, Some(own)) =
                    (&mut set.spacing, starts.next())
                {
                    *clock = own.positions;
                }
            }
            LinePlan::Rounds { lines, .. } => give(lines, starts),
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

#[cfg(test)]
mod tests {
    use super::*;

    /// By arithmetic: send-off after send-off from the top, modulo 60.
    #[test]
    fn positions_of_the_usual_send_offs() {
        for (send_off, positions) in [
            (90, vec![60, 30]),
            (40, vec![60, 40, 20]),
            (45, vec![60, 45, 30, 15]),
            (50, vec![60, 50, 40, 30, 20, 10]),
            (135, vec![60, 15, 30, 45]),
            (60, vec![60]),
            (80, vec![60, 20, 40]),
        ] {
            assert_eq!(clock_positions(Seconds::new(send_off), 100), positions, "{send_off}");
        }
        for (send_off, period) in [(65, 12), (95, 12), (115, 12), (82, 30), (97, 60)] {
            assert_eq!(clock_positions(Seconds::new(send_off), 1000).len(), period, "{send_off}");
        }
    }

    /// By arithmetic: the seventh of 8 swimmers 10 s apart leaves at the top again.
    #[test]
    fn eight_swimmers_ten_seconds_apart() {
        let positions = clock_positions(Seconds::new(10), 8);
        assert_eq!(positions, [60, 10, 20, 30, 40, 50]);
    }

    #[test]
    fn a_short_set_lists_only_its_own_starts() {
        assert_eq!(clock_positions(Seconds::new(95), 4), [60, 35, 10, 45]);
    }

    fn set(every: u32, repeats: u32) -> LinePlan {
        line(repeats, Spacing::SendOff { every: Seconds::new(every), clock: vec![], waits: false })
    }

    fn resting(repeats: u32) -> LinePlan {
        line(repeats, Spacing::Rest { leave_on: None })
    }

    fn line(repeats: u32, spacing: Spacing) -> LinePlan {
        use crate::finding::{FileId, Place};
        use crate::measure::Lengths;
        use crate::session::words::{Mode, Stroke};
        let place = Place::new(FileId::MAIN, 0..0);
        LinePlan::Set(crate::plan::SetPlan {
            repeats,
            each: Lengths::new(2),
            stroke: Stroke::Free,
            mode: Mode::Swim,
            effort: None,
            pattern: None,
            cue: None,
            strokes: None,
            gear: vec![],
            swim: Seconds::new(40),
            rest: Seconds::ZERO,
            spacing,
            rounds: 1,
            lengths: Lengths::new(2),
            seconds: Seconds::ZERO,
            place,
            swim_place: place,
        })
    }

    /// The positions of each set of a group swum `count` times, and whether it waits.
    fn in_rounds(count: u32, lines: Vec<LinePlan>) -> Vec<(Vec<u32>, bool)> {
        fn walk(lines: &[LinePlan], found: &mut Vec<(Vec<u32>, bool)>) {
            for line in lines {
                match line {
                    LinePlan::Set(set) => {
                        if let Spacing::SendOff { clock, waits, .. } = &set.spacing {
                            found.push((clock.clone(), *waits));
                        }
                    }
                    LinePlan::Rounds { lines, .. } => walk(lines, found),
                }
            }
        }
        let mut lines = vec![LinePlan::Rounds { count, lines }];
        run_through_rounds(&mut lines);
        let mut found = Vec::new();
        walk(&lines, &mut found);
        found
    }

    /// By hand: 4 rounds of 3 on 1:10 are twelve starts 10 s further each, twice round the clock.
    #[test]
    fn rounds_of_one_set_run_on() {
        let starts = in_rounds(4, vec![set(70, 3)]);
        assert_eq!(starts, [(vec![60, 10, 20, 30, 40, 50], false)]);
    }

    /// By hand: a round of 100 on 2:10 and 2 x 50 on 1:10 takes 4:30. The hundreds start at 0:00,
    /// 4:30 and 9:00; the fifties at 2:10 and 3:20, at 6:40 and 7:50, at 11:10 and 12:20.
    #[test]
    fn sets_of_a_round_start_where_the_one_before_ends() {
        let starts = in_rounds(3, vec![set(130, 1), set(70, 2)]);
        assert_eq!(starts, [(vec![60, 30], false), (vec![10, 20, 40, 50], false)]);
    }

    /// By hand: 3 on 2:10, 3 on 2:05, 3 on 2:00, once: from 0:00, from 6:30, from 12:45.
    #[test]
    fn falling_send_offs_run_on() {
        let starts = in_rounds(1, vec![set(130, 3), set(125, 3), set(120, 3)]);
        let positions: Vec<Vec<u32>> = starts.into_iter().map(|(positions, _)| positions).collect();
        assert_eq!(positions, [vec![60, 10, 20], vec![30, 35, 40], vec![45]]);
    }

    /// By hand: twice {2 rounds of 50 on 0:50, 100 on 1:40}. The fifties start at 0:00 and 0:50, and
    /// at 3:20 and 4:10; the hundreds at 1:40 and 5:00.
    #[test]
    fn rounds_in_rounds_run_on() {
        let inner = LinePlan::Rounds { count: 2, lines: vec![set(50, 1)] };
        let starts = in_rounds(2, vec![inner, set(100, 1)]);
        assert_eq!(starts, [(vec![60, 50, 20, 10], false), (vec![40, 60], false)]);
    }

    #[test]
    fn beside_a_rest_a_set_waits_for_the_top() {
        let mut lines = vec![LinePlan::Rounds { count: 2, lines: vec![set(160, 2), resting(1)] }];
        run_through_rounds(&mut lines);
        let LinePlan::Rounds { lines, .. } = &lines[0] else { panic!("a group") };
        let LinePlan::Set(first) = &lines[0] else { panic!("a set") };
        assert!(matches!(first.spacing, Spacing::SendOff { waits: true, .. }));
    }
}
