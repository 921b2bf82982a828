//! The rest at the right of a swim line: words and dial.

use super::Role;
use super::compose::Type;
use super::dial::{Hand, dial};
use super::face::Shaper;
use super::frame::Frame;
use super::grid::{Grid, rest_dial_pt};
use super::paragraph::{Align, Setting, Span, bold, plain, set, spaced};
use super::words::{Words, filled};
use crate::measure::Seconds;
use crate::plan::{SetPlan, Spacing};

/// The lines of the rest column, the first beside the dial.
pub(super) fn rest_lines(words: &Words, plan: &SetPlan) -> Vec<Vec<Span>> {
    let pair = |word: &str, value: String| {
        vec![plain(format!("{} ", word.replace(' ', "\u{a0}"))), bold(value)]
    };
    match &plan.spacing {
        Spacing::Rest { leave_on } => {
            let mut lines = Vec::new();
            if plan.rest.get() > 0 {
                lines.push(pair(&words.set.rest, plan.rest.spoken().replace(' ', "\u{a0}")));
            }
            lines.extend(leave_on.map(|time| pair(&words.set.leave_on, time.to_string())));
            lines
        }
        Spacing::SendOff { every, clock } => {
            let mut lines = vec![pair(&words.set.leave_on, every.to_string())];
            // Once only, there is nothing to leave again for.
            if plan.repeats > 1 || plan.rounds > 1 {
                lines.push(clock_line(words, *every, clock));
            }
            lines
        }
    }
}

/// More positions than this are no help; the time to add is.
const MOST_POSITIONS: usize = 6;

fn clock_line(words: &Words, every: Seconds, clock: &[u32]) -> Vec<Span> {
    if clock.len() > MOST_POSITIONS || clock.is_empty() {
        let time = every.to_string();
        return vec![plain(filled(&words.set.add_each_time, &[("time", &time)]))];
    }
    let positions: Vec<String> = clock.iter().map(u32::to_string).collect();
    vec![plain(filled(&words.set.clock, &[("positions", &positions.join(", "))]))]
}

pub(super) fn rest_frame(
    words: &Words,
    shaper: &mut Shaper,
    sizes: Type,
    grid: Grid,
    plan: &SetPlan,
) -> Frame {
    let lines = rest_lines(words, plan);
    let mut frame = Frame::default();
    if lines.is_empty() {
        return frame;
    }
    let setting = Setting {
        size_pt: sizes.body_pt,
        width_pt: grid.rest_pt - rest_dial_pt(sizes) + 0.01,
        align: Align::Right,
        role: Role::Set,
        origin: Some(plan.place),
    };
    let last = lines.len() - 1;
    for (index, spans) in lines.into_iter().enumerate() {
        let line = set(shaper, &spans, &setting).frame;
        frame.stack(if index < last { spaced(line) } else { line }, 0.0, 0.0);
    }
    // One line stands on the dial's centre line; more begin at the dial's top.
    let top_pt = ((sizes.dial_pt - frame.height_pt) / 2.0).max(0.0);
    let mut placed = Frame::default();
    placed.put(frame, 0.0, top_pt);
    if let Some((hand, label)) = hand(words, plan) {
        let items = dial(&hand, sizes.dial_pt, label);
        let dial = Frame { height_pt: sizes.dial_pt, items };
        placed.put(dial, grid.rest_pt - sizes.dial_pt, 0.0);
    }
    placed
}

fn hand(words: &Words, plan: &SetPlan) -> Option<(Hand, String)> {
    match &plan.spacing {
        Spacing::Rest { .. } if plan.rest.get() == 0 => None,
        Spacing::Rest { .. } => {
            let time = plan.rest.spoken();
            Some((Hand::Rest(plan.rest.get()), filled(&words.figure.rest, &[("time", &time)])))
        }
        Spacing::SendOff { clock, .. } if clock.is_empty() || clock.len() > MOST_POSITIONS => None,
        Spacing::SendOff { clock, .. } => {
            let positions: Vec<String> = clock.iter().map(u32::to_string).collect();
            let label = filled(&words.figure.send_off, &[("positions", &positions.join(", "))]);
            Some((Hand::Leave(clock.clone()), label))
        }
    }
}
