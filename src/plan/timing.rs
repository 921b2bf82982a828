//! Works a checked session out: lengths, times, shares, send-offs, the clock.

use std::borrow::Cow;

use super::clock::{ClockHand, run_through_rounds};
use super::figures::{Figures, lengths_of, seconds_of};
use super::recut::Recut;
use super::{
    LanePlan, LinePlan, PartPlan, Plan, RecutFrom, RepeatTime, SetPlan, Spacing, StrokePlan, recut,
    send_off,
};
use crate::check::cycle::Repeat;
use crate::check::{
    CheckedLine, CheckedPart, CheckedSession, CheckedSet, Timing, between_rounds, each_set, per_100,
};
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
        let own = own_of(written, None);
        let cut = recut::for_pool(&own, pool);
        let together = recut::together(written, cut.seconds);
        Self { written, pool, cut, together }
    }

    /// At the session's own pace.
    pub fn plan(&self) -> Plan {
        of_cut(&own_of(self.written, None), self.pool, None, &self.cut)
    }

    /// At a lane's pace.
    pub fn lane(&self, lane: &Lane) -> Plan {
        // A count of strokes is only good in the pool it was taken in.
        let here = self.pool == self.written.pool.value;
        let strokes_per_length = lane.strokes_per_length.clone().filter(|_| here);
        let lane = Lane { strokes_per_length, ..lane.clone() };
        if !self.written.has_sets_of_lanes() {
            let cut = recut::for_lane(&self.cut.session, &lane, self.together);
            return of_cut(self.written, self.pool, Some(&lane), &cut);
        }
        let own = self.written.swum_by(Some(&lane));
        let whole = recut::for_pool(&own, self.pool);
        let cut = recut::for_lane(&whole.session, &lane, self.together);
        of_cut(&own, self.pool, Some(&lane), &cut)
    }
}

/// The session as a lane swims it; it is copied only where lanes have sets of their own.
fn own_of<'s>(written: &'s CheckedSession, lane: Option<&Lane>) -> Cow<'s, CheckedSession> {
    match written.has_sets_of_lanes() {
        true => Cow::Owned(written.swum_by(lane)),
        false => Cow::Borrowed(written),
    }
}

fn of_cut(session: &CheckedSession, pool: Pool, lane: Option<&Lane>, cut: &Recut) -> Plan {
    let timer = Timer { written: &cut.session, pool, pace: session.pace_of(lane), lane };
    let figures = Figures {
        title: session.title.clone(),
        date: session.date,
        club: session.club.as_ref().map(|club| club.name.clone()),
        goal: session.goal_said(),
        level: session.level.value,
        focus: session.focus.clone(),
        pool,
        pace: timer.pace,
        at_usual_pace: session.at_usual_pace,
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

/// When the repeat after this one starts, where the set has a send-off: its own, that of all, or the
/// one of its distance. The pieces of a broken swim have a rest instead, and count to the last.
fn send_off(repeat: &Repeat, timing: Timing, pool: Pool) -> Option<Seconds> {
    repeat.on.or(match timing {
        _ if repeat.rest.is_some() => None,
        Timing::SendOff(every) => Some(every),
        Timing::Per100(on) => Some(per_100(on, repeat.distance(pool))),
        Timing::Rest(_) | Timing::Unsaid(_) => None,
    })
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
            CheckedLine::Activity(activity) => LinePlan::Activity {
                what: activity.what.clone(),
                seconds: activity.time.value.times(rounds),
                each: activity.time.value,
            },
            CheckedLine::Remark(remark) => LinePlan::Remark(remark.clone()),
            CheckedLine::Rounds { count, rest, lines, .. } => {
                let between = between_rounds(rest.as_ref(), lines);
                let between = between.times(count.saturating_sub(1)).times(rounds);
                let inner = rounds.saturating_mul(*count);
                let lines: Vec<LinePlan> =
                    lines.iter().map(|line| self.line(line, inner)).collect();
                let rest = rest.as_ref().map(|rest| rest.value);
                LinePlan::Rounds { count: *count, rest, lines, between }
            }
        }
    }

    fn set(&self, set: &CheckedSet, rounds: u32) -> SetPlan {
        let (times, spacing) = self.spacing(set);
        let mut plan = SetPlan {
            chalk: set.swim.in_numbers(self.pool),
            cycle: set.cycle.clone(),
            times,
            effort: set.effort.as_ref().map(|effort| effort.value.clone()),
            pattern: set.pattern.as_ref().map(|pattern| pattern.value),
            cue: set.cue.clone(),
            strokes: self.strokes(set),
            gear: each_once(&set.gear),
            spacing,
            rest_after: set.rest_after.as_ref().map(|rest| rest.value),
            rounds,
            lengths: Lengths::new(set.cycle.lengths().get().saturating_mul(rounds)),
            seconds: Seconds::ZERO,
            lanes: set.lanes.clone(),
            place: set.place,
            swim_place: set.swim_place,
        };
        plan.seconds = plan.round_seconds().times(rounds);
        plan
    }

    /// The times of the repeats, and how they are spaced; a recut's send-offs are those to be swum.
    fn spacing(&self, set: &CheckedSet) -> (Vec<RepeatTime>, Spacing) {
        let swim = |repeat: &Repeat| {
            repeat.swim_time(self.pool, self.pace, &self.written.factors, set.effort())
        };
        let (mut times, mut every) = (Vec::new(), Vec::new());
        let is_broken = set.cycle.is_broken();
        for repeat in &set.cycle.repeats {
            let swim = swim(repeat);
            let on = send_off(repeat, set.timing.value, self.pool);
            every.extend(on);
            // The last piece of a broken swim has what is left of the send-off of the whole.
            let before: Seconds = match is_broken {
                true => times.iter().fold(Seconds::ZERO, |sum, time: &RepeatTime| {
                    sum.plus(time.swim).plus(time.rest)
                }),
                false => Seconds::ZERO,
            };
            let rest = match (on, set.timing.value) {
                (Some(on), _) => on.less(before.plus(swim)),
                (None, Timing::Rest(said)) => repeat.rest.unwrap_or(said.counts()),
                (None, Timing::Unsaid(rest)) => repeat.rest.unwrap_or(rest),
                (None, Timing::SendOff(_) | Timing::Per100(_)) => repeat.rest.unwrap_or_default(),
            };
            times.push(RepeatTime { swim, rest });
        }
        if every.len() == times.len() || (is_broken && !every.is_empty()) {
            let clock = Box::new(ClockHand::from_the_top(&every, set.cycle.times));
            let per_100 = match set.timing.value {
                Timing::Per100(on) => Some(on),
                _ => None,
            };
            return (times, Spacing::SendOff { every, per_100, clock, waits: false });
        }
        let said = match set.timing.value {
            Timing::Rest(said) => Some(said),
            _ => None,
        };
        // Without a rest there is nothing to wait for: the next repeat begins, or all is swum. Where
        // the repeats take different times, one time to leave on helps nobody.
        let lone = times.iter().all(|time| Some(time) == times.first());
        let first = times.first().filter(|time| lone && time.rest > Seconds::ZERO);
        let lane = self.lane.filter(|_| said.is_some() && !self.written.at_usual_pace);
        let leave_on = lane.and(first).map(|time| send_off::leave_on(time.swim, time.rest));
        (times, Spacing::Rest { said, leave_on })
    }

    fn strokes(&self, set: &CheckedSet) -> Option<StrokePlan> {
        let lane = self.lane.and_then(|lane| lane.strokes_per_length.as_ref());
        let known = lane.or(self.written.strokes_per_length.as_ref());
        let count = known.map(|known| known.value.saturating_mul(set.cycle.longest().get()));
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
