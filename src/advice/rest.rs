//! Rest: what beginners need, evenness, and what the goal asks for.

use super::{Spot, Subject, advice};
use crate::check::Timing;
use crate::finding::{Finding, Severity};
use crate::measure::Seconds;
use crate::plan::{SetPlan, metres_a_minute_tenths};
use crate::session::words::{Effort, Goal, Level, Mode, PartKind};

/// Beginners' rest between short repeats. Common practice, no source.
const BEGINNER_LEAST: Seconds = Seconds::new(10);
/// More than 20 s is right whenever it keeps the repeats alike; past this, and past so many times
/// the swim, the lane gets cold.
const BEGINNER_MOST: Seconds = Seconds::new(60);
const BEGINNER_MOST_SWIMS: u32 = 2;
/// A repeat up to this time is short.
const SHORT_REPEAT: Seconds = Seconds::new(180);

advice! {
    SHORT_REST by short_rest {
        id: "short-rest",
        severity: Severity::Warning,
        summary: "beginners have less than 10 s between repeats",
        why: "A beginner needs the first seconds to stand, clear the goggles and breathe; without them \
              each repeat is worse than the one before.",
        unworried: "If they rest between sets instead, and the repeats stay alike.",
        before: "{ swim = \"8 x 25 free\", rest = \"5 s\" }",
        after: "{ swim = \"8 x 25 free\", rest = \"15 s\" }",
        source: "10 to 20 s between short repeats, more whenever it keeps them alike; common practice, \
                 no source.",
    }

    LONG_REST by long_rest {
        id: "long-rest",
        severity: Severity::Warning,
        summary: "beginners stand more than a minute, and twice the swim, between repeats",
        why: "The lane gets cold and talks; the next repeat begins all over again. Someone who swims a \
              minute may well stand for another.",
        unworried: "If something is shown or explained meanwhile.",
        before: "{ swim = \"8 x 25 free\", rest = \"2 min\" }",
        after: "{ swim = \"8 x 25 free\", rest = \"20 s\" }",
        source: "10 to 20 s between short repeats, more whenever it keeps them alike; common practice, \
                 no source.",
    }

    UNEVEN_REST by uneven_rest {
        id: "uneven-rest",
        severity: Severity::Note,
        summary: "one part gives the same swim different rests",
        why: "The lane asks which it is, and half of it leaves on the other one. A slip, or a rest that \
              shrinks from set to set on purpose: the coach knows which, so this is a note.",
        unworried: "If the rest is meant to shrink.",
        before: "{ swim = \"4 x 50 free\", rest = \"10 s\" }, { swim = \"4 x 50 free\", rest = \"20 s\" }",
        after: "{ swim = \"8 x 50 free\", rest = \"20 s\" }",
        source: "Common practice, no source.",
    }

    MAIN_SET_THINS by main_set_thins {
        id: "main-set-thins",
        severity: Severity::Note,
        summary: "the main set of an endurance or threshold session thins out",
        why: "Endurance, and a pace at the threshold, come from holding the metres a minute when it \
              gets long; a main set that eases as it goes on practises easing. Shorter swims with the \
              same rest are often what is wanted, so this is a note.",
        unworried: "If the swims get shorter so that they can be quicker. Pyramids, ladders and broken \
                    swims are not compared, since single swims have a shape of their own; nor are harder \
                    swims with what was easier before them, other strokes, modes and easy swims, nor \
                    steady swims or hard ones in a threshold session, which may also lose a tenth.",
        before: "3 x 100, then 6 x 25, all with 20 s rest",
        after: "6 x 50, then 3 x 100, all with 20 s rest",
        source: "Metres a minute hold or rise; common practice, no source.",
    }

    SPEED_WITHOUT_REST by speed_without_rest {
        id: "speed-without-rest",
        severity: Severity::Warning,
        summary: "hard swims in a speed session have no more rest than swim",
        why: "Without rest the third sprint is no sprint any more; the session becomes endurance. Of hard \
              swims below a sprint it is a note: race pace is often practised on little rest.",
        unworried: "If tired speed is what you want, name the goal endurance.",
        before: "{ swim = \"8 x 50 free\", rest = \"20 s\", effort = \"sprint\" }",
        after: "{ swim = \"8 x 50 free\", rest = \"1:30\", effort = \"sprint\" }",
        source: "More rest than swim for speed; common practice, no source.",
    }
}

/// Whether a beginner's rest between repeats is too short, of whatever swim.
pub(crate) fn is_short_for_beginners(rest: Seconds) -> bool {
    rest < BEGINNER_LEAST
}

/// Whether a beginner's rest after a repeat of `swim` is too long.
pub(crate) fn is_long_for_beginners(rest: Seconds, swim: Seconds) -> bool {
    rest > BEGINNER_MOST && rest > swim.times(BEGINNER_MOST_SWIMS) && swim <= SHORT_REPEAT
}

/// Whether a set of a session for `goal` is a sprint, which needs more rest than swim.
pub(crate) fn is_sprint(goal: Option<Goal>, kind: PartKind, effort: Effort) -> bool {
    goal == Some(Goal::Speed) && kind == PartKind::MainSet && effort >= Effort::Hard
}

/// Whether a sprint has enough rest.
pub(crate) fn rests_a_sprint(rest: Seconds, swim: Seconds) -> bool {
    rest > swim
}

/// Written rests between repeats of a beginner session.
fn beginners_rests<'a>(subject: &Subject<'a>) -> Vec<(Spot<'a>, Seconds)> {
    if subject.session.level.value != Level::Beginner {
        return Vec::new();
    }
    let mut rests = Vec::new();
    for spot in subject.spots() {
        // The pieces of a broken swim are meant to follow at once.
        let broken = spot.plan.cycle.is_broken();
        if let Timing::Rest(rest) = spot.set.timing.value
            && spot.plan.repeats() > 1
            && !broken
        {
            rests.push((spot, rest.counts()));
        }
    }
    rests
}

fn short_rest(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    for (spot, rest) in beginners_rests(subject) {
        if is_short_for_beginners(rest) {
            let title = format!("beginners rest {} between repeats", rest.spoken());
            found.push(
                Finding::new(&SHORT_REST, title)
                    .label(spot.set.timing.place, "10 s or more is usual")
                    .help("write: rest = \"15 s\""),
            );
        }
    }
}

fn long_rest(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    for (spot, rest) in beginners_rests(subject) {
        if is_long_for_beginners(rest, spot.plan.swim()) {
            let title = format!(
                "beginners stand {} after each swim of {}",
                rest.spoken(),
                spot.plan.swim().spoken()
            );
            found.push(
                Finding::new(&LONG_REST, title)
                    .label(spot.set.timing.place, "10 to 20 s is usual, a minute is plenty")
                    .help("write: rest = \"20 s\", or \"1 min\" where they need it"),
            );
        }
    }
}

fn uneven_rest(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let spots = subject.spots();
    let same_swim =
        |a: &SetPlan, b: &SetPlan| a.cycle.repeats == b.cycle.repeats && a.effort() == b.effort();
    for (index, spot) in spots.iter().enumerate() {
        let Timing::Rest(said) = spot.set.timing.value else { continue };
        let rest = said.counts();
        let earlier = spots.iter().take(index).find(|earlier| {
            earlier.part == spot.part
                && same_swim(earlier.plan, spot.plan)
                && matches!(earlier.set.timing.value, Timing::Rest(other) if other.counts() != rest)
        });
        let Some(earlier) = earlier else { continue };
        let title = format!(
            "the same swim has {} rest here and {} above",
            rest.spoken(),
            earlier.plan.rest().spoken()
        );
        found.push(
            Finding::new(&UNEVEN_REST, title)
                .label(spot.set.timing.place, "")
                .label(earlier.set.timing.place, "the other rest")
                .help(format!(
                    "give both the longer: rest = \"{}\"",
                    rest.max(earlier.plan.rest()).spoken()
                )),
        );
    }
}

/// How far a main set holds its metres a minute, for a goal that asks it to. Both figures are
/// choices of this program.
#[derive(Clone, Copy)]
pub(crate) struct Holds {
    /// What is left of a set's metres a minute in the next one, in thousandths. Of endurance a
    /// little may go, to rounding. At the threshold swims often go down, 400, 200, 100, with one
    /// rest after each: a tenth less is then the shape of the set.
    permille: u32,
    at_threshold: bool,
}

impl Holds {
    /// What a session of this goal is held to; nothing where its main set may thin out.
    pub(crate) fn of(goal: Goal) -> Option<Self> {
        match goal {
            Goal::Endurance => Some(Self { permille: 970, at_threshold: false }),
            Goal::Threshold => Some(Self { permille: 900, at_threshold: true }),
            _ => None,
        }
    }

    /// Whether a set is work that is compared with the work before it.
    pub(crate) fn compares(self, mode: Mode, effort: Effort) -> bool {
        let is_work = match self.at_threshold {
            true => effort == Effort::Strong,
            false => effort > Effort::Easy,
        };
        mode == Mode::Swim && is_work
    }

    /// Whether a set falls too far behind the one before, each given as its lengths and its
    /// seconds with rests. Compared exactly, by cross-multiplication.
    pub(crate) fn falls(self, now: (u32, u32), before: (u32, u32)) -> bool {
        let product = |a: (u32, u32), b: (u32, u32)| u128::from(a.0) * u128::from(b.1);
        product(now, before) * 1000 < product(before, now) * u128::from(self.permille)
    }
}

fn main_set_thins(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let Some(holds) = subject.session.goal_said().and_then(Holds::of) else { return };
    let spots = subject.spots();
    // A swim that comes once is a step of a ladder, or a piece of a broken swim.
    let shaped = |spot: &Spot<'_>| spot.plan.repeats() == 1;
    let mut work = spots.iter().filter(|spot| {
        spot.kind == PartKind::MainSet
            && holds.compares(spot.plan.mode(), spot.effort())
            && !spot.set.fixed
    });
    let swum = |spot: &Spot<'_>| (spot.plan.lengths.get(), spot.plan.seconds.get());
    let Some(mut before) = work.next() else { return };
    for spot in work {
        let same_work = spot.plan.stroke() == before.plan.stroke()
            && spot.effort() <= before.effort()
            && !shaped(spot)
            && !shaped(before);
        if same_work && holds.falls(swum(spot), swum(before)) {
            found.push(thins_out(subject, spot, before));
        }
        before = spot;
    }
}

fn thins_out(subject: &Subject<'_>, spot: &Spot<'_>, before: &Spot<'_>) -> Finding {
    let per_minute = |set: &SetPlan| {
        let tenths = metres_a_minute_tenths(subject.plan.pool.distance(set.lengths), set.seconds);
        format!("{}.{} m/min", tenths / 10, tenths % 10)
    };
    let (now, earlier) = (per_minute(spot.plan), per_minute(before.plan));
    Finding::new(&MAIN_SET_THINS, format!("the main set thins out from {earlier} to {now}"))
        .label(spot.set.swim_place, now)
        .label(before.set.swim_place, earlier)
        .help("lengthen the repeats, shorten the rest, or swap the two sets")
}

fn speed_without_rest(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let goal = subject.session.goal_said();
    for spot in subject.spots() {
        let sprint = is_sprint(goal, spot.kind, spot.effort()) && spot.plan.repeats() > 1;
        if !sprint || rests_a_sprint(spot.plan.rest(), spot.plan.swim()) {
            continue;
        }
        let title = format!(
            "a {} swim of {} has {} rest",
            spot.effort(),
            spot.plan.swim().spoken(),
            spot.plan.rest().spoken()
        );
        let enough = spot.plan.swim().plus(Seconds::new(1)).rounded_up_to(5);
        let line = match spot.set.timing.value {
            Timing::Rest(_) | Timing::Unsaid(_) => format!("rest = \"{}\"", enough.spoken()),
            Timing::SendOff(_) | Timing::Per100(_) => {
                format!("on = \"{}\"", spot.plan.swim().plus(enough).rounded_up_to(5))
            }
        };
        let finding = Finding::new(&SPEED_WITHOUT_REST, title)
            .label(spot.set.timing.place, "speed needs more rest than swim")
            .help(format!("write: {line}"));
        found.push(if spot.effort() < Effort::Sprint { finding.as_note() } else { finding });
    }
}
