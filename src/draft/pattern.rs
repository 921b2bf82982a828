//! What a pattern file holds: skills with their cues, and patterns of sets with ranges.

use serde::de::Error as _;
use serde::{Deserialize, Deserializer};

use crate::measure::Seconds;
use crate::reader::trade_words::{TradeWord, not_a_word};
use crate::session::words::{Effort, Goal, Level, Mode, PartKind, Pattern, Stroke};

/// One file: the skills and patterns of a goal.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PatternFile {
    #[serde(deserialize_with = "word")]
    pub goal: Goal,
    #[serde(default, rename = "skill")]
    pub skills: Vec<Skill>,
    #[serde(default, rename = "pattern")]
    pub patterns: Vec<SetPattern>,
}

/// A skill that can be a session's focus, with what a swimmer thinks of in each kind of set.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Skill {
    /// As it stands at the head of a session.
    pub focus: String,
    /// Words by which a coach's own wording of it is known.
    #[serde(default)]
    pub words: Vec<String>,
    /// The stroke it is practised in.
    #[serde(default = "free", deserialize_with = "word")]
    pub stroke: Stroke,
    /// Whom it is for.
    #[serde(default = "every_level", deserialize_with = "words")]
    pub levels: Vec<Level>,
    /// Titles for a session with this focus.
    pub titles: Vec<String>,
    /// Cues by kind of set.
    pub cues: Cues,
}

/// Cues of a skill; a set whose own kind has none takes one for whole swims.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub(super) struct Cues {
    pub easy: Vec<String>,
    pub drill: Vec<String>,
    pub swim: Vec<String>,
    pub fast: Vec<String>,
    pub kick: Vec<String>,
    pub pull: Vec<String>,
    pub scull: Vec<String>,
    pub count: Vec<String>,
}

/// A kind of set, as cues are sorted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Think {
    Easy,
    Drill,
    Swim,
    Fast,
    Kick,
    Pull,
    Scull,
    Count,
}

impl Cues {
    /// The cues for a kind of set.
    pub fn of(&self, think: Think) -> &[String] {
        match think {
            Think::Easy => &self.easy,
            Think::Drill => &self.drill,
            Think::Swim => &self.swim,
            Think::Fast => &self.fast,
            Think::Kick => &self.kick,
            Think::Pull => &self.pull,
            Think::Scull => &self.scull,
            Think::Count => &self.count,
        }
    }
}

/// A pattern of sets that makes a part.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SetPattern {
    /// Unlike any other's.
    pub id: String,
    /// The title of the part.
    pub name: String,
    /// Why a coach gives it; stands in the session file as a comment.
    pub why: String,
    /// Parts it can make.
    #[serde(deserialize_with = "words")]
    pub parts: Vec<PartKind>,
    /// Whom it is for.
    #[serde(deserialize_with = "words")]
    pub levels: Vec<Level>,
    /// Skills it serves, by their `focus`; any if none is named.
    #[serde(default)]
    pub skills: Vec<String>,
    /// Its lines.
    pub sets: Vec<PatternLine>,
}

/// A line: a set, or rounds of sets.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PatternLine {
    /// Numbers of rounds to choose from.
    #[serde(default)]
    pub rounds: Vec<u32>,
    /// The sets of a round.
    #[serde(default)]
    pub sets: Vec<PatternLine>,
    /// The swim, with numbers to choose from: "4,6,8 x 25 own drill".
    pub swim: Option<SwimRange>,
    /// Time at the wall: "15-25 s", or "110-150 %" of the swim time.
    pub rest: Option<RestRange>,
    /// A send-off that leaves so much rest.
    pub on: Option<RestRange>,
    #[serde(default, deserialize_with = "maybe_word")]
    pub effort: Option<Effort>,
    #[serde(default, deserialize_with = "maybe_word")]
    pub pattern: Option<Pattern>,
    /// The kind of cue it takes from the skill.
    pub think: Option<Think>,
    /// A cue of its own, whatever the skill.
    pub cue: Option<String>,
    /// What to do about arm strokes: "count", "hold" or "-1".
    pub strokes: Option<String>,
    /// Whether it is never recut: a test, or a swim for its own sake.
    #[serde(default)]
    pub fixed: bool,
    /// Gear it needs.
    #[serde(default)]
    pub gear: Vec<String>,
    /// Gear that is used where it is at hand.
    #[serde(default)]
    pub at_hand: Vec<String>,
}

impl PatternLine {
    /// The sets of the line: itself, or those of a round.
    pub fn each(&self) -> &[PatternLine] {
        if self.sets.is_empty() { std::slice::from_ref(self) } else { &self.sets }
    }
}

/// A swim line with numbers to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct SwimRange {
    pub repeats: Vec<u32>,
    /// Metres or yards, brought to whole lengths of the pool later.
    pub each: Vec<u32>,
    /// `None` is the stroke of the skill, written "own".
    pub stroke: Option<Stroke>,
    pub mode: Mode,
}

impl SwimRange {
    /// Reads "4,6,8 x 25,50 own drill".
    pub fn read(text: &str) -> Result<Self, String> {
        let numbers = |text: &str| -> Option<Vec<u32>> {
            text.split(',').map(|number| number.trim().parse().ok().filter(|n| *n > 0)).collect()
        };
        let (repeats, rest) = match text.split_once(" x ") {
            Some((repeats, rest)) => (numbers(repeats), rest),
            None => (Some(vec![1]), text),
        };
        let mut words = rest.split_whitespace();
        let each = words.next().and_then(numbers);
        let (Some(repeats), Some(each)) = (repeats, each) else {
            return Err(format!("\"{text}\" is no swim: write it like \"4,6,8 x 50 free drill\""));
        };
        let mut swim = Self { repeats, each, stroke: Some(Stroke::Free), mode: Mode::Swim };
        for word in words {
            if word == "own" {
                swim.stroke = None;
            } else if let Some(stroke) = Stroke::from_any_spelling(word) {
                swim.stroke = Some(stroke);
            } else if let Some(mode) = Mode::from_any_spelling(word) {
                swim.mode = mode;
            } else {
                return Err(format!("\"{word}\" in \"{text}\" is neither a stroke nor a mode"));
            }
        }
        Ok(swim)
    }
}

impl<'de> Deserialize<'de> for SwimRange {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::read(&String::deserialize(deserializer)?).map_err(D::Error::custom)
    }
}

/// A range of rests, in seconds or in per cent of the swim time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RestRange {
    Seconds(u32, u32),
    OfSwim(u32, u32),
}

/// Rests are told in steps of this many seconds.
pub(super) const REST_STEP_S: u32 = 5;

impl RestRange {
    /// Reads "15 s", "15-25 s" or "110-150 %".
    pub fn read(text: &str) -> Result<Self, String> {
        let wrong =
            || format!("\"{text}\" is no range of rests: write \"15-25 s\" or \"110-150 %\"");
        let (range, unit) = text.rsplit_once(' ').ok_or_else(wrong)?;
        let (low, high) = range.split_once('-').unwrap_or((range, range));
        let (Ok(low), Ok(high)) = (low.trim().parse(), high.trim().parse()) else {
            return Err(wrong());
        };
        match unit {
            _ if low > high || high > 600 => Err(wrong()),
            "s" => Ok(Self::Seconds(low, high)),
            "%" => Ok(Self::OfSwim(low, high)),
            _ => Err(wrong()),
        }
    }

    /// The rest at a step of the range, after a swim of `swim`.
    pub fn at(self, step: u32, swim: Seconds) -> Seconds {
        let (low, high) = match self {
            Self::Seconds(low, high) => (Seconds::new(low), Seconds::new(high)),
            Self::OfSwim(low, high) => {
                let of_swim = |percent: u32| {
                    let product = u64::from(swim.get()) * u64::from(percent);
                    let seconds = u32::try_from(product.div_ceil(100)).unwrap_or(u32::MAX);
                    Seconds::new(seconds).rounded_up_to(REST_STEP_S)
                };
                (of_swim(low), of_swim(high))
            }
        };
        low.plus(Seconds::new(REST_STEP_S).times(step)).min(high)
    }
}

impl<'de> Deserialize<'de> for RestRange {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::read(&String::deserialize(deserializer)?).map_err(D::Error::custom)
    }
}

fn free() -> Stroke {
    Stroke::Free
}

fn every_level() -> Vec<Level> {
    Level::ALL.iter().map(|(level, _)| *level).collect()
}

/// The trade word of a text, or what was probably meant.
pub(crate) fn trade_word<T: TradeWord>(text: &str) -> Result<T, String> {
    T::from_text(text).ok_or_else(|| not_a_word::<T>(text))
}

fn word<'de, D: Deserializer<'de>, T: TradeWord>(deserializer: D) -> Result<T, D::Error> {
    trade_word(&String::deserialize(deserializer)?).map_err(D::Error::custom)
}

fn maybe_word<'de, D: Deserializer<'de>, T: TradeWord>(
    deserializer: D,
) -> Result<Option<T>, D::Error> {
    word(deserializer).map(Some)
}

fn words<'de, D: Deserializer<'de>, T: TradeWord>(deserializer: D) -> Result<Vec<T>, D::Error> {
    let texts = Vec::<String>::deserialize(deserializer)?;
    texts.iter().map(|text| trade_word(text).map_err(D::Error::custom)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn swims_are_read_with_their_numbers() {
        let swim = SwimRange::read("4,6 x 25,50 own drill").expect("a swim");
        let drill =
            SwimRange { repeats: vec![4, 6], each: vec![25, 50], stroke: None, mode: Mode::Drill };
        assert_eq!(swim, drill);
        let lone = SwimRange::read("200 back").expect("a swim");
        assert_eq!((lone.repeats, lone.stroke), (vec![1], Some(Stroke::Back)));
        for wrong in ["x 50", "4 x", "0 x 50", "4 x 50 splash", "four x 50"] {
            assert!(SwimRange::read(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn rests_go_up_by_fives_to_their_end() {
        let rest = RestRange::read("15-25 s").expect("a range");
        let at = |step| rest.at(step, Seconds::new(60)).get();
        assert_eq!([at(0), at(1), at(2), at(3)], [15, 20, 25, 25]);
        // By hand: 110 % of 37 s is 40.7 s, up to the next five 45; 150 % is 55.5 s, so 60.
        let rest = RestRange::read("110-150 %").expect("a range");
        let at = |step| rest.at(step, Seconds::new(37)).get();
        assert_eq!([at(0), at(3), at(9)], [45, 60, 60]);
        for wrong in ["15", "15-10 s", "20 min", "x s"] {
            assert!(RestRange::read(wrong).is_err(), "{wrong}");
        }
    }
}
