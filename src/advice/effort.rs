//! Where in the session the hard swimming is.

use super::{Spot, Subject, advice};
use crate::finding::{Finding, Rule, Severity};
use crate::session::words::{Effort, Goal, PartKind, Pattern};

advice! {
    HARD_WARM_UP by hard_warm_up {
        id: "hard-warm-up",
        severity: Severity::Warning,
        summary: "the warm-up asks for more than steady swimming",
        why: "Cold shoulders are asked for speed, and the keen ones are tired before the main set.",
        unworried: "A set that builds or descends to a few quick strokes is not reported.",
        before: "{ swim = \"4 x 50 free\", rest = \"20 s\", effort = \"hard\" }",
        after: "{ swim = \"4 x 50 free\", rest = \"20 s\", effort = \"easy\" }",
        source: "Common practice, no source.",
    }

    HARD_COOL_DOWN by hard_cool_down {
        id: "hard-cool-down",
        severity: Severity::Warning,
        summary: "the cool-down asks for more than steady swimming",
        why: "A cool-down is there to end on easy swimming; asked for strong, it is one more set.",
        unworried: "If it is a last race for fun, make it a post set and ease down after it.",
        before: "{ swim = \"4 x 50 free\", rest = \"20 s\", effort = \"strong\" }",
        after: "{ swim = \"4 x 50 free\", rest = \"20 s\", effort = \"easy\" }",
        source: "Common practice, no source.",
    }

    PEAK_OUTSIDE_MAIN by peak_outside_main {
        id: "peak-outside-main",
        severity: Severity::Warning,
        summary: "the hardest swimming is not in the main set",
        why: "The main set is what the session is for; harder work before it spoils it, after it the \
              lane no longer swims well enough for it to count.",
        unworried: "A few sprints in the pre-set to wake the speed of a hard main set are not reported.",
        before: "main set steady, post set effort = \"sprint\"",
        after: "the sprints in the main set, post set steady",
        source: "Common practice, no source.",
    }
}

/// On a recovery day no part is to be hard, and a rule of its own reports any that is.
fn nothing_is_to_be_hard(subject: &Subject<'_>) -> bool {
    subject.session.goal.value == Goal::Recovery
}

fn hard_warm_up(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    if nothing_is_to_be_hard(subject) {
        return;
    }
    let rises =
        |spot: &Spot<'_>| matches!(spot.plan.pattern, Some(Pattern::Build | Pattern::Descend));
    for spot in subject.spots() {
        if spot.kind == PartKind::WarmUp && spot.effort() > Effort::Steady && !rises(&spot) {
            found.push(too_hard(&HARD_WARM_UP, &spot));
        }
    }
}

fn hard_cool_down(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    if nothing_is_to_be_hard(subject) {
        return;
    }
    for spot in subject.spots() {
        if spot.kind == PartKind::CoolDown && spot.effort() > Effort::Steady {
            found.push(too_hard(&HARD_COOL_DOWN, &spot));
        }
    }
}

fn too_hard(rule: &'static Rule, spot: &Spot<'_>) -> Finding {
    let place = spot.set.effort.as_ref().map_or(spot.set.place, |effort| effort.place);
    Finding::new(rule, format!("the {} asks for {} swimming", spot.kind, spot.effort()))
        .label(place, "")
        .help("write: effort = \"easy\" or effort = \"steady\"")
}

fn peak_outside_main(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    if nothing_is_to_be_hard(subject) {
        return;
    }
    let spots = subject.spots();
    let hardest = |spots: &[Spot<'_>]| spots.iter().map(Spot::effort).max();
    let main: Vec<Spot<'_>> =
        spots.iter().filter(|spot| spot.kind == PartKind::MainSet).copied().collect();
    let Some(peak) = hardest(&main) else { return };
    for spot in &spots {
        let beside_main = matches!(spot.kind, PartKind::PreSet | PartKind::PostSet);
        if !beside_main || spot.effort() <= peak {
            continue;
        }
        let place = spot.set.effort.as_ref().map_or(spot.set.place, |effort| effort.place);
        let title =
            format!("the {} is {}, the main set no more than {peak}", spot.kind, spot.effort());
        let mut finding =
            Finding::new(&PEAK_OUTSIDE_MAIN, title).label(place, "harder than the main set");
        if let Some(hardest) = main.iter().find(|spot| spot.effort() == peak) {
            finding = finding.label(hardest.set.swim_place, "the hardest of the main set");
        }
        found.push(
            finding.help(format!("write: effort = \"{peak}\", or move the set to the main set")),
        );
    }
}
