//! What a set says: repeats, distance and stroke, its rest and its clock.

use super::swim::times;
use crate::drawing::Dial;
use crate::measure::Seconds;
use crate::plan::{ClockHand, SetPlan, Spacing};
use crate::session::RestSaid;
use crate::typeset::paragraph::{Span, bold, plain};
use crate::words::{Words, filled};

/// "8 ×"; nothing for a single swim.
pub(in crate::card) fn count_text(words: &Words, set: &SetPlan) -> Option<String> {
    let times = times(set);
    let count = times.to_string();
    (times > 1).then(|| filled(&words.set.repeats, &[("count", &count)]).replace(' ', "\u{a0}"))
}

/// The lines of the rest column, the first beside the dial.
pub(in crate::card) fn rest_lines(words: &Words, plan: &SetPlan) -> Vec<Vec<Span>> {
    let pair = |word: &str, value: String| {
        vec![plain(format!("{} ", word.replace(' ', "\u{a0}"))), bold(value)]
    };
    let after = plan.rest_after.map(|time| {
        let time = words.spoken(time).replace(' ', "\u{a0}");
        vec![plain(filled(&words.set.then_rest, &[("time", &time)]))]
    });
    if has_own_send_offs(plan) {
        return after.into_iter().collect();
    }
    match &plan.spacing {
        Spacing::Rest { said, leave_on } => {
            let mut lines = Vec::new();
            let said = said.and_then(|said| rest_text(words, said));
            lines.extend(said.map(|said| pair(&words.set.rest, said.replace(' ', "\u{a0}"))));
            // In brackets and in light type: the rest is what counts.
            let help = |time: Seconds| {
                let time = time.to_string();
                let text = filled(&words.set.lane_leaves, &[("time", &time)]);
                vec![plain(time_kept_with_its_word(&text))]
            };
            lines.extend(leave_on.map(help));
            lines.extend(after);
            lines
        }
        Spacing::SendOff { every, per_100, clock, waits } => {
            let mut lines = vec![pair(&words.set.leave_on, every_text(every, *per_100))];
            // A set of one swim has no second start.
            if plan.repeats() > 1 || plan.rounds > 1 {
                lines.extend(clock_line(words, clock, *waits));
            }
            lines.extend(after);
            lines
        }
    }
}

/// Whether the repeats' send-offs are said on the line of the swim.
fn has_own_send_offs(plan: &SetPlan) -> bool {
    plan.cycle.repeats.iter().any(|repeat| repeat.on.is_some())
}

/// "20 s", "10–20 s", "20 s +", "when needed"; nothing where there is none.
fn rest_text(words: &Words, said: RestSaid) -> Option<String> {
    Some(match said {
        RestSaid::Of(Seconds::ZERO) => return None,
        RestSaid::Of(rest) => words.spoken(rest),
        RestSaid::OrMore(rest) => format!("{} +", words.spoken(rest)),
        RestSaid::WhenNeeded => words.set.rest_when_needed.clone(),
        RestSaid::Between(least, most) => {
            let both_in_seconds = most < Seconds::new(60);
            let least = if both_in_seconds { least.get().to_string() } else { words.spoken(least) };
            format!("{least}\u{2013}{}", words.spoken(most))
        }
    })
}

/// "1:45", "1:40, 1:35, 1:30" of a cycle, "2:00 / 100" by distance.
fn every_text(every: &[Seconds], per_100: Option<Seconds>) -> String {
    if let Some(on) = per_100 {
        return format!("{on}\u{a0}/\u{a0}100");
    }
    let mut times: Vec<String> = every.iter().map(Seconds::to_string).collect();
    times.dedup();
    times.join(", ")
}

/// "(leave about 1:10)" may break, but not before its time.
pub(super) fn time_kept_with_its_word(text: &str) -> String {
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
        Spacing::SendOff { clock, .. }
            if !has_own_send_offs(plan) && clock.positions.len() <= MOST_POSITIONS =>
        {
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
        Spacing::Rest { said, .. } => {
            let shown = said.is_some_and(|said| said != RestSaid::WhenNeeded);
            shown && plan.rest().get() > 0
        }
        Spacing::SendOff { .. } => !has_own_send_offs(plan) && printed_positions(plan) > 0,
    }
}

/// What the dial shows, and the same in words.
pub(in crate::card) fn dial(words: &Words, plan: &SetPlan) -> (Dial, String) {
    match &plan.spacing {
        Spacing::Rest { .. } => {
            let time = words.spoken(plan.rest());
            (Dial::Rest(plan.rest().get()), filled(&words.figure.rest, &[("time", &time)]))
        }
        Spacing::SendOff { clock, .. } => {
            let positions = listed(&clock.positions);
            let label = filled(&words.figure.send_off, &[("positions", &positions)]);
            (Dial::Leave(clock.positions.clone()), label)
        }
    }
}
