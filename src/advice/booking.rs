//! The sum against the booking.

use super::{Subject, advice};
use crate::finding::{Finding, Placed, Severity};
use crate::measure::Seconds;
use crate::plan::{Plan, make};
use crate::session::words::{Keep, PartKind};

advice! {
    pub(crate) OVER_BOOKED by over_booked {
        id: "over-booked",
        severity: Severity::Warning,
        summary: "the session takes longer than the lane is booked",
        why: "The next group stands at the wall, and the cool-down is what gets cut.",
        unworried: "If the times are wrong for this lane: set the pace or the changeover. The other pool's \
                    version is cut to the booking, but for keep = \"lengths\" and sets with fixed = true; \
                    where those run over, it is reported.",
        before: "booked = \"30 min\" for a session of 34:20",
        after: "booked = \"30 min\" with 4 repeats fewer in the main set",
        source: "Arithmetic.",
    }

    pub(crate) UNDER_BOOKED by under_booked {
        id: "under-booked",
        severity: Severity::Note,
        summary: "more than a quarter of the booking is left over",
        why: "The lane is paid for and empty; or the session was meant for another evening. Time to talk \
              and to show is often meant, so this is a note.",
        unworried: "If the time is wanted for something else, a talk or a game.",
        before: "booked = \"60 min\" for a session of 35:00",
        after: "booked = \"60 min\" with more repeats in the main set",
        source: "A quarter is a choice of this program.",
    }
}

fn over_booked(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let Some(booked) = &subject.session.booked else { return };
    let lanes = subject.lanes.iter().filter(|lane| lane.seconds > booked.value);
    let own =
        (subject.lanes.is_empty() && subject.plan.seconds > booked.value).then_some(subject.plan);
    for plan in own.into_iter().chain(lanes) {
        let who =
            plan.lane.as_ref().map_or("the session".to_owned(), |lane| lane.name.value.clone());
        let over = plan.seconds.less(booked.value);
        let title = format!(
            "{who} takes {}, {} more than the {} booked",
            plan.seconds,
            over.spoken(),
            booked.value.spoken()
        );
        let mut finding = Finding::new(&OVER_BOOKED, title).label(booked.place, "the booking");
        if let Some(lane) = &plan.lane {
            finding = finding.label(lane.name.place, format!("takes {}", plan.seconds));
        }
        found.push(with_cure(finding, subject, plan, booked));
    }
    // Said once: with repeats taken out here there are fewer in the other pool, too.
    if subject.plan.seconds <= booked.value && subject.lanes.is_empty() {
        found.extend(other_pool_over(subject, booked));
    }
}

/// The other pool's version past the booking. It is printed like the written one, and nothing else
/// would say so. Only what no recut shortens can be: lengths kept, or every set fixed.
fn other_pool_over(subject: &Subject<'_>, booked: &Placed<Seconds>) -> Option<Finding> {
    let session = subject.session;
    let keeps_lengths = session.keep == Keep::Lengths;
    let is_held = keeps_lengths || subject.spots().iter().all(|spot| spot.set.fixed);
    let pool = session.other_pool.filter(|_| is_held)?;
    let other = make(session, pool, None);
    if other.seconds <= booked.value {
        return None;
    }
    let over = other.seconds.less(booked.value);
    let title = format!(
        "in {pool} the session takes {}, {} more than the {} booked",
        other.seconds,
        over.spoken(),
        booked.value.spoken()
    );
    let why = match keeps_lengths {
        true => "write keep = \"distance\" to have it cut to the booking",
        false => "take fixed = true from a set to have it cut to the booking",
    };
    let finding = Finding::new(&OVER_BOOKED, title).label(booked.place, "the booking");
    Some(finding.help(format!("{why}, or print the written pool alone: --as-written")))
}

/// What to take out: repeats of the longest set of the main set.
fn with_cure(
    finding: Finding,
    subject: &Subject<'_>,
    plan: &Plan,
    booked: &Placed<Seconds>,
) -> Finding {
    let spots = subject.spots_of(plan);
    let main = spots.iter().filter(|spot| spot.kind == PartKind::MainSet && !spot.set.fixed);
    let Some(longest) = main.max_by_key(|spot| spot.plan.seconds) else { return finding };
    let over = plan.seconds.less(booked.value).get();
    let repeat = longest.plan.once_more_seconds().get();
    let fewer = over.div_ceil(repeat.max(1));
    let (times, run) = (longest.plan.cycle.times, longest.plan.cycle.run());
    if fewer >= times {
        return finding.label(longest.set.swim_place, "the longest set").help(format!(
            "the longest set of the main set takes {} in all; take out a set",
            longest.plan.seconds
        ));
    }
    let ends = plan.seconds.less(Seconds::new(fewer * repeat));
    finding.label(longest.set.swim_place, "the longest set").help(format!(
        "{} in place of {} here ends at {ends}{}",
        longest.chalked(plan, times - fewer, run),
        longest.chalked(plan, times, run),
        on_the_clock(plan, ends)
    ))
}

/// ", 20:01 on the clock" where the session says when it starts.
fn on_the_clock(plan: &Plan, ends: Seconds) -> String {
    plan.starts.map_or(String::new(), |starts| format!(", {} on the clock", starts.after(ends)))
}

fn under_booked(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let Some(booked) = &subject.session.booked else { return };
    // With lanes no card is printed at the session's own pace; the last lane out is judged.
    let plan = subject.lanes.iter().max_by_key(|lane| lane.seconds).unwrap_or(subject.plan);
    let left = booked.value.less(plan.seconds);
    if 4 * u64::from(left.get()) <= u64::from(booked.value.get()) {
        return;
    }
    let who = if plan.lane.is_some() { "the longest lane" } else { "the session" };
    let title = format!(
        "{who} takes {}, {} less than the {} booked",
        plan.seconds,
        left.spoken(),
        booked.value.spoken()
    );
    let mut finding = Finding::new(&UNDER_BOOKED, title).label(booked.place, "the booking");
    let spots = subject.spots_of(plan);
    let main = spots.iter().filter(|spot| spot.kind == PartKind::MainSet && !spot.set.fixed);
    if let Some(longest) = main.max_by_key(|spot| spot.plan.seconds) {
        let repeat = longest.plan.once_more_seconds().get();
        let (times, run) = (longest.plan.cycle.times, longest.plan.cycle.run());
        let more = left.get() / repeat.max(1);
        let ends = plan.seconds.plus(Seconds::new(more * repeat));
        finding = finding.label(longest.set.swim_place, "the longest set").help(format!(
            "if the booking is meant to be filled, {} in place of {} here ends at {ends}{}",
            longest.chalked(plan, times.saturating_add(more), run),
            longest.chalked(plan, times, run),
            on_the_clock(plan, ends)
        ));
    }
    found.push(finding);
}
