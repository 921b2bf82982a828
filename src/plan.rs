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

use crate::check::cycle::Cycle;
use crate::finding::{Place, Placed};
use crate::measure::{Date, Distance, Lengths, Pace, Pool, Seconds, TimeOfDay, TrueLength};
use crate::session::RestSaid;
use crate::session::swim::Swim;
use crate::session::words::{Effort, EffortWord, Goal, Level, Mode, PartKind, Pattern, Stroke};

/// A session in whole lengths and seconds, for one pool and one pace.
///
/// A plan is complete: the card, the table and the JSON are drawn from it alone. [`make`] works
/// one out from a checked session; [`Plan::new`] takes [`Figures`] and refuses wrong sums.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    pub(crate) title: Placed<String>,
    pub(crate) date: Option<Date>,
    pub(crate) club: Option<Placed<String>>,
    pub(crate) goal: Option<Goal>,
    pub(crate) level: Level,
    pub(crate) focus: Option<Placed<String>>,
    pub(crate) pool: Pool,
    pub(crate) pace: Pace,
    pub(crate) at_usual_pace: bool,
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

    /// What the session develops, if it says so.
    pub fn goal(&self) -> Option<Goal> {
        self.goal
    }

    /// Whom it is for.
    pub fn level(&self) -> Level {
        self.level
    }

    /// The one skill it attends to, if it says so.
    pub fn focus(&self) -> Option<&Placed<String>> {
        self.focus.as_ref()
    }

    /// The pool it is worked out for.
    pub fn pool(&self) -> Pool {
        self.pool
    }

    /// The pace the times follow from; may be per 100 of the other unit.
    pub fn pace(&self) -> Pace {
        self.pace
    }

    /// Whether that pace is the level's usual one, for none is said: no card then prints a time that
    /// follows from it.
    pub fn is_at_usual_pace(&self) -> bool {
        self.at_usual_pace
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
// Sets are the many: a box for each would cost more than it saves.
#[allow(clippy::large_enum_variant)]
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LinePlan {
    /// A set.
    Set(SetPlan),
    /// Time without a swim.
    Activity {
        /// What is done.
        what: Placed<String>,
        /// How long, all rounds counted.
        seconds: Seconds,
        /// How long once.
        each: Seconds,
    },
    /// Words that stand between the sets.
    Remark(Placed<String>),
    /// Several lines, repeated together.
    Rounds {
        /// How many times round.
        count: u32,
        /// The rest between two rounds, where it is another than after the last repeat.
        rest: Option<Seconds>,
        /// The lines of one round.
        lines: Vec<LinePlan>,
        /// What the rests between the rounds add to the time of the lines, all outer rounds counted.
        between: Seconds,
    },
}

/// A set, worked out: a cycle of repeats, swum through so many times in each round.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetPlan {
    /// The swim line in the numbers of the plan's pool.
    pub chalk: Swim,
    /// What is swum.
    pub cycle: Cycle,
    /// For each repeat of the cycle, how long it takes and how long the rest after it.
    pub times: Vec<RepeatTime>,
    /// How hard, where a leg does not say its own.
    pub effort: Option<EffortWord>,
    /// How the repeats compare.
    pub pattern: Option<Pattern>,
    /// The line a swimmer thinks of.
    pub cue: Option<Placed<String>>,
    /// What to do about arm strokes.
    pub strokes: Option<StrokePlan>,
    /// Gear of this set.
    pub gear: Vec<Placed<String>>,
    /// How the repeats are spaced.
    pub spacing: Spacing,
    /// The rest after the last repeat, where it is another.
    pub rest_after: Option<Seconds>,
    /// Rounds that hold this set, multiplied up; 1 outside rounds.
    pub rounds: u32,
    /// Lengths of all repeats in all rounds.
    pub lengths: Lengths,
    /// Time of all repeats in all rounds, last rests counted.
    pub seconds: Seconds,
    /// The lanes it is for; all where none is named.
    pub lanes: Vec<Placed<String>>,
    /// Where the set is written.
    pub place: Place,
    /// Where its swim line is written.
    pub swim_place: Place,
}

/// The times of one repeat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RepeatTime {
    /// Time to swim it.
    pub swim: Seconds,
    /// Rest after it: as written, or what its send-off leaves.
    pub rest: Seconds,
}

impl SetPlan {
    /// Repeats in one round.
    pub fn repeats(&self) -> u32 {
        self.cycle.repeat_count()
    }

    /// Lengths of its longest repeat.
    pub fn longest(&self) -> Lengths {
        self.cycle.longest()
    }

    /// The stroke of most of it.
    pub fn stroke(&self) -> Stroke {
        self.cycle.stroke()
    }

    /// The mode of most of it.
    pub fn mode(&self) -> Mode {
        self.cycle.mode()
    }

    /// What the set itself says of the effort.
    pub fn effort(&self) -> Option<Effort> {
        self.effort.as_ref().map(|effort| effort.counts)
    }

    /// The hardest effort in it, if any is said.
    pub fn hardest(&self) -> Option<Effort> {
        self.cycle.hardest(self.effort())
    }

    /// Time to swim its longest repeat.
    pub fn swim(&self) -> Seconds {
        self.times.iter().map(|time| time.swim).max().unwrap_or(Seconds::ZERO)
    }

    /// The rest after that repeat: of several that long, the shortest.
    pub fn rest(&self) -> Seconds {
        let longest = self.swim();
        let of_longest = self.times.iter().filter(|time| time.swim == longest);
        of_longest.map(|time| time.rest).min().unwrap_or(Seconds::ZERO)
    }

    /// All of it in one round, rests counted.
    pub fn round_seconds(&self) -> Seconds {
        let run =
            self.times.iter().fold(Seconds::ZERO, |sum, time| sum.plus(time.swim).plus(time.rest));
        let all = run.times(self.cycle.times);
        match (self.rest_after, self.times.last()) {
            (Some(after), Some(last)) => all.less(last.rest).plus(after),
            _ => all,
        }
    }

    /// One more time through the cycle, in all rounds.
    pub fn once_more_seconds(&self) -> Seconds {
        let run =
            self.times.iter().fold(Seconds::ZERO, |sum, time| sum.plus(time.swim).plus(time.rest));
        run.times(self.rounds)
    }

    /// How far all repeats in all rounds are in a pool.
    pub fn distance(&self, pool: Pool) -> Distance {
        let repeats = self.cycle.repeats.iter().map(|repeat| repeat.distance(pool));
        let run = Distance::sum(pool.unit(), repeats).sixths();
        let times = u64::from(self.cycle.times).saturating_mul(self.rounds.into());
        Distance::from_sixths(run.saturating_mul(times), pool.unit())
    }

    /// Whether its distance follows from a time.
    pub fn is_about(&self) -> bool {
        self.cycle.is_about()
    }
}

/// How the repeats of a set are spaced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Spacing {
    /// A rest at the wall; `leave_on` is the swim and the rest rounded up to 5 s,
    /// worked out for lanes.
    Rest {
        /// As it is said; `None` where nothing is, and nothing is printed.
        said: Option<RestSaid>,
        /// When a lane leaves again, counted from when it left.
        leave_on: Option<Seconds>,
    },
    /// A send-off.
    SendOff {
        /// The repeats of the cycle start this far before the next.
        every: Vec<Seconds>,
        /// So long for each 100, where that is what is written.
        per_100: Option<Seconds>,
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
    /// How far it is, in the plan's pool.
    pub fn distance(&self) -> Distance {
        let parts = self.parts.iter().map(|part| part.distance(self.pool));
        Distance::sum(self.pool.unit(), parts)
    }

    /// Whether some of its distance follows from a time.
    pub fn is_about(&self) -> bool {
        self.parts.iter().any(PartPlan::is_about)
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
        let lines = self.parts.iter().flat_map(|part| &part.lines);
        lines.filter(|line| line.is_swum()).count()
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
            LinePlan::Activity { .. } | LinePlan::Remark(_) => Lengths::default(),
            LinePlan::Rounds { lines, .. } => figures::lengths_of(lines),
        }
    }

    /// Time of all its repeats in all rounds, last rests counted.
    pub fn seconds(&self) -> Seconds {
        match self {
            LinePlan::Set(set) => set.seconds,
            LinePlan::Activity { seconds, .. } => *seconds,
            LinePlan::Remark(_) => Seconds::ZERO,
            LinePlan::Rounds { lines, between, .. } => figures::seconds_of(lines).plus(*between),
        }
    }

    /// Whether anything is swum in it.
    pub fn is_swum(&self) -> bool {
        match self {
            LinePlan::Set(_) => true,
            LinePlan::Activity { .. } | LinePlan::Remark(_) => false,
            LinePlan::Rounds { lines, .. } => lines.iter().any(LinePlan::is_swum),
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

    /// How far the part is, in a pool.
    pub fn distance(&self, pool: Pool) -> Distance {
        let sets = self.sets().into_iter().map(|set| set.distance(pool));
        Distance::sum(pool.unit(), sets)
    }

    /// Whether some of its distance follows from a time.
    pub fn is_about(&self) -> bool {
        self.sets().into_iter().any(SetPlan::is_about)
    }
}

fn collect_sets<'a>(lines: &'a [LinePlan], sets: &mut Vec<&'a SetPlan>) {
    for line in lines {
        match line {
            LinePlan::Set(set) => sets.push(set),
            LinePlan::Activity { .. } | LinePlan::Remark(_) => {}
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
