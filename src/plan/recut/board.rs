//! Everything a search chooses from: each line's choices, and what each part is wished to be.

use super::choices::{Choice, Chooser};
use super::desk::{Desk, is_held_line};
use super::wishes::{Cost, SHARE_FREE_PERMILLE, drift_mm};
use crate::check::{CheckedLine, CheckedPart, CheckedSession};
use crate::measure::TrueLength;
use crate::plan::bands::band;

/// How large the free lines of a recut are wished to be, against what they were.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Scale {
    pub now: u128,
    pub was: u128,
}

impl Scale {
    pub const ONE: Scale = Scale { now: 1, was: 1 };

    fn of(self, own: TrueLength) -> TrueLength {
        let was = self.was.max(1);
        let scaled = (2 * u128::from(own.grid()) * self.now + was) / (2 * was);
        TrueLength::from_grid(u64::try_from(scaled).unwrap_or(u64::MAX))
    }
}

/// The lines of a session with their choices.
#[derive(Clone, Debug)]
pub(super) struct Board {
    pub parts: Vec<PartBoard>,
    /// One length of the pool.
    pub length_grid: u64,
    /// The whole session as written.
    own_grid: u64,
}

/// A part's lines, and its wishes.
#[derive(Clone, Debug)]
pub(super) struct PartBoard {
    pub lines: Vec<LineBoard>,
    own_grid: u64,
    wish: TrueLength,
    /// The band its share keeps to, in per cent, where it was inside it.
    band: Option<(u64, u64)>,
}

/// A line's choices.
#[derive(Clone, Debug)]
pub(super) struct LineBoard {
    pub choices: Vec<Choice>,
    /// Whether the swimmers were back at the wall of the session's start after it.
    pub home: bool,
}

/// The written lengths that may change, and those that may not as they are in the new pool.
pub(super) fn free_and_held(desk: Desk<'_>) -> (u64, u64) {
    let chooser = Chooser { desk, breadth: 0 };
    let (mut free, mut held) = (0, 0);
    for line in desk.written.lines() {
        let own = desk.own_length(line);
        if is_held_line(line) {
            held += chooser.line(line, own).first().map_or(0, |only| u64::from(only.lengths))
                * desk.true_length(1).grid();
        } else {
            free += own.grid();
        }
    }
    (free, held)
}

impl Board {
    /// The board of a session whose free lines are wished `scale` times as long.
    pub fn new(desk: Desk<'_>, scale: Scale, breadth: u32) -> Board {
        let chooser = Chooser { desk, breadth };
        let mut so_far: u32 = 0;
        let own = |part: &CheckedPart| -> u64 {
            part.lines.iter().map(|line| desk.own_length(line).grid()).sum()
        };
        let own_grid = desk.written.parts.iter().map(own).sum();
        let parts = desk.written.parts.iter().map(|part| {
            let mut wish_grid: u64 = 0;
            let lines = part.lines.iter().map(|line| {
                so_far = so_far.saturating_add(line.lengths());
                let wish = wish(chooser, line, scale);
                wish_grid = wish_grid.saturating_add(wish.grid());
                LineBoard { choices: chooser.line(line, wish), home: so_far.is_multiple_of(2) }
            });
            let lines = lines.collect();
            PartBoard {
                lines,
                own_grid: own(part),
                wish: TrueLength::from_grid(wish_grid),
                band: kept_band(desk.written, part, own(part), own_grid),
            }
        });
        Board { parts: parts.collect(), length_grid: desk.true_length(1).grid(), own_grid }
    }

    /// What a part of `lengths` costs in a session of `whole` lengths.
    pub fn part_cost(&self, part: &PartBoard, lengths: u32, whole: u32) -> Cost {
        let (lengths, whole) = (u128::from(lengths), u128::from(whole.max(1)));
        let (own, own_whole) = (u128::from(part.own_grid), u128::from(self.own_grid.max(1)));
        let moved = (lengths * own_whole).abs_diff(own * whole) * 1000 / (whole * own_whole);
        let mut breach = moved.saturating_sub(u128::from(SHARE_FREE_PERMILLE));
        if let Some((least, most)) = part.band {
            let (least, most) = (u128::from(least) * 10, u128::from(most) * 10);
            breach += (least * whole).saturating_sub(lengths * 1000).div_ceil(whole);
            breach += (lengths * 1000).saturating_sub(most * whole).div_ceil(whole);
        }
        let now = u64::try_from(lengths).unwrap_or(u64::MAX).saturating_mul(self.length_grid);
        Cost {
            share_permille: u32::try_from(breach).unwrap_or(u32::MAX),
            drift_mm: drift_mm(TrueLength::from_grid(now), part.wish),
            ..Cost::default()
        }
    }

    /// The fewest walls that lines by themselves break.
    pub fn fewest_walls(&self) -> u32 {
        let lines = self.parts.iter().flat_map(|part| &part.lines);
        lines.filter_map(|line| line.choices.iter().map(|choice| choice.cost.walls).min()).sum()
    }

    /// The fewest and the most lengths there are to choose.
    pub fn span(&self) -> (u32, u32) {
        let lines = || self.parts.iter().flat_map(|part| &part.lines);
        let of = |line: &LineBoard| lengths_span(&line.choices);
        lines().fold((0, 0), |(low, high), line| {
            let (least, most) = of(line);
            (low + least, u32::saturating_add(high, most))
        })
    }
}

fn lengths_span(choices: &[Choice]) -> (u32, u32) {
    let lengths = || choices.iter().map(|choice| choice.lengths);
    (lengths().min().unwrap_or(0), lengths().max().unwrap_or(0))
}

/// A free line is wished to its scale; a held one is what it is.
fn wish(chooser: Chooser<'_>, line: &CheckedLine, scale: Scale) -> TrueLength {
    let own = chooser.desk.own_length(line);
    if is_held_line(line) {
        let lengths = chooser.line(line, own).first().map_or(0, |only| only.lengths);
        return chooser.desk.true_length(lengths);
    }
    scale.of(own)
}

/// The band of a part that stood alone of its kind and inside it.
fn kept_band(
    session: &CheckedSession,
    part: &CheckedPart,
    own: u64,
    whole: u64,
) -> Option<(u64, u64)> {
    let kind = part.kind.value;
    let alone = session.parts.iter().filter(|other| other.kind.value == kind).count() == 1;
    let band = band(session, kind).filter(|_| alone)?;
    let (least, most) = (u64::from(band.least), u64::from(band.most));
    let share = u128::from(own) * 100;
    let inside = u128::from(least) * u128::from(whole) <= share
        && share <= u128::from(most) * u128::from(whole);
    inside.then_some((least, most))
}
