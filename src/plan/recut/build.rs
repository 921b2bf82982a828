//! Makes the recut session of what was picked, with a list of what changed.

use std::collections::{BTreeMap, BTreeSet};

use super::change::{Change, Changed, CutSet, CutSwim, Why};
use super::choices::{Numbers, Pick, sets_of};
use super::search::{self, Found};
use super::space::{Scale, Space};
use super::transfer::Transfer;
use super::{Chooser, Recut};
use crate::check::{CheckedLine, CheckedPart, CheckedSession, CheckedSet, Timing};
use crate::finding::Place;
use crate::measure::{Pool, Seconds};
use crate::session::words::PartKind;

/// All pauses between set lines together.
pub(super) fn changeovers(session: &CheckedSession) -> Seconds {
    let pauses = session.lines().filter(|line| line.is_swum()).count().saturating_sub(1);
    session.changeover.times(u32::try_from(pauses).unwrap_or(u32::MAX))
}

/// The session with each line as it was picked.
pub(super) fn of(transfer: Transfer<'_>, space: &Space, found: &Found, why: Why) -> Recut {
    let chooser = Chooser { transfer, breadth: 0 };
    let spaces = space.parts.iter().flat_map(|part| &part.lines);
    let picks = spaces
        .zip(&found.picks)
        .filter_map(|(line, at)| line.choices.get(*at))
        .map(|choice| choice.pick);
    let mut picks = picks.collect::<Vec<_>>().into_iter();
    from_lines(transfer, why, |line| match picks.next() {
        Some(pick) => {
            let count = match pick {
                Pick::Set(_) => 1,
                Pick::Rounds { count, .. } => count,
            };
            let numbers = chooser.picked(line, pick).into_iter().map(|(_, new, _)| new);
            (count, numbers.collect())
        }
        None => as_written(line),
    })
}

/// The session length for length: nothing changes but the water and the send-offs.
pub(super) fn length_for_length(transfer: Transfer<'_>) -> Recut {
    let why = if transfer.same_pool() { Why::Lane } else { Why::Lengths(transfer.pool) };
    from_lines(transfer, why, as_written)
}

/// A space and choices for a session that no search had an answer for.
pub(super) fn unsearched(transfer: Transfer<'_>) -> (Space, Found) {
    let space = Space::new(transfer, Scale::ONE, 0);
    let found = search::first_of(&space);
    (space, found)
}

fn as_written(line: &CheckedLine) -> (u32, Vec<Numbers>) {
    let count = match line {
        CheckedLine::Set(_) | CheckedLine::Activity(_) | CheckedLine::Remark(_) => 1,
        CheckedLine::Rounds { count, .. } => *count,
    };
    let numbers = sets_of(line).into_iter();
    let numbers = numbers.map(|(set, _)| Numbers { times: set.cycle.times, run: set.cycle.run() });
    (count, numbers.collect())
}

/// The session with each line's rounds and its sets' numbers as `cut` gives them.
fn from_lines(
    transfer: Transfer<'_>,
    why: Why,
    mut cut: impl FnMut(&CheckedLine) -> (u32, Vec<Numbers>),
) -> Recut {
    let mut changes = Vec::new();
    let mut parts = Vec::new();
    for part in &transfer.written.parts {
        let mut builder = Builder { transfer, part: part.kind.value, why, changes: &mut changes };
        let lines = part.lines.iter().map(|line| {
            let (count, numbers) = cut(line);
            builder.line(line, count, numbers)
        });
        let lines = lines.collect();
        parts.push(CheckedPart { kind: part.kind.clone(), title: part.title.clone(), lines });
    }
    one_line_one_send_off(&mut parts, &mut changes);
    let mut session = CheckedSession { parts, ..transfer.written.clone() };
    session.pool.value = transfer.pool;
    if !transfer.same_pool() {
        session.other_pool = session.other_pool.map(|_| transfer.home_pool());
        // A count taken in one pool says nothing of another's lengths.
        session.strokes_per_length = None;
        session.lanes.iter_mut().for_each(|lane| lane.strokes_per_length = None);
    }
    let seconds = spaced_seconds(transfer, &session).plus(changeovers(&session));
    let lengths = session.lengths();
    Recut { session, changes, lengths, seconds }
}

/// Rounds that differ are written as one, so that a set of theirs has one send-off: the longest that any
/// of them needs. What changes is said once.
fn one_line_one_send_off(parts: &mut [CheckedPart], changes: &mut Vec<Change>) {
    let mut longest: BTreeMap<(usize, usize), Seconds> = BTreeMap::new();
    each_send_off(parts, &mut |place, every| {
        let most = longest.entry((place.start, place.end)).or_insert(*every);
        *most = (*most).max(*every);
    });
    let of = |place: Place| longest.get(&(place.start, place.end)).copied();
    each_send_off(parts, &mut |place, every| *every = of(place).unwrap_or(*every));
    let mut told = BTreeSet::new();
    changes.retain_mut(|change| {
        match (&mut change.what, of(change.place)) {
            (Changed::Swim(set), Some(most)) => {
                set.on = set.on.map(|(was, _)| (was, most));
            }
            (Changed::SendOff { to, .. }, Some(most)) => *to = most,
            _ => {}
        }
        told.insert((change.place.start, change.place.end))
    });
}

/// Shows every send-off of a session's sets, with the place of its set.
fn each_send_off(parts: &mut [CheckedPart], show: &mut dyn FnMut(Place, &mut Seconds)) {
    fn of_lines(lines: &mut [CheckedLine], show: &mut dyn FnMut(Place, &mut Seconds)) {
        for line in lines {
            match line {
                CheckedLine::Set(set) => {
                    if let Timing::SendOff(every) = &mut set.timing.value {
                        show(set.place, every);
                    }
                }
                CheckedLine::Rounds { lines, .. } => of_lines(lines, show),
                CheckedLine::Activity(_) | CheckedLine::Remark(_) => {}
            }
        }
    }
    parts.iter_mut().for_each(|part| of_lines(&mut part.lines, show));
}

/// Time of all sets of a session whose send-offs are those to be swum.
fn spaced_seconds(transfer: Transfer<'_>, session: &CheckedSession) -> Seconds {
    // In its own water no send-off changes any more.
    let here = Transfer { written: session, for_lane: false, ..transfer };
    let sets = session
        .lines()
        .flat_map(sets_of)
        .fold(Seconds::ZERO, |sum, (set, rounds)| sum.plus(here.set_seconds(set).times(rounds)));
    let parts = session.parts.iter();
    parts.fold(sets, |sum, part| sum.plus(here.round_without_a_swim(&part.lines, None, 1)))
}

/// Cuts lines, and lists what is other than written.
struct Builder<'a, 'c> {
    transfer: Transfer<'a>,
    part: PartKind,
    why: Why,
    changes: &'c mut Vec<Change>,
}

impl Builder<'_, '_> {
    fn line(&mut self, line: &CheckedLine, count: u32, numbers: Vec<Numbers>) -> CheckedLine {
        let mut numbers = numbers.into_iter();
        match line {
            CheckedLine::Rounds { count: written, place, .. } => {
                self.rounds(line, *written, count, *place);
                match self.inner(line, &mut numbers) {
                    CheckedLine::Rounds { count_place, rest, lines, place, .. } => {
                        CheckedLine::Rounds { count, count_place, rest, lines, place }
                    }
                    line => line,
                }
            }
            line => self.inner(line, &mut numbers),
        }
    }

    /// A line inside rounds: inner rounds keep their number.
    fn inner(
        &mut self,
        line: &CheckedLine,
        numbers: &mut dyn Iterator<Item = Numbers>,
    ) -> CheckedLine {
        match line {
            CheckedLine::Set(set) => CheckedLine::Set(self.set(set, numbers.next())),
            CheckedLine::Rounds { count, count_place, rest, lines, place } => {
                let lines = lines.iter().map(|line| self.inner(line, numbers)).collect();
                let (count, count_place, place) = (*count, *count_place, *place);
                CheckedLine::Rounds { count, count_place, rest: rest.clone(), lines, place }
            }
            line => line.clone(),
        }
    }

    fn set(&mut self, set: &CheckedSet, new: Option<Numbers>) -> CheckedSet {
        let stands = Numbers { times: set.cycle.times, run: set.cycle.run() };
        let cut = self.transfer.recut(set, new.unwrap_or(stands));
        let (home, pool) = (self.transfer.home_pool(), self.transfer.pool);
        let (from, to) = (swim(set, home), swim(&cut, pool));
        let on = match (set.timing.value, cut.timing.value) {
            (Timing::SendOff(was), Timing::SendOff(now)) if was != now => Some((was, now)),
            _ => None,
        };
        let moved = |a: &CheckedSet, b: &CheckedSet| {
            let numbers = |set: &CheckedSet, pool: Pool| {
                let repeats = set.cycle.repeats.iter();
                let each = repeats.map(|repeat| repeat.distance(pool).sixths()).collect::<Vec<_>>();
                (set.cycle.times, each)
            };
            numbers(a, home) != numbers(b, pool)
        };
        let is_held = set.cycle.is_held() && cut.cycle.is_held();
        let what = if moved(set, &cut) && !is_held {
            Some(Changed::Swim(Box::new(CutSet { from, to, on })))
        } else {
            on.map(|(from, on)| Changed::SendOff { swim: to, from, to: on })
        };
        self.note(set.place, what);
        cut
    }

    fn rounds(&mut self, line: &CheckedLine, from: u32, to: u32, place: Place) {
        let first = sets_of(line).into_iter().next();
        let what = first.filter(|_| from != to).map(|(set, _)| {
            let first = swim(set, self.transfer.home_pool());
            Changed::Rounds { from, to, first }
        });
        self.note(place, what);
    }

    fn note(&mut self, place: Place, what: Option<Changed>) {
        let (part, why) = (self.part, self.why);
        self.changes.extend(what.map(|what| Change { part, place, what, why }));
    }
}

/// The swim line of a set in the pool it is in.
pub(super) fn swim(set: &CheckedSet, pool: Pool) -> CutSwim {
    CutSwim {
        pool,
        repeats: set.repeats(),
        each: set.cycle.longest(),
        lengths: set.cycle.lengths(),
        chalk: set.swim.in_numbers(pool),
    }
}
