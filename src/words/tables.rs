//! The keys of a words file: every word of a card, with the English one as the example.

use std::collections::{BTreeMap, BTreeSet};

use toml::de::DeValue;

use super::rules::WRONG_PLACEHOLDER;
use crate::finding::{Finding, Placed};
use crate::reader::keys::{Form, Key, Table, keys};
use crate::reader::rules::{MISSING_KEY, WRONG_KIND};
use crate::reader::table::TableReader;
use crate::reader::value::{Node, Readable};
use crate::typeset::{GLYPH_MISSING, LETTERS, face};

/// A word or a sentence of the card, in the language of its file.
#[derive(Clone, Debug, Default)]
pub(crate) struct Wording(pub String);

impl std::ops::Deref for Wording {
    type Target = str;
    fn deref(&self) -> &str {
        &self.0
    }
}

/// The names in braces in a text: "{count} of {all}" has `count` and `all`.
pub(super) fn placeholders(text: &str) -> BTreeSet<&str> {
    text.split('{').skip(1).filter_map(|rest| rest.split_once('}')).map(|(name, _)| name).collect()
}

impl Readable for Wording {
    const FORM: Form = Form::Text;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = String::read(node, found)?;
        check_letters(node, &text, found);
        check_placeholders(node, &text, found).then_some(Wording(text))
    }
}

/// Whether `text` has the values in braces that the English wording has, and no other.
fn check_placeholders(node: Node<'_>, text: &str, found: &mut Vec<Finding>) -> bool {
    let (wanted, written) = (placeholders(node.entry.example), placeholders(text));
    let name = node.entry.name;
    let missing: Vec<String> = wanted.difference(&written).map(|n| format!("{{{n}}}")).collect();
    let strange: Vec<String> = written.difference(&wanted).map(|n| format!("{{{n}}}")).collect();
    let title = match (missing.first(), strange.first()) {
        (None, None) => return true,
        (Some(_), _) => format!("{name} lacks {}", missing.join(" and ")),
        (None, Some(_)) => format!("{name} has no value {}", strange.join(" or ")),
    };
    found.push(
        Finding::new(&WRONG_PLACEHOLDER, title)
            .label(node.place, "")
            .help(format!("in English: {name} = {}", node.entry.example)),
    );
    false
}

/// Reports signs that are in no font: they would be gaps on every card.
fn check_letters(node: Node<'_>, text: &str, found: &mut Vec<Finding>) {
    let missing: Vec<String> = face::missing(text).into_iter().map(face::sign_text).collect();
    if !missing.is_empty() {
        let title = format!("no font on the card has the sign {}", missing.join(", "));
        found.push(Finding::new(&GLYPH_MISSING, title).label(node.place, "").help(LETTERS));
    }
}

/// A sign inside numbers; may be a blank, so it is not trimmed.
#[derive(Clone, Debug, Default)]
pub(super) struct Separator(pub String);

impl Readable for Separator {
    const FORM: Form = Form::Text;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        match node.value {
            DeValue::String(text)
                if text.chars().count() <= 1 && !text.chars().any(char::is_control) =>
            {
                // A number is never broken at a line end.
                Some(Separator(text.replace(' ', "\u{a0}")))
            }
            _ => {
                found.push(
                    Finding::new(
                        &WRONG_KIND,
                        format!("{} should be one sign in quotes", node.entry.name),
                    )
                    .label(node.place, "")
                    .help(format!("write: {} = {}", node.entry.name, node.entry.example)),
                );
                None
            }
        }
    }
}

macro_rules! word_tables {
    ($($name:ident $table:ident $what:literal { $($field:ident = $english:literal)+ })+) => {
        $(
            #[doc = $what]
            #[derive(Clone, Debug, Default)]
            pub(crate) struct $name { $(pub $field: String),+ }

            /// The words of that table.
            pub(super) static $table: Table = Table {
                what: $what,
                entries: &[$(
                    Key::<Placed<Wording>>::required(
                        stringify!($field), concat!("\"", $english, "\""), "A wording of the card.",
                    ).entry
                ),+],
            };

            impl Readable for $name {
                const FORM: Form = Form::Table(&$table);
                fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
                    let table = TableReader::open(node, &$table, found)?;
                    $(
                        let $field = {
                            const KEY: Key<Placed<Wording>> = Key::required(
                                stringify!($field),
                                concat!("\"", $english, "\""),
                                "A wording of the card.",
                            );
                            table.take(&KEY, found)
                        };
                    )+
                    Some($name { $($field: $field?.value.0),+ })
                }
            }
        )+
    };
}

word_tables! {
    HeadWords HEAD "the [head] of a words file" {
        total = "{distance}"
        about = "about {distance}"
        lengths = "{count} lengths"
        one_length = "1 length"
        minutes = "{count} min"
        pool = "{length} pool"
    }
    PartWords PART "the [part] of a words file" {
        titled = "{kind}: {title}"
        continued = "{kind}, continued"
        figures = "{distance}"
        share = "{share} %"
    }
    SetWords SET "the [set] of a words file" {
        repeats = "{count} ×"
        times = "{count} times {swim}"
        one_width = "1 width"
        widths = "{count} widths"
        rest = "rest"
        leave_on = "leave on"
        lane_leaves = "(leave about {time})"
        clock = "at {positions}"
        clock_from = "from {positions}"
        clock_add = "from {position}, add {time} each time"
        clock_rounds = "at {positions}, each round {time} later"
        one_round = "1 round"
        rounds = "{count} rounds"
        rounds_continued = "{count} rounds, continued"
        with_gear = "with {gear}"
        stroke_mode = "{stroke} {mode}"
        on = "on {time}"
        rest_when_needed = "when needed"
        then_rest = "then {time}"
        between_rounds = "{time} between"
        broken = "broken {pieces}, rest {time}"
        broken_each = "broken at each {distance}, rest {time}"
        by_turns = "{ways} by {distance}"
        odd = "odd"
        even = "even"
        every_second = "every 2nd"
        every_third = "every 3rd"
        every_nth = "every {count}th"
        last = "last"
        last_count = "last {count}"
        medley_order = "IM order"
        medley_order_reverse = "reverse IM order"
    }
    StrokeWords STROKES "the [strokes] of a words file" {
        count = "strokes"
        count_some = "strokes: first {first} and last {last} repeats"
        goal = "{count} strokes"
        hold = "hold strokes"
        one_fewer = "1 stroke fewer"
        fewer = "{count} strokes fewer"
    }
    TimeWords TIME "the [time] of a words file" {
        seconds = "{count} s"
        minutes = "{count} min"
        of_day = "{hour}:{minute}"
        date = "{day} {month} {year}"
    }
    CautionWords CAUTION "the [caution] of a words file" {
        breath_hold = "Breathe whenever you want to. Do not hold your breath, and do not breathe hard before going under. The pool's rules and its lifeguards come first."
        dive = "Start from the water. Whether anyone dives is for the pool's rules and its lifeguards to say."
        upright = "Ask a lifeguard where in the pool to do this. About depth the pool's rules decide."
    }
    FigureWords FIGURE "the [figure] of a words file" {
        rest = "Clock face: rest {time}."
        send_off = "Clock face: leave at {positions}."
        badge = "Badge of {club}."
        badge_alone = "The club's badge."
    }
    BackWords BACK "the [back] of a words file" {
        heading = "Times and counts"
        times = "times"
        strokes = "strokes"
    }
    BinderWords BINDER "the [binder] of a words file" {
        contents = "Contents"
        one_week = "1 week"
        weeks = "{count} weeks"
        one_session = "1 session"
        sessions = "{count} sessions"
        goal = "Goal: {distance} without a stop"
        week = "Week {week}"
        session = "Week {week}, session {session}"
        easier = "easier week"
        page = "page {page}"
        axis = "week"
        charts = "The weeks as a whole"
        weekly = "Distance each week, {unit}"
        longest = "Longest swim without a stop, {unit}"
        outlined = "Outlined: an easier week."
        chart = "Chart. {title}: {points}."
        point = "week {week}, {number}"
        log = "Week {week}, log"
        log_title = "Log of week {week}"
        log_session = "Session {session}"
        date = "date"
        strokes = "strokes"
        times = "times"
        felt = "it felt"
        next = "next time"
        to_contents = "To the contents"
    }
    HandoutWords HANDOUT "the [handout] of a words file" {
        span = "{first} to {last}"
        lane = "For {lane}"
        when = "{date}, {time}"
        figures = "{distance}, {minutes}"
        marks = "Cut at the solid marks, fold at the broken ones."
        notes = "Notes"
    }
}

/// The words at the foot of a card.
#[derive(Clone, Debug, Default)]
pub(crate) struct FootWords {
    pub bring: String,
    pub safety: Vec<String>,
    pub lane_rest: String,
    pub as_written: String,
    pub recut: String,
    pub lap: String,
    pub card: String,
}

keys! {
    /// The words of the foot.
    pub(super) FOOT, "the [foot] of a words file", in foot {
        BRING: Placed<Wording> = required("bring", "\"Bring\"", "Before the gear.");
        SAFETY: Vec<Placed<Wording>> = required("safety",
            "[\"Swim only while a lifeguard or a qualified person is watching.\", \"Stop when you are unwell, dizzy, short of breath or in pain, and tell them.\", \"The pool's rules and its lifeguards come first.\", \"Circle as posted.\"]",
            "The safety line, sentence by sentence.");
        LANE_REST: Placed<Wording> = required("lane_rest",
            "\"The rest holds. A time in brackets only helps a lane to leave together.\"",
            "On a lane's card, where a rest has a time to leave beside it.");
        AS_WRITTEN: Placed<Wording> = required("as_written", "\"{pool}, as written\"", "The written version.");
        RECUT: Placed<Wording> = required("recut", "\"{pool}, recut from {distance}\"", "The other pool's version.");
        LAP: Placed<Wording> = required("lap", "\"1 lap = {distance}\"", "What one lap is, on the other pool's version.");
        CARD: Placed<Wording> = required("card", "\"card {number} of {count}\"", "Which card of how many.");
    }
}

/// As many sentences of safety as the English words have; fewer would leave one out.
const SAFETY_SENTENCES: usize = 4;

impl Readable for FootWords {
    const FORM: Form = Form::Table(&FOOT);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &FOOT, found)?;
        let before = found.len();
        let bring = table.take(&foot::BRING, found);
        let safety = table.take(&foot::SAFETY, found);
        if let Some(safety) = &safety
            && safety.len() < SAFETY_SENTENCES
            && found.len() == before
        {
            let title =
                format!("safety has {} sentences; the card says {SAFETY_SENTENCES}", safety.len());
            let place = safety.last().map_or(node.place, |last| last.place);
            found.push(
                Finding::new(&MISSING_KEY, title)
                    .label(place, "")
                    .help(format!("in English: safety = {}", foot::SAFETY.entry.example)),
            );
        }
        let lane_rest = table.take(&foot::LANE_REST, found);
        let as_written = table.take(&foot::AS_WRITTEN, found);
        let recut = table.take(&foot::RECUT, found);
        let lap = table.take(&foot::LAP, found);
        let card = table.take(&foot::CARD, found);
        Some(FootWords {
            bring: bring?.value.0,
            safety: safety?.into_iter().map(|sentence| sentence.value.0).collect(),
            lane_rest: lane_rest?.value.0,
            as_written: as_written?.value.0,
            recut: recut?.value.0,
            lap: lap?.value.0,
            card: card?.value.0,
        })
    }
}

/// The trade words by their session-file spelling, as the card prints them.
#[derive(Clone, Debug, Default)]
pub(crate) struct TradeWords(pub BTreeMap<&'static str, String>);

macro_rules! trade {
    ($($word:literal = $english:literal)+) => {
        const TRADE_KEYS: &[Key<Placed<Wording>>] =
            &[$(Key::required($word, concat!("\"", $english, "\""), "A trade word as printed.")),+];

        /// The trade words.
        pub(super) static TRADE: Table = Table {
            what: "the [trade] of a words file",
            entries: &[$(
                Key::<Placed<Wording>>::required(
                    $word, concat!("\"", $english, "\""), "A trade word as printed.",
                ).entry
            ),+],
        };
    };
}

trade! {
    "warm-up" = "Warm-up"
    "pre-set" = "Pre-set"
    "main set" = "Main set"
    "post set" = "Post set"
    "cool-down" = "Cool-down"
    "free" = "free"
    "back" = "back"
    "breast" = "breast"
    "fly" = "fly"
    "IM" = "IM"
    "choice" = "choice"
    "swim" = "swim"
    "kick" = "kick"
    "pull" = "pull"
    "drill" = "drill"
    "scull" = "scull"
    "easy" = "easy"
    "steady" = "steady"
    "strong" = "strong"
    "hard" = "hard"
    "sprint" = "sprint"
    "even" = "even"
    "build" = "build"
    "descend" = "descend"
    "negative split" = "negative split"
    "vertical kick" = "vertical kick"
    "tread water" = "tread water"
}

impl Readable for TradeWords {
    const FORM: Form = Form::Table(&TRADE);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &TRADE, found)?;
        let mut words = BTreeMap::new();
        for key in TRADE_KEYS {
            if let Some(word) = table.take(key, found) {
                words.insert(key.entry.name, word.value.0);
            }
        }
        Some(TradeWords(words))
    }
}

/// The names of the months, short.
#[derive(Clone, Debug, Default)]
pub(super) struct Months(pub Vec<String>);

impl Readable for Months {
    const FORM: Form = Form::List(&Form::Text);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let before = found.len();
        let names = Vec::<Placed<Wording>>::read(node, found)?;
        if names.len() != 12 && found.len() == before {
            let title = format!("months has {} names; a year has 12", names.len());
            found.push(Finding::new(&MISSING_KEY, title).label(node.place, ""));
        }
        Some(Months(names.into_iter().map(|name| name.value.0).collect()))
    }
}

keys! {
    /// A words file.
    pub(crate) WORDS, "a words file", in words {
        LANGUAGE: Placed<Wording> = required("language", "\"en\"", "The language's tag, as PDF readers know it.");
        REVIEWED: Placed<bool> = optional("reviewed", "true", "Whether a coach who speaks the language has read it over.");
        THOUSANDS: Separator = required("thousands", "\",\"", "The sign between the thousands of a number.");
        DECIMAL: Separator = required("decimal", "\".\"", "The sign before the decimals of a number.");
        MONTHS: Months = required("months", "[\"Jan\", \"Feb\", \"Mar\", \"Apr\", \"May\", \"Jun\", \"Jul\", \"Aug\", \"Sep\", \"Oct\", \"Nov\", \"Dec\"]", "The months, short.");
        HEAD: HeadWords = required("head", "{ lengths = \"{count} lengths\" }", "The head of the card.");
        PART: PartWords = required("part", "{ ... }", "The headings of parts.");
        SET: SetWords = required("set", "{ ... }", "Sets and rounds.");
        STROKES: StrokeWords = required("strokes", "{ ... }", "Tasks about arm strokes.");
        TIME: TimeWords = required("time", "{ ... }", "Times and dates.");
        CAUTION: CautionWords = required("caution", "{ ... }", "Cautions beside a set.");
        FOOT: FootWords = required("foot", "{ ... }", "The foot of the card.");
        FIGURE: FigureWords = required("figure", "{ ... }", "Drawings, as a listener hears them.");
        BACK: BackWords = required("back", "{ ... }", "The back of the card.");
        BINDER: BinderWords = required("binder", "{ ... }", "The pages of a binder.");
        HANDOUT: HandoutWords = required("handout", "{ ... }", "The weekly hand-out.");
        TRADE: TradeWords = required("trade", "{ ... }", "The trade words.");
    }
}

/// The tables inside a words file, by their heading.
pub(crate) static INNER: [(&str, &Table); 12] = [
    ("head", &HEAD),
    ("part", &PART),
    ("set", &SET),
    ("strokes", &STROKES),
    ("time", &TIME),
    ("caution", &CAUTION),
    ("foot", &FOOT),
    ("figure", &FIGURE),
    ("back", &BACK),
    ("binder", &BINDER),
    ("handout", &HANDOUT),
    ("trade", &TRADE),
];
