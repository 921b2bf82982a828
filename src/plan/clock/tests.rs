use super::*;
use crate::plan::RepeatTime;

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
        assert_eq!(
            ClockHand::from_the_top(&[Seconds::new(send_off)], 100).positions,
            positions,
            "{send_off}"
        );
    }
    for (send_off, period) in [(65, 12), (95, 12), (115, 12), (82, 30), (97, 60)] {
        assert_eq!(
            ClockHand::from_the_top(&[Seconds::new(send_off)], 1000).positions.len(),
            period,
            "{send_off}"
        );
    }
}

/// By arithmetic: the seventh of 8 swimmers 10 s apart leaves at the top again.
#[test]
fn eight_swimmers_ten_seconds_apart() {
    let positions = ClockHand::from_the_top(&[Seconds::new(10)], 8).positions;
    assert_eq!(positions, [60, 10, 20, 30, 40, 50]);
}

#[test]
fn a_short_set_lists_only_its_own_starts() {
    assert_eq!(ClockHand::from_the_top(&[Seconds::new(95)], 4).positions, [60, 35, 10, 45]);
}

fn set(every: u32, repeats: u32) -> LinePlan {
    line(
        repeats,
        Spacing::SendOff {
            every: vec![Seconds::new(every)],
            per_100: None,
            clock: Box::default(),
            waits: false,
        },
    )
}

fn rounds(count: u32, lines: Vec<LinePlan>) -> LinePlan {
    LinePlan::Rounds { count, rest: None, lines, between: Seconds::ZERO }
}

fn resting(repeats: u32) -> LinePlan {
    line(repeats, Spacing::Rest { said: None, leave_on: None })
}

fn line(repeats: u32, spacing: Spacing) -> LinePlan {
    use crate::check::cycle::{Cycle, Leg, Repeat};
    use crate::finding::{FileId, Place};
    use crate::measure::Lengths;
    use crate::session::swim::{Asked, Swim};
    use crate::session::words::{Mode, Stroke};
    let leg = Leg {
        lengths: Lengths::new(2),
        short_sixths: 0,
        stroke: Stroke::Free,
        mode: Mode::Swim,
        movement: None,
        effort: None,
    };
    let repeat = Repeat { legs: vec![leg], time: None, rest: None, on: None };
    let place = Place::new(FileId::MAIN, 0..0);
    LinePlan::Set(crate::plan::SetPlan {
        chalk: Swim::plain(repeats.into(), Asked::Lengths(2), Stroke::Free, Mode::Swim),
        cycle: Cycle { repeats: vec![repeat], times: repeats },
        times: vec![RepeatTime { swim: Seconds::new(40), rest: Seconds::ZERO }],
        effort: None,
        pattern: None,
        cue: None,
        strokes: None,
        gear: vec![],
        spacing,
        rest_after: None,
        rounds: 1,
        lengths: Lengths::new(2),
        seconds: Seconds::ZERO,
        lanes: vec![],
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
                        found.push((clock.positions.clone(), *waits));
                    }
                }
                LinePlan::Rounds { lines, .. } => walk(lines, found),
                LinePlan::Activity { .. } | LinePlan::Remark(_) => {}
            }
        }
    }
    let mut lines = vec![rounds(count, lines)];
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
    let inner = rounds(2, vec![set(50, 1)]);
    let starts = in_rounds(2, vec![inner, set(100, 1)]);
    assert_eq!(starts, [(vec![60, 50, 20, 10], false), (vec![40, 60], false)]);
}

#[test]
fn beside_a_rest_a_set_waits_for_the_top() {
    let mut lines = vec![rounds(2, vec![set(160, 2), resting(1)])];
    run_through_rounds(&mut lines);
    let LinePlan::Rounds { lines, .. } = &lines[0] else { panic!("a group") };
    let LinePlan::Set(first) = &lines[0] else { panic!("a set") };
    assert!(matches!(first.spacing, Spacing::SendOff { waits: true, .. }));
}

/// The hand at the starts of each set of a group swum `count` times.
fn hands(count: u32, lines: Vec<LinePlan>) -> Vec<ClockHand> {
    let mut lines = vec![rounds(count, lines)];
    run_through_rounds(&mut lines);
    let LinePlan::Rounds { lines, .. } = &lines[0] else { panic!("a group") };
    let of_set = |line: &LinePlan| match line {
        LinePlan::Set(set) => match &set.spacing {
            Spacing::SendOff { clock, .. } => (**clock).clone(),
            Spacing::Rest { .. } => panic!("a send-off"),
        },
        _ => panic!("a set"),
    };
    lines.iter().map(of_set).collect()
}

/// By hand: a round of 50 on 1:05 and 50 on 1:20 takes 2:25, so each of the two starts 2:25 after
/// its start before: at 60, 25, 50, 15, 40, 5, 30, and at 5, 30, 55, 20, 45, 10, 35.
#[test]
fn one_repeat_a_round_adds_the_round_each_time() {
    let hands = hands(7, vec![set(65, 1), set(80, 1)]);
    assert_eq!(hands[0].positions, [60, 25, 50, 15, 40, 5, 30]);
    assert_eq!(hands[1].positions, [5, 30, 55, 20, 45, 10, 35]);
    assert!(hands.iter().all(|hand| hand.add == Some(Seconds::new(145))));
}

/// By hand: 4 rounds of 100 on 2:30 and 2 x 50 on 1:20 take 5:10 each. The fifties start at 2:30 and
/// 3:50, at 7:40 and 9:00, at 12:50 and 14:10, at 18:00 and 19:20: the hand comes to 50 and to 60
/// twice, and the positions are not begun again.
#[test]
fn a_position_that_comes_twice_is_there_twice() {
    let hands = hands(4, vec![set(150, 1), set(80, 2)]);
    assert_eq!(hands[1].positions, [30, 50, 40, 60, 50, 10, 60, 20]);
    assert_eq!(hands[1].add, None);
    assert_eq!(hands[1].first_round, Some((vec![30, 50], Seconds::new(310))));
}

/// By hand: 3 rounds of 2 x 50 on 1:15 and 2 x 50 on 1:30 take 5:30 each. The second fifties start
/// at 2:30 and 4:00, at 8:00 and 9:30, at 13:30 and 15:00.
#[test]
fn the_hand_may_turn_round_from_round_to_round() {
    let hands = hands(3, vec![set(75, 2), set(90, 2)]);
    assert_eq!(hands[1].positions, [30, 60, 60, 30]);
    // 30, 60, 60, 30, 30, 60: begun again after four.
}

/// By hand: 2 x (2 x (50 on 1:05), 100 on 2:25): the fifties start at 0:00, 1:05, 4:35 and 5:40.
#[test]
fn nothing_is_said_of_rounds_in_rounds_that_are_not_regular() {
    let inner = rounds(2, vec![set(65, 1)]);
    let mut lines = vec![rounds(4, vec![inner, set(145, 1)])];
    run_through_rounds(&mut lines);
    let LinePlan::Rounds { lines, .. } = &lines[0] else { panic!("a group") };
    let LinePlan::Rounds { lines, .. } = &lines[0] else { panic!("a group") };
    let LinePlan::Set(first) = &lines[0] else { panic!("a set") };
    let Spacing::SendOff { clock, .. } = &first.spacing else { panic!("a send-off") };
    assert_eq!(clock.positions.get(..4), Some(&[60, 5, 35, 40][..]));
    assert_eq!((clock.add, clock.first_round.as_ref()), (None, None));
}

/// Each set of 50 rounds of 1,000 repeats: more starts than are looked at.
#[test]
fn of_starts_without_number_nothing_is_said() {
    let hands = hands(50, vec![set(65, 1000), set(80, 1000)]);
    assert_eq!((hands[0].positions.len(), hands[0].add), (0, None));
}
