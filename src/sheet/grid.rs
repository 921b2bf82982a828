//! A grid of cards on paper, in whole tenths of a micrometre.
//!
//! A millimetre is 10,000 of them and an inch 254,000, so that an exact fit stays exact.

use super::paper::{Dimensions, Imposition};
use crate::drawing::{Area, Point};
use crate::measure::Extent;

/// Cards, gutters and paper in one direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Axis {
    /// The paper.
    pub paper: u64,
    /// What the printer leaves blank at both ends.
    pub margin: u64,
    /// One card, as it lies.
    pub side: u64,
    /// Between two cards.
    pub gutter: u64,
    /// How many cards.
    pub count: u64,
    /// Where the first begins.
    pub origin: u64,
}

/// Columns and rows of cards that lie the same way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Grid {
    /// The columns.
    pub across: Axis,
    /// The rows.
    pub down: Axis,
    /// Whether the cards lie on their side.
    pub turned: bool,
}

impl Axis {
    /// As many cards as fit, in the middle of the paper.
    fn fill(paper: Extent, side: Extent, imposition: &Imposition) -> Self {
        let [paper, side, gutter, margin] =
            [paper, side, imposition.gutter, imposition.margin].map(|e| u64::from(e.tenths_um()));
        let room = paper.saturating_sub(2 * margin);
        let count = (room + gutter).checked_div(side + gutter).unwrap_or(0);
        let mut axis = Axis { paper, margin, side, gutter, count, origin: 0 };
        axis.origin = paper.saturating_sub(axis.taken()) / 2;
        axis
    }

    /// From the first card's beginning to the last one's end.
    fn taken(&self) -> u64 {
        (self.count * (self.side + self.gutter)).saturating_sub(self.gutter)
    }

    /// Where card `index` begins.
    pub fn begin(&self, index: u64) -> u64 {
        self.origin + index * (self.side + self.gutter)
    }

    /// Where the last card ends.
    pub fn end(&self) -> u64 {
        self.origin + self.taken()
    }

    /// The same paper counted from its other end.
    pub fn mirrored(&self) -> Self {
        Axis { origin: self.paper - self.end(), ..*self }
    }
}

impl Grid {
    /// Upright or turned, whichever holds more; `None` where not a single card fits.
    pub fn best(card: Dimensions, paper: Dimensions, imposition: &Imposition) -> Option<Self> {
        let grid = |width, height, turned| Grid {
            across: Axis::fill(paper.width, width, imposition),
            down: Axis::fill(paper.height, height, imposition),
            turned,
        };
        let upright = grid(card.width, card.height, false);
        let turned = grid(card.height, card.width, true);
        let best = if turned.places() > upright.places() { turned } else { upright };
        (best.places() > 0).then_some(best)
    }

    /// How many cards it holds.
    pub fn places(&self) -> usize {
        usize::try_from(self.across.count * self.down.count).unwrap_or(usize::MAX)
    }

    /// The corner of place `index`, counted row by row.
    pub fn corner(&self, index: u64) -> Point {
        let (column, row) = (index % self.across.count, index / self.across.count);
        Point { x_pt: points(self.across.begin(column)), y_pt: points(self.down.begin(row)) }
    }

    /// All cards and the gutters between them, and `around` on every side as far as paper goes.
    pub fn area(&self, around: u64) -> Area {
        let before = |axis: &Axis| points(axis.origin.saturating_sub(around));
        let after = |axis: &Axis| points((axis.end() + around).min(axis.paper));
        Area {
            left_pt: before(&self.across),
            top_pt: before(&self.down),
            right_pt: after(&self.across),
            bottom_pt: after(&self.down),
        }
    }
}

/// Tenths of a micrometre in points of 1/72 in.
pub(super) fn points(tenths_um: u64) -> f32 {
    (tenths_um as f64 * 72.0 / 254_000.0) as f32
}
