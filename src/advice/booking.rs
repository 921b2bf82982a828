//! The sum against the booking.

use super::{Advice, Desk, Spot};
use crate::finding::{Finding, Placed, Rule, Severity};
use crate::measure::Seconds;
use crate::plan::Plan;
use crate::session::words::{PartKind, TradeWord};

pub(super) static RULES: &[Advice] = &[
    Advice { rule: &OVER_BOOKED, look: over_booked },
    Advice { rule: &UNDER_BOOKED, look: under_booked },
];

static OVER_BOOKED: Rule = Rule {
    id: "over-booked",
    severity: Severity::Warning,
    summary: "the session takes longer than the lane is booked",
    why: "The next group stands at the wall, and the cool-down is what gets cut.",
    unworried: "If the times are wrong for this lane: set the pace or the changeover.",
    before: "booked = \"30 min\" for a session of 34:20",
    after: "booked = \"30 min\" with 4 repeats fewer in the main set",
    source: "Arithmetic.",
};

static UNDER_BOOKED: Rule = Rule {
    id: "under-booked",
    severity: Severity::Warning,
    summary: "more than a quarter of the booking is left over",
    why: "The lane is paid for and empty; or the session was meant for another evening.",
    unworried: "If the time is wanted for something else, a talk or a game: allow it.",
    before: "booked = \"60 min\" for a session of 35:00",
    after: "booked = \"60 min\" with more repeats in the main set",
    source: "A quarter is a choice of this program.",
};

fn over_booked(desk: &Desk<'_>, found: &mut Vec<Finding>) {
    let Some(booked) = &desk.session.booked else { return };
    let lanes = desk.lanes.iter().filter(|lane| lane.seconds > booked.value);
    let own = (desk.lanes.is_empty() && desk.plan.seconds > booked.value).then_some(desk.plan);
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
        found.push(with_cure(finding, desk, plan, booked));
    }
}

/// What to take out: repeats of the longest set of the main set.
fn with_cure(finding: Finding, desk: &Desk<'_>, plan: &Plan, booked: &Placed<Seconds>) -> Finding {
    let spots = desk.spots();
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
        "{} fewer here, {}, ends at {ends}{}",
        repeats(fewer),
        chalk(longest, longest.plan.repeats - fewer),
        on_the_clock(plan, ends)
    ))
}

fn repeats(count: u32) -> String {
    if count == 1 { "1 repeat".to_owned() } else { format!("{count} repeats") }
}

fn chalk(spot: &Spot<'_>, repeats: u32) -> String {
    format!("{repeats} in place of {} {}", spot.plan.repeats, spot.plan.stroke.text())
}

/// ", 20:01 on the clock" where the session says when it starts.
fn on_the_clock(plan: &Plan, ends: Seconds) -> String {
    plan.starts.map_or(String::new(), |starts| format!(", {} on the clock", starts.after(ends)))
}

fn under_booked(desk: &Desk<'_>, found: &mut Vec<Finding>) {
    let Some(booked) = &desk.session.booked else { return };
    // Lanes are cut to fit and may stretch; the session itself is what is judged.
    let left = booked.value.less(desk.plan.seconds);
    if 4 * u64::from(left.get()) <= u64::from(booked.value.get()) {
        return;
    }
    let title = format!(
        "the session takes {}, {} less than the {} booked",
        desk.plan.seconds,
        left.spoken(),
        booked.value.spoken()
    );
    let mut finding = Finding::new(&UNDER_BOOKED, title).label(booked.place, "the booking");
    let spots = desk.spots();
    let main = spots.iter().filter(|spot| spot.kind == PartKind::MainSet && !spot.set.fixed);
    if let Some(longest) = main.max_by_key(|spot| spot.plan.seconds) {
        let repeat = longest.plan.swim.plus(longest.plan.rest).times(longest.plan.rounds).get();
        let more = left.get() / repeat.max(1);
        let ends = desk.plan.seconds.plus(Seconds::new(more * repeat));
        finding = finding.label(longest.set.swim_place, "the longest set").help(format!(
            "{} more here ends at {ends}{}",
            repeats(more),
            on_the_clock(desk.plan, ends)
        ));
    }
    found.push(finding);
}
