//! Checks on one set: whole lengths, its unit, its rest or send-off.

use super::cue::CueNames;
use super::cycle::{Cycle, CycleError};
use super::{CheckedLine, CheckedSet, Factors, Timing, USUAL_REST, rules};
use crate::finding::{Finding, Placed};
use crate::measure::{Distance, LIMITS, Pace, Pool, Seconds};
use crate::reader::nearest;
use crate::reader::rules::OVER_LIMIT;
use crate::session::swim::{Course, Differ, Swim};
use crate::session::words::Keep;
use crate::session::{Lane, Line, OnSaid, Session, Set};

/// What a set is held against.
pub(super) struct Conditions<'a> {
    /// `None` where it could not be read: nothing is then counted in lengths.
    pub pool: Option<Pool>,
    /// `None` where it could not be read: no send-off is then held against it.
    pub pace: Option<Pace>,
    pub factors: &'a Factors,
    /// The lanes that a set may be for.
    pub lanes: &'a [Lane],
    /// What counts after a repeat where nothing is said.
    pub rest: Seconds,
    /// How wide the pool is, where the club says it.
    pub width: Option<Distance>,
}

impl<'a> Conditions<'a> {
    /// What the sets of a session are held against at a pace.
    pub fn of(session: &'a Session, pace: Option<Pace>, factors: &'a Factors) -> Self {
        let club = session.club.as_ref();
        Self {
            pool: session.pool.as_ref().map(|pool| pool.value),
            pace,
            factors,
            lanes: &session.lanes,
            rest: club.and_then(|club| Some(club.rest.as_ref()?.value)).unwrap_or(USUAL_REST),
            width: club.and_then(|club| Some(club.pool_width.as_ref()?.value)),
        }
    }

    /// The lines that hold together; what does not is reported and left out. `keep` is what their
    /// part says for all of them.
    pub fn lines(
        &self,
        lines: &[Line],
        keep: Option<&Placed<Keep>>,
        found: &mut Vec<Finding>,
    ) -> Vec<CheckedLine> {
        let mut checked = Vec::new();
        for line in lines {
            if let Line::Rounds(rounds) = line
                && !rounds.efforts.is_empty()
            {
                checked.push(self.rounds_apart(rounds, keep, found));
                continue;
            }
            checked.extend(match line {
                Line::Set(set) => self.set(set, keep, found).map(CheckedLine::Set),
                Line::Activity(activity) => Some(CheckedLine::Activity(activity.clone())),
                Line::Remark(remark) => Some(CheckedLine::Remark(remark.clone())),
                Line::Rounds(rounds) => Some(CheckedLine::Rounds {
                    count: rounds.count.value,
                    count_place: rounds.count.place,
                    rest: rounds.rest.clone(),
                    lines: self.lines(&rounds.lines, keep, found),
                    place: rounds.place,
                }),
            });
        }
        checked
    }

    fn set(
        &self,
        set: &Set,
        keep: Option<&Placed<Keep>>,
        found: &mut Vec<Finding>,
    ) -> Option<CheckedSet> {
        self.known_lanes(set, found);
        let cycle = self.cycle(set, found);
        let timing = timing(set, self.rest, found);
        let mut swim = set.swim.value.clone();
        swim.say_whole();
        let checked = CheckedSet {
            swim,
            cycle: cycle?,
            effort: set.effort.clone(),
            pattern: set.pattern.clone(),
            cue: set.cue.clone(),
            strokes: set.strokes.clone(),
            gear: set.gear.clone(),
            timing: timing?,
            rest_after: set.rest_after.clone(),
            fixed: set.fixed,
            keep: set.keep.clone().or_else(|| keep.cloned()),
            lanes: set.lanes.clone(),
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

    /// The set's repeats in lengths of the pool.
    fn cycle(&self, set: &Set, found: &mut Vec<Finding>) -> Option<Cycle> {
        // A stand-in: nothing is made of a session without a pool.
        let pool = self.pool.or_else(|| Pool::whole(25, crate::measure::Unit::Metre))?;
        let effort = set.effort.as_ref().map(|effort| effort.value.counts);
        match Cycle::of(&set.swim.value, pool, self.width) {
            Ok(cycle) => Some(match self.pace {
                Some(pace) => cycle.filled(pool, pace, self.factors, effort),
                None => cycle,
            }),
            Err(error) if self.pool.is_none() => {
                let counted =
                    matches!(error, CycleError::TooManyRepeats(_) | CycleError::TooManyLegs(_));
                if counted {
                    found.push(no_cycle(pool, &set.swim, error));
                }
                None
            }
            Err(error) => {
                found.push(no_cycle(pool, &set.swim, error));
                None
            }
        }
    }

    /// A lane that is named has to be one of the session's.
    fn known_lanes(&self, set: &Set, found: &mut Vec<Finding>) {
        for lane in &set.lanes {
            let name = |lane: &Lane| lane.name.value.trim().to_lowercase();
            if self.lanes.iter().any(|known| name(known) == lane.value.trim().to_lowercase()) {
                continue;
            }
            let title = format!("there is no lane \"{}\"", lane.value);
            let finding = Finding::new(&rules::UNKNOWN_LANE, title).label(lane.place, "");
            let names = || self.lanes.iter().map(|lane| lane.name.value.as_str());
            found.push(match nearest(&lane.value, names()) {
                Some(near) => finding.help(format!("did you mean \"{near}\"?")),
                None if self.lanes.is_empty() => {
                    finding.help("the session has no lanes: write [[lane]] with its name and pace")
                }
                None => finding
                    .help(format!("its lanes are: {}", names().collect::<Vec<_>>().join(", "))),
            });
        }
    }

    fn send_off(&self, set: &CheckedSet, found: &mut Vec<Finding>) {
        let (Some(pool), Some(pace)) = (self.pool, self.pace) else { return };
        let mut pieces_before = Seconds::ZERO;
        for repeat in &set.cycle.repeats {
            let distance = repeat.distance(pool);
            if let Some(rest) = repeat.rest {
                let swim = repeat.swim_time(pool, pace, self.factors, set.effort());
                pieces_before = pieces_before.plus(swim).plus(rest);
                continue;
            }
            let send_off = match (repeat.on, set.timing.value) {
                (Some(on), _) | (None, Timing::SendOff(on)) => on,
                (None, Timing::Per100(on)) => per_100(on, distance),
                (None, Timing::Rest(_) | Timing::Unsaid(_)) => continue,
            };
            let swim = repeat.swim_time(pool, pace, self.factors, set.effort()).plus(pieces_before);
            if send_off >= swim {
                continue;
            }
            let place = if repeat.on.is_some() { set.swim_place } else { set.timing.place };
            let enough = swim.plus(Seconds::new(10)).rounded_up_to(5);
            let help = match (repeat.on, set.timing.value) {
                (Some(_), _) => format!("with some rest write: on {enough}"),
                (None, Timing::Per100(_)) => {
                    format!("that is {send_off} here; write a longer time for each 100")
                }
                _ => format!("with some rest write: on = \"{enough}\""),
            };
            found.push(
                Finding::new(
                    &rules::IMPOSSIBLE_SEND_OFF,
                    format!(
                        "{distance} takes {swim} at this pace, longer than its send-off {send_off}"
                    ),
                )
                .label(place, "")
                .label(set.swim_place, format!("swum in {swim}"))
                .help(format!("the shortest send-off it can make is {swim}; {help}")),
            );
            return;
        }
    }
}

/// Send-offs are called out in steps of so many seconds. Common practice, no source.
pub(crate) const SEND_OFF_STEP_S: u32 = 5;

/// The send-off of a distance, so long for each 100 of its unit, rounded up as it is called out.
pub(crate) fn per_100(on: Seconds, distance: Distance) -> Seconds {
    let hundred = Distance::whole(100, distance.unit()).sixths();
    let all = u64::from(on.get()).saturating_mul(distance.sixths()).div_ceil(hundred);
    Seconds::new(u32::try_from(all).unwrap_or(u32::MAX)).rounded_up_to(SEND_OFF_STEP_S)
}

/// Why a line is no set in a pool, in a coach's words.
fn no_cycle(pool: Pool, swim: &Placed<Swim>, error: CycleError) -> Finding {
    let unreadable =
        |title: String| Finding::new(&rules::LINE_DISAGREES, title).label(swim.place, "");
    match error {
        CycleError::OtherUnit(unit) => {
            let title =
                format!("the swim is in {}, the pool in {}", unit.plural(), pool.unit().plural());
            Finding::new(&rules::UNIT_DISAGREES, title)
                .label(swim.place, format!("{unit} in a {pool} pool"))
                .help("leave the unit out: distances are in the pool's own")
        }
        CycleError::NotWhole(distance) => not_whole(pool, swim, distance),
        CycleError::OutOfRange => {
            let most = Distance::whole(LIMITS.repeat_distance.most, pool.unit());
            Finding::new(
                &OVER_LIMIT,
                format!("one repeat must be from one length to {}", most.with_commas()),
            )
            .label(swim.place, "")
        }
        CycleError::TooManyRepeats(repeats) => {
            let range = LIMITS.repeats.range_text();
            Finding::new(&OVER_LIMIT, format!("a set of {repeats} repeats; it may have {range}"))
                .label(swim.place, "")
        }
        CycleError::TooManyLegs(legs) => {
            let most = LIMITS.legs.most;
            Finding::new(&OVER_LIMIT, format!("{legs} legs or steps; {most} can be told apart"))
                .label(swim.place, "")
                .help("write several sets")
        }
        CycleError::NotTheSum { sum, whole } => unreadable(format!(
            "the parts are {sum} together, the repeat {whole}"
        ))
        .help("the legs of a repeat, or the pieces of a broken swim, add up to its distance"),
        CycleError::TooFewLengths(ways) => {
            unreadable(format!("a repeat is too short for {ways} ways in turn"))
                .help("write longer repeats, or so many of them that each has one way")
        }
        CycleError::NoSuchRepeat(number) => {
            unreadable(format!("there is no repeat {number} in this set"))
                .help("repeats are counted from 1 to the last of the set")
        }
        CycleError::NoWidth => unreadable("nobody says how wide the pool is".to_owned())
            .help("write it in the club file, pool_width = \"12 m\", or the distance here, \"6 x 12 free\""),
        CycleError::OnTheSpot(movement) => unreadable(format!("{movement} covers no distance"))
            .help(format!("write how long: swim = \"3 x 30 s {movement}\"")),
    }
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

fn timing(set: &Set, usual: Seconds, found: &mut Vec<Finding>) -> Option<Placed<Timing>> {
    match (&set.rest, &set.on) {
        (Some(rest), None) => Some(rest.clone().map(Timing::Rest)),
        (None, Some(on)) => Some(on.clone().map(|on| match on {
            OnSaid::Every(on) => Timing::SendOff(on),
            OnSaid::Per100(on) => Timing::Per100(on),
        })),
        (Some(rest), Some(on)) => {
            let every = match on.value {
                OnSaid::Every(on) => on.to_string(),
                OnSaid::Per100(on) => format!("{on}/100"),
            };
            found.push(
                Finding::new(&rules::REST_AND_SEND_OFF, "a set has both a rest and a send-off")
                    .label(on.place, "repeats start this far apart")
                    .label(rest.place, "and rest this long")
                    .help(format!(
                        "keep one: rest = \"{}\" or on = \"{every}\"",
                        rest.value.counts().spoken(),
                    )),
            );
            None
        }
        (None, None) if !set.read_whole => None,
        (None, None) => Some(unsaid(set, usual, found)),
    }
}

/// Neither rest nor send-off: none after a single swim, the usual one after repeats.
fn unsaid(set: &Set, usual: Seconds, found: &mut Vec<Finding>) -> Placed<Timing> {
    let swim = &set.swim.value;
    let steps = !matches!(swim.course, Course::Each(_) | Course::Timed(_));
    let own = matches!(&swim.differ, Some(Differ::Runs(runs)) if runs.iter().all(|(_, way)| way.on.is_some()));
    if (swim.repeats <= 1 && !steps) || own {
        return Placed::new(Timing::Unsaid(Seconds::ZERO), set.swim.place);
    }
    found.push(
        Finding::new(&rules::NO_REST, "a set has neither a rest nor a send-off")
            .label(set.swim.place, format!("{} are counted after each repeat", usual.spoken()))
            .help("write: rest = \"20 s\" or on = \"1:45\""),
    );
    Placed::new(Timing::Unsaid(usual), set.swim.place)
}
