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
        Back = "back" | "backstroke" | "bk" | "ba" | "back stroke";
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
