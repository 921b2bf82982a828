//! Values of arguments: read the same way, with the same message, for every command.

use std::fs;
use std::path::{Path, PathBuf};

use crate::measure::{Bound, Date, Distance, LIMITS, Pool, Seconds, TimeOfDay, Unit};
use crate::reader::nearest;
use crate::reader::trade_words::{TradeWord, not_a_word};
use crate::session::Usual;
use crate::source::is_device;
use crate::stock::Stock;

/// A pool: "25 m".
pub(super) fn pool(text: &str) -> Result<Pool, String> {
    text.parse().map_err(|_| "a pool is written as \"25 m\", \"25 yd\" or \"33 1/3 m\"".into())
}

/// A stock: the name of a built-in one, or a file that is there.
pub(super) fn stock(text: &str) -> Result<String, String> {
    if Stock::built_in(text).is_some() || Path::new(text).is_file() {
        return Ok(text.to_owned());
    }
    let names: Vec<&str> = Stock::names().collect();
    let near = nearest(text.trim_end_matches(".toml"), names.iter().copied());
    let near = near.map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
    Err(format!("there is no such stock and no such file{near}\n  stocks: {}", names.join(", ")))
}

/// What stands in where a message leaves it out.
#[derive(Debug, clap::Args)]
pub(super) struct UsualArguments {
    /// The club file of a message that names none; without it, a club.toml beside the message
    #[arg(long, value_name = "FILE")]
    club: Option<String>,
    /// The pace of a message that says none, per 100 of its pool: 1:45
    #[arg(long = "pace", value_name = "M:SS", value_parser = pace)]
    message_pace: Option<Seconds>,
}

impl UsualArguments {
    /// As the reader takes it.
    pub fn usual(&self) -> Usual {
        Usual { club: self.club.clone(), pace: self.message_pace.map(|pace| pace.to_string()) }
    }
}

/// A pace per 100: 2:40.
pub(super) fn pace(text: &str) -> Result<Seconds, String> {
    let pace: Seconds = text.parse().map_err(|_| "a pace is written as 2:40".to_owned())?;
    within(&LIMITS.pace_s, pace)
}

/// A length of time in whole minutes: 40.
pub(super) fn minutes(text: &str) -> Result<Seconds, String> {
    let bound = &LIMITS.booking_s;
    let count = text.trim().trim_end_matches("min").trim().parse::<u32>().ok();
    let time = count.and_then(|count| count.checked_mul(60)).map(Seconds::new);
    time.filter(|time| bound.holds(u64::from(time.get())))
        .ok_or_else(|| format!("write whole minutes, {} to {}", bound.least / 60, bound.most / 60))
}

/// A distance with its unit: "1500 m", "a mile".
pub(super) fn distance(text: &str) -> Result<Distance, String> {
    text.parse().map_err(|_| "a distance is written as \"400 m\", \"500 yd\" or \"a mile\"".into())
}

/// A whole distance whose unit may be left out: it is then that of the pool.
#[derive(Clone, Copy, Debug)]
pub(super) struct AskedDistance {
    number: u64,
    unit: Option<Unit>,
}

impl AskedDistance {
    /// The distance, in `unit` where none was written.
    pub fn or_in(self, unit: Unit) -> Distance {
        Distance::whole(self.number, self.unit.unwrap_or(unit))
    }
}

impl AskedDistance {
    /// What there is instead as the name of a file has it, "800" or "800m" as it was asked.
    pub fn in_a_name(self, is: Distance) -> String {
        // A third of a length has no place in a name.
        let whole = is.sixths().is_multiple_of(6).then(|| is.sixths() / 6);
        let (number, unit) = match whole.filter(|_| self.unit.is_none_or(|u| u == is.unit())) {
            Some(number) => (number, self.unit),
            None => (is.sixths() / 6, Some(is.unit())),
        };
        let unit = unit.map(|unit| unit.to_string()).unwrap_or_default();
        format!("{number}{unit}")
    }
}

/// A distance with or without its unit: 800, "800 m".
pub(super) fn asked_distance(text: &str) -> Result<AskedDistance, String> {
    let bound = &LIMITS.session_distance;
    let wrong =
        || format!("write a whole distance up to {}, as in 800, \"800 m\" or 900yd", bound.most);
    let text = text.trim();
    let digits = text.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(text.len());
    let (number, unit) = text.split_at(digits);
    let number = number.parse().ok().filter(|number| bound.holds(*number)).ok_or_else(wrong)?;
    let unit = match unit.trim() {
        "" => None,
        word => Some(Unit::from_word(word).ok_or_else(wrong)?),
    };
    Ok(AskedDistance { number, unit })
}

/// A distance to fit to: one of its own, or against the session's.
#[derive(Clone, Copy, Debug)]
pub(super) enum DistanceWish {
    /// So far.
    To(AskedDistance),
    /// So much farther, "+200 m".
    More(AskedDistance),
    /// So much less far, "-200 m".
    Less(AskedDistance),
    /// So many hundredths of the session's own: 110 is "+10 %" or "110 %".
    Percent(u64),
}

/// A distance to fit to: 800, "800 m", "+200 m", "-15 %", "90 %".
pub(super) fn distance_wish(text: &str) -> Result<DistanceWish, String> {
    let text = text.trim();
    let sign = text.chars().next().filter(|sign| matches!(sign, '+' | '-' | '\u{2212}'));
    let size = text.trim_start_matches(['+', '-', '\u{2212}']).trim_start();
    if let Some(number) = size.strip_suffix('%') {
        let wrong = || "a share of the session's distance is 1 to 1000 %".to_owned();
        let number: u64 = number.trim().parse().map_err(|_| wrong())?;
        let percent = match sign {
            None => Some(number),
            Some('+') => number.checked_add(100),
            Some(_) => 100_u64.checked_sub(number),
        };
        let percent = percent.filter(|percent| (1..=1000).contains(percent));
        return percent.map(DistanceWish::Percent).ok_or_else(wrong);
    }
    let asked = asked_distance(size)?;
    Ok(match sign {
        None => DistanceWish::To(asked),
        Some('+') => DistanceWish::More(asked),
        Some(_) => DistanceWish::Less(asked),
    })
}

impl DistanceWish {
    /// The distance it is for a session of `own`; a bare number is in `unit`.
    pub fn of(self, own: Distance, unit: Unit) -> Result<Distance, String> {
        let sixths =
            |asked: AskedDistance| asked.or_in(unit).true_length().in_unit(own.unit()).sixths();
        let wished = match self {
            DistanceWish::To(asked) => return Ok(asked.or_in(unit)),
            DistanceWish::Percent(percent) => {
                Some(own.sixths().saturating_mul(percent).saturating_add(50) / 100)
            }
            DistanceWish::More(asked) => own.sixths().checked_add(sixths(asked)),
            DistanceWish::Less(asked) => own.sixths().checked_sub(sixths(asked)),
        };
        // To a whole number of its unit, the nearest.
        let whole = wished.map(|sixths| sixths.saturating_add(3) / 6);
        let bound = &LIMITS.session_distance;
        let whole = whole.filter(|whole| bound.holds(*whole)).ok_or_else(|| {
            format!("the session is {}: that is not 1 to {}", own.with_commas(), bound.most)
        })?;
        Ok(Distance::whole(whole, own.unit()))
    }

    /// What there is instead as the name of a file has it.
    pub fn in_a_name(self, is: Distance) -> String {
        match self {
            DistanceWish::To(asked) | DistanceWish::More(asked) | DistanceWish::Less(asked) => {
                asked.in_a_name(is)
            }
            DistanceWish::Percent(_) => AskedDistance { number: 0, unit: None }.in_a_name(is),
        }
    }
}

/// A date: 2027-01-12.
pub(super) fn date(text: &str) -> Result<Date, String> {
    let wrong = || "a date is written as 2027-01-12".to_owned();
    let numbers: Option<Vec<u16>> = text.split('-').map(|number| number.parse().ok()).collect();
    let Some([year, month, day]) = numbers.as_deref() else { return Err(wrong()) };
    let (month, day) = (u8::try_from(*month), u8::try_from(*day));
    let (Ok(month), Ok(day)) = (month, day) else { return Err(wrong()) };
    Date::new(*year, month, day).map_err(|_| wrong())
}

/// The unit of a pace's 100.
pub(super) fn unit(text: &str) -> Result<Unit, String> {
    Unit::from_word(text).ok_or_else(|| "a pace is per 100 m or per 100 yd: m or yd".to_owned())
}

/// A time of day: 19:15.
pub(super) fn time_of_day(text: &str) -> Result<TimeOfDay, String> {
    text.parse().map_err(|_| "write hours and minutes, 00:00 to 23:59".to_owned())
}

/// A word of a closed list, in any of its spellings.
pub(super) fn word<T: TradeWord>(text: &str) -> Result<T, String> {
    T::from_any_spelling(text).ok_or_else(|| not_a_word::<T>(text))
}

fn within(bound: &Bound, time: Seconds) -> Result<Seconds, String> {
    let inside = bound.holds(u64::from(time.get()));
    let end = |seconds: u64| Seconds::new(u32::try_from(seconds).unwrap_or(u32::MAX)).spoken();
    inside.then_some(time).ok_or_else(|| {
        format!("{} must be from {} to {}", bound.what, end(bound.least), end(bound.most))
    })
}

/// A file to print to. Its ending is looked at, so that no session file is ever printed over.
pub(super) fn pdf_name(text: &str) -> Result<PathBuf, String> {
    name_ending(text, "pdf")
}

pub(super) fn png_name(text: &str) -> Result<PathBuf, String> {
    name_ending(text, "png")
}

pub(super) fn ics_name(text: &str) -> Result<PathBuf, String> {
    name_ending(text, "ics")
}

fn name_ending(text: &str, ending: &str) -> Result<PathBuf, String> {
    let path = PathBuf::from(text);
    match ends_in(&path, ending) || text == "-" {
        true => Ok(path),
        // What is written to a device replaces nothing.
        false if fs::metadata(&path).is_ok_and(|there| is_device(&there)) => Ok(path),
        false => Err(format!("the name of this file ends in .{ending}")),
    }
}

/// Whether a name has this ending, in capitals or not.
pub(super) fn ends_in(path: &Path, ending: &str) -> bool {
    path.extension().is_some_and(|end| end.eq_ignore_ascii_case(ending))
}

/// A folder for cards. A name like that of a PDF is meant as one.
pub(super) fn cards_folder(text: &str) -> Result<PathBuf, String> {
    let path = folder(text)?;
    match ends_in(&path, "pdf") && !path.is_dir() {
        true => Err(format!("-o names a folder; to print all into one file: --into {text}")),
        false => Ok(path),
    }
}

/// A folder to write to.
pub(super) fn folder(text: &str) -> Result<PathBuf, String> {
    match text {
        "-" => Err("this is a folder; standard output holds one file only".into()),
        _ => Ok(PathBuf::from(text)),
    }
}
