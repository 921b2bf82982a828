//! What a wish that cannot be met would have to give: the nearest sessions there are.

use super::{Engine, PATIENCE_OF_A_REFUSAL, out_and_back, pair_around};
use crate::draft::search::{Patience, Window, best};
use crate::draft::{DraftError, Nearest};
use crate::measure::{Lengths, Seconds};

/// The nearest session is looked for up to so many lengths.
const FARTHEST_LENGTHS: u32 = 500;

impl Engine<'_> {
    /// Why there is no such session: the nearest there are.
    pub(super) fn refused(&mut self) -> DraftError {
        self.patience = Patience::of(PATIENCE_OF_A_REFUSAL);
        let (wish, about) = (self.wish, self.about_lengths());
        let swim = self.unbroken.take();
        if let (Some(swim), Some(asked)) = (&swim, wish.unbroken) {
            self.unbroken = Some(swim.clone());
            if let Some(needs) = self.nearest(swim.lengths, true, |_| true)
                && !self.holds(needs)
            {
                let unbroken = wish.pool.distance(Lengths::new(out_and_back(wish, asked)));
                return DraftError::Unbroken { unbroken, needs };
            }
        }
        if let (Some(wanted), Some(time)) = (wish.distance, wish.time) {
            let (_, wished, _) = pair_around(wish, wanted);
            if let Some(quickest) = self.at_lengths(wished)
                && quickest.seconds > time
            {
                return DraftError::TooLong { wanted, time, quickest };
            }
        }
        if let Some(wanted) = wish.distance {
            let (_, wished, _) = pair_around(wish, wanted);
            let below = self.nearest(wished, false, |_| true);
            let above = self.nearest(wished, true, |_| true);
            return DraftError::Distance { wanted, below, above };
        }
        let wanted = wish.time.unwrap_or_default();
        let below = self.nearest(about, false, |near| near.seconds < wanted);
        let above = self.nearest(about, true, |near| near.seconds > wanted);
        DraftError::Time { wanted, below, above }
    }

    /// Whether a session is inside what the wish allows.
    fn holds(&self, near: Nearest) -> bool {
        let in_time = self.wish.time.is_none_or(|time| near.seconds <= time);
        let long_enough = self.wish.distance.is_none_or(|distance| {
            let (_, _, high) = pair_around(self.wish, distance);
            near.distance.thirds() <= self.wish.pool.distance(Lengths::new(high)).thirds()
        });
        in_time && long_enough
    }

    fn about_lengths(&self) -> u32 {
        let length = self.head.pace.swim_time(self.wish.pool.length(), [1000, 1000, 1300]);
        let length = length.map_or(1, |time| time.get().max(1));
        (self.about_s() / length).clamp(2, FARTHEST_LENGTHS)
    }

    /// The first session from `from` lengths on, up or down, that is as wanted.
    fn nearest(&self, from: u32, up: bool, wanted: impl Fn(Nearest) -> bool) -> Option<Nearest> {
        let from = from / 2 * 2;
        let steps = 0..=FARTHEST_LENGTHS / 2;
        let all = steps.map_while(|step| {
            if up {
                Some(from + 2 * step).filter(|lengths| *lengths <= FARTHEST_LENGTHS)
            } else {
                from.checked_sub(2 * step).filter(|lengths| *lengths > 0)
            }
        });
        all.filter_map(|lengths| self.at_lengths(lengths)).find(|near| wanted(*near))
    }

    /// A quick session of exactly so many lengths.
    fn at_lengths(&self, lengths: u32) -> Option<Nearest> {
        let window = Window {
            seconds: (0, u32::MAX),
            lengths: (lengths, lengths),
            wished_lengths: Some(lengths),
        };
        for kinds in self.plans() {
            if self.patience.is_lost() {
                break;
            }
            let Some(sides) = self.sides(&kinds, None) else { continue };
            for main in self.mains_by_length() {
                let found = best(self.bench(), &sides, &main, window, &self.patience);
                let quickest = found.iter().map(|found| found.seconds).min();
                if let Some(seconds) = quickest {
                    let distance = self.wish.pool.distance(Lengths::new(lengths));
                    return Some(Nearest { distance, seconds: Seconds::new(seconds) });
                }
            }
        }
        None
    }
}
