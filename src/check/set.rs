//! Checks on one set: whole lengths, its unit, its rest or send-off.

use super::cue::CueNames;
use super::{CheckedLine, CheckedSet, Factors, Timing, rules};
use crate::finding::{Finding, Placed};
use crate::measure::{Distance, LIMITS, Lengths, Pace, Pool, Seconds};
use crate::reader::rules::OVER_LIMIT;
use crate::session::{Asked, Line, Set, Swim};

/// What a set is held against.
pub(super) struct Conditions<'a> {
    /// `None` where it could not be read: nothing is then counted in lengths.
    pub pool: Option<Pool>,
    /// `None` where it could not be read: no send-off is then held against it.
    pub pace: Option<Pace>,
    pub factors: &'a Factors,
}

impl Conditions<'_> {
    /// The lines that hold together; what does not is reported and left out.
    pub fn lines(&self, lines: &[Line], found: &mut Vec<Finding>) -> Vec<CheckedLine> {
        lines
            .iter()
            .filter_map(|line| match line {
                Line::Set(set) => self.set(set, found).map(CheckedLine::Set),
                Line::Rounds(rounds) => Some(CheckedLine::Rounds {
                    count: rounds.count.value,
                    count_place: rounds.count.place,
                    lines: self.lines(&rounds.lines, found),
                    place: rounds.place,
                }),
            })
            .collect()
    }

    fn set(&self, set: &Set, found: &mut Vec<Finding>) -> Option<CheckedSet> {
        let repeats = repeats(&set.swim, found);
        let each = match self.pool {
            Some(pool) => lengths(pool, &set.swim, found),
            // A stand-in: nothing is made of a session without a pool.
            None => Some(Lengths::new(1)),
        };
        let timing = timing(set, found);
        let Swim { stroke, mode, .. } = set.swim.value;
        let checked = CheckedSet {
            repeats: repeats?,
            each: each?,
            stroke,
            mode,
            effort: set.effort.clone(),
            pattern: set.pattern.clone(),
            cue: set.cue.clone(),
            strokes: set.strokes.clone(),
            gear: set.gear.clone(),
            timing: timing?,
            fixed: set.fixed,
            cue_names: CueNames::default(),
            place: set.place,
            swim_place: set.swim.place,
        };
        self.send_off(&checked, found);
        Some(match self.pool {
            Some(pool) => checked.with_cue_read(pool),
            None => checked,
        })
    }

    fn send_off(&self, set: &CheckedSet, found: &mut Vec<Finding>) {
        let Timing::SendOff(send_off) = set.timing.value else { return };
        let (Some(pool), Some(pace)) = (self.pool, self.pace) else { return };
        let distance = pool.distance(set.each);
        let Some(swim) = pace.swim_time(distance, set.factor_permille(self.factors)) else {
            return;
        };
        if send_off >= swim {
            return;
        }
        found.push(
            Finding::new(
                &rules::IMPOSSIBLE_SEND_OFF,
                format!(
                    "{distance} takes {swim} at this pace, longer than its send-off {send_off}"
                ),
            )
            .label(set.timing.place, "")
            .label(set.swim_place, format!("swum in {swim}"))
            .help(format!(
                "the shortest send-off it can make is {swim}; with some rest write: on = \"{}\"",
                swim.plus(Seconds::new(10)).rounded_up_to(5)
            )),
        );
    }
}

/// Lengths of one repeat.
fn lengths(pool: Pool, swim: &Placed<Swim>, found: &mut Vec<Finding>) -> Option<Lengths> {
    let distance = match swim.value.asked {
        Asked::Lengths(count) => {
            let thirds = count.checked_mul(pool.length().thirds());
            Distance::from_thirds(thirds.unwrap_or(u64::MAX), pool.unit())
        }
        Asked::Number(_, Some(unit)) if unit != pool.unit() => {
            let title =
                format!("the swim is in {}, the pool in {}", unit.plural(), pool.unit().plural());
            found.push(
                Finding::new(&rules::UNIT_DISAGREES, title)
                    .label(swim.place, format!("{unit} in a {} pool", pool))
                    .help("leave the unit out: distances are in the pool's own"),
            );
            return None;
        }
        Asked::Number(thirds, _) => Distance::from_thirds(thirds, pool.unit()),
    };
    let most = Distance::whole(LIMITS.repeat_distance.most, pool.unit());
    if distance.thirds() == 0 || distance.thirds() > most.thirds() {
        found.push(
            Finding::new(
                &OVER_LIMIT,
                format!("one repeat must be from one length to {}", most.with_commas()),
            )
            .label(swim.place, ""),
        );
        return None;
    }
    let lengths = pool.lengths(distance);
    if lengths.is_none() {
        found.push(not_whole(pool, swim, distance));
    }
    lengths
}

/// The finding on a distance that ends between two walls, with the nearest that end at one.
fn not_whole(pool: Pool, swim: &Placed<Swim>, distance: Distance) -> Finding {
    let (below, above) = pool.nearest(distance);
    let title = format!("{distance} is not a whole number of lengths of a {} pool", pool);
    let finding = Finding::new(&rules::NOT_WHOLE_LENGTHS, title).label(swim.place, "");
    if below == above {
        return finding.help(format!("the nearest is {above}"));
    }
    // Which of them is meant, or whether the repeats are at fault, only the coach knows.
    finding.help(format!("the nearest are {} and {above}", below.number_text()))
}

fn repeats(swim: &Placed<Swim>, found: &mut Vec<Finding>) -> Option<u32> {
    let repeats = swim.value.repeats;
    let inside = u32::try_from(repeats).ok().filter(|_| LIMITS.repeats.holds(repeats));
    if inside.is_none() {
        let range = LIMITS.repeats.range_text();
        found.push(
            Finding::new(&OVER_LIMIT, format!("a set of {repeats} repeats; it may have {range}"))
                .label(swim.place, ""),
        );
    }
    inside
}

fn timing(set: &Set, found: &mut Vec<Finding>) -> Option<Placed<Timing>> {
    match (&set.rest, &set.on) {
        (Some(rest), None) => Some(rest.clone().map(Timing::Rest)),
        (None, Some(on)) => Some(on.clone().map(Timing::SendOff)),
        (Some(rest), Some(on)) => {
            found.push(
                Finding::new(&rules::REST_AND_SEND_OFF, "a set has both a rest and a send-off")
                    .label(on.place, "repeats start this far apart")
                    .label(rest.place, "and rest this long")
                    .help(format!(
                        "keep one: rest = \"{}\" or on = \"{}\"",
                        rest.value.spoken(),
                        on.value
                    )),
            );
            None
        }
        (None, None) if !set.read_whole => None,
        (None, None) => {
            found.push(
                Finding::new(&rules::NO_REST, "a set has neither a rest nor a send-off")
                    .label(set.swim.place, "")
                    .help("write: rest = \"20 s\" or on = \"1:45\""),
            );
            None
        }
    }
}
