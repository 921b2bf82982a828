//! Crop marks: hairlines that show where to cut, never on a card.
//!
//! Every cut runs straight through the sheet. Its marks are on its line wherever it passes
//! no card: at both ends, and in gutters that are wide enough.

use super::grid::{Axis, Grid, points};
use crate::drawing::{Ink, Item, Mark, Point, Role};

/// Clear paper between a card and a mark, 2 mm in tenths of a micrometre: a cut that is a little off
/// leaves no mark on a card.
pub(super) const CLEAR: u64 = 20_000;
/// A mark is at most this long, 5 mm,
const LENGTH: u64 = 50_000;
/// and at least this long, 1 mm, or it is left out.
const LEAST: u64 = 10_000;
/// A hairline, in points (common practice, no source).
const HAIRLINE_PT: f32 = 0.25;

/// The marks of all cuts.
pub(super) fn crop(grid: &Grid) -> Vec<Item> {
    let mut marks = Vec::new();
    let at = |x: u64, y: u64| Point { x_pt: points(x), y_pt: points(y) };
    for x in cuts(&grid.across) {
        marks.extend(strips(&grid.down).into_iter().map(|(from, to)| line(at(x, from), at(x, to))));
    }
    for y in cuts(&grid.down) {
        marks.extend(
            strips(&grid.across).into_iter().map(|(from, to)| line(at(from, y), at(to, y))),
        );
    }
    marks
}

/// Where cuts cross the axis; neighbours without a gutter share one.
fn cuts(axis: &Axis) -> Vec<u64> {
    let edges = |index| [axis.begin(index), axis.begin(index) + axis.side];
    let mut cuts: Vec<u64> = (0..axis.count).flat_map(edges).collect();
    cuts.dedup();
    cuts
}

/// Where marks may lie along the axis: before the first card, between two, after the last.
fn strips(axis: &Axis) -> Vec<(u64, u64)> {
    let mut strips = Vec::new();
    strips.extend(outer(axis.origin, axis.margin).map(|(near, far)| (far, near)));
    if axis.gutter >= 2 * CLEAR + LEAST {
        let between = |index| (axis.begin(index) - axis.gutter + CLEAR, axis.begin(index) - CLEAR);
        strips.extend((1..axis.count).map(between));
    }
    let after = outer(axis.paper - axis.end(), axis.margin);
    strips.extend(after.map(|(near, far)| (axis.paper - near, axis.paper - far)));
    strips
}

/// A mark between the card and an edge of the paper `border` away, by its ends counted from
/// that edge, the near one nearest the card. It keeps out of the printer's margin where there
/// is room, and otherwise uses what there is: many printers print part of their margin.
fn outer(border: u64, margin: u64) -> Option<(u64, u64)> {
    let near = border.checked_sub(CLEAR)?;
    let least = if near >= margin + LEAST { margin } else { 0 };
    let far = near.saturating_sub(LENGTH).max(least);
    (near - far >= LEAST).then_some((near, far))
}

fn line(from: Point, to: Point) -> Item {
    let mark = Mark::line(from, to, HAIRLINE_PT, Ink::BLACK);
    Item { mark, role: Role::Artifact, origin: None }
}
