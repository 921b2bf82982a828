//! Which wall a line ends at.

use super::{Spot, Subject, advice};
use crate::finding::{Finding, Severity};
use crate::measure::Lengths;
use crate::plan::LinePlan;

advice! {
    FAR_WALL by far_wall {
        id: "far-wall",
        severity: Severity::Warning,
        summary: "a part ends at the other end of the pool",
        why: "The coach, the clock, the bottles and the gear are at the start wall; the lane is not.",
        unworried: "If the next part is meant to begin there, or there are steps at both ends. Within a \
                    part a line may end there, as in a pyramid of single lengths, if a later one comes \
                    back.",
        before: "{ swim = \"5 x 25 kick\", rest = \"20 s\" }",
        after: "{ swim = \"6 x 25 kick\", rest = \"20 s\" }",
        source: "Common practice, no source.",
    }
}

fn far_wall(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let spots = subject.spots();
    let mut away = false;
    for (index, (part, plan)) in subject.parts().enumerate() {
        // Where a swim of so many minutes ends, the clock decides.
        if plan.is_about() {
            continue;
        }
        let odd = plan.lines.iter().filter(|line| !line.lengths().ends_at_start()).count();
        let was_away = away;
        away ^= odd % 2 == 1;
        // The part that comes back is not reported, only the one that left.
        if !away || was_away {
            continue;
        }
        let of_part: Vec<&Spot<'_>> = spots.iter().filter(|spot| spot.part == index).collect();
        let Some(last) = plan.lines.iter().rposition(|line| !line.lengths().ends_at_start()) else {
            continue;
        };
        let before: usize = plan.lines.iter().take(last).map(sets_in).sum();
        let line = of_part.into_iter().skip(before);
        let count = plan.lines.get(last).map_or(0, sets_in);
        let Some(spot) = odd_one(line.take(count)) else { continue };
        let title = format!("the {} ends at the other end of the pool", part.kind.value);
        found.push(
            Finding::new(&FAR_WALL, title)
                .label(spot.set.swim_place, lengths_here(spot.plan.lengths))
                .help(with_one_more(subject, spot)),
        );
    }
}

/// How many sets a line has, those in rounds once each.
fn sets_in(line: &LinePlan) -> usize {
    match line {
        LinePlan::Set(_) => 1,
        LinePlan::Activity { .. } | LinePlan::Remark(_) => 0,
        LinePlan::Rounds { lines, .. } => lines.iter().map(sets_in).sum(),
    }
}

/// The set of a line that makes its lengths an odd number. In an odd sum of lengths there is one;
/// of several any will do, but rather one with repeats that is not fixed.
fn odd_one<'a>(line: impl Iterator<Item = &'a Spot<'a>>) -> Option<&'a Spot<'a>> {
    line.filter(|spot| !spot.plan.lengths.ends_at_start())
        .max_by_key(|spot| (!spot.set.fixed, spot.plan.repeats() > 1))
}

fn lengths_here(lengths: Lengths) -> String {
    match lengths.get() {
        1 => "1 length".to_owned(),
        count => format!("{count} lengths, an odd number"),
    }
}

/// The set made one length of an odd number longer: a repeat more, or a single swim of more than a
/// length one length longer. An odd set is swum in an odd number of rounds, so that it mends them.
fn with_one_more(subject: &Subject<'_>, spot: &Spot<'_>) -> String {
    let set = spot.plan;
    let (times, run) = match (set.cycle.times, set.cycle.run().get()) {
        (1, run) if run > 1 && !set.cycle.is_shaped() => (1, Lengths::new(run.saturating_add(1))),
        (times, _) => (times.saturating_add(1), set.cycle.run()),
    };
    format!(
        "write {} in place of {}, and it ends where it began",
        spot.chalked(subject.plan, times, run),
        spot.chalked(subject.plan, set.cycle.times, set.cycle.run())
    )
}
