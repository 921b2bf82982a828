//! What each line of a session may become.

use super::transfer::{RunTime, Transfer, keeps_lengths};
use super::wishes::{Cost, LONG_SWIM, drift_mm};
use crate::check::cycle::names_repeats;
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

/// How often a set is swum through its cycle, and the lengths of one time. Where all repeats are
/// alike that is how many there are, and how long.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Numbers {
    pub times: u32,
    pub run: Lengths,
}

impl Numbers {
    fn lengths(self) -> u32 {
        self.times.saturating_mul(self.run.get())
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
            CheckedLine::Activity(_) | CheckedLine::Remark(_) => {
                vec![self.as_choice(line, Pick::Rounds { count: 1, inner: None }, 0)]
            }
        };
        for choice in &mut choices {
            let drift = drift_mm(self.transfer.true_length(choice.lengths), wish);
            choice.cost.drift_mm = choice.cost.drift_mm.saturating_add(drift);
        }
        choices
    }

    fn choices_of_set(&self, set: &CheckedSet, wish: TrueLength) -> Vec<Choice> {
        let was_home = set.cycle.lengths().ends_at_start();
        // Numbers of the same lengths follow one another, and take the same time through.
        let mut known: Option<(Lengths, RunTime)> = None;
        let choice = |(numbers, awkward_mm): (Numbers, u64)| {
            let lengths = numbers.lengths();
            let run = match known {
                Some((run, time)) if run == numbers.run => time,
                _ => self.transfer.run_time(set, numbers.run),
            };
            known = Some((numbers.run, run));
            let walls = u32::from(was_home && lengths % 2 == 1);
            let uneven = self.uneven(lengths);
            let cost = Cost { walls, drift_mm: awkward_mm, uneven, ..Cost::default() };
            let seconds = run.of_times(set, numbers.times).get();
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
        let mut add = |times: u32, run: u32| {
            let new = Numbers { times, run: Lengths::new(run) };
            if self.allowed(set, new) && !numbers.contains(&new) {
                numbers.push(new);
            }
        };
        let once = set.cycle.times == 1 && (self.is_long(set) || names_repeats(&set.swim));
        for run in self.lengths_per_run(set, wish) {
            if once {
                add(1, run);
                continue;
            }
            let run_grid = self.transfer.true_length(run).grid().max(1);
            let near = u32::try_from(wish.grid() / run_grid).unwrap_or(u32::MAX);
            let (low, high) = (
                near.saturating_sub(self.breadth).max(1),
                near.saturating_add(self.breadth).saturating_add(1).min(LIMITS.repeats.most as u32),
            );
            (low..=high).for_each(|times| add(times, run));
        }
        if self.transfer.keeps_sizes {
            self.keep_near(
                self.own_run(set).saturating_mul(u64::from(set.cycle.times)),
                &mut numbers,
            );
        }
        if numbers.is_empty() {
            numbers.push(self.stands(set));
        }
        numbers.into_iter().map(|new| (new, self.awkward_mm(set, new))).collect()
    }

    /// The numbers of a set that is swum as often as written, in the lengths that it has here.
    fn stands(&self, set: &CheckedSet) -> Numbers {
        Numbers { times: set.cycle.times, run: self.plain(set) }
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
        let run = self.plain(set);
        let (new, own) = (self.transfer.true_length(run.get()), self.own_run(set));
        let grows = self.medley_lengths(set).is_some() && 2 * new.grid() > 3 * own;
        let times = match grows {
            true => whole_times(own.saturating_mul(u64::from(set.cycle.times)), new.grid()),
            false => set.cycle.times,
        };
        Numbers { times, run }
    }

    fn medley_lengths(&self, set: &CheckedSet) -> Option<MedleyLengths> {
        medley_lengths(set, self.transfer.home_pool(), self.transfer.pool)
    }

    /// The true length of one time through as written.
    pub(super) fn own_run(&self, set: &CheckedSet) -> u64 {
        self.transfer.home_pool().distance(set.cycle.run()).true_length().grid()
    }

    /// Lengths that one time through may have here; a medley's only such that it can be swum.
    fn lengths_per_run(&self, set: &CheckedSet, wish: TrueLength) -> Vec<u32> {
        if set.cycle.is_shaped() {
            return self.runs_in_shape(set, wish);
        }
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
        let lone = set.cycle.times == 1;
        if self.is_long(set) && (lone || !self.transfer.same_pool()) {
            let own = self.transfer.home_pool().distance(set.cycle.run()).true_length();
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
        let own = self.transfer.home_pool().distance(set.cycle.run()).true_length().grid();
        if own.is_multiple_of(length) {
            return vec![plain];
        }
        let nearest = self.nearest(set);
        let mut all = vec![plain, nearest];
        if set.cycle.run().ends_at_start() && nearest % 2 == 1 {
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
        if set.cycle.is_held() {
            let (pool, pace) = (self.transfer.pool, self.transfer.pace);
            let factors = &self.transfer.written.factors;
            return set.cycle.filled(pool, pace, factors, set.effort()).run();
        }
        if self.transfer.same_pool() {
            return set.cycle.run();
        }
        if set.cycle.is_shaped() {
            return self.plain_in_shape(set);
        }
        let plain =
            self.transfer.lengths_of_cue(set).unwrap_or_else(|| self.plain_of_any_stroke(set));
        match self.medley_lengths(set) {
            Some(MedleyLengths::Only(each)) => each,
            Some(MedleyLengths::Multiples(strokes)) if !plain.get().is_multiple_of(strokes) => {
                let of_strokes = self.transfer.true_length(strokes).grid();
                Lengths::new(strokes.saturating_mul(whole_times(self.own_run(set), of_strokes)))
            }
            _ => plain,
        }
    }

    fn plain_of_any_stroke(&self, set: &CheckedSet) -> Lengths {
        let old = self.transfer.home_pool().length().true_length().grid();
        let new = self.transfer.true_length(1).grid().max(1);
        let own = old.saturating_mul(u64::from(set.cycle.run().get()));
        if own.is_multiple_of(new) {
            return Lengths::new(u32::try_from(own / new).unwrap_or(u32::MAX).max(1));
        }
        let times = (2 * old + new) / (2 * new);
        let alike = 4 * times * new <= 5 * old && 4 * old <= 5 * times * new;
        if times >= 1 && (alike || keeps_lengths(set)) {
            let times = u32::try_from(times).unwrap_or(1);
            return Lengths::new(set.cycle.run().get().saturating_mul(times));
        }
        Lengths::new(self.nearest(set))
    }

    /// The lengths nearest to the distance of a repeat, one at least.
    fn nearest(&self, set: &CheckedSet) -> u32 {
        whole_times(self.own_run(set), self.transfer.true_length(1).grid())
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
            // A single swim in rounds is not a set that grows: three rounds with a 25 keep it.
            if self.transfer.holds(set) || self.keeps_its_place(line, set) {
                continue;
            }
            // The set takes what the others of its rounds leave.
            let stands = self.transfer.true_length(self.pick_lengths(line, as_they_are(count)));
            let own =
                u64::from(self.plain(set).get()) * u64::from(set.cycle.times) * u64::from(rounds);
            let own = self.transfer.true_length(u32::try_from(own).unwrap_or(u32::MAX));
            let others = stands.grid().saturating_sub(own.grid());
            let share = wish.grid().saturating_sub(others) / u64::from(rounds.max(1));
            for (new, awkward_mm) in self.set(set, TrueLength::from_grid(share), false) {
                if new == self.stands(set) {
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
        let mut seconds = self.without_a_swim(line, pick);
        let mut walls = u32::from(line.lengths().is_multiple_of(2) && lengths % 2 == 1);
        for (set, new, rounds) in self.picked(line, pick) {
            let run = self.transfer.run_time(set, new.run);
            seconds = seconds.plus(run.of_times(set, new.times).times(rounds));
            let was_home = set.cycle.lengths().ends_at_start();
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
                let stands = self.stands(set);
                let new = inner.filter(|(at, _)| *at == index).map_or(stands, |(_, new)| new);
                (set, new, rounds / (*written).max(1) * count)
            }
            (Pick::Rounds { count, .. }, _) => (set, self.stands(set), count),
        })
        .collect()
    }

    fn pick_lengths(&self, line: &CheckedLine, pick: Pick) -> u32 {
        self.picked(line, pick).into_iter().fold(0, |sum: u32, (_, new, rounds)| {
            sum.saturating_add(new.lengths().saturating_mul(rounds))
        })
    }

    /// The time of a line that goes by without a swim: its activities, and the rests between rounds.
    fn without_a_swim(&self, line: &CheckedLine, pick: Pick) -> Seconds {
        match (line, pick) {
            (CheckedLine::Rounds { lines, rest, .. }, Pick::Rounds { count, .. }) => {
                self.transfer.round_without_a_swim(lines, rest.as_ref(), count)
            }
            (CheckedLine::Activity(activity), _) => activity.time.value,
            _ => Seconds::ZERO,
        }
    }

    /// Whether a set of rounds keeps its numbers while the others and the rounds change: a single
    /// swim among others that is no long one, and every set of a group that rises or falls.
    fn keeps_its_place(&self, line: &CheckedLine, set: &CheckedSet) -> bool {
        let sets = sets_of(line);
        let lone = set.repeats() == 1 && !self.is_long(set);
        sets.len() > 1 && (lone || rises_or_falls(&sets))
    }

    fn is_long(&self, set: &CheckedSet) -> bool {
        if set.cycle.is_shaped() {
            return false;
        }
        let pool = self.transfer.home_pool();
        pool.distance(set.cycle.run()).sixths() >= Distance::whole(LONG_SWIM, pool.unit()).sixths()
    }

    fn allowed(&self, set: &CheckedSet, new: Numbers) -> bool {
        let most = Distance::whole(LIMITS.repeat_distance.most, self.transfer.pool.unit());
        let repeats = u64::from(new.times).saturating_mul(set.cycle.repeats.len() as u64);
        new.run.get() > 0
            && LIMITS.repeats.holds(repeats)
            && self.transfer.pool.distance(new.run).sixths() <= most.sixths()
    }

    /// How awkward new numbers are against the written ones.
    fn awkward_mm(&self, set: &CheckedSet, new: Numbers) -> u64 {
        let own = Numbers { times: set.cycle.times, run: set.cycle.run() };
        if self.transfer.same_pool() && new == own {
            return 0;
        }
        if set.cycle.is_shaped() {
            return self.awkward_shape_mm(set, new);
        }
        let mut sum = self.awkward_lengths_mm(set, new.run.get());
        if new.times != own.times {
            if new.times >= 7 && new.times % 2 == 1 {
                sum += awkward::ODD_COUNT_MM;
            }
            if new.times % 2 == 1 && own.times.is_multiple_of(2) {
                sum += awkward::PAIR_BROKEN_MM;
            }
            if new.times == 1 {
                sum += awkward::LONE_REPEAT_MM;
            }
        }
        sum
    }

    fn awkward_lengths_mm(&self, set: &CheckedSet, each: u32) -> u64 {
        if self.transfer.same_pool() && each == set.cycle.run().get() {
            return 0;
        }
        let mut sum = 0;
        let stands = each == self.plain(set).get();
        if each == 7 || !stands {
            sum += awkward::lengths_mm(each);
        }
        if set.cycle.run().ends_at_start() && each % 2 == 1 {
            sum += awkward::REPEAT_ENDS_AWAY_MM;
        }
        if self.is_long(set) {
            let fifty = Distance::whole(50, self.transfer.pool.unit()).sixths();
            let sixths = self.transfer.pool.distance(Lengths::new(each)).sixths();
            sum += if sixths.is_multiple_of(fifty) { 0 } else { awkward::LONG_NO_FIFTY_MM };
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
pub(super) fn whole_times(whole: u64, length: u64) -> u32 {
    let length = length.max(1);
    u32::try_from((2 * whole + length) / (2 * length)).unwrap_or(u32::MAX).max(1)
}

/// Whether the sets of rounds, all of one stroke and mode, go up or down from each to the next, all the way: 4, 3, 2, 1 of one
/// swim, or the same number of longer and longer ones.
fn rises_or_falls(sets: &[(&CheckedSet, u32)]) -> bool {
    let alike = |(set, _): &(&CheckedSet, u32)| (set.stroke(), set.mode());
    let same_swim = sets.windows(2).all(|pair| alike(&pair[0]) == alike(&pair[1]));
    let steps = |of: fn(&CheckedSet) -> u32| {
        let values: Vec<u32> = sets.iter().map(|(set, _)| of(set)).collect();
        values.windows(2).all(|pair| pair[0] < pair[1])
            || values.windows(2).all(|pair| pair[0] > pair[1])
    };
    sets.len() > 2
        && same_swim
        && (steps(|set| set.repeats()) || steps(|set| set.cycle.run().get()))
}

/// The sets of a line with the rounds that hold each, multiplied up.
pub(super) fn sets_of(line: &CheckedLine) -> Vec<(&CheckedSet, u32)> {
    let mut sets = Vec::new();
    each_set(std::slice::from_ref(line), 1, &mut |set, rounds| sets.push((set, rounds)));
    sets
}
