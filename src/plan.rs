//! Stage 3, the plan: a session worked out for one pool and one swimmer's pace.
//!
//! ```
//! use deckcard::measure::{Pool, Unit};
//! use deckcard::{intake, plan, session, source::Source};
//!
//! let source = Source::new("tuesday.toml", session::SMALLEST);
//! let session = intake::take(source).ready.unwrap().session;
//! let written = plan::make(&session, session.pool().value, None);
//! assert_eq!(written.lengths().get(), 40);
//! // In another pool sets are cut anew, to about the same distance, in whole lengths.
//! let other = plan::make(&session, Pool::whole(50, Unit::Metre).unwrap(), None);
//! assert_eq!(other.distance().with_commas(), "1,000 m");
//! ```

pub(crate) mod awkward;
pub mod bands;
mod clock;
pub mod critical;
mod figures;
pub mod recut;
mod send_off;
mod timing;
mod version;

pub use clock::ClockHand;
pub use figures::{Figures, WrongSum};
pub(crate) use send_off::STEP_S;
pub use timing::make;
pub use version::{Version, Worked};

use crate::finding::{Place, Placed};
use crate::measure::{Date, Distance, Lengths, Pace, Pool, Seconds, TimeOfDay, TrueLength};
use crate::session::words::{Effort, Goal, Level, Mode, PartKind, Pattern, Stroke};

/// A session in whole lengths and seconds, for one pool and one pace.
///
/// A plan is complete: the card, the table and the JSON are drawn from it alone. [`make`] works
/// one out from a checked session; [`Plan::new`] takes [`Figures`] and refuses wrong sums.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    pub(crate) title: Placed<String>,
    pub(crate) date: Option<Date>,
    pub(crate) club: Option<Placed<String>>,
    pub(crate) goal: Goal,
    pub(crate) level: Level,
    pub(crate) focus: Placed<String>,
    pub(crate) pool: Pool,
    pub(crate) pace: Pace,
    pub(crate) lane: Option<LanePlan>,
    pub(crate) recut: Option<RecutFrom>,
    pub(crate) changes: Vec<recut::Change>,
    pub(crate) parts: Vec<PartPlan>,
    pub(crate) changeover: Seconds,
    pub(crate) seconds: Seconds,
    pub(crate) lengths: Lengths,
    pub(crate) booked: Option<Placed<Seconds>>,
    pub(crate) starts: Option<TimeOfDay>,
    pub(crate) gear: Vec<Placed<String>>,
}

impl Plan {
    /// The session's title.
    pub fn title(&self) -> &Placed<String> {
        &self.title
    }

    /// Its date, if it has one.
    pub fn date(&self) -> Option<Date> {
        self.date
    }

    /// The club's name.
    pub fn club(&self) -> Option<&Placed<String>> {
        self.club.as_ref()
    }

    /// What the session develops.
    pub fn goal(&self) -> Goal {
        self.goal
    }

    /// Whom it is for.
    pub fn level(&self) -> Level {
        self.level
    }

    /// The one skill it attends to.
    pub fn focus(&self) -> &Placed<String> {
        &self.focus
    }

    /// The pool it is worked out for.
    pub fn pool(&self) -> Pool {
        self.pool
    }

    /// The pace the times follow from; may be per 100 of the other unit.
    pub fn pace(&self) -> Pace {
        self.pace
    }

    /// The lane, where the plan is one lane's.
    pub fn lane(&self) -> Option<&LanePlan> {
        self.lane.as_ref()
    }

    /// The written session this one was cut from, when it is not as written.
    pub fn recut(&self) -> Option<RecutFrom> {
        self.recut
    }

    /// What the recut changed, in the order of the file.
    pub fn changes(&self) -> &[recut::Change] {
        &self.changes
    }

    /// Parts in order.
    pub fn parts(&self) -> &[PartPlan] {
        &self.parts
    }

    /// The pause between consecutive set lines.
    pub fn changeover(&self) -> Seconds {
        self.changeover
    }

    /// All sets and changeovers.
    pub fn seconds(&self) -> Seconds {
        self.seconds
    }

    /// All lengths.
    pub fn lengths(&self) -> Lengths {
        self.lengths
    }

    /// The pool booking, if the session has one.
    pub fn booked(&self) -> Option<&Placed<Seconds>> {
        self.booked.as_ref()
    }

    /// When the session begins, if it says.
    pub fn starts(&self) -> Option<TimeOfDay> {
        self.starts
    }

    /// Everything to bring, listed or used, in order of first mention.
    pub fn gear(&self) -> &[Placed<String>] {
        &self.gear
    }
}

/// Whose lane a plan is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LanePlan {
    /// "Lane 1".
    pub name: Placed<String>,
    /// How many swim in it.
    pub swimmers: Option<Placed<u32>>,
    /// The gap at which they leave one behind the other.
    pub gap: Option<Placed<Seconds>>,
}

/// What a recut plan was made from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RecutFrom {
    /// The pool of the written session.
    pub pool: Pool,
    /// The written session's total.
    pub distance: Distance,
}

/// One part, worked out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartPlan {
    /// Warm-up, main set, ...
    pub kind: PartKind,
    /// The coach's own name for it.
    pub title: Option<Placed<String>>,
    /// Set lines in order.
    pub lines: Vec<LinePlan>,
    /// Lengths of all its sets.
    pub lengths: Lengths,
    /// Time of all its sets, without changeovers.
    pub seconds: Seconds,
    /// Its share of the session's distance in tenths of a per cent, rounded half up.
    pub share_permille: u32,
    /// The same in whole per cent, rounded so that those of all parts are 100 together.
    pub share_percent: u32,
    /// The time of day at which it begins, if the session says when it starts.
    pub starts: Option<TimeOfDay>,
    /// Where the part is written.
    pub place: Place,
}

/// One line of a part: a set, or rounds of several.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LinePlan {
    /// Repeats of one swim.
    Set(SetPlan),
    /// Several lines, repeated together.
    Rounds {
        /// How many times round.
        count: u32,
        /// The lines of one round.
        lines: Vec<LinePlan>,
    },
}

/// Repeats of one swim, worked out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetPlan {
    /// Repeats in one round.
    pub repeats: u32,
    /// Lengths of one repeat.
    pub each: Lengths,
    /// The stroke.
    pub stroke: Stroke,
    /// The mode.
    pub mode: Mode,
    /// How hard.
    pub effort: Option<Effort>,
    /// How the repeats compare.
    pub pattern: Option<Pattern>,
    /// The line a swimmer thinks of.
    pub cue: Option<Placed<String>>,
    /// What to do about arm strokes.
    pub strokes: Option<StrokePlan>,
    /// Gear of this set.
    pub gear: Vec<Placed<String>>,
    /// Time to swim one repeat.
    pub swim: Seconds,
    /// Rest after each repeat: as written, or what the send-off leaves.
    pub rest: Seconds,
    /// How the repeats are spaced.
    pub spacing: Spacing,
    /// Rounds that hold this set, multiplied up; 1 outside rounds.
    pub rounds: u32,
    /// Lengths of all repeats in all rounds.
    pub lengths: Lengths,
    /// Time of all repeats in all rounds, last rests counted.
    pub seconds: Seconds,
    /// Where the set is written.
    pub place: Place,
    /// Where its swim line is written.
    pub swim_place: Place,
}

/// How the repeats of a set are spaced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Spacing {
    /// A rest at the wall; `leave_on` is the swim and the rest rounded up to 5 s,
    /// worked out for lanes.
    Rest {
        /// When a lane leaves again, counted from when it left.
        leave_on: Option<Seconds>,
    },
    /// A send-off.
    SendOff {
        /// Repeats start this far apart.
        every: Seconds,
        /// The pace clock's hand at the set's starts; in rounds whose sets all have a send-off, at
        /// those of every round.
        clock: Box<ClockHand>,
        /// Whether the set waits for the top of the clock in each round, since the rounds hold
        /// a rest too.
        waits: bool,
    },
}

/// What a set asks about arm strokes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StrokePlan {
    /// Count them and write them in.
    Count,
    /// Swim the repeat in this many, worked out from the strokes per length.
    Goal(u32),
    /// Hold the last count; it is not known here, so it is written in.
    Hold,
    /// So many fewer than the last count, which is written in.
    Fewer(u32),
}

impl Plan {
    /// All lengths as a distance of the plan's pool.
    pub fn distance(&self) -> Distance {
        self.pool.distance(self.lengths)
    }

    /// One lap, out and back along the pool, in the other unit, where the written session is
    /// in that: "45.7 m" for 50 yd.
    pub fn lap_text(&self) -> Option<String> {
        let lap = self.pool.distance(Lengths::new(2)).true_length();
        let written = self.recut.filter(|recut| recut.pool != self.pool)?.pool.unit();
        let unit = Distance::whole(1, written).true_length().grid();
        let tenths = (2 * lap.grid() * 10 + unit) / (2 * unit);
        Some(match tenths % 10 {
            0 => format!("{} {written}", tenths / 10),
            part => format!("{}.{part} {written}", tenths / 10),
        })
    }

    /// Set lines as written, a rounds group counting as one.
    pub fn line_count(&self) -> usize {
        self.parts.iter().map(|part| part.lines.len()).sum()
    }

    /// When it ends on the clock, if it says when it starts.
    pub fn ends(&self) -> Option<TimeOfDay> {
        self.starts.map(|starts| starts.after(self.seconds))
    }

    /// All pauses between set lines together.
    pub fn changeovers(&self) -> Seconds {
        let pauses = self.line_count().saturating_sub(1);
        self.changeover.times(u32::try_from(pauses).unwrap_or(u32::MAX))
    }
}

impl LinePlan {
    /// Lengths of all its repeats in all rounds.
    pub fn lengths(&self) -> Lengths {
        match self {
            LinePlan::Set(set) => set.lengths,
            LinePlan::Rounds { lines, .. } => figures::lengths_of(lines),
        }
    }

    /// Time of all its repeats in all rounds, last rests counted.
    pub fn seconds(&self) -> Seconds {
        match self {
            LinePlan::Set(set) => set.seconds,
            LinePlan::Rounds { lines, .. } => figures::seconds_of(lines),
        }
    }
}

impl PartPlan {
    /// The part's sets in order, those in rounds once each.
    pub fn sets(&self) -> Vec<&SetPlan> {
        let mut sets = Vec::new();
        collect_sets(&self.lines, &mut sets);
        sets
    }
}

fn collect_sets<'a>(lines: &'a [LinePlan], sets: &mut Vec<&'a SetPlan>) {
    for line in lines {
        match line {
            LinePlan::Set(set) => sets.push(set),
            LinePlan::Rounds { lines, .. } => collect_sets(lines, sets),
        }
    }
}

/// Metres per minute in tenths, rounded half up; rests count. Zero where no time passes.
pub fn metres_a_minute_tenths(distance: Distance, seconds: Seconds) -> u64 {
    let denominator = u128::from(TrueLength::GRID_PER_METRE) * u128::from(seconds.get());
    if denominator == 0 {
        return 0;
    }
    let numerator = u128::from(distance.true_length().grid()) * 600;
    u64::try_from((2 * numerator + denominator) / (2 * denominator)).unwrap_or(u64::MAX)
}
