//! Single swims: how long without a stop, and strokes to aim at.

use super::{Subject, advice};
use crate::finding::{Finding, Severity};
use crate::measure::{Distance, Unit};
use crate::session::Aim;
use crate::session::words::Level;

advice! {
    pub(crate) LONG_SWIM by long_swim {
        id: "long-swim",
        severity: Severity::Warning,
        summary: "a swim without a stop is long for the level",
        why: "When the stroke falls apart the metres teach the wrong one, and a tired beginner in the \
              middle of a lane is a worry. For improvers and the advanced it is a note: many have \
              built up to it.",
        unworried: "If the swimmers have built up to it, or it is a test: allow it, with that as the reason.",
        before: "level = \"beginner\" ... { swim = \"400 free\", rest = \"1 min\" }",
        after: "level = \"beginner\" ... { swim = \"4 x 100 free\", rest = \"20 s\" }",
        source: "Common practice, no source; that adults build up gradually: Garber et al. 2011, Med Sci \
                 Sports Exerc 43(7):1334-1359.",
    }

    STROKE_GOAL_WITHOUT_COUNT by stroke_goal_without_count {
        id: "stroke-goal-without-count",
        severity: Severity::Warning,
        summary: "a stroke goal has no count to compare with",
        why: "One stroke fewer than what? The swimmer makes up a number.",
        unworried: "If they know their number from last week; then write strokes_per_length. Repeats that \
                    hold a count may hold the first one's.",
        before: "{ swim = \"4 x 50 free\", rest = \"20 s\", strokes = \"-1\" }",
        after: "{ swim = \"2 x 50 free\", rest = \"20 s\", strokes = \"count\" }, then strokes = \"-1\"",
        source: "Common practice, no source.",
    }
}

/// The longest swim without a stop, in metres or yards. Common practice, no source.
const LONGEST: [(Level, u64); 3] =
    [(Level::Beginner, 200), (Level::Improver, 400), (Level::Advanced, 1650)];

/// The longest swim without a stop that is usual at a level.
pub(crate) fn longest_usual(level: Level, unit: Unit) -> Distance {
    let most = LONGEST.iter().find(|(known, _)| *known == level).map_or(0, |(_, most)| *most);
    Distance::whole(most, unit)
}

fn long_swim(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let level = subject.session.level.value;
    let most = longest_usual(level, subject.plan.pool.unit());
    for spot in subject.spots() {
        let each = subject.plan.pool.distance(spot.plan.longest());
        if each.sixths() <= most.sixths() {
            continue;
        }
        let finding = Finding::new(
            &LONG_SWIM,
            format!("{each} without a stop is long for the level {level}"),
        )
        .label(spot.set.swim_place, format!("{most} is usual at most"))
        .label(subject.session.level.place, "the level")
        .help(
            "break it into repeats; or, if it is a test or the swimmers have built up to it, allow \
             long-swim and say so",
        );
        found.push(if level == Level::Beginner { finding } else { finding.as_note() });
    }
}

fn stroke_goal_without_count(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let lanes = &subject.session.lanes;
    let by_lane = !lanes.is_empty() && lanes.iter().all(|lane| lane.strokes_per_length.is_some());
    if subject.session.strokes_per_length.is_some() || by_lane {
        return;
    }
    let mut counted = Vec::new();
    for spot in subject.spots() {
        let stroke = spot.plan.stroke();
        let Some(aim) = &spot.set.strokes else { continue };
        // Where repeats hold a count, the first of them gives it.
        let gives_it = aim.value == Aim::Hold && spot.plan.repeats() > 1;
        if aim.value == Aim::Count || gives_it {
            counted.push(stroke);
        } else if !counted.contains(&stroke) {
            found.push(
                Finding::new(
                    &STROKE_GOAL_WITHOUT_COUNT,
                    format!("a stroke goal for {stroke} and no count before it"),
                )
                .label(aim.place, "")
                .help("let an earlier set count: strokes = \"count\"; or write strokes_per_length = 20"),
            );
        }
    }
}
