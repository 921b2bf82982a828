//! What is below a swim line: how to swim it, cautions, boxes to write in.

use crate::card::job::Job;
use crate::card::sizes::Sizes;
use crate::card::texts::SetTexts;
use crate::drawing::frame::{Frame, Pass, rectangle};
use crate::drawing::{Ink, Item, Mark, Role};
use crate::plan::{SetPlan, StrokePlan};
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{Align, LEADING, RISE, Setting, Text, plain, set, set_once};
use crate::words::filled;

/// How to swim the set as one paragraph; then cautions and boxes.
pub(in crate::card) fn details(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    texts: &SetTexts,
    width_pt: f32,
) -> Frame {
    let (plan, texts) = (texts.plan, &texts.details);
    let setting = |origin| Setting {
        size_pt: sizes.body_pt,
        width_pt,
        align: Align::Left,
        role: Role::Set,
        origin,
    };
    let mut frame = Frame::default();
    let origin = plan.cue.as_ref().map_or(plan.place, |cue| cue.place);
    if let Some(how) = &texts.how {
        frame = set(typesetter, how, &setting(Some(origin)), job.pass).frame;
    }
    for caution in &texts.cautions {
        let lines = set(typesetter, caution, &setting(Some(plan.place)), job.pass);
        frame.stack(lines.frame, 0.0, 0.0);
    }
    if plan.strokes.is_some() {
        let boxes = match &texts.boxes {
            Some(label) => {
                stroke_boxes(job, typesetter, sizes, plan, label, &setting(Some(plan.place)))
            }
            None => Frame::default(),
        };
        frame.stack(boxes, 0.0, 0.2 * sizes.body_pt);
    }
    frame
}

/// "strokes" with boxes to write in, below it where there is no room beside it.
fn stroke_boxes(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    plan: &SetPlan,
    label: &Text,
    setting: &Setting,
) -> Frame {
    let width_pt = setting.width_pt;
    let repeats = plan.repeats().saturating_mul(plan.rounds.max(1));
    let boxes = if plan.strokes == Some(StrokePlan::Count) { repeats } else { 1 };
    let mut label = set(typesetter, label, setting, job.pass);
    let boxed = Boxes::of(sizes);
    let mut first_pt = label.width_pt + 0.7 * sizes.body_pt;
    let mut rows = box_rows(boxes, plan.repeats(), boxed.room(width_pt - first_pt));
    let mut below = first_pt + boxed.width_pt > width_pt || label.count > 1;
    if below || rows.len() > MOST_BOX_ROWS {
        rows = box_rows(boxes, plan.repeats(), boxed.room(width_pt));
    }
    if rows.len() > MOST_BOX_ROWS {
        // Too many to write in: the first and the last show how the strokes held.
        let room = boxed.room(width_pt);
        rows = vec![room; 2];
        let room = room.to_string();
        let text = filled(&job.words.strokes.count_some, &[("first", &room), ("last", &room)]);
        label = set_once(typesetter, &[plain(text)], setting);
        below = true;
    } else {
        below |= rows.iter().any(|count| *count > boxed.room(width_pt - first_pt));
    }
    let mut top_pt = 0.0;
    if below {
        (first_pt, top_pt) = (0.0, label.frame.height_pt + 0.15 * sizes.body_pt);
    }
    let mut frame = Frame::default();
    let centred_pt = (boxed.height_pt - LEADING * sizes.body_pt) / 2.0;
    let centred_pt = (centred_pt + (RISE - 0.86) * sizes.body_pt).max(0.0);
    frame.put(label.frame, 0.0, if below { 0.0 } else { centred_pt });
    for (index, count) in rows.into_iter().enumerate() {
        let y_pt = top_pt + index as f32 * (boxed.height_pt + boxed.gap_pt);
        frame.put(boxed.row(job.pass, plan, count), first_pt, y_pt);
    }
    frame
}

/// Boxes to write in take at most this many rows.
const MOST_BOX_ROWS: usize = 3;

/// Boxes grow with the type up to this many times their least size.
const MOST_BOX_SCALE: f32 = 1.4;

/// How many boxes each row has: whole rounds in a row where a round fits, else rows alike.
fn box_rows(boxes: u32, repeats: u32, room: u32) -> Vec<u32> {
    let rounds = room / repeats.max(1);
    let most = if boxes > room && rounds > 0 { rounds * repeats } else { room }.max(1);
    let rows = boxes.div_ceil(most).max(1);
    // Rows alike, in whole rounds where they were.
    let unit = if rounds > 0 { repeats.max(1) } else { 1 };
    let each = boxes.div_ceil(rows).next_multiple_of(unit).max(1);
    let in_row = |row: u32| boxes.saturating_sub(row * each).min(each);
    (0..rows).map(in_row).filter(|count| *count > 0).collect()
}

/// The measures of boxes to write in.
struct Boxes {
    width_pt: f32,
    height_pt: f32,
    gap_pt: f32,
    line_pt: f32,
}

impl Boxes {
    /// Wide enough for two figures in grease pencil.
    fn of(sizes: Sizes) -> Self {
        // Larger type needs no larger boxes.
        let em = sizes.body_pt / sizes.scale * sizes.scale.min(MOST_BOX_SCALE);
        Boxes { width_pt: 2.1 * em, height_pt: 1.6 * em, gap_pt: 0.35 * em, line_pt: 0.07 * em }
    }

    /// How many fit side by side; at least one.
    fn room(&self, width_pt: f32) -> u32 {
        (((width_pt + self.gap_pt) / (self.width_pt + self.gap_pt)).floor()).max(1.0) as u32
    }

    fn row(&self, pass: Pass, plan: &SetPlan, count: u32) -> Frame {
        let mut frame = Frame { height_pt: self.height_pt, items: Vec::new() };
        let drawn = if pass == Pass::Draw { count } else { 0 };
        for index in 0..drawn {
            let x_pt = index as f32 * (self.width_pt + self.gap_pt);
            let tall_pt = self.height_pt - 2.0 * self.line_pt;
            let (inset_pt, wide_pt) = (self.line_pt / 2.0, self.width_pt - self.line_pt);
            let path = rectangle(x_pt + inset_pt, self.line_pt, wide_pt, tall_pt);
            let mark = Mark::Stroke(path, self.line_pt, Ink::BLACK);
            frame.items.push(Item { mark, role: Role::Artifact, origin: Some(plan.place) });
        }
        frame
    }
}

#[cfg(test)]
mod tests {
    use super::box_rows;

    #[test]
    fn each_repeat_has_its_box_in_rows_alike() {
        // By hand: boxes, repeats in a round, room in a row.
        assert_eq!(box_rows(6, 6, 8), [6]);
        assert_eq!(box_rows(10, 10, 8), [5, 5]);
        assert_eq!(box_rows(17, 17, 8), [6, 6, 5]);
        // Three rounds of four: whole rounds in a row.
        assert_eq!(box_rows(12, 4, 8), [8, 4]);
        assert_eq!(box_rows(12, 4, 7), [4, 4, 4]);
        assert_eq!(box_rows(1, 1, 1), [1]);
    }
}
