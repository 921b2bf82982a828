//! What stands below a swim line: how to swim it, cautions, boxes to write in.

use super::compose::{Job, Type};
use super::face::Shaper;
use super::frame::{Frame, rectangle};
use super::paragraph::{Align, LEADING, RISE, Setting, Span, bold, plain, set};
use super::words::{Words, filled};
use super::{Ink, Item, Mark, Role};
use crate::check::wording::CautionKind;
use crate::plan::{SetPlan, StrokePlan};

/// Effort, pattern, cue, gear and a stroke goal as one paragraph; then cautions and boxes.
pub(super) fn details(
    job: &Job,
    shaper: &mut Shaper,
    sizes: Type,
    plan: &SetPlan,
    width_pt: f32,
) -> Frame {
    let words = job.words;
    let setting = |origin| Setting {
        size_pt: sizes.body_pt,
        width_pt,
        align: Align::Left,
        role: Role::Set,
        origin,
    };
    let mut spans: Vec<Span> = Vec::new();
    let how: Vec<&str> = plan
        .effort
        .map(|effort| words.trade(effort))
        .into_iter()
        .chain(plan.pattern.map(|pattern| words.trade(pattern)))
        .collect();
    if !how.is_empty() {
        spans.push(bold(how.join(", ")));
    }
    if let Some(cue) = &plan.cue {
        spans.push(plain(cue.value.clone()));
    }
    if !plan.gear.is_empty() {
        let gear: Vec<&str> = plan.gear.iter().map(|gear| gear.value.as_str()).collect();
        spans.push(plain(filled(&words.set.with_gear, &[("gear", &gear.join(", "))])));
    }
    if let Some(StrokePlan::Goal(count)) = plan.strokes {
        let count = count.to_string();
        spans.push(bold(filled(&words.strokes.goal, &[("count", &count)])));
    }
    let mut frame = Frame::default();
    let origin = plan.cue.as_ref().map_or(plan.place, |cue| cue.place);
    if !spans.is_empty() {
        frame = set(shaper, &separated(spans), &setting(Some(origin))).frame;
    }
    for caution in job.extras.cautions.iter().filter(|caution| caution.set == plan.place) {
        let text = match caution.kind {
            CautionKind::BreathHold => &words.caution.breath_hold,
            CautionKind::Dive => &words.caution.dive,
        };
        let lines = set(shaper, &[bold(text.as_str())], &setting(Some(plan.place)));
        frame.stack(lines.frame, 0.0, 0.0);
    }
    if let Some(strokes) = plan.strokes {
        let boxes = stroke_boxes(words, shaper, sizes, plan, strokes, width_pt);
        frame.stack(boxes, 0.0, 0.2 * sizes.body_pt);
    }
    frame
}

/// `spans` with a middle dot between them.
fn separated(spans: Vec<Span>) -> Vec<Span> {
    let mut out = Vec::new();
    for (index, span) in spans.into_iter().enumerate() {
        if index > 0 {
            out.push(plain("\u{a0}· "));
        }
        out.push(span);
    }
    out
}

/// "strokes" with boxes to write in.
fn stroke_boxes(
    words: &Words,
    shaper: &mut Shaper,
    sizes: Type,
    plan: &SetPlan,
    strokes: StrokePlan,
    width_pt: f32,
) -> Frame {
    let (text, boxes) = match strokes {
        StrokePlan::Goal(_) => return Frame::default(),
        StrokePlan::Count => (words.strokes.count.clone(), plan.repeats * plan.rounds.max(1)),
        StrokePlan::Hold => (words.strokes.hold.clone(), 1),
        StrokePlan::Fewer(count) => (words.strokes_fewer(count), 1),
    };
    let setting = Setting {
        size_pt: sizes.body_pt,
        width_pt,
        align: Align::Left,
        role: Role::Set,
        origin: Some(plan.place),
    };
    let label = set(shaper, &[plain(text)], &setting);
    // Wide enough for two figures in grease pencil.
    let (box_pt, tall_pt) = (2.1 * sizes.body_pt, 1.6 * sizes.body_pt);
    let gap_pt = 0.35 * sizes.body_pt;
    let mut first_pt = label.width_pt + 0.7 * sizes.body_pt;
    // No room beside the label: the boxes go below it.
    let below = first_pt + box_pt > width_pt;
    let mut top_pt = 0.0;
    if below {
        (first_pt, top_pt) = (0.0, label.frame.height_pt);
    }
    let room = ((width_pt - first_pt + gap_pt) / (box_pt + gap_pt)).floor().max(1.0);
    let mut frame = Frame::default();
    let centred_pt = (tall_pt - LEADING * sizes.body_pt) / 2.0 + (RISE - 0.86) * sizes.body_pt;
    frame.put(label.frame, 0.0, if below { 0.0 } else { centred_pt.max(0.0) });
    let line_pt = 0.07 * sizes.body_pt;
    for index in 0..boxes.min(room as u32) {
        let x_pt = first_pt + index as f32 * (box_pt + gap_pt);
        let path = rectangle(x_pt, top_pt + line_pt, box_pt, tall_pt - 2.0 * line_pt);
        let mark = Mark::Stroke(path, line_pt, Ink::BLACK);
        frame.items.push(Item { mark, role: Role::Artifact, origin: Some(plan.place) });
    }
    frame.height_pt = frame.height_pt.max(top_pt + tall_pt);
    frame
}
