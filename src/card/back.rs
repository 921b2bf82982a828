//! The back of a card: lines to write times and stroke counts on.

use super::texts::foot::version;
use crate::card::sizes::Sizes;
use crate::drawing::frame::{Frame, rectangle};
use crate::drawing::{Card, Ink, Item, Mark, Role};
use crate::plan::Plan;
use crate::stock::Stock;
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{Setting, bold, plain, set_once};
use crate::words::Words;

/// Lines are this far apart: room for a grease pencil. Common practice, no source.
const LINE_MM: f32 = 9.0;
/// Lines are written over, so they are grey; its contrast with white is 7.0 (WCAG 2.2).
const LINE_INK: Ink = Ink(0x59);
/// Stroke counts take this share of a line at its right, times the rest.
const STROKES_SHARE: f32 = 0.36;

/// The back of the cards of one plan, with as many lines as it has room for.
pub fn back(plan: &Plan, stock: &Stock, words: &Words) -> Card {
    let mut typesetter = Typesetter::default();
    let safe = stock.behind().safe();
    let (width_pt, sizes) = (safe.width_pt(), Sizes::new(stock, 1.0));
    let mut frame = head(plan, words, &mut typesetter, sizes, width_pt);
    frame.height_pt += 0.4 * sizes.body_pt;
    let columns = columns(words, &mut typesetter, sizes, width_pt);
    frame.stack(columns, 0.0, 0.0);
    rule(&mut frame, width_pt, safe.height_pt());
    let mut page = Frame::default();
    page.put(frame, safe.left_pt, safe.top_pt);
    Card::laid_out(stock.trim(), page.items)
}

/// What the page is for, and of which card it is the back.
fn head(
    plan: &Plan,
    words: &Words,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    width_pt: f32,
) -> Frame {
    let heading = Setting::left(sizes.body_pt, width_pt, Role::PartHeading, None);
    let mut frame = set_once(typesetter, &[bold(words.back.heading.clone())], &heading).frame;
    let title = Setting::left(sizes.note_pt, width_pt, Role::Title, Some(plan.title.place));
    frame.stack(set_once(typesetter, &[bold(plan.title.value.clone())], &title).frame, 0.0, 0.0);
    if let Some(lane) = &plan.lane {
        let note = Setting::left(sizes.note_pt, width_pt, Role::Text, Some(lane.name.place));
        frame.stack(set_once(typesetter, &[plain(lane.name.value.clone())], &note).frame, 0.0, 0.0);
    }
    let note = Setting::left(sizes.note_pt, width_pt, Role::Text, None);
    frame.stack(set_once(typesetter, &[plain(version(plan, words))], &note).frame, 0.0, 0.0);
    frame
}

/// The names of the two columns.
fn columns(words: &Words, typesetter: &mut Typesetter, sizes: Sizes, width_pt: f32) -> Frame {
    let strokes_pt = STROKES_SHARE * width_pt;
    let gap_pt = sizes.note_pt;
    let mut frame = Frame::default();
    let note = |width_pt| Setting::left(sizes.note_pt, width_pt, Role::Text, None);
    let times = set_once(
        typesetter,
        &[plain(words.back.times.clone())],
        &note(width_pt - strokes_pt - gap_pt),
    );
    let strokes = set_once(typesetter, &[plain(words.back.strokes.clone())], &note(strokes_pt));
    frame.put(times.frame, 0.0, 0.0);
    frame.put(strokes.frame, width_pt - strokes_pt, 0.0);
    frame
}

/// Lines from below the frame to the foot of the card, in two columns.
fn rule(frame: &mut Frame, width_pt: f32, height_pt: f32) {
    let (line_pt, pitch_pt) = (0.6, LINE_MM / 25.4 * 72.0);
    let strokes_pt = STROKES_SHARE * width_pt;
    let times_pt = width_pt - strokes_pt - 0.5 * pitch_pt;
    let mut y_pt = frame.height_pt + pitch_pt - line_pt;
    while y_pt + line_pt <= height_pt {
        for (x_pt, long_pt) in [(0.0, times_pt), (width_pt - strokes_pt, strokes_pt)] {
            let mark = Mark::Fill(rectangle(x_pt, y_pt, long_pt, line_pt), LINE_INK);
            frame.items.push(Item { mark, role: Role::Artifact, origin: None });
        }
        y_pt += pitch_pt;
    }
}
