//! A cycle in other lengths, its shape kept: legs that were alike stay alike, longer ones stay
//! longer, and no leg is lost.

use super::{Cycle, Leg, Repeat};
use crate::measure::{Distance, Lengths, Pool};
use crate::session::swim::{Asked, Course, Differ, Grouped, Legs, Pieces, Swim, Which};

/// What each number of lengths becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Resize {
    now: u32,
    was: u32,
}

impl Resize {
    /// Nothing changes.
    pub const NONE: Resize = Resize { now: 1, was: 1 };

    /// So many lengths in the new size, to the nearest and one at least.
    fn of(self, lengths: Lengths) -> Lengths {
        let (now, was) = (u64::from(self.now), u64::from(self.was.max(1)));
        let scaled = (2 * u64::from(lengths.get()) * now + was) / (2 * was);
        Lengths::new(u32::try_from(scaled).unwrap_or(u32::MAX).max(1))
    }

    /// The lengths of a leg in the new size; what is less than a length stays.
    fn lengths_of(self, leg: &Leg) -> Lengths {
        if leg.lengths.get() == 0 { leg.lengths } else { self.of(leg.lengths) }
    }

    /// How far a leg is in the new size.
    pub(super) fn distance_of(self, leg: &Leg, pool: Pool) -> Distance {
        let sixths = pool.distance(self.lengths_of(leg)).sixths() + u64::from(leg.short_sixths);
        Distance::from_sixths(sixths, pool.unit())
    }
}

impl Repeat {
    /// The same repeat in another size.
    pub fn resized(&self, resize: Resize) -> Repeat {
        let legs = self.legs.iter();
        let legs = legs.map(|leg| Leg { lengths: resize.lengths_of(leg), ..leg.clone() });
        Repeat { legs: legs.collect(), ..self.clone() }
    }
}

impl Cycle {
    /// The lengths in which all legs are whole steps: 2 of a pyramid 2-4-6-4-2.
    pub fn step(&self) -> u32 {
        let step = self.legs().map(|leg| u64::from(leg.lengths.get())).fold(0, common_divisor);
        u32::try_from(step.max(1)).unwrap_or(u32::MAX)
    }

    /// How each leg becomes one of a run of `run` lengths, its shape kept; `None` where none can be
    /// made. In whole steps where that is possible, else each leg to its nearest.
    pub fn resize_to(&self, run: Lengths) -> Option<Resize> {
        let own = self.run().get();
        if own == 0 || run.get() == own {
            return (run.get() == own).then_some(Resize::NONE);
        }
        let step = self.step();
        let in_steps = u64::from(run.get()) * u64::from(step);
        if in_steps.is_multiple_of(u64::from(own)) {
            let now = u32::try_from(in_steps / u64::from(own)).ok()?;
            return Some(Resize { now, was: step });
        }
        let around = (run.get().saturating_sub(SEARCHED)..=run.get().saturating_add(SEARCHED))
            .filter(|now| *now > 0)
            .map(|now| Resize { now, was: own });
        let mut around: Vec<Resize> = around.collect();
        around.sort_by_key(|resize| resize.now.abs_diff(run.get()));
        around.into_iter().find(|resize| {
            let resized = self.resized(*resize);
            resized.run() == run && self.is_like(&resized)
        })
    }

    /// The same cycle in another size.
    pub fn resized(&self, resize: Resize) -> Cycle {
        let repeats = self.repeats.iter().map(|repeat| repeat.resized(resize));
        Cycle { repeats: repeats.collect(), times: self.times }
    }

    /// Whether repeats and legs that are longer than others here are so there.
    fn is_like(&self, other: &Cycle) -> bool {
        let repeats = |cycle: &Cycle| cycle.repeats.iter().map(Repeat::lengths).collect::<Vec<_>>();
        let legs = |cycle: &Cycle| cycle.legs().map(|leg| leg.lengths).collect::<Vec<_>>();
        same_order(&repeats(self), &repeats(other)) && same_order(&legs(self), &legs(other))
    }
}

/// From a run of the wanted lengths, so many more or fewer are asked for to come to it by rounding.
const SEARCHED: u32 = 4;

pub(super) fn common_divisor(a: u64, b: u64) -> u64 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// Whether the two lists rise, fall and stay level at the same places, compared by their values.
fn same_order(was: &[Lengths], is: &[Lengths]) -> bool {
    let mut pairs: Vec<(Lengths, Lengths)> = was.iter().copied().zip(is.iter().copied()).collect();
    pairs.sort_unstable();
    pairs.dedup();
    pairs.windows(2).all(|pair| match pair {
        [a, b] => a.0 < b.0 && a.1 < b.1,
        _ => true,
    })
}

/// A swim line on its way from one pool to another.
pub struct Respelled<'a> {
    /// The pool it is written for.
    pub from: Pool,
    /// The pool it is for now.
    pub to: Pool,
    /// What its legs become.
    pub resize: Resize,
    /// What is swum now.
    pub cycle: &'a Cycle,
}

/// A line of `cycle`'s pool with as many repeats as that has, in another size.
pub fn respelled(swim: &Swim, cycle: &Cycle, pool: Pool, resize: Resize) -> Swim {
    Respelled { from: pool, to: pool, resize, cycle }.swim(swim)
}

impl Respelled<'_> {
    /// How many repeats, or how many times through a ladder or a broken swim.
    fn repeats(&self, course: &Course) -> u32 {
        match course {
            Course::Ladder(_) | Course::Broken { .. } => self.cycle.times,
            Course::Each(_) | Course::Timed(_) => self.cycle.repeat_count(),
        }
    }

    /// The line with other numbers, else as it was: what is counted in lengths stays so.
    pub fn swim(&self, swim: &Swim) -> Swim {
        let ladder = |steps: &[Asked], legs: &Legs| {
            steps.iter().map(|step| self.whole(*step, legs)).collect::<Vec<_>>()
        };
        let course = match &swim.course {
            Course::Each(asked) => Course::Each(self.whole(*asked, &swim.legs)),
            Course::Ladder(steps) => Course::Ladder(ladder(steps, &swim.legs)),
            Course::Broken { whole, at, rest } => {
                let (at, sum) = match at {
                    Pieces::Listed(pieces) => {
                        let sum = pieces.iter().map(|piece| self.lengths(*piece)).sum();
                        let pieces = pieces.iter().map(|piece| self.asked(*piece));
                        (Pieces::Listed(pieces.collect()), sum)
                    }
                    Pieces::Each(piece) => {
                        let pieces = self.home_lengths(*whole) / self.home_lengths(*piece).max(1);
                        let sum = self.lengths(*piece).saturating_mul(pieces);
                        (Pieces::Each(self.asked(*piece)), sum)
                    }
                };
                Course::Broken { whole: self.spelled(*whole, sum), at, rest: *rest }
            }
            Course::Timed(time) => Course::Timed(*time),
        };
        Swim {
            repeats: u64::from(self.repeats(&swim.course)),
            legs: self.legs(&swim.legs, &swim.course),
            grouped: swim
                .grouped
                .as_ref()
                .map(|grouped| regrouped(grouped, self.cycle.repeat_count())),
            differ: swim.differ.clone(),
            course,
            way: swim.way.clone(),
        }
    }

    /// The lengths of a distance in the pool it was written for.
    fn home_lengths(&self, asked: Asked) -> u32 {
        let distance = match asked {
            Asked::Lengths(count) => return u32::try_from(count).unwrap_or(u32::MAX),
            Asked::Number(sixths, _) => Distance::from_sixths(sixths, self.from.unit()),
            Asked::HalfLength | Asked::Widths(_) => return 0,
        };
        self.from.lengths(distance).map_or(0, Lengths::get)
    }

    /// The lengths a leg of that distance has now.
    fn lengths(&self, asked: Asked) -> u32 {
        self.resize.of(Lengths::new(self.home_lengths(asked))).get()
    }

    /// A leg's distance now.
    fn asked(&self, asked: Asked) -> Asked {
        match self.home_lengths(asked) {
            0 => self.short(asked),
            _ => self.spelled(asked, self.lengths(asked)),
        }
    }

    /// Less than a length: in metres or yards it is that number of the other unit.
    fn short(&self, asked: Asked) -> Asked {
        match asked {
            Asked::Number(sixths, Some(_)) => Asked::Number(sixths, Some(self.to.unit())),
            asked => asked,
        }
    }

    /// So many lengths, in the way `as_in` is written.
    fn spelled(&self, as_in: Asked, lengths: u32) -> Asked {
        match as_in {
            Asked::Number(_, unit) => {
                let sixths = self.to.distance(Lengths::new(lengths)).sixths();
                Asked::Number(sixths, unit.map(|_| self.to.unit()))
            }
            _ => Asked::Lengths(lengths.into()),
        }
    }

    /// The distance of a repeat: the sum of its legs.
    fn whole(&self, asked: Asked, legs: &Legs) -> Asked {
        let all = self.home_lengths(asked);
        let sum = match legs {
            _ if all == 0 => return self.short(asked),
            Legs::Whole => self.lengths(asked),
            Legs::Parts(parts) => parts.iter().map(|(part, _)| self.lengths(*part)).sum(),
            Legs::Turns { ways, by } => {
                let share = self.share(all, ways.len(), *by);
                let each = self.resize.of(Lengths::new(share)).get();
                each.saturating_mul(all / share.max(1))
            }
        };
        self.spelled(asked, sum)
    }

    /// The lengths of one turn as written.
    fn share(&self, all: u32, ways: usize, by: Option<Asked>) -> u32 {
        let ways = u32::try_from(ways).unwrap_or(u32::MAX).max(1);
        match by {
            Some(by) => self.home_lengths(by),
            None if all < ways => all,
            None if all.is_multiple_of(ways) => all / ways,
            None => 1,
        }
    }

    fn legs(&self, legs: &Legs, course: &Course) -> Legs {
        match legs {
            Legs::Whole => Legs::Whole,
            Legs::Parts(parts) => {
                let part = |(asked, way): &(Asked, _)| (self.asked(*asked), Clone::clone(way));
                Legs::Parts(parts.iter().map(part).collect())
            }
            Legs::Turns { ways, by } => {
                // Turns of a length each are said, since other lengths might go into shares.
                let (asked, all) = match course {
                    Course::Each(asked) => (*asked, self.home_lengths(*asked)),
                    _ => (Asked::Lengths(1), 0),
                };
                let count = u32::try_from(ways.len()).unwrap_or(u32::MAX).max(1);
                let in_turn = by.is_none() && all > count && !all.is_multiple_of(count);
                let said =
                    in_turn.then(|| self.spelled(asked, self.resize.of(Lengths::new(1)).get()));
                let by =
                    by.map(|by| self.asked(by)).or(said.filter(|_| self.resize != Resize::NONE));
                Legs::Turns { ways: ways.clone(), by }
            }
        }
    }
}

/// Groups of one size go on to the last of so many repeats; others stay.
fn regrouped(grouped: &Grouped, repeats: u32) -> Grouped {
    let repeats = u64::from(repeats);
    let goes_in = |(size, _): &(u64, u64)| repeats.is_multiple_of(*size);
    let Some((size, _)) = grouped.even().filter(goes_in) else { return grouped.clone() };
    let groups = (0..repeats / size).map(|group| (group * size + 1, (group + 1) * size));
    Grouped { groups: groups.collect(), pattern: grouped.pattern }
}

/// Whether a line names repeats by their numbers, so that it is swum as often as it says.
pub fn names_repeats(swim: &Swim) -> bool {
    matches!(&swim.differ, Some(Differ::Some(some))
        if some.iter().any(|(which, _)| matches!(which, Which::Range(..) | Which::Last(_))))
}
