//! What a wish that cannot be met would have to give: the nearest sessions there are.

use super::{
    Engine, NEAREST_MAINS, PATIENCE_OF_A_REFUSAL, out_and_back, pair_around, shortest_first,
};
use crate::draft::search::{Aim, Found, Mains, Patience, Sides, Window, best};
use crate::draft::{DraftError, Nearest};
use crate::measure::{Distance, Lengths, Seconds};

/// The nearest session is looked for up to so many lengths.
const FARTHEST_LENGTHS: u32 = 500;

impl Engine<'_> {
    /// Why there is no such session: the nearest there are.
    pub(super) fn refused(&mut self) -> DraftError {
        self.patience = Patience::of(PATIENCE_OF_A_REFUSAL);
        let (wish, about) = (self.wish, self.about_lengths());
        let swim = self.unbroken.take();
        if let (Some(swim), Some(asked)) = (&swim, wish.unbroken) {
            self.unbroken = Some(swim.clone());
            let takes = swim.lines.iter().flat_map(|line| &line.sets).map(|set| set.swim).max();
            if let (Some(takes), Some(time)) = (takes, wish.time)
                && takes > time
            {
                let unbroken = wish.pool.distance(Lengths::new(swim.lengths));
                return DraftError::SwimTooLong { unbroken, takes, time };
            }
            if let Some(needs) = self.nearest(swim.lengths, true, |_| true)
                && !self.holds(needs)
            {
                let unbroken = wish.pool.distance(Lengths::new(out_and_back(wish, asked)));
                return DraftError::Unbroken { unbroken, needs };
            }
        }
        if let (Some(wanted), Some(time)) = (wish.distance, wish.time) {
            let (_, wished, _) = pair_around(wish, wanted);
            if let Some(quickest) = self.at_lengths(&Quick::of(self), wished, |_| true)
                && quickest.seconds > time
            {
                return DraftError::TooLong { wanted, time, quickest };
            }
        }
        if let Some(wanted) = wish.distance {
            let (_, wished, _) = pair_around(wish, wanted);
            let below = self.nearest(wished, false, |_| true);
            let above = self.nearest(wished, true, |_| true);
            return DraftError::Distance { wanted, below, above };
        }
        let wanted = wish.time.unwrap_or_default();
        let below = self.shorter(wanted);
        self.patience = Patience::of(PATIENCE_OF_A_REFUSAL);
        let below = below.or_else(|| self.nearest(about, false, |near| near.seconds < wanted));
        let above = self.nearest(about, true, |near| near.seconds > wanted);
        DraftError::Time { wanted, below, above }
    }

    /// The least session there is, around the swim without a stop if one is wished for.
    pub(in crate::draft) fn least(mut self) -> Option<Nearest> {
        self.patience = Patience::of(PATIENCE_OF_A_REFUSAL);
        let from = self.unbroken.as_ref().map_or(2, |swim| swim.lengths);
        self.nearest(from, true, |_| true)
    }

    /// The longest session up to a distance, around the swim without a stop if one is wished for.
    pub(in crate::draft) fn up_to(mut self, most: Distance) -> Option<Nearest> {
        self.patience = Patience::of(PATIENCE_OF_A_REFUSAL);
        let length = self.wish.pool.length().thirds().max(1);
        let lengths = u32::try_from(most.thirds() / length).unwrap_or(FARTHEST_LENGTHS);
        self.nearest(lengths.min(FARTHEST_LENGTHS), false, |_| true)
    }

    /// A session that ends sooner than `wanted`, by as little as can be found.
    fn shorter(&self, wanted: Seconds) -> Option<Nearest> {
        let drafted = SOONER_S.iter().find_map(|sooner| {
            let seconds = (wanted.get().saturating_sub(*sooner), wanted.get().saturating_sub(1));
            let window = Window { seconds, aim: Aim::Best, ..ANY };
            self.tried(window, &mut None)
        })?;
        Some(Nearest { distance: drafted.distance, seconds: drafted.seconds })
    }

    /// Whether a session is inside what the wish allows.
    fn holds(&self, near: Nearest) -> bool {
        let in_time = self.wish.time.is_none_or(|time| near.seconds <= time);
        let long_enough = self.wish.distance.is_none_or(|distance| {
            let (_, _, high) = pair_around(self.wish, distance);
            near.distance.thirds() <= self.wish.pool.distance(Lengths::new(high)).thirds()
        });
        in_time && long_enough
    }

    fn about_lengths(&self) -> u32 {
        let length = self.head.pace.swim_time(self.wish.pool.length(), [1000, 1000, 1300]);
        let length = length.map_or(1, |time| time.get().max(1));
        (self.about_s() / length).clamp(2, FARTHEST_LENGTHS)
    }

    /// The first session from `from` lengths on, up or down, that is as wanted.
    fn nearest(&self, from: u32, up: bool, wanted: impl Fn(Nearest) -> bool) -> Option<Nearest> {
        let from = from / 2 * 2;
        let steps = 0..=FARTHEST_LENGTHS / 2;
        let all = steps.map_while(|step| {
            if up {
                Some(from + 2 * step).filter(|lengths| *lengths <= FARTHEST_LENGTHS)
            } else {
                from.checked_sub(2 * step).filter(|lengths| *lengths > 0)
            }
        });
        let quick = Quick::of(self);
        all.filter_map(|lengths| self.at_lengths(&quick, lengths, &wanted)).next()
    }

    /// The quickest session of exactly so many lengths, if it is as wanted. What is offered
    /// passes the checks: a coach will ask for it.
    fn at_lengths(
        &self,
        quick: &Quick<'_, '_>,
        lengths: u32,
        wanted: impl Fn(Nearest) -> bool,
    ) -> Option<Nearest> {
        let window = Window { lengths: (lengths, lengths), ..ANY };
        let pairs = quick.sides.iter().flat_map(|s| quick.mains.iter().map(move |m| (s, m)));
        let mut all: Vec<Found<'_>> = pairs
            .flat_map(|(sides, mains)| best(self.bench(), sides, mains, window, &self.patience))
            .collect();
        all.sort_by_key(|found| found.seconds);
        let distance = self.wish.pool.distance(Lengths::new(lengths));
        let near = |found: &Found<'_>| Nearest { distance, seconds: Seconds::new(found.seconds) };
        let mut offered = all.iter().filter(|found| wanted(near(found))).take(MOST_PROVED);
        offered.find(|found| self.proved(found).is_ok()).map(near)
    }
}

/// How much sooner a session may end that is offered, the least first.
const SOONER_S: [u32; 4] = [180, 420, 900, 1800];

/// Of the sessions of one length, so many are held against the checks.
const MOST_PROVED: usize = 8;

/// Everything a session may be made of, set up once for all lengths that are tried.
struct Quick<'e, 'a> {
    sides: Vec<Sides<'e, 'a>>,
    mains: Vec<Mains<'e, 'a>>,
}

/// Any session, the quickest first.
const ANY: Window = Window {
    seconds: (0, u32::MAX),
    lengths: (1, FARTHEST_LENGTHS),
    wished_lengths: None,
    aim: Aim::Quickest,
};

impl<'e, 'a> Quick<'e, 'a> {
    fn of(engine: &'e Engine<'a>) -> Self {
        let plans = engine.plans();
        let sides = plans.iter().filter_map(|kinds| engine.sides(kinds, None)).map(Sides::new);
        let picks = shortest_first(engine.picks());
        let mains = picks.iter().take(NEAREST_MAINS).map(|pick| {
            Mains::joined(engine.bench(), &engine.patterns(pick), ANY, &engine.patience)
        });
        Self { sides: sides.collect(), mains: mains.collect() }
    }
}
