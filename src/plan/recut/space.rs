//! The space that is searched: each line's choices, and what each part is wished to be.

use super::choices::{Choice, Chooser};
use super::transfer::Transfer;
use super::wishes::{Cost, SHARE_FREE_PERMILLE, drift_mm};
use crate::check::{CheckedLine, CheckedPart, CheckedSession};
use crate::measure::TrueLength;
use crate::plan::bands::{band, holds};
use crate::session::words::PartKind;

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
pub(super) struct Space {
    pub parts: Vec<PartSpace>,
    /// One length of the pool.
    pub length_grid: u64,
    /// The whole session as written.
    own_grid: u64,
    /// Lanes of the session: for each there is such a search.
    pub lanes: u64,
}

/// A part's lines, and its wishes.
#[derive(Clone, Debug)]
pub(super) struct PartSpace {
    pub lines: Vec<LineSpace>,
    /// Its length as written, or what its share is drawn to.
    own_grid: u64,
    wish: TrueLength,
    /// The band its share keeps to, in per cent: where it was inside it, or is drawn there.
    band: Option<(u64, u64)>,
    /// Whether the band alone says what share it may have.
    drawn_in: bool,
}

/// A line's choices.
#[derive(Clone, Debug)]
pub(super) struct LineSpace {
    pub choices: Vec<Choice>,
    /// Whether the swimmers were back at the wall of the session's start after it.
    pub home: bool,
}

/// The written lengths that may change, and those that may not as they are in the new pool.
pub(super) fn free_and_held(transfer: Transfer<'_>) -> (u64, u64) {
    let chooser = Chooser { transfer, breadth: 0 };
    let (mut free, mut held) = (0, 0);
    for line in transfer.written.lines() {
        let own = transfer.own_length(line);
        if transfer.holds_line(line) {
            held += chooser.line(line, own).first().map_or(0, |only| u64::from(only.lengths))
                * transfer.true_length(1).grid();
        } else {
            free += own.grid();
        }
    }
    (free, held)
}

impl Space {
    /// The space of a session whose free lines are wished `scale` times as long.
    pub fn new(transfer: Transfer<'_>, scale: Scale, breadth: u32) -> Space {
        let chooser = Chooser { transfer, breadth };
        let mut so_far: u32 = 0;
        let own: Vec<u64> =
            transfer.written.parts.iter().map(|part| own_grid(transfer, part)).collect();
        let whole = own.iter().sum();
        let drawn = if transfer.into_bands { drawn_in(transfer.written, &own) } else { own };
        let wishes = Wishes::new(chooser, scale, transfer.into_bands.then_some(drawn.as_slice()));
        let parts =
            transfer.written.parts.iter().zip(drawn).enumerate().map(|(at, (part, own))| {
                let mut wish_grid: u64 = 0;
                let lines = part.lines.iter().map(|line| {
                    so_far = so_far.saturating_add(line.lengths());
                    let wish = wishes.of(at, line);
                    wish_grid = wish_grid.saturating_add(wish.grid());
                    LineSpace { choices: chooser.line(line, wish), home: so_far.is_multiple_of(2) }
                });
                let lines = lines.collect();
                PartSpace {
                    lines,
                    own_grid: own,
                    wish: TrueLength::from_grid(wish_grid),
                    band: kept_band(transfer, part, own, whole),
                    drawn_in: transfer.into_bands,
                }
            });
        let parts = parts.collect();
        let lanes = transfer.written.lanes.len() as u64;
        Space { parts, length_grid: transfer.true_length(1).grid(), own_grid: whole, lanes }
    }

    /// What a part of `lengths` costs in a session of `whole` lengths.
    pub fn part_cost(&self, part: &PartSpace, lengths: u32, whole: u32) -> Cost {
        let (lengths, whole) = (u128::from(lengths), u128::from(whole.max(1)));
        let (own, own_whole) = (u128::from(part.own_grid), u128::from(self.own_grid.max(1)));
        let moved = (lengths * own_whole).abs_diff(own * whole) * 1000 / (whole * own_whole);
        let mut breach = moved.saturating_sub(u128::from(SHARE_FREE_PERMILLE));
        if let Some((least, most)) = part.band {
            // Drawn into a band, a share may move as far as that takes.
            breach = if part.drawn_in { 0 } else { breach };
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
        let of = |line: &LineSpace| lengths_span(&line.choices);
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

/// A part as written.
fn own_grid(transfer: Transfer<'_>, part: &CheckedPart) -> u64 {
    part.lines.iter().map(|line| transfer.own_length(line).grid()).sum()
}

/// How long each line is wished to be.
struct Wishes<'a> {
    chooser: Chooser<'a>,
    /// For each part, the scale of its free lines.
    scales: Vec<Scale>,
}

impl<'a> Wishes<'a> {
    /// All free lines to one scale; or each part's so that it takes its share of the same
    /// whole, the parts' lengths in the ratio of `drawn`.
    fn new(chooser: Chooser<'a>, scale: Scale, drawn: Option<&[u64]>) -> Self {
        let parts = &chooser.transfer.written.parts;
        let alike = Self { chooser, scales: vec![scale; parts.len()] };
        let Some(drawn) = drawn else { return alike };
        let sum = |at: usize, part: &CheckedPart, held: bool| -> u64 {
            let lines = part.lines.iter().filter(|line| chooser.transfer.holds_line(line) == held);
            lines.map(|line| alike.of(at, line).grid()).sum()
        };
        let parts = || parts.iter().enumerate();
        let wished = parts().map(|(at, part)| sum(at, part, true) + sum(at, part, false));
        let whole = u128::from(wished.sum::<u64>());
        let all_drawn = u128::from(drawn.iter().sum::<u64>().max(1));
        let scales = parts().zip(drawn).map(|((at, part), drawn)| {
            let wish = whole * u128::from(*drawn) / all_drawn;
            let free = part.lines.iter().filter(|line| !chooser.transfer.holds_line(line));
            let free: u64 = free.map(|line| chooser.transfer.own_length(line).grid()).sum();
            Scale {
                now: wish.saturating_sub(u128::from(sum(at, part, true))),
                was: u128::from(free),
            }
        });
        Self { chooser, scales: scales.collect() }
    }

    /// A free line is wished to its scale; a held one is what it is.
    fn of(&self, part: usize, line: &CheckedLine) -> TrueLength {
        let transfer = self.chooser.transfer;
        let own = transfer.own_length(line);
        if transfer.holds_line(line) {
            let lengths = self.chooser.line(line, own).first().map_or(0, |only| only.lengths);
            return transfer.true_length(lengths);
        }
        self.scales.get(part).map_or(own, |scale| scale.of(own))
    }
}

/// The parts' lengths with the share of each kind inside its band, if all can be; the main
/// set first takes what the others leave. Together they are what they were.
fn drawn_in(session: &CheckedSession, own: &[u64]) -> Vec<u64> {
    let whole: u64 = own.iter().sum();
    let percent = |percent: u32| u128::from(whole) * u128::from(percent) / 100;
    let mut kinds: Vec<Kind> = Vec::new();
    for (part, own) in session.parts.iter().zip(own) {
        let kind = part.kind.value;
        match kinds.iter_mut().find(|known| known.kind == kind) {
            Some(known) => known.own += u128::from(*own),
            None => kinds.push(Kind { kind, own: u128::from(*own), allowed: (0, 0), now: 0 }),
        }
    }
    for kind in &mut kinds {
        let band = band(session, kind.kind);
        kind.allowed =
            band.map_or((kind.own, kind.own), |band| (percent(band.least), percent(band.most)));
        kind.now = kind.own.clamp(kind.allowed.0, kind.allowed.1.max(kind.allowed.0));
    }
    kinds.sort_by_key(|kind| (kind.kind != PartKind::MainSet, u128::MAX - kind.own));
    let mut left: i128 =
        i128::from(whole) - kinds.iter().map(|kind| kind.now as i128).sum::<i128>();
    for kind in &mut kinds {
        let now = kind.now as i128;
        let new =
            (now + left).clamp(kind.allowed.0 as i128, kind.allowed.1.max(kind.allowed.0) as i128);
        left -= new - now;
        kind.now = u128::try_from(new).unwrap_or(0);
    }
    let drawn = session.parts.iter().zip(own).map(|(part, own)| {
        let kind = kinds.iter().find(|kind| kind.kind == part.kind.value);
        let drawn = kind.map(|kind| u128::from(*own) * kind.now / kind.own.max(1));
        drawn.and_then(|drawn| u64::try_from(drawn).ok()).unwrap_or(*own)
    });
    drawn.collect()
}

/// All parts of one kind, on the grid of true lengths.
struct Kind {
    kind: PartKind,
    own: u128,
    /// The least and the most of its band.
    allowed: (u128, u128),
    now: u128,
}

/// The band of a part that was alone of its kind and inside it, or is to be drawn there.
fn kept_band(
    transfer: Transfer<'_>,
    part: &CheckedPart,
    own: u64,
    whole: u64,
) -> Option<(u64, u64)> {
    let session = transfer.written;
    let kind = part.kind.value;
    let alone = session.parts.iter().filter(|other| other.kind.value == kind).count() == 1;
    let band = band(session, kind).filter(|_| alone)?;
    let (least, most) = (u64::from(band.least), u64::from(band.most));
    (holds(band, own, whole) || transfer.into_bands).then_some((least, most))
}
