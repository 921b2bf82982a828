//! Distances as a coach writes them: "1500 m", "1,650 yd", "a mile".

use std::str::FromStr;

use super::{Distance, LIMITS, Unit};

/// Yards in a mile, by definition.
const MILE_YD: u64 = 1760;

/// Why a distance could not be read from its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DistanceError {
    /// No number was found.
    NoNumber,
    /// A number without a unit.
    NoUnit,
    /// A unit that is none of m, yd, km and mile.
    UnknownUnit,
    /// Less than 1 or more than 100,000 of its unit: the limit of a session.
    OutOfRange,
}

impl FromStr for Distance {
    type Err = DistanceError;

    /// Reads "1500 m", "1,500 m", "1650yd", "66 2/3 m", "1.5 km", "a mile", "2 miles".
    fn from_str(text: &str) -> Result<Self, DistanceError> {
        let text = text.trim().to_lowercase();
        let text = ["a ", "one "]
            .iter()
            .find_map(|article| text.strip_prefix(article))
            .map_or(text.clone(), |rest| format!("1 {rest}"));
        let unit_at = text.find(char::is_alphabetic).unwrap_or(text.len());
        let (number, unit) = text.split_at(unit_at);
        let distance = match unit.trim() {
            "" if has_digit(number) => return Err(DistanceError::NoUnit),
            "" => return Err(DistanceError::NoNumber),
            "km" => Distance::from_sixths(thousandths(number)?.saturating_mul(6), Unit::Metre),
            "mile" | "miles" => {
                Distance::from_sixths(sixths(number)?.saturating_mul(MILE_YD), Unit::Yard)
            }
            word => {
                let unit = Unit::from_word(word).ok_or(if has_digit(number) {
                    DistanceError::UnknownUnit
                } else {
                    DistanceError::NoNumber
                })?;
                Distance::from_sixths(sixths(number)?, unit)
            }
        };
        let whole = distance.sixths().div_ceil(6);
        if LIMITS.session_distance.holds(whole) {
            Ok(distance)
        } else {
            Err(DistanceError::OutOfRange)
        }
    }
}

impl Distance {
    /// As swimmers say it: "a mile", "2 miles", else with a comma between thousands. Read again,
    /// it is the same distance.
    pub fn spoken(self) -> String {
        let mile = MILE_YD * 6;
        match self.sixths() / mile {
            miles if self.unit() != Unit::Yard || self.sixths() != miles * mile => {
                self.with_commas()
            }
            0 => self.with_commas(),
            1 => "a mile".to_owned(),
            miles => format!("{miles} miles"),
        }
    }
}

fn has_digit(text: &str) -> bool {
    text.contains(|c: char| c.is_ascii_digit())
}

/// Sixths in "1500", "1,500", "66 2/3", "12.5".
fn sixths(number: &str) -> Result<u64, DistanceError> {
    let mut words = number.split_whitespace();
    let first = words.next().ok_or(DistanceError::NoNumber)?;
    let (whole, is_half) = first.strip_suffix(".5").map_or((first, false), |whole| (whole, true));
    let whole = digits(whole)?;
    let fraction = match (words.next(), words.next()) {
        (None, _) if is_half => 3,
        (None, _) => 0,
        _ if is_half => return Err(DistanceError::NoNumber),
        (Some("1/2"), None) => 3,
        (Some("1/3"), None) => 2,
        (Some("2/3"), None) => 4,
        _ => return Err(DistanceError::NoNumber),
    };
    whole.checked_mul(6).and_then(|t| t.checked_add(fraction)).ok_or(DistanceError::OutOfRange)
}

/// Thousandths in a decimal of at most three places: "1.5" is 1500.
fn thousandths(number: &str) -> Result<u64, DistanceError> {
    let (whole, places) = number.trim().split_once('.').unwrap_or((number.trim(), ""));
    if places.len() > 3 || !places.bytes().all(|b| b.is_ascii_digit()) {
        return Err(DistanceError::NoNumber);
    }
    let places = digits(&format!("{places:0<3}"))?;
    digits(whole)?
        .checked_mul(1000)
        .and_then(|t| t.checked_add(places))
        .ok_or(DistanceError::OutOfRange)
}

/// A whole number, with commas only between thousands.
fn digits(text: &str) -> Result<u64, DistanceError> {
    let mut groups = text.split(',');
    let first = groups.next().unwrap_or_default();
    let parted = text.contains(',');
    let well_parted = !parted || (1..=3).contains(&first.len());
    let all_digits = |group: &str| !group.is_empty() && group.bytes().all(|b| b.is_ascii_digit());
    if !well_parted || !all_digits(first) || !groups.all(|g| g.len() == 3 && all_digits(g)) {
        return Err(DistanceError::NoNumber);
    }
    text.replace(',', "").parse().map_err(|_| DistanceError::OutOfRange)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_are_read_in_every_spelling() {
        for (text, sixths, unit) in [
            ("1500 m", 9000, Unit::Metre),
            ("1,500 m", 9000, Unit::Metre),
            ("1500m", 9000, Unit::Metre),
            ("1650 YD", 9900, Unit::Yard),
            ("66 2/3 m", 400, Unit::Metre),
            ("12.5 m", 75, Unit::Metre),
            ("12 1/2 m", 75, Unit::Metre),
            ("1.5 km", 9000, Unit::Metre),
            ("3 km", 18_000, Unit::Metre),
            // A mile is 1,760 yards by definition.
            ("a mile", 10_560, Unit::Yard),
            ("1 mile", 10_560, Unit::Yard),
            ("2 miles", 21_120, Unit::Yard),
        ] {
            assert_eq!(text.parse(), Ok(Distance::from_sixths(sixths, unit)), "{text}");
        }
    }

    #[test]
    fn miles_are_spoken_of_as_miles() {
        for text in ["a mile", "2 miles", "1,500 m", "1,650 yd", "66 2/3 m"] {
            let distance: Distance = text.parse().expect("a distance");
            assert_eq!(distance.spoken(), text);
        }
        // 1,760 yards are a mile, by definition; 1,760 m are none.
        assert_eq!("1760 yd".parse().map(Distance::spoken), Ok("a mile".to_owned()));
        assert_eq!("1760 m".parse().map(Distance::spoken), Ok("1,760 m".to_owned()));
    }

    #[test]
    fn a_distance_that_cannot_be_read_says_why() {
        for (text, error) in [
            ("", DistanceError::NoNumber),
            ("far", DistanceError::NoNumber),
            ("400", DistanceError::NoUnit),
            ("400 ft", DistanceError::UnknownUnit),
            ("1,50 m", DistanceError::NoNumber),
            ("400.25 m", DistanceError::NoNumber),
            ("400.5 1/2 m", DistanceError::NoNumber),
            ("0 m", DistanceError::OutOfRange),
            ("101 km", DistanceError::OutOfRange),
            ("99999999999999999999999 m", DistanceError::OutOfRange),
            ("18446744073709551615 miles", DistanceError::OutOfRange),
        ] {
            assert_eq!(text.parse::<Distance>(), Err(error), "{text}");
        }
    }
}
