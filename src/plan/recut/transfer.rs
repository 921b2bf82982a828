//! What sets are worked out against: the water they were written for and the one they are
//! cut for.

use super::choices::Numbers;
use crate::check::cycle::{Repeat, Resize};
use crate::check::{
    CheckedLine, CheckedSession, CheckedSet, Timing, between_rounds, each_set, per_100,
};
use crate::finding::Placed;
use crate::measure::{Distance, Lengths, Pace, Pool, Seconds, TrueLength};
use crate::plan::send_off;
use crate::session::Lane;
use crate::session::words::Keep;

/// One session on its way from the pool and pace it was written for to others.
#[derive(Clone, Copy)]
pub(super) struct Transfer<'a> {
    pub written: &'a CheckedSession,
    pub pool: Pool,
    pub pace: Pace,
    pub for_lane: bool,
    /// Whether parts are drawn into the level's bands from outside them too.
    pub into_bands: bool,
    /// Whether no set more than doubles or halves: for the other pool, where no less is asked for.
    pub keeps_sizes: bool,
}

impl<'a> Transfer<'a> {
    pub fn new(written: &'a CheckedSession, pool: Pool, lane: Option<&Lane>) -> Self {
        let (pace, for_lane) = (written.pace_of(lane), lane.is_some());
        Self { written, pool, pace, for_lane, into_bands: false, keeps_sizes: false }
    }

    pub fn home_pool(&self) -> Pool {
        self.written.pool.value
    }

    /// Whether repeats keep their lengths because the pool is the same.
    pub fn same_pool(&self) -> bool {
        self.pool == self.home_pool()
    }

    /// A set swum so many times through in a run of so many lengths, with its send-offs here.
    ///
    /// A rest stays as it is. A send-off stays where nothing has changed, and elsewhere keeps the rest
    /// that it left.
    pub fn recut(&self, set: &CheckedSet, new: Numbers) -> CheckedSet {
        let resize = resize_of(set, new.run);
        let mut cut = set.recut(self.home_pool(), self.pool, new.times, resize);
        if set.cycle.is_held() {
            cut.cycle = cut.cycle.filled(self.pool, self.pace, &self.written.factors, set.effort());
        }
        if !self.is_untouched(set, new.run) {
            let mut carried = Vec::new();
            for (now, was) in cut.cycle.repeats.iter_mut().zip(&set.cycle.repeats) {
                now.on = was.on.map(|on| {
                    send_off::carried(on, self.home_swim(set, was), self.swim(set, was, resize))
                });
                carried.extend(was.on.zip(now.on));
            }
            cut.swim.carry_send_offs(&carried);
        }
        cut.timing.value = self.timing(set, resize, new.run);
        cut
    }

    fn is_untouched(&self, set: &CheckedSet, run: Lengths) -> bool {
        self.same_pool() && !self.for_lane && run == set.cycle.run()
    }

    /// How the repeats are spaced here.
    fn timing(&self, set: &CheckedSet, resize: Resize, run: Lengths) -> Timing {
        if self.is_untouched(set, run) {
            return set.timing.value;
        }
        let longest = |swim: &dyn Fn(&Repeat) -> Seconds| {
            let swims = set.cycle.repeats.iter().map(swim);
            match set.cycle.is_broken() {
                true => swims.fold(Seconds::ZERO, Seconds::plus),
                false => swims.max().unwrap_or(Seconds::ZERO),
            }
        };
        match set.timing.value {
            Timing::SendOff(written) => {
                let home = longest(&|repeat| self.home_swim(set, repeat));
                let here = longest(&|repeat| self.swim(set, repeat, resize));
                Timing::SendOff(send_off::carried(written, home, here))
            }
            Timing::Per100(written) => {
                let hundred = |pool: Pool, pace: Pace| {
                    let distance = Distance::whole(100, pool.unit());
                    let factors = self.written.factors.of(set.stroke(), set.mode(), set.effort());
                    pace.swim_time(distance, factors).unwrap_or(Seconds::new(u32::MAX))
                };
                let home = hundred(self.home_pool(), self.written.pace);
                Timing::Per100(send_off::carried(written, home, hundred(self.pool, self.pace)))
            }
            timing => timing,
        }
    }

    /// The time to swim a repeat here, in another size.
    fn swim(&self, set: &CheckedSet, repeat: &Repeat, resize: Resize) -> Seconds {
        let factors = &self.written.factors;
        repeat.swim_time_of(self.pool, self.pace, (factors, set.effort()), resize)
    }

    fn home_swim(&self, set: &CheckedSet, repeat: &Repeat) -> Seconds {
        let (pool, pace) = (self.home_pool(), self.written.pace);
        repeat.swim_time(pool, pace, &self.written.factors, set.effort())
    }

    /// What one time through a set takes here, in a run of so many lengths.
    pub fn run_time(&self, set: &CheckedSet, run: Lengths) -> RunTime {
        let resize = resize_of(set, run);
        let timing = self.timing(set, resize, run);
        self.run_time_of(set, resize, timing, self.is_untouched(set, run))
    }

    fn run_time_of(
        &self,
        set: &CheckedSet,
        resize: Resize,
        timing: Timing,
        untouched: bool,
    ) -> RunTime {
        let mut time = RunTime::default();
        let broken = set.cycle.is_broken();
        for repeat in &set.cycle.repeats {
            let swim = self.swim(set, repeat, resize);
            let own = repeat.on.map(|on| match untouched {
                true => on,
                false => send_off::carried(on, self.home_swim(set, repeat), swim),
            });
            let rest = match (own, timing) {
                (Some(on), _) => on.less(swim),
                (None, _) if repeat.rest.is_some() => repeat.rest.unwrap_or_default(),
                (None, Timing::Rest(said)) => said.counts(),
                (None, Timing::Unsaid(rest)) => rest,
                // A broken swim has its send-off from its first piece on.
                (None, Timing::SendOff(on)) if broken => on.less(time.seconds.plus(swim)),
                (None, Timing::SendOff(on)) => on.less(swim),
                (None, Timing::Per100(on)) => {
                    let distance = repeat.resized(resize).distance(self.pool);
                    per_100(on, distance).less(swim)
                }
            };
            time.seconds = time.seconds.plus(swim).plus(rest);
            time.last_rest = rest;
        }
        time
    }

    /// The time of a set as it is, in its own water: no send-off changes any more.
    pub fn set_seconds(&self, set: &CheckedSet) -> Seconds {
        let run = self.run_time_of(set, Resize::NONE, set.timing.value, true);
        run.of_times(set, set.cycle.times)
    }

    /// The time a set would take here if it could keep its distance exactly.
    pub fn ideal_seconds(&self, set: &CheckedSet) -> Seconds {
        let run = set.cycle.run();
        if self.same_pool() || set.cycle.is_held() {
            return self.run_time(set, run).of_times(set, set.cycle.times);
        }
        // The swims of the written distances at this pace.
        let home = Transfer { pool: self.home_pool(), for_lane: true, ..*self };
        home.run_time(set, run).of_times(set, set.cycle.times)
    }

    /// The time of `count` rounds of lines that goes by without a swim: activities, and the rests
    /// between rounds, as far as they are longer than the rest after the last repeat.
    pub fn round_without_a_swim(
        &self,
        lines: &[CheckedLine],
        rest: Option<&Placed<Seconds>>,
        count: u32,
    ) -> Seconds {
        let once = lines.iter().fold(Seconds::ZERO, |sum, line| match line {
            CheckedLine::Activity(activity) => sum.plus(activity.time.value),
            CheckedLine::Rounds { count, rest, lines, .. } => {
                sum.plus(self.round_without_a_swim(lines, rest.as_ref(), *count))
            }
            CheckedLine::Set(_) | CheckedLine::Remark(_) => sum,
        });
        let between = between_rounds(rest, lines);
        once.times(count).plus(between.times(count.saturating_sub(1)))
    }

    /// The true length of `lengths` here.
    pub fn true_length(&self, lengths: u32) -> TrueLength {
        self.pool.distance(Lengths::new(lengths)).true_length()
    }

    /// The true length of a line as written.
    pub fn own_length(&self, line: &CheckedLine) -> TrueLength {
        self.home_pool().distance(Lengths::new(line.lengths())).true_length()
    }
}

/// The time of one time through a set.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct RunTime {
    pub seconds: Seconds,
    last_rest: Seconds,
}

impl RunTime {
    /// The time of a set that is swum so many times through.
    pub fn of_times(self, set: &CheckedSet, times: u32) -> Seconds {
        let all = self.seconds.times(times);
        match &set.rest_after {
            Some(after) => all.less(self.last_rest).plus(after.value),
            None => all,
        }
    }
}

/// What the legs of a set become in a run of so many lengths.
fn resize_of(set: &CheckedSet, run: Lengths) -> Resize {
    match set.cycle.is_held() {
        true => Resize::NONE,
        false => set.cycle.resize_to(run).unwrap_or(Resize::NONE),
    }
}

/// Whether a set goes length for length wherever it can: a test, a drill, or one that says so.
pub(super) fn keeps_lengths(set: &CheckedSet) -> bool {
    let says_so = set.keep.as_ref().is_some_and(|keep| keep.value == Keep::Lengths);
    set.fixed || set.is_drill() || says_so
}

impl Transfer<'_> {
    /// Whether a set is never changed: a test, a drill, or one whose cue names its numbers where it
    /// can have them here too.
    pub fn holds(&self, set: &CheckedSet) -> bool {
        let named = set.cue_names.holds_repeats() && self.lengths_of_cue(set).is_some();
        keeps_lengths(set) || named || set.cycle.is_held()
    }

    /// The lengths here that are the number of a repeat whose cue holds its distance.
    pub fn lengths_of_cue(&self, set: &CheckedSet) -> Option<Lengths> {
        let number = self.home_pool().distance(set.cycle.run()).sixths();
        let here = Distance::from_sixths(number, self.pool.unit());
        let lengths = set.cue_names.holds_distance().then(|| self.pool.lengths(here)).flatten();
        lengths.filter(|run| set.cycle.resize_to(*run).is_some())
    }

    /// Whether a line is never changed: a held set, or rounds around a test or of nothing but
    /// held sets.
    pub fn holds_line(&self, line: &CheckedLine) -> bool {
        match line {
            CheckedLine::Set(set) => self.holds(set),
            CheckedLine::Activity(_) | CheckedLine::Remark(_) => true,
            CheckedLine::Rounds { .. } => {
                let (mut any_fixed, mut all_held) = (false, true);
                each_set(std::slice::from_ref(line), 1, &mut |set, _| {
                    any_fixed |= set.fixed;
                    all_held &= self.holds(set);
                });
                any_fixed || all_held
            }
        }
    }
}
