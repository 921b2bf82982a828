//! Stage 1, the session: right keys and kinds of values, each value with its place.
//!
//! [`read`] reads a session file and the club file it names. What it gives is open data, as the
//! coach wrote it: nothing is promised of it that the types do not say, and
//! [`check`](crate::check) holds all of it against the rules.
//!
//! ```
//! use deckcard::session::{self, Line};
//! use deckcard::source::Source;
//!
//! let source = Source::new("tuesday.toml", session::SMALLEST);
//! let reading = session::read(source, &|_| unreachable!("it names no club file"));
//! let session = reading.session.unwrap();
//! let Line::Set(set) = &session.parts[0].lines[0] else { panic!("no rounds") };
//! assert_eq!(set.swim.value.repeats, 4);
//! // Every value knows where it is written.
//! assert_eq!(reading.sources[0].slice(set.swim.place.span()), "\"4 x 50 free\"");
//! ```

pub mod chalk;
pub mod keys;
pub mod line;
mod read;
pub(crate) mod rules;
mod said;
mod set_line;
pub mod swim;
mod text;
mod usual;
pub mod words;

pub(crate) use read::open_club;
pub use read::{SessionReading, Usual, read, read_as_usual};
pub use rules::{RULES, SMALLEST};
pub use said::{OnSaid, RestSaid};
pub use swim::{Asked, Swim};
pub(crate) use text::{RULES as TEXT_RULES, is_message, reads_as, reads_as_title};
pub(crate) use text::{as_message, line_place, message_headings, states_sum, swum_sixths};

use crate::finding::{Place, Placed};
use crate::measure::{Date, Distance, Pool, Seconds, TimeOfDay, Unit};
use crate::reader::schema;
pub use crate::reader::value::{Aim, Booking, Factor, Notice, OtherPool, ShareBand, WrittenPace};
use words::{Effort, EffortWord, Goal, Keep, Level, Mode, PartKind, Pattern, Stroke};

/// The JSON Schema of a session file, for editors.
pub fn schema() -> serde_json::Value {
    schema::of(&keys::SESSION, "A swimming session")
}

/// A session as the coach wrote it, and where it writes nothing as is usual in the club.
#[derive(Clone, Debug)]
pub struct Session {
    /// What it is called.
    pub title: Placed<String>,
    /// Its day.
    pub date: Option<Placed<Date>>,
    /// The club file it names.
    pub club_named: Option<Placed<String>>,
    /// The club's defaults.
    pub club: Option<Club>,
    /// The pool it is written for; `None` where it could not be read, and nothing can be
    /// counted in lengths.
    pub pool: Option<Placed<Pool>>,
    /// The other pool it is printed for, or that there is none.
    pub also: Option<Placed<OtherPool>>,
    /// How the other pool's version is cut.
    pub keep: Option<Placed<Keep>>,
    /// Whom it is for.
    pub level: Placed<Level>,
    /// What it develops; a message may leave it out.
    pub goal: Option<Placed<Goal>>,
    /// The one skill it attends to; a message may leave it out.
    pub focus: Option<Placed<String>>,
    /// How long the lane is booked.
    pub booked: Option<Placed<Seconds>>,
    /// When it starts.
    pub starts: Option<Placed<TimeOfDay>>,
    /// Swim time per 100 of the pool's unit; `None` where it could not be read.
    pub pace: Option<Placed<Seconds>>,
    /// The unit of the 100, where the pace says it or is the club's.
    pub pace_unit: Option<Unit>,
    /// Whether the level's usual pace is reckoned with, as for a message that says none.
    pub at_usual_pace: bool,
    /// The pause between set lines.
    pub changeover: Option<Placed<Seconds>>,
    /// Factors on swim time.
    pub speed: SpeedFactors,
    /// What to bring.
    pub gear: Vec<Placed<String>>,
    /// Arm strokes a length.
    pub strokes_per_length: Option<Placed<u32>>,
    /// Whether all lanes finish together.
    pub together: bool,
    /// The language of the card's own words.
    pub language: Option<Placed<String>>,
    /// Warnings the coach means.
    pub allow: Vec<Allow>,
    /// Lanes.
    pub lanes: Vec<Lane>,
    /// Parts in order.
    pub parts: Vec<Part>,
}

/// A club's defaults.
#[derive(Clone, Debug)]
pub struct Club {
    /// The club's name.
    pub name: Placed<String>,
    /// Its badge, relative to the club file.
    pub badge: Option<Placed<String>>,
    /// Whether the badge is printed in greys.
    pub badge_grey: Option<Placed<bool>>,
    /// The stock cards are printed on.
    pub stock: Option<Placed<String>>,
    /// The pool's own notice, for the weekly hand-out.
    pub notice: Option<Placed<Notice>>,
    /// The usual pool.
    pub pool: Option<Placed<Pool>>,
    /// The other pool, or that there is none.
    pub also: Option<Placed<OtherPool>>,
    /// The usual pace.
    pub pace: Option<Placed<Seconds>>,
    /// The unit of its 100: as it says, else that of the usual pool.
    pub pace_unit: Option<Unit>,
    /// Whom sessions are usually for.
    pub level: Option<Placed<Level>>,
    /// How long the lanes are usually booked.
    pub booked: Option<Placed<Seconds>>,
    /// When sessions usually start.
    pub starts: Option<Placed<TimeOfDay>>,
    /// The gear there usually is.
    pub gear: Vec<Placed<String>>,
    /// What counts after a repeat where nothing is said.
    pub rest: Option<Placed<Seconds>>,
    /// How wide the pool is.
    pub pool_width: Option<Placed<Distance>>,
    /// Words of the club's own for efforts.
    pub efforts: Vec<OwnEffort>,
    /// The usual lanes, each with the unit of its pace.
    pub lanes: Vec<Lane>,
    /// The pause between set lines.
    pub changeover: Option<Placed<Seconds>>,
    /// The language of the card's own words.
    pub language: Option<Placed<String>>,
    /// Warnings the club means.
    pub allow: Vec<Allow>,
    /// Factors on swim time.
    pub speed: SpeedFactors,
    /// Shares of the distance, by level.
    pub bands: Bands,
}

/// A club's own word for an effort.
#[derive(Clone, Debug)]
pub struct OwnEffort {
    /// The word.
    pub word: Placed<String>,
    /// What it counts as.
    pub counts: Placed<Effort>,
}

/// Bands by level; a part without one is judged by the program's own.
#[derive(Clone, Debug, Default)]
pub struct Bands {
    /// One entry for each level that has any.
    pub levels: Vec<(Level, LevelBands)>,
}

/// The bands of one level.
#[derive(Clone, Debug, Default)]
pub struct LevelBands {
    /// One entry for each part that has one.
    pub parts: Vec<(PartKind, Placed<ShareBand>)>,
}

/// Factors on swim time, only those written.
#[derive(Clone, Debug, Default)]
pub struct SpeedFactors {
    /// By stroke.
    pub strokes: Vec<(Stroke, Placed<Factor>)>,
    /// By mode.
    pub modes: Vec<(Mode, Placed<Factor>)>,
    /// By effort.
    pub efforts: Vec<(Effort, Placed<Factor>)>,
    /// The pause between set lines, where it is written in this table.
    pub changeover: Option<Placed<Seconds>>,
}

/// A warning that is meant, with the reason.
#[derive(Clone, Debug)]
pub struct Allow {
    /// The id of the warning.
    pub finding: Placed<String>,
    /// Why it is meant.
    pub because: Placed<String>,
    /// The whole entry.
    pub place: Place,
}

/// A lane.
#[derive(Clone, Debug)]
pub struct Lane {
    /// What it is called.
    pub name: Placed<String>,
    /// Its pace per 100; no time at all where a message names the lane and no pace: it then has the
    /// session's.
    pub pace: Placed<Seconds>,
    /// The unit of the 100, where the pace says it or the lane is the club's; else it is that of the
    /// session's pace.
    pub pace_unit: Option<Unit>,
    /// How many swim in it.
    pub swimmers: Option<Placed<u32>>,
    /// How far apart they leave.
    pub gap: Option<Placed<Seconds>>,
    /// Whether it is lengthened to fill the booking.
    pub stretch: Option<Placed<bool>>,
    /// Arm strokes a length.
    pub strokes_per_length: Option<Placed<u32>>,
}

/// A part.
#[derive(Clone, Debug)]
pub struct Part {
    /// Which part it is; `None` where that could not be read.
    pub kind: Option<Placed<PartKind>>,
    /// The coach's own name for it.
    pub title: Option<Placed<String>>,
    /// How its sets are cut for the other pool, where it says so itself.
    pub keep: Option<Placed<Keep>>,
    /// Its lines.
    pub lines: Vec<Line>,
    /// Where its heading is written.
    pub place: Place,
}

/// A line of a part.
#[derive(Clone, Debug)]
pub enum Line {
    /// Repeats of one swim.
    Set(Box<Set>),
    /// Several lines swum through several times.
    Rounds(Rounds),
    /// Time without a swim.
    Activity(Activity),
    /// Words that stand between the sets.
    Remark(Placed<String>),
}

/// Time that is spent without a swim: a talk, a game, stretching.
#[derive(Clone, Debug)]
pub struct Activity {
    /// What is done.
    pub what: Placed<String>,
    /// How long.
    pub time: Placed<Seconds>,
}

/// Several lines swum through several times.
#[derive(Clone, Debug)]
pub struct Rounds {
    /// How many times.
    pub count: Placed<u32>,
    /// The rest between two rounds, besides that after the last repeat.
    pub rest: Option<Placed<Seconds>>,
    /// How hard each round is, where they differ.
    pub efforts: Vec<Placed<EffortWord>>,
    /// The lines of one round.
    pub lines: Vec<Line>,
    /// Where the group is written.
    pub place: Place,
}

/// Repeats of one swim.
#[derive(Clone, Debug)]
pub struct Set {
    /// The swim as chalked.
    pub swim: Placed<Swim>,
    /// Time at the wall after each repeat.
    pub rest: Option<Placed<RestSaid>>,
    /// The rest after the last repeat, where it is another.
    pub rest_after: Option<Placed<Seconds>>,
    /// The send-off.
    pub on: Option<Placed<OnSaid>>,
    /// How hard.
    pub effort: Option<Placed<EffortWord>>,
    /// How the repeats compare.
    pub pattern: Option<Placed<Pattern>>,
    /// The line a swimmer thinks of.
    pub cue: Option<Placed<String>>,
    /// What to do about arm strokes.
    pub strokes: Option<Placed<Aim>>,
    /// What is used.
    pub gear: Vec<Placed<String>>,
    /// Whether it is never recut.
    pub fixed: bool,
    /// How it is cut for the other pool, where it says so itself.
    pub keep: Option<Placed<Keep>>,
    /// The lanes it is for; all where none is named.
    pub lanes: Vec<Placed<String>>,
    /// Whether all of it could be read; what seems missing may only be misspelt.
    pub read_whole: bool,
    /// Where the set is written.
    pub place: Place,
}
