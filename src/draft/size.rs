//! The sizes of a pattern in a pool, at a pace: every choice of its numbers.

use std::collections::BTreeMap;

use super::pattern::{
    PatternLine, PatternSet, REST_STEP_S, RestRange, SetPattern, SwimRange, Wait, ladder,
};
use crate::advice::rest::{
    is_long_for_beginners, is_short_for_beginners, is_sprint, rests_a_sprint,
};
use crate::advice::threshold::{is_at_threshold, rest_is_long};
use crate::check::cycle::{Cycle, Repeat};
use crate::check::medley::medley_from;
use crate::check::{CheckedSession, Timing};
use crate::measure::{Distance, Lengths, Pool, Seconds};
use crate::plan::awkward;
use crate::session::words::{Effort, Level, Mode, PartKind, Stroke};
use crate::session::{RestSaid, Swim};

/// What patterns are sized for.
#[derive(Clone, Copy)]
pub(super) struct Bench<'a> {
    /// A session with the wish's head: its pace, factors, changeover and bands.
    pub head: &'a CheckedSession,
    /// The stroke of the skill.
    pub own: Stroke,
    /// The most lengths of a swim without a stop.
    pub longest: u32,
}

/// A pattern with its numbers chosen.
#[derive(Clone, Debug)]
pub(super) struct Size<'a> {
    pub pattern: &'a SetPattern,
    pub lines: Vec<SizedLine<'a>>,
    pub lengths: u32,
    /// All sets, without changeovers.
    pub seconds: u32,
    pub peak: Effort,
    /// What a coach would rather not chalk, in points.
    pub awkward: u32,
}

/// A line with its numbers chosen.
#[derive(Clone, Debug)]
pub(super) struct SizedLine<'a> {
    /// How many times round; `None` for a set alone.
    pub rounds: Option<u32>,
    pub sets: Vec<SizedSet<'a>>,
}

/// A set with its numbers chosen.
#[derive(Clone, Copy, Debug)]
pub(super) struct SizedSet<'a> {
    pub set: &'a PatternSet,
    /// The distance the pattern names, before it is brought to the pool.
    named: u32,
    pub stroke: Stroke,
    pub mode: Mode,
    pub repeats: u32,
    /// Lengths of a repeat; of a ladder, of all its steps.
    pub each: u32,
    pub timing: Timing,
    /// How long the longest swim without a stop takes.
    pub swim: Seconds,
    pub rest: Seconds,
    shape: Shape,
}

/// What the legs, the repeats or the steps of a set come to.
#[derive(Clone, Copy, Debug)]
struct Shape {
    /// Lengths of its longest swim without a stop.
    longest: u32,
    /// Swims, a rest after each.
    swims: u32,
    /// All swims together.
    seconds: u32,
    /// The hardest of it.
    peak: Effort,
}

impl SizedSet<'_> {
    pub fn effort(&self) -> Effort {
        self.set.effort.unwrap_or(Effort::Steady)
    }

    pub fn lengths(&self) -> u32 {
        self.each.saturating_mul(self.repeats)
    }

    /// Lengths of its longest swim without a stop.
    pub fn longest(&self) -> u32 {
        self.shape.longest
    }

    pub fn seconds(&self) -> u32 {
        match self.timing {
            Timing::SendOff(every) => every.times(self.shape.swims).get(),
            _ => self.rest.times(self.shape.swims).get().saturating_add(self.shape.seconds),
        }
    }

    /// Its swim line in `pool`.
    pub fn chalk(&self, pool: Pool) -> String {
        chalk(&self.set.swim, pool, self.stroke, self.repeats, self.each)
    }
}

/// A swim line in a pool, as a coach chalks it.
fn chalk(swim: &SwimRange, pool: Pool, own: Stroke, repeats: u32, each: u32) -> String {
    let steps = swim.steps.iter().map(|named| far(pool, in_lengths(pool, *named)));
    let distance = if swim.steps.is_empty() { far(pool, each) } else { ladder(steps) };
    swim.chalk(repeats, &distance, own)
}

/// A distance as a coach says it: 66 2/3 is nobody's number; its lengths are.
fn far(pool: Pool, lengths: u32) -> String {
    let distance = pool.distance(Lengths::new(lengths));
    match (distance.sixths() % 6, lengths) {
        (0, _) => distance.number_text(),
        (_, 1) => "1 length".to_owned(),
        _ => format!("{lengths} lengths"),
    }
}

/// Sizes kept of one pattern.
const MOST_SIZES: usize = 160;
/// Choices tried of one line, and of one pattern.
const MOST_CHOICES: usize = 4000;

/// Every size of a pattern as `part`, each number of lengths and seconds once.
pub(super) fn sizes<'a>(
    bench: Bench<'_>,
    pattern: &'a SetPattern,
    part: PartKind,
) -> Vec<Size<'a>> {
    let mut kept: BTreeMap<(u32, u32), Size<'a>> = BTreeMap::new();
    for step in 0..steps(pattern) {
        let mut choices: Vec<Vec<SizedLine<'a>>> = vec![Vec::new()];
        for line in &pattern.lines {
            let lines = bench.line(line, step, part);
            choices = product(&choices, &lines, |chosen, line| {
                let mut chosen = chosen.clone();
                chosen.push(line.clone());
                chosen
            });
        }
        for lines in choices.into_iter().filter(|lines| !blurred(lines)) {
            let size = Size::of(bench, pattern, lines, step);
            let key = (size.lengths, size.seconds);
            if kept.get(&key).is_none_or(|known| size.awkward < known.awkward) {
                kept.insert(key, size);
            }
        }
    }
    let mut all: Vec<Size<'a>> = kept.into_values().collect();
    if all.len() > MOST_SIZES {
        all.sort_by_key(|size| (size.awkward, size.lengths, size.seconds));
        all.truncate(MOST_SIZES);
    }
    all
}

fn product<A, B, C>(left: &[A], right: &[B], join: impl Fn(&A, &B) -> C) -> Vec<C> {
    let pairs = left.iter().flat_map(|a| right.iter().map(move |b| (a, b)));
    pairs.take(MOST_CHOICES).map(|(a, b)| join(a, b)).collect()
}

/// How many rests there are to choose from; all sets of a pattern step together.
fn steps(pattern: &SetPattern) -> u32 {
    const MOST: u32 = 5;
    let counts = pattern.sets().map(|set| match set.wait.range() {
        RestRange::Seconds(low, high) => (high - low) / REST_STEP_S + 1,
        RestRange::OfSwim(low, high) => {
            if low < high {
                MOST
            } else {
                1
            }
        }
    });
    counts.max().unwrap_or(1).min(MOST)
}

/// Whether neighbouring sets that differ in the pattern are one and the same in this pool.
fn blurred(lines: &[SizedLine<'_>]) -> bool {
    let sets: Vec<&SizedSet<'_>> = lines.iter().flat_map(|line| &line.sets).collect();
    sets.windows(2).any(|pair| match pair {
        [a, b] => {
            let swim = |set: &SizedSet<'_>| (set.each, set.stroke, set.mode, set.effort());
            a.named != b.named && swim(a) == swim(b) && a.set.pattern == b.set.pattern
        }
        _ => false,
    })
}

impl<'a> Size<'a> {
    fn of(bench: Bench<'_>, pattern: &'a SetPattern, lines: Vec<SizedLine<'a>>, step: u32) -> Self {
        let (mut lengths, mut seconds, mut awkward) = (0_u32, 0_u32, step * 2);
        let mut peak = Effort::Easy;
        for line in &lines {
            let rounds = line.rounds.unwrap_or(1);
            for set in &line.sets {
                lengths += set.lengths() * rounds;
                seconds = seconds.saturating_add(set.seconds().saturating_mul(rounds));
                peak = peak.max(set.shape.peak);
                awkward += set.awkward(bench.head.pool.value);
            }
        }
        Self { pattern, lines, lengths, seconds, peak, awkward }
    }

    /// One swim of so many lengths without a stop, as `pattern` says.
    pub fn unbroken(bench: Bench<'_>, pattern: &'a SetPattern, lengths: u32) -> Option<Self> {
        let set = pattern.sets().next()?;
        let rest = set.wait.range().at(0, Seconds::ZERO);
        let swim = bench.swim_time(lengths, Stroke::Free, Mode::Swim, set.effort)?;
        let sized = SizedSet {
            set,
            named: 0,
            stroke: Stroke::Free,
            mode: Mode::Swim,
            repeats: 1,
            each: lengths,
            timing: Timing::Rest(RestSaid::Of(rest)),
            swim,
            rest,
            shape: Shape::plain(lengths, 1, swim, set.effort),
        };
        let lines = vec![SizedLine { rounds: None, sets: vec![sized] }];
        Some(Self { awkward: 0, ..Self::of(bench, pattern, lines, 0) })
    }
}

impl Shape {
    /// Of repeats that are all alike.
    fn plain(each: u32, repeats: u32, swim: Seconds, effort: Option<Effort>) -> Self {
        let peak = effort.unwrap_or(Effort::Steady);
        Self { longest: each, swims: repeats, seconds: swim.times(repeats).get(), peak }
    }
}

/// A point of a draft on the scale of what is awkward.
const POINT_MM: u64 = 1_000;

impl SizedSet<'_> {
    fn awkward(&self, pool: Pool) -> u32 {
        // The steps of a ladder are as its pattern has them.
        let points_mm = match self.set.swim.steps.is_empty() {
            true => awkward::count_mm(self.repeats) + awkward::lengths_mm(self.each),
            false => 0,
        };
        let uneven = awkward::uneven(pool.distance(Lengths::new(self.lengths())));
        uneven + u32::try_from(points_mm / POINT_MM).unwrap_or(u32::MAX)
    }
}

impl Bench<'_> {
    fn swim_time(
        self,
        each: u32,
        stroke: Stroke,
        mode: Mode,
        effort: Option<Effort>,
    ) -> Option<Seconds> {
        let factors = self.head.factors.of(stroke, mode, effort);
        let distance = self.head.pool.value.distance(Lengths::new(each));
        self.head.pace.swim_time(distance, factors)
    }

    fn line<'a>(self, line: &'a PatternLine, step: u32, part: PartKind) -> Vec<SizedLine<'a>> {
        let (counts, sets) = match line {
            PatternLine::Rounds { counts, sets } => (counts, sets),
            PatternLine::Set(set) => {
                let sets = self.set(set, step, part).into_iter();
                return sets
                    .filter(|set| set.lengths().is_multiple_of(2))
                    .map(|set| SizedLine { rounds: None, sets: vec![set] })
                    .collect();
            }
        };
        let mut rounds: Vec<Vec<SizedSet<'a>>> = vec![Vec::new()];
        for set in sets {
            let sets = self.set(set, step, part);
            rounds = product(&rounds, &sets, |chosen, set| {
                let mut chosen = chosen.clone();
                chosen.push(*set);
                chosen
            });
        }
        // Each round ends where it began.
        rounds.retain(|sets| sets.iter().map(SizedSet::lengths).sum::<u32>().is_multiple_of(2));
        product(&rounds, counts, |sets, count| SizedLine {
            rounds: Some(*count).filter(|count| *count > 1),
            sets: sets.clone(),
        })
        .into_iter()
        // One round of one set is that set; one round of several is written line by line.
        .filter(|line| line.rounds.is_some() || line.sets.len() == 1)
        .collect()
    }

    fn set<'a>(self, set: &'a PatternSet, step: u32, part: PartKind) -> Vec<SizedSet<'a>> {
        let swim = &set.swim;
        let mut all: Vec<SizedSet<'a>> = Vec::new();
        if !swim.steps.is_empty() {
            let pool = self.head.pool.value;
            let each = swim.steps.iter().map(|named| in_lengths(pool, *named)).sum();
            let sized =
                swim.repeats.iter().filter_map(|times| self.sized(set, 0, *times, each, step));
            return sized.filter(|sized| self.allowed(sized, part)).collect();
        }
        for named in &swim.each {
            let pool = self.head.pool.value;
            let each = match swim.stroke.unwrap_or(self.own) {
                Stroke::Im => in_medley_lengths(pool, *named),
                _ => in_lengths(pool, *named),
            };
            for repeats in &swim.repeats {
                let repeats = fewer(pool, *repeats, *named, each);
                if let Some(sized) = self.sized(set, *named, repeats, each, step)
                    && self.allowed(&sized, part)
                    && !all.iter().any(|known| (known.repeats, known.each) == (repeats, each))
                {
                    all.push(sized);
                }
            }
        }
        all
    }

    fn sized<'a>(
        self,
        set: &'a PatternSet,
        named: u32,
        repeats: u32,
        each: u32,
        step: u32,
    ) -> Option<SizedSet<'a>> {
        let (stroke, mode) = (set.swim.stroke.unwrap_or(self.own), set.swim.mode);
        let (time, shape) = match set.swim.is_plain() {
            true => {
                let time = self.swim_time(each, stroke, mode, set.effort)?;
                (time, Shape::plain(each, repeats, time, set.effort))
            }
            false => self.shaped(set, stroke, repeats, each)?,
        };
        let (timing, rest) = match set.wait {
            Wait::Rest(rest) => {
                let rest = rest.at(step, time);
                (Timing::Rest(RestSaid::Of(rest)), rest)
            }
            Wait::SendOff(rest) => {
                let every = time.plus(rest.at(step, time)).rounded_up_to(REST_STEP_S);
                (Timing::SendOff(every), every.less(time))
            }
        };
        Some(SizedSet { set, named, stroke, mode, repeats, each, timing, swim: time, rest, shape })
    }

    /// The time of the longest swim of a set with legs, steps or repeats that differ, and what all
    /// come to; nothing where the numbers do not make such a set in this pool.
    fn shaped(
        self,
        set: &PatternSet,
        stroke: Stroke,
        repeats: u32,
        each: u32,
    ) -> Option<(Seconds, Shape)> {
        let pool = self.head.pool.value;
        let swim = Swim::parse(&chalk(&set.swim, pool, stroke, repeats, each)).ok()?;
        let cycle = Cycle::of(&swim, pool, None).ok()?;
        let time = |repeat: &Repeat| {
            repeat.swim_time(pool, self.head.pace, &self.head.factors, set.effort)
        };
        let run = cycle.repeats.iter().map(|repeat| time(repeat).get());
        let shape = Shape {
            longest: cycle.longest().get(),
            swims: cycle.repeat_count(),
            seconds: run.sum::<u32>().checked_mul(cycle.times)?,
            peak: cycle.hardest(set.effort).unwrap_or(Effort::Steady),
        };
        Some((cycle.repeats.iter().map(time).max()?, shape))
    }

    /// Whether the rules on rest let the set pass, and the wish its swim, so that no such set is
    /// tried in vain.
    fn allowed(self, set: &SizedSet<'_>, part: PartKind) -> bool {
        let unbroken = if set.rest == Seconds::ZERO { set.lengths() } else { set.longest() };
        if set.mode == Mode::Swim && unbroken > self.longest {
            return false;
        }
        if set.shape.swims == 1 {
            return true;
        }
        let (rest, swim, goal) = (set.rest, set.swim, self.head.goal_said());
        let for_beginners = !is_short_for_beginners(rest) && !is_long_for_beginners(rest, swim);
        let sprint = is_sprint(goal, part, set.shape.peak);
        let threshold = is_at_threshold(goal, part, set.shape.peak);
        (for_beginners || self.head.level.value != Level::Beginner)
            && (!sprint || rests_a_sprint(rest, swim))
            && !(threshold && rest_is_long(rest, swim))
    }
}

/// The number of lengths a coach would swim for `named` metres or yards in a pool: near it,
/// rather out and back, and an odd number only where it makes a round distance.
pub(super) fn in_lengths(pool: Pool, named: u32) -> u32 {
    let length = pool.length().sixths().max(1);
    let wanted = u64::from(named) * 6;
    let below = (wanted / length).max(1);
    let cost = |count: u64| {
        let distance = count * length;
        let off = distance.abs_diff(wanted) * 1000 / wanted.max(1);
        let odd = match count {
            1 => 1,
            count if count.is_multiple_of(2) => 0,
            // A multiple of 50 is round: three lengths of 33 1/3 m, or of 50 m.
            3 if distance.is_multiple_of(300) => 60,
            3 => 250,
            _ => 400,
        };
        (off + odd, count)
    };
    let near = [below.saturating_sub(1).max(1), below, below + 1, below + 2];
    let best = near.into_iter().min_by_key(|count| cost(*count)).unwrap_or(1);
    u32::try_from(best).unwrap_or(u32::MAX)
}

/// The number of lengths for a medley of `named` metres or yards: strokes change at the wall, so
/// that it has four lengths, or eight.
fn in_medley_lengths(pool: Pool, named: u32) -> u32 {
    medley_from(Lengths::new(in_lengths(pool, named))).get()
}

/// Fewer repeats where the pool makes each of them half as long again as named, or more.
fn fewer(pool: Pool, repeats: u32, named: u32, each: u32) -> u32 {
    let swum = pool.distance(Lengths::new(each));
    let named = Distance::whole(u64::from(named), pool.unit());
    if repeats < 3 || swum.sixths() * 2 < named.sixths() * 3 {
        return repeats;
    }
    let fair = u64::from(repeats) * named.sixths() / swum.sixths().max(1);
    let fair = u32::try_from(fair).unwrap_or(repeats);
    if each.is_multiple_of(2) { fair.max(1) } else { (fair / 2 * 2).max(2) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand, as a coach would chalk it in each pool.
    #[test]
    fn distances_become_lengths_a_coach_would_swim() {
        let pool = |text: &str| -> Pool { text.parse().expect("a pool") };
        for (length, lengths) in [
            // named:     25, 50, 75, 100, 150, 200, 400
            ("25 m", [1, 2, 3, 4, 6, 8, 16]),
            ("50 m", [1, 1, 2, 2, 3, 4, 8]),
            // 20 yd: 80 for 75 and for 100, 160 for 150.
            ("20 yd", [1, 2, 4, 4, 8, 10, 20]),
            // 33 1/3 m: three lengths are 100, two are 66 2/3.
            ("33 1/3 m", [1, 2, 2, 3, 4, 6, 12]),
        ] {
            let ours = [25, 50, 75, 100, 150, 200, 400].map(|n| in_lengths(pool(length), n));
            assert_eq!(ours, lengths, "{length}");
        }
    }

    /// By hand: four strokes, four walls. 200 m are six lengths of 33 1/3 m, so eight.
    #[test]
    fn a_medley_has_a_length_for_each_stroke() {
        let pool = |text: &str| -> Pool { text.parse().expect("a pool") };
        for (length, lengths) in [
            // named:     25, 50, 100, 200
            ("25 m", [4, 4, 4, 8]),
            ("25 yd", [4, 4, 4, 8]),
            ("50 m", [4, 4, 4, 4]),
            ("33 1/3 m", [4, 4, 4, 8]),
        ] {
            let ours = [25, 50, 100, 200].map(|n| in_medley_lengths(pool(length), n));
            assert_eq!(ours, lengths, "{length}");
        }
    }

    #[test]
    fn long_pools_take_fewer_repeats_of_short_swims() {
        let pool: Pool = "50 m".parse().expect("a pool");
        // 8 x 25 is 200 m: 4 x 50. 6 x 25 is 150 m: 2 x 50, in pairs. 4 x 100 stays.
        assert_eq!(fewer(pool, 8, 25, 1), 4);
        assert_eq!(fewer(pool, 6, 25, 1), 2);
        assert_eq!(fewer(pool, 4, 100, 2), 4);
    }
}
