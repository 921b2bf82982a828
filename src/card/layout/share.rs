//! The bar at the side of the card: each part's share of the session.

use crate::card::job::Job;
use crate::card::sizes::Sizes;
use crate::drawing::frame::{Frame, rectangle};
use crate::drawing::{Ink, Item, Mark, Role};
use crate::plan::Plan;
use crate::session::words::PartKind;
use crate::stock::Stock;

/// On cards with less than this across between their margins the bar is left out: there the
/// swim line needs the room.
const NARROWEST_MM: f32 = 90.0;
/// The main set, and the other parts: mid grey, which an office printer keeps apart from black
/// and from white (4.5 to 1 against white).
const MAIN: Ink = Ink::BLACK;
const OTHER: Ink = Ink(0x76);

/// How wide the bar itself is.
pub(in crate::card) fn bar_pt(sizes: Sizes) -> f32 {
    0.34 * sizes.body_pt
}

/// Whether a session has shares to show and its cards room to show them in.
pub(in crate::card) fn is_wanted(plan: &Plan, stock: &Stock) -> bool {
    plan.parts.len() > 1 && stock.safe().width_pt() >= NARROWEST_MM / 25.4 * 72.0
}

/// The width the bar takes at the right of the body with the gap before it; 0 where there is none.
pub(in crate::card) fn room_pt(job: &Job, sizes: Sizes) -> f32 {
    if job.has_share_bar { bar_pt(sizes) + 0.5 * sizes.body_pt } else { 0.0 }
}

/// The bar over `height_pt`, cut in proportion to the parts: those `here`, on this card, are
/// filled, the others outlined.
pub(in crate::card) fn bar(job: &Job, sizes: Sizes, here: &[usize], height_pt: f32) -> Frame {
    let parts = &job.plan.parts;
    let width_pt = bar_pt(sizes);
    let gap_pt = 0.14 * sizes.body_pt;
    let line_pt = 0.06 * sizes.body_pt;
    let all: u32 = parts.iter().map(|part| part.lengths.get()).sum();
    let room_pt = height_pt - gap_pt * parts.len().saturating_sub(1) as f32;
    let mut frame = Frame::default();
    if all == 0 || room_pt <= 0.0 {
        return frame;
    }
    let mut y_pt = 0.0;
    for (index, part) in parts.iter().enumerate() {
        let tall_pt = room_pt * part.lengths.get() as f32 / all as f32;
        let ink = if part.kind == PartKind::MainSet { MAIN } else { OTHER };
        if here.contains(&index) || tall_pt < 3.0 * line_pt {
            frame.bar(0.0, y_pt, width_pt, tall_pt, ink);
        } else {
            let (inset_pt, wide_pt) = (line_pt / 2.0, width_pt - line_pt);
            let path = rectangle(inset_pt, y_pt + inset_pt, wide_pt, tall_pt - line_pt);
            let mark = Mark::Stroke(path, line_pt, ink);
            frame.items.push(Item { mark, role: Role::Artifact, origin: None });
        }
        y_pt += tall_pt + gap_pt;
    }
    frame.height_pt = height_pt;
    frame
}
