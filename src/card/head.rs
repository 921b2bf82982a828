//! The head of a card: title, focus, and the session's figures.

use super::compose::{Job, Type};
use super::face::{Shaper, Weight};
use super::frame::Frame;
use super::paragraph::{Align, Setting, Span, bold, natural_width_pt, plain, set, spaced};
use super::words::filled;
use super::{Ink, Role};
use crate::finding::Place;

/// The head of the first card.
pub(super) fn first(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Frame {
    let mut frame = Frame::default();
    frame.stack(title_line(job, shaper, sizes, width_pt), 0.0, 0.0);
    frame.stack(focus(job, shaper, sizes, width_pt), 0.0, 0.2 * sizes.body_pt);
    frame.stack(figures(job, shaper, sizes, width_pt), 0.0, 0.3 * sizes.body_pt);
    frame
}

/// The head of the cards after it: enough to know whose they are.
pub(super) fn further(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Frame {
    let mut frame = Frame::default();
    frame.stack(title_line(job, shaper, sizes, width_pt), 0.0, 0.0);
    frame.stack(focus(job, shaper, sizes, width_pt), 0.0, 0.2 * sizes.body_pt);
    frame
}

fn setting(size_pt: f32, width_pt: f32, role: Role, origin: Option<Place>) -> Setting {
    Setting { size_pt, width_pt: width_pt + 0.01, align: Align::Left, role, origin }
}

/// The title, as large as one line takes it, with the lane at the right.
fn title_line(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Frame {
    let mut frame = Frame::default();
    let plan = job.plan;
    let mut room_pt = width_pt;
    if let Some(lane) = &plan.lane {
        let name = [bold(lane.name.value.clone())];
        // A very long lane name wraps in a third of the card.
        let lane_pt = natural_width_pt(shaper, &name, sizes.swim_pt).min(width_pt / 3.0);
        let mut setting = setting(sizes.swim_pt, lane_pt, Role::Text, Some(lane.name.place));
        setting.align = Align::Right;
        let lines = set(shaper, &name, &setting);
        room_pt -= lane_pt + sizes.body_pt;
        let title = title(job, shaper, sizes, room_pt);
        // Title first: reading order is drawing order.
        frame.put(title, 0.0, 0.0);
        frame.put(lines.frame, width_pt - lane_pt, 0.0);
        return frame;
    }
    frame.put(title(job, shaper, sizes, room_pt), 0.0, 0.0);
    frame
}

fn title(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Frame {
    let plan = job.plan;
    let natural_em = shaper.width_pt(&plan.title.value, Weight::Bold, 1.0).max(0.1);
    // Never smaller than the text around it; a title longer than that wraps.
    let size_pt = (width_pt / natural_em).clamp(sizes.body_pt, 1.25 * sizes.swim_pt);
    let setting = setting(size_pt, width_pt, Role::Title, Some(plan.title.place));
    set(shaper, &[bold(plan.title.value.clone())], &setting).frame
}

/// The focus, beside a heavy bar: where the eye starts.
fn focus(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Frame {
    let bar_pt = 0.42 * sizes.body_pt;
    let left_pt = bar_pt + 0.55 * sizes.body_pt;
    let focus = &job.plan.focus;
    let setting = setting(sizes.swim_pt, width_pt - left_pt, Role::Text, Some(focus.place));
    let lines = set(shaper, &[bold(focus.value.clone())], &setting);
    let mut frame = Frame::default();
    frame.bar(0.0, 0.0, bar_pt, lines.frame.height_pt, Ink::BLACK);
    frame.put(lines.frame, left_pt, 0.0);
    frame
}

/// Total, lengths, minutes, pool and date, side by side as they fit.
fn figures(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Frame {
    let groups = figure_groups(job);
    let gap_pt = 1.1 * sizes.body_pt;
    let mut frame = Frame::default();
    let (mut x_pt, mut y_pt) = (0.0, 0.0);
    for spans in groups {
        let natural_pt = natural_width_pt(shaper, &spans, sizes.body_pt);
        if x_pt > 0.0 && x_pt + natural_pt > width_pt {
            (x_pt, y_pt) = (0.0, frame.height_pt);
        }
        let setting = setting(sizes.body_pt, width_pt, Role::Text, None);
        let lines = set(shaper, &spans, &setting).frame;
        frame.put(spaced(lines), x_pt, y_pt);
        x_pt += natural_pt + gap_pt;
    }
    frame
}

fn figure_groups(job: &Job) -> Vec<Vec<Span>> {
    let (plan, words) = (job.plan, job.words);
    let whole = |text: String| text.replace(' ', "\u{a0}");
    let distance = words.distance(plan.pool.distance(plan.lengths));
    let lengths = match plan.lengths.get() {
        1 => words.head.one_length.clone(),
        count => filled(&words.head.lengths, &[("count", &words.count(count.into()))]),
    };
    let minutes = words.count(plan.seconds.minutes_up().into());
    let mut groups = vec![
        vec![bold(whole(filled(&words.head.total, &[("distance", &distance)])))],
        vec![plain(whole(lengths))],
        vec![plain(whole(filled(&words.head.minutes, &[("count", &minutes)])))],
        vec![plain(whole(filled(&words.head.pool, &[("length", &words.pool(plan.pool))])))],
    ];
    groups.extend(plan.date.map(|date| vec![plain(words.date(date))]));
    groups
}
