//! Pages to log a week on: for each session its date, strokes, times, and how it felt.

use super::page::PageBody;
use super::{BinderWeek, Bindery};
use crate::drawing::frame::{Frame, rectangle};
use crate::drawing::{Area, Ink, Item, Mark, Role};
use crate::reader::trade_words::TradeWord;
use crate::session::words::Effort;
use crate::typeset::face::Weight;
use crate::typeset::paragraph::{
    Align, HAIR_PT, LEADING, Setting, bold, natural_width_pt, plain, set_once, spaced,
};
use crate::words::filled;

/// A line to write on is 8 mm tall, as ruled paper often is. Common practice, no source.
const WRITING_PT: f32 = 8.0 / 25.4 * 72.0;
/// Between two rows of a session, and between two sessions, in sizes of the text.
const ROW_GAP: f32 = 0.6;
const SESSION_GAP: f32 = 1.5;
/// Boxes for times and for counts of strokes: enough for most sets, wide enough for a pen.
const BOXES: usize = 6;
/// Lines to write on, at least, below a session's boxes.
const LEAST_LINES: usize = 1;

/// The log pages of a week.
pub(super) fn page_bodies(bindery: &mut Bindery, week: &BinderWeek) -> Vec<PageBody> {
    let area = bindery.binding.area(0);
    let number = week.number.to_string();
    let running = filled(&bindery.words.binder.log, &[("week", &number)]);
    let title = filled(&bindery.words.binder.log_title, &[("week", &number)]);
    let head = head(bindery, title, area);
    let fixed: Vec<Frame> =
        (0..week.sessions.len()).map(|index| session(bindery, week, index, area)).collect();
    let gap_pt = SESSION_GAP * bindery.binding.text_pt();
    let tallest_pt = fixed.iter().map(|frame| frame.height_pt).fold(0.0, f32::max);
    let with_lines = |lines: usize| tallest_pt + lines as f32 * WRITING_PT;
    let room_pt = area.height_pt() - head.height_pt;
    let fits = |count: usize, lines: usize| {
        count as f32 * (with_lines(lines) + gap_pt) <= room_pt + HAIR_PT
    };
    // As many on a page as fit, but evenly over the pages.
    let most = (1..=fixed.len()).rev().find(|count| fits(*count, LEAST_LINES)).unwrap_or(1);
    let pages = fixed.len().div_ceil(most.max(1));
    let each = fixed.len().div_ceil(pages.max(1)).max(1);
    let mut bodies = Vec::new();
    for sessions in fixed.chunks(each) {
        let mut frame = head.clone();
        // What is left is ruled; one line more would not fit.
        let lines = (LEAST_LINES..).take_while(|lines| fits(each, *lines)).last();
        for session in sessions {
            frame.stack(session.clone(), 0.0, gap_pt);
            rule(&mut frame, area.width_pt(), lines.unwrap_or(0));
        }
        bodies.push(PageBody { running: running.clone(), frame, links: Vec::new() });
    }
    bodies
}

fn head(bindery: &mut Bindery, title: String, area: Area) -> Frame {
    let size_pt = 1.8 * bindery.binding.text_pt();
    let setting = Setting {
        size_pt,
        width_pt: area.width_pt(),
        align: Align::Left,
        role: Role::Title,
        origin: None,
    };
    set_once(&mut bindery.typesetter, &[bold(title)], &setting).frame
}

/// Lines to write on, the first a line's height below what is above.
fn rule(frame: &mut Frame, width_pt: f32, lines: usize) {
    let line_pt = 0.6;
    for _ in 0..lines {
        let y_pt = frame.height_pt + WRITING_PT - line_pt;
        frame.bar(0.0, y_pt, width_pt, line_pt, Ink(0x76));
        frame.height_pt += WRITING_PT;
    }
}

/// A session's heading and its rows of boxes.
fn session(bindery: &mut Bindery, week: &BinderWeek, index: usize, area: Area) -> Frame {
    let text_pt = bindery.binding.text_pt();
    let width_pt = area.width_pt();
    let words = &bindery.words.binder;
    let labels = [&words.date, &words.strokes, &words.times, &words.felt, &words.next];
    let mut label_pt: f32 = 0.0;
    for label in labels {
        let width = bindery.typesetter.width_pt(label, Weight::Regular, text_pt);
        label_pt = label_pt.max(width);
    }
    let left_pt = label_pt + 0.9 * text_pt;
    let room_pt = width_pt - left_pt;
    let mut frame = heading(bindery, week, index, width_pt);
    let gap_pt = ROW_GAP * text_pt;
    let boxes_gap_pt = 0.5 * text_pt;
    let box_pt = (room_pt - (BOXES - 1) as f32 * boxes_gap_pt) / BOXES as f32;
    // The date takes two boxes and the gap between them.
    let date_pt = 2.0 * box_pt + boxes_gap_pt;
    for (label, count, wide_pt) in
        [(&words.date, 1, date_pt), (&words.strokes, BOXES, box_pt), (&words.times, BOXES, box_pt)]
    {
        let mut row = row_label(bindery, label, label_pt);
        for place in 0..count {
            let x_pt = left_pt + place as f32 * (wide_pt + boxes_gap_pt);
            row.items.push(outline(x_pt, 0.0, wide_pt, WRITING_PT));
        }
        frame.stack(row, 0.0, gap_pt);
    }
    let felt = felt(bindery, &words.felt, label_pt, left_pt, width_pt);
    frame.stack(felt, 0.0, gap_pt);
    let mut next = row_label(bindery, &words.next, label_pt);
    next.bar(left_pt, WRITING_PT - 0.6, room_pt, 0.6, Ink(0x76));
    frame.stack(next, 0.0, 0.5 * gap_pt);
    frame
}

/// "Session 2", what it is called, and its total, below a strong rule.
fn heading(bindery: &mut Bindery, week: &BinderWeek, index: usize, width_pt: f32) -> Frame {
    let text_pt = bindery.binding.text_pt();
    let mut frame = Frame::default();
    let rule_pt = 0.14 * text_pt;
    frame.bar(0.0, 0.0, width_pt, rule_pt, Ink::BLACK);
    let top_pt = rule_pt + 0.16 * text_pt;
    let Some(session) = week.sessions.get(index) else { return frame };
    let number = (index + 1).to_string();
    let name = filled(&bindery.words.binder.log_session, &[("session", &number)]);
    let total = bindery.words.about(session.is_about, session.distance);
    let total = [bold(total)];
    let total_pt = natural_width_pt(&mut bindery.typesetter, &total, text_pt);
    let setting =
        |width_pt: f32, align| Setting::in_column(text_pt, width_pt, align, Role::PartHeading);
    let name = [bold(name), plain(format!("\u{a0}\u{a0} {}", session.title))];
    let left = setting(width_pt - total_pt - text_pt, Align::Left);
    frame.put(spaced(set_once(&mut bindery.typesetter, &name, &left).frame), 0.0, top_pt);
    let total = set_once(&mut bindery.typesetter, &total, &setting(total_pt, Align::Right)).frame;
    frame.put(total, width_pt - total_pt, top_pt);
    frame
}

/// A label at the left of a row as tall as a box, on the row's middle.
fn row_label(bindery: &mut Bindery, label: &str, width_pt: f32) -> Frame {
    let text_pt = bindery.binding.text_pt();
    let setting = Setting::left(text_pt, width_pt, Role::Text, None);
    let lines = set_once(&mut bindery.typesetter, &[plain(label)], &setting).frame;
    let mut row = Frame::default();
    row.put(lines, 0.0, (WRITING_PT - LEADING * text_pt) / 2.0);
    row.height_pt = WRITING_PT;
    row
}

/// The card's own words for effort, each with a box to tick; a sprint is swum, not felt.
fn felt(bindery: &mut Bindery, label: &str, label_pt: f32, left_pt: f32, width_pt: f32) -> Frame {
    let text_pt = bindery.binding.text_pt();
    let mut frame = row_label(bindery, label, label_pt);
    let tick_pt = 0.95 * text_pt;
    let gap_pt = 0.35 * text_pt;
    let mut x_pt = left_pt;
    let mut top_pt = 0.0;
    for (effort, _) in Effort::ALL.iter().filter(|(effort, _)| *effort != Effort::Sprint) {
        let word = [plain(bindery.words.trade(*effort))];
        let word_pt = natural_width_pt(&mut bindery.typesetter, &word, text_pt);
        if x_pt > left_pt && x_pt + tick_pt + gap_pt + word_pt > width_pt {
            (x_pt, top_pt) = (left_pt, top_pt + WRITING_PT);
        }
        frame.items.push(outline(x_pt, top_pt + (WRITING_PT - tick_pt) / 2.0, tick_pt, tick_pt));
        let setting = Setting::left(text_pt, word_pt, Role::Text, None);
        let word = spaced(set_once(&mut bindery.typesetter, &word, &setting).frame);
        let word_top_pt = top_pt + (WRITING_PT - LEADING * text_pt) / 2.0;
        frame.put(word, x_pt + tick_pt + gap_pt, word_top_pt);
        x_pt += tick_pt + gap_pt + word_pt + 1.1 * text_pt;
    }
    frame.height_pt = top_pt + WRITING_PT;
    frame
}

/// A box whose stroke stays inside it.
fn outline(x_pt: f32, y_pt: f32, width_pt: f32, height_pt: f32) -> Item {
    let line_pt = 0.7;
    let path = rectangle(
        x_pt + line_pt / 2.0,
        y_pt + line_pt / 2.0,
        width_pt - line_pt,
        height_pt - line_pt,
    );
    Item { mark: Mark::Stroke(path, line_pt, Ink::BLACK), role: Role::Artifact, origin: None }
}
