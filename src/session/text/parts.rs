//! Which part is which where a message does not say it.

use super::builder::DraftPart;
use super::sums::sixths;
use crate::measure::Pool;
use crate::session::Line;
use crate::session::words::{Effort, PartKind};

/// Parts what stands before the first heading, where no heading is of the warm-up or the main set.
pub(super) fn part_first(parts: &mut Vec<DraftPart>, pool: Option<Pool>) {
    let named = |kind| parts.iter().any(|part| part.kind == Some(kind));
    if named(PartKind::WarmUp) || named(PartKind::MainSet) {
        return;
    }
    let Some(first) = parts.first_mut().filter(|first| !first.headed) else { return };
    let (warm_up, _) = guess(&first.lines, pool);
    if warm_up == 0 {
        return;
    }
    let lines = first.lines.split_off(warm_up);
    first.kind = Some(PartKind::WarmUp);
    if let Some(begins) = lines.first().map(super::builder::line_place) {
        let kind = Some(PartKind::MainSet);
        parts.insert(1, DraftPart { kind, lines, ..DraftPart::at(begins) });
    }
}

/// Parts a warm-up that holds the work too, for want of a heading before it: its first rounds or strong
/// swims begin the main set.
pub(super) fn part_warm_up(parts: &mut Vec<DraftPart>) -> bool {
    let none = |kind| parts.iter().all(|part| part.kind.is_some() && part.kind != Some(kind));
    if !none(PartKind::MainSet) {
        return false;
    }
    let Some(at) = parts.iter().position(|part| part.kind == Some(PartKind::WarmUp)) else {
        return false;
    };
    let Some(part) = parts.get_mut(at) else { return false };
    let Some(work) = part.lines.iter().skip(1).position(is_work).map(|work| work + 1) else {
        return false;
    };
    let lines = part.lines.split_off(work);
    let place = lines.first().map_or(part.place, super::builder::line_place);
    parts.insert(at + 1, DraftPart { lines, ..DraftPart::at(place) });
    true
}

/// Gives every part its kind by its place: the first may be the warm-up, the last the cool-down, the
/// farthest is the main set where none is said.
pub(super) fn give_kinds(parts: &mut [DraftPart], pool: Option<Pool>) {
    let far = |part: &DraftPart| sixths(&part.lines, pool, None).unwrap_or(0);
    if parts.iter().all(|part| part.kind != Some(PartKind::MainSet)) {
        let unnamed = parts.iter().enumerate().filter(|(_, part)| part.kind.is_none());
        let main = unnamed.max_by_key(|(at, part)| (far(part), usize::MAX - at)).map(|(at, _)| at);
        if let Some(main) = main.and_then(|main| parts.get_mut(main)) {
            main.kind = Some(PartKind::MainSet);
        }
    }
    let main = parts.iter().position(|part| part.kind == Some(PartKind::MainSet)).unwrap_or(0);
    let has = |parts: &[DraftPart], kind| parts.iter().any(|part| part.kind == Some(kind));
    let (starts, ends) = (has(parts, PartKind::WarmUp), has(parts, PartKind::CoolDown));
    let last = parts.len().saturating_sub(1);
    for (at, part) in parts.iter_mut().enumerate().filter(|(_, part)| part.kind.is_none()) {
        part.kind = Some(match () {
            () if at == 0 && !starts => PartKind::WarmUp,
            () if at < main => PartKind::PreSet,
            () if at == last && !ends && is_gentle(&part.lines) => PartKind::CoolDown,
            () => PartKind::PostSet,
        });
    }
}

/// Parts a message without headings: how many of its lines are the warm-up, and how many the cool-down.
pub(super) fn guess(lines: &[Line], pool: Option<Pool>) -> (usize, usize) {
    let far = |lines: &[Line]| sixths(lines, pool, None).unwrap_or(0);
    let whole = far(lines);
    if lines.len() < 3 {
        return (0, 0);
    }
    // At most a third of the distance loosens up, and at most a fifth ends it. Common practice, no source.
    let mut first = 1;
    while lines.get(..=first).is_some_and(|head| far(head).saturating_mul(3) <= whole)
        && lines.get(first).is_some_and(|line| !is_work(line))
    {
        first += 1;
    }
    let mut last = 0;
    while lines.len() - last > first + 1
        && lines.get(lines.len() - last - 1..).is_some_and(|tail| {
            far(tail).saturating_mul(5) <= whole && tail.first().is_some_and(is_single)
        })
    {
        last += 1;
    }
    (first, last)
}

fn is_gentle(lines: &[Line]) -> bool {
    !lines.iter().any(is_work)
}

/// Whether a line is more than loosening: rounds, several repeats by the clock, a strong effort.
fn is_work(line: &Line) -> bool {
    match line {
        Line::Set(set) => {
            let strong =
                set.effort.as_ref().is_some_and(|effort| effort.value.counts > Effort::Steady);
            let ladder = matches!(set.swim.value.course, crate::session::swim::Course::Ladder(_));
            strong || ladder || set.on.is_some() && set.swim.value.repeats > 1
        }
        Line::Rounds(_) => true,
        Line::Activity(_) | Line::Remark(_) => false,
    }
}

/// Whether a line is one swim, easy or without a word of how hard.
fn is_single(line: &Line) -> bool {
    match line {
        Line::Set(set) => {
            let easy = set.effort.as_ref().is_none_or(|effort| effort.value.counts == Effort::Easy);
            let said = set.effort.is_some();
            easy && (set.swim.value.repeats == 1 || said)
        }
        Line::Remark(_) => true,
        Line::Rounds(_) | Line::Activity(_) => false,
    }
}
