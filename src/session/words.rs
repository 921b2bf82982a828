//! The trade words of a session file: closed lists, each in one table.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::reader::trade_words::{TradeWord, trade_words};
use crate::reader::value::OwnWords;

trade_words! {
    /// What a part of the session is for; in the order they are swum.
    PartKind, "a kind of part" {
        /// Loosening up.
        WarmUp = "warm-up";
        /// Between warm-up and main set: wakes the skill or the pace.
        PreSet = "pre-set";
        /// The work of the session.
        MainSet = "main set";
        /// After the main set: speed or skill on tired arms.
        PostSet = "post set";
        /// Easy swimming to finish.
        CoolDown = "cool-down";
    }
}

trade_words! {
    /// How the arms and legs move.
    Stroke, "a stroke" {
        /// Front crawl.
        Free = "free" | "freestyle" | "fr" | "crawl" | "front crawl" | "free style" | "fc" | "fs" | "frontcrawl";
        /// Backstroke.
        Back = "back" | "backstroke" | "bk" | "ba" | "back stroke" | "back crawl" | "backcrawl" | "bc";
        /// Breaststroke.
        Breast = "breast" | "breaststroke" | "br" | "brs" | "breast stroke" | "brst" | "bs";
        /// Butterfly.
        Fly = "fly" | "butterfly" | "fl" | "bf";
        /// Individual medley.
        Im = "IM" | "im" | "medley" | "individual medley";
        /// The swimmer's own.
        Choice = "choice" | "ch" | "any" | "stroke of choice" | "any stroke" | "own choice" | "your choice" | "no. 1" | "no.1" | "no 1" | "no1" | "number 1" | "main stroke" | "best stroke" | "#1 stroke" | "no. 1 stroke" | "no.1 stroke" | "no1 stroke" | "number 1 stroke" | "stroke";
    }
}

trade_words! {
    /// What of the stroke is swum.
    Mode, "a mode" {
        /// The whole stroke.
        Swim = "swim" | "sw" | "swum";
        /// Legs only.
        Kick = "kick" | "k" | "kicking" | "legs" | "leg kick";
        /// Arms only.
        Pull = "pull" | "p" | "pulling" | "arms" | "arms only";
        /// A drill for technique.
        Drill = "drill" | "dr" | "drills" | "drl";
        /// Sculling.
        Scull = "scull" | "sc" | "sculling";
    }
}

trade_words! {
    /// How hard, from least to most.
    Effort, "an effort" {
        /// Recovery.
        Easy = "easy";
        /// Can be held throughout.
        Steady = "steady";
        /// Above steady.
        Strong = "strong";
        /// Cannot be held long.
        Hard = "hard";
        /// All out over a short repeat.
        Sprint = "sprint";
    }
}

trade_words! {
    /// A way of moving that covers no distance: it counts time and nothing else.
    Movement, "a way of moving on the spot" {
        /// Kicking upright in one place.
        VerticalKick = "vertical kick" | "vertical kicking" | "vert kick" | "kick vertical";
        /// Keeping the head up in one place.
        TreadWater = "tread water" | "treading water" | "treading";
    }
}

/// What coaches say for an effort, and what of the program's five it counts as. Common practice,
/// no source.
const EFFORT_WORDS: [(&str, Effort); 46] = [
    ("ez", Effort::Easy),
    ("loose", Effort::Easy),
    ("relaxed", Effort::Easy),
    ("gentle", Effort::Easy),
    ("loosen", Effort::Easy),
    ("light", Effort::Easy),
    ("recovery", Effort::Easy),
    ("60 %", Effort::Easy),
    ("65 %", Effort::Easy),
    ("moderate", Effort::Steady),
    ("mod", Effort::Steady),
    ("medium", Effort::Steady),
    ("cruise", Effort::Steady),
    ("smooth", Effort::Steady),
    ("aerobic", Effort::Steady),
    ("70 %", Effort::Steady),
    ("75 %", Effort::Steady),
    ("threshold", Effort::Strong),
    ("threshold pace", Effort::Strong),
    ("css", Effort::Strong),
    ("css pace", Effort::Strong),
    ("400 pace", Effort::Strong),
    ("500 pace", Effort::Strong),
    ("800 pace", Effort::Strong),
    ("1000 pace", Effort::Strong),
    ("1500 pace", Effort::Strong),
    ("1650 pace", Effort::Strong),
    ("mile pace", Effort::Strong),
    ("tempo", Effort::Strong),
    ("brisk", Effort::Strong),
    ("80 %", Effort::Strong),
    ("85 %", Effort::Strong),
    ("fast", Effort::Hard),
    ("quick", Effort::Hard),
    ("race pace", Effort::Hard),
    ("goal pace", Effort::Hard),
    ("200 pace", Effort::Hard),
    ("90 %", Effort::Hard),
    ("95 %", Effort::Hard),
    ("50 pace", Effort::Sprint),
    ("100 pace", Effort::Sprint),
    ("max", Effort::Sprint),
    ("flat out", Effort::Sprint),
    ("all out", Effort::Sprint),
    ("maximum", Effort::Sprint),
    ("100 %", Effort::Sprint),
];

/// An effort as the coach said it, with what it counts as.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EffortWord {
    /// What it counts as.
    pub counts: Effort,
    /// The coach's own word, where it is not the program's.
    own: Option<std::sync::Arc<str>>,
}

impl EffortWord {
    /// One of the program's five.
    pub fn of(effort: Effort) -> Self {
        Self { counts: effort, own: None }
    }

    /// A club's or a coach's own word, that counts as one of the five.
    pub fn own(word: &str, counts: Effort) -> Self {
        Self { counts, own: Some(word.into()) }
    }

    /// The effort that `text` says, in one of the program's words or a coach's.
    pub fn from_any_spelling(text: &str) -> Option<Self> {
        static EFFORTS: LazyLock<HashMap<&'static str, EffortWord>> = LazyLock::new(|| {
            let own =
                EFFORT_WORDS.iter().map(|(word, effort)| (*word, EffortWord::own(word, *effort)));
            let five =
                Effort::ALL.iter().map(|(effort, _)| (effort.text(), EffortWord::of(*effort)));
            own.chain(five).collect()
        });
        let known = EFFORTS.get(text);
        let plain = |sign: char| sign.is_ascii_lowercase() || sign == ' ';
        if known.is_some() || text.chars().all(plain) && !text.starts_with(' ') {
            return known.cloned();
        }
        let text = text.trim().to_lowercase().replace('%', " %");
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        EFFORTS.get(text.as_str()).cloned()
    }

    /// The coach's own word, where it is not the program's: it is printed as it is.
    pub fn own_word(&self) -> Option<&str> {
        self.own.as_deref()
    }

    /// The effort that `text` says in a word of the club's own, or in any other.
    pub(crate) fn from_club_spelling(text: &str, own_words: &OwnWords) -> Option<Self> {
        let counts = own_words.counts(text).and_then(Effort::from_text);
        let own = counts.map(|counts| Self::own(text.trim(), counts));
        own.or_else(|| Self::from_any_spelling(text)).or_else(|| Self::off_a_pace(text, own_words))
    }

    /// So many seconds off a pace counts as the pace: "CSS + 5 s".
    fn off_a_pace(text: &str, own: &OwnWords) -> Option<Self> {
        let (pace, off) = text.split_at(text.find(['+', '-'])?);
        let off = off.trim_start_matches(['+', '-']).trim();
        let seconds = off.trim_end_matches(|sign: char| sign.is_alphabetic()).trim();
        seconds.parse::<u32>().ok()?;
        let pace = Self::from_club_spelling(pace.trim(), own)?;
        Some(Self::own(text.trim(), pace.counts))
    }

    /// As it was said.
    pub fn said(&self) -> &str {
        self.own.as_deref().unwrap_or_else(|| self.counts.text())
    }

    /// Every word that coaches say for an effort, with what it counts as.
    pub fn all() -> impl Iterator<Item = (&'static str, Effort)> {
        EFFORT_WORDS.into_iter()
    }
}

trade_words! {
    /// How the repeats of a set, or the lengths of a repeat, compare.
    Pattern, "a pattern" {
        /// All alike.
        Even = "even";
        /// Each faster than the one before, within a repeat.
        Build = "build" | "building" | "bld";
        /// Each repeat faster than the one before.
        Descend = "descend" | "desc" | "descending";
        /// Second half faster than the first.
        NegativeSplit = "negative split" | "neg split" | "ns";
    }
}

trade_words! {
    /// Whom the session is for.
    Level, "a level" {
        /// New to structured sessions.
        Beginner = "beginner";
        /// Swims the strokes and wants more.
        Improver = "improver";
        /// Trains regularly.
        Advanced = "advanced";
    }
}

trade_words! {
    /// What the session develops.
    Goal, "a goal" {
        /// Feeling at home in the water.
        Ease = "ease";
        /// Moving better.
        Technique = "technique";
        /// Going longer.
        Endurance = "endurance";
        /// Holding the strongest pace that can be held.
        Threshold = "threshold";
        /// Going faster.
        Speed = "speed";
        /// Strokes other than freestyle, and the four joined.
        Medley = "medley";
        /// Loosening up between harder sessions.
        Recovery = "recovery";
    }
}

trade_words! {
    /// How the other pool's version is cut.
    Keep, "a way to keep" {
        /// At equal distance.
        Distance = "distance";
        /// Length for length.
        Lengths = "lengths";
    }
}

/// A piece of gear in the words coaches have for it. Common practice, no source.
struct Gear {
    /// Spellings that are printed as they are.
    names: &'static [&'static str],
    /// Spellings that are slips, and printed as the first name.
    slips: &'static [&'static str],
}

/// Gear that has several names. Any other is known by its own.
const GEAR: &[Gear] = &[
    Gear {
        names: &["pull buoy", "buoy"],
        slips: &[
            "pullbuoy",
            "pb",
            "pull bouy",
            "bouy",
            "pullbouy",
            "pull boy",
            "bouys",
            "pull bouys",
        ],
    },
    Gear {
        names: &["kickboard", "board", "kick board", "float"],
        slips: &["kickbaord", "kick baord", "baord"],
    },
    Gear {
        names: &["paddles", "hand paddles", "pads"],
        slips: &["paddels", "padles", "hand paddels", "hand padles"],
    },
    Gear { names: &["finger paddles"], slips: &["finger paddels", "finger padles"] },
    Gear { names: &["fins", "flippers"], slips: &["finns"] },
    Gear {
        names: &[
            "snorkel",
            "front snorkel",
            "center snorkel",
            "centre snorkel",
            "centre mount snorkel",
            "center mount snorkel",
        ],
        slips: &["snorkle", "front snorkle", "center snorkle", "centre snorkle"],
    },
    Gear { names: &["tow float", "towfloat"], slips: &["tow flaot", "toe float"] },
];

/// A name in small letters, with spaces for hyphens.
fn bare(text: &str) -> String {
    let text = text.to_lowercase().replace(['-', '\u{2010}', '\u{2011}'], " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether two names are alike but for an s at the end: a paddle, paddles.
fn alike(a: &str, b: &str) -> bool {
    a.strip_suffix('s').unwrap_or(a) == b.strip_suffix('s').unwrap_or(b)
}

/// The piece that a name is of, and the slip that it is, if it is one.
fn gear_of(text: &str) -> Option<(&'static Gear, bool)> {
    let text = bare(text);
    let holds = |names: &[&str]| names.iter().any(|name| alike(name, &text));
    GEAR.iter().find_map(|gear| match (holds(gear.names), holds(gear.slips)) {
        (true, _) => Some((gear, false)),
        (false, slip) => slip.then_some((gear, true)),
    })
}

/// A name without capitals, hyphens and the s at its end: names of equal stems are alike.
pub(crate) fn gear_stem(text: &str) -> String {
    let text = bare(text);
    text.strip_suffix('s').unwrap_or(&text).to_owned()
}

/// The stems of all names that a piece of gear has.
pub(crate) fn gear_stems(name: &str) -> Vec<String> {
    match gear_of(name) {
        Some((gear, _)) => {
            gear.names.iter().chain(gear.slips).map(|name| gear_stem(name)).collect()
        }
        None => vec![gear_stem(name)],
    }
}

/// Whether two names are of one piece of gear: "buoy" and "pull bouy".
pub fn same_gear(a: &str, b: &str) -> bool {
    match (gear_of(a), gear_of(b)) {
        (Some((a, _)), Some((b, _))) => std::ptr::eq(a, b),
        _ => alike(&bare(a), &bare(b)),
    }
}

/// A piece of gear as it is printed: as the coach has it, but for a slip of the keyboard.
pub fn printed_gear(text: &str) -> &str {
    match gear_of(text) {
        Some((gear, true)) => gear.names.first().copied().unwrap_or(text),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_piece_of_gear_has_several_names() {
        assert!(same_gear("pull bouy", "Buoy") && same_gear("buoy", "pull buoy"));
        assert!(!same_gear("buoy", "board") && same_gear("Rope", "rope "));
        assert_eq!(printed_gear("pull bouy"), "pull buoy");
        assert_eq!([printed_gear("buoy"), printed_gear("Rope")], ["buoy", "Rope"]);
        for (a, b) in [
            ("kick board", "Kickboard"),
            ("paddle", "hand paddles"),
            ("tow-float", "Towfloat"),
            ("snorkel", "center snorkel"),
            ("Pull-buoy", "bouy"),
            ("kickbaord", "boards"),
            ("fin", "flippers"),
            ("band", "Bands"),
        ] {
            assert!(same_gear(a, b), "{a}, {b}");
        }
        assert!(!same_gear("finger paddles", "hand paddles") && !same_gear("", "buoy"));
    }

    #[test]
    fn a_slip_is_printed_as_the_name() {
        let printed = ["pull-bouy", "Pullbuoy", "kickbaord", "Snorkle", "hand paddels"];
        let names = ["pull buoy", "pull buoy", "kickboard", "snorkel", "paddles"];
        assert_eq!(printed.map(printed_gear), names);
        assert_eq!(["Kick board", "paddle"].map(printed_gear), ["Kick board", "paddle"]);
    }
}
