//! Durations, times of day and dates, as a coach writes them.

use std::fmt;
use std::str::FromStr;

/// A duration in whole seconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Seconds(u32);

/// Why a time could not be read from its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TimeError {
    /// No form of a time.
    NotATime,
    /// A number without seconds or minutes.
    NoUnit,
    /// Seconds past 59 after a colon.
    SecondsPastMinute,
    /// Tenths or hundredths, which a deck clock does not show.
    Fraction,
    /// More seconds than a `u32` holds.
    TooLarge,
}

impl Seconds {
    /// No time at all.
    pub const ZERO: Seconds = Seconds(0);

    /// `count` seconds.
    pub const fn new(count: u32) -> Self {
        Self(count)
    }

    /// The count, without its unit.
    pub const fn get(self) -> u32 {
        self.0
    }

    /// The sum, or the largest duration a `u32` of seconds holds.
    pub const fn plus(self, other: Seconds) -> Seconds {
        Seconds(self.0.saturating_add(other.0))
    }

    /// The difference, or zero when `other` is the longer.
    pub const fn less(self, other: Seconds) -> Seconds {
        Seconds(self.0.saturating_sub(other.0))
    }

    /// `count` times the duration, or the largest a `u32` of seconds holds.
    pub const fn times(self, count: u32) -> Seconds {
        Seconds(self.0.saturating_mul(count))
    }

    /// Rounded up to whole steps of `step` seconds, 1 where that is 0.
    pub const fn rounded_up_to(self, step: u32) -> Seconds {
        let step = if step == 0 { 1 } else { step };
        Seconds(self.0.div_ceil(step).saturating_mul(step))
    }

    /// A duration as a coach says it: "20 s", "1 min", "1:45".
    pub fn spoken(self) -> String {
        match (self.0 / 60, self.0 % 60) {
            (0, seconds) => format!("{seconds} s"),
            (minutes, 0) => format!("{minutes} min"),
            _ => self.to_string(),
        }
    }

    /// Whole minutes, rounded up, as a booking is counted.
    pub const fn minutes_up(self) -> u32 {
        self.0.div_ceil(60)
    }
}

/// Clock form: "0:45", "1:45", "1:02:05".
impl fmt::Display for Seconds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (hours, minutes, seconds) = (self.0 / 3600, self.0 / 60 % 60, self.0 % 60);
        if hours > 0 {
            write!(f, "{hours}:{minutes:02}:{seconds:02}")
        } else {
            write!(f, "{minutes}:{seconds:02}")
        }
    }
}

impl FromStr for Seconds {
    type Err = TimeError;

    /// Reads "15 s", "1:45", ":45", "1 min", "90 s", "1 min 30 s", "1 h 15 min", "1:02:05".
    fn from_str(text: &str) -> Result<Self, TimeError> {
        let text = text.trim();
        let total = if text.contains(':') { colon_form(text)? } else { word_form(text)? };
        u32::try_from(total).map(Seconds).map_err(|_| TimeError::TooLarge)
    }
}

fn colon_form(text: &str) -> Result<u64, TimeError> {
    if text.contains(['.', ',']) {
        return Err(TimeError::Fraction);
    }
    let fields: Vec<&str> = text.split(':').collect();
    let last = fields.len() - 1;
    if last > 2 {
        return Err(TimeError::NotATime);
    }
    let mut total: u64 = 0;
    for (position, field) in fields.iter().enumerate() {
        let number = match (position, field.len()) {
            (0, 0) if last == 1 => 0,
            (0, _) => digits(field)?,
            (_, 2) => digits(field)?,
            _ => return Err(TimeError::NotATime),
        };
        if position > 0 && number > 59 {
            return Err(TimeError::SecondsPastMinute);
        }
        total =
            total.checked_mul(60).and_then(|t| t.checked_add(number)).ok_or(TimeError::TooLarge)?;
    }
    Ok(total)
}

fn word_form(text: &str) -> Result<u64, TimeError> {
    let mut rest = text;
    let mut total: u64 = 0;
    // Units must come from large to small, each once.
    let mut previous_unit = u64::MAX;
    while !rest.is_empty() {
        let number_end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        let (number, after) = rest.split_at(number_end);
        let after = after.trim_start();
        let unit_end = after.find(|c: char| !c.is_alphabetic()).unwrap_or(after.len());
        let (word, after) = after.split_at(unit_end);
        if number.contains('.') {
            return Err(TimeError::Fraction);
        }
        let number = digits(number)?;
        let unit: u64 = match word.to_lowercase().as_str() {
            "" => return Err(TimeError::NoUnit),
            "s" | "sec" | "secs" | "second" | "seconds" => 1,
            "min" | "mins" | "minute" | "minutes" => 60,
            "h" | "hour" | "hours" => 3600,
            _ => return Err(TimeError::NotATime),
        };
        if unit >= previous_unit {
            return Err(TimeError::NotATime);
        }
        previous_unit = unit;
        total = number
            .checked_mul(unit)
            .and_then(|n| n.checked_add(total))
            .ok_or(TimeError::TooLarge)?;
        rest = after.trim_start();
    }
    if previous_unit == u64::MAX { Err(TimeError::NotATime) } else { Ok(total) }
}

fn digits(text: &str) -> Result<u64, TimeError> {
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(TimeError::NotATime);
    }
    text.parse().map_err(|_| TimeError::TooLarge)
}

/// A time of day to the minute, 24-hour clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TimeOfDay {
    seconds: u32,
}

impl TimeOfDay {
    /// `hour`:`minute`; `None` outside 00:00 to 23:59.
    pub fn new(hour: u32, minute: u32) -> Option<Self> {
        (hour < 24 && minute < 60).then_some(Self { seconds: hour * 3600 + minute * 60 })
    }

    /// The time since 00:00.
    pub const fn since_midnight(self) -> Seconds {
        Seconds(self.seconds)
    }

    /// The time of day `later` on, past midnight if need be.
    pub fn after(self, later: Seconds) -> TimeOfDay {
        TimeOfDay { seconds: (self.seconds + later.get() % 86_400) % 86_400 }
    }

    /// To the second: "19:59:36".
    pub fn to_the_second(self) -> String {
        format!("{self}:{:02}", self.seconds % 60)
    }
}

/// Hours and minutes, seconds cut: "19:15".
impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.seconds / 3600, self.seconds / 60 % 60)
    }
}

impl FromStr for TimeOfDay {
    type Err = TimeError;

    fn from_str(text: &str) -> Result<Self, TimeError> {
        let (hour, minute) = text.trim().split_once(':').ok_or(TimeError::NotATime)?;
        if minute.len() != 2 || hour.len() > 2 {
            return Err(TimeError::NotATime);
        }
        let number = |field| digits(field).map(|n| u32::try_from(n).unwrap_or(u32::MAX));
        TimeOfDay::new(number(hour)?, number(minute)?).ok_or(TimeError::NotATime)
    }
}

/// A calendar date of the Gregorian calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

/// A day that is in no calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DateError;

impl Date {
    /// The date, if there is such a day.
    pub fn new(year: u16, month: u8, day: u8) -> Result<Self, DateError> {
        let leap =
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => return Err(DateError),
        };
        if (1..=days).contains(&day) { Ok(Self { year, month, day }) } else { Err(DateError) }
    }

    /// Year, month from 1, day from 1.
    pub const fn parts(self) -> (u16, u8, u8) {
        (self.year, self.month, self.day)
    }
}

/// ISO 8601: "2027-01-12".
impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_read_in_every_spelling() {
        for (text, seconds) in [
            ("15 s", 15),
            ("15s", 15),
            ("1:45", 105),
            (":45", 45),
            ("0:05", 5),
            ("1 min", 60),
            ("90 s", 90),
            ("1 min 30 s", 90),
            ("1min30s", 90),
            ("45 min", 2700),
            ("1 h 15 min", 4500),
            ("1:02:05", 3725),
            ("90 SEC", 90),
        ] {
            assert_eq!(text.parse(), Ok(Seconds(seconds)), "{text}");
        }
    }

    #[test]
    fn a_time_that_cannot_be_read_says_why() {
        for (text, error) in [
            ("", TimeError::NotATime),
            ("soon", TimeError::NotATime),
            ("20", TimeError::NoUnit),
            ("1:75", TimeError::SecondsPastMinute),
            ("1:5", TimeError::NotATime),
            ("1:23.4", TimeError::Fraction),
            ("1.5 min", TimeError::Fraction),
            ("30 s 1 min", TimeError::NotATime),
            ("99999999999 s", TimeError::TooLarge),
            ("99999999999999999999999 s", TimeError::TooLarge),
            ("1:2:3:4", TimeError::NotATime),
        ] {
            assert_eq!(text.parse::<Seconds>(), Err(error), "{text}");
        }
    }

    #[test]
    fn durations_are_written_as_said() {
        let words: Vec<String> = [20, 60, 105, 3725].map(|s| Seconds(s).spoken()).to_vec();
        assert_eq!(words, ["20 s", "1 min", "1:45", "1:02:05"]);
    }

    #[test]
    fn send_offs_round_up_to_five() {
        assert_eq!(Seconds(85).rounded_up_to(5), Seconds(85));
        assert_eq!(Seconds(86).rounded_up_to(5), Seconds(90));
    }

    #[test]
    fn time_of_day_runs_past_midnight() {
        let start: TimeOfDay = "23:50".parse().expect("a time of day");
        assert_eq!(start.after(Seconds(1200)).to_string(), "00:10");
        assert!("24:00".parse::<TimeOfDay>().is_err());
    }

    #[test]
    fn dates_know_leap_years() {
        // Gregorian calendar: 2000 and 2024 are leap years, 1900 and 2027 are not.
        assert!(Date::new(2024, 2, 29).is_ok() && Date::new(2000, 2, 29).is_ok());
        assert!(Date::new(1900, 2, 29).is_err() && Date::new(2027, 2, 29).is_err());
    }
}
