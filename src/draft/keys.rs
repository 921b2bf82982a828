//! Every key of a pattern file, and the tables they are in.

use std::sync::LazyLock;

use super::pattern::{
    Cues, OneOrMore, PatternLine, PatternSet, RestRange, RoundsRange, SetPattern, Skill, SwimRange,
    Think,
};
use crate::finding::Placed;
use crate::reader::keys::{Table, keys, tables_from};
use crate::session::Aim;
use crate::session::words::{Effort, Goal, Level, PartKind, Pattern, Stroke};

keys! {
    /// A pattern file.
    pub PATTERNS, "a file of patterns", in patterns {
        GOAL: Goal = required("goal", "\"technique\"",
            "The goal of the sessions its patterns make.");
        SKILLS: Vec<Skill> = optional("skill", "[{ focus = \"long glide\", titles = [\"Further on less\"], cues = { swim = [\"long glide off the wall\"] } }]",
            "Skills that can be a session's focus.").headed(true);
        PATTERNS: Vec<SetPattern> = optional("pattern", "[{ id = \"hernmarsh-tens\", name = \"Ten by one\", why = \"Short swims, each begun afresh.\", parts = [\"main set\"], levels = [\"beginner\"], sets = [{ swim = \"10 x 25 own\", rest = \"20 s\" }] }]",
            "Patterns of sets, each for one part of a session.").headed(true);
    }
}

keys! {
    /// A skill.
    pub SKILL, "a skill", in skill {
        FOCUS: String = required("focus", "\"long glide\"",
            "The skill, as it is written at the head of a session.");
        WORDS: Vec<String> = optional("words", "[\"glide\", \"push-off\"]",
            "Words by which a coach's own wording of it is known.");
        STROKE: Stroke = optional("stroke", "\"free\"",
            "The stroke it is practised in; free unless set.");
        LEVELS: OneOrMore<Level> = optional("levels", "[\"beginner\", \"improver\"]",
            "Whom it is for; every level unless set.");
        TITLES: OneOrMore<String> = required("titles", "[\"Further on less\"]",
            "Titles for a session with this focus.");
        CUES: Cues = required("cues", "{ swim = [\"long glide off the wall\"] }",
            "What a swimmer thinks of, by kind of set.");
    }
}

keys! {
    /// A skill's cues.
    pub CUES, "a skill's cues", in cues {
        EASY: Vec<String> = optional("easy", "[\"soft kick, long glide\"]", "In easy swims.");
        DRILL: Vec<String> = optional("drill", "[\"push off and glide until it slows\"]",
            "In drills; a skill without any is given no drill.");
        SWIM: OneOrMore<String> = required("swim", "[\"long glide off the wall\"]",
            "In whole swims, and in every kind of set that has none of its own.");
        FAST: Vec<String> = optional("fast", "[\"quicker, the glide as long\"]", "In quick swims.");
        KICK: Vec<String> = optional("kick", "[\"small kick, long line\"]", "In kicking.");
        PULL: Vec<String> = optional("pull", "[\"long line behind the arms\"]", "In pulling.");
        SCULL: Vec<String> = optional("scull", "[\"flat and long\"]",
            "In sculling; a skill without any is given no scull.");
        COUNT: Vec<String> = optional("count", "[\"one stroke less for a longer glide\"]",
            "Where arm strokes are counted.");
    }
}

keys! {
    /// A pattern.
    pub PATTERN, "a pattern", in pattern {
        ID: Placed<String> = required("id", "\"hernmarsh-tens\"",
            "Its name for the program, unlike any other's.");
        NAME: String = required("name", "\"Ten by one\"",
            "The title of the part.");
        WHY: String = required("why", "\"Short swims, each begun afresh.\"",
            "Why a coach gives it, one sentence; the session file has it as a comment.");
        PARTS: OneOrMore<PartKind> = required("parts", "[\"main set\"]",
            "The parts it can make.");
        LEVELS: OneOrMore<Level> = required("levels", "[\"beginner\"]",
            "Whom it is for.");
        SKILLS: Vec<Placed<String>> = optional("skills", "[\"long glide\"]",
            "The skills it serves, by their focus; any unless set.");
        SETS: OneOrMore<PatternLine> = required("sets", "[{ swim = \"4,6,8 x 50 free\", rest = \"15-25 s\" }]",
            "Its sets and rounds, in order.");
    }
}

keys! {
    /// A set of a pattern.
    pub PATTERN_SET, "a pattern's set", in set {
        SWIM: SwimRange = required("swim", "\"4,6,8 x 50 free\"",
            "The swim, with repeats and distances to choose from; own is the stroke of the skill. Legs and repeats that differ stand behind it as in a swim line, and steps make a ladder: \"4,8 x 50 own drill/swim\", \"8,12 x 25 free every 4th sprint\", \"1,2 x 50-100-50 own\".");
        REST: RestRange = optional("rest", "\"15-25 s\"",
            "The range of the rest: seconds, or per cent of the swim's time as \"110-150 %\".");
        ON: RestRange = optional("on", "\"10-20 s\"",
            "The range of rest that a send-off leaves.");
        EFFORT: Effort = optional("effort", "\"easy\"", "How hard.");
        PATTERN: Pattern = optional("pattern", "\"descend\"", "How the repeats compare.");
        THINK: Think = optional("think", "\"swim\"",
            "The kind of cue it takes from the skill.");
        CUE: String = optional("cue", "\"long arms, soft legs\"",
            "A cue of its own, whatever the skill.");
        STROKES: Aim = optional("strokes", "\"count\"",
            "Count arm strokes, hold the last count, or swim in fewer.");
        FIXED: bool = optional("fixed", "true",
            "Whether the set is never recut, as a test set.");
        GEAR: Vec<String> = optional("gear", "[\"pull buoy\"]",
            "Gear it cannot do without.").within(gear);
        AT_HAND: Vec<String> = optional("at_hand", "[\"board\"]",
            "Gear it uses where there is some.").within(gear);
    }
}

keys! {
    /// Rounds of a pattern.
    pub PATTERN_ROUNDS, "a pattern's rounds", in rounds {
        ROUNDS: RoundsRange = required("rounds", "[2, 3, 4]",
            "Numbers of rounds to choose from.").within(rounds);
        SETS: OneOrMore<PatternSet> = required("sets", "[{ swim = \"2 x 50 free\", rest = \"15-25 s\" }]",
            "The sets of one round, in order.");
    }
}

/// Every table of a pattern file, found from its keys.
pub static TABLES: LazyLock<Vec<&'static Table>> = LazyLock::new(|| tables_from(&[&PATTERNS]));

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_is_toml_and_every_table_has_its_own_name() {
        crate::reader::keys::assert_examples_are_toml(&TABLES);
        let names: std::collections::BTreeSet<&str> = TABLES.iter().map(|t| t.what).collect();
        assert_eq!(names.len(), 6);
    }
}
