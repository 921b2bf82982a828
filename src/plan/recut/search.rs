//! The search: a dynamic programme over lines and lengths, and seconds where time counts.
//!
//! Lines are put together into parts and parts into the session by the same step: of all
//! ways to reach a number of lengths (and a time), the cheapest is kept. A part is judged
//! by its share when it is whole, so the step over parts is done for each total that may
//! win.

mod step;

use super::board::{Board, PartBoard};
use super::choices::Choice;
use super::wishes::{Cost, IDLE_FREE_S};
use step::{ANY_ROOM, Clock, Item, Need, Reach, Room, START, TooMany, rooms_after_each, step};

/// What the search is to find.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    /// A total as near as can be to this true length.
    Near {
        /// On the grid of true lengths.
        grid: u64,
    },
    /// Exactly so many lengths in at most this time, and little of it left unused.
    Within {
        /// The lengths.
        lengths: u32,
        /// Time for the lines, without changeovers.
        seconds: u32,
    },
}

/// The best there is: for each line in order, which of its choices.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Found {
    pub picks: Vec<usize>,
    pub lengths: u32,
    pub seconds: u32,
    pub cost: Cost,
}

/// Ways looked at before times are told apart less finely; sessions of any usual size
/// stay far below it and are searched to the second.
const MOST_WAYS: u64 = 12_000_000;

/// The best choices for `aim`; `None` when none keeps to it.
pub(super) fn best(board: &Board, aim: Aim) -> Option<Found> {
    match aim {
        Aim::Near { grid } => near(board, grid),
        Aim::Within { lengths, seconds } => {
            let mut grain_s = first_grain_s(board);
            loop {
                let mut clock = Clock { grain_s: Some(grain_s), ways_left: MOST_WAYS };
                match within(board, lengths, seconds, &mut clock) {
                    Ok(found) => return found,
                    // Times are only told apart less finely: each way keeps its exact
                    // time, so that the limit is never passed.
                    Err(TooMany) if grain_s < COARSEST_GRAIN_S => grain_s *= GRAIN_STEP,
                    Err(TooMany) => return None,
                }
            }
        }
    }
}

/// From one grain to the next that is tried.
const GRAIN_STEP: u32 = 8;

/// So coarse that ways of equal lengths are not told apart at all.
const COARSEST_GRAIN_S: u32 = 1 << 18;

/// The finest grain at which the search is worth trying: a second, but for sessions that
/// would have far too many ways at it.
fn first_grain_s(board: &Board) -> u32 {
    if ways_at(board, 1) <= 2 * MOST_WAYS {
        return 1;
    }
    // Where it cannot be exact it is to be quick.
    let mut grain_s = GRAIN_STEP;
    while grain_s < COARSEST_GRAIN_S && ways_at(board, grain_s) > MOST_WAYS / 10 {
        grain_s *= GRAIN_STEP;
    }
    grain_s
}

/// About how many ways the lines of the largest part have, told apart at `grain_s`.
fn ways_at(board: &Board, grain_s: u32) -> u64 {
    let of_part = |part: &PartBoard| {
        let (mut states, mut ways, mut rows, mut columns) = (1_u64, 0_u64, 1_u64, 1_u64);
        for line in &part.lines {
            let span = |of: fn(&Choice) -> u32| {
                let all = || line.choices.iter().map(of);
                u64::from(all().max().unwrap_or(0) - all().min().unwrap_or(0))
            };
            rows += span(|choice| choice.lengths) / 2;
            columns += span(|choice| choice.seconds);
            let choices = line.choices.len() as u64;
            ways = ways.saturating_add(states.saturating_mul(choices));
            // Time goes with length, so that a good part of the cells stays empty.
            let cells = rows.saturating_mul(columns / u64::from(grain_s) + 1) / 4 + 1;
            states = states.saturating_mul(choices).min(cells);
        }
        ways
    };
    board.parts.iter().map(of_part).max().unwrap_or(0)
}

/// Every line's first choice, for want of anything better.
pub(super) fn first_of(board: &Board) -> Found {
    let lines = || board.parts.iter().flat_map(|part| &part.lines);
    let firsts = || lines().filter_map(|line| line.choices.first());
    Found {
        picks: lines().map(|_| 0).collect(),
        lengths: firsts().map(|choice| choice.lengths).fold(0, u32::saturating_add),
        seconds: firsts().map(|choice| choice.seconds).fold(0, u32::saturating_add),
        cost: Cost::default(),
    }
}

fn near(board: &Board, grid: u64) -> Option<Found> {
    let mut clock = Clock { grain_s: None, ways_left: u64::MAX };
    let parts = Parts::new(board, ANY_ROOM, &mut clock).ok()?;
    let total_cost = |lengths: u32| {
        let off = (u64::from(lengths) * board.length_grid).abs_diff(grid);
        let miss = off.saturating_sub(board.length_grid);
        Cost { miss, off, ..Cost::default() }
    };
    // Which totals can be reached does not hang on the shares; the first two wishes say
    // which of them may win.
    let nominal = u32::try_from(grid / board.length_grid).unwrap_or(u32::MAX);
    let (_, last) = parts.join(board, nominal, ANY_ROOM, &mut clock).ok()?;
    let rank = |reach: &Reach| (reach.cost.walls, total_cost(reach.lengths).miss);
    let first = last.iter().map(rank).min()?;
    let totals = last.iter().filter(|reach| rank(reach) == first).map(|reach| reach.lengths);
    let founds = totals.filter_map(|total| {
        let (layers, last) = parts.join(board, total, ANY_ROOM, &mut clock).ok()?;
        let at = last.iter().position(|reach| reach.lengths == total)?;
        parts.found(&layers, &last, at, total_cost(total))
    });
    founds.min_by_key(|found| (found.cost, found.lengths))
}

fn within(
    board: &Board,
    lengths: u32,
    seconds: u32,
    clock: &mut Clock,
) -> Result<Option<Found>, TooMany> {
    let room = Room { least_lengths: lengths, most_lengths: lengths, most_seconds: seconds };
    let parts = Parts::new(board, room, clock)?;
    let (layers, last) = parts.join(board, lengths, room, clock)?;
    let idle = |reach: &Reach| Cost {
        idle_s: seconds.saturating_sub(reach.seconds).saturating_sub(IDLE_FREE_S),
        ..Cost::default()
    };
    let best = last
        .iter()
        .enumerate()
        .min_by_key(|(_, reach)| (reach.cost.plus(idle(reach)), u32::MAX - reach.seconds));
    Ok(best.and_then(|(at, reach)| parts.found(&layers, &last, at, idle(reach))))
}

/// The walls broken and the time of the quickest way to swim exactly `lengths`, or of the
/// slowest; of those that break the fewest walls.
pub(super) fn time_span(board: &Board, lengths: u32, end: End) -> Option<(u32, u32)> {
    let mut states = vec![START];
    let mut clock = Clock { grain_s: None, ways_left: u64::MAX };
    let whole = Room { least_lengths: lengths, most_lengths: lengths, ..ANY_ROOM };
    let lines = board.parts.iter().flat_map(|part| &part.lines);
    for (line, room) in lines.zip(rooms_of_lines(board, whole)) {
        let by_time = |choice: &Choice| {
            let time = match end {
                End::Quickest => choice.seconds,
                End::Slowest => u32::MAX - choice.seconds,
            };
            let cost =
                Cost { walls: choice.cost.walls, drift_mm: u64::from(time), ..Cost::default() };
            Item { cost, ..Item::of(choice) }
        };
        let items: Vec<Item> = line.choices.iter().map(by_time).collect();
        let home = line.home;
        states =
            step(&states, [&items, &items], room, &mut clock, |total| wall(home, total)).ok()?;
    }
    states.first().map(|reach| (reach.cost.walls, reach.seconds))
}

/// An end of a span of times.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    Quickest,
    Slowest,
}

/// One more wall broken where the swimmers were home and no longer are.
fn wall(home: bool, total: u32) -> u32 {
    u32::from(home && total % 2 == 1)
}

/// The room after each line of the whole board.
fn rooms_of_lines(board: &Board, whole: Room) -> Vec<Room> {
    let lines = board.parts.iter().flat_map(|part| &part.lines);
    let needs: Vec<Need> = lines.map(|line| Need::of(line.choices.iter().map(Item::of))).collect();
    rooms_after_each(&needs, whole)
}

/// Every part with all it may come to, for an even and for an odd start.
struct Parts<'a> {
    boards: &'a [PartBoard],
    /// For each part: the layers of its lines, by the parity at its start.
    layers: Vec<[Vec<Vec<Reach>>; 2]>,
}

impl<'a> Parts<'a> {
    fn new(board: &'a Board, room: Room, clock: &mut Clock) -> Result<Self, TooMany> {
        let odd = board
            .parts
            .iter()
            .flat_map(|part| &part.lines)
            .any(|line| line.choices.iter().any(|choice| choice.lengths % 2 == 1));
        let needs: Vec<Need> = board.parts.iter().map(part_need).collect();
        let mut layers = Vec::new();
        for (at, part) in board.parts.iter().enumerate() {
            let others = needs.iter().enumerate().filter(|(other, _)| *other != at);
            let room = others.fold(room, |room, (_, need)| room.before(*need));
            let even = part_layers(part, 0, room, clock)?;
            let odd = if odd { part_layers(part, 1, room, clock)? } else { Vec::new() };
            layers.push([even, odd]);
        }
        Ok(Self { boards: &board.parts, layers })
    }

    /// Joins the parts to a session of `whole` lengths: the layers, and the last of them.
    fn join(
        &self,
        board: &Board,
        whole: u32,
        room: Room,
        clock: &mut Clock,
    ) -> Result<(Vec<Vec<Reach>>, Vec<Reach>), TooMany> {
        let needs: Vec<Need> = self.boards.iter().map(part_need).collect();
        let mut layers = vec![vec![START]];
        let rooms = rooms_after_each(&needs, room);
        for ((part, by_parity), room) in self.boards.iter().zip(&self.layers).zip(rooms) {
            let items = [0, 1].map(|parity: usize| {
                let last = by_parity.get(parity).and_then(|layers| layers.last());
                last.into_iter()
                    .flatten()
                    .map(|reach| Item {
                        lengths: reach.lengths,
                        seconds: reach.seconds,
                        cost: reach.cost.plus(board.part_cost(part, reach.lengths, whole)),
                    })
                    .collect::<Vec<_>>()
            });
            let before = layers.last().map_or(&[][..], |layer| layer.as_slice());
            let next = step(before, [&items[0], &items[1]], room, clock, |_| 0)?;
            layers.push(next);
        }
        let last = layers.last().cloned().unwrap_or_default();
        Ok((layers, last))
    }

    /// Walks back from the reach at `at` to the choices that led there.
    fn found(&self, layers: &[Vec<Reach>], last: &[Reach], at: usize, more: Cost) -> Option<Found> {
        let end = *last.get(at)?;
        let mut picks = Vec::new();
        let mut reach = end;
        for (part, by_parity) in self.layers.iter().enumerate().rev() {
            let before = *layers.get(part)?.get(reach.from as usize)?;
            let lines = by_parity.get((before.lengths % 2) as usize)?;
            let mut inner = *lines.last()?.get(reach.taken as usize)?;
            for layer in lines.iter().rev().skip(1) {
                picks.push(inner.taken as usize);
                inner = *layer.get(inner.from as usize)?;
            }
            reach = before;
        }
        picks.reverse();
        let cost = end.cost.plus(more);
        Some(Found { picks, lengths: end.lengths, seconds: end.seconds, cost })
    }
}

fn part_need(part: &PartBoard) -> Need {
    part.lines
        .iter()
        .map(|line| Need::of(line.choices.iter().map(Item::of)))
        .fold(Need::default(), Need::and)
}

/// The layers of a part's lines, if it begins after an odd or even number of lengths.
fn part_layers(
    part: &PartBoard,
    start: u32,
    room: Room,
    clock: &mut Clock,
) -> Result<Vec<Vec<Reach>>, TooMany> {
    let needs: Vec<Need> =
        part.lines.iter().map(|line| Need::of(line.choices.iter().map(Item::of))).collect();
    let rooms = rooms_after_each(&needs, room);
    let mut layers = vec![vec![START]];
    for (line, room) in part.lines.iter().zip(rooms) {
        let items: Vec<Item> = line.choices.iter().map(Item::of).collect();
        let before = layers.last().map_or(&[][..], |layer| layer.as_slice());
        let home = line.home;
        let next = step(before, [&items, &items], room, clock, |total| wall(home, start + total))?;
        layers.push(next);
    }
    Ok(layers)
}
