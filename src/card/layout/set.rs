//! One set: swim line and rest in their columns, details below.

use super::columns::CardColumns;
use super::details::details;
use crate::card::job::Job;
use crate::card::layout::rest::{rest_fits, rest_frame, rest_width_pt};
use crate::card::sizes::Sizes;
use crate::card::texts::SetTexts;
use crate::card::texts::set::printed_positions;
use crate::drawing::Role;
use crate::drawing::frame::Frame;
use crate::typeset::Typesetter;
use crate::typeset::face::Weight;
use crate::typeset::paragraph::{Align, LEADING, Setting, set, spaced};

/// Legs, steps and the like take so many lines beside a rest at most, as far as their width tells.
const MOST_LINES_BESIDE: f32 = 1.9;

/// A set: swim line and rest in their columns, details below. Also whether the swim line wrapped.
pub(in crate::card) fn set_frame(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    columns: CardColumns,
    texts: &SetTexts,
) -> (Frame, bool) {
    let plan = texts.plan;
    let mut frame = Frame::default();
    let mut rest = rest_frame(job, typesetter, sizes, columns, texts);
    let mut rest_pt = columns.rest_pt;
    // The rest is at the right; what it leaves of its column is the swim line's.
    let own_pt = rest_width_pt(sizes, columns, texts);
    let stroke_room_pt = columns.line_room_pt() - own_pt - columns.gap_pt;
    let stroke_pt = texts.stroke.natural_width_pt(sizes.swim_pt);
    // On a card too narrow for both, the rest goes below the swim line.
    let has_rest = !texts.rest.is_empty();
    // Legs and the like may take a second line beside the rest.
    let is_shaped = texts.distance.is_none() || plan.chalk.is_shaped();
    let stroke_fits = match is_shaped {
        false => stroke_pt <= stroke_room_pt,
        true => {
            texts.stroke.widest_word_pt(sizes.swim_pt) <= stroke_room_pt
                && stroke_pt <= MOST_LINES_BESIDE * stroke_room_pt
        }
    };
    let fits = stroke_fits && rest_fits(sizes, columns, texts);
    let narrow = has_rest && !fits;
    if narrow {
        // Below it has the whole width, and its own lines need not wrap.
        rest_pt = columns.width_pt - columns.gutter_pt;
        rest = rest_frame(job, typesetter, sizes, CardColumns { rest_pt, ..columns }, texts);
    }
    let alone = narrow || !has_rest;
    let room_pt = if alone { columns.line_room_pt() } else { stroke_room_pt };
    let wraps = swim_line(job, typesetter, sizes, columns, texts, room_pt, &mut frame) || narrow;
    let swim_height_pt = frame.height_pt;
    let rest_top_pt = if narrow { swim_height_pt } else { 0.0 };
    let rest_height_pt = rest_top_pt + rest.height_pt;
    // A list of positions reads as well on two lines as on one.
    let lines = texts.rest.len() + usize::from(printed_positions(plan) > 3);
    let wraps =
        wraps || rest_height_pt > sizes.dial_pt.max((lines as f32 + 0.5) * LEADING * sizes.body_pt);
    frame.put(rest, columns.width_pt - rest_pt, rest_top_pt);
    let x_pt = columns.gutter_pt;
    // Beside a rest of several lines the details keep to their column.
    let beside = !narrow && rest_height_pt > swim_height_pt + 0.5 * sizes.body_pt;
    let whole_pt = columns.width_pt - x_pt;
    let below_pt = swim_height_pt.max(rest_height_pt);
    let mut below = details(job, typesetter, sizes, texts, whole_pt);
    let mut top_pt = below_pt;
    if beside {
        let narrow = details(job, typesetter, sizes, texts, whole_pt - own_pt - columns.gap_pt);
        if swim_height_pt + narrow.height_pt <= below_pt + below.height_pt {
            (below, top_pt) = (narrow, swim_height_pt);
        }
    }
    if below.height_pt > 0.0 {
        frame.put(below, x_pt, top_pt);
    }
    // A clock face repeats the words: it comes after them in reading order.
    frame.items.sort_by_key(|item| matches!(item.role, Role::Figure(_)));
    (frame, wraps)
}

fn swim_line(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    columns: CardColumns,
    texts: &SetTexts,
    stroke_room_pt: f32,
    frame: &mut Frame,
) -> bool {
    let role = Role::Swim { rounds: texts.groups.len(), spoken: texts.spoken.clone() };
    let setting = |width_pt: f32, align| Setting {
        origin: Some(texts.plan.swim_place),
        ..Setting::in_column(sizes.swim_pt, width_pt, align, role.clone())
    };
    let space_pt = typesetter.width_pt(" ", Weight::Bold, sizes.swim_pt);
    // The swim line is centred on the dial.
    let top_pt = ((sizes.dial_pt - LEADING * sizes.swim_pt) / 2.0).max(0.0);
    let mut x_pt = columns.gutter_pt;
    if let Some(count) = &texts.count {
        let setting = setting(columns.count_pt - space_pt, Align::Right);
        frame.put(spaced(set(typesetter, count, &setting, job.pass).frame), x_pt, top_pt);
    }
    x_pt += columns.count_pt;
    let mut room_pt = stroke_room_pt;
    match &texts.distance {
        Some(text) => {
            let distance = setting(columns.distance_pt - space_pt, Align::Right);
            frame.put(spaced(set(typesetter, text, &distance, job.pass).frame), x_pt, top_pt);
            x_pt += columns.distance_pt;
        }
        // The steps of a ladder begin where the distances do.
        None => room_pt += columns.distance_pt,
    }
    let lines = set(typesetter, &texts.stroke, &setting(room_pt, Align::Left), job.pass);
    frame.put(spaced(lines.frame), x_pt, top_pt);
    frame.height_pt += top_pt * 0.5;
    let most = if texts.distance.is_none() || texts.plan.chalk.is_shaped() { 2 } else { 1 };
    lines.count > most
}
