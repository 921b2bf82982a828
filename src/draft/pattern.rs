//! What a pattern file holds: skills with their cues, and patterns of sets with ranges.

use crate::finding::Placed;
use crate::measure::Seconds;
use crate::reader::trade_words::{TradeWord, trade_words};
use crate::session::words::{Effort, Goal, Level, Mode, PartKind, Pattern, Stroke};
use crate::session::{Aim, Swim};

/// One file: the skills and patterns of a goal.
#[derive(Clone, Debug)]
pub(crate) struct PatternFile {
    pub goal: Goal,
    pub skills: Vec<Skill>,
    pub patterns: Vec<SetPattern>,
}

impl PatternFile {
    /// What it says of skills and of sets.
    pub fn texts(&self) -> impl Iterator<Item = &str> {
        let patterns = self.patterns.iter().flat_map(|pattern| {
            let cues = pattern.sets().filter_map(|set| set.cue.as_deref());
            [pattern.name.as_str(), pattern.why.as_str()].into_iter().chain(cues)
        });
        self.skills.iter().flat_map(Skill::texts).chain(patterns)
    }
}

/// A list with something in it.
#[derive(Clone, Debug)]
pub(crate) struct OneOrMore<T>(pub Vec<T>);

/// A skill that can be a session's focus, with what a swimmer thinks of in each kind of set.
#[derive(Clone, Debug)]
pub(crate) struct Skill {
    /// As it is written at the head of a session.
    pub focus: String,
    /// Words by which a coach's own wording of it is known.
    pub words: Vec<String>,
    /// The stroke it is practised in.
    pub stroke: Stroke,
    /// Whom it is for.
    pub levels: Vec<Level>,
    /// Titles for a session with this focus.
    pub titles: Vec<String>,
    /// Cues by kind of set.
    pub cues: Cues,
}

impl Skill {
    /// Its words, titles and cues.
    pub fn texts(&self) -> impl Iterator<Item = &str> {
        let cues = Think::ALL.iter().flat_map(|(think, _)| self.cues.of(*think));
        let own = std::iter::once(&self.focus).chain(&self.words).chain(&self.titles);
        own.chain(cues).map(String::as_str)
    }
}

/// Cues of a skill; a set whose own kind has none takes one for whole swims.
#[derive(Clone, Debug, Default)]
pub(crate) struct Cues {
    pub easy: Vec<String>,
    pub drill: Vec<String>,
    pub swim: Vec<String>,
    pub fast: Vec<String>,
    pub kick: Vec<String>,
    pub pull: Vec<String>,
    pub scull: Vec<String>,
    pub count: Vec<String>,
}

trade_words! {
    /// A kind of set, as cues are sorted.
    Think, "a kind of cue" {
        /// Easy swims.
        Easy = "easy";
        /// Drills.
        Drill = "drill";
        /// Whole swims.
        Swim = "swim";
        /// Quick swims.
        Fast = "fast";
        /// Legs only.
        Kick = "kick";
        /// Arms only.
        Pull = "pull";
        /// Sculling.
        Scull = "scull";
        /// Where arm strokes are counted.
        Count = "count";
    }
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
#[derive(Clone, Debug)]
pub(crate) struct SetPattern {
    /// Unlike any other's.
    pub id: Placed<String>,
    /// The title of the part.
    pub name: String,
    /// Why a coach gives it; the session file has it as a comment.
    pub why: String,
    /// Parts it can make.
    pub parts: Vec<PartKind>,
    /// Whom it is for.
    pub levels: Vec<Level>,
    /// Skills it serves, by their `focus`; any if none is named.
    pub skills: Vec<Placed<String>>,
    /// Its sets and rounds.
    pub lines: Vec<PatternLine>,
}

impl SetPattern {
    /// Every set, those of rounds once each.
    pub fn sets(&self) -> impl Iterator<Item = &PatternSet> {
        self.lines.iter().flat_map(PatternLine::sets)
    }
}

/// A set, or rounds of sets.
#[derive(Clone, Debug)]
pub(crate) enum PatternLine {
    /// A set alone.
    Set(PatternSet),
    /// Sets swum through several times.
    Rounds {
        /// Numbers of rounds to choose from.
        counts: Vec<u32>,
        /// The sets of a round.
        sets: Vec<PatternSet>,
    },
}

impl PatternLine {
    /// The sets of the line: itself, or those of a round.
    pub fn sets(&self) -> &[PatternSet] {
        match self {
            Self::Set(set) => std::slice::from_ref(set),
            Self::Rounds { sets, .. } => sets,
        }
    }
}

/// A set with numbers to choose from.
#[derive(Clone, Debug)]
pub(crate) struct PatternSet {
    pub swim: SwimRange,
    pub wait: Wait,
    pub effort: Option<Effort>,
    pub pattern: Option<Pattern>,
    /// The kind of cue it takes from the skill.
    pub think: Option<Think>,
    /// A cue of its own, whatever the skill.
    pub cue: Option<String>,
    /// What to do about arm strokes.
    pub strokes: Option<Aim>,
    /// Whether it is never recut: a test, or a swim for its own sake.
    pub fixed: bool,
    /// Gear it needs.
    pub gear: Vec<String>,
    /// Gear that is used where there is some.
    pub at_hand: Vec<String>,
}

/// What ends the time at the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wait {
    /// A rest.
    Rest(RestRange),
    /// A send-off that leaves so much rest.
    SendOff(RestRange),
}

impl Wait {
    /// How long it lasts at the wall.
    pub fn range(self) -> RestRange {
        match self {
            Self::Rest(range) | Self::SendOff(range) => range,
        }
    }
}

/// Numbers of rounds to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct RoundsRange(pub Vec<u32>);

/// A swim line with numbers to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct SwimRange {
    pub repeats: Vec<u32>,
    /// Metres or yards, brought to whole lengths of the pool later; nothing for a ladder.
    pub each: Vec<u32>,
    /// The steps of a ladder.
    pub steps: Vec<u32>,
    /// `None` is the stroke of the skill, written "own".
    pub stroke: Option<Stroke>,
    pub mode: Mode,
    /// Legs, or how the repeats differ, as the swim line has them: "drill/swim", "every 4th sprint".
    pub behind: String,
}

impl SwimRange {
    /// Reads "4,6,8 x 25,50 own drill", "4,8 x 50 own drill/swim", "1,2 x 50-100-50 own"; an error says
    /// what is wrong with it.
    pub fn parse(text: &str) -> Result<Self, String> {
        let numbers = |text: &str| -> Option<Vec<u32>> {
            text.split(',').map(|number| number.trim().parse().ok()).collect()
        };
        let (repeats, rest) = match text.split_once(" x ") {
            Some((repeats, rest)) => (numbers(repeats), rest),
            None => (Some(vec![1]), text),
        };
        let mut words = rest.split_whitespace();
        let first = words.next().unwrap_or_default();
        let steps: Option<Vec<u32>> = first.split('-').map(|step| step.parse().ok()).collect();
        let (each, steps) = match steps.filter(|steps| steps.len() > 1) {
            Some(steps) => (Some(Vec::new()), steps),
            None => (numbers(first), Vec::new()),
        };
        let (Some(repeats), Some(each)) = (repeats, each) else {
            return Err("not repeats x distances, stroke and mode".to_owned());
        };
        let stroke = Some(Stroke::Free);
        let mut swim =
            Self { repeats, each, steps, stroke, mode: Mode::Swim, behind: String::new() };
        while let Some(word) = words.next() {
            // "IM order" is one stroke a repeat, and no medley.
            let is_order = words.clone().next() == Some("order");
            if word == "own" {
                swim.stroke = None;
            } else if is_order {
                words.next();
                swim.behind = format!("{word} order");
                swim.says_a_swim(word)?;
            } else if let Some(stroke) = Stroke::from_any_spelling(word) {
                swim.stroke = Some(stroke);
            } else if let Some(mode) = Mode::from_any_spelling(word) {
                swim.mode = mode;
            } else {
                let behind: Vec<&str> = [word].into_iter().chain(words.by_ref()).collect();
                swim.behind = behind.join(" ");
                swim.says_a_swim(word)?;
            }
        }
        Ok(swim)
    }

    /// Whether all its repeats are alike and of one leg.
    pub fn is_plain(&self) -> bool {
        self.steps.is_empty() && self.behind.is_empty()
    }

    /// Whether what is behind can be read with any of the numbers; `word` is where it begins.
    fn says_a_swim(&self, word: &str) -> Result<(), String> {
        let distances: Vec<String> = match self.steps.as_slice() {
            [] => self.each.iter().map(u32::to_string).collect(),
            steps => vec![ladder(steps.iter().map(u32::to_string))],
        };
        let reads = |repeats: &u32, distance: &String| {
            Swim::parse(&self.chalk(*repeats, distance, Stroke::Free)).is_ok()
        };
        let mut pairs = self
            .repeats
            .iter()
            .flat_map(|repeats| distances.iter().map(move |each| (repeats, each)));
        match pairs.any(|(repeats, each)| reads(repeats, each)) {
            true => Ok(()),
            false if self.behind == word => {
                Err(format!("\"{word}\" is neither a stroke nor a mode"))
            }
            false => Err(format!("\"{}\" is neither legs nor how repeats differ", self.behind)),
        }
    }

    /// "6 x 50 free drill", as a coach chalks it; `own` is the stroke of the skill.
    pub fn chalk(&self, repeats: u32, distance: &str, own: Stroke) -> String {
        let mut words = Vec::new();
        if repeats > 1 {
            words.push(format!("{repeats} x"));
        }
        words.push(distance.to_owned());
        let stroke = self.stroke.unwrap_or(own);
        // Legs in turn and repeats that all say how leave free unsaid.
        let says_all = self.behind.contains('/') || self.behind.contains(", even ");
        let legs_say_it = says_all && self.mode == Mode::Swim;
        let plain_free = stroke == Stroke::Free
            && (legs_say_it || !matches!(self.mode, Mode::Swim | Mode::Drill));
        if !plain_free && self.behind != "IM order" {
            words.push(stroke.to_string());
        }
        if self.mode != Mode::Swim {
            words.push(self.mode.to_string());
        }
        if !self.behind.is_empty() {
            words.push(self.behind.clone());
        }
        words.join(" ")
    }
}

/// The steps of a ladder on one line.
pub(super) fn ladder(steps: impl Iterator<Item = String>) -> String {
    steps.collect::<Vec<_>>().join("-")
}

/// A range of rests, in seconds or in per cent of the swim time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum RestRange {
    Seconds(u32, u32),
    OfSwim(u32, u32),
}

/// Rests are written in steps of this many seconds.
pub(super) const REST_STEP_S: u32 = 5;
/// The most seconds, or per cent, of a rest.
const REST_MOST: u32 = 600;

impl RestRange {
    /// Reads "15 s", "15-25 s" or "110-150 %".
    pub fn parse(text: &str) -> Option<Self> {
        let (range, unit) = text.rsplit_once(' ')?;
        let (low, high) = range.split_once('-').unwrap_or((range, range));
        let (low, high) = (low.trim().parse().ok()?, high.trim().parse().ok()?);
        match unit {
            _ if low > high || high > REST_MOST => None,
            "s" => Some(Self::Seconds(low, high)),
            "%" => Some(Self::OfSwim(low, high)),
            _ => None,
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn swims_are_read_with_their_numbers() {
        let swim = SwimRange::parse("4,6 x 25,50 own drill").expect("a swim");
        let drill = SwimRange {
            repeats: vec![4, 6],
            each: vec![25, 50],
            stroke: None,
            mode: Mode::Drill,
            steps: vec![],
            behind: String::new(),
        };
        assert_eq!(swim, drill);
        for (text, behind, chalk) in [
            ("4,8 x 50 own drill/swim", "drill/swim", "8 x 50 back drill/swim"),
            ("8 x 50 drill/swim", "drill/swim", "8 x 50 drill/swim"),
            ("4,8 x 25 own every 4th sprint", "every 4th sprint", "8 x 25 back every 4th sprint"),
            ("8 x 50 IM order", "IM order", "8 x 50 IM order"),
        ] {
            let swim = SwimRange::parse(text).expect("a swim");
            assert_eq!(swim.behind, behind, "{text}");
            let own = if text.contains("own") { Stroke::Back } else { Stroke::Free };
            let each = swim.each.first().expect("a distance").to_string();
            assert_eq!(swim.chalk(8, &each, own), chalk);
        }
        let steps = SwimRange::parse("1,2 x 50-100-50 own").expect("a ladder");
        assert_eq!((steps.steps, steps.each), (vec![50, 100, 50], vec![]));
        let lone = SwimRange::parse("200 back").expect("a swim");
        assert_eq!((lone.repeats, lone.stroke), (vec![1], Some(Stroke::Back)));
        for wrong in [
            "x 50",
            "4 x",
            "4 x 50 splash",
            "4 x 50 odd",
            "4,8 x 25 own, every 4th sprint",
            "4 x 50 free/splash",
            "four x 50",
            "-4 x 50",
            "",
        ] {
            assert!(SwimRange::parse(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn rests_go_up_by_fives_to_their_end() {
        let rest = RestRange::parse("15-25 s").expect("a range");
        let at = |step| rest.at(step, Seconds::new(60)).get();
        assert_eq!([at(0), at(1), at(2), at(3)], [15, 20, 25, 25]);
        // By hand: 110 % of 37 s is 40.7 s, up to the next five 45; 150 % is 55.5 s, so 60.
        let rest = RestRange::parse("110-150 %").expect("a range");
        let at = |step| rest.at(step, Seconds::new(37)).get();
        assert_eq!([at(0), at(3), at(9)], [45, 60, 60]);
        for wrong in ["15", "15-10 s", "20 min", "x s", "15-601 s"] {
            assert!(RestRange::parse(wrong).is_none(), "{wrong}");
        }
    }
}
