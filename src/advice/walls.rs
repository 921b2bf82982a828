//! Which wall a line ends at.

use super::{Subject, advice, first_set};
use crate::finding::{Finding, Severity};

advice! {
    FAR_WALL by far_wall {
        id: "far-wall",
        severity: Severity::Warning,
        summary: "a set ends at the other end of the pool",
        why: "The coach, the clock, the bottles and the gear are at the start wall; the lane is not.",
        unworried: "If the next set is meant to begin there, or there are steps at both ends.",
        before: "{ swim = \"5 x 25 kick\", rest = \"20 s\" }",
        after: "{ swim = \"6 x 25 kick\", rest = \"20 s\" }",
        source: "Common practice, no source.",
    }
}

fn far_wall(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let mut away = false;
    for (part, plan) in subject.parts() {
        for (written, line) in part.lines.iter().zip(&plan.lines) {
            let lengths = line.lengths();
            if lengths.ends_at_start() {
                continue;
            }
            // The line that comes back is not reported, only the one that left.
            away = !away;
            let Some(set) = first_set(written).filter(|_| away) else { continue };
            let title = match lengths.get() {
                1 => "1 length ends at the other end of the pool".to_owned(),
                count => format!("{count} lengths end at the other end of the pool"),
            };
            found.push(
                Finding::new(&FAR_WALL, title)
                    .label(set.swim_place, format!("in the {}", part.kind.value))
                    .help("make the lengths of the line an even number: one repeat more or fewer"),
            );
        }
    }
}
