//! The sums that a coach states, and what lines come to.

use std::ops::Range;

use super::plain::Plain;
use crate::measure::{Pool, Unit};
use crate::session::Line;
use crate::session::swim::{Asked, Course};

/// A sum as it is stated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Sum {
    /// The number.
    pub number: u64,
    /// How far off it may be: of "2.7k" half a hundred.
    pub within: u64,
    /// Whether it counts lengths.
    pub lengths: bool,
    /// Whether it says that it is of the whole session.
    pub whole: bool,
    /// Its bytes in the source.
    pub at: Range<usize>,
}

/// Words before a sum; of the session where the second is so. Common practice, no source.
const BEFORE: [(&str, bool); 13] = [
    ("grand total", true),
    ("total distance", true),
    ("total", true),
    ("tot.", true),
    ("tot", true),
    ("distance", true),
    ("approximately", true),
    ("approx.", true),
    ("approx", true),
    ("about", true),
    ("that's", true),
    ("thats", true),
    ("=", false),
];

/// Words behind a sum. Common practice, no source.
const BEHIND: [&str; 8] =
    ["in all", "all up", "all in", "in total", "total", "altogether", "all together", "tot"];

/// The sum that a text is, and nothing else but a remark behind it.
pub(super) fn stated(plain: &Plain) -> Option<Sum> {
    let lower = plain.text().to_lowercase();
    let mut text = lower.trim_start_matches(['(', '[', ' ']);
    let bracketed = text.len() < lower.trim_start().len();
    let before = BEFORE.iter().find(|(word, _)| {
        text.strip_prefix(word).is_some_and(|rest| !rest.starts_with(char::is_alphabetic))
    });
    if let Some((word, _)) = before {
        text = text.get(word.len()..)?.trim_start_matches([' ', ':', '=', '-', '~']);
    }
    let (number, within, behind) = number(text)?;
    let unit = behind.split(|sign: char| !sign.is_alphabetic()).next().unwrap_or_default();
    let lengths = matches!(unit, "lengths" | "length");
    let is_unit = lengths || Unit::from_word(unit).is_some();
    let rest = if is_unit { behind.get(unit.len()..)? } else { behind };
    let rest = rest.trim_start_matches([' ', ')', ']']);
    let after = BEHIND.iter().any(|word| rest.starts_with(word));
    let thousands = within > 0;
    let alone = rest.trim_matches(['.', '!', ' ', ')', ']']).is_empty();
    let says = match before {
        Some(("about" | "approx" | "approx." | "approximately", _)) => alone || after,
        Some(("that's" | "thats", _)) => alone || after || lengths || thousands,
        Some(("=", _)) => alone,
        Some(_) => true,
        None => after || thousands || bracketed && alone,
    };
    let whole = before.is_some_and(|(_, whole)| *whole) || after;
    says.then(|| Sum { number, within, lengths, whole, at: plain.whole() })
}

/// The number a text begins with, how exact it is, and the text behind it: "1,900", "2.300", "2 200",
/// "2.7k".
pub(super) fn number(text: &str) -> Option<(u64, u64, &str)> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let first = digits(text);
    if first == 0 || first > 6 {
        return None;
    }
    let head: u64 = text.get(..first)?.parse().ok()?;
    let rest = text.get(first..)?;
    let group = rest.get(1..).map_or(0, digits);
    let tail = rest.get(1 + group..).unwrap_or_default();
    let is_thousand = |tail: &str| {
        tail.strip_prefix('k').is_some_and(|rest| !rest.starts_with(char::is_alphabetic))
    };
    if rest.starts_with([',', '.', ' ']) && group == 3 && first <= 2 && !rest.starts_with(". ") {
        return Some((head * 1000 + rest.get(1..4)?.parse::<u64>().ok()?, 0, tail.trim_start()));
    }
    if rest.starts_with(['.', ',']) && group == 1 && is_thousand(tail) {
        let tenths: u64 = rest.get(1..2)?.parse().ok()?;
        return Some((head * 1000 + tenths * 100, 50, tail.get(1..)?.trim_start()));
    }
    if is_thousand(rest) && first <= 2 {
        return Some((head * 1000, 500, rest.get(1..)?.trim_start()));
    }
    (group == 0 || rest.starts_with(' ')).then(|| (head, 0, rest.trim_start()))
}

/// Whether a line of a message states a sum.
pub(crate) fn states_sum(line: &str) -> bool {
    stated(&Plain::of(line, 0)).is_some()
}

/// What lines come to in a pool for those who swim all of them, in sixths of its unit.
pub(crate) fn swum_sixths(lines: &[Line], pool: Option<Pool>) -> Option<u64> {
    sixths(lines, pool, None)
}

/// What lines come to in a pool, in sixths of its unit, for a lane; `None` beyond all bounds. Swims
/// given by their time come to nothing.
pub(super) fn sixths(lines: &[Line], pool: Option<Pool>, lane: Option<&str>) -> Option<u64> {
    lines.iter().try_fold(0_u64, |sum, line| {
        let far = match line {
            Line::Set(set)
                if !lane.is_none_or(|lane| {
                    set.lanes.is_empty() || set.lanes.iter().any(|own| own.value == lane)
                }) =>
            {
                0
            }
            Line::Set(set) => {
                course(&set.swim.value.course, pool)?.checked_mul(set.swim.value.repeats)?
            }
            Line::Rounds(rounds) => {
                sixths(&rounds.lines, pool, lane)?.checked_mul(u64::from(rounds.count.value))?
            }
            Line::Activity(_) | Line::Remark(_) => 0,
        };
        sum.checked_add(far)
    })
}

fn course(course: &Course, pool: Option<Pool>) -> Option<u64> {
    match course {
        Course::Each(far) | Course::Broken { whole: far, .. } => asked(*far, pool),
        Course::Ladder(steps) => {
            steps.iter().try_fold(0_u64, |sum, step| sum.checked_add(asked(*step, pool)?))
        }
        Course::Timed(_) => Some(0),
    }
}

fn asked(asked: Asked, pool: Option<Pool>) -> Option<u64> {
    let length = pool.map_or(0, |pool| pool.length().sixths());
    match asked {
        Asked::Number(sixths, _) => Some(sixths),
        Asked::Lengths(count) => count.checked_mul(length),
        Asked::HalfLength => Some(length / 2),
        Asked::Widths(_) => Some(0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_told_from_swims() {
        for (line, wanted) in [
            ("= 800", Some((800, 0, false))),
            ("=2.7k", Some((2700, 50, false))),
            ("TOTAL 2300", Some((2300, 0, true))),
            ("Total 2.300m. Tot donderdag!", Some((2300, 0, true))),
            ("Distance: 2 200 m", Some((2200, 0, true))),
            ("3200 in all", Some((3200, 0, true))),
            ("3.1k all up", Some((3100, 50, true))),
            ("3.0k ta, Mick", Some((3000, 50, false))),
            ("Approx 2k.", Some((2000, 500, true))),
            ("(1000)", Some((1000, 0, false))),
            ("(2,800)", Some((2800, 0, false))),
            ("That's 46 lengths - well done you!", Some((46, 0, true))),
            ("200", None),
            ("400 free", None),
            ("(1 min extra after each rd)", None),
            ("about 10 of us", None),
        ] {
            let sum = stated(&Plain::of(line, 0)).map(|sum| (sum.number, sum.within, sum.whole));
            assert_eq!(sum, wanted, "{line}");
        }
    }
}
