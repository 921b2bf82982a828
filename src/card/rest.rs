//! The rest at the right of a swim line: words and dial.

use super::compose::{Job, Type};
use super::grid::{Grid, rest_dial_pt};
use super::texts::SetTexts;
use crate::drawing::frame::{Frame, Pass};
use crate::drawing::{Dial, Item, Mark, Point, Role};
use crate::measure::Seconds;
use crate::plan::{SetPlan, Spacing};
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{Align, Setting, Span, Text, bold, plain, set, spaced};
use crate::words::{Words, filled};

/// The lines of the rest column, the first beside the dial.
pub(super) fn rest_lines(words: &Words, plan: &SetPlan) -> Vec<Vec<Span>> {
    let pair = |word: &str, value: String| {
        vec![plain(format!("{} ", word.replace(' ', "\u{a0}"))), bold(value)]
    };
    match &plan.spacing {
        Spacing::Rest { leave_on } => {
            let mut lines = Vec::new();
            if plan.rest.get() > 0 {
                lines.push(pair(&words.set.rest, words.spoken(plan.rest).replace(' ', "\u{a0}")));
            }
            // In brackets and in light type: the rest is what holds.
            let help = |time: Seconds| {
                let time = time.to_string();
                let text = filled(&words.set.lane_leaves, &[("time", &time)]);
                vec![plain(time_kept_with_its_word(&text))]
            };
            lines.extend(leave_on.map(help));
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

/// "(leave about 1:10)" may break, but not before its time.
fn time_kept_with_its_word(text: &str) -> String {
    match text.rsplit_once(' ') {
        Some((words, time)) => format!("{words}\u{a0}{time}"),
        None => text.to_owned(),
    }
}

/// More positions than this are no help; the time to add is.
const MOST_POSITIONS: usize = 6;

/// Positions of the clock printed for a set; none where a time to add is printed instead.
pub(super) fn printed_positions(plan: &SetPlan) -> usize {
    match &plan.spacing {
        Spacing::SendOff { clock, .. } if clock.len() <= MOST_POSITIONS => clock.len(),
        _ => 0,
    }
}

fn clock_line(words: &Words, every: Seconds, clock: &[u32]) -> Vec<Span> {
    if clock.len() > MOST_POSITIONS || clock.is_empty() {
        let time = every.to_string();
        return vec![plain(filled(&words.set.add_each_time, &[("time", &time)]))];
    }
    let positions: Vec<String> = clock.iter().map(u32::to_string).collect();
    vec![plain(filled(&words.set.clock, &[("positions", &positions.join(", "))]))]
}

/// Whether no word of the rest is wider than its column.
pub(super) fn rest_fits(sizes: Type, grid: Grid, texts: &SetTexts) -> bool {
    let room_pt = grid.rest_pt - rest_dial_pt(sizes) + 0.01;
    texts.rest.iter().all(|line| line.widest_word_pt(sizes.body_pt) <= room_pt)
}

/// The width the rest of one set takes of its column, dial and all.
pub(super) fn rest_width_pt(sizes: Type, grid: Grid, texts: &SetTexts) -> f32 {
    let dial_pt = rest_dial_pt(sizes);
    let widths = texts.rest.iter().map(|line| line.natural_width_pt(sizes.body_pt) + dial_pt);
    widths.fold(0.0_f32, f32::max).min(grid.rest_pt)
}

pub(super) fn rest_frame(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Type,
    grid: Grid,
    texts: &SetTexts,
) -> Frame {
    let mut frame = Frame::default();
    if texts.rest.is_empty() {
        return frame;
    }
    let setting = Setting {
        size_pt: sizes.body_pt,
        width_pt: grid.rest_pt - rest_dial_pt(sizes) + 0.01,
        align: Align::Right,
        role: Role::Set,
        origin: Some(texts.plan.place),
    };
    let last = texts.rest.len().saturating_sub(1);
    for (index, line) in texts.rest.iter().enumerate() {
        let line = balanced(job, typesetter, line, &setting);
        frame.stack(if index < last { spaced(line) } else { line }, 0.0, 0.0);
    }
    // One line stands on the dial's centre line; more begin at the dial's top.
    let top_pt = ((sizes.dial_pt - frame.height_pt) / 2.0).max(0.0);
    let mut placed = Frame::default();
    placed.put(frame, 0.0, top_pt);
    if has_dial(texts.plan) {
        let items = match job.pass {
            Pass::Measure => Vec::new(),
            Pass::Draw => {
                let (dial, label) = dial(job.words, texts.plan);
                let mark = Mark::Dial(Point { x_pt: 0.0, y_pt: 0.0 }, sizes.dial_pt, dial);
                vec![Item { mark, role: Role::Figure(label), origin: None }]
            }
        };
        let dial = Frame { height_pt: sizes.dial_pt, items };
        placed.put(dial, grid.rest_pt - sizes.dial_pt, 0.0);
    }
    placed
}

/// `text` in as few lines as the column takes, none of them much shorter than the others.
fn balanced(job: &Job, typesetter: &mut Typesetter, text: &Text, setting: &Setting) -> Frame {
    let loose = set(typesetter, text, setting, job.pass);
    // However they are balanced, the lines are as many.
    if loose.count < 2 || job.pass == Pass::Measure {
        return loose.frame;
    }
    let even_pt = text.natural_width_pt(setting.size_pt) / loose.count as f32;
    for tenths in 10..20 {
        let width_pt = (even_pt * tenths as f32 / 10.0).min(setting.width_pt);
        let lines = set(typesetter, text, &Setting { width_pt, ..setting.clone() }, job.pass);
        if lines.count == loose.count {
            let mut frame = Frame::default();
            frame.put(lines.frame, setting.width_pt - width_pt, 0.0);
            return frame;
        }
    }
    loose.frame
}

/// Whether a clock face helps: it shows a rest, or the few positions at which to leave.
fn has_dial(plan: &SetPlan) -> bool {
    match &plan.spacing {
        Spacing::Rest { .. } => plan.rest.get() > 0,
        Spacing::SendOff { .. } => printed_positions(plan) > 0,
    }
}

/// What the dial shows, and the same in words.
fn dial(words: &Words, plan: &SetPlan) -> (Dial, String) {
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
