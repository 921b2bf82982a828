//! Stage 2, the checked session: numbers in bounds, whole lengths, words known.
//!
//! ```
//! use deckcard::{check, session, source::Source};
//!
//! let source = Source::new("tuesday.toml", session::SMALLEST);
//! let reading = session::read(source, &|_| unreachable!("it names no club file"));
//! let mut findings = reading.findings;
//! let checked = check::check(reading.session.unwrap(), &mut findings).unwrap();
//! assert!(findings.is_empty());
//! // 4 x 50, 12 x 50 and 4 x 50 in a pool of 25 m.
//! assert_eq!(checked.lengths().get(), 40);
//! ```

pub mod cue;
pub mod cycle;
pub mod medley;
mod pool;
mod rounds;
pub(crate) mod rules;
mod set;
pub mod speed;
mod structure;
mod usual_pace;
pub mod wording;

pub use rules::RULES;
pub(crate) use set::{SEND_OFF_STEP_S, per_100};
pub use speed::Factors;

use crate::finding::{Finding, Place, Placed};
use crate::measure::{Date, Distance, Lengths, Pace, Pool, Seconds, TimeOfDay, TrueLength};
use crate::session::swim::{Asked, Course, Swim};
use crate::session::words::{EffortWord, Goal, Keep, Level, Mode, PartKind, Pattern, Stroke};
use crate::session::{Activity, Aim, Allow, Club, Lane, RestSaid, Session};
use cue::{CueNames, Swum};
use cycle::{Cycle, CycleError, Resize, Respelled};

/// The pause between set lines unless the coach sets it. Common practice, no source.
pub const USUAL_CHANGEOVER: Seconds = Seconds::new(30);

/// What a rest counts that nobody wrote, between repeats. Common practice, no source.
pub const USUAL_REST: Seconds = Seconds::new(20);

/// A session that holds together. [`check`] makes one of a session as read;
/// [`recut`](crate::plan::recut::recut) makes one of another for a pool, a time or a distance.
#[derive(Clone, Debug)]
pub struct CheckedSession {
    pub(crate) title: Placed<String>,
    pub(crate) date: Option<Date>,
    pub(crate) club: Option<Club>,
    pub(crate) pool: Placed<Pool>,
    pub(crate) other_pool: Option<Pool>,
    pub(crate) also_place: Option<Place>,
    pub(crate) keep: Keep,
    pub(crate) level: Placed<Level>,
    pub(crate) goal: Option<Placed<Goal>>,
    pub(crate) focus: Option<Placed<String>>,
    pub(crate) booked: Option<Placed<Seconds>>,
    pub(crate) starts: Option<TimeOfDay>,
    pub(crate) pace: Pace,
    pub(crate) pace_place: Place,
    pub(crate) at_usual_pace: bool,
    pub(crate) changeover: Seconds,
    pub(crate) factors: Factors,
    pub(crate) gear: Vec<Placed<String>>,
    pub(crate) strokes_per_length: Option<Placed<u32>>,
    pub(crate) together: bool,
    pub(crate) language: Option<Placed<String>>,
    pub(crate) allow: Vec<Allow>,
    pub(crate) lanes: Vec<Lane>,
    pub(crate) parts: Vec<CheckedPart>,
}

impl CheckedSession {
    /// What it is called.
    pub fn title(&self) -> &Placed<String> {
        &self.title
    }

    /// Its day.
    pub fn date(&self) -> Option<Date> {
        self.date
    }

    /// The club's defaults.
    pub fn club(&self) -> Option<&Club> {
        self.club.as_ref()
    }

    /// The pool it is written for.
    pub fn pool(&self) -> &Placed<Pool> {
        &self.pool
    }

    /// The other pool it is printed for, if there is one.
    pub fn other_pool(&self) -> Option<Pool> {
        self.other_pool
    }

    /// The pools it is printed for: its own, then the other one.
    pub fn pools(&self) -> Vec<Pool> {
        [self.pool.value].into_iter().chain(self.other_pool).collect()
    }

    /// Where the session file names the other pool, if it does.
    pub fn also_place(&self) -> Option<Place> {
        self.also_place
    }

    /// How the other pool's version is cut.
    pub fn keep(&self) -> Keep {
        self.keep
    }

    /// Whom it is for.
    pub fn level(&self) -> &Placed<Level> {
        &self.level
    }

    /// What it develops, if it says so.
    pub fn goal(&self) -> Option<&Placed<Goal>> {
        self.goal.as_ref()
    }

    /// The one skill it attends to, if it says so.
    pub fn focus(&self) -> Option<&Placed<String>> {
        self.focus.as_ref()
    }

    /// The goal by itself.
    pub(crate) fn goal_said(&self) -> Option<Goal> {
        self.goal.as_ref().map(|goal| goal.value)
    }

    /// Whether it says that it develops `goal`.
    pub(crate) fn develops(&self, goal: Goal) -> bool {
        self.goal_said() == Some(goal)
    }

    /// How long the lane is booked.
    pub fn booked(&self) -> Option<&Placed<Seconds>> {
        self.booked.as_ref()
    }

    /// When it starts.
    pub fn starts(&self) -> Option<TimeOfDay> {
        self.starts
    }

    /// Its own pace; not always per 100 of the pool's unit.
    pub fn pace(&self) -> Pace {
        self.pace
    }

    /// Whether the pace is the level's usual one, for none is said: then cards print no times that
    /// follow from it.
    pub fn is_at_usual_pace(&self) -> bool {
        self.at_usual_pace
    }

    /// Where the pace is written.
    pub fn pace_place(&self) -> Place {
        self.pace_place
    }

    /// The pause between set lines.
    pub fn changeover(&self) -> Seconds {
        self.changeover
    }

    /// Factors on swim time.
    pub fn factors(&self) -> &Factors {
        &self.factors
    }

    /// What to bring, as listed.
    pub fn gear(&self) -> &[Placed<String>] {
        &self.gear
    }

    /// Arm strokes a length.
    pub fn strokes_per_length(&self) -> Option<&Placed<u32>> {
        self.strokes_per_length.as_ref()
    }

    /// Whether all lanes finish together.
    pub fn together(&self) -> bool {
        self.together
    }

    /// The language of the card's own words.
    pub fn language(&self) -> Option<&Placed<String>> {
        self.language.as_ref()
    }

    /// Warnings the coach means.
    pub fn allow(&self) -> &[Allow] {
        &self.allow
    }

    /// Lanes.
    pub fn lanes(&self) -> &[Lane] {
        &self.lanes
    }

    /// Parts in order; one at least is a main set.
    pub fn parts(&self) -> &[CheckedPart] {
        &self.parts
    }
}

/// A part with at least one line.
#[derive(Clone, Debug)]
pub struct CheckedPart {
    /// Which part it is.
    pub kind: Placed<PartKind>,
    /// The coach's own name for it.
    pub title: Option<Placed<String>>,
    /// Its lines.
    pub lines: Vec<CheckedLine>,
}

/// A line of a part.
// Sets are the many and rounds the few: a box for each set would cost more than it saves.
#[allow(clippy::large_enum_variant)]
#[derive(Clone, Debug)]
pub enum CheckedLine {
    /// Repeats of one swim.
    Set(CheckedSet),
    /// Time without a swim.
    Activity(Activity),
    /// Words that stand between the sets.
    Remark(Placed<String>),
    /// Several lines swum through several times.
    Rounds {
        /// How many times.
        count: u32,
        /// Where that number is written.
        count_place: Place,
        /// The rest between two rounds, where it is another than after the last repeat.
        rest: Option<Placed<Seconds>>,
        /// The lines of one round.
        lines: Vec<CheckedLine>,
        /// Where the group is written.
        place: Place,
    },
}

/// A set: a cycle of repeats in whole lengths.
#[derive(Clone, Debug)]
pub struct CheckedSet {
    /// The swim line, in the numbers of the pool that the session is for.
    pub swim: Swim,
    /// What is swum.
    pub cycle: Cycle,
    /// How hard, where a leg does not say its own.
    pub effort: Option<Placed<EffortWord>>,
    /// How the repeats compare.
    pub pattern: Option<Placed<Pattern>>,
    /// The line a swimmer thinks of.
    pub cue: Option<Placed<String>>,
    /// What to do about arm strokes.
    pub strokes: Option<Placed<Aim>>,
    /// What is used.
    pub gear: Vec<Placed<String>>,
    /// How the repeats are spaced.
    pub timing: Placed<Timing>,
    /// The rest after the last repeat, where it is another.
    pub rest_after: Option<Placed<Seconds>>,
    /// Whether it is never recut.
    pub fixed: bool,
    /// Whether it goes length for length into the other pool, or is cut to its distance, whatever
    /// the session asks.
    pub keep: Option<Placed<Keep>>,
    /// The lanes it is for; all where none is named.
    pub lanes: Vec<Placed<String>>,
    /// What of its numbers its cue names, which is then not recut either.
    pub cue_names: CueNames,
    /// Where the set is written.
    pub place: Place,
    /// Where its swim line is written.
    pub swim_place: Place,
}

/// How repeats are spaced, as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Timing {
    /// Time at the wall after each repeat.
    Rest(RestSaid),
    /// Repeats start this far apart.
    SendOff(Seconds),
    /// Each repeat has so long for each 100 of the pool's unit.
    Per100(Seconds),
    /// Nothing is said: this counts after a repeat, and none is printed.
    Unsaid(Seconds),
}

impl CheckedSet {
    /// The same set, where what its cue names is held against its numbers in `pool`.
    pub(crate) fn with_cue_read(mut self, pool: Pool) -> Self {
        let set = self.swum(pool);
        let names = self.cue.as_ref().map(|cue| CueNames::of(&cue.value, set));
        self.cue_names = names.unwrap_or_default();
        self
    }

    /// Its numbers, in the pool they are of.
    pub(crate) fn swum(&self, pool: Pool) -> Swum {
        Swum { pool, repeats: self.repeats(), each: self.cycle.longest() }
    }

    /// All its repeats.
    pub fn repeats(&self) -> u32 {
        self.cycle.repeat_count()
    }

    /// The stroke of most of it.
    pub fn stroke(&self) -> Stroke {
        self.cycle.stroke()
    }

    /// The mode of most of it.
    pub fn mode(&self) -> Mode {
        self.cycle.mode()
    }

    /// Whether every leg is a drill.
    pub fn is_drill(&self) -> bool {
        self.cycle.legs().all(|leg| leg.mode == Mode::Drill)
    }

    /// Whether a lane swims it; `None` is the session itself, which goes by its first lane.
    pub fn is_for(&self, lane: Option<&str>) -> bool {
        let named = |lane: &str| {
            let lane = lane.trim().to_lowercase();
            self.lanes.iter().any(|known| known.value.trim().to_lowercase() == lane)
        };
        self.lanes.is_empty() || lane.is_none_or(named)
    }

    /// What the set itself says of the effort.
    pub fn effort(&self) -> Option<crate::session::words::Effort> {
        self.effort.as_ref().map(|effort| effort.value.counts)
    }

    /// The same set swum `times` times through in legs of another size, in another pool or the
    /// same; `home` is the pool it is in now.
    pub(crate) fn recut(&self, home: Pool, pool: Pool, times: u32, resize: Resize) -> CheckedSet {
        let cycle = Cycle { times, ..self.cycle.resized(resize) };
        let respelled = Respelled { from: home, to: pool, resize, cycle: &cycle };
        let mut swim = respelled.swim(&self.swim);
        // Half a length is half of one there.
        let held = self.cycle.is_held().then(|| held_in(pool, &mut swim, self.width(home)));
        let held = held.flatten();
        let set = CheckedSet { swim, cycle: held.unwrap_or(cycle), ..self.clone() };
        set.with_cue_read(pool)
    }

    /// How wide the pool is, where the set is one of widths; `home` is the pool that it is in.
    fn width(&self, home: Pool) -> Option<Distance> {
        let Course::Each(Asked::Widths(count)) = self.swim.course else { return None };
        let sixths = self.cycle.repeats.first()?.distance(home).sixths().checked_div(count)?;
        Some(Distance::from_sixths(sixths, home.unit()))
    }
}

/// The cycle of a swim that is left as it is, in another pool. What is less than a length at home
/// may be more than one there: it then ends at the last wall before, so that it takes no longer.
fn held_in(pool: Pool, swim: &mut Swim, width: Option<Distance>) -> Option<Cycle> {
    if let Err(CycleError::NotWhole(distance)) = Cycle::of(swim, pool, width)
        && let Course::Each(asked) = &mut swim.course
    {
        let (below, _) = pool.nearest(distance);
        *asked = Asked::Number(below.sixths(), None);
    }
    Cycle::of(swim, pool, width).ok()
}

impl CheckedLine {
    /// Lengths of the line, all rounds counted.
    pub fn lengths(&self) -> u32 {
        let mut lengths: u32 = 0;
        each_set(std::slice::from_ref(self), 1, &mut |set, rounds| {
            lengths = lengths.saturating_add(set.cycle.lengths().get().saturating_mul(rounds));
        });
        lengths
    }

    /// Whether anything is swum in it: no changeover is counted beside what is not.
    pub fn is_swum(&self) -> bool {
        match self {
            CheckedLine::Set(_) => true,
            CheckedLine::Activity(_) | CheckedLine::Remark(_) => false,
            CheckedLine::Rounds { lines, .. } => lines.iter().any(CheckedLine::is_swum),
        }
    }
}

impl CheckedSession {
    /// Every line of every part, in order.
    pub fn lines(&self) -> impl Iterator<Item = &CheckedLine> {
        self.parts.iter().flat_map(|part| &part.lines)
    }

    /// All lengths.
    pub fn lengths(&self) -> Lengths {
        Lengths::new(self.lines().map(CheckedLine::lengths).fold(0, u32::saturating_add))
    }

    /// All of it as a distance of the pool it is written for.
    pub fn distance(&self) -> Distance {
        self.true_length().in_unit(self.pool.value.unit())
    }

    /// A lane's pace, or its own. A lane's is per 100 of the unit of the session's, unless it says
    /// otherwise.
    pub fn pace_of(&self, lane: Option<&Lane>) -> Pace {
        lane.map_or(self.pace, |lane| Pace {
            per_100: lane.pace.value,
            unit: lane.pace_unit.unwrap_or(self.pace.unit),
        })
    }

    /// The true length of all of it: its lengths, and what is less than one.
    pub fn true_length(&self) -> TrueLength {
        let mut grid: u64 = 0;
        let pool = self.pool.value;
        for part in &self.parts {
            each_set(&part.lines, 1, &mut |set, rounds| {
                let times = u64::from(set.cycle.times) * u64::from(rounds);
                let run = set.cycle.true_length(pool).grid();
                grid = grid.saturating_add(run.saturating_mul(times));
            });
        }
        TrueLength::from_grid(grid)
    }

    /// Whether any set is for some lanes only.
    pub fn has_sets_of_lanes(&self) -> bool {
        let mut any = false;
        for part in &self.parts {
            each_set(&part.lines, 1, &mut |set, _| any |= !set.lanes.is_empty());
        }
        any
    }

    /// The session as a lane swims it: without the sets that are for others, the rounds that then
    /// hold nothing, and the parts. `None` is the session itself, which goes by its first lane.
    pub fn swum_by(&self, lane: Option<&Lane>) -> CheckedSession {
        let lane = lane.or_else(|| self.lanes.first()).map(|lane| lane.name.value.as_str());
        let mut own = self.clone();
        for part in &mut own.parts {
            part.lines = of_lane(std::mem::take(&mut part.lines), lane);
        }
        own.parts.retain(|part| part.lines.iter().any(CheckedLine::is_swum));
        own
    }
}

fn of_lane(lines: Vec<CheckedLine>, lane: Option<&str>) -> Vec<CheckedLine> {
    let own = lines.into_iter().filter_map(|line| match line {
        CheckedLine::Set(set) => set.is_for(lane).then_some(CheckedLine::Set(set)),
        CheckedLine::Rounds { count, count_place, rest, lines, place } => {
            let lines = of_lane(lines, lane);
            let swum = lines.iter().any(CheckedLine::is_swum);
            swum.then_some(CheckedLine::Rounds { count, count_place, rest, lines, place })
        }
        line => Some(line),
    });
    own.collect()
}

/// What the rest between two rounds of `lines` adds: it stands in place of the rest after their last
/// repeat.
pub(crate) fn between_rounds(rest: Option<&Placed<Seconds>>, lines: &[CheckedLine]) -> Seconds {
    rest.map_or(Seconds::ZERO, |rest| rest.value.less(last_rest(lines)))
}

/// The rest after the last repeat of lines, where it is a rest.
fn last_rest(lines: &[CheckedLine]) -> Seconds {
    match lines.iter().rev().find(|line| line.is_swum()) {
        Some(CheckedLine::Set(set)) => match (&set.rest_after, set.timing.value) {
            (Some(after), _) => after.value,
            (None, Timing::Rest(said)) => said.counts(),
            (None, Timing::Unsaid(rest)) => rest,
            (None, Timing::SendOff(_) | Timing::Per100(_)) => Seconds::ZERO,
        },
        Some(CheckedLine::Rounds { lines, .. }) => last_rest(lines),
        _ => Seconds::ZERO,
    }
}

/// Calls `visit` with every set of the lines and the rounds that hold it, multiplied up.
pub fn each_set<'a>(
    lines: &'a [CheckedLine],
    rounds: u32,
    visit: &mut impl FnMut(&'a CheckedSet, u32),
) {
    for line in lines {
        match line {
            CheckedLine::Set(set) => visit(set, rounds),
            CheckedLine::Activity(_) | CheckedLine::Remark(_) => {}
            CheckedLine::Rounds { count, lines, .. } => {
                each_set(lines, rounds.saturating_mul(*count), visit);
            }
        }
    }
}

/// Checks a session as read. `findings` holds what reading found, and takes what is
/// found here; `None` where any of it is an error.
pub fn check(mut session: Session, findings: &mut Vec<Finding>) -> Option<CheckedSession> {
    // Where reading has dropped a part, the rules on what is missing would speak falsely.
    let read_whole = !findings.iter().any(Finding::is_error);
    structure::check_parts(&session.parts, read_whole, findings);
    let other_pool = pool::other_pool(&session, findings);
    let factors = Factors::of_files(session.club.as_ref().map(|club| &club.speed), &session.speed);
    if session.at_usual_pace {
        usual_pace::settle(&mut session, &factors, findings);
    }
    // Without a pool or a pace, all that does not hang on it is still checked.
    let pool = session.pool.as_ref().map(|pool| pool.value);
    let pace = session.pace.as_ref().zip(pool);
    let pace = pace.map(|(pace, pool)| Pace {
        per_100: pace.value,
        unit: session.pace_unit.unwrap_or(pool.unit()),
    });
    let conditions = set::Conditions::of(&session, pace, &factors);
    let mut parts = Vec::new();
    for part in &session.parts {
        let lines = conditions.lines(&part.lines, part.keep.as_ref(), findings);
        let title = part.title.clone();
        parts.extend(part.kind.clone().map(|kind| CheckedPart { kind, title, lines }));
    }
    structure::check_totals(&session, &parts, findings);
    if findings.iter().any(Finding::is_error) {
        return None;
    }
    let changeover = changeover(&session);
    let language = session.language.or_else(|| session.club.as_ref()?.language.clone());
    let mut allow = session.allow;
    allow.extend(session.club.iter().flat_map(|club| club.allow.iter().cloned()));
    Some(CheckedSession {
        title: session.title,
        date: session.date.map(|date| date.value),
        pool: session.pool?,
        other_pool,
        also_place: session.also.map(|also| also.place),
        keep: session.keep.map_or(Keep::Distance, |keep| keep.value),
        level: session.level,
        goal: session.goal,
        focus: session.focus,
        booked: session.booked,
        starts: session.starts.map(|starts| starts.value),
        pace: pace?,
        pace_place: session.pace?.place,
        at_usual_pace: session.at_usual_pace,
        changeover,
        factors,
        gear: session.gear,
        strokes_per_length: session.strokes_per_length,
        together: session.together,
        language,
        allow,
        lanes: session.lanes,
        club: session.club,
        parts,
    })
}

/// The session's own changeover, else the club's, else the usual one.
fn changeover(session: &Session) -> Seconds {
    let club = session.club.as_ref();
    session
        .changeover
        .as_ref()
        .or(session.speed.changeover.as_ref())
        .or_else(|| club?.changeover.as_ref())
        .or_else(|| club?.speed.changeover.as_ref())
        .map_or(USUAL_CHANGEOVER, |changeover| changeover.value)
}
