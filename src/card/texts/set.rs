//! What a set says: repeats, distance and stroke, its rest and its clock.

use crate::drawing::Dial;
use crate::measure::{Pool, Seconds};
use crate::plan::{ClockHand, SetPlan, Spacing};
use crate::session::words::{Mode, Stroke};
use crate::typeset::paragraph::{Span, bold, plain};
use crate::words::{Words, filled};

/// "8 ×"; nothing for a single swim.
pub(in crate::card) fn count_text(words: &Words, set: &SetPlan) -> Option<String> {
    let count = set.repeats.to_string();
    (set.repeats > 1)
        .then(|| filled(&words.set.repeats, &[("count", &count)]).replace(' ', "\u{a0}"))
}

/// The distance of one repeat, without its unit.
pub(in crate::card) fn distance_text(words: &Words, pool: Pool, set: &SetPlan) -> String {
    words.number(pool.distance(set.each))
}

/// "free", "back kick"; the stroke is left out where the mode says it all.
pub(in crate::card) fn stroke_text(words: &Words, plan: &SetPlan) -> String {
    let (stroke, mode) = (words.trade(plan.stroke), words.trade(plan.mode));
    match (plan.stroke, plan.mode) {
        (_, Mode::Swim) => stroke.to_owned(),
        (Stroke::Free, Mode::Kick | Mode::Scull) => mode.to_owned(),
        _ => words.stroke_mode(stroke, mode),
    }
}

/// The lines of the rest column, the first beside the dial.
pub(in crate::card) fn rest_lines(words: &Words, plan: &SetPlan) -> Vec<Vec<Span>> {
    let pair = |word: &str, value: String| {
        vec![plain(format!("{} ", word.replace(' ', "\u{a0}"))), bold(value)]
    };
    match &plan.spacing {
        Spacing::Rest { leave_on } => {
            let mut lines = Vec::new();
            if plan.rest.get() > 0 {
                lines.push(pair(&words.set.rest, words.spoken(plan.rest).replace(' ', "\u{a0}")));
            }
            // In brackets and in light type: the rest is what counts.
            let help = |time: Seconds| {
                let time = time.to_string();
                let text = filled(&words.set.lane_leaves, &[("time", &time)]);
                vec![plain(time_kept_with_its_word(&text))]
            };
            lines.extend(leave_on.map(help));
            lines
        }
        Spacing::SendOff { every, clock, waits } => {
            let mut lines = vec![pair(&words.set.leave_on, every.to_string())];
            // A set of one swim has no second start.
            if plan.repeats > 1 || plan.rounds > 1 {
                lines.extend(clock_line(words, clock, *waits));
            }
            lines
        }
    }
}

/// "(leave about 1:10)" may break, but not before its time.
fn time_kept_with_its_word(text: &str) -> String {
    match text.rsplit_once(' ') {
        Some((words, time)) => format!("{words}\u{a0}{time}"),
        None => text.to_owned(),
    }
}

/// More positions than this do not help; the time to add does.
pub(crate) const MOST_POSITIONS: usize = 6;

/// Positions of the clock printed for a set; none where a time to add is printed instead.
pub(in crate::card) fn printed_positions(plan: &SetPlan) -> usize {
    match &plan.spacing {
        Spacing::SendOff { clock, .. } if clock.positions.len() <= MOST_POSITIONS => {
            clock.positions.len()
        }
        _ => 0,
    }
}

/// "at 60, 30"; "from 60, 30" where the set waits for the top in each round. Where there are too
/// many positions to print, the first and what to add: "from 60, add 1:35 each time"; where that is
/// not the same each time, those of the first round and what to add for a round: "at 30, 50, each
/// round 5:10 later". Where none of it holds, nothing is said but the send-off.
fn clock_line(words: &Words, clock: &ClockHand, waits: bool) -> Option<Vec<Span>> {
    let positions = &clock.positions;
    let line = if (1..=MOST_POSITIONS).contains(&positions.len()) {
        let pattern = if waits { &words.set.clock_from } else { &words.set.clock };
        filled(pattern, &[("positions", &listed(positions))])
    } else if let (Some(first), Some(add)) = (positions.first(), clock.add) {
        let values = [("position", &*first.to_string()), ("time", &*add.to_string())];
        filled(&words.set.clock_add, &values)
    } else {
        let (first, round) = clock.first_round.as_ref()?;
        if first.len() > MOST_POSITIONS {
            return None;
        }
        let values = [("positions", &*listed(first)), ("time", &*round.to_string())];
        filled(&words.set.clock_rounds, &values)
    };
    Some(vec![plain(line)])
}

fn listed(positions: &[u32]) -> String {
    positions.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")
}

/// Whether a clock face helps: it shows a rest, or the few positions at which to leave.
pub(in crate::card) fn has_dial(plan: &SetPlan) -> bool {
    match &plan.spacing {
        Spacing::Rest { .. } => plan.rest.get() > 0,
        Spacing::SendOff { .. } => printed_positions(plan) > 0,
    }
}

/// What the dial shows, and the same in words.
pub(in crate::card) fn dial(words: &Words, plan: &SetPlan) -> (Dial, String) {
    match &plan.spacing {
        Spacing::Rest { .. } => {
            let time = words.spoken(plan.rest);
            (Dial::Rest(plan.rest.get()), filled(&words.figure.rest, &[("time", &time)]))
        }
        Spacing::SendOff { clock, .. } => {
            let positions = listed(&clock.positions);
            let label = filled(&words.figure.send_off, &[("positions", &positions)]);
            (Dial::Leave(clock.positions.clone()), label)
        }
    }
}
