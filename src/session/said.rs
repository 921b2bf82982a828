//! Rests, send-offs and efforts as coaches say them.

use crate::finding::Finding;
use crate::measure::{LIMITS, Seconds};
use crate::reader::keys::Form;
use crate::reader::trade_words::TradeWord;
use crate::reader::value::{Node, Readable, range_of_times, unknown_word};
use crate::session::words::{Effort, EffortWord};

/// A rest as it is said, which is also how it is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestSaid {
    /// "20 s".
    Of(Seconds),
    /// "10-20 s": the longer counts.
    Between(Seconds, Seconds),
    /// "20 s or more": it counts as written.
    OrMore(Seconds),
    /// "when you need": as long as each swimmer likes.
    WhenNeeded,
}

/// What a rest counts that is as long as each swimmer likes. Common practice, no source.
const WHEN_NEEDED: Seconds = Seconds::new(30);

impl RestSaid {
    /// What it counts in times.
    pub fn counts(self) -> Seconds {
        match self {
            RestSaid::Of(time) | RestSaid::OrMore(time) | RestSaid::Between(_, time) => time,
            RestSaid::WhenNeeded => WHEN_NEEDED,
        }
    }
}

/// Endings of a rest that may be longer. Common practice, no source.
const OR_MORE: [&str; 4] = ["or more", "at least", "minimum", "+"];

/// Rests as long as each swimmer likes. Common practice, no source.
const NEEDED: [&str; 5] =
    ["when you need", "when needed", "as you need", "as needed", "as much as you need"];

impl Readable for RestSaid {
    const FORM: Form = Form::Rest;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let Some(text) = node.value.as_str() else {
            return Seconds::read(node, found).map(RestSaid::Of);
        };
        let lower = text.trim().to_lowercase();
        if NEEDED.contains(&lower.as_str()) {
            return Some(RestSaid::WhenNeeded);
        }
        let within = |time: Seconds| LIMITS.rest_s.holds(u64::from(time.get())).then_some(time);
        let time = |text: &str| text.trim().parse::<Seconds>().ok().and_then(within);
        let ending = OR_MORE.iter().find_map(|ending| lower.strip_suffix(ending));
        if let Some(least) = ending.and_then(time) {
            return Some(RestSaid::OrMore(least));
        }
        // A bare number could be minutes.
        let has_unit = lower.contains(|c: char| c.is_alphabetic() || c == ':');
        if let Some((least, most)) = range_of_times(&lower).filter(|_| has_unit)
            && let (Some(least), Some(most)) = (time(&least), time(&most))
            && least < most
        {
            return Some(RestSaid::Between(least, most));
        }
        Seconds::read(node, found).map(RestSaid::Of)
    }
}

/// A send-off as it is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnSaid {
    /// Repeats start this far apart.
    Every(Seconds),
    /// So long for each 100 of the pool's unit.
    Per100(Seconds),
}

impl Readable for OnSaid {
    const FORM: Form = Form::SendOff;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.value.as_str().map(str::trim);
        let per_100 = text.and_then(|text| {
            let (time, hundred) = text.split_once('/').or_else(|| text.split_once(" per "))?;
            let hundred = hundred.trim().trim_end_matches(char::is_alphabetic).trim();
            (hundred == "100").then(|| time.trim().parse::<Seconds>().ok())?
        });
        let within = |time: &Seconds| LIMITS.rest_s.holds(u64::from(time.get())) && time.get() > 0;
        match per_100.filter(within) {
            Some(time) => Some(OnSaid::Per100(time)),
            None => Seconds::read(node, found).map(OnSaid::Every),
        }
    }
}

impl Readable for EffortWord {
    const FORM: Form = Form::AnyWord(|| Effort::texts().collect());
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text(Effort::FORM, found)?;
        let effort = EffortWord::from_club_spelling(text, node.own);
        if effort.is_none() {
            found.push(unknown_word::<Effort>(node, text));
        }
        effort
    }
}
