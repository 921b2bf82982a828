//! The head of a card: title, focus, and the session's figures.

use crate::card::job::Job;
use crate::card::sizes::Sizes;
use crate::drawing::frame::Frame;
use crate::drawing::{Ink, Role};
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{Align, Setting, set, spaced};

/// The head of the first card.
pub(in crate::card) fn first(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    width_pt: f32,
) -> Frame {
    let mut frame = further(job, typesetter, sizes, width_pt);
    frame.stack(figures(job, typesetter, sizes, width_pt), 0.0, 0.3 * sizes.body_pt);
    frame
}

/// The head of the cards after it: enough to know whose they are.
pub(in crate::card) fn further(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    width_pt: f32,
) -> Frame {
    let mut frame = Frame::default();
    frame.stack(title_line(job, typesetter, sizes, width_pt), 0.0, 0.0);
    frame.stack(focus(job, typesetter, sizes, width_pt), 0.0, 0.2 * sizes.body_pt);
    frame
}

/// The title, as large as one line takes it, with the lane at the right.
fn title_line(job: &Job, typesetter: &mut Typesetter, sizes: Sizes, width_pt: f32) -> Frame {
    let mut frame = Frame::default();
    let plan = job.plan;
    let mut room_pt = width_pt;
    if let (Some(lane), Some(name)) = (&plan.lane, &job.texts.lane) {
        // A very long lane name wraps in a third of the card.
        let lane_pt = name.natural_width_pt(sizes.swim_pt).min(width_pt / 3.0);
        let mut setting = Setting::left(sizes.swim_pt, lane_pt, Role::Text, Some(lane.name.place));
        setting.align = Align::Right;
        let lines = set(typesetter, name, &setting, job.pass);
        room_pt -= lane_pt + sizes.body_pt;
        let title = title(job, typesetter, sizes, room_pt);
        // Title first: reading order is drawing order.
        frame.put(title, 0.0, 0.0);
        frame.put(lines.frame, width_pt - lane_pt, name.excess_pt(sizes.swim_pt));
        return frame;
    }
    frame.put(title(job, typesetter, sizes, room_pt), 0.0, 0.0);
    frame
}

fn title(job: &Job, typesetter: &mut Typesetter, sizes: Sizes, width_pt: f32) -> Frame {
    let natural_em = job.texts.title_em.max(0.1);
    // Never smaller than the text around it; a title longer than that wraps.
    let size_pt = (width_pt / natural_em).clamp(sizes.body_pt, 1.25 * sizes.swim_pt);
    let setting = Setting::left(size_pt, width_pt, Role::Title, Some(job.plan.title.place));
    let lines = set(typesetter, &job.texts.title, &setting, job.pass);
    let mut frame = Frame::default();
    frame.put(lines.frame, 0.0, job.texts.title.excess_pt(size_pt));
    frame
}

/// The focus, beside a heavy bar: where the eye starts.
fn focus(job: &Job, typesetter: &mut Typesetter, sizes: Sizes, width_pt: f32) -> Frame {
    let mut frame = Frame::default();
    let Some((said, text)) = job.plan.focus.as_ref().zip(job.texts.focus.as_ref()) else {
        return frame;
    };
    let bar_pt = 0.42 * sizes.body_pt;
    let left_pt = bar_pt + 0.55 * sizes.body_pt;
    let setting = Setting::left(sizes.swim_pt, width_pt - left_pt, Role::Text, Some(said.place));
    let lines = set(typesetter, text, &setting, job.pass);
    frame.bar(0.0, 0.0, bar_pt, lines.frame.height_pt, Ink::BLACK);
    frame.put(lines.frame, left_pt, 0.0);
    frame
}

/// Total, lengths, minutes, pool and date, side by side as they fit.
fn figures(job: &Job, typesetter: &mut Typesetter, sizes: Sizes, width_pt: f32) -> Frame {
    let gap_pt = 1.1 * sizes.body_pt;
    let mut frame = Frame::default();
    let (mut x_pt, mut y_pt) = (0.0, 0.0);
    for text in &job.texts.figures {
        let natural_pt = text.natural_width_pt(sizes.body_pt);
        if x_pt > 0.0 && x_pt + natural_pt > width_pt {
            (x_pt, y_pt) = (0.0, frame.height_pt);
        }
        let setting = Setting::left(sizes.body_pt, width_pt, Role::Text, None);
        let lines = set(typesetter, text, &setting, job.pass).frame;
        frame.put(spaced(lines), x_pt, y_pt);
        x_pt += natural_pt + gap_pt;
    }
    frame
}
