//! The rest at the right of a swim line: words and dial.

use super::columns::{CardColumns, rest_dial_pt};
use crate::card::job::Job;
use crate::card::sizes::Sizes;
use crate::card::texts::SetTexts;
use crate::card::texts::set::{dial, has_dial};
use crate::drawing::frame::{Frame, Pass};
use crate::drawing::{Item, Mark, Point, Role};
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{Align, HAIR_PT, Setting, Text, set, spaced};

/// Whether no word of the rest is wider than its column.
pub(in crate::card) fn rest_fits(sizes: Sizes, columns: CardColumns, texts: &SetTexts) -> bool {
    let room_pt = columns.rest_pt - rest_dial_pt(sizes) + HAIR_PT;
    texts.rest.iter().all(|line| line.widest_word_pt(sizes.body_pt) <= room_pt)
}

/// The width the rest of one set takes of its column, dial and all.
pub(in crate::card) fn rest_width_pt(sizes: Sizes, columns: CardColumns, texts: &SetTexts) -> f32 {
    let dial_pt = rest_dial_pt(sizes);
    let widths = texts.rest.iter().map(|line| line.natural_width_pt(sizes.body_pt) + dial_pt);
    widths.fold(0.0_f32, f32::max).min(columns.rest_pt)
}

pub(in crate::card) fn rest_frame(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    columns: CardColumns,
    texts: &SetTexts,
) -> Frame {
    let mut frame = Frame::default();
    if texts.rest.is_empty() {
        return frame;
    }
    let column_pt = columns.rest_pt - rest_dial_pt(sizes);
    let setting = Setting {
        origin: Some(texts.plan.place),
        ..Setting::in_column(sizes.body_pt, column_pt, Align::Right, Role::Set)
    };
    let last = texts.rest.len().saturating_sub(1);
    for (index, line) in texts.rest.iter().enumerate() {
        let line = balanced(job, typesetter, line, &setting);
        frame.stack(if index < last { spaced(line) } else { line }, 0.0, 0.0);
    }
    // One line is centred on the dial; more begin at the dial's top.
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
        placed.put(dial, columns.rest_pt - sizes.dial_pt, 0.0);
    }
    placed
}

/// `text` in as few lines as the column takes, none of them much shorter than the others.
fn balanced(job: &Job, typesetter: &mut Typesetter, text: &Text, setting: &Setting) -> Frame {
    let loose = set(typesetter, text, setting, job.pass);
    // Balancing does not change the number of lines.
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
