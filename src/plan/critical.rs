//! Critical speed: a pace from two or more timed swims.
//!
//! The slope of distance on time (Wakayoshi et al. 1992, Int J Sports Med 13(5):367-371; two
//! swims: Dekerle et al. 2002, Int J Sports Med 23(2):93-98), by least squares, in exact
//! fractions. The 3.2 % by which two swims over-estimate it is a figure of well-trained swimmers
//! (the same paper of 2002); for others none is known here.

use std::str::FromStr;

use thiserror::Error;

use crate::measure::{LIMITS, Seconds, Unit};

/// A swim against the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimedSwim {
    /// Metres or yards, whichever the pace is to be per 100 of.
    pub distance: u32,
    /// Which of them, if it was said.
    pub unit: Option<Unit>,
    /// The time in hundredths of a second.
    pub hundredths: u32,
}

/// A pace from timed swims.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CriticalPace {
    /// Swim time per 100, rounded half up to the second.
    pub per_100: Seconds,
    /// The exact time per 100 in seconds.
    pub exact_s: Fraction,
    /// The distance the line begins with at no time, in the unit of the swims.
    pub intercept: Fraction,
    /// Whether a shorter swim was slower per 100 than a longer one: a pace for the longer
    /// was not found, or the shorter was not swum flat out.
    pub shorter_is_slower: bool,
}

/// An exact fraction; the denominator is above zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fraction {
    /// Above the line.
    pub numerator: i128,
    /// Below it.
    pub denominator: i128,
}

impl Fraction {
    /// The fraction times `scale`, rounded half up.
    pub fn times_rounded(self, scale: i128) -> i128 {
        let twice = 2 * self.denominator;
        (2 * self.numerator * scale + self.denominator).div_euclid(twice)
    }
}

/// Why timed swims give no pace.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum CriticalError {
    /// One swim, or none.
    #[error("a pace takes two timed swims at least, such as 200=2:50 400=6:00")]
    TooFew,
    /// More swims than a tester has patience for.
    #[error("at most 50 timed swims give one pace")]
    TooMany,
    /// Some in metres, some in yards.
    #[error("some swims are in metres and some in yards; a pace takes one unit")]
    MixedUnits,
    /// A pace nobody swims.
    #[error("they give {0} per 100, which nobody swims; look at the distances and times again")]
    NotAPace(Seconds),
    /// Two swims over one distance.
    #[error("two swims are {0} long; each must be longer than the one before")]
    SameDistance(u32),
    /// A longer swim in no more time.
    #[error("{longer} cannot take no longer than {shorter}")]
    NotSlower {
        /// The shorter distance.
        shorter: u32,
        /// The longer distance.
        longer: u32,
    },
}

/// Why a timed swim could not be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum TimedSwimError {
    /// No = between distance and time.
    #[error("\"{0}\" has no =; write distance=time, such as 400=6:00")]
    NoEquals(String),
    /// A distance that is no whole number from 25 to 10,000.
    #[error("\"{0}\" is no distance; write whole metres or yards, from 25 to 10000")]
    Distance(String),
    /// No time.
    #[error("\"{0}\" is no time; write minutes and seconds, such as 6:00 or 5:58.4")]
    Time(String),
}

/// What must be said with every such pace.
pub const CAUTIONS: [&str; 4] = [
    "An estimate from timed swims, not a measurement: a few weeks, another pool or a bad night \
     change it.",
    "Two tests over-estimate the pace that can be held for half an hour by a few per cent. In \
     well-trained swimmers 200 and 400 gave 3.2 % too much (Dekerle et al. 2002, Int J Sports \
     Med 23(2):93-98); it may be more in others.",
    "It is no test of health and no leave to swim hard: stop when unwell, dizzy, short of breath \
     or in pain.",
    "The pool's rules and its lifeguards come first; ask qualified people where in doubt.",
];

/// Swims more than this are a slip of the hand, and keep sums inside their integers.
const MOST_SWIMS: usize = 50;

/// The pace that follows from timed swims, in any order: the slope of distance on time by least
/// squares, as seconds per 100 of the swims' unit. An exact fraction, rounded once.
///
/// # Errors
///
/// With fewer than two swims, more than the limit, two over one distance, both units, a longer swim
/// in no more time, or a pace nobody swims.
pub fn critical_pace(swims: &[TimedSwim]) -> Result<CriticalPace, CriticalError> {
    let mut swims = swims.to_vec();
    swims.sort_by_key(|swim| swim.distance);
    match swims.len() {
        0 | 1 => return Err(CriticalError::TooFew),
        many if many > MOST_SWIMS => return Err(CriticalError::TooMany),
        _ => {}
    }
    let units = || swims.iter().filter_map(|swim| swim.unit);
    if units().next().is_some_and(|first| units().any(|unit| unit != first)) {
        return Err(CriticalError::MixedUnits);
    }
    let mut shorter_is_slower = false;
    for (shorter, longer) in swims.iter().zip(swims.iter().skip(1)) {
        if shorter.distance == longer.distance {
            return Err(CriticalError::SameDistance(longer.distance));
        }
        if shorter.hundredths >= longer.hundredths {
            let (shorter, longer) = (shorter.distance, longer.distance);
            return Err(CriticalError::NotSlower { shorter, longer });
        }
        shorter_is_slower |= u64::from(shorter.hundredths) * u64::from(longer.distance)
            > u64::from(longer.hundredths) * u64::from(shorter.distance);
    }
    let sum = |of: fn(i128, i128) -> i128| -> i128 {
        swims.iter().map(|swim| of(i128::from(swim.hundredths), i128::from(swim.distance))).sum()
    };
    let count = sum(|_, _| 1);
    let (time, distance) = (sum(|t, _| t), sum(|_, d| d));
    let (squares, products) = (sum(|t, _| t * t), sum(|t, d| t * d));
    // Both are above zero, since distance and time grow together from swim to swim.
    let rise = count * products - time * distance;
    let run = count * squares - time * time;
    // Hundredths per unit are run / rise; seconds per 100 units the same number.
    let exact_s = Fraction { numerator: run, denominator: rise };
    let intercept = Fraction { numerator: distance * run - rise * time, denominator: count * run };
    let per_100 = Seconds::new(u32::try_from(exact_s.times_rounded(1)).unwrap_or(u32::MAX));
    if !LIMITS.pace_s.holds(u64::from(per_100.get())) {
        return Err(CriticalError::NotAPace(per_100));
    }
    Ok(CriticalPace { per_100, exact_s, intercept, shorter_is_slower })
}

impl FromStr for TimedSwim {
    type Err = TimedSwimError;

    /// Reads "200=2:50", "400 = 5:58.4".
    fn from_str(text: &str) -> Result<Self, TimedSwimError> {
        let (distance, time) =
            text.split_once('=').ok_or_else(|| TimedSwimError::NoEquals(text.to_owned()))?;
        let not_read = || TimedSwimError::Distance(distance.trim().to_owned());
        let number = distance.trim().trim_end_matches(char::is_alphabetic);
        let unit = match distance.trim().strip_prefix(number).unwrap_or_default() {
            "" => None,
            word => Some(Unit::from_word(word).ok_or_else(not_read)?),
        };
        let distance = number.trim_end().parse().ok();
        let distance =
            distance.filter(|distance| (25..=10_000).contains(distance)).ok_or_else(not_read)?;
        let hundredths =
            hundredths(time.trim()).ok_or_else(|| TimedSwimError::Time(time.trim().to_owned()))?;
        Ok(TimedSwim { distance, unit, hundredths })
    }
}

/// A stopwatch's time: whole seconds as anywhere, with tenths or hundredths if it has them.
fn hundredths(text: &str) -> Option<u32> {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let fraction = match (fraction.len(), fraction.bytes().all(|byte| byte.is_ascii_digit())) {
        (0, _) if whole.len() == text.len() => 0,
        (1, true) => fraction.parse::<u32>().ok()? * 10,
        (2, true) => fraction.parse().ok()?,
        _ => return None,
    };
    let seconds = if whole.contains(':') || fraction == 0 && whole.contains(char::is_alphabetic) {
        whole.parse::<Seconds>().ok()?.get()
    } else {
        whole.parse().ok()?
    };
    let hundredths = seconds.checked_mul(100)?.checked_add(fraction)?;
    // A day is longer than any swim.
    (hundredths > 0 && seconds < 86_400).then_some(hundredths)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn swims(text: &str) -> Vec<TimedSwim> {
        text.split_whitespace().map(|swim| swim.parse().expect("a timed swim")).collect()
    }

    fn pace(text: &str) -> CriticalPace {
        critical_pace(&swims(text)).expect("a pace")
    }

    /// By definition of the slope; the two-test form is Dekerle et al. 2002.
    #[test]
    fn two_swims_give_their_slope() {
        // 200 m in 190 s: 1.052632 m/s, 1:35.00; the line begins at 21.0526 m.
        let two = pace("200=2:50 400=6:00");
        assert_eq!(two.exact_s.times_rounded(100), 9500);
        assert_eq!(two.intercept.times_rounded(10_000), 210_526);
        assert!(!two.shorter_is_slower);
        assert_eq!(pace("400=5:20 50=0:34").exact_s.times_rounded(100), 8171);
        assert_eq!(pace("200=3:00 400=6:30").per_100, Seconds::new(105));
    }

    /// By definition of least squares.
    #[test]
    fn more_swims_give_the_least_squares() {
        let three = pace("100=75 200=165 400=345");
        assert_eq!(three.exact_s.times_rounded(100), 9000);
        assert_eq!(three.intercept.times_rounded(10_000), 166_667);
        let four = pace("50=32 100=72 200=158 400=330");
        assert_eq!(four.exact_s.times_rounded(10_000), 854_332);
    }

    #[test]
    fn swims_that_make_no_sense_are_pace_of() {
        let pace_of = |text: &str| critical_pace(&swims(text));
        assert_eq!(pace_of("200=2:50"), Err(CriticalError::TooFew));
        assert_eq!(pace_of("200=2:50 200=2:55"), Err(CriticalError::SameDistance(200)));
        assert_eq!(
            pace_of("400=2:50 200=2:50"),
            Err(CriticalError::NotSlower { shorter: 200, longer: 400 })
        );
        assert_eq!(pace_of("200m=2:50 400yd=6:00"), Err(CriticalError::MixedUnits));
        // By hand: 200 in 40 s is 20 s per 100.
        assert_eq!(pace_of("200=0:40 400=1:20"), Err(CriticalError::NotAPace(Seconds::new(20))));
        assert!(pace("200=3:10 400=6:00").shorter_is_slower);
    }

    #[test]
    fn timed_swims_are_read_as_a_stopwatch_shows_them() {
        for (text, distance, hundredths) in
            [("200=2:50", 200, 17_000), ("400 m = 5:58.4", 400, 35_840), ("50=34.25", 50, 3425)]
        {
            let swim: TimedSwim = text.parse().expect("a timed swim");
            assert_eq!((swim.distance, swim.hundredths), (distance, hundredths), "{text}");
        }
        assert_eq!("200yd=2:50".parse().map(|swim: TimedSwim| swim.unit), Ok(Some(Unit::Yard)));
        for text in [
            "200",
            "200ft=2:50",
            "0=2:50",
            "x=2:50",
            "200=",
            "200=2:5",
            "200=2:50.",
            "200=0",
            "200=-3",
        ] {
            assert!(text.parse::<TimedSwim>().is_err(), "{text}");
        }
    }
}
