//! Which rows go on which card.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use super::compose::{Job, Type};
use super::foot::{self, Number};
use super::rows::{self, Bounds, Break, Row};
use super::texts::Group;
use super::{head, page, share};
use crate::drawing::Card;
use crate::drawing::frame::Frame;
use crate::finding::Place;
use crate::typeset::Typesetter;

/// The rows of each card.
pub(super) type Breaks = Vec<Range<usize>>;

/// Everything measured at one scale.
pub(super) struct Layout {
    pub sizes: Type,
    pub rows: Vec<Row>,
    /// Lines that read best whole and had to wrap.
    pub wraps: u32,
    /// Whether it kept to its limits; else the last rows are missing.
    is_whole: bool,
    pub first_head: Frame,
    pub further_head: Frame,
    /// The heading each part has where it goes on from another card.
    pub continued: Vec<Frame>,
    /// The label each rounds group has where it goes on.
    pub continued_rounds: Vec<Frame>,
    /// Room for rows on the first card and on the others.
    room_pt: [f32; 2],
}

/// What a layout may come to that is of any use.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    pub wraps: u32,
    pub cards: usize,
}

impl Limits {
    pub const NONE: Limits = Limits { wraps: u32::MAX, cards: usize::MAX };

    /// What the rows may come to, with room for them on the first card and on the others.
    fn bounds(self, room_pt: [f32; 2]) -> Bounds {
        // A hair more, for sums of floats.
        let height_pt = 1.001 * (room_pt[0] + room_pt[1] * self.cards.saturating_sub(1) as f32);
        let is_none = self.cards == usize::MAX;
        Bounds { wraps: self.wraps, height_pt: if is_none { f32::INFINITY } else { height_pt } }
    }
}

/// What a break costs, against the squares of how full cards are in per mille.
fn cost(before: Break) -> u64 {
    match before {
        Break::Part | Break::Never => 0,
        Break::Set => 120_000,
        Break::InRounds => 4_000_000,
    }
}

/// What it costs beside that to leave one line of a part alone, on either side of the break.
const LONE_LINE: u64 = 120_000;

impl Layout {
    /// Lays out the whole session at `sizes`, as long as it may keep to `limits`. Giving up is
    /// proof that it does not: wraps are only ever counted up, and each row stands on some card.
    pub fn new(job: &Job, typesetter: &mut Typesetter, sizes: Type, limits: Limits) -> Self {
        let safe = job.stock.safe();
        let (width_pt, height_pt) = (safe.width_pt(), safe.height_pt());
        let body_pt = width_pt - share::room_pt(job, sizes);
        let first_head = head::first(job, typesetter, sizes, width_pt);
        let further_head = head::further(job, typesetter, sizes, width_pt);
        let mut room = |head: &Frame, this: usize| {
            let number = Number { this, all: 2 };
            let foot = foot::foot(job, typesetter, sizes, width_pt, number);
            height_pt - head.height_pt - foot.height_pt - 2.0 * page::edge_gap_pt(sizes)
        };
        let room_pt = [room(&first_head, 1), room(&further_head, 2)];
        let bounds = limits.bounds(room_pt);
        let body = rows::rows(job, typesetter, sizes, body_pt, bounds);
        let parts = job.texts.parts.iter();
        let continued = parts
            .map(|part| rows::continued_heading(job, typesetter, sizes, part, body_pt))
            .collect();
        let continued_rounds = rows::continued_labels(job, typesetter, sizes, body.grid);
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

    /// Height of rows `range` as the body of one card.
    fn height_pt(&self, range: Range<usize>) -> f32 {
        let rows_pt: f32 = range.clone().map(|row| self.with_gap_pt(range.start, row)).sum();
        self.repeated_pt(range.start) + rows_pt
    }

    /// Height of what is repeated above row `first`, with the gap below it.
    fn repeated_pt(&self, first: usize) -> f32 {
        let repeated = self.repeated(first);
        let below = self.rows.get(first).map(page::kind);
        let kinds: Vec<page::Kind> = repeated
            .iter()
            .enumerate()
            .map(|(index, (_, groups))| page::repeated_kind(index, groups))
            .chain(below)
            .collect();
        let gaps_pt: f32 =
            kinds.windows(2).map(|pair| page::gap_pt(pair[0], pair[1], self.sizes)).sum();
        gaps_pt + repeated.iter().map(|(frame, _)| frame.height_pt).sum::<f32>()
    }

    /// Height of row `index` with the gap above it, on a card that begins with row `first`.
    fn with_gap_pt(&self, first: usize, index: usize) -> f32 {
        let Some(row) = self.rows.get(index) else { return 0.0 };
        let above = index.checked_sub(1).filter(|above| *above >= first);
        let gap_pt = above
            .and_then(|above| self.rows.get(above))
            .map_or(0.0, |above| page::gap_pt(page::kind(above), page::kind(row), self.sizes));
        gap_pt + row.frame.height_pt
    }

    /// No scale beyond this multiple of the layout's own fits `cards` cards: rows grow at least
    /// as fast as the type in them, and head and foot do not shrink.
    pub fn most_growth(&self, cards: usize) -> f32 {
        let rows_pt: f32 = self.rows.iter().map(|row| row.frame.height_pt).sum();
        let room_pt = self.room_pt[0] + self.room_pt[1] * cards.saturating_sub(1) as f32;
        if rows_pt > 0.0 { room_pt / rows_pt } else { f32::INFINITY }
    }

    /// The fewest cards, and of those the best breaks; `None` where a row fits no card, or rows are
    /// missing.
    pub fn breaks(&self) -> Option<Breaks> {
        if !self.is_whole || self.room_pt.iter().any(|room| *room <= 0.0) {
            return None;
        }
        let count = self.rows.len();
        let whole = self.groups_that_fit();
        // best[i]: cards and cost of everything from row i on, and where the next card begins.
        let mut best: Vec<Option<(u32, u64, usize)>> = vec![None; count + 1];
        best[count] = Some((0, 0, count));
        for start in (0..count).rev() {
            let row = &self.rows[start];
            if row.before == Break::Never || self.is_inside(start, &whole) {
                continue;
            }
            let room_pt = self.room_pt[usize::from(start > 0)];
            let mut height_pt = self.repeated_pt(start);
            for end in start + 1..=count {
                height_pt += self.with_gap_pt(start, end - 1);
                if height_pt > room_pt {
                    break;
                }
                let Some((cards, rest, _)) = best[end] else { continue };
                let fill = (height_pt / room_pt * 1000.0) as u64;
                let before = self.break_cost(end);
                let candidate = (cards + 1, rest + fill * fill + before, end);
                let better = |old: (u32, u64, usize)| (candidate.0, candidate.1) < (old.0, old.1);
                if best[start].is_none_or(better) {
                    best[start] = Some(candidate);
                }
            }
        }
        let mut breaks = Vec::new();
        let mut start = 0;
        while start < count {
            let (_, _, end) = best[start]?;
            breaks.push(start..end);
            start = end;
        }
        (!breaks.is_empty()).then_some(breaks)
    }

    /// What it costs to go on to another card before row `index`; 0 at the end.
    fn break_cost(&self, index: usize) -> u64 {
        let Some(next) = self.rows.get(index) else { return 0 };
        if next.before == Break::Part {
            return 0;
        }
        let same_part = |row: &&Row| row.part == next.part && !row.is_heading;
        let above = self.rows[..index].iter().rev().take_while(same_part).count();
        let below = self.rows[index..].iter().take_while(same_part).count();
        let lone = u64::from(above == 1) + u64::from(below == 1);
        cost(next.before) + lone * LONE_LINE
    }

    /// The rounds groups that fit a card of their own; they are not broken.
    fn groups_that_fit(&self) -> HashSet<usize> {
        let mut ranges: HashMap<usize, Range<usize>> = HashMap::new();
        for (index, row) in self.rows.iter().enumerate() {
            for group in row.groups.iter() {
                ranges.entry(group.id).or_insert(index..index).end = index + 1;
            }
        }
        let fits = |range: &Range<usize>| self.height_pt(range.clone()) <= self.room_pt[1];
        ranges.into_iter().filter(|(_, range)| fits(range)).map(|(id, _)| id).collect()
    }

    /// Whether a break before row `index` would part one of the groups in `whole`.
    fn is_inside(&self, index: usize, whole: &HashSet<usize>) -> bool {
        let (Some(row), Some(above)) = (self.rows.get(index), self.rows.get(index.wrapping_sub(1)))
        else {
            return false;
        };
        row.groups.iter().any(|group| above.groups.contains(group) && whole.contains(&group.id))
    }

    /// Leaves out rows that fit no card, and tells where they were written.
    pub fn drop_what_does_not_fit(&mut self) -> Vec<Option<Place>> {
        let mut dropped = Vec::new();
        loop {
            let fits = |index: usize| {
                self.room_pt.iter().all(|room| self.height_pt(index..index + 1) <= *room)
            };
            let Some(index) = (0..self.rows.len()).find(|index| !fits(*index)) else { break };
            let row = self.rows.remove(index);
            dropped.push(row.place);
        }
        if self.breaks().is_none() {
            dropped.extend(self.rows.drain(..).map(|row| row.place));
        }
        dropped
    }

    /// The cards.
    pub fn cards(&self, job: &Job, typesetter: &mut Typesetter, breaks: &Breaks) -> Vec<Card> {
        let all = breaks.len();
        let card = |(index, range): (usize, &Range<usize>)| {
            let number = Number { this: index + 1, all };
            let width_pt = job.stock.safe().width_pt();
            let foot = foot::foot(job, typesetter, self.sizes, width_pt, number);
            page::card(job, self, range.clone(), foot, index > 0)
        };
        breaks.iter().enumerate().map(card).collect()
    }
}
