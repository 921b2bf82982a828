//! The trade words of a session file: closed lists, each in one table.

/// A closed list of words, each with the spellings it is read from.
///
/// The first spelling is the one printed and the only one the file's keys take;
/// the others are abbreviations a swim line may use.
pub trait TradeWord: Copy + PartialEq + Sized + 'static {
    /// What the list is called in a message: "a stroke".
    const WHAT: &'static str;
    /// Every word with its spellings in lower case.
    const ALL: &'static [(Self, &'static [&'static str])];

    /// The word as printed.
    fn text(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(word, _)| *word == self)
            .and_then(|(_, spellings)| spellings.first().copied())
            .unwrap_or_default()
    }

    /// The word any spelling of which is `text`, case-free.
    fn from_any_spelling(text: &str) -> Option<Self> {
        let text = text.to_lowercase();
        Self::ALL
            .iter()
            .find(|(_, spellings)| spellings.contains(&text.as_str()))
            .map(|(word, _)| *word)
    }

    /// The word whose printed form is exactly `text`.
    fn from_text(text: &str) -> Option<Self> {
        Self::ALL
            .iter()
            .find(|(_, spellings)| spellings.first() == Some(&text))
            .map(|(word, _)| *word)
    }

    /// All printed forms, in order.
    fn texts() -> impl Iterator<Item = &'static str> {
        Self::ALL.iter().filter_map(|(_, spellings)| spellings.first().copied())
    }
}

/// Why `text` is no word of a list, with the nearest that is or else all there are.
pub fn not_a_word<T: TradeWord>(text: &str) -> String {
    match super::nearest(text, T::texts()) {
        Some(near) => format!("\"{text}\" is not {}; did you mean \"{near}\"?", T::WHAT),
        None => {
            let all: Vec<&str> = T::texts().collect();
            format!("\"{text}\" is not {}: it is one of {}", T::WHAT, all.join(", "))
        }
    }
}

/// Makes a closed list of words of the files that know it.
macro_rules! trade_words {
    ($(#[$doc:meta])* $name:ident, $what:literal {
        $($(#[$variant_doc:meta])* $variant:ident = $($spelling:literal)|+;)+
    }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$variant_doc])* $variant,)+ }

        impl $crate::session::words::TradeWord for $name {
            const WHAT: &'static str = $what;
            const ALL: &'static [(Self, &'static [&'static str])] =
                &[$(($name::$variant, &[$($spelling),+]),)+];
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str($crate::session::words::TradeWord::text(*self))
            }
        }
    };
}

pub(crate) use trade_words;

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
        Free = "free" | "freestyle" | "fr" | "crawl" | "front crawl";
        /// Backstroke.
        Back = "back" | "backstroke" | "bk" | "ba";
        /// Breaststroke.
        Breast = "breast" | "breaststroke" | "br" | "brs";
        /// Butterfly.
        Fly = "fly" | "butterfly" | "fl" | "bf";
        /// Individual medley.
        Im = "IM" | "im" | "medley" | "individual medley";
        /// The swimmer's own.
        Choice = "choice" | "ch" | "any" | "stroke of choice";
    }
}

trade_words! {
    /// What of the stroke is swum.
    Mode, "a mode" {
        /// The whole stroke.
        Swim = "swim" | "sw";
        /// Legs only.
        Kick = "kick" | "k";
        /// Arms only.
        Pull = "pull" | "p";
        /// A drill for technique.
        Drill = "drill" | "dr";
        /// Sculling.
        Scull = "scull" | "sc";
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
    /// How the repeats of a set, or the lengths of a repeat, compare.
    Pattern, "a pattern" {
        /// All alike.
        Even = "even";
        /// Each faster than the one before, within a repeat.
        Build = "build";
        /// Each repeat faster than the one before.
        Descend = "descend";
        /// Second half faster than the first.
        NegativeSplit = "negative split";
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
