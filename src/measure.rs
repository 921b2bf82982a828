//! Quantities with their units: time, pool length, distance, pace.
//!
//! Nothing here is a float. Every training pool in use is a whole number of
//! thirds of its unit long (25 m, 20 yd, 33 1/3 m), and half a length may be swum, so a
//! distance is counted in sixths. A third of a yard is a foot, 0.3048 m exactly (international
//! yard and pound agreement, 1959), so distances in the two units compare exactly on a grid of
//! 1/30000 m: a sixth of a metre is 5000 of those, half a foot 4572.
//!
//! ```
//! use deckcard::measure::{Distance, Pace, Pool, Seconds, Unit};
//!
//! // 75 m at 2:30 per 100 m are 112.5 s, rounded half up; factors are in thousandths.
//! let pace = Pace { per_100: Seconds::new(150), unit: Unit::Metre };
//! let swim = pace.swim_time(Distance::whole(75, Unit::Metre), [1000, 1000, 1000]);
//! assert_eq!(swim, Some(Seconds::new(113)));
//! // 1,500 m in a pool of 25 m are 60 lengths; 60 m are no whole number of them.
//! let pool: Pool = "25 m".parse().unwrap();
//! assert_eq!(pool.lengths("1500 m".parse().unwrap()).map(|lengths| lengths.get()), Some(60));
//! assert_eq!(pool.lengths("60 m".parse().unwrap()), None);
//! ```

use std::fmt;

mod bounds;
mod distance;
mod extent;
mod pool;
mod time;

pub use bounds::{Bound, LIMITS, Limits};
pub use distance::DistanceError;
pub use extent::Extent;
pub(crate) use pool::with_commas;
pub use pool::{Distance, Lengths, Pool, PoolError, TrueLength, Unit};
pub use time::{Date, DateError, Seconds, TimeError, TimeOfDay};

/// What three factors in thousandths are divided by.
const FACTORS_DENOMINATOR: u128 = 1_000_000_000;

/// Time to swim 100 m or 100 yd at steady whole-stroke freestyle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pace {
    /// Time for 100 of `unit`.
    pub per_100: Seconds,
    /// The unit the 100 is counted in.
    pub unit: Unit,
}

impl Pace {
    /// The time to swim legs one after the other, each with its factors, in whole seconds: rounded
    /// half up, once, from the exact sum.
    ///
    /// `None` when the result is more seconds than a `u32` holds; inside [`LIMITS`] it never is.
    pub fn time_of_legs(
        self,
        legs: impl IntoIterator<Item = (Distance, [u32; 3])>,
    ) -> Option<Seconds> {
        let hundred = Distance::whole(100, self.unit).true_length().grid();
        let denominator = u128::from(hundred) * FACTORS_DENOMINATOR;
        let mut numerator: u128 = 0;
        for (distance, factors) in legs {
            let grid = u128::from(distance.true_length().grid());
            let mut leg = grid * u128::from(self.per_100.get());
            for factor in factors {
                leg = leg.checked_mul(u128::from(factor))?;
            }
            numerator = numerator.checked_add(leg)?;
        }
        let rounded = (2 * numerator + denominator) / (2 * denominator);
        u32::try_from(rounded).ok().map(Seconds::new)
    }

    /// The whole lengths of a pool that are swum in `time`, rounded down.
    pub fn lengths_in(self, time: Seconds, pool: Pool, factor_permille: [u32; 3]) -> Lengths {
        let hundred = u128::from(Distance::whole(100, self.unit).true_length().grid());
        let length = u128::from(pool.length().true_length().grid());
        let factors = factor_permille.iter().map(|factor| u128::from(*factor)).product::<u128>();
        let each = length * u128::from(self.per_100.get()) * factors;
        let all = u128::from(time.get()) * hundred * FACTORS_DENOMINATOR;
        Lengths::new(all.checked_div(each).and_then(|all| u32::try_from(all).ok()).unwrap_or(0))
    }

    /// The time to swim `distance`, in whole seconds, rounded half up.
    ///
    /// `factor_permille` are factors in thousandths that multiply the time (one
    /// for the stroke, one for the mode, one for the effort). The distance may be
    /// in the other unit; it is converted exactly and rounded once, at the end.
    ///
    /// `None` when the result is more seconds than a `u32` holds; inside [`LIMITS`] it never is.
    pub fn swim_time(self, distance: Distance, factor_permille: [u32; 3]) -> Option<Seconds> {
        self.time_of_legs([(distance, factor_permille)])
    }
}

impl fmt::Display for Pace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} per 100 {}", self.per_100, self.unit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pace(per_100: u32, unit: Unit) -> Pace {
        Pace { per_100: Seconds::new(per_100), unit }
    }

    #[test]
    fn swim_time_rounds_half_up_once() {
        // By hand: 75 m at 2:30 per 100 = 112.5 s, which rounds up to 113.
        let time = pace(150, Unit::Metre).swim_time(Distance::whole(75, Unit::Metre), [1000; 3]);
        assert_eq!(time, Some(Seconds::new(113)));
        // By hand: 50 x 1.5 s = 75 s; x 1.6 (kick) x 1.1 (easy) = 132 s.
        let time =
            pace(150, Unit::Metre).swim_time(Distance::whole(50, Unit::Metre), [1000, 1600, 1100]);
        assert_eq!(time, Some(Seconds::new(132)));
    }

    #[test]
    fn pace_in_metres_times_a_swim_in_yards() {
        // By hand: 100 yd = 91.44 m; at 100 s per 100 m that is 91.44 s, so 91 s.
        let time = pace(100, Unit::Metre).swim_time(Distance::whole(100, Unit::Yard), [1000; 3]);
        assert_eq!(time, Some(Seconds::new(91)));
    }
}
