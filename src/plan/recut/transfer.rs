//! What sets are worked out against: the water they were written for and the one they are
//! cut for.

use crate::check::{CheckedLine, CheckedSession, CheckedSet, Timing, each_set};
use crate::measure::{Distance, Lengths, Pace, Pool, Seconds, TrueLength};
use crate::plan::send_off;
use crate::session::Lane;
use crate::session::words::Mode;

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

    /// How a repeat of `each` lengths is spaced here.
    ///
    /// A rest stays as it is. A send-off stays where nothing has changed, and elsewhere
    /// keeps the rest that it left.
    pub fn timing(&self, set: &CheckedSet, each: Lengths) -> Timing {
        let untouched = self.same_pool() && !self.for_lane && each == set.each;
        match set.timing.value {
            Timing::SendOff(written) if !untouched => {
                let swim = self.written.swim_time(self.pace, self.pool.distance(each), set);
                Timing::SendOff(send_off::carried(written, self.home_swim(set), swim))
            }
            timing => timing,
        }
    }

    /// The time from one start to the next, for a repeat of `each` lengths.
    pub fn repeat_seconds(&self, set: &CheckedSet, each: Lengths) -> Seconds {
        match self.timing(set, each) {
            Timing::Rest(rest) => {
                self.written.swim_time(self.pace, self.pool.distance(each), set).plus(rest)
            }
            Timing::SendOff(every) => every,
        }
    }

    /// The time a set would take here if it could keep its distance exactly.
    pub fn ideal_seconds(&self, set: &CheckedSet) -> Seconds {
        if self.same_pool() {
            return self.repeat_seconds(set, set.each).times(set.repeats);
        }
        let swim = self.written.swim_time(self.pace, self.home_pool().distance(set.each), set);
        let repeat = match set.timing.value {
            Timing::Rest(rest) => swim.plus(rest),
            Timing::SendOff(every) => send_off::carried(every, self.home_swim(set), swim),
        };
        repeat.times(set.repeats)
    }

    fn home_swim(&self, set: &CheckedSet) -> Seconds {
        self.written.swim_time(self.written.pace, self.home_pool().distance(set.each), set)
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

/// Whether a set goes length for length wherever it can: a test, or a drill.
pub(super) fn keeps_lengths(set: &CheckedSet) -> bool {
    set.fixed || set.mode == Mode::Drill
}

impl Transfer<'_> {
    /// Whether a set is never changed: a test, a drill, or one whose cue names its numbers where it
    /// can have them here too.
    pub fn holds(&self, set: &CheckedSet) -> bool {
        let named = set.cue_names.holds_repeats() && self.lengths_of_cue(set).is_some();
        keeps_lengths(set) || named
    }

    /// The lengths here that are the number of a repeat whose cue holds its distance.
    pub fn lengths_of_cue(&self, set: &CheckedSet) -> Option<Lengths> {
        let number = self.home_pool().distance(set.each).thirds();
        let here = Distance::from_thirds(number, self.pool.unit());
        set.cue_names.holds_distance().then(|| self.pool.lengths(here)).flatten()
    }

    /// Whether a line is never changed: a held set, or rounds around a test or of nothing but
    /// held sets.
    pub fn holds_line(&self, line: &CheckedLine) -> bool {
        match line {
            CheckedLine::Set(set) => self.holds(set),
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
