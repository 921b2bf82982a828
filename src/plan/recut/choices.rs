//! What each line of a session may become.

use super::transfer::{Transfer, keeps_lengths};
use super::wishes::{Cost, LONG_SWIM, drift_mm};
use crate::check::medley::{MedleyLengths, medley_lengths};
use crate::check::{CheckedLine, CheckedSet, each_set};
use crate::measure::{Distance, LIMITS, Lengths, Seconds, TrueLength};
use crate::plan::awkward;

/// One thing a line may become, with what it costs.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    pub pick: Pick,
    pub lengths: u32,
    pub seconds: u32,
    pub cost: Cost,
}

/// A line's numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pick {
    Set(Numbers),
    /// Rounds keep their sets as they are here, but for one at most: the set at that
    /// place among the sets of a round.
    Rounds {
        count: u32,
        inner: Option<(usize, Numbers)>,
    },
}

/// Repeats and the lengths of each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Numbers {
    pub repeats: u32,
    pub each: Lengths,
}

impl Numbers {
    fn lengths(self) -> u32 {
        self.repeats.saturating_mul(self.each.get())
    }
}

/// Makes the choices of lines; `breadth` is how many steps away from its own size a line
/// is looked at.
#[derive(Clone, Copy)]
pub(super) struct Chooser<'a> {
    pub transfer: Transfer<'a>,
    pub breadth: u32,
}

impl Chooser<'_> {
    /// What `line` may become if it is wished to be `wish` long. Never empty.
    pub fn line(&self, line: &CheckedLine, wish: TrueLength) -> Vec<Choice> {
        let mut choices = match line {
            CheckedLine::Set(set) => self.choices_of_set(set, wish),
            CheckedLine::Rounds { count, .. } => self.rounds(line, *count, wish),
        };
        for choice in &mut choices {
            let drift = drift_mm(self.transfer.true_length(choice.lengths), wish);
            choice.cost.drift_mm = choice.cost.drift_mm.saturating_add(drift);
        }
        choices
    }

    fn choices_of_set(&self, set: &CheckedSet, wish: TrueLength) -> Vec<Choice> {
        let was_home = set.each.get().saturating_mul(set.repeats).is_multiple_of(2);
        // Numbers of the same lengths follow one another, and take the same time a repeat.
        let mut known: Option<(Lengths, Seconds)> = None;
        let choice = |(numbers, awkward_mm): (Numbers, u64)| {
            let lengths = numbers.lengths();
            let repeat = match known {
                Some((each, repeat)) if each == numbers.each => repeat,
                _ => self.transfer.repeat_seconds(set, numbers.each),
            };
            known = Some((numbers.each, repeat));
            let walls = u32::from(was_home && lengths % 2 == 1);
            let uneven = self.uneven(lengths);
            let cost = Cost { walls, drift_mm: awkward_mm, uneven, ..Cost::default() };
            let seconds = repeat.times(numbers.repeats).get();
            Choice { pick: Pick::Set(numbers), lengths, seconds, cost }
        };
        self.set(set, wish, self.transfer.holds(set)).into_iter().map(choice).collect()
    }

    /// The numbers a set may have, each with how awkward they are.
    fn set(&self, set: &CheckedSet, wish: TrueLength, held: bool) -> Vec<(Numbers, u64)> {
        if held {
            return vec![(self.held(set), 0)];
        }
        let mut numbers = Vec::new();
        let mut add = |repeats: u32, each: u32| {
            let new = Numbers { repeats, each: Lengths::new(each) };
            if self.allowed(new) && !numbers.contains(&new) {
                numbers.push(new);
            }
        };
        for each in self.lengths_per_repeat(set, wish) {
            if self.is_long(set) && set.repeats == 1 {
                add(1, each);
                continue;
            }
            let each_grid = self.transfer.true_length(each).grid().max(1);
            let near = u32::try_from(wish.grid() / each_grid).unwrap_or(u32::MAX);
            let (low, high) = (
                near.saturating_sub(self.breadth).max(1),
                near.saturating_add(self.breadth).saturating_add(1).min(LIMITS.repeats.most as u32),
            );
            (low..=high).for_each(|repeats| add(repeats, each));
        }
        if self.transfer.keeps_sizes {
            self.keep_near(
                self.own_repeat(set).saturating_mul(u64::from(set.repeats)),
                &mut numbers,
            );
        }
        if numbers.is_empty() {
            numbers.push(Numbers { repeats: set.repeats, each: self.plain(set) });
        }
        numbers.into_iter().map(|new| (new, self.awkward_mm(set, new))).collect()
    }

    /// Keeps of `numbers` those that are half to twice `own`, or the nearest where none is.
    fn keep_near(&self, own: u64, numbers: &mut Vec<Numbers>) {
        let grid = |new: &Numbers| self.transfer.true_length(new.lengths()).grid();
        let is_near = |new: &Numbers| 2 * grid(new) >= own && grid(new) <= 2 * own;
        if numbers.iter().any(is_near) {
            numbers.retain(is_near);
        } else if let Some(nearest) = numbers.iter().map(|new| grid(new).abs_diff(own)).min() {
            numbers.retain(|new| grid(new).abs_diff(own) == nearest);
        }
    }

    /// The numbers of a set that is not changed. Only a medley may have to be swum fewer times,
    /// where each has become longer.
    fn held(&self, set: &CheckedSet) -> Numbers {
        let each = self.plain(set);
        let (new, own) = (self.transfer.true_length(each.get()), self.own_repeat(set));
        let grows = self.medley_lengths(set).is_some() && 2 * new.grid() > 3 * own;
        let repeats = match grows {
            true => whole_times(own.saturating_mul(u64::from(set.repeats)), new.grid()),
            false => set.repeats,
        };
        Numbers { repeats, each }
    }

    fn medley_lengths(&self, set: &CheckedSet) -> Option<MedleyLengths> {
        medley_lengths(set, self.transfer.home_pool(), self.transfer.pool)
    }

    /// The true length of a repeat as written.
    fn own_repeat(&self, set: &CheckedSet) -> u64 {
        self.transfer.home_pool().distance(set.each).true_length().grid()
    }

    /// Lengths a repeat may have here; a medley's only such that it can be swum.
    fn lengths_per_repeat(&self, set: &CheckedSet, wish: TrueLength) -> Vec<u32> {
        let mut all = self.lengths_of_any_stroke(set, wish);
        match self.medley_lengths(set) {
            None => {}
            Some(MedleyLengths::Only(each)) => all = vec![each.get()],
            Some(MedleyLengths::Multiples(strokes)) => {
                // The nearest below and above, of each.
                let near = all.iter().flat_map(|each| {
                    let below = each - each % strokes;
                    [below, if below == *each { below } else { below + strokes }]
                });
                all = near.filter(|each| *each > 0).collect();
                all.sort_unstable();
                all.dedup();
            }
        }
        all
    }

    fn lengths_of_any_stroke(&self, set: &CheckedSet, wish: TrueLength) -> Vec<u32> {
        let plain = self.plain(set).get();
        if self.transfer.lengths_of_cue(set).is_some() {
            return vec![plain];
        }
        let length = self.transfer.true_length(1).grid();
        let lone = set.repeats == 1;
        if self.is_long(set) && (lone || !self.transfer.same_pool()) {
            let own = self.transfer.home_pool().distance(set.each).true_length();
            // A lone swim takes all the change there is; repeats only what the pool asks.
            let near = (if lone { wish } else { own }).grid() / length;
            let state = if lone { 2 * u64::from(self.breadth) + 1 } else { 1 + near / 10 };
            let low = near.saturating_sub(state).max(1);
            let all = (low..=near + state + 1).filter_map(|each| u32::try_from(each).ok());
            return all.chain([plain]).collect();
        }
        if self.transfer.same_pool() {
            return vec![plain];
        }
        let own = self.transfer.home_pool().distance(set.each).true_length().grid();
        if own.is_multiple_of(length) {
            return vec![plain];
        }
        let nearest = self.nearest(set);
        let mut all = vec![plain, nearest];
        if set.each.ends_at_start() && nearest % 2 == 1 {
            // Where the nearest ends at the far wall, one length less or more does not.
            all.extend([nearest - 1, nearest + 1]);
        }
        all
    }

    /// The lengths a repeat has here when nothing is changed for the sake of a total: the
    /// same distance where that is whole lengths, else length for length in pools of about
    /// one size (or lengths for each length of one twice the size), else the nearest.
    ///
    /// A test or a drill goes length for length wherever it can. A medley keeps whole lengths for
    /// each of its strokes.
    pub fn plain(&self, set: &CheckedSet) -> Lengths {
        if self.transfer.same_pool() {
            return set.each;
        }
        let plain =
            self.transfer.lengths_of_cue(set).unwrap_or_else(|| self.plain_of_any_stroke(set));
        match self.medley_lengths(set) {
            Some(MedleyLengths::Only(each)) => each,
            Some(MedleyLengths::Multiples(strokes)) if !plain.get().is_multiple_of(strokes) => {
                let of_strokes = self.transfer.true_length(strokes).grid();
                Lengths::new(strokes.saturating_mul(whole_times(self.own_repeat(set), of_strokes)))
            }
            _ => plain,
        }
    }

    fn plain_of_any_stroke(&self, set: &CheckedSet) -> Lengths {
        let old = self.transfer.home_pool().length().true_length().grid();
        let new = self.transfer.true_length(1).grid().max(1);
        let own = old.saturating_mul(u64::from(set.each.get()));
        if own.is_multiple_of(new) {
            return Lengths::new(u32::try_from(own / new).unwrap_or(u32::MAX).max(1));
        }
        let times = (2 * old + new) / (2 * new);
        let alike = 4 * times * new <= 5 * old && 4 * old <= 5 * times * new;
        if times >= 1 && (alike || keeps_lengths(set)) {
            let times = u32::try_from(times).unwrap_or(1);
            return Lengths::new(set.each.get().saturating_mul(times));
        }
        Lengths::new(self.nearest(set))
    }

    /// The lengths nearest to the distance of a repeat, one at least.
    fn nearest(&self, set: &CheckedSet) -> u32 {
        whole_times(self.own_repeat(set), self.transfer.true_length(1).grid())
    }

    fn rounds(&self, line: &CheckedLine, count: u32, wish: TrueLength) -> Vec<Choice> {
        let as_they_are = |count| Pick::Rounds { count, inner: None };
        if self.transfer.holds_line(line) {
            return vec![self.as_choice(line, as_they_are(count), 0)];
        }
        let round = self.pick_lengths(line, as_they_are(1)).max(1);
        let near = wish.grid() / self.transfer.true_length(round).grid().max(1);
        let near = u32::try_from(near).unwrap_or(u32::MAX);
        let low = near.saturating_sub(self.breadth).max(1);
        let high = near.saturating_add(self.breadth + 1).clamp(1, LIMITS.rounds.most as u32);
        let counts =
            (low.min(high)..=high).chain((!(low..=high).contains(&count)).then_some(count));
        let mut choices: Vec<Choice> =
            counts.map(|count| self.as_choice(line, as_they_are(count), 0)).collect();
        if self.transfer.keeps_sizes {
            let own = self.transfer.own_length(line).grid();
            let grid = |choice: &Choice| self.transfer.true_length(choice.lengths).grid();
            let is_near = |choice: &Choice| 2 * grid(choice) >= own && grid(choice) <= 2 * own;
            if choices.iter().any(is_near) {
                choices.retain(is_near);
            }
        }
        for (index, (set, rounds)) in sets_of(line).into_iter().enumerate() {
            if self.transfer.holds(set) {
                continue;
            }
            // The set takes what the others of its rounds leave.
            let stands = self.transfer.true_length(self.pick_lengths(line, as_they_are(count)));
            let own = u64::from(self.plain(set).get()) * u64::from(set.repeats) * u64::from(rounds);
            let own = self.transfer.true_length(u32::try_from(own).unwrap_or(u32::MAX));
            let others = stands.grid().saturating_sub(own.grid());
            let share = wish.grid().saturating_sub(others) / u64::from(rounds.max(1));
            for (new, awkward_mm) in self.set(set, TrueLength::from_grid(share), false) {
                if new == (Numbers { repeats: set.repeats, each: self.plain(set) }) {
                    continue;
                }
                let pick = Pick::Rounds { count, inner: Some((index, new)) };
                let awkward_mm = awkward_mm.saturating_add(awkward::INSIDE_ROUND_MM);
                choices.push(self.as_choice(line, pick, awkward_mm));
            }
        }
        choices
    }

    fn as_choice(&self, line: &CheckedLine, pick: Pick, awkward_mm: u64) -> Choice {
        let lengths = self.pick_lengths(line, pick);
        let mut seconds = Seconds::ZERO;
        let mut walls = u32::from(line.lengths().is_multiple_of(2) && lengths % 2 == 1);
        for (set, new, rounds) in self.picked(line, pick) {
            let repeat = self.transfer.repeat_seconds(set, new.each);
            seconds = seconds.plus(repeat.times(new.repeats).times(rounds));
            let was_home = set.each.get().saturating_mul(set.repeats).is_multiple_of(2);
            if matches!(line, CheckedLine::Rounds { .. }) {
                walls += u32::from(was_home && new.lengths() % 2 == 1);
            }
        }
        let uneven = self.uneven(lengths);
        let cost = Cost { walls, drift_mm: awkward_mm, uneven, ..Cost::default() };
        Choice { pick, lengths, seconds: seconds.get(), cost }
    }

    /// Every set of a line with its new numbers and the rounds around it.
    pub fn picked<'l>(
        &self,
        line: &'l CheckedLine,
        pick: Pick,
    ) -> Vec<(&'l CheckedSet, Numbers, u32)> {
        let sets = sets_of(line).into_iter().enumerate();
        sets.map(|(index, (set, rounds))| match (pick, line) {
            (Pick::Set(numbers), _) => (set, numbers, 1),
            (Pick::Rounds { count, inner }, CheckedLine::Rounds { count: written, .. }) => {
                let stands = Numbers { repeats: set.repeats, each: self.plain(set) };
                let new = inner.filter(|(at, _)| *at == index).map_or(stands, |(_, new)| new);
                (set, new, rounds / (*written).max(1) * count)
            }
            (Pick::Rounds { count, .. }, CheckedLine::Set(_)) => {
                (set, Numbers { repeats: set.repeats, each: self.plain(set) }, count)
            }
        })
        .collect()
    }

    fn pick_lengths(&self, line: &CheckedLine, pick: Pick) -> u32 {
        self.picked(line, pick).into_iter().fold(0, |sum: u32, (_, new, rounds)| {
            sum.saturating_add(new.lengths().saturating_mul(rounds))
        })
    }

    fn is_long(&self, set: &CheckedSet) -> bool {
        let pool = self.transfer.home_pool();
        pool.distance(set.each).thirds() >= Distance::whole(LONG_SWIM, pool.unit()).thirds()
    }

    fn allowed(&self, new: Numbers) -> bool {
        let most = Distance::whole(LIMITS.repeat_distance.most, self.transfer.pool.unit());
        new.each.get() > 0
            && LIMITS.repeats.holds(u64::from(new.repeats))
            && self.transfer.pool.distance(new.each).thirds() <= most.thirds()
    }

    /// How awkward new numbers are against the written ones.
    fn awkward_mm(&self, set: &CheckedSet, new: Numbers) -> u64 {
        if self.transfer.same_pool() && new == (Numbers { repeats: set.repeats, each: set.each }) {
            return 0;
        }
        let mut sum = self.awkward_lengths_mm(set, new.each.get());
        if new.repeats != set.repeats {
            if new.repeats >= 7 && new.repeats % 2 == 1 {
                sum += awkward::ODD_COUNT_MM;
            }
            if new.repeats % 2 == 1 && set.repeats.is_multiple_of(2) {
                sum += awkward::PAIR_BROKEN_MM;
            }
            if new.repeats == 1 {
                sum += awkward::LONE_REPEAT_MM;
            }
        }
        sum
    }

    fn awkward_lengths_mm(&self, set: &CheckedSet, each: u32) -> u64 {
        if self.transfer.same_pool() && each == set.each.get() {
            return 0;
        }
        let mut sum = 0;
        let stands = each == self.plain(set).get();
        if each == 7 || !stands {
            sum += awkward::lengths_mm(each);
        }
        if set.each.ends_at_start() && each % 2 == 1 {
            sum += awkward::REPEAT_ENDS_AWAY_MM;
        }
        if self.is_long(set) {
            let fifty = Distance::whole(50, self.transfer.pool.unit()).thirds();
            let thirds = self.transfer.pool.distance(Lengths::new(each)).thirds();
            sum += if thirds.is_multiple_of(fifty) { 0 } else { awkward::LONG_NO_FIFTY_MM };
        } else if !stands {
            sum += awkward::OTHER_LENGTHS_MM;
        }
        sum
    }

    fn uneven(&self, lengths: u32) -> u32 {
        awkward::uneven(self.transfer.pool.distance(Lengths::new(lengths)))
    }
}

/// How often `length` goes into `whole`, to the nearest, and once at least.
fn whole_times(whole: u64, length: u64) -> u32 {
    let length = length.max(1);
    u32::try_from((2 * whole + length) / (2 * length)).unwrap_or(u32::MAX).max(1)
}

/// The sets of a line with the rounds that hold each, multiplied up.
pub(super) fn sets_of(line: &CheckedLine) -> Vec<(&CheckedSet, u32)> {
    let mut sets = Vec::new();
    each_set(std::slice::from_ref(line), 1, &mut |set, rounds| sets.push((set, rounds)));
    sets
}
