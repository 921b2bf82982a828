//! Which rows go on which card.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use super::layout::Layout;
use super::layout::rows::{Break, Row};
use super::spacing::{self, Kind};
use crate::finding::Place;

/// The rows of each card.
pub(super) type Breaks = Vec<Range<usize>>;

/// What a break costs, against the squares of how full cards are in per mille.
fn cost(before: Break) -> u64 {
    match before {
        Break::Part | Break::Never => 0,
        Break::Set => 120_000,
        Break::InRounds => 4_000_000,
    }
}

/// What it costs besides to leave one line of a part alone, on either side of the break.
const LONE_LINE: u64 = 120_000;

impl Layout {
    /// Height of rows `range` as the body of one card.
    fn height_pt(&self, range: Range<usize>) -> f32 {
        let rows_pt: f32 = range.clone().map(|row| self.with_gap_pt(range.start, row)).sum();
        self.repeated_pt(range.start) + rows_pt
    }

    /// Height of what is repeated above row `first`, with the gap below it.
    fn repeated_pt(&self, first: usize) -> f32 {
        let repeated = self.repeated(first);
        let below = self.rows.get(first).map(spacing::kind);
        let kinds: Vec<Kind> = repeated
            .iter()
            .enumerate()
            .map(|(index, (_, groups))| spacing::repeated_kind(index, groups))
            .chain(below)
            .collect();
        let gaps_pt: f32 =
            kinds.windows(2).map(|pair| spacing::gap_pt(pair[0], pair[1], self.sizes)).sum();
        gaps_pt + repeated.iter().map(|(frame, _)| frame.height_pt).sum::<f32>()
    }

    /// Height of row `index` with the gap above it, on a card that begins with row `first`.
    fn with_gap_pt(&self, first: usize, index: usize) -> f32 {
        let Some(row) = self.rows.get(index) else { return 0.0 };
        let above = index.checked_sub(1).filter(|above| *above >= first);
        let gap_pt = above.and_then(|above| self.rows.get(above)).map_or(0.0, |above| {
            spacing::gap_pt(spacing::kind(above), spacing::kind(row), self.sizes)
        });
        gap_pt + row.frame.height_pt
    }

    /// The fewest cards, and of those the best breaks; `None` where a row fits no card, or rows are
    /// missing.
    pub fn breaks(&self) -> Option<Breaks> {
        if !self.is_whole || self.room_pt.iter().any(|room| *room <= 0.0) {
            return None;
        }
        let count = self.rows.len();
        let whole = self.groups_that_fit();
        // Each row's height below another, and what it costs to begin a card with it, once.
        let below_pt: Vec<f32> = (0..count).map(|row| self.with_gap_pt(0, row)).collect();
        let costs: Vec<u64> = (0..=count).map(|row| self.break_cost(row)).collect();
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
                let is_first = end == start + 1;
                height_pt +=
                    if is_first { self.with_gap_pt(start, start) } else { below_pt[end - 1] };
                if height_pt > room_pt {
                    break;
                }
                let Some((cards, rest, _)) = best[end] else { continue };
                let fill = (height_pt / room_pt * 1000.0) as u64;
                let before = costs[end];
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
        let above = self.rows[..index].iter().rev().take_while(same_part).take(2).count();
        let below = self.rows[index..].iter().take_while(same_part).take(2).count();
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

    /// Whether a break before row `index` would split one of the groups in `whole`.
    fn is_inside(&self, index: usize, whole: &HashSet<usize>) -> bool {
        let (Some(row), Some(above)) = (self.rows.get(index), self.rows.get(index.wrapping_sub(1)))
        else {
            return false;
        };
        row.groups.iter().any(|group| above.groups.contains(group) && whole.contains(&group.id))
    }

    /// Leaves out rows that fit no card, and returns where they were written.
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
        while self.breaks().is_none() && !self.rows.is_empty() {
            let run = self.too_tall_together().unwrap_or(0..self.rows.len());
            let last = self.rows.drain(run).next_back();
            dropped.extend(last.map(|row| row.place));
        }
        dropped
    }

    /// The first run of rows that belong on one card, a heading and its first set say, and do not
    /// fit one together.
    fn too_tall_together(&self) -> Option<Range<usize>> {
        let starts = (0..self.rows.len()).filter(|row| self.rows[*row].before != Break::Never);
        let mut runs = starts.map(|start| {
            let joined = self.rows[start + 1..].iter().take_while(|row| row.before == Break::Never);
            start..start + 1 + joined.count()
        });
        runs.find(|run| self.room_pt.iter().any(|room| self.height_pt(run.clone()) > *room))
    }
}
