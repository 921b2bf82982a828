//! The search: a dynamic programme over lines and lengths, and seconds where time counts.
//!
//! Lines are put together into parts and parts into the session by the same step: of all
//! ways to a number of lengths (and a time), the cheapest is kept. A part is judged
//! by its share when it is whole, so the step over parts is done for each total that may
//! win.

mod span;
mod step;

use super::choices::Choice;
use super::space::{PartSpace, Space};
use super::wishes::{Cost, IDLE_FREE_S};
pub(super) use span::{End, bound, time_span, walls_bound};
use step::{
    ANYTHING, Allowed, Budget, Item, Need, START, State, TooMany, allowed_after_each, step,
};

/// What a search is to find.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sought {
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

/// Ways looked at before times are distinguished less finely; sessions of any usual size
/// stay far below it and are searched to the second.
const MOST_WAYS: u64 = 12_000_000;

/// So many lanes have that each; more share what these have, so that no number of lanes makes a
/// session take longer than a moment.
const LANES_IN_FULL: u64 = 2;

/// The best choices for `sought`; `None` when none keeps to it.
pub(super) fn best(space: &Space, sought: Sought) -> Option<Found> {
    match sought {
        Sought::Near { grid } => near(space, grid),
        Sought::Within { lengths, seconds } => {
            let most_ways = MOST_WAYS * LANES_IN_FULL / LANES_IN_FULL.max(space.lanes);
            let mut grain_s = first_grain_s(space, most_ways);
            loop {
                let mut budget = Budget { grain_s: Some(grain_s), ways_left: most_ways };
                match within(space, lengths, seconds, &mut budget) {
                    Ok(found) => return found,
                    // Times are only distinguished less finely: each way keeps its exact
                    // time, so that the limit is never passed.
                    Err(TooMany) if grain_s < COARSEST_GRAIN_S => grain_s *= GRAIN_STEP,
                    Err(TooMany) => return None,
                }
            }
        }
    }
}

/// `found` with the choices in place of which a longer one still fits `seconds` and `most_lengths`
/// and breaks no wall more, the least costly first; until none fits or little time is left.
pub(super) fn filled(space: &Space, found: Found, seconds: u32, most_lengths: u32) -> Found {
    let mut found = found;
    while seconds.saturating_sub(found.seconds) > IDLE_FREE_S {
        let Some(longer) = longer(space, &found, seconds, most_lengths) else { break };
        found = longer;
    }
    found
}

/// The least costly change of one line that makes it longer.
fn longer(space: &Space, found: &Found, seconds: u32, most_lengths: u32) -> Option<Found> {
    let walls = cost_of(space, &found.picks).walls;
    let lines = || space.parts.iter().flat_map(|part| &part.lines);
    let mut best: Option<(Cost, Found)> = None;
    for (at, (line, pick)) in lines().zip(&found.picks).enumerate() {
        let Some(now) = line.choices.get(*pick) else { continue };
        for (other, choice) in line.choices.iter().enumerate() {
            let more = choice.lengths.saturating_sub(now.lengths);
            let lengths = found.lengths.saturating_add(more);
            let takes =
                (found.seconds - now.seconds.min(found.seconds)).saturating_add(choice.seconds);
            let longer = more > 0 && choice.seconds > now.seconds;
            if !longer || takes > seconds || lengths > most_lengths {
                continue;
            }
            let mut picks = found.picks.clone();
            if let Some(slot) = picks.get_mut(at) {
                *slot = other;
            }
            let idle_s = (seconds - takes).saturating_sub(IDLE_FREE_S);
            let cost = Cost { idle_s, ..cost_of(space, &picks) };
            if cost.walls <= walls && best.as_ref().is_none_or(|(least, _)| cost < *least) {
                best = Some((cost, Found { picks, lengths, seconds: takes, cost }));
            }
        }
    }
    best.map(|(_, found)| found)
}

/// The cost of a choice for each line, but for what it misses of what is sought.
fn cost_of(space: &Space, picks: &[usize]) -> Cost {
    let (mut cost, mut total, mut picks) = (Cost::default(), 0_u32, picks.iter());
    let mut parts = Vec::with_capacity(space.parts.len());
    for part in &space.parts {
        let before = total;
        for line in &part.lines {
            let pick = picks.next().and_then(|pick| line.choices.get(*pick));
            let Some(choice) = pick else { continue };
            total = total.saturating_add(choice.lengths);
            cost = cost.plus(choice.cost);
            cost.walls += wall(line.home, total);
        }
        parts.push(total - before);
    }
    let shares = space.parts.iter().zip(parts);
    shares.fold(cost, |cost, (part, lengths)| cost.plus(space.part_cost(part, lengths, total)))
}

/// From one grain to the next that is tried.
const GRAIN_STEP: u32 = 8;

/// So coarse that ways of equal lengths are not distinguished at all.
const COARSEST_GRAIN_S: u32 = 1 << 18;

/// The finest grain at which the search is worth trying: a second, but for sessions that
/// would have far too many ways at it.
fn first_grain_s(space: &Space, most_ways: u64) -> u32 {
    if ways_at(space, 1) <= 2 * most_ways {
        return 1;
    }
    // Where it cannot be exact it is to be quick.
    let mut grain_s = GRAIN_STEP;
    while grain_s < COARSEST_GRAIN_S && ways_at(space, grain_s) > most_ways / 10 {
        grain_s *= GRAIN_STEP;
    }
    grain_s
}

/// About how many ways the lines of the largest part have, distinguished at `grain_s`.
fn ways_at(space: &Space, grain_s: u32) -> u64 {
    let of_part = |part: &PartSpace| {
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
    space.parts.iter().map(of_part).max().unwrap_or(0)
}

/// Every line's first choice, for want of anything better.
pub(super) fn first_of(space: &Space) -> Found {
    let lines = || space.parts.iter().flat_map(|part| &part.lines);
    let firsts = || lines().filter_map(|line| line.choices.first());
    Found {
        picks: lines().map(|_| 0).collect(),
        lengths: firsts().map(|choice| choice.lengths).fold(0, u32::saturating_add),
        seconds: firsts().map(|choice| choice.seconds).fold(0, u32::saturating_add),
        cost: Cost::default(),
    }
}

/// Every line's quickest choice.
pub(super) fn quickest_of(space: &Space) -> Found {
    let lines = space.parts.iter().flat_map(|part| &part.lines);
    let quickest = lines.map(|line| {
        let choices = line.choices.iter().enumerate();
        choices.min_by_key(|(_, choice)| choice.seconds).map_or(0, |(at, _)| at)
    });
    Found { picks: quickest.collect(), ..first_of(space) }
}

fn near(space: &Space, grid: u64) -> Option<Found> {
    let mut budget = Budget { grain_s: None, ways_left: u64::MAX };
    let parts = Parts::new(space, ANYTHING, &mut budget).ok()?;
    let total_cost = |lengths: u32| {
        let off = (u64::from(lengths) * space.length_grid).abs_diff(grid);
        let miss = off.saturating_sub(space.length_grid);
        Cost { miss, off, ..Cost::default() }
    };
    // Which totals can be reached does not depend on the shares; the first two wishes say
    // which of them may win.
    let nominal = u32::try_from(grid / space.length_grid).unwrap_or(u32::MAX);
    let (_, last) = parts.join(space, nominal, ANYTHING, &mut budget).ok()?;
    let rank = |state: &State| (state.cost.walls, total_cost(state.lengths).miss);
    let first = last.iter().map(rank).min()?;
    let totals = last.iter().filter(|state| rank(state) == first).map(|state| state.lengths);
    let founds = totals.filter_map(|total| {
        let (layers, last) = parts.join(space, total, ANYTHING, &mut budget).ok()?;
        let at = last.iter().position(|state| state.lengths == total)?;
        parts.found(&layers, &last, at, total_cost(total))
    });
    founds.min_by_key(|found| (found.cost, found.lengths))
}

fn within(
    space: &Space,
    lengths: u32,
    seconds: u32,
    budget: &mut Budget,
) -> Result<Option<Found>, TooMany> {
    let allowed = Allowed { least_lengths: lengths, most_lengths: lengths, most_seconds: seconds };
    let parts = Parts::new(space, allowed, budget)?;
    let (layers, last) = parts.join(space, lengths, allowed, budget)?;
    let idle = |state: &State| Cost {
        idle_s: seconds.saturating_sub(state.seconds).saturating_sub(IDLE_FREE_S),
        ..Cost::default()
    };
    let best = last
        .iter()
        .enumerate()
        .min_by_key(|(_, state)| (state.cost.plus(idle(state)), u32::MAX - state.seconds));
    Ok(best.and_then(|(at, state)| parts.found(&layers, &last, at, idle(state))))
}

/// One more wall broken where the swimmers were home and no longer are.
fn wall(home: bool, total: u32) -> u32 {
    u32::from(home && total % 2 == 1)
}

/// What is allowed after each line of the whole space.
fn allowed_by_line(space: &Space, whole: Allowed) -> Vec<Allowed> {
    let lines = space.parts.iter().flat_map(|part| &part.lines);
    let needs: Vec<Need> = lines.map(|line| Need::of(line.choices.iter().map(Item::of))).collect();
    allowed_after_each(&needs, whole)
}

/// Every part with every number of lengths it may have, for an even and for an odd start.
struct Parts<'a> {
    spaces: &'a [PartSpace],
    /// For each part: the layers of its lines, by the parity at its start.
    layers: Vec<[Vec<Vec<State>>; 2]>,
}

impl<'a> Parts<'a> {
    fn new(space: &'a Space, allowed: Allowed, budget: &mut Budget) -> Result<Self, TooMany> {
        let odd = space
            .parts
            .iter()
            .flat_map(|part| &part.lines)
            .any(|line| line.choices.iter().any(|choice| choice.lengths % 2 == 1));
        let needs: Vec<Need> = space.parts.iter().map(part_need).collect();
        let mut layers = Vec::new();
        for (at, part) in space.parts.iter().enumerate() {
            let others = needs.iter().enumerate().filter(|(other, _)| *other != at);
            let allowed = others.fold(allowed, |allowed, (_, need)| allowed.before(*need));
            let even = part_layers(part, 0, allowed, budget)?;
            let odd = if odd { part_layers(part, 1, allowed, budget)? } else { Vec::new() };
            layers.push([even, odd]);
        }
        Ok(Self { spaces: &space.parts, layers })
    }

    /// Joins the parts to a session of `whole` lengths: the layers, and the last of them.
    fn join(
        &self,
        space: &Space,
        whole: u32,
        allowed: Allowed,
        budget: &mut Budget,
    ) -> Result<(Vec<Vec<State>>, Vec<State>), TooMany> {
        let needs: Vec<Need> = self.spaces.iter().map(part_need).collect();
        let mut layers = vec![vec![START]];
        let each = allowed_after_each(&needs, allowed);
        for ((part, by_parity), allowed) in self.spaces.iter().zip(&self.layers).zip(each) {
            let items = [0, 1].map(|parity: usize| {
                let last = by_parity.get(parity).and_then(|layers| layers.last());
                last.into_iter()
                    .flatten()
                    .map(|state| Item {
                        lengths: state.lengths,
                        seconds: state.seconds,
                        cost: state.cost.plus(space.part_cost(part, state.lengths, whole)),
                    })
                    .collect::<Vec<_>>()
            });
            let before = layers.last().map_or(&[][..], |layer| layer.as_slice());
            let next = step(before, [&items[0], &items[1]], allowed, budget, |_| 0)?;
            layers.push(next);
        }
        let last = layers.last().cloned().unwrap_or_default();
        Ok((layers, last))
    }

    /// Walks back from the state at `at` to the choices that led there.
    fn found(&self, layers: &[Vec<State>], last: &[State], at: usize, more: Cost) -> Option<Found> {
        let end = *last.get(at)?;
        let mut picks = Vec::new();
        let mut state = end;
        for (part, by_parity) in self.layers.iter().enumerate().rev() {
            let before = *layers.get(part)?.get(state.from as usize)?;
            let lines = by_parity.get((before.lengths % 2) as usize)?;
            let mut inner = *lines.last()?.get(state.taken as usize)?;
            for layer in lines.iter().rev().skip(1) {
                picks.push(inner.taken as usize);
                inner = *layer.get(inner.from as usize)?;
            }
            state = before;
        }
        picks.reverse();
        let cost = end.cost.plus(more);
        Some(Found { picks, lengths: end.lengths, seconds: end.seconds, cost })
    }
}

fn part_need(part: &PartSpace) -> Need {
    part.lines
        .iter()
        .map(|line| Need::of(line.choices.iter().map(Item::of)))
        .fold(Need::default(), Need::and)
}

/// The layers of a part's lines, if it begins after an odd or even number of lengths.
fn part_layers(
    part: &PartSpace,
    start: u32,
    allowed: Allowed,
    budget: &mut Budget,
) -> Result<Vec<Vec<State>>, TooMany> {
    let needs: Vec<Need> =
        part.lines.iter().map(|line| Need::of(line.choices.iter().map(Item::of))).collect();
    let each = allowed_after_each(&needs, allowed);
    let mut layers = vec![vec![START]];
    for (line, allowed) in part.lines.iter().zip(each) {
        let items: Vec<Item> = line.choices.iter().map(Item::of).collect();
        let before = layers.last().map_or(&[][..], |layer| layer.as_slice());
        let home = line.home;
        let next =
            step(before, [&items, &items], allowed, budget, |total| wall(home, start + total))?;
        layers.push(next);
    }
    Ok(layers)
}
