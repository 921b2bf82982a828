//! What a set says: repeats, distance and stroke, its rest and its clock.

use crate::drawing::Dial;
use crate::measure::{Pool, Seconds};
use crate::plan::{SetPlan, Spacing};
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
                lines.push(clock_line(words, *every, clock, *waits));
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
        Spacing::SendOff { clock, .. } if clock.len() <= MOST_POSITIONS => clock.len(),
        _ => 0,
    }
}

/// "at 60, 30"; "from 60, 30" where the set waits for the top in each round; where there are too
/// many positions to print, the first and what to add: "from 60, add 1:35 each time".
fn clock_line(words: &Words, every: Seconds, clock: &[u32], waits: bool) -> Vec<Span> {
    if clock.len() > MOST_POSITIONS {
        let time = every.to_string();
        let first = clock.first().map_or_else(String::new, u32::to_string);
        let values = [("position", &*first), ("time", &*time)];
        return vec![plain(filled(&words.set.clock_add, &values))];
    }
    let positions: Vec<String> = clock.iter().map(u32::to_string).collect();
    let pattern = if waits { &words.set.clock_from } else { &words.set.clock };
    vec![plain(filled(pattern, &[("positions", &positions.join(", "))]))]
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
            let positions: Vec<String> = clock.iter().map(u32::to_string).collect();
            let label = filled(&words.figure.send_off, &[("positions", &positions.join(", "))]);
            (Dial::Leave(clock.clone()), label)
        }
    }
}
