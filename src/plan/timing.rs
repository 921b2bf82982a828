//! Works a checked session out: lengths, times, shares, send-offs, the clock.

use super::clock::{ClockHand, run_through_rounds};
use super::figures::{Figures, lengths_of, seconds_of};
use super::recut::Recut;
use super::{
    LanePlan, LinePlan, PartPlan, Plan, RecutFrom, SetPlan, Spacing, StrokePlan, recut, send_off,
};
use crate::check::{CheckedLine, CheckedPart, CheckedSession, CheckedSet, Timing, each_set};
use crate::finding::Placed;
use crate::measure::{Lengths, Pace, Pool, Seconds};
use crate::session::words::{printed_gear, same_gear};
use crate::session::{Aim, Lane};

/// Works `session` out for `pool`, and for one lane of it or at its own pace.
pub fn make(session: &CheckedSession, pool: Pool, lane: Option<&Lane>) -> Plan {
    let base = Base::new(session, pool);
    match lane {
        None => base.plan(),
        Some(lane) => base.lane(lane),
    }
}

/// A session cut for one pool, from which its lanes are cut in turn: as they would be from a file
/// that held it.
pub(super) struct Base<'a> {
    written: &'a CheckedSession,
    pool: Pool,
    cut: Recut,
    /// When all lanes are to finish.
    together: Option<Seconds>,
}

impl<'a> Base<'a> {
    pub fn new(written: &'a CheckedSession, pool: Pool) -> Self {
        let cut = recut::for_pool(written, pool);
        let together = recut::together(written, cut.seconds);
        Self { written, pool, cut, together }
    }

    /// At the session's own pace.
    pub fn plan(&self) -> Plan {
        of_cut(self.written, self.pool, None, &self.cut)
    }

    /// At a lane's pace.
    pub fn lane(&self, lane: &Lane) -> Plan {
        // A count of strokes is only good in the pool it was taken in.
        let here = self.pool == self.written.pool.value;
        let strokes_per_length = lane.strokes_per_length.clone().filter(|_| here);
        let lane = Lane { strokes_per_length, ..lane.clone() };
        let cut = recut::for_lane(&self.cut.session, &lane, self.together);
        of_cut(self.written, self.pool, Some(&lane), &cut)
    }
}

fn of_cut(session: &CheckedSession, pool: Pool, lane: Option<&Lane>, cut: &Recut) -> Plan {
    let timer = Timer { written: &cut.session, pool, pace: session.pace_of(lane), lane };
    let figures = Figures {
        title: session.title.clone(),
        date: session.date,
        club: session.club.as_ref().map(|club| club.name.clone()),
        goal: session.goal.value,
        level: session.level.value,
        focus: session.focus.clone(),
        pool,
        pace: timer.pace,
        lane: lane.map(|lane| LanePlan {
            name: lane.name.clone(),
            swimmers: lane.swimmers.clone(),
            gap: lane.gap.clone(),
        }),
        recut: (pool != session.pool.value || cut.changes_swims())
            .then(|| RecutFrom { pool: session.pool.value, distance: session.distance() }),
        changes: cut.changes.clone(),
        parts: cut.session.parts.iter().map(|part| timer.part(part)).collect(),
        changeover: session.changeover,
        booked: session.booked.clone(),
        starts: session.starts,
        gear: gear(session),
    };
    figures.added_up()
}

/// Gear as listed, then what sets use besides, each once.
fn gear(session: &CheckedSession) -> Vec<Placed<String>> {
    let mut all: Vec<&Placed<String>> = session.gear.iter().collect();
    for part in &session.parts {
        each_set(&part.lines, 1, &mut |set, _| all.extend(&set.gear));
    }
    each_once(all)
}

/// Each piece of gear once, as it is printed.
fn each_once<'a>(pieces: impl IntoIterator<Item = &'a Placed<String>>) -> Vec<Placed<String>> {
    let mut all: Vec<Placed<String>> = Vec::new();
    for piece in pieces {
        if !all.iter().any(|known| same_gear(&known.value, &piece.value)) {
            all.push(as_printed(piece));
        }
    }
    all
}

fn as_printed(piece: &Placed<String>) -> Placed<String> {
    piece.clone().map(|piece| printed_gear(&piece).to_owned())
}

/// The pool and pace that sets are timed at.
struct Timer<'a> {
    written: &'a CheckedSession,
    pool: Pool,
    pace: Pace,
    lane: Option<&'a Lane>,
}

impl Timer<'_> {
    fn part(&self, part: &CheckedPart) -> PartPlan {
        let mut lines: Vec<LinePlan> = part.lines.iter().map(|line| self.line(line, 1)).collect();
        run_through_rounds(&mut lines);
        PartPlan {
            kind: part.kind.value,
            title: part.title.clone(),
            lengths: lengths_of(&lines),
            seconds: seconds_of(&lines),
            lines,
            share_permille: 0,
            share_percent: 0,
            starts: None,
            place: part.kind.place,
        }
    }

    fn line(&self, line: &CheckedLine, rounds: u32) -> LinePlan {
        match line {
            CheckedLine::Set(set) => LinePlan::Set(self.set(set, rounds)),
            CheckedLine::Rounds { count, lines, .. } => LinePlan::Rounds {
                count: *count,
                lines: lines
                    .iter()
                    .map(|line| self.line(line, rounds.saturating_mul(*count)))
                    .collect(),
            },
        }
    }

    fn set(&self, set: &CheckedSet, rounds: u32) -> SetPlan {
        let distance = self.pool.distance(set.each);
        let swim = self.written.swim_time(self.pace, distance, set);
        let (rest, spacing) = self.spacing(set, swim);
        let all_repeats = set.repeats.saturating_mul(rounds);
        SetPlan {
            repeats: set.repeats,
            each: set.each,
            stroke: set.stroke,
            mode: set.mode,
            effort: set.effort.as_ref().map(|effort| effort.value),
            pattern: set.pattern.as_ref().map(|pattern| pattern.value),
            cue: set.cue.clone(),
            strokes: self.strokes(set),
            gear: each_once(&set.gear),
            swim,
            rest,
            spacing,
            rounds,
            lengths: Lengths::new(set.each.get().saturating_mul(all_repeats)),
            seconds: swim.plus(rest).times(all_repeats),
            place: set.place,
            swim_place: set.swim_place,
        }
    }

    /// The rest after a repeat, and how the repeats are spaced; a recut's send-offs are
    /// those to be swum.
    fn spacing(&self, set: &CheckedSet, swim: Seconds) -> (Seconds, Spacing) {
        match set.timing.value {
            Timing::Rest(rest) => {
                // Without a rest there is nothing to wait for: the next repeat begins, or all is swum.
                let rests = rest > Seconds::ZERO;
                let lane = self.lane.filter(|_| rests);
                let leave_on = lane.map(|_| send_off::leave_on(swim, rest));
                (rest, Spacing::Rest { leave_on })
            }
            Timing::SendOff(every) => {
                let clock = Box::new(ClockHand::from_the_top(every, set.repeats));
                (every.less(swim), Spacing::SendOff { every, clock, waits: false })
            }
        }
    }

    fn strokes(&self, set: &CheckedSet) -> Option<StrokePlan> {
        let lane = self.lane.and_then(|lane| lane.strokes_per_length.as_ref());
        let known = lane.or(self.written.strokes_per_length.as_ref());
        let count = known.map(|known| known.value.saturating_mul(set.each.get()));
        Some(match (set.strokes.as_ref()?.value, count) {
            (Aim::Count, _) => StrokePlan::Count,
            (Aim::Hold, Some(count)) => StrokePlan::Goal(count),
            (Aim::Fewer(fewer), Some(count)) => {
                StrokePlan::Goal(count.saturating_sub(fewer).max(1))
            }
            (Aim::Hold, None) => StrokePlan::Hold,
            (Aim::Fewer(fewer), None) => StrokePlan::Fewer(fewer),
        })
    }
}
