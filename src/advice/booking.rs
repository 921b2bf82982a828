//! The sum against the booking.

use super::{Spot, Subject, advice};
use crate::finding::{Finding, Placed, Severity};
use crate::measure::Seconds;
use crate::plan::Plan;
use crate::session::chalk::Chalked;
use crate::session::words::PartKind;

advice! {
    pub(crate) OVER_BOOKED by over_booked {
        id: "over-booked",
        severity: Severity::Warning,
        summary: "the session takes longer than the lane is booked",
        why: "The next group stands at the wall, and the cool-down is what gets cut.",
        unworried: "If the times are wrong for this lane: set the pace or the changeover.",
        before: "booked = \"30 min\" for a session of 34:20",
        after: "booked = \"30 min\" with 4 repeats fewer in the main set",
        source: "Arithmetic.",
    }

    pub(crate) UNDER_BOOKED by under_booked {
        id: "under-booked",
        severity: Severity::Warning,
        summary: "more than a quarter of the booking is left over",
        why: "The lane is paid for and empty; or the session was meant for another evening.",
        unworried: "If the time is wanted for something else, a talk or a game: allow it.",
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
    let repeat = longest.plan.swim.plus(longest.plan.rest).times(longest.plan.rounds).get();
    let fewer = over.div_ceil(repeat.max(1));
    if fewer >= longest.plan.repeats {
        return finding.label(longest.set.swim_place, "the longest set").help(format!(
            "the longest set of the main set takes {} in all; take out a set",
            longest.plan.seconds
        ));
    }
    let ends = plan.seconds.less(Seconds::new(fewer * repeat));
    finding.label(longest.set.swim_place, "the longest set").help(format!(
        "{} in place of {} here ends at {ends}{}",
        chalked(longest, plan, longest.plan.repeats - fewer),
        chalked(longest, plan, longest.plan.repeats),
        on_the_clock(plan, ends)
    ))
}

/// The set with other repeats: "3 x 100 free".
fn chalked(spot: &Spot<'_>, plan: &Plan, repeats: u32) -> String {
    let number = plan.pool.distance(spot.plan.each).number_text();
    let (stroke, mode) = (spot.plan.stroke, spot.plan.mode);
    Chalked { repeats, number: &number, stroke, mode }.to_string()
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
        let repeat = longest.plan.swim.plus(longest.plan.rest).times(longest.plan.rounds).get();
        let more = left.get() / repeat.max(1);
        let ends = plan.seconds.plus(Seconds::new(more * repeat));
        finding = finding.label(longest.set.swim_place, "the longest set").help(format!(
            "{} in place of {} here ends at {ends}{}",
            chalked(longest, plan, longest.plan.repeats.saturating_add(more)),
            chalked(longest, plan, longest.plan.repeats),
            on_the_clock(plan, ends)
        ));
    }
    found.push(finding);
}
