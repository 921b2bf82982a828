//! One session laid out at one size of type: heads, rows and repeated labels, not yet on cards.

pub(super) mod columns;
mod details;
pub(super) mod foot;
mod head;
mod rest;
pub(super) mod rows;
mod set;
pub(super) mod share;

use super::job::Job;
use super::sizes::Sizes;
use super::spacing::edge_gap_pt;
use super::texts::Group;
use super::texts::foot::Number;
use crate::drawing::frame::Frame;
use crate::typeset::Typesetter;
use rows::{Bounds, Break, Row};

/// Everything measured at one scale.
pub(super) struct Layout {
    pub sizes: Sizes,
    pub rows: Vec<Row>,
    /// Lines that read best whole and had to wrap.
    pub wraps: u32,
    /// Whether it kept to its limits; else the last rows are missing.
    pub is_whole: bool,
    pub first_head: Frame,
    pub further_head: Frame,
    /// The heading each part has where it goes on from another card.
    pub continued: Vec<Frame>,
    /// The label each rounds group has where it goes on.
    pub continued_rounds: Vec<Frame>,
    /// Room for rows on the first card and on the others.
    pub room_pt: [f32; 2],
}

/// The most that a layout may take to be of any use.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    pub wraps: u32,
    pub cards: usize,
}

impl Limits {
    pub const NONE: Limits = Limits { wraps: u32::MAX, cards: usize::MAX };

    /// The most the rows may take, with room for them on the first card and on the others.
    fn bounds(self, room_pt: [f32; 2]) -> Bounds {
        // A little more, because sums of floats differ in their last digit.
        let height_pt = 1.001 * (room_pt[0] + room_pt[1] * self.cards.saturating_sub(1) as f32);
        let is_none = self.cards == usize::MAX;
        Bounds { wraps: self.wraps, height_pt: if is_none { f32::INFINITY } else { height_pt } }
    }
}

impl Layout {
    /// Lays out the whole session at `sizes`, as long as it may keep to `limits`. Giving up is
    /// proof that it does not: wraps are only ever counted up, and each row is on some card.
    pub fn new(job: &Job, typesetter: &mut Typesetter, sizes: Sizes, limits: Limits) -> Self {
        let safe = job.stock.safe();
        let (width_pt, height_pt) = (safe.width_pt(), safe.height_pt());
        let body_pt = width_pt - share::room_pt(job, sizes);
        let first_head = head::first(job, typesetter, sizes, width_pt);
        let further_head = head::further(job, typesetter, sizes, width_pt);
        let mut room = |head: &Frame, this: usize| {
            let number = Number { this, all: 2 };
            let foot = foot::foot(job, typesetter, sizes, width_pt, number);
            height_pt - head.height_pt - foot.height_pt - 2.0 * edge_gap_pt(sizes)
        };
        let room_pt = [room(&first_head, 1), room(&further_head, 2)];
        let bounds = limits.bounds(room_pt);
        let body = rows::rows(job, typesetter, sizes, body_pt, bounds);
        let parts = job.texts.parts.iter();
        let continued = parts
            .map(|part| rows::continued_heading(job, typesetter, sizes, part, body_pt))
            .collect();
        let continued_rounds = rows::continued_labels(job, typesetter, sizes, body.columns);
        Layout {
            sizes,
            rows: body.rows,
            wraps: body.wraps,
            is_whole: body.is_whole,
            first_head,
            further_head,
            continued,
            continued_rounds,
            room_pt,
        }
    }

    /// Frames repeated at the top of a card whose first row is `first`.
    pub fn repeated(&self, first: usize) -> Vec<(&Frame, &[Group])> {
        let Some(row) = self.rows.get(first).filter(|row| row.before != Break::Part) else {
            return Vec::new();
        };
        let mut repeated = Vec::new();
        repeated.extend(self.continued.get(row.part).map(|frame| (frame, [].as_slice())));
        // A row that opens a group has its label already.
        let opened = self.opens_group(first);
        for depth in 1..=row.groups.len().saturating_sub(usize::from(opened)) {
            let groups = &row.groups[..depth];
            let label = groups.last().and_then(|group| self.continued_rounds.get(group.id));
            repeated.extend(label.map(|frame| (frame, groups)));
        }
        repeated
    }

    fn opens_group(&self, index: usize) -> bool {
        let last = |row: &Row| row.groups.last().map(|group| group.id);
        let own = self.rows.get(index).and_then(last);
        let earlier = self.rows[..index]
            .iter()
            .any(|row| own.is_some() && row.groups.iter().any(|group| Some(group.id) == own));
        own.is_some() && !earlier
    }

    /// No scale beyond this multiple of the layout's own fits `cards` cards: rows grow at least
    /// as fast as the type in them, and head and foot do not shrink.
    pub fn most_growth(&self, cards: usize) -> f32 {
        let rows_pt: f32 = self.rows.iter().map(|row| row.frame.height_pt).sum();
        let room_pt = self.room_pt[0] + self.room_pt[1] * cards.saturating_sub(1) as f32;
        if rows_pt > 0.0 { room_pt / rows_pt } else { f32::INFINITY }
    }
}
