//! Backs: what lies behind what when the paper is turned over.

use std::sync::Arc;

use super::grid::Grid;
use super::paper::{Dimensions, Edge};
use super::{Faces, Turn};
use crate::drawing::Card;

impl Edge {
    /// The grid as it lies behind `grid`, counted on the back.
    pub(super) fn grid(self, grid: &Grid) -> Grid {
        match self {
            Edge::Long => Grid { across: grid.across.mirrored(), ..*grid },
            Edge::Short => Grid { down: grid.down.mirrored(), ..*grid },
        }
    }

    /// The place on the back that lies behind place `index`.
    pub(super) fn place(self, grid: &Grid, index: u64) -> u64 {
        let (columns, rows) = (grid.across.count, grid.down.count);
        let (column, row) = (index % columns, index / columns);
        match self {
            Edge::Long => row * columns + (columns - 1 - column),
            Edge::Short => (rows - 1 - row) * columns + column,
        }
    }

    /// The turn on the back whose top lies behind the top of `front`.
    pub(super) fn turn(self, front: Turn) -> Turn {
        match (self, front) {
            (Edge::Long, Turn::Quarter) => Turn::ThreeQuarters,
            (Edge::Long, Turn::ThreeQuarters) => Turn::Quarter,
            (Edge::Short, Turn::None) => Turn::Half,
            (Edge::Short, Turn::Half) => Turn::None,
            (_, same) => same,
        }
    }
}

/// The cards of one plan with those of the same plan in another pool behind them.
///
/// Where one version takes more cards than the other, the cards without a partner keep their
/// place in the order and get a blank back, whichever version they are of.
pub fn pair(fronts: Vec<Card>, backs: Vec<Card>, size: Dimensions) -> Vec<Faces> {
    let mut backs = backs.into_iter().map(Arc::new);
    let mut faces: Vec<Faces> = fronts
        .into_iter()
        .map(|front| Faces { size, front: Arc::new(front), back: backs.next() })
        .collect();
    faces.extend(backs.map(|front| Faces { size, front, back: None }));
    faces
}
