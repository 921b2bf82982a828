//! What a set of several repeats or legs may become: its shape length for length, or scaled as one.

use super::choices::{Chooser, Numbers, whole_times};
use super::transfer::keeps_lengths;
use crate::check::CheckedSet;
use crate::check::cycle::Resize;
use crate::check::medley::strokes_of_medley;
use crate::measure::{Lengths, TrueLength};
use crate::plan::awkward;
use crate::session::words::Stroke;

/// A shape in whole steps of its own is preferred while it is no further than one part in so many
/// from the written distance.
const NEAR_IN_STEPS: u64 = 4;

impl Chooser<'_> {
    /// The lengths of one time through a shaped set here, when nothing is changed for the sake of a
    /// total: length for length in pools of about one size, else the nearest in which the shape can
    /// be swum, in whole steps of its own where those are near.
    pub(super) fn plain_in_shape(&self, set: &CheckedSet) -> Lengths {
        let own = set.cycle.run();
        let old = self.transfer.home_pool().length().true_length().grid();
        let new = self.transfer.true_length(1).grid().max(1);
        let times = u64::from(whole_times(old, new));
        let alike = 4 * times * new <= 5 * old && 4 * old <= 5 * times * new;
        let same = u64::from(own.get()).saturating_mul(times);
        let same = Lengths::new(u32::try_from(same).unwrap_or(u32::MAX));
        if (alike || keeps_lengths(set)) && self.is_in_shape(set, same) {
            return same;
        }
        let wanted = whole_times(self.own_run(set), new);
        let (in_steps, by_rounding) = self.nearest_runs(set, wanted);
        let off = |run: Lengths| u64::from(run.get().abs_diff(wanted));
        match (in_steps, by_rounding) {
            (Some(steps), _) if NEAR_IN_STEPS * off(steps) <= u64::from(wanted) => steps,
            (_, Some(rounded)) => rounded,
            (Some(steps), None) => steps,
            (None, None) => own,
        }
    }

    /// The runs nearest to a wanted one in which the shape can be swum: in its own steps, and by
    /// rounding each leg.
    fn nearest_runs(&self, set: &CheckedSet, wanted: u32) -> (Option<Lengths>, Option<Lengths>) {
        let own = set.cycle.run().get();
        let in_steps = self.steps_around(set, wanted).into_iter().next();
        let far = wanted.max(own).saturating_add(own).min(MOST_SEARCHED);
        let by_rounding = (0..=far).find_map(|off| {
            let near = [wanted.checked_sub(off), wanted.checked_add(off)];
            let mut near = near.into_iter().flatten().map(Lengths::new);
            near.find(|run| run.get() > 0 && self.is_in_shape(set, *run))
        });
        (in_steps, by_rounding)
    }

    /// The runs in whole steps of the shape, nearest first: two below and two above.
    fn steps_around(&self, set: &CheckedSet, wanted: u32) -> Vec<Lengths> {
        let unit = (set.cycle.run().get() / set.cycle.step()).max(1);
        let near = wanted / unit;
        let steps = near.saturating_sub(1).max(1)..=near.saturating_add(2);
        let mut runs: Vec<Lengths> = steps
            .map(|steps| Lengths::new(steps.saturating_mul(unit)))
            .filter(|run| self.is_in_shape(set, *run))
            .collect();
        runs.sort_by_key(|run| run.get().abs_diff(wanted));
        runs
    }

    /// Whether the shape can be swum in a run of so many lengths, its medleys too.
    fn is_in_shape(&self, set: &CheckedSet, run: Lengths) -> bool {
        let Some(resize) = set.cycle.resize_to(run) else { return false };
        let (home, here) = (self.transfer.home_pool(), self.transfer.pool);
        let resized = set.cycle.resized(resize);
        let legs = set.cycle.legs().zip(resized.legs());
        let mut medleys = legs.filter(|(was, _)| was.stroke == Stroke::Im);
        resized.run() == run
            && medleys.all(|(was, is)| {
                strokes_of_medley(was.lengths, home).is_none()
                    || strokes_of_medley(is.lengths, here).is_some()
            })
    }

    /// The runs a shaped set may have: as it stands; in another pool, or where it is swum once, also
    /// those near its own size, or near the wish.
    pub(super) fn runs_in_shape(&self, set: &CheckedSet, wish: TrueLength) -> Vec<u32> {
        let plain = self.plain(set);
        let mut runs = vec![plain];
        let length = self.transfer.true_length(1).grid().max(1);
        if self.transfer.lengths_of_cue(set).is_none() {
            if !self.transfer.same_pool() {
                let wanted = whole_times(self.own_run(set), length);
                let (in_steps, by_rounding) = self.nearest_runs(set, wanted);
                runs.extend(in_steps.into_iter().chain(by_rounding));
            }
            if set.cycle.times == 1 {
                let wanted = u32::try_from(wish.grid() / length).unwrap_or(u32::MAX);
                runs.extend(self.steps_around(set, wanted));
            }
        }
        runs.sort_unstable();
        runs.dedup();
        runs.into_iter().map(Lengths::get).collect()
    }

    /// How awkward a shaped set is in another size, or swum another number of times.
    pub(super) fn awkward_shape_mm(&self, set: &CheckedSet, new: Numbers) -> u64 {
        let mut sum = 0;
        if new.run != self.plain(set) {
            sum += awkward::OTHER_LENGTHS_MM;
        }
        let resize = set.cycle.resize_to(new.run).unwrap_or(Resize::NONE);
        let in_steps =
            new.run.get().is_multiple_of((set.cycle.run().get() / set.cycle.step()).max(1));
        if !in_steps && resize != Resize::NONE {
            sum += awkward::ODD_LENGTHS_MM;
        }
        if new.times == 1
            && set.cycle.times > 1
            && set.cycle.is_even()
            && set.cycle.repeats.len() == 1
        {
            sum += awkward::LONE_REPEAT_MM;
        }
        sum
    }
}

/// No shape is looked for further away than so many lengths.
const MOST_SEARCHED: u32 = 400;
