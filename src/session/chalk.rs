//! The swim line, as chalked on a board: `[REPEATS x] DISTANCE [STROKE] [MODE]`.

mod numbers;
mod strangers;

use std::fmt;
use std::ops::Range;

use super::rules::UNREADABLE_SWIM;
use crate::finding::{Finding, Place};
use crate::measure::Unit;
use crate::reader::keys::Form;
use crate::reader::rules;
use crate::reader::trade_words::TradeWord;
use crate::reader::value::{Node, Readable};
use crate::session::words::{Mode, Stroke};

use toml::de::DeValue;

/// A swim line as read; whether it is whole lengths only a pool can say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Swim {
    /// How many times; 1 where the line does not say.
    pub repeats: u64,
    /// How far each time.
    pub asked: Asked,
    /// The stroke; freestyle where the line does not say.
    pub stroke: Stroke,
    /// The mode; the whole stroke where the line does not say.
    pub mode: Mode,
}

/// How far a repeat is, as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// So many lengths of whatever pool.
    Lengths(u64),
    /// A number in thirds, and its unit where one is written.
    Number(u64, Option<Unit>),
}

/// Why a swim line cannot be read; ranges are bytes of the line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ChalkError {
    /// It does not begin with a number.
    NoNumber,
    /// An x without a distance after it.
    NoDistance,
    /// A number that a `u64` does not hold.
    TooLarge(Range<usize>),
    /// A comma or point inside a number.
    NotWhole(Range<usize>),
    /// A word that is no stroke or mode.
    UnknownWord(Range<usize>),
    /// A second stroke or a second mode.
    OneTooMany(Range<usize>),
}

impl Swim {
    /// Reads a swim line; case and spaces do not matter, and `x` may be `×` or `*`.
    ///
    /// # Errors
    ///
    /// A [`ChalkError`] with the bytes of the line at fault.
    pub fn parse(line: &str) -> Result<Swim, ChalkError> {
        let mut chalk = Chalk { line, at: 0 };
        let first = chalk.number()?.ok_or(ChalkError::NoNumber)?;
        let (repeats, number) = if chalk.times_sign() {
            (first, chalk.number()?.ok_or(ChalkError::NoDistance)?)
        } else {
            (1, first)
        };
        let asked = chalk.distance(number)?;
        let (stroke, mode) = chalk.stroke_and_mode()?;
        Ok(Swim { repeats, asked, stroke, mode })
    }
}

/// The line and how far it is read.
struct Chalk<'a> {
    line: &'a str,
    at: usize,
}

impl<'a> Chalk<'a> {
    fn rest(&self) -> &'a str {
        self.line.get(self.at..).unwrap_or_default()
    }

    fn skip_spaces(&mut self) {
        self.at += self.rest().len() - self.rest().trim_start().len();
    }

    fn eat(&mut self, wanted: &[char]) -> bool {
        self.skip_spaces();
        match self.rest().chars().next() {
            Some(next) if wanted.contains(&next) => {
                self.at += next.len_utf8();
                true
            }
            _ => false,
        }
    }

    fn number(&mut self) -> Result<Option<u64>, ChalkError> {
        self.skip_spaces();
        let start = self.at;
        let rest = self.rest();
        let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        if end == 0 {
            return Ok(None);
        }
        self.at += end;
        let tail = self.rest();
        let parted =
            tail.starts_with(['.', ',']) && tail.chars().nth(1).is_some_and(|c| c.is_ascii_digit());
        if parted {
            let digits = tail.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',');
            return Err(ChalkError::NotWhole(start..self.at + digits.unwrap_or(tail.len())));
        }
        let digits = rest.get(..end).unwrap_or_default();
        digits.parse().map(Some).map_err(|_| ChalkError::TooLarge(start..start + end))
    }

    /// An x between repeats and distance; the x of "x-large" is a word, but no stroke begins so.
    fn times_sign(&mut self) -> bool {
        self.eat(&['x', 'X', '\u{d7}', '*'])
    }

    fn distance(&mut self, number: u64) -> Result<Asked, ChalkError> {
        let whole = number.checked_mul(3).ok_or(ChalkError::TooLarge(0..self.at))?;
        let thirds = whole + self.third();
        let before = self.at;
        let Some(word) = self.word() else { return Ok(Asked::Number(thirds, None)) };
        let text = self.line.get(word.clone()).unwrap_or_default();
        if matches!(text.to_lowercase().as_str(), "length" | "lengths") {
            return if thirds == whole {
                Ok(Asked::Lengths(number))
            } else {
                Err(ChalkError::NotWhole(0..word.start))
            };
        }
        let unit = Unit::from_word(text);
        if unit.is_none() {
            self.at = before;
        }
        Ok(Asked::Number(thirds, unit))
    }

    /// A third or two after a whole number.
    fn third(&mut self) -> u64 {
        self.skip_spaces();
        for (sign, thirds) in [("1/3", 1), ("2/3", 2), ("\u{2153}", 1), ("\u{2154}", 2)] {
            if self.rest().starts_with(sign) {
                self.at += sign.len();
                return thirds;
            }
        }
        0
    }

    /// The next word's bytes.
    fn word(&mut self) -> Option<Range<usize>> {
        self.skip_spaces();
        let start = self.at;
        let rest = self.rest();
        self.at += rest.find(char::is_whitespace).unwrap_or(rest.len());
        (self.at > start).then_some(start..self.at)
    }

    fn stroke_and_mode(&mut self) -> Result<(Stroke, Mode), ChalkError> {
        let mut words = Vec::new();
        while let Some(word) = self.word() {
            words.push(word);
        }
        let (mut stroke, mut mode) = (None, None);
        let mut next = 0;
        while let Some(first) = words.get(next) {
            // The longest spelling wins: "front crawl" before "front".
            let (count, span, found) = (1..=3.min(words.len() - next))
                .rev()
                .find_map(|count| {
                    let span = first.start..words.get(next + count - 1)?.end;
                    let text = self
                        .line
                        .get(span.clone())?
                        .split_whitespace()
                        .collect::<Vec<_>>()
                        .join(" ");
                    let stroke = Stroke::from_any_spelling(&text);
                    let mode = Mode::from_any_spelling(&text);
                    (stroke.is_some() || mode.is_some()).then_some((count, span, (stroke, mode)))
                })
                .ok_or_else(|| ChalkError::UnknownWord(first.clone()))?;
            let second =
                found.0.is_some() && stroke.is_some() || found.1.is_some() && mode.is_some();
            if second {
                return Err(ChalkError::OneTooMany(span));
            }
            stroke = stroke.or(found.0);
            mode = mode.or(found.1);
            next += count;
        }
        Ok((stroke.unwrap_or(Stroke::Free), mode.unwrap_or(Mode::Swim)))
    }
}

impl Readable for Swim {
    const FORM: Form = Form::Swim;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::String(line) = node.value else {
            found.push(
                Finding::new(&rules::WRONG_KIND, "swim should be a swim line in quotes")
                    .label(node.place, "")
                    .help("write: swim = \"8 x 50 free\""),
            );
            return None;
        };
        Swim::parse(line).map_err(|error| found.push(unreadable(node, line, error))).ok()
    }
}

/// A swim line that cannot be read, in words.
fn unreadable(node: Node<'_>, line: &str, error: ChalkError) -> Finding {
    let finding =
        Finding::new(&UNREADABLE_SWIM, format!("the swim line \"{line}\" cannot be read"));
    let at = |span: Range<usize>| place_in(node, line, span);
    match error {
        ChalkError::NoNumber => finding
            .label(node.place, "a swim line begins with a number")
            .help("write repeats x distance: swim = \"8 x 50 free\""),
        ChalkError::NoDistance => finding
            .label(node.place, "no distance after the x")
            .help("write repeats x distance: swim = \"8 x 50 free\""),
        ChalkError::TooLarge(span) => finding.label(at(span), "this number is too large"),
        ChalkError::NotWhole(span) => finding.label(at(span), "not a whole number").help(
            "write distances without comma or point: \"1500 free\", \"2 lengths\", \"66 2/3\"",
        ),
        ChalkError::OneTooMany(span) => finding
            .label(at(span), "a second stroke or mode")
            .help("a set has one of each: write a set for each, or rounds of both"),
        ChalkError::UnknownWord(span) => {
            let finding = finding.label(at(span.clone()), "not a stroke or a mode");
            strangers::explain(finding, line, span.clone(), (at(span), node.place))
        }
    }
}

/// The place of a piece of the line; the whole value where escapes have moved its bytes.
fn place_in(node: Node<'_>, line: &str, span: Range<usize>) -> Place {
    match node.raw.find(line) {
        Some(offset) => {
            let start = node.place.start + offset;
            Place { start: start + span.start, end: start + span.end, ..node.place }
        }
        None => node.place,
    }
}

/// The line in its plainest spelling: "4 x 50 free", "50 back", "4 x 25 free kick".
#[derive(Clone, Copy, Debug)]
pub struct Chalked<'a> {
    /// How many times.
    pub repeats: u32,
    /// The distance's number.
    pub number: &'a str,
    /// The stroke.
    pub stroke: Stroke,
    /// The mode.
    pub mode: Mode,
}

impl fmt::Display for Chalked<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.repeats != 1 {
            write!(f, "{} x ", self.repeats)?;
        }
        write!(f, "{} {}", self.number, self.stroke)?;
        if self.mode != Mode::Swim {
            write!(f, " {}", self.mode)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn swim(repeats: u64, number: u64, stroke: Stroke, mode: Mode) -> Swim {
        Swim { repeats, asked: Asked::Number(number * 3, None), stroke, mode }
    }

    #[test]
    fn every_spelling_of_a_swim_line() {
        let eight = swim(8, 50, Stroke::Free, Mode::Swim);
        for line in [
            "8 x 50 free",
            "8x50",
            "8X50 Free",
            "8 \u{d7} 50 freestyle",
            "8*50 fr",
            " 8  x  50 ",
            "8 x 50 front crawl",
            "8 x 50 swim",
            "8 x 50 free swim",
        ] {
            assert_eq!(Swim::parse(line), Ok(eight), "{line}");
        }
        for (line, expected) in [
            ("50 back", swim(1, 50, Stroke::Back, Mode::Swim)),
            ("4 x 25 kick", swim(4, 25, Stroke::Free, Mode::Kick)),
            ("4 x 25 BK K", swim(4, 25, Stroke::Back, Mode::Kick)),
            ("4 x 25 kick back", swim(4, 25, Stroke::Back, Mode::Kick)),
            ("100 IM", swim(1, 100, Stroke::Im, Mode::Swim)),
            ("100 individual medley drill", swim(1, 100, Stroke::Im, Mode::Drill)),
            ("200 choice pull", swim(1, 200, Stroke::Choice, Mode::Pull)),
        ] {
            assert_eq!(Swim::parse(line), Ok(expected), "{line}");
        }
    }

    #[test]
    fn distances_in_units_lengths_and_thirds() {
        let asked = |line| Swim::parse(line).map(|swim| swim.asked);
        assert_eq!(asked("4 x 50 m free"), Ok(Asked::Number(150, Some(Unit::Metre))));
        assert_eq!(asked("4 x 50m free"), Ok(Asked::Number(150, Some(Unit::Metre))));
        assert_eq!(asked("100yd"), Ok(Asked::Number(300, Some(Unit::Yard))));
        assert_eq!(asked("4 x 2 lengths back"), Ok(Asked::Lengths(2)));
        assert_eq!(asked("1 length"), Ok(Asked::Lengths(1)));
        assert_eq!(asked("3 x 66 2/3 free"), Ok(Asked::Number(200, None)));
        assert_eq!(asked("33\u{2153} m"), Ok(Asked::Number(100, Some(Unit::Metre))));
    }

    #[test]
    fn a_line_that_cannot_be_read_says_where() {
        for (line, error) in [
            ("", ChalkError::NoNumber),
            ("free", ChalkError::NoNumber),
            ("x 50", ChalkError::NoNumber),
            ("8 x", ChalkError::NoDistance),
            ("8 x free", ChalkError::NoDistance),
            ("8 x 37.5 free", ChalkError::NotWhole(4..8)),
            ("1,500 free", ChalkError::NotWhole(0..5)),
            ("99999999999999999999 free", ChalkError::TooLarge(0..20)),
            ("8 x 50 frree", ChalkError::UnknownWord(7..12)),
            ("8 x 50 free back", ChalkError::OneTooMany(12..16)),
            ("8 times 50", ChalkError::UnknownWord(2..7)),
        ] {
            assert_eq!(Swim::parse(line), Err(error), "{line}");
        }
    }
}
