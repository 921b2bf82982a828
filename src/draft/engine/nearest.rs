//! What a wish that cannot be met would have to give: the nearest sessions there are.

use super::{
    Engine, NEAREST_MAINS, PATIENCE_OF_A_REFUSAL, PATIENCE_OF_ALL_MAINS, out_and_back, pair_around,
    shortest_first,
};
use crate::draft::search::{Aim, Found, Mains, Patience, Sides, Window, best};
use crate::draft::{DraftError, Drafted, MOST_S, Nearest, most_distance};
use crate::measure::{Distance, Lengths, Seconds};

/// The nearest session is looked for up to so many lengths.
const FARTHEST_LENGTHS: u32 = 500;

impl Engine<'_> {
    /// Why there is no such session: the nearest there are.
    pub(super) fn refused(&mut self) -> DraftError {
        self.patience = Patience::of(PATIENCE_OF_A_REFUSAL);
        let wish = self.wish;
        if let Some(error) = self.refused_for_the_swim() {
            return error;
        }
        match (wish.distance, wish.time) {
            (Some(wanted), time) => self.refused_for_the_distance(wanted, time),
            (None, time) => self.refused_for_the_time(time.unwrap_or_default()),
        }
    }

    /// Where the swim without a stop is what the wish has no room for.
    fn refused_for_the_swim(&self) -> Option<DraftError> {
        let (wish, swim, asked) = (self.wish, self.unbroken.as_ref()?, self.wish.unbroken?);
        let takes = swim.lines.iter().flat_map(|line| &line.sets).map(|set| set.swim).max();
        let needs = self.nearest(swim.lengths, true, |_| true);
        if let (Some(takes), Some(time)) = (takes, wish.time)
            && takes > time
        {
            let unbroken = wish.pool.distance(Lengths::new(swim.lengths));
            let needs = needs.filter(|near| self.may_be_asked_for(*near));
            return Some(DraftError::SwimTooLong { unbroken, takes, time, needs });
        }
        let needs = needs.filter(|needs| !self.holds(*needs))?;
        let unbroken = wish.pool.distance(Lengths::new(out_and_back(wish, asked)));
        Some(DraftError::Unbroken { unbroken, needs })
    }

    fn refused_for_the_distance(&self, wanted: Distance, time: Option<Seconds>) -> DraftError {
        let (_, wished, _) = pair_around(self.wish, wanted);
        let quick = Quick::of_all(self, Aim::Quickest);
        if let Some(time) = time
            && let Some((quickest, _)) = self.at_lengths(&quick, wished, |_| true)
            && quickest.seconds > time
        {
            return DraftError::TooLong { wanted, time, quickest };
        }
        let in_time = |near: Nearest| time.is_none_or(|time| near.seconds <= time);
        let allowed = |near: Nearest| in_time(near) && self.may_be_asked_for(near);
        let below = self.nearest_of(&quick, wished, false, allowed);
        self.patience.renew(PATIENCE_OF_A_REFUSAL);
        let above = self.nearest_of(&quick, wished, true, allowed);
        DraftError::Distance { wanted, below, above }
    }

    fn refused_for_the_time(&self, wanted: Seconds) -> DraftError {
        let sooner = (0, wanted.get().saturating_sub(1));
        let slowest = self.by_time(Window { seconds: sooner, aim: Aim::Slowest, ..ANY });
        self.patience.renew(PATIENCE_OF_A_REFUSAL);
        let below = [self.shorter(wanted), slowest.map(|met| met.0)].into_iter().flatten();
        let below = below.max_by_key(|near| near.seconds);
        let later = (wanted.get().saturating_add(1), MOST_S);
        let above = self.by_time(Window { seconds: later, aim: Aim::Quickest, ..ANY });
        DraftError::Time { wanted, below, above: above.map(|met| met.0) }
    }

    /// The session that a refusal would offer where it is what is asked for: of the wished
    /// lengths, or of those around them, the quickest; without any, the one that fills its time.
    pub(super) fn offered_of_all(&self, window: Window) -> Option<Drafted> {
        let Some(wished) = window.wished_lengths else {
            let filling = Window { seconds: window.seconds, aim: Aim::Slowest, ..ANY };
            return self.by_time(filling).map(|met| met.1);
        };
        let quick = Quick::of_all(self, Aim::Quickest);
        let (least, most) = window.lengths;
        let around = [wished, wished.saturating_sub(2), wished.saturating_add(2)];
        let inside = around.into_iter().filter(|lengths| (least..=most).contains(lengths));
        let in_time = |near: Nearest| near.seconds.get() <= window.seconds.1;
        inside
            .filter_map(|lengths| self.at_lengths(&quick, lengths, in_time))
            .map(|met| met.1)
            .next()
    }

    /// The session of all there are that comes first in a window's order.
    fn by_time(&self, window: Window) -> Option<(Nearest, Drafted)> {
        let quick = Quick::of_all(self, window.aim);
        let mut all: Vec<Found<'_>> = quick
            .pairs()
            .flat_map(|(sides, mains)| best(self.bench(), sides, mains, window, &self.patience))
            .collect();
        all.sort_by_key(|found| found.seconds);
        if window.aim == Aim::Slowest {
            all.reverse();
        }
        all.iter().map(|found| (self.near(found), found)).find_map(|(near, found)| {
            let drafted = self.proved(found).ok().filter(|_| self.may_be_asked_for(near))?;
            Some((near, drafted))
        })
    }

    /// Whether a session is one that a wish can be made for.
    fn may_be_asked_for(&self, near: Nearest) -> bool {
        near.seconds.get() <= MOST_S && near.distance.sixths() <= most_distance(self.wish).sixths()
    }

    fn near(&self, found: &Found<'_>) -> Nearest {
        let distance = self.wish.pool.distance(Lengths::new(found.lengths));
        Nearest { distance, seconds: Seconds::new(found.seconds) }
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
        let length = self.wish.pool.length().sixths().max(1);
        let lengths = u32::try_from(most.sixths() / length).unwrap_or(FARTHEST_LENGTHS);
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
            near.distance.sixths() <= self.wish.pool.distance(Lengths::new(high)).sixths()
        });
        in_time && long_enough
    }

    /// The first session from `from` lengths on, up or down, that is as wanted.
    fn nearest(&self, from: u32, up: bool, wanted: impl Fn(Nearest) -> bool) -> Option<Nearest> {
        self.nearest_of(&Quick::of_few(self), from, up, wanted)
    }

    fn nearest_of(
        &self,
        quick: &Quick<'_, '_>,
        from: u32,
        up: bool,
        wanted: impl Fn(Nearest) -> bool,
    ) -> Option<Nearest> {
        let from = from / 2 * 2;
        let steps = 0..=FARTHEST_LENGTHS / 2;
        let all = steps.map_while(|step| {
            if up {
                Some(from + 2 * step).filter(|lengths| *lengths <= FARTHEST_LENGTHS)
            } else {
                from.checked_sub(2 * step).filter(|lengths| *lengths > 0)
            }
        });
        all.filter_map(|lengths| self.at_lengths(quick, lengths, &wanted)).map(|met| met.0).next()
    }

    /// The quickest session of exactly so many lengths, if it is as wanted. What is offered
    /// passes the checks: a coach will ask for it.
    fn at_lengths(
        &self,
        quick: &Quick<'_, '_>,
        lengths: u32,
        wanted: impl Fn(Nearest) -> bool,
    ) -> Option<(Nearest, Drafted)> {
        let window = Window { lengths: (lengths, lengths), ..ANY };
        let mut all: Vec<Found<'_>> = quick
            .pairs()
            .flat_map(|(sides, mains)| best(self.bench(), sides, mains, window, &self.patience))
            .collect();
        all.sort_by_key(|found| found.seconds);
        let offered = all.iter().filter(|found| wanted(self.near(found))).take(MOST_PROVED);
        offered
            .map(|found| (self.near(found), self.proved(found)))
            .find_map(|(near, proved)| Some((near, proved.ok()?)))
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
    /// Of the first few main sets, each on its own, the ones of a single pattern first.
    fn of_few(engine: &'e Engine<'a>) -> Self {
        let picks = shortest_first(engine.picks());
        let mains = picks.iter().take(NEAREST_MAINS).map(|pick| {
            Mains::joined(engine.bench(), &engine.patterns(pick), ANY, &engine.patience)
        });
        Self { sides: Self::sides(engine), mains: mains.collect() }
    }

    /// Of all main sets that a wish is tried with.
    fn of_all(engine: &'e Engine<'a>, aim: Aim) -> Self {
        engine.patience.renew(PATIENCE_OF_ALL_MAINS);
        let mut picks = shortest_first(engine.picks());
        picks.sort_by(|a, b| (a.patterns.len(), &a.patterns).cmp(&(b.patterns.len(), &b.patterns)));
        picks.dedup_by(|a, b| a.patterns == b.patterns);
        let window = Window { aim, ..ANY };
        let mains = picks.iter().map(|pick| {
            Mains::joined(engine.bench(), &engine.patterns(pick), window, &engine.patience)
        });
        let mains = vec![Mains::merged(mains, aim)];
        engine.patience.renew(PATIENCE_OF_A_REFUSAL);
        Self { sides: Self::sides(engine), mains }
    }

    fn sides(engine: &'e Engine<'a>) -> Vec<Sides<'e, 'a>> {
        let plans = engine.plans();
        plans.iter().filter_map(|kinds| engine.sides(kinds, None)).map(Sides::new).collect()
    }

    fn pairs(&self) -> impl Iterator<Item = (&Sides<'e, 'a>, &Mains<'e, 'a>)> {
        self.sides.iter().flat_map(|sides| self.mains.iter().map(move |mains| (sides, mains)))
    }
}
