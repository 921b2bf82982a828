//! What a set is swum in: a cycle of repeats, each of legs in whole lengths.
//!
//! `6 x 50 free` is a cycle of one repeat of one leg, swum six times; there is no other kind of set.

mod made;
mod resize;

pub use resize::{Resize, Respelled, names_repeats, respelled};

use super::speed::Factors;
use crate::measure::{Distance, Lengths, Pace, Pool, Seconds, TrueLength};
use crate::session::words::{Effort, EffortWord, Mode, Movement, Stroke};

/// The repeats of a set in order, swum through a whole number of times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cycle {
    /// The repeats in order, one at least.
    pub repeats: Vec<Repeat>,
    /// How many times through, once at least.
    pub times: u32,
}

/// Legs in order without a stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repeat {
    /// One leg at least.
    pub legs: Vec<Leg>,
    /// How long it takes, where a time is what was written: its lengths are those that the pace
    /// fills.
    pub time: Option<Seconds>,
    /// The rest after it, where it is its own: between the pieces of a broken swim.
    pub rest: Option<Seconds>,
    /// A send-off of its own.
    pub on: Option<Seconds>,
}

/// Whole lengths swum in one way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leg {
    /// How many lengths; none of less than a length, and of what covers no distance.
    pub lengths: Lengths,
    /// The sixths of the pool's unit in less than a length.
    pub short_sixths: u32,
    /// The stroke.
    pub stroke: Stroke,
    /// The mode.
    pub mode: Mode,
    /// A way of moving that covers no distance.
    pub movement: Option<Movement>,
    /// How hard, where it is not as the set says.
    pub effort: Option<EffortWord>,
}

/// Why a swim line makes no cycle in a pool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CycleError {
    /// A distance in the other unit than the pool's.
    OtherUnit(crate::measure::Unit),
    /// A distance that ends between two walls.
    NotWhole(Distance),
    /// No distance at all, or one that is too long.
    OutOfRange,
    /// More repeats than a set may have.
    TooManyRepeats(u64),
    /// More legs than a repeat may have.
    TooManyLegs(u64),
    /// Legs or pieces that are not the whole.
    NotTheSum {
        /// What they add up to.
        sum: Distance,
        /// The whole.
        whole: Distance,
    },
    /// Ways in turn for which there are too few lengths, and too few repeats to have one each.
    TooFewLengths(usize),
    /// The number of a repeat that is not there.
    NoSuchRepeat(u64),
    /// A width, where nobody says how wide the pool is.
    NoWidth,
    /// A way of moving on the spot with a distance.
    OnTheSpot(Movement),
}

impl Leg {
    /// How far, in a pool.
    pub fn distance(&self, pool: Pool) -> Distance {
        let sixths = pool.distance(self.lengths).sixths() + u64::from(self.short_sixths);
        Distance::from_sixths(sixths, pool.unit())
    }

    fn factors(&self, of: &Factors, set: Option<Effort>) -> [u32; 3] {
        let effort = self.effort.as_ref().map(|effort| effort.counts).or(set);
        of.of(self.stroke, self.mode, effort)
    }
}

impl Repeat {
    /// All its lengths.
    pub fn lengths(&self) -> Lengths {
        Lengths::new(self.legs.iter().map(|leg| leg.lengths.get()).fold(0, u32::saturating_add))
    }

    /// The sixths of a unit that are less than a length.
    pub fn short_sixths(&self) -> u32 {
        self.legs.iter().map(|leg| leg.short_sixths).fold(0, u32::saturating_add)
    }

    /// How far, in a pool.
    pub fn distance(&self, pool: Pool) -> Distance {
        let legs = self.legs.iter().map(|leg| leg.distance(pool));
        Distance::sum(pool.unit(), legs)
    }

    /// Whether it has less than a length in it, or covers no distance.
    pub fn is_short(&self) -> bool {
        self.legs.iter().any(|leg| leg.lengths.get() == 0)
    }

    /// The time to swim it: that of its legs together, rounded once. `set` is the effort of what
    /// does not say its own.
    pub fn swim_time(
        &self,
        pool: Pool,
        pace: Pace,
        factors: &Factors,
        set: Option<Effort>,
    ) -> Seconds {
        self.swim_time_of(pool, pace, (factors, set), Resize::NONE)
    }

    /// The time to swim it in another size.
    pub(crate) fn swim_time_of(
        &self,
        pool: Pool,
        pace: Pace,
        (factors, set): (&Factors, Option<Effort>),
        resize: Resize,
    ) -> Seconds {
        if let Some(time) = self.time {
            return time;
        }
        let legs = self.legs.iter();
        let legs = legs.map(|leg| (resize.distance_of(leg, pool), leg.factors(factors, set)));
        pace.time_of_legs(legs).unwrap_or(Seconds::new(u32::MAX))
    }

    /// The same repeat with as many lengths as its time allows, where it has a time.
    fn filled(&self, pool: Pool, pace: Pace, factors: &Factors, set: Option<Effort>) -> Repeat {
        let (Some(time), [leg]) = (self.time, self.legs.as_slice()) else { return self.clone() };
        if leg.movement.is_some() {
            return self.clone();
        }
        let lengths = pace.lengths_in(time, pool, leg.factors(factors, set));
        Repeat { legs: vec![Leg { lengths, ..leg.clone() }], ..self.clone() }
    }
}

impl Cycle {
    /// All repeats.
    pub fn repeat_count(&self) -> u32 {
        let each = u32::try_from(self.repeats.len()).unwrap_or(u32::MAX);
        self.times.saturating_mul(each)
    }

    /// The lengths of one time through.
    pub fn run(&self) -> Lengths {
        let lengths = self.repeats.iter().map(|repeat| repeat.lengths().get());
        Lengths::new(lengths.fold(0, u32::saturating_add))
    }

    /// All lengths.
    pub fn lengths(&self) -> Lengths {
        Lengths::new(self.run().get().saturating_mul(self.times))
    }

    /// The lengths of its longest repeat.
    pub fn longest(&self) -> Lengths {
        self.repeats.iter().map(Repeat::lengths).max().unwrap_or_default()
    }

    /// Every leg of one time through.
    pub fn legs(&self) -> impl Iterator<Item = &Leg> {
        self.repeats.iter().flat_map(|repeat| &repeat.legs)
    }

    /// Whether all its repeats are of the same lengths.
    pub fn is_even(&self) -> bool {
        let mut lengths =
            self.repeats.iter().map(|repeat| (repeat.lengths(), repeat.short_sixths()));
        let first = lengths.next();
        lengths.all(|other| Some(other) == first)
    }

    /// Whether any of its lengths follow from a time.
    pub fn is_about(&self) -> bool {
        let about = |repeat: &Repeat| repeat.time.is_some() && repeat.lengths().get() > 0;
        self.repeats.iter().any(about)
    }

    /// Whether a repeat has a time, or less than a length: the set is then swum as it is in any pool.
    pub fn is_held(&self) -> bool {
        self.repeats.iter().any(|repeat| repeat.time.is_some() || repeat.is_short())
    }

    /// Whether its repeats are pieces of a broken swim.
    pub fn is_broken(&self) -> bool {
        self.repeats.iter().any(|repeat| repeat.rest.is_some())
    }

    /// Whether it has several repeats or several legs.
    pub fn is_shaped(&self) -> bool {
        self.repeats.len() > 1 || self.repeats.iter().any(|repeat| repeat.legs.len() > 1)
    }

    /// The stroke that most of it is swum in, the first of several.
    pub fn stroke(&self) -> Stroke {
        self.most_of(|leg| leg.stroke).unwrap_or(Stroke::Free)
    }

    /// The mode that most of it is swum in, the first of several.
    pub fn mode(&self) -> Mode {
        self.most_of(|leg| leg.mode).unwrap_or(Mode::Swim)
    }

    fn most_of<T: Copy + PartialEq>(&self, of: impl Fn(&Leg) -> T) -> Option<T> {
        let mut sums: Vec<(T, u32)> = Vec::new();
        for leg in self.legs() {
            match sums.iter_mut().find(|(known, _)| *known == of(leg)) {
                Some((_, sum)) => *sum = sum.saturating_add(leg.lengths.get()),
                None => sums.push((of(leg), leg.lengths.get())),
            }
        }
        let most = sums.iter().map(|(_, sum)| *sum).max();
        sums.iter().find(|(_, sum)| Some(*sum) == most).map(|(which, _)| *which)
    }

    /// The hardest effort of it, where `set` is what the set says.
    pub fn hardest(&self, set: Option<Effort>) -> Option<Effort> {
        self.legs().filter_map(|leg| leg.effort.as_ref().map(|own| own.counts).or(set)).max()
    }

    /// The same cycle with timed repeats filled at a pace.
    pub fn filled(&self, pool: Pool, pace: Pace, factors: &Factors, set: Option<Effort>) -> Cycle {
        let repeats = self.repeats.iter().map(|repeat| repeat.filled(pool, pace, factors, set));
        Cycle { repeats: repeats.collect(), times: self.times }
    }

    /// Everything it is in a pool, one time through.
    pub fn true_length(&self, pool: Pool) -> TrueLength {
        let legs = self.legs().map(|leg| leg.distance(pool).true_length().grid());
        TrueLength::from_grid(legs.fold(0, u64::saturating_add))
    }
}
