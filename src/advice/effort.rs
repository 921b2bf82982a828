//! Where in the session the hard swimming is.

use super::{Spot, Subject, advice};
use crate::finding::{Finding, Rule, Severity};
use crate::session::words::{Effort, Goal, PartKind, Pattern};

advice! {
    HARD_WARM_UP by hard_warm_up {
        id: "hard-warm-up",
        severity: Severity::Warning,
        summary: "the warm-up asks for more than steady swimming",
        why: "Cold shoulders are asked for speed, and the keen ones are tired before the main set. A few \
              quick lengths at its end, a third of it at most, are a note.",
        unworried: "A set that builds or descends to a few quick strokes is not reported.",
        before: "{ swim = \"4 x 50 free\", rest = \"20 s\", effort = \"hard\" }",
        after: "{ swim = \"4 x 50 free\", rest = \"20 s\", effort = \"easy\" }",
        source: "Common practice, no source; a third is a choice of this program.",
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
              lane no longer swims well enough for it to count. Less than a fifth of the session is a \
              note: a few sprints to wake up for the main set, a relay to go home on.",
        unworried: "If the main set writes no effort, nothing is compared with it.",
        before: "main set steady, post set effort = \"sprint\"",
        after: "the sprints in the main set, post set steady",
        source: "Common practice, no source; a fifth is a choice of this program.",
    }
}

/// On a recovery day no part is to be hard, and a rule of its own reports any that is.
fn nothing_is_to_be_hard(subject: &Subject<'_>) -> bool {
    subject.session.develops(Goal::Recovery)
}

fn hard_warm_up(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    if nothing_is_to_be_hard(subject) {
        return;
    }
    let spots = subject.spots();
    let warm_up: Vec<&Spot<'_>> =
        spots.iter().filter(|spot| spot.kind == PartKind::WarmUp).collect();
    let rises =
        |spot: &Spot<'_>| matches!(spot.plan.pattern, Some(Pattern::Build | Pattern::Descend));
    let hard = |spot: &Spot<'_>| spot.effort() > Effort::Steady && !rises(spot);
    let all = lengths_of(warm_up.iter().copied());
    let of_it = lengths_of(warm_up.iter().copied().filter(|spot| hard(spot)));
    let at_its_end = warm_up.first().is_some_and(|first| !hard(first));
    let few = at_its_end && of_it * MOST_OF_A_WARM_UP <= all;
    for spot in warm_up.iter().filter(|spot| hard(spot)) {
        let finding = too_hard(&HARD_WARM_UP, spot);
        found.push(if few { finding.as_note() } else { finding });
    }
}

/// A warm-up may close with quick swims, one part of it in so many.
const MOST_OF_A_WARM_UP: u64 = 3;

/// Beside the main set there may be harder swims, less than one part of the session in so many.
const MOST_BESIDE_MAIN: u64 = 5;

fn lengths_of<'a>(spots: impl Iterator<Item = &'a Spot<'a>>) -> u64 {
    spots.map(|spot| u64::from(spot.plan.lengths.get())).sum()
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
    let main: Vec<&Spot<'_>> = spots.iter().filter(|spot| spot.kind == PartKind::MainSet).collect();
    // What a main set without a word of effort asks for, only its coach knows.
    if main.iter().all(|spot| spot.plan.hardest().is_none()) {
        return;
    }
    let Some(peak) = main.iter().map(|spot| spot.effort()).max() else { return };
    let beside = |kind| matches!(kind, PartKind::PreSet | PartKind::PostSet);
    let harder: Vec<&Spot<'_>> =
        spots.iter().filter(|spot| beside(spot.kind) && spot.effort() > peak).collect();
    let Some(first) = harder.first() else { return };
    let title =
        format!("the {} is {}, the main set no more than {peak}", first.kind, first.effort());
    let mut finding = Finding::new(&PEAK_OUTSIDE_MAIN, title);
    for spot in &harder {
        let place = spot.set.effort.as_ref().map_or(spot.set.place, |effort| effort.place);
        finding = finding.label(place, "harder than the main set");
    }
    if let Some(hardest) = main.iter().find(|spot| spot.effort() == peak) {
        finding = finding.label(hardest.set.swim_place, "the hardest of the main set");
    }
    finding = finding.help(format!("write: effort = \"{peak}\", or move the set to the main set"));
    let few =
        lengths_of(harder.iter().copied()) * MOST_BESIDE_MAIN < subject.plan.lengths.get().into();
    found.push(if few { finding.as_note() } else { finding });
}
