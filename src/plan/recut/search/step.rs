//! One step of the search: a line or a part added to each way through those before it.

use crate::plan::recut::choices::Choice;
use crate::plan::recut::wishes::Cost;

/// Where one way through the lines so far has led.
#[derive(Clone, Copy, Debug)]
pub(super) struct State {
    pub lengths: u32,
    pub seconds: u32,
    pub cost: Cost,
    /// The place of the state before in its layer, and of what was taken from there.
    pub from: u32,
    pub taken: u32,
}

/// What a search may spend, and how finely it distinguishes ways of equal lengths by their time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Budget {
    /// Seconds that count as one; `None` where time does not matter.
    pub grain_s: Option<u32>,
    pub ways_left: u64,
}

/// What a way must still keep to, given what is to come.
#[derive(Clone, Copy, Debug)]
pub(super) struct Allowed {
    pub least_lengths: u32,
    pub most_lengths: u32,
    pub most_seconds: u32,
}

/// The search has more ways to look at than it may.
pub(super) struct TooMany;

/// Something to take in a step: a line's choice, or a whole part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    pub lengths: u32,
    pub seconds: u32,
    pub cost: Cost,
}

impl Item {
    pub fn of(choice: &Choice) -> Item {
        Item { lengths: choice.lengths, seconds: choice.seconds, cost: choice.cost }
    }
}

/// Takes one item after each state, and keeps the cheapest way to each end.
pub(super) fn step(
    states: &[State],
    items_by_parity: [&[Item]; 2],
    allowed: Allowed,
    budget: &mut Budget,
    walls: impl Fn(u32) -> u32,
) -> Result<Vec<State>, TooMany> {
    let items = |state: &State| items_by_parity[(state.lengths % 2) as usize];
    let ways: u64 = states.iter().map(|state| items(state).len() as u64).sum();
    let Some(cells) = Cells::new(states, items_by_parity, allowed, budget) else {
        return Ok(Vec::new());
    };
    let cost_of_work = ways + cells.count() / 2;
    budget.ways_left = budget.ways_left.checked_sub(cost_of_work).ok_or(TooMany)?;
    let mut index = vec![u32::MAX; usize::try_from(cells.count()).map_err(|_| TooMany)?];
    let mut ends: Vec<State> = Vec::new();
    for (from, state) in states.iter().enumerate() {
        for (taken, item) in items(state).iter().enumerate() {
            let lengths = state.lengths.saturating_add(item.lengths);
            let seconds = state.seconds.saturating_add(item.seconds);
            if !allowed.holds(lengths, seconds) {
                continue;
            }
            let mut cost = state.cost.plus(item.cost);
            cost.walls += walls(lengths);
            let end = State { lengths, seconds, cost, from: from as u32, taken: taken as u32 };
            match index.get_mut(cells.at(lengths, seconds)) {
                Some(slot) if *slot == u32::MAX => {
                    *slot = ends.len() as u32;
                    ends.push(end);
                }
                Some(slot) => {
                    if let Some(kept) = ends.get_mut(*slot as usize)
                        && cost < kept.cost
                    {
                        *kept = end;
                    }
                }
                None => {}
            }
        }
    }
    Ok(ends)
}

/// The ends a step may have, numbered.
pub(super) struct Cells {
    pub first_length: u32,
    pub first_second: u32,
    pub columns: u64,
    pub rows: u64,
    pub grain_s: Option<u32>,
}

impl Cells {
    pub fn new(
        states: &[State],
        items: [&[Item]; 2],
        allowed: Allowed,
        budget: &Budget,
    ) -> Option<Cells> {
        let all = || items.into_iter().flatten();
        let least = |of: fn(&State) -> u32, item: fn(&Item) -> u32| {
            Some(states.iter().map(of).min()?.saturating_add(all().map(item).min()?))
        };
        let most = |of: fn(&State) -> u32, item: fn(&Item) -> u32| {
            Some(states.iter().map(of).max()?.saturating_add(all().map(item).max()?))
        };
        let first_length = least(|r| r.lengths, |i| i.lengths)?.max(allowed.least_lengths);
        let last_length = most(|r| r.lengths, |i| i.lengths)?.min(allowed.most_lengths);
        let first_second = least(|r| r.seconds, |i| i.seconds)?;
        let last_second = most(|r| r.seconds, |i| i.seconds)?.min(allowed.most_seconds);
        let rows = u64::from(last_length.checked_sub(first_length)?) + 1;
        let span = u64::from(last_second.checked_sub(first_second)?);
        let columns = budget.grain_s.map_or(1, |grain| span / u64::from(grain) + 1);
        Some(Cells { first_length, first_second, columns, rows, grain_s: budget.grain_s })
    }

    pub fn count(&self) -> u64 {
        self.rows.saturating_mul(self.columns)
    }

    pub fn at(&self, lengths: u32, seconds: u32) -> usize {
        let row = u64::from(lengths - self.first_length);
        let column = self.grain_s.map_or(0, |grain| (seconds - self.first_second) / grain);
        usize::try_from(row * self.columns + u64::from(column)).unwrap_or(usize::MAX)
    }
}

impl Allowed {
    pub fn holds(&self, lengths: u32, seconds: u32) -> bool {
        (self.least_lengths..=self.most_lengths).contains(&lengths) && seconds <= self.most_seconds
    }
}

/// What is allowed after each of `needs`, given what is still to come, where the whole is allowed
/// `whole`.
pub(super) fn allowed_after_each(needs: &[Need], whole: Allowed) -> Vec<Allowed> {
    let mut allowed = whole;
    let back = needs.iter().rev().map(|need| {
        let here = allowed;
        allowed = allowed.before(*need);
        here
    });
    let mut each: Vec<Allowed> = back.collect();
    each.reverse();
    each
}

/// The least and most that something takes.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Need {
    pub least_lengths: u32,
    pub most_lengths: u32,
    pub least_seconds: u32,
}

impl Need {
    pub fn of(items: impl Iterator<Item = Item> + Clone) -> Need {
        Need {
            least_lengths: items.clone().map(|item| item.lengths).min().unwrap_or(0),
            most_lengths: items.clone().map(|item| item.lengths).max().unwrap_or(0),
            least_seconds: items.map(|item| item.seconds).min().unwrap_or(0),
        }
    }

    pub fn and(self, other: Need) -> Need {
        Need {
            least_lengths: self.least_lengths.saturating_add(other.least_lengths),
            most_lengths: self.most_lengths.saturating_add(other.most_lengths),
            least_seconds: self.least_seconds.saturating_add(other.least_seconds),
        }
    }
}

impl Allowed {
    /// What is allowed before something that needs so much.
    pub fn before(self, need: Need) -> Allowed {
        let open = |most: u32, least: u32| {
            if most == u32::MAX { most } else { most.saturating_sub(least) }
        };
        Allowed {
            least_lengths: self.least_lengths.saturating_sub(need.most_lengths),
            most_lengths: open(self.most_lengths, need.least_lengths),
            most_seconds: open(self.most_seconds, need.least_seconds),
        }
    }
}

/// Before anything is taken.
pub(super) const START: State = State {
    lengths: 0,
    seconds: 0,
    cost: Cost { walls: 0, miss: 0, idle_s: 0, share_permille: 0, drift_mm: 0, off: 0, uneven: 0 },
    from: 0,
    taken: 0,
};

/// Where anything is allowed.
pub(super) const ANYTHING: Allowed =
    Allowed { least_lengths: 0, most_lengths: u32::MAX, most_seconds: u32::MAX };
