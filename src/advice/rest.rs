//! Rest: what beginners need, evenness, and what the goal asks for.

use super::{Desk, Spot, advice};
use crate::check::Timing;
use crate::finding::{Finding, Severity};
use crate::measure::Seconds;
use crate::plan::{SetPlan, density_tenths};
use crate::session::words::{Effort, Goal, Level, Mode, PartKind};

/// Beginners' rest between short repeats. Common practice, no source.
const BEGINNER_LEAST: Seconds = Seconds::new(10);
/// More than 20 s is right whenever it keeps the repeats alike; past this the lane gets cold.
const BEGINNER_MOST: Seconds = Seconds::new(60);
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
        summary: "beginners stand more than a minute between short repeats",
        why: "The lane gets cold and talks; the next repeat begins all over again.",
        unworried: "If something is shown or explained meanwhile.",
        before: "{ swim = \"8 x 25 free\", rest = \"2 min\" }",
        after: "{ swim = \"8 x 25 free\", rest = \"20 s\" }",
        source: "10 to 20 s between short repeats, more whenever it keeps them alike; common practice, \
                 no source.",
    }

    UNEVEN_REST by uneven_rest {
        id: "uneven-rest",
        severity: Severity::Warning,
        summary: "one part gives the same swim different rests",
        why: "The lane asks which it is, and half of it leaves on the other one.",
        unworried: "If the rest is meant to shrink from set to set: allow it.",
        before: "{ swim = \"4 x 50 free\", rest = \"10 s\" }, { swim = \"4 x 50 free\", rest = \"20 s\" }",
        after: "{ swim = \"8 x 50 free\", rest = \"20 s\" }",
        source: "Common practice, no source.",
    }

    DENSITY_FALLS by density_falls {
        id: "density-falls",
        severity: Severity::Warning,
        summary: "the main set of an endurance session thins out",
        why: "Endurance comes from holding the metres a minute, or raising them, when it gets long; a \
              main set that eases as it goes on practises easing.",
        unworried: "If the last set is another kind of work, a drill say: other strokes, modes and easy \
                    swims are not compared.",
        before: "3 x 100, then 6 x 25, all with 20 s rest",
        after: "6 x 50, then 3 x 100, all with 20 s rest",
        source: "Density holds or rises for endurance; common practice, no source.",
    }

    SPEED_WITHOUT_REST by speed_without_rest {
        id: "speed-without-rest",
        severity: Severity::Warning,
        summary: "hard swims in a speed session have no more rest than swim",
        why: "Without rest the third sprint is no sprint any more; the session becomes endurance.",
        unworried: "If tired speed is what you want, name the goal endurance.",
        before: "{ swim = \"8 x 50 free\", rest = \"20 s\", effort = \"sprint\" }",
        after: "{ swim = \"8 x 50 free\", rest = \"1:30\", effort = \"sprint\" }",
        source: "More rest than swim for speed; common practice, no source.",
    }
}

/// Written rests between repeats of a beginner session.
fn beginners_rests<'a>(desk: &Desk<'a>) -> Vec<(Spot<'a>, Seconds)> {
    if desk.session.level.value != Level::Beginner {
        return Vec::new();
    }
    let mut rests = Vec::new();
    for spot in desk.spots() {
        if let Timing::Rest(rest) = spot.set.timing.value
            && spot.plan.repeats > 1
        {
            rests.push((spot, rest));
        }
    }
    rests
}

fn short_rest(desk: &Desk<'_>, found: &mut Vec<Finding>) {
    for (spot, rest) in beginners_rests(desk) {
        if rest < BEGINNER_LEAST {
            let title = format!("beginners rest {} between repeats", rest.spoken());
            found.push(
                Finding::new(&SHORT_REST, title)
                    .label(spot.set.timing.place, "10 s or more is usual")
                    .help("write: rest = \"15 s\""),
            );
        }
    }
}

fn long_rest(desk: &Desk<'_>, found: &mut Vec<Finding>) {
    for (spot, rest) in beginners_rests(desk) {
        if rest > BEGINNER_MOST && spot.plan.swim <= SHORT_REPEAT {
            let title = format!(
                "beginners stand {} after each swim of {}",
                rest.spoken(),
                spot.plan.swim.spoken()
            );
            found.push(
                Finding::new(&LONG_REST, title)
                    .label(spot.set.timing.place, "10 to 20 s is usual, a minute at most")
                    .help("write: rest = \"20 s\""),
            );
        }
    }
}

fn uneven_rest(desk: &Desk<'_>, found: &mut Vec<Finding>) {
    let spots = desk.spots();
    let same_swim = |a: &SetPlan, b: &SetPlan| {
        (a.each, a.stroke, a.mode, a.effort) == (b.each, b.stroke, b.mode, b.effort)
    };
    for (index, spot) in spots.iter().enumerate() {
        let Timing::Rest(rest) = spot.set.timing.value else { continue };
        let earlier = spots.iter().take(index).find(|earlier| {
            earlier.part == spot.part
                && same_swim(earlier.plan, spot.plan)
                && matches!(earlier.set.timing.value, Timing::Rest(other) if other != rest)
        });
        let Some(earlier) = earlier else { continue };
        let title = format!(
            "the same swim has {} rest here and {} above",
            rest.spoken(),
            earlier.plan.rest.spoken()
        );
        found.push(
            Finding::new(&UNEVEN_REST, title)
                .label(spot.set.timing.place, "")
                .label(earlier.set.timing.place, "the other rest")
                .help(format!(
                    "give both the longer: rest = \"{}\"",
                    rest.max(earlier.plan.rest).spoken()
                )),
        );
    }
}

/// Falls below this many thousandths of the set before are told; a little is rounding.
const DENSITY_HOLDS_PERMILLE: u64 = 970;

fn density_falls(desk: &Desk<'_>, found: &mut Vec<Finding>) {
    if desk.session.goal.value != Goal::Endurance {
        return;
    }
    let spots = desk.spots();
    let mut work = spots.iter().filter(|spot| {
        spot.kind == PartKind::MainSet
            && spot.plan.mode == Mode::Swim
            && spot.effort() > Effort::Easy
            && !spot.set.fixed
    });
    let Some(mut before) = work.next() else { return };
    for spot in work {
        let same_work = spot.plan.stroke == before.plan.stroke;
        if same_work && falls(spot.plan, before.plan) {
            found.push(thins_out(desk, spot, before));
        }
        before = spot;
    }
}

/// Whether lengths a second fall, compared exactly by cross-multiplication.
fn falls(now: &SetPlan, before: &SetPlan) -> bool {
    let product =
        |a: &SetPlan, b: &SetPlan| u128::from(a.lengths.get()) * u128::from(b.seconds.get());
    product(now, before) * 1000 < product(before, now) * u128::from(DENSITY_HOLDS_PERMILLE)
}

fn thins_out(desk: &Desk<'_>, spot: &Spot<'_>, before: &Spot<'_>) -> Finding {
    let density = |set: &SetPlan| {
        let tenths = density_tenths(desk.plan.pool.distance(set.lengths), set.seconds);
        format!("{}.{} m/min", tenths / 10, tenths % 10)
    };
    Finding::new(
        &DENSITY_FALLS,
        format!("the main set thins out from {} to {}", density(before.plan), density(spot.plan)),
    )
    .label(spot.set.swim_place, density(spot.plan))
    .label(before.set.swim_place, density(before.plan))
    .help("lengthen the repeats, shorten the rest, or swap the two sets")
}

fn speed_without_rest(desk: &Desk<'_>, found: &mut Vec<Finding>) {
    if desk.session.goal.value != Goal::Speed {
        return;
    }
    for spot in desk.spots() {
        let sprint = spot.kind == PartKind::MainSet && spot.effort() >= Effort::Hard;
        if !sprint || spot.plan.repeats == 1 || spot.plan.rest > spot.plan.swim {
            continue;
        }
        let title = format!(
            "a {} swim of {} has {} rest",
            spot.effort(),
            spot.plan.swim.spoken(),
            spot.plan.rest.spoken()
        );
        let enough = spot.plan.swim.plus(Seconds::new(1)).rounded_up_to(5);
        let line = match spot.set.timing.value {
            Timing::Rest(_) => format!("rest = \"{}\"", enough.spoken()),
            Timing::SendOff(_) => {
                format!("on = \"{}\"", spot.plan.swim.plus(enough).rounded_up_to(5))
            }
        };
        found.push(
            Finding::new(&SPEED_WITHOUT_REST, title)
                .label(spot.set.timing.place, "speed needs more rest than swim")
                .help(format!("write: {line}")),
        );
    }
}
