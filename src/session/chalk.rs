//! The swim line in a file: read by its [grammar](super::line), or reported in a coach's words.

mod numbers;
mod strangers;

use std::ops::Range;

use super::rules::UNREADABLE_SWIM;
use crate::finding::{Finding, Place};
use crate::measure::{Distance, Unit};
use crate::reader::keys::Form;
use crate::reader::rules;
use crate::reader::value::{Node, Readable};
use crate::session::swim::Swim;

use toml::de::DeValue;

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
    /// It ends where something has to follow.
    Unended,
    /// A bracket that is not closed.
    Unclosed(Range<usize>),
    /// Repeats or a leg of which nothing is said.
    NoWay(Range<usize>),
    /// Legs or pieces that are not the whole, both in sixths.
    NotTheSum {
        /// The legs.
        span: Range<usize>,
        /// What they add up to.
        sum_sixths: u64,
        /// The whole.
        wanted_sixths: u64,
    },
    /// Numbers that are both the repeats of the set and the distance of one.
    TwoReadings(Range<usize>),
    /// Legs in brackets behind several distances or a time.
    LegsOf(Range<usize>),
    /// A broken swim that is not of one distance.
    BrokenOf(Range<usize>),
    /// A broken swim of one piece.
    Unpaired(Range<usize>),
}

impl Swim {
    /// Reads a swim line; case and spaces do not matter, and `x` may be `×` or `*`.
    ///
    /// # Errors
    ///
    /// A [`ChalkError`] with the bytes of the line at fault.
    pub fn parse(line: &str) -> Result<Swim, ChalkError> {
        super::line::swim(line)
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
        let swim = super::line::swim_of_club(line, node.own);
        swim.map_err(|error| found.push(unreadable(node, line, error))).ok()
    }
}

/// A swim line that cannot be read, in words.
pub(super) fn unreadable(node: Node<'_>, line: &str, error: ChalkError) -> Finding {
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
        ChalkError::OneTooMany(span) => {
            let before = line.get(..span.start).unwrap_or_default().split_whitespace().next_back();
            let second = line.get(span.clone()).unwrap_or_default();
            let halves = before.map(|first| format!("for half of each write \"{first}/{second}\""));
            let finding = finding.label(at(span), "a second stroke or mode");
            halves
                .into_iter()
                .fold(finding, Finding::help)
                .help("a leg has one of each: write legs, a set for each, or rounds of both")
        }
        ChalkError::Unended => finding
            .label(node.place, "something is missing at its end")
            .help("write what follows, as in \"4 x 100 kick/drill by 50\""),
        ChalkError::Unclosed(span) => {
            finding.label(at(span), "this bracket is not closed").help("close it with )")
        }
        ChalkError::NoWay(span) => finding
            .label(at(span), "nothing is said of these")
            .help("say how they are swum: \"8 x 50 odd free, even back\""),
        ChalkError::NotTheSum { span, sum_sixths, wanted_sixths } => {
            let number = |sixths| Distance::from_sixths(sixths, Unit::Metre).number_text();
            finding
                .label(at(span), format!("these are {} together", number(sum_sixths)))
                .help(format!(
                    "the legs of a repeat, or the pieces of a broken swim, add up to its distance: {}",
                    number(wanted_sixths)
                ))
        }
        ChalkError::TwoReadings(span) => finding
            .label(at(span), "as many as the repeats, and as far as one of them")
            .help("for legs of each repeat write their lengths: \"(1 length fly, 1 length free)\"")
            .help("for repeats write their numbers: \"(1-2 fly, 3-4 free)\""),
        ChalkError::LegsOf(span) => finding
            .label(at(span), "legs are of one distance")
            .help("write a set for each distance, each with its legs"),
        ChalkError::BrokenOf(span) => finding
            .label(at(span), "a broken swim is of one distance")
            .help("write the whole first: swim = \"400 free broken 200-100-100, 10 s\""),
        ChalkError::Unpaired(span) => finding
            .label(at(span), "one piece alone")
            .help("write all the pieces, \"broken 200-200\", or \"broken at each 50\""),
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::swim::{Asked, Course};
    use crate::session::words::{Mode, Stroke};

    fn swim(repeats: u64, number: u64, stroke: Stroke, mode: Mode) -> Swim {
        Swim::plain(repeats, Asked::Number(number * 6, None), stroke, mode)
    }

    /// A line with freestyle said, where it is what counts.
    fn whole(line: &str) -> Result<Swim, ChalkError> {
        let mut swim = Swim::parse(line)?;
        swim.say_whole();
        Ok(swim)
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
            assert_eq!(whole(line), Ok(eight.clone()), "{line}");
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
            assert_eq!(whole(line), Ok(expected), "{line}");
        }
    }

    #[test]
    fn distances_in_units_lengths_and_thirds() {
        let asked = |line| match Swim::parse(line).map(|swim| swim.course) {
            Ok(Course::Each(asked)) => Ok(asked),
            other => Err(other),
        };
        assert_eq!(asked("4 x 50 m free"), Ok(Asked::Number(300, Some(Unit::Metre))));
        assert_eq!(asked("4 x 50m free"), Ok(Asked::Number(300, Some(Unit::Metre))));
        assert_eq!(asked("100yd"), Ok(Asked::Number(600, Some(Unit::Yard))));
        assert_eq!(asked("4 x 2 lengths back"), Ok(Asked::Lengths(2)));
        assert_eq!(asked("1 length"), Ok(Asked::Lengths(1)));
        assert_eq!(asked("3 x 66 2/3 free"), Ok(Asked::Number(400, None)));
        assert_eq!(asked("33\u{2153} m"), Ok(Asked::Number(200, Some(Unit::Metre))));
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
