//! The trade words of a session file: closed lists, each in one table.

use crate::reader::trade_words::trade_words;

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
        Free = "free" | "freestyle" | "fr" | "crawl" | "front crawl" | "free style";
        /// Backstroke.
        Back = "back" | "backstroke" | "bk" | "ba" | "back stroke" | "back crawl" | "backcrawl";
        /// Breaststroke.
        Breast = "breast" | "breaststroke" | "br" | "brs" | "breast stroke";
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
        Easy = "easy" | "ez";
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
        Build = "build" | "building";
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
        names: &["pull buoy", "buoy", "pullbuoy", "pull-buoy"],
        slips: &["pull bouy", "bouy", "pullbouy", "pull boy"],
    },
    Gear { names: &["board", "kickboard", "kick board", "kick-board"], slips: &[] },
    Gear { names: &["paddles", "hand paddles", "pads"], slips: &["paddels", "padles"] },
    Gear { names: &["fins", "flippers"], slips: &["finns"] },
    Gear { names: &["snorkel", "front snorkel"], slips: &["snorkle"] },
    Gear { names: &["tow float", "tow-float", "towfloat"], slips: &[] },
];

fn gear_of(text: &str) -> Option<(&'static Gear, String)> {
    let text = text.trim().to_lowercase();
    let holds = |gear: &&Gear| gear.names.iter().chain(gear.slips).any(|name| *name == text);
    GEAR.iter().find(holds).map(|gear| (gear, text))
}

/// Whether two names are of one piece of gear: "buoy" and "pull bouy".
pub fn same_gear(a: &str, b: &str) -> bool {
    match (gear_of(a), gear_of(b)) {
        (Some((a, _)), Some((b, _))) => std::ptr::eq(a, b),
        _ => a.trim().to_lowercase() == b.trim().to_lowercase(),
    }
}

/// A piece of gear as it is printed: as the coach has it, but for a slip of the keyboard.
pub fn printed_gear(text: &str) -> &str {
    match gear_of(text) {
        Some((gear, lower)) if gear.slips.contains(&lower.as_str()) => {
            gear.names.first().copied().unwrap_or(text)
        }
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
    }
}
