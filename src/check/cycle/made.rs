//! A swim line counted in the lengths of a pool.

use super::resize::common_divisor;
use super::{Cycle, CycleError, Leg, Repeat};
use crate::measure::{Bound, Distance, LIMITS, Lengths, Pool, Seconds};
use crate::session::swim::{Asked, Course, Differ, Grouped, Legs, Pieces, Swim, Way, Which};
use crate::session::words::{Mode, Stroke};

/// The strokes of a medley in order (World Aquatics, Swimming Rules, SW 9.1).
const MEDLEY: [Stroke; 4] = [Stroke::Fly, Stroke::Back, Stroke::Breast, Stroke::Free];

impl Cycle {
    /// The cycle of `swim` in a pool; `width` is how wide it is, in either unit. Timed repeats have no lengths yet.
    ///
    /// # Errors
    ///
    /// Where a distance is no whole number of lengths, or what the line says of its parts or of its
    /// repeats does not fit them.
    pub fn of(swim: &Swim, pool: Pool, width: Option<Distance>) -> Result<Cycle, CycleError> {
        let maker = Maker { swim, pool, width };
        let repeats =
            u32::try_from(swim.repeats).ok().filter(|_| LIMITS.repeats.holds(swim.repeats));
        let repeats = repeats.ok_or(CycleError::TooManyRepeats(swim.repeats))?;
        let steps = maker.steps()?;
        if steps.len() > 1 {
            return maker.of_steps(steps, repeats);
        }
        let Some(step) = steps.into_iter().next() else { return Err(CycleError::OutOfRange) };
        maker.of_one(step, repeats)
    }
}

struct Maker<'a> {
    swim: &'a Swim,
    pool: Pool,
    width: Option<Distance>,
}

/// A repeat as far as the course says it, before what may be its own.
#[derive(Clone)]
struct Step {
    legs: Vec<Leg>,
    time: Option<Seconds>,
    rest: Option<Seconds>,
}

impl Maker<'_> {
    /// The repeats of a ladder or a broken swim, or the one of any other line.
    fn steps(&self) -> Result<Vec<Step>, CycleError> {
        let step = |asked: Asked, rest: Option<Seconds>| {
            Ok(Step { legs: self.legs(asked)?, time: None, rest })
        };
        match &self.swim.course {
            Course::Each(asked) => Ok(vec![step(*asked, None)?]),
            Course::Ladder(steps) => {
                few(&LIMITS.steps, steps.len() as u64)?;
                steps.iter().map(|asked| step(*asked, None)).collect()
            }
            Course::Timed(time) if !LIMITS.swim_s.holds(u64::from(time.get())) => {
                Err(CycleError::OutOfRange)
            }
            Course::Timed(time) => {
                let legs = vec![self.leg(Lengths::default(), 0, &Way::default())];
                Ok(vec![Step { legs, time: Some(*time), rest: None }])
            }
            Course::Broken { whole, at, rest } => {
                let pieces = self.pieces(*whole, at)?;
                few(&LIMITS.steps, pieces.len() as u64)?;
                let last = pieces.len().saturating_sub(1);
                let steps = pieces.into_iter().enumerate().map(|(at, lengths)| Step {
                    legs: vec![self.leg(lengths, 0, &Way::default())],
                    time: None,
                    rest: (at < last).then_some(*rest),
                });
                Ok(steps.collect())
            }
        }
    }

    fn pieces(&self, whole: Asked, at: &Pieces) -> Result<Vec<Lengths>, CycleError> {
        let all = self.lengths(whole)?;
        let pieces = match at {
            Pieces::Listed(pieces) => {
                pieces.iter().map(|piece| self.lengths(*piece)).collect::<Result<Vec<_>, _>>()?
            }
            Pieces::Each(piece) => {
                let piece = self.lengths(*piece)?;
                vec![piece; (all.get() / piece.get().max(1)) as usize]
            }
        };
        self.sum(&pieces, all)?;
        Ok(pieces)
    }

    fn sum(&self, parts: &[Lengths], whole: Lengths) -> Result<(), CycleError> {
        let sum = parts.iter().map(|part| part.get()).fold(0, u32::saturating_add);
        if sum == whole.get() {
            return Ok(());
        }
        let (sum, whole) = (self.pool.distance(Lengths::new(sum)), self.pool.distance(whole));
        Err(CycleError::NotTheSum { sum, whole })
    }

    /// The lengths of a distance that is whole lengths.
    fn lengths(&self, asked: Asked) -> Result<Lengths, CycleError> {
        let distance = self.distance(asked)?;
        self.pool.lengths(distance).ok_or(CycleError::NotWhole(distance))
    }

    fn distance(&self, asked: Asked) -> Result<Distance, CycleError> {
        let (pool, length) = (self.pool, self.pool.length().sixths());
        let distance = match asked {
            Asked::Lengths(count) => count.saturating_mul(length),
            Asked::HalfLength => length / 2,
            Asked::Widths(count) => {
                let width = self.width.ok_or(CycleError::NoWidth)?;
                count.saturating_mul(width.true_length().in_unit(pool.unit()).sixths())
            }
            Asked::Number(_, Some(unit)) if unit != pool.unit() => {
                return Err(CycleError::OtherUnit(unit));
            }
            Asked::Number(sixths, _) => sixths,
        };
        let most = Distance::whole(LIMITS.repeat_distance.most, pool.unit()).sixths();
        match (1..=most).contains(&distance) {
            true => Ok(Distance::from_sixths(distance, pool.unit())),
            false => Err(CycleError::OutOfRange),
        }
    }

    fn leg(&self, lengths: Lengths, short_sixths: u32, way: &Way) -> Leg {
        let base = &self.swim.way;
        Leg {
            lengths,
            short_sixths,
            stroke: way.stroke.or(base.stroke).unwrap_or(Stroke::Free),
            mode: way.mode.or(base.mode).unwrap_or(Mode::Swim),
            movement: way.movement.or(base.movement),
            effort: way.effort.clone().or_else(|| base.effort.clone()),
        }
    }

    /// The legs of one repeat.
    fn legs(&self, asked: Asked) -> Result<Vec<Leg>, CycleError> {
        if let Some(movement) = self.swim.way.movement {
            return Err(CycleError::OnTheSpot(movement));
        }
        match &self.swim.legs {
            Legs::Whole | Legs::Turns { .. } if self.is_short(asked)? => {
                let short = u32::try_from(self.distance(asked)?.sixths()).unwrap_or(u32::MAX);
                Ok(vec![self.leg(Lengths::default(), short, &Way::default())])
            }
            Legs::Whole => Ok(vec![self.leg(self.lengths(asked)?, 0, &Way::default())]),
            Legs::Parts(parts) => {
                let legs = parts.iter().map(|(asked, way)| Ok((self.lengths(*asked)?, way)));
                let legs = legs.collect::<Result<Vec<_>, CycleError>>()?;
                few(&LIMITS.legs, legs.len() as u64)?;
                let lengths: Vec<Lengths> = legs.iter().map(|(lengths, _)| *lengths).collect();
                self.sum(&lengths, self.lengths(asked)?)?;
                Ok(legs.into_iter().map(|(lengths, way)| self.leg(lengths, 0, way)).collect())
            }
            Legs::Turns { ways, by } => self.turns(self.lengths(asked)?, ways, *by),
        }
    }

    /// Whether a distance is less than a length, or a width: it is then no whole number of lengths.
    fn is_short(&self, asked: Asked) -> Result<bool, CycleError> {
        let distance = self.distance(asked)?;
        Ok(distance.sixths() < self.pool.length().sixths()
            || matches!(asked, Asked::Widths(_)) && self.pool.lengths(distance).is_none())
    }

    /// Ways in turn over equal whole lengths: shares where the ways go into the repeat, else a length
    /// each, from the first again until the repeat is full. With fewer lengths than ways one way a
    /// repeat is meant, and the repeat has the first.
    fn turns(&self, all: Lengths, ways: &[Way], by: Option<Asked>) -> Result<Vec<Leg>, CycleError> {
        let count = u32::try_from(ways.len()).unwrap_or(u32::MAX).max(1);
        let share = match by {
            Some(by) => self.lengths(by)?.get(),
            None if all.get().is_multiple_of(count) => all.get() / count,
            None => 1,
        };
        if all.get() < count && by.is_none() {
            let first = ways.first().cloned().unwrap_or_default();
            return Ok(vec![self.leg(all, 0, &first)]);
        }
        let legs = all.get() / share.max(1);
        few(&LIMITS.legs, legs.into())?;
        self.sum(&vec![Lengths::new(share); legs as usize], all)?;
        let turn = ways.iter().cycle().take(legs as usize);
        Ok(turn.map(|way| self.leg(Lengths::new(share), 0, way)).collect())
    }

    /// Steps in order, so many times; what differs goes by the number of a step.
    fn of_steps(&self, steps: Vec<Step>, times: u32) -> Result<Cycle, CycleError> {
        let count = u32::try_from(steps.len()).unwrap_or(u32::MAX);
        let all = u64::from(count) * u64::from(times);
        if !LIMITS.repeats.holds(all) {
            return Err(CycleError::TooManyRepeats(all));
        }
        self.numbers_there(count)?;
        few(&LIMITS.cycle_legs, steps.iter().map(|step| step.legs.len() as u64).sum())?;
        let repeats = steps.into_iter().enumerate();
        let repeats = repeats.map(|(at, step)| self.repeat(step, self.own_way(at, count)));
        Ok(Cycle { repeats: repeats.collect(), times })
    }

    /// One step so many times, in as short a cycle as there is.
    fn of_one(&self, step: Step, repeats: u32) -> Result<Cycle, CycleError> {
        self.numbers_there(repeats)?;
        let one_way_each = self.one_way_each(&step);
        if let Some(ways) = one_way_each
            && !repeats.is_multiple_of(u32::try_from(ways.len()).unwrap_or(u32::MAX))
        {
            return Err(CycleError::TooFewLengths(ways.len()));
        }
        let period = self.period(repeats, one_way_each.map_or(1, <[Way]>::len));
        few(&LIMITS.cycle_legs, u64::from(period).saturating_mul(step.legs.len() as u64))?;
        let of = (0..period as usize).map(|at| {
            let turn = one_way_each.and_then(|ways| ways.get(at % ways.len().max(1)).cloned());
            let way = turn.unwrap_or_else(|| self.own_way(at, repeats));
            self.repeat(step.clone(), way)
        });
        Ok(Cycle { repeats: of.collect(), times: repeats / period.max(1) })
    }

    /// The ways of the line where each repeat has one of them.
    fn one_way_each(&self, step: &Step) -> Option<&[Way]> {
        let Legs::Turns { ways, by: None } = &self.swim.legs else { return None };
        (step.legs.len() == 1 && ways.len() > 1).then_some(ways.as_slice())
    }

    /// A repeat of a step in a way of its own: what the way says stands in place of what all do, but
    /// for legs that say their own.
    fn repeat(&self, step: Step, way: Way) -> Repeat {
        let lone = step.legs.len() == 1;
        let legs = step.legs.into_iter().map(|leg| Leg {
            stroke: if lone { way.stroke.unwrap_or(leg.stroke) } else { leg.stroke },
            mode: if lone { way.mode.unwrap_or(leg.mode) } else { leg.mode },
            movement: way.movement.or(leg.movement),
            effort: match lone {
                true => way.effort.clone().or(leg.effort),
                false => leg.effort.or_else(|| way.effort.clone()),
            },
            ..leg
        });
        Repeat { legs: legs.collect(), time: step.time, rest: step.rest, on: way.on }
    }

    /// Whether every repeat that the line names by its number is there.
    fn numbers_there(&self, repeats: u32) -> Result<(), CycleError> {
        let there =
            |number: u64| (1..=u64::from(repeats)).contains(&number).then_some(()).ok_or(number);
        let named = match &self.swim.differ {
            Some(Differ::Some(some)) => some.iter().try_for_each(|(which, _)| match which {
                Which::Range(from, to) if from > to => Err(*from),
                Which::Range(from, to) => there(*from).and(there(*to)),
                Which::Every(number) | Which::Last(number) => there(*number),
                Which::Odd => Ok(()),
                Which::Even => there(2),
            }),
            _ => Ok(()),
        };
        let groups = self.swim.grouped.iter().flat_map(|grouped| &grouped.groups);
        named
            .and(groups.into_iter().try_for_each(|(from, to)| there(*from).and(there(*to))))
            .map_err(CycleError::NoSuchRepeat)
    }

    /// After how many repeats all begins again.
    fn period(&self, repeats: u32, ways: usize) -> u32 {
        let ways = u64::try_from(ways).unwrap_or(u64::MAX);
        let differ = match &self.swim.differ {
            None => 1,
            Some(Differ::MedleyOrder { .. }) => MEDLEY.len() as u64,
            Some(Differ::Runs(runs)) => {
                runs.iter().fold(0_u64, |sum, (n, _)| sum.saturating_add(*n))
            }
            Some(Differ::Some(some)) => some.iter().fold(1, |period, (which, _)| match which {
                Which::Odd | Which::Even => common_multiple(period, 2),
                Which::Every(number) => common_multiple(period, *number),
                Which::Range(..) | Which::Last(_) => u64::from(repeats),
            }),
        };
        let grouped = self.swim.grouped.as_ref().map_or(1, |grouped| group_size(grouped, repeats));
        let period = common_multiple(common_multiple(differ, ways), grouped);
        match u32::try_from(period) {
            Ok(period) if period > 0 && repeats.is_multiple_of(period) => period,
            _ => repeats,
        }
    }

    /// What the line says of the repeat at a place; of several that say it, the last.
    fn own_way(&self, at: usize, repeats: u32) -> Way {
        let number = at as u64 + 1;
        match &self.swim.differ {
            None => Way::default(),
            Some(Differ::MedleyOrder { reverse }) => {
                let at = at % MEDLEY.len();
                let at = if *reverse { MEDLEY.len() - 1 - at } else { at };
                Way { stroke: MEDLEY.get(at).copied(), ..Way::default() }
            }
            Some(Differ::Runs(runs)) => {
                let all = runs.iter().fold(0_u64, |sum, (count, _)| sum.saturating_add(*count));
                let mut left = (number - 1) % all.max(1);
                let run = runs.iter().find(|(count, _)| {
                    let here = left < *count;
                    left = left.saturating_sub(*count);
                    here
                });
                run.map(|(_, way)| way.clone()).unwrap_or_default()
            }
            Some(Differ::Some(some)) => {
                let of = |which: Which| match which {
                    Which::Odd => !number.is_multiple_of(2),
                    Which::Even => number.is_multiple_of(2),
                    Which::Every(every) => number.is_multiple_of(every),
                    Which::Range(from, to) => (from..=to).contains(&number),
                    Which::Last(count) => number + count > u64::from(repeats),
                };
                let own = some.iter().rev().find(|(which, _)| of(*which));
                own.map(|(_, way)| way.clone()).unwrap_or_default()
            }
        }
    }
}

/// That legs or steps are no more than can be told apart: each is looked at by itself.
fn few(bound: &Bound, legs: u64) -> Result<(), CycleError> {
    if bound.holds(legs) { Ok(()) } else { Err(CycleError::TooManyLegs(legs)) }
}

/// How many repeats a group has, where all are alike and follow one another to the end.
fn group_size(grouped: &Grouped, repeats: u32) -> u64 {
    let repeats = u64::from(repeats);
    let goes_in = |(size, last): &(u64, u64)| {
        (*last == repeats || grouped.groups.len() == 1) && repeats.is_multiple_of(*size)
    };
    grouped.even().filter(goes_in).map_or(repeats, |(size, _)| size)
}

fn common_multiple(a: u64, b: u64) -> u64 {
    let (a, b) = (a.max(1), b.max(1));
    (a / common_divisor(a, b)).saturating_mul(b)
}
