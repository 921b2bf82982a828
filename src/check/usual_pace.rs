//! The pace that is reckoned with where a message says none.

use super::set::Conditions;
use super::speed::Factors;
use super::{Pace, rules};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::measure::{Seconds, Unit};
use crate::session::Session;
use crate::session::words::Level;

/// The usual swim time per 100 m at steady freestyle, by level. Common practice, no source.
const USUAL: [(Level, Seconds); 3] = [
    (Level::Beginner, Seconds::new(180)),
    (Level::Improver, Seconds::new(140)),
    (Level::Advanced, Seconds::new(105)),
];

/// The fastest pace that is tried where send-offs ask for a faster one than the usual.
const FASTEST: Seconds = Seconds::new(50);

/// Paces are tried in steps of this.
const STEP: Seconds = Seconds::new(5);

/// Gives a session without a pace that of its level, or a faster one where its send-offs could not be
/// made else, and says so.
pub(super) fn settle(session: &mut Session, factors: &Factors, found: &mut Vec<Finding>) {
    let level = session.level.value;
    let usual = USUAL.iter().find(|(known, _)| *known == level).map_or(FASTEST, |(_, pace)| *pace);
    let mut per_100 = usual;
    while per_100 > FASTEST && !makes_its_send_offs(session, per_100, factors) {
        per_100 = per_100.less(STEP);
    }
    let at = Place::new(FileId::MAIN, 0..0);
    session.pace = Some(Placed::new(per_100, at));
    session.pace_unit = Some(Unit::Metre);
    for lane in session.lanes.iter_mut().filter(|lane| lane.pace.value == Seconds::ZERO) {
        lane.pace.value = per_100;
        lane.pace_unit = Some(Unit::Metre);
    }
    let title = match per_100 == usual {
        true => format!(
            "no pace is said: {per_100} per 100 m is reckoned with, usual at the level {level}"
        ),
        false => {
            format!("no pace is said: {per_100} per 100 m is reckoned with, as the send-offs ask")
        }
    };
    found.push(Finding::new(&rules::USUAL_PACE, title).label(at, "").help(
        "write a line such as \"pace: 2:10\"; the card then prints minutes and times of day",
    ));
}

fn makes_its_send_offs(session: &Session, per_100: Seconds, factors: &Factors) -> bool {
    let mut lanes = session.lanes.clone();
    for lane in lanes.iter_mut().filter(|lane| lane.pace.value == Seconds::ZERO) {
        lane.pace.value = per_100;
    }
    let pace = Pace { per_100, unit: Unit::Metre };
    let conditions = Conditions { lanes: &lanes, ..Conditions::of(session, Some(pace), factors) };
    let mut wrong = Vec::new();
    for part in &session.parts {
        conditions.lines(&part.lines, part.keep.as_ref(), &mut wrong);
    }
    !wrong.iter().any(|finding| std::ptr::eq(finding.rule, &raw const rules::IMPOSSIBLE_SEND_OFF))
}
