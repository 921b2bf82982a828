//! Every key of the session and club files, and the tables they belong to.

use std::sync::LazyLock;

use crate::finding::Placed;
use crate::measure::{Date, Distance, Pool, Seconds, TimeOfDay};
use crate::reader::keys::{Table, keys, tables_from};
use crate::reader::value::{Booking, Factor, Notice, OtherPool, ShareBand, WrittenPace};
use crate::session::swim::Swim;
use crate::session::words::{Effort, EffortWord, Goal, Keep, Level, PartKind, Pattern};
use crate::session::{
    Aim, Allow, Bands, Lane, LevelBands, Line, OnSaid, OwnEffort, Part, RestSaid, SpeedFactors,
};

keys! {
    /// The session file.
    pub SESSION, "a session", in session {
        TITLE: Placed<String> = required("title", "\"Legs that steer\"",
            "What the session is called, at the head of the card.");
        DATE: Placed<Date> = optional("date", "2027-01-12",
            "The day of the session.");
        CLUB: Placed<String> = optional("club", "\"club.toml\"",
            "A file of the club's defaults, beside the session file.");
        POOL: Placed<Pool> = usual("pool", "\"25 m\"",
            "The pool the session is written for: its length and unit.");
        ALSO: Placed<OtherPool> = optional("also", "\"25 yd\"",
            "The other pool the session is printed for, or `\"none\"` for the written one alone. Left out, it is the club's; without that, 25 m and 25 yd are printed for each other, 50 m for 25 yd, any other pool for the 25 of the other unit.");
        KEEP: Placed<Keep> = optional("keep", "\"distance\"",
            "How the other pool's version is cut: at equal distance, or length for length; `distance` unless set.");
        LEVEL: Placed<Level> = usual("level", "\"beginner\"",
            "Whom the session is for.");
        GOAL: Placed<Goal> = optional("goal", "\"technique\"",
            "What the session develops; left out, nothing is checked against it.");
        FOCUS: Placed<String> = optional("focus", "\"kick from the hip\"",
            "The one skill the session attends to; left out, nothing is checked against it.");
        BOOKED: Placed<Booking> = optional("booked", "\"45 min\"",
            "How long the lane is booked.").within(booking_s);
        STARTS: Placed<TimeOfDay> = optional("starts", "\"19:15\"",
            "When the session starts; cards then say when each part begins.");
        PACE: Placed<WrittenPace> = usual("pace", "\"2:30\"",
            "Swim time per 100 of the pool's unit at steady freestyle; `\"2:30 per 100 yd\"` where it is of the other.").within(pace_s);
        CHANGEOVER: Placed<Seconds> = optional("changeover", "\"40 s\"",
            "The pause between set lines; 30 s unless set.").within(rest_s);
        GEAR: Vec<Placed<String>> = optional("gear", "[\"board\", \"fins\"]",
            "What to bring. What the sets use is on the card in any case.").within(gear);
        STROKES_PER_LENGTH: Placed<u32> = optional("strokes_per_length", "18",
            "Arm strokes a length at the last count; stroke goals are then printed as numbers.").within(strokes_per_length);
        TOGETHER: Placed<bool> = optional("together", "true",
            "Whether all lanes are to finish together, within a repeat of each other.");
        LANGUAGE: Placed<String> = optional("language", "\"en\"",
            "The language of the card's own words: its tag, or a words file of your own beside this file.");
        ALLOW: Vec<Allow> = optional("allow", "[{ finding = \"part-share\", because = \"time-trial night\" }]",
            "Warnings the coach means, each with a reason.");
        SPEED: SpeedFactors = optional("speed", "{ back = 1.08, kick = 1.6 }",
            "Factors on swim time for strokes, modes and efforts, with at most three decimals.");
        LANES: Vec<Lane> = optional("lane", "[{ name = \"Lane 1\", pace = \"3:00\" }]",
            "Lanes, each with its own card; left out, those of the club. `lane = []` is none.").within(lanes).headed(true);
        PARTS: Vec<Part> = required("part", "[{ kind = \"main set\", sets = [{ swim = \"8 x 50 free\", rest = \"20 s\" }] }]",
            "The parts of the session, in order.").headed(true);
    }
}

keys! {
    /// A club file.
    pub CLUB, "a club file", in club {
        NAME: Placed<String> = required("name", "\"Hernmarsh Lane Club\"",
            "The club's name, at the foot of the card.");
        BADGE: Placed<String> = optional("badge", "\"badge.png\"",
            "A PNG or JPEG picture for the foot of the card, named relative to the club file.");
        BADGE_GREY: Placed<bool> = optional("badge_grey", "true",
            "Whether the badge is printed in greys, for an office printer.");
        STOCK: Placed<String> = optional("stock", "\"a6\"",
            "The stock cards are printed on: a built-in name, or a stock file beside the club file.");
        NOTICE: Placed<Notice> = optional("notice", "\"Doors open at 19:00.\"",
            "The pool's own notice for the weekly hand-out; in three quotes it may run over several lines.")
            .within(notice_characters);
        POOL: Placed<Pool> = optional("pool", "\"25 m\"",
            "The usual pool. This and the following stand in for what a session itself leaves out.");
        ALSO: Placed<OtherPool> = optional("also", "\"25 yd\"",
            "The other pool sessions are printed for, or `\"none\"` where there is only one.");
        PACE: Placed<WrittenPace> = optional("pace", "\"2:10\"",
            "The usual swim time per 100 at steady freestyle: of the unit of the club's own pool, unless it says of which.").within(pace_s);
        LEVEL: Placed<Level> = optional("level", "\"improver\"",
            "Whom sessions are usually for.");
        BOOKED: Placed<Booking> = optional("booked", "\"60 min\"",
            "How long the lanes are usually booked.").within(booking_s);
        STARTS: Placed<TimeOfDay> = optional("starts", "\"19:15\"",
            "When sessions usually start.");
        GEAR: Vec<Placed<String>> = optional("gear", "[\"board\", \"fins\"]",
            "The gear there usually is: sets that use other gear are told, where the session has no list of its own.").within(gear);
        REST: Placed<Seconds> = optional("rest", "\"20 s\"",
            "What is counted after each repeat where a set says neither rest nor send-off; 20 s unless set.").within(rest_s);
        POOL_WIDTH: Placed<Distance> = optional("pool_width", "\"12 m\"",
            "How wide the pool is, for swims of widths.").within(pool_width);
        CHANGEOVER: Placed<Seconds> = optional("changeover", "\"40 s\"",
            "The pause between set lines; 30 s unless set.").within(rest_s);
        LANGUAGE: Placed<String> = optional("language", "\"en\"",
            "The language of the card's own words: its tag, or a words file of your own beside this file.");
        ALLOW: Vec<Allow> = optional("allow", "[{ finding = \"far-wall\", because = \"steps at both ends\" }]",
            "Warnings the club means, each with a reason.");
        SPEED: SpeedFactors = optional("speed", "{ back = 1.08, kick = 1.6 }",
            "Factors on swim time for strokes, modes and efforts, with at most three decimals.");
        EFFORTS: Vec<OwnEffort> = optional("efforts", "[{ word = \"cruise\", counts = \"steady\" }]",
            "Words of the club's own for efforts, each with the one of the program's five that it counts as. They are printed as they are.").within(own_words);
        LANES: Vec<Lane> = optional("lane", "[{ name = \"Lane 1\", pace = \"3:00\" }]",
            "The usual lanes. A pace that does not say of which unit is of the club's pace, else of the club's pool.").within(lanes).headed(true);
        BANDS: Bands = optional("bands", "{ beginner = { warm-up = \"10-25\" } }",
            "The shares of the distance each part may have, by level, in whole per cent.");
    }
}

keys! {
    /// A club's own word for an effort.
    pub OWN_EFFORT, "a word for an effort", in own_effort {
        WORD: Placed<String> = required("word", "\"cruise\"",
            "The club's own word.");
        COUNTS: Placed<Effort> = required("counts", "\"steady\"",
            "What it counts as.");
    }
}

keys! {
    /// A lane.
    pub LANE, "a lane", in lane {
        NAME: Placed<String> = required("name", "\"Lane 1\"",
            "What the lane is called on its card.");
        PACE: Placed<WrittenPace> = required("pace", "\"3:00\"",
            "The lane's swim time per 100 at steady freestyle, of the unit of the session's own pace, else of its pool; `\"3:00 per 100 yd\"` where it is of the other.").within(pace_s);
        SWIMMERS: Placed<u32> = optional("swimmers", "5",
            "How many swim in the lane.").within(swimmers);
        GAP: Placed<Seconds> = optional("gap", "\"10 s\"",
            "How far apart they leave.").within(rest_s);
        STRETCH: Placed<bool> = optional("stretch", "true",
            "Whether the lane's session is also lengthened to fill the booking.");
        STROKES_PER_LENGTH: Placed<u32> = optional("strokes_per_length", "20",
            "Arm strokes a length at the lane's last count.").within(strokes_per_length);
    }
}

keys! {
    /// A part.
    pub PART, "a part", in part {
        KIND: Placed<PartKind> = required("kind", "\"main set\"",
            "Which part of the session it is.");
        TITLE: Placed<String> = optional("title", "\"Steady legs\"",
            "The coach's own name for the part.");
        KEEP: Placed<Keep> = optional("keep", "\"lengths\"",
            "How the sets of the part are cut for the other pool, whatever the session's own `keep` says.");
        SETS: Vec<Line> = required("sets", "[{ swim = \"8 x 50 free\", rest = \"20 s\" }]",
            "Its sets and rounds, with activities and remarks between them, in order.");
    }
}

keys! {
    /// A set.
    pub SET, "a set", in set {
        SWIM: Placed<Swim> = required("swim", "\"8 x 50 free\"",
            "The swim as chalked: repeats x distance, stroke, mode; legs, ladders and the like by the grammar below.");
        REST: Placed<RestSaid> = optional("rest", "\"20 s\"",
            "Time at the wall after each repeat: `\"20 s\"`, `\"10-20 s\"` (the longer counts), `\"20 s or more\"`, `\"when you need\"` (counts 30 s). Either this or `on`; without both, a single swim has none and repeats count the club's usual rest, else 20 s.").within(rest_s);
        REST_AFTER: Placed<Seconds> = optional("rest_after", "\"1 min\"",
            "The rest after the last repeat, in place of the usual one.").within(rest_s);
        ON: Placed<OnSaid> = optional("on", "\"1:45\"",
            "The send-off: repeats start this far apart; `\"2:00/100\"` for each by its distance, rounded up to 5 s. Either this or `rest`.").within(rest_s);
        EFFORT: Placed<EffortWord> = optional("effort", "\"easy\"",
            "How hard, in the program's words or a coach's; left out, the swim counts as steady.");
        PATTERN: Placed<Pattern> = optional("pattern", "\"negative split\"",
            "How the repeats compare.");
        CUE: Placed<String> = optional("cue", "\"toes long\"",
            "The short line a swimmer thinks of.");
        STROKES: Placed<Aim> = optional("strokes", "\"count\"",
            "Count arm strokes, hold the last count, or swim in fewer: `\"count\"`, `\"hold\"`, or `\"-1\"` and the like.");
        GEAR: Vec<Placed<String>> = optional("gear", "[\"board\"]",
            "What is used in the set.").within(gear);
        FIXED: Placed<bool> = optional("fixed", "true",
            "Whether the set is left as it is, as a test set; checks do not ask for it to be shorter.");
        KEEP: Placed<Keep> = optional("keep", "\"lengths\"",
            "How this set is cut for the other pool, whatever the session's own `keep` says.");
        LANES: Vec<Placed<String>> = optional("lanes", "[\"Lane 1\"]",
            "The lanes that swim the set; the others go without it. Left out, all do.").within(lanes);
    }
}

keys! {
    /// An activity.
    pub ACTIVITY, "an activity", in activity {
        ACTIVITY: Placed<String> = required("activity", "\"talk at the wall\"",
            "What is done without a swim: a talk, a game, stretching.");
        TIME: Placed<Seconds> = required("time", "\"5 min\"",
            "How long it takes.").within(rest_s);
    }
}

keys! {
    /// A remark.
    pub REMARK, "a remark", in remark {
        REMARK: Placed<String> = required("remark", "\"fins at the far end\"",
            "Words that are printed where they stand.");
    }
}

keys! {
    /// A rounds group.
    pub ROUNDS, "a rounds group", in rounds {
        ROUNDS: Placed<u32> = required("rounds", "2",
            "How many times the sets are swum through.").within(rounds);
        REST: Placed<Seconds> = optional("rest", "\"1 min\"",
            "The rest between two rounds, in place of that after the last repeat.").within(rest_s);
        EFFORTS: Vec<Placed<EffortWord>> = optional("efforts", "[\"steady\", \"quick\"]",
            "How hard each round is, where the rounds differ: one for each. Sets that say their own keep it, and none of them is recut.");
        SETS: Vec<Line> = required("sets", "[{ swim = \"2 x 100 free\", on = \"3:00\" }]",
            "The sets of one round, in order.");
    }
}

keys! {
    /// An allowed warning.
    pub ALLOW, "an allowed warning", in allow {
        FINDING: Placed<String> = required("finding", "\"part-share\"",
            "The id of the warning.");
        BECAUSE: Placed<String> = required("because", "\"time-trial night\"",
            "Why it is meant.");
    }
}

keys! {
    /// Factors on swim time.
    pub SPEED, "the speed table", in speed {
        FREE: Placed<Factor> = optional("free", "1.0", "Freestyle.");
        BACK: Placed<Factor> = optional("back", "1.08", "Backstroke.");
        BREAST: Placed<Factor> = optional("breast", "1.22", "Breaststroke.");
        FLY: Placed<Factor> = optional("fly", "1.09", "Butterfly.");
        IM: Placed<Factor> = optional("im", "1.1", "Individual medley.");
        CHOICE: Placed<Factor> = optional("choice", "1.0", "The swimmer's own stroke.");
        SWIM: Placed<Factor> = optional("swim", "1.0", "The whole stroke.");
        KICK: Placed<Factor> = optional("kick", "1.6", "Legs only.");
        PULL: Placed<Factor> = optional("pull", "1.05", "Arms only.");
        DRILL: Placed<Factor> = optional("drill", "1.3", "A drill.");
        SCULL: Placed<Factor> = optional("scull", "2.0", "Sculling.");
        EASY: Placed<Factor> = optional("easy", "1.1", "Easy effort.");
        STEADY: Placed<Factor> = optional("steady", "1.0", "Steady effort.");
        STRONG: Placed<Factor> = optional("strong", "0.95", "Strong effort.");
        HARD: Placed<Factor> = optional("hard", "0.92", "Hard effort.");
        SPRINT: Placed<Factor> = optional("sprint", "0.88", "All out.");
        CHANGEOVER: Placed<Seconds> = optional("changeover", "\"40 s\"",
            "The pause between set lines, where the file does not say it at its head.").within(rest_s);
    }
}

keys! {
    /// Bands by level.
    pub BANDS, "the bands table", in bands {
        BEGINNER: LevelBands = optional("beginner", "{ warm-up = \"10-25\" }", "Bands for beginners.");
        IMPROVER: LevelBands = optional("improver", "{ warm-up = \"10-25\" }", "Bands for improvers.");
        ADVANCED: LevelBands = optional("advanced", "{ warm-up = \"10-25\" }", "Bands for advanced swimmers.");
    }
}

keys! {
    /// One level's bands.
    pub LEVEL_BANDS, "a level's bands", in level_bands {
        WARM_UP: Placed<ShareBand> = optional("warm-up", "\"10-20\"", "Per cent of the distance in the warm-up.");
        PRE_SET: Placed<ShareBand> = optional("pre-set", "\"5-15\"", "Per cent of the distance in the pre-set.");
        MAIN_SET: Placed<ShareBand> = optional("main set", "\"50-70\"", "Per cent of the distance in the main set.");
        POST_SET: Placed<ShareBand> = optional("post set", "\"0-15\"", "Per cent of the distance in the post set.");
        COOL_DOWN: Placed<ShareBand> = optional("cool-down", "\"10-20\"", "Per cent of the distance in the cool-down.");
    }
}

/// Every table of a session file and then of a club file, each once, found from the keys of both.
pub static TABLES: LazyLock<Vec<&'static Table>> =
    LazyLock::new(|| tables_from(&[&SESSION, &CLUB]));
