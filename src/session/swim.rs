//! What a swim line says: how often, how far, in which ways, and how its repeats differ.
//!
//! A set is swum in repeats, a repeat in legs. `8 x 50 free` is the simplest line: one repeat of one
//! leg, eight times. Whether the distances are whole lengths only a pool can say, so nothing here
//! is counted in lengths; the line's grammar is in [`line`](super::line).

mod print;

use crate::measure::{Pool, Seconds, Unit};
use crate::session::words::{EffortWord, Mode, Movement, Pattern, Stroke};

/// A swim line as read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Swim {
    /// How many times; 1 where the line does not say. Of a ladder or a broken swim, how many times
    /// the whole of it.
    pub repeats: u64,
    /// What is swum each time.
    pub course: Course,
    /// How, for all that does not say its own.
    pub way: Way,
    /// How each repeat is parted.
    pub legs: Legs,
    /// How the repeats differ.
    pub differ: Option<Differ>,
    /// The pattern of groups of repeats: "descend 1-3, 4-6".
    pub grouped: Option<Grouped>,
}

/// How far each time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Course {
    /// One distance.
    Each(Asked),
    /// Repeats of several distances in order: "50-100-150".
    Ladder(Vec<Asked>),
    /// One distance with short rests in it.
    Broken {
        /// The whole of it.
        whole: Asked,
        /// Where it is broken.
        at: Pieces,
        /// The rest between two pieces.
        rest: Seconds,
    },
    /// As far as a time allows.
    Timed(Seconds),
}

/// The pieces of a broken swim.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pieces {
    /// Each piece by itself: "200-100-50-50".
    Listed(Vec<Asked>),
    /// All of one distance: "at each 50".
    Each(Asked),
}

/// A distance as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// So many lengths of whatever pool.
    Lengths(u64),
    /// Half a length.
    HalfLength,
    /// So many times across the pool.
    Widths(u64),
    /// A number in sixths, and its unit where one is written.
    Number(u64, Option<Unit>),
}

/// How something is swum, as far as it is said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Way {
    /// The stroke.
    pub stroke: Option<Stroke>,
    /// The mode.
    pub mode: Option<Mode>,
    /// A way of moving that covers no distance.
    pub movement: Option<Movement>,
    /// How hard.
    pub effort: Option<EffortWord>,
    /// A send-off of its own.
    pub on: Option<Seconds>,
}

impl Way {
    /// Whether it says nothing.
    pub fn is_empty(&self) -> bool {
        *self == Way::default()
    }
}

/// How each repeat is parted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Legs {
    /// It is swum in one way.
    Whole,
    /// Each leg with its distance: "(50 fly, 50 free)".
    Parts(Vec<(Asked, Way)>),
    /// Ways in turn: "kick/drill/swim by 25"; over equal shares where no distance is written.
    Turns {
        /// The ways.
        ways: Vec<Way>,
        /// How far each, if that is written.
        by: Option<Asked>,
    },
}

/// How the repeats of a set differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Differ {
    /// Some of them: "odd free, even back", "every 4th sprint".
    Some(Vec<(Which, Way)>),
    /// So many of each in order: "4 fly, 4 back, 4 breast".
    Runs(Vec<(u64, Way)>),
    /// One stroke of a medley each.
    MedleyOrder {
        /// Freestyle first.
        reverse: bool,
    },
}

/// Which repeats of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The first, third, fifth.
    Odd,
    /// The second, fourth, sixth.
    Even,
    /// Every so many, that one itself.
    Every(u64),
    /// From one to another, by their numbers.
    Range(u64, u64),
    /// The last so many.
    Last(u64),
}

/// A pattern over groups of repeats.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grouped {
    /// How the repeats of a group compare.
    pub pattern: Pattern,
    /// The groups: the first and the last repeat of each.
    pub groups: Vec<(u64, u64)>,
}

impl Grouped {
    /// How many repeats each group has and the last of them all, where the groups are of one size
    /// and follow one another from the first repeat on.
    pub fn even(&self) -> Option<(u64, u64)> {
        let (from, to) = self.groups.first()?;
        let size = to.saturating_sub(*from) + 1;
        let mut next = 1;
        for (from, to) in &self.groups {
            if *from != next || to.saturating_sub(*from) + 1 != size {
                return None;
            }
            next = to + 1;
        }
        Some((size, next - 1))
    }
}

impl Swim {
    /// A line of one distance and nothing else, as most are.
    pub fn plain(repeats: u64, asked: Asked, stroke: Stroke, mode: Mode) -> Self {
        let way = Way {
            stroke: Some(stroke),
            mode: (mode != Mode::Swim).then_some(mode),
            ..Way::default()
        };
        let course = Course::Each(asked);
        Swim { repeats, course, way, legs: Legs::Whole, differ: None, grouped: None }
    }

    /// Puts other send-offs in place of those that some of the repeats have, each written one with
    /// what it has become.
    pub(crate) fn carry_send_offs(&mut self, carried: &[(Seconds, Seconds)]) {
        let carry = |way: &mut Way| {
            let now = |on: Seconds| carried.iter().find(|(was, _)| *was == on).map(|(_, now)| *now);
            way.on = way.on.map(|on| now(on).unwrap_or(on));
        };
        match &mut self.differ {
            Some(Differ::Some(some)) => some.iter_mut().for_each(|(_, way)| carry(way)),
            Some(Differ::Runs(runs)) => runs.iter_mut().for_each(|(_, way)| carry(way)),
            Some(Differ::MedleyOrder { .. }) | None => {}
        }
    }

    /// Whether it says more than repeats, a distance and how all of it is swum.
    pub fn is_shaped(&self) -> bool {
        !matches!(self.course, Course::Each(_) | Course::Timed(_))
            || self.legs != Legs::Whole
            || self.differ.is_some()
    }

    /// The same line with every distance as a number of a pool's unit, lengths too.
    pub(crate) fn in_numbers(&self, pool: Pool) -> Swim {
        let number = |asked: Asked| match asked {
            Asked::Lengths(count) => {
                Asked::Number(count.saturating_mul(pool.length().sixths()), None)
            }
            Asked::Number(sixths, _) => Asked::Number(sixths, None),
            asked => asked,
        };
        let numbers = |steps: &[Asked]| steps.iter().map(|step| number(*step)).collect::<Vec<_>>();
        let course = match &self.course {
            Course::Each(asked) => Course::Each(number(*asked)),
            Course::Ladder(steps) => Course::Ladder(numbers(steps)),
            Course::Broken { whole, at, rest } => {
                let at = match at {
                    Pieces::Listed(pieces) => Pieces::Listed(numbers(pieces)),
                    Pieces::Each(piece) => Pieces::Each(number(*piece)),
                };
                Course::Broken { whole: number(*whole), at, rest: *rest }
            }
            Course::Timed(time) => Course::Timed(*time),
        };
        let legs = match &self.legs {
            Legs::Parts(parts) => {
                let part = |(asked, way): &(Asked, Way)| (number(*asked), way.clone());
                Legs::Parts(parts.iter().map(part).collect())
            }
            Legs::Turns { ways, by } => Legs::Turns { ways: ways.clone(), by: by.map(number) },
            Legs::Whole => Legs::Whole,
        };
        Swim { course, legs, ..self.clone() }
    }

    /// Says freestyle where that is what counts and nothing else is said.
    pub(crate) fn say_whole(&mut self) {
        let said = |way: &Way| way.stroke.is_some() || way.movement.is_some();
        let all_said = match (&self.legs, &self.differ) {
            (Legs::Turns { .. }, _) | (_, Some(Differ::MedleyOrder { .. })) => true,
            (Legs::Parts(parts), _) => parts.iter().all(|(_, way)| said(way) || way.mode.is_some()),
            (Legs::Whole, Some(Differ::Runs(runs))) => runs.iter().all(|(_, way)| said(way)),
            (Legs::Whole, Some(Differ::Some(some))) => some.iter().all(|(_, way)| said(way)),
            (Legs::Whole, None) => said(&self.way),
        };
        if !all_said && !said(&self.way) {
            self.way.stroke = Some(Stroke::Free);
        }
        if self.legs == Legs::Whole && self.way.mode == Some(Mode::Swim) {
            self.way.mode = None;
        }
    }
}
