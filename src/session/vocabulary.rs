//! The vocabulary of the files: every table and key, once.
//!
//! Reading, suggestions, the schema for editors and the reference page all come
//! from these tables. A key carries the type it is read as, so a key cannot be
//! read as anything else.

use std::marker::PhantomData;

use super::chalk::Swim;
use super::leaf::{Factor, Leaf, Notice, ShareBand};
use super::words::{Effort, Goal, Keep, Level, PartKind, Pattern};
use super::{Aim, Allow, Bands, Lane, LevelBands, Line, Part, SpeedFactors};
use crate::finding::Placed;
use crate::measure::{Bound, Date, Pool, Seconds, TimeOfDay};

/// Whether a key must be there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// A file without it is at fault.
    Required,
    /// It may be left out.
    Optional,
}

/// What a value looks like in the file.
#[derive(Clone, Copy, Debug)]
pub enum Form {
    /// Any line of text.
    Text,
    /// One of a closed list of words.
    Word(fn() -> Vec<&'static str>),
    /// A time: "1:45".
    Time,
    /// A booking, in minutes or hours: "45 min".
    Booking,
    /// A time of day: "19:15".
    TimeOfDay,
    /// A date without quotes: 2027-01-12.
    Date,
    /// A pool: "25 m".
    Pool,
    /// A swim line: "8 x 50 free".
    Swim,
    /// A whole number.
    Count,
    /// true or false.
    Flag,
    /// What to do about arm strokes: "count", "hold", "-1".
    Aim,
    /// A decimal with at most three places.
    Factor,
    /// A range of shares: "10-20".
    Band,
    /// A length on paper or to the reader: "105 mm".
    Size,
    /// A list of one form.
    List(&'static Form),
    /// A table.
    Table(&'static Table),
    /// A set or a rounds group, told apart by their keys. A function, since rounds hold
    /// lines again and a constant may not lead back to itself.
    AnyTable(fn() -> [&'static Table; 2]),
    /// A distance: "1500 m".
    Distance,
    /// A file's name, or a table of one of two kinds, told apart by their keys.
    NameOrTable(fn() -> [&'static Table; 2]),
}

impl Form {
    /// What the value is, as a message says it.
    pub fn in_words(self) -> &'static str {
        match self {
            Form::Text => "text in quotes",
            Form::Word(_) => "a word in quotes",
            Form::Time => "a time in quotes",
            Form::Booking => "a length of time in quotes",
            Form::TimeOfDay => "a time of day in quotes",
            Form::Date => "a date without quotes, year-month-day",
            Form::Pool => "a pool in quotes",
            Form::Swim => "a swim line in quotes",
            Form::Count => "a whole number without quotes",
            Form::Flag => "true or false without quotes",
            Form::Aim => "\"count\", \"hold\" or a number such as \"-1\", in quotes",
            Form::Factor => "a decimal number without quotes",
            Form::Band => "a range such as \"10-20\", in quotes",
            Form::Size => "a size in quotes",
            Form::List(_) => "a list in square brackets",
            Form::Table(_) | Form::AnyTable(_) => "a table in curly brackets",
            Form::Distance => "a distance in quotes",
            Form::NameOrTable(_) => "a file's name in quotes or a table in curly brackets",
        }
    }
}

/// A key as the tables list it, whatever it is read as.
#[derive(Clone, Copy, Debug)]
pub struct Entry {
    /// Its name in the file.
    pub name: &'static str,
    /// Whether it must be there.
    pub need: Need,
    /// What its value looks like.
    pub form: Form,
    /// What it means, one sentence.
    pub doc: &'static str,
    /// A value as it would be written.
    pub example: &'static str,
    /// The range of a number or time.
    pub bound: Option<&'static Bound>,
    /// Whether its tables are written one by one, each under a heading: `[[part]]`.
    pub headed: bool,
}

impl Entry {
    /// How it is written, with a value that would do: "rest = "20 s"".
    pub fn as_written(&self) -> String {
        let required = |table: &Table| {
            let keys = table.entries.iter().filter(|entry| entry.need == Need::Required);
            keys.map(|entry| format!("\n{} = {}", entry.name, entry.example)).collect::<String>()
        };
        match self.form {
            Form::List(Form::Table(table)) if self.headed => {
                format!("\n\n[[{}]]{}", self.name, required(table))
            }
            _ => format!("{} = {}", self.name, self.example),
        }
    }
}

/// A key that is read as a `T`.
#[derive(Debug)]
pub(crate) struct Key<T> {
    /// What the tables list.
    pub entry: Entry,
    read_as: PhantomData<fn() -> T>,
}

impl<T: Leaf> Key<T> {
    pub(crate) const fn new(
        need: Need,
        name: &'static str,
        example: &'static str,
        doc: &'static str,
    ) -> Self {
        let entry = Entry { name, need, form: T::FORM, doc, example, bound: None, headed: false };
        Self { entry, read_as: PhantomData }
    }

    /// A key that must be there.
    pub(crate) const fn required(
        name: &'static str,
        example: &'static str,
        doc: &'static str,
    ) -> Self {
        Self::new(Need::Required, name, example, doc)
    }

    /// A key that may be left out.
    pub(crate) const fn optional(
        name: &'static str,
        example: &'static str,
        doc: &'static str,
    ) -> Self {
        Self::new(Need::Optional, name, example, doc)
    }

    /// The same key with a range.
    pub(crate) const fn within(mut self, bound: &'static Bound) -> Self {
        self.entry.bound = Some(bound);
        self
    }

    /// The same key, written under headings of its own or not.
    pub(crate) const fn headed(mut self, headed: bool) -> Self {
        self.entry.headed = headed;
        self
    }
}

/// The keys of one table of a file.
#[derive(Debug)]
pub struct Table {
    /// What the table is, as a message says it: "a set".
    pub what: &'static str,
    /// Its keys, in the order the reference lists them.
    pub entries: &'static [Entry],
}

impl Table {
    /// The entry of a key.
    pub fn entry(&self, name: &str) -> Option<&'static Entry> {
        self.entries.iter().find(|entry| entry.name == name)
    }
}

/// The keys of one table: a constant for each, with the type it is read as.
macro_rules! keys {
    ($($name:ident: $type:ty = $need:ident($key:literal, $example:literal, $doc:literal)
        $(.within($bound:ident))? $(.headed($headed:literal))?;)+) => {
        $(
            #[doc = $doc]
            pub(crate) const $name: $crate::session::vocabulary::Key<$type> =
                $crate::session::vocabulary::Key::<$type>::$need($key, $example, $doc)
                    $(.within(&$crate::measure::LIMITS.$bound))?
                    $(.headed($headed))?;
        )+
    };
}
pub(crate) use keys;

/// The session file's own keys.
pub(super) mod session {
    use super::*;
    keys! {
        TITLE: Placed<String> = required("title", "\"Legs that steer\"",
            "What the session is called, at the head of the card.");
        DATE: Placed<Date> = optional("date", "2027-01-12",
            "The day of the session.");
        CLUB: Placed<String> = optional("club", "\"club.toml\"",
            "A file of the club's defaults, beside the session file.");
        POOL: Placed<Pool> = required("pool", "\"25 m\"",
            "The pool the session is written for: its length and unit.");
        ALSO: Placed<Pool> = optional("also", "\"25 yd\"",
            "The other pool the session is printed for.");
        KEEP: Placed<Keep> = optional("keep", "\"distance\"",
            "How the other pool's version is cut: at equal distance, or length for length.");
        LEVEL: Placed<Level> = required("level", "\"beginner\"",
            "Whom the session is for.");
        GOAL: Placed<Goal> = required("goal", "\"technique\"",
            "What the session develops.");
        FOCUS: Placed<String> = required("focus", "\"kick from the hip\"",
            "The one skill the session attends to.");
        BOOKED: Placed<Booking> = optional("booked", "\"45 min\"",
            "How long the lane is booked.").within(booking_s);
        STARTS: Placed<TimeOfDay> = optional("starts", "\"19:15\"",
            "When the session starts; cards then say when each part begins.");
        PACE: Placed<Seconds> = required("pace", "\"2:30\"",
            "Swim time per 100 of the pool's unit at steady freestyle.").within(pace_s);
        CHANGEOVER: Placed<Seconds> = optional("changeover", "\"40 s\"",
            "The pause between set lines; 30 s unless set.").within(rest_s);
        GEAR: Vec<Placed<String>> = optional("gear", "[\"board\", \"fins\"]",
            "What to bring.").within(gear);
        STROKES_PER_LENGTH: Placed<u32> = optional("strokes_per_length", "18",
            "Arm strokes a length at the last count.").within(strokes_per_length);
        TOGETHER: Placed<bool> = optional("together", "true",
            "Whether all lanes are to finish together.");
        LANGUAGE: Placed<String> = optional("language", "\"en\"",
            "The language of the card's own words: a tag, or a words file beside this file.");
        ALLOW: Vec<Allow> = optional("allow", "[{ finding = \"part-share\", because = \"time-trial night\" }]",
            "Warnings the coach means, each with a reason.");
        SPEED: SpeedFactors = optional("speed", "{ back = 1.08, kick = 1.6 }",
            "Factors on swim time for strokes, modes and efforts.");
        LANES: Vec<Lane> = optional("lane", "[{ name = \"Lane 1\", pace = \"3:00\" }]",
            "Lanes, each with its own card.").within(lanes).headed(true);
        PARTS: Vec<Part> = required("part", "[{ kind = \"main set\", sets = [{ swim = \"8 x 50 free\", rest = \"20 s\" }] }]",
            "The parts of the session, in order.").headed(true);
    }
}

/// A length of time that is never read as minutes and seconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Booking(pub Seconds);

/// The keys of a club file.
pub(super) mod club {
    use super::*;
    keys! {
        NAME: Placed<String> = required("name", "\"Hernmarsh Lane Club\"",
            "The club's name, at the foot of the card.");
        BADGE: Placed<String> = optional("badge", "\"badge.png\"",
            "A PNG or JPEG picture for the foot of the card.");
        BADGE_GREY: Placed<bool> = optional("badge_grey", "true",
            "Whether the badge is printed in greys, for an office printer.");
        STOCK: Placed<String> = optional("stock", "\"a6\"",
            "The stock cards are printed on: a built-in name, or a stock file beside the club file.");
        NOTICE: Placed<Notice> = optional("notice", "\"Doors open at 19:00.\"",
            "The pool's own notice for the weekly hand-out; in three quotes it may run over several lines.")
            .within(notice_characters);
        ALSO: Placed<Pool> = optional("also", "\"25 yd\"",
            "The other pool sessions are printed for.");
        CHANGEOVER: Placed<Seconds> = optional("changeover", "\"40 s\"",
            "The pause between set lines; 30 s unless set.").within(rest_s);
        LANGUAGE: Placed<String> = optional("language", "\"en\"",
            "The language of the card's own words: a tag, or a words file beside this file.");
        ALLOW: Vec<Allow> = optional("allow", "[{ finding = \"far-wall\", because = \"steps at both ends\" }]",
            "Warnings the club means, each with a reason.");
        SPEED: SpeedFactors = optional("speed", "{ back = 1.08, kick = 1.6 }",
            "Factors on swim time for strokes, modes and efforts.");
        BANDS: Bands = optional("bands", "{ beginner = { warm-up = \"10-25\" } }",
            "The shares of the distance each part may have, by level.");
    }
}

/// The keys of a lane.
pub(super) mod lane {
    use super::*;
    keys! {
        NAME: Placed<String> = required("name", "\"Lane 1\"",
            "What the lane is called on its card.");
        PACE: Placed<Seconds> = required("pace", "\"3:00\"",
            "The lane's swim time per 100 at steady freestyle.").within(pace_s);
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

/// The keys of a part.
pub(super) mod part {
    use super::*;
    keys! {
        KIND: Placed<PartKind> = required("kind", "\"main set\"",
            "Which part of the session it is.");
        TITLE: Placed<String> = optional("title", "\"Steady legs\"",
            "The coach's own name for the part.");
        SETS: Vec<Line> = required("sets", "[{ swim = \"8 x 50 free\", rest = \"20 s\" }]",
            "Its sets and rounds, in order.");
    }
}

/// The keys of a set.
pub(super) mod set {
    use super::*;
    keys! {
        SWIM: Placed<Swim> = required("swim", "\"8 x 50 free\"",
            "The swim as chalked: repeats x distance, stroke, mode.");
        REST: Placed<Seconds> = optional("rest", "\"20 s\"",
            "Time at the wall after each repeat.").within(rest_s);
        ON: Placed<Seconds> = optional("on", "\"1:45\"",
            "The send-off: repeats start this far apart.").within(rest_s);
        EFFORT: Placed<Effort> = optional("effort", "\"easy\"",
            "How hard.");
        PATTERN: Placed<Pattern> = optional("pattern", "\"negative split\"",
            "How the repeats compare.");
        CUE: Placed<String> = optional("cue", "\"toes long\"",
            "The short line a swimmer thinks of.");
        STROKES: Placed<Aim> = optional("strokes", "\"count\"",
            "Count arm strokes, hold the last count, or swim in fewer.");
        GEAR: Vec<Placed<String>> = optional("gear", "[\"board\"]",
            "What is used in the set.").within(gear);
        FIXED: Placed<bool> = optional("fixed", "true",
            "Whether the set is never recut, as a test set.");
    }
}

/// The keys of a rounds group.
pub(super) mod rounds {
    use super::*;
    keys! {
        ROUNDS: Placed<u32> = required("rounds", "2",
            "How many times the sets are swum through.").within(rounds);
        SETS: Vec<Line> = required("sets", "[{ swim = \"2 x 100 free\", on = \"3:00\" }]",
            "The sets of one round, in order.");
    }
}

/// The keys of an allowed warning.
pub(super) mod allow {
    use super::*;
    keys! {
        FINDING: Placed<String> = required("finding", "\"part-share\"",
            "The id of the warning.");
        BECAUSE: Placed<String> = required("because", "\"time-trial night\"",
            "Why it is meant.");
    }
}

/// The keys of the speed table.
pub(super) mod speed {
    use super::*;
    keys! {
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

/// The keys of the bands table, and of one level in it.
pub(super) mod bands {
    use super::*;
    keys! {
        BEGINNER: LevelBands = optional("beginner", "{ warm-up = \"10-25\" }", "Bands for beginners.");
        IMPROVER: LevelBands = optional("improver", "{ warm-up = \"10-25\" }", "Bands for improvers.");
        ADVANCED: LevelBands = optional("advanced", "{ warm-up = \"10-25\" }", "Bands for advanced swimmers.");
        WARM_UP: Placed<ShareBand> = optional("warm-up", "\"10-20\"", "Per cent of the distance in the warm-up.");
        PRE_SET: Placed<ShareBand> = optional("pre-set", "\"5-15\"", "Per cent of the distance in the pre-set.");
        MAIN_SET: Placed<ShareBand> = optional("main set", "\"50-70\"", "Per cent of the distance in the main set.");
        POST_SET: Placed<ShareBand> = optional("post set", "\"0-15\"", "Per cent of the distance in the post set.");
        COOL_DOWN: Placed<ShareBand> = optional("cool-down", "\"10-20\"", "Per cent of the distance in the cool-down.");
    }
}

/// The session file.
pub static SESSION: Table = Table {
    what: "a session",
    entries: &[
        session::TITLE.entry,
        session::DATE.entry,
        session::CLUB.entry,
        session::POOL.entry,
        session::ALSO.entry,
        session::KEEP.entry,
        session::LEVEL.entry,
        session::GOAL.entry,
        session::FOCUS.entry,
        session::BOOKED.entry,
        session::STARTS.entry,
        session::PACE.entry,
        session::CHANGEOVER.entry,
        session::GEAR.entry,
        session::STROKES_PER_LENGTH.entry,
        session::TOGETHER.entry,
        session::LANGUAGE.entry,
        session::ALLOW.entry,
        session::SPEED.entry,
        session::LANES.entry,
        session::PARTS.entry,
    ],
};

/// A club file.
pub static CLUB: Table = Table {
    what: "a club file",
    entries: &[
        club::NAME.entry,
        club::BADGE.entry,
        club::BADGE_GREY.entry,
        club::STOCK.entry,
        club::NOTICE.entry,
        club::ALSO.entry,
        club::CHANGEOVER.entry,
        club::LANGUAGE.entry,
        club::ALLOW.entry,
        club::SPEED.entry,
        club::BANDS.entry,
    ],
};

/// A lane.
pub static LANE: Table = Table {
    what: "a lane",
    entries: &[
        lane::NAME.entry,
        lane::PACE.entry,
        lane::SWIMMERS.entry,
        lane::GAP.entry,
        lane::STRETCH.entry,
        lane::STROKES_PER_LENGTH.entry,
    ],
};

/// A part.
pub static PART: Table =
    Table { what: "a part", entries: &[part::KIND.entry, part::TITLE.entry, part::SETS.entry] };

/// A set.
pub static SET: Table = Table {
    what: "a set",
    entries: &[
        set::SWIM.entry,
        set::REST.entry,
        set::ON.entry,
        set::EFFORT.entry,
        set::PATTERN.entry,
        set::CUE.entry,
        set::STROKES.entry,
        set::GEAR.entry,
        set::FIXED.entry,
    ],
};

/// A rounds group.
pub static ROUNDS: Table =
    Table { what: "a rounds group", entries: &[rounds::ROUNDS.entry, rounds::SETS.entry] };

/// An allowed warning.
pub static ALLOW: Table =
    Table { what: "an allowed warning", entries: &[allow::FINDING.entry, allow::BECAUSE.entry] };

/// Factors on swim time.
pub static SPEED: Table = Table {
    what: "the speed table",
    entries: &[
        speed::FREE.entry,
        speed::BACK.entry,
        speed::BREAST.entry,
        speed::FLY.entry,
        speed::IM.entry,
        speed::CHOICE.entry,
        speed::SWIM.entry,
        speed::KICK.entry,
        speed::PULL.entry,
        speed::DRILL.entry,
        speed::SCULL.entry,
        speed::EASY.entry,
        speed::STEADY.entry,
        speed::STRONG.entry,
        speed::HARD.entry,
        speed::SPRINT.entry,
        speed::CHANGEOVER.entry,
    ],
};

/// Bands by level.
pub static BANDS: Table = Table {
    what: "the bands table",
    entries: &[bands::BEGINNER.entry, bands::IMPROVER.entry, bands::ADVANCED.entry],
};

/// One level's bands.
pub static LEVEL_BANDS: Table = Table {
    what: "a level's bands",
    entries: &[
        bands::WARM_UP.entry,
        bands::PRE_SET.entry,
        bands::MAIN_SET.entry,
        bands::POST_SET.entry,
        bands::COOL_DOWN.entry,
    ],
};

/// Every table, for the reference page and for tests over all keys.
pub static TABLES: &[&Table] =
    &[&SESSION, &LANE, &PART, &SET, &ROUNDS, &ALLOW, &SPEED, &CLUB, &BANDS, &LEVEL_BANDS];
