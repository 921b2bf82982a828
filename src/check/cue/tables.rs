//! The words in which cues name repeats, times and lengths. Common practice, no source.

/// Numbers in their order.
pub(super) const ORDINALS: [&str; 12] = [
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
];

/// Distances in words.
pub(super) const DISTANCES: [(&str, &str); 6] = [
    ("fifty", "50"),
    ("fifties", "50"),
    ("hundred", "100"),
    ("hundreds", "100"),
    ("twenty-five", "25"),
    ("seventy-five", "75"),
];

/// Before the number of a repeat: "number 4", "rep 2".
pub(super) const NUMBER: &[&str] =
    &["number", "numbers", "no", "nos", "nr", "num", "rep", "reps", "repeat", "repeats"];

/// Repeats themselves.
pub(super) const REPEATS: &[&str] = &["one", "ones", "rep", "reps", "repeat", "repeats", "swim"];

/// Lengths.
pub(super) const LENGTHS: &[&str] = &["length", "lengths", "lap", "laps"];

/// What is swum of a count of repeats: "two easy", "four fly".
pub(super) const HOW: &[&str] = &[
    "easy",
    "steady",
    "strong",
    "hard",
    "sprint",
    "fast",
    "faster",
    "fastest",
    "slow",
    "slower",
    "max",
    "maximum",
    "all-out",
    "moderate",
    "quick",
    "smooth",
    "relaxed",
    "build",
    "cruise",
    "drill",
    "scull",
    "swim",
    "free",
    "freestyle",
    "back",
    "backstroke",
    "breast",
    "breaststroke",
    "fly",
    "butterfly",
    "im",
    "medley",
    "choice",
    "aerobic",
    "threshold",
];

/// Before a share of the repeats: "first four", "all six".
pub(super) const SHARE: &[&str] = &["first", "last", "next", "final", "middle", "other", "all"];

/// What a number counts, or is one of, that is no repeat.
pub(super) const OTHER_NOUNS: &[&str] = &[
    "stroke",
    "strokes",
    "breath",
    "breaths",
    "breathing",
    "kick",
    "kicks",
    "pull",
    "pulls",
    "arm",
    "arms",
    "leg",
    "legs",
    "beat",
    "beats",
    "cycle",
    "cycles",
    "side",
    "sides",
    "turn",
    "turns",
    "wall",
    "walls",
    "half",
    "halves",
    "third",
    "thirds",
    "quarter",
    "quarters",
    "hand",
    "hands",
    "m",
    "metre",
    "metres",
    "meters",
    "yd",
    "yards",
    "s",
    "sec",
    "secs",
    "second",
    "seconds",
    "min",
    "mins",
    "minute",
    "minutes",
    "%",
    "percent",
    "per",
    "bpm",
    "spl",
    "thing",
    "things",
    "goggle",
    "ear",
    "fingers",
    "finger",
    "position",
    "points",
    "length",
    "lengths",
    "lap",
    "laps",
    "flags",
    "way",
    "effort",
];

/// Before a number that is none of a repeat: "breathe every 3", "7 out of 10", "zone 2".
pub(super) const OTHER_LEADS: &[&str] = &[
    "every",
    "breathe",
    "breathing",
    "breath",
    "zone",
    "effort",
    "level",
    "of",
    "band",
    "gear",
    "lane",
    "count",
    "length",
    "lap",
];

/// Before a time to swim in, without its colon: "under 60", "hold 58 s".
pub(super) const TIME_LEADS: &[&str] = &[
    "under", "sub", "below", "hold", "in", "inside", "within", "beat", "break", "at", "make",
    "around", "about",
];

/// Beside a time that is none to swim a repeat in: rests, differences, paces.
pub(super) const NO_SWIM_TIME: &[&str] =
    &["rest", "wait", "pause", "apart", "off", "per", "pace", "faster", "slower", "recovery"];

/// Units of a time shorter than a minute, and of minutes.
pub(super) const TIME_UNITS: &[&str] =
    &["s", "sec", "secs", "second", "seconds", "min", "mins", "minute", "minutes"];

/// Before a distance that is another swim's: "your 400", "your best 100".
pub(super) const OTHER_SWIMS: &[&str] = &["your", "best"];

/// Before "the first length" that is no more than a way to say throughout.
pub(super) const THROUGHOUT: &[&str] = &["from", "to", "until", "till", "into"];
