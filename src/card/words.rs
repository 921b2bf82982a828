//! The words printed on a card, read from one table so that other languages can follow.

use std::collections::BTreeMap;

use serde::Deserialize;
use thiserror::Error;

use crate::measure::{Date, Distance, Pool};
use crate::session::words::TradeWord;

/// Every word on a card. Text in braces stands for a value.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Words {
    /// The language's tag, as PDF readers know it: "en".
    pub language: String,
    thousands: String,
    months: [String; 12],
    pub(super) head: HeadWords,
    pub(super) part: PartWords,
    pub(super) set: SetWords,
    pub(super) strokes: StrokeWords,
    pub(super) caution: CautionWords,
    pub(super) foot: FootWords,
    pub(super) figure: FigureWords,
    trade: BTreeMap<String, String>,
}

macro_rules! word_tables {
    ($($name:ident { $($field:ident),+ })+) => {
        $(
            #[derive(Clone, Debug, Deserialize)]
            #[serde(deny_unknown_fields)]
            pub(super) struct $name { $(pub $field: String),+ }
        )+
    };
}

word_tables! {
    HeadWords { total, lengths, one_length, minutes, pool }
    PartWords { titled, continued, figures, share }
    SetWords {
        repeats, rest, leave_on, lane_leaves, clock, add_each_time, rounds, rounds_continued,
        with_gear
    }
    StrokeWords { count, count_some, goal, hold, fewer }
    CautionWords { breath_hold, dive }
    FigureWords { rest, send_off, badge, badge_alone }
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FootWords {
    pub bring: String,
    pub safety: Vec<String>,
    pub lane_rest: String,
    pub as_written: String,
    pub recut: String,
    pub lap: String,
    pub card: String,
}

/// The tables that come with the program.
const BUILT_IN: [(&str, &str); 1] = [("en", include_str!("../../templates/words/en.toml"))];

/// A words table that could not be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{0}")]
pub struct WordsError(String);

impl Words {
    /// Reads a words table.
    pub fn read(text: &str) -> Result<Words, WordsError> {
        toml::from_str(text).map_err(|e| WordsError(e.to_string()))
    }

    /// The table that comes with the program for a language, by its tag.
    pub fn named(tag: &str) -> Option<Result<Words, WordsError>> {
        BUILT_IN.iter().find(|(own, _)| *own == tag).map(|(_, text)| Words::read(text))
    }

    /// The tags of the tables that come with the program.
    pub fn tags() -> impl Iterator<Item = &'static str> {
        BUILT_IN.iter().map(|(tag, _)| *tag)
    }

    /// A trade word as printed.
    pub(super) fn trade<W: TradeWord>(&self, word: W) -> &str {
        self.trade.get(word.text()).map_or(word.text(), String::as_str)
    }

    /// A count with its thousands set apart: "1,000".
    pub(super) fn count(&self, number: u64) -> String {
        let digits = number.to_string();
        let mut out = String::new();
        for (index, digit) in digits.chars().enumerate() {
            if index > 0 && (digits.len() - index).is_multiple_of(3) {
                out.push_str(&self.thousands);
            }
            out.push(digit);
        }
        out
    }

    /// A distance without its unit: "1,000", "66⅔".
    pub(super) fn number(&self, distance: Distance) -> String {
        let (whole, thirds) = (distance.thirds() / 3, distance.thirds() % 3);
        let fraction = ["", "⅓", "⅔"].get(thirds as usize).copied().unwrap_or_default();
        match whole {
            0 if thirds > 0 => fraction.to_owned(),
            _ => format!("{}{fraction}", self.count(whole)),
        }
    }

    /// A distance with its unit, never parted at a line end.
    pub(super) fn distance(&self, distance: Distance) -> String {
        format!("{}\u{a0}{}", self.number(distance), distance.unit())
    }

    /// A pool by its length: "25 m", "33⅓ m".
    pub(super) fn pool(&self, pool: Pool) -> String {
        self.distance(pool.length())
    }

    /// A date: "12 Jan 2027".
    pub(super) fn date(&self, date: Date) -> String {
        let (year, month, day) = date.parts();
        let name = self.months.get(usize::from(month).wrapping_sub(1));
        format!("{day}\u{a0}{}\u{a0}{year}", name.map_or("", String::as_str))
    }
}

/// `pattern` with each `{name}` replaced by its value.
pub(super) fn filled(pattern: &str, values: &[(&str, &str)]) -> String {
    values
        .iter()
        .fold(pattern.to_owned(), |text, (name, value)| text.replace(&format!("{{{name}}}"), value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;

    #[test]
    fn numbers_are_real_ones() {
        let words = Words::named("en").expect("listed").expect("reads");
        assert_eq!(words.count(1_234_567), "1,234,567");
        assert_eq!(words.number(Distance::from_thirds(200, Unit::Metre)), "66⅔");
        assert_eq!(words.distance(Distance::whole(1000, Unit::Yard)), "1,000\u{a0}yd");
    }

    #[test]
    fn a_key_nobody_knows_is_a_fault() {
        assert!(Words::read("languag = \"en\"").is_err());
    }
}
