//! From a wish to a session: which patterns are tried in which order, and the proof that what
//! they make is clean.

mod head;
mod nearest;
mod single;
#[cfg(test)]
mod tests;

pub(super) use single::single_swim;

use std::cell::OnceCell;

use super::library::Library;
use super::pattern::SetPattern;
use super::script::Script;
use super::search::{Aim, Found, Mains, Patience, Side, Sides, Window, best};
use super::size::{Bench, Size, sizes};
use super::{Chosen, DraftError, Drafted, Open, StrangeFocus, Wish};
use crate::advice::focus::FOCUS_WITHOUT_CUE;
use crate::advice::swims::LONG_SWIM;
use crate::check::CheckedSession;
use crate::finding::Finding;
use crate::measure::{Distance, Lengths, Pace, Seconds};
use crate::session::words::{Level, PartKind};
use head::{findings_of, head};

/// A session ends at most so many seconds before the time wished.
const IDLE_MOST_S: u32 = 90;

/// The parts a session may be made of, the rather wished first.
type Plans = Vec<Vec<PartKind>>;

/// A wish with the patterns, the checked head and the limits it is searched with.
pub(super) struct Engine<'a> {
    wish: &'a Wish,
    script: Script<'a>,
    head: CheckedSession,
    open: Open<'a>,
    /// Patterns for each part, the variant's first.
    stock: Vec<(PartKind, Vec<Stocked<'a>>)>,
    unbroken: Option<Size<'a>>,
    patience: Patience,
    strange_focus: Option<StrangeFocus>,
}

/// A pattern with its sizes, which are worked out when it is first tried.
struct Stocked<'a> {
    pattern: &'a SetPattern,
    sizes: OnceCell<Vec<Size<'a>>>,
}

/// Patterns that make a main set together, by their places in the variant's order, joined when
/// they are first tried.
struct Pick<'e, 'a> {
    patterns: Vec<usize>,
    mains: OnceCell<Mains<'e, 'a>>,
}

/// Main sets of one pattern first, then of two.
fn shortest_first<'e, 'a>(mut picks: Vec<Pick<'e, 'a>>) -> Vec<Pick<'e, 'a>> {
    picks.sort_by_key(|pick| pick.patterns.len());
    picks
}

impl<'a> Engine<'a> {
    /// Sets a wish up: its head must pass the checks, and there must be patterns.
    pub fn new(
        wish: &'a Wish,
        library: &'a Library,
        script: Script<'a>,
        single: &'a SetPattern,
        open: Open<'a>,
    ) -> Result<Self, DraftError> {
        let head = head(&script, open)?;
        let bench = Bench { head: &head, own: script.skill.stroke, longest: longest(wish) };
        let kinds: &[PartKind] = match wish.level {
            Level::Beginner => &[PartKind::WarmUp, PartKind::MainSet, PartKind::CoolDown],
            Level::Improver | Level::Advanced => &[
                PartKind::WarmUp,
                PartKind::PreSet,
                PartKind::MainSet,
                PartKind::PostSet,
                PartKind::CoolDown,
            ],
        };
        let mut stock = Vec::new();
        for kind in kinds.iter().copied() {
            let patterns = library.choice(wish, script.skill, kind).into_iter();
            let stocked: Vec<Stocked<'a>> =
                patterns.map(|pattern| Stocked { pattern, sizes: OnceCell::new() }).collect();
            let may_miss = matches!(kind, PartKind::PreSet | PartKind::PostSet);
            if stocked.is_empty() && !may_miss {
                let (level, goal) = (wish.level, wish.goal);
                return Err(DraftError::NoPattern { part: kind, level, goal });
            }
            stock.push((kind, stocked));
        }
        let lengths = wish.unbroken.map(|unbroken| out_and_back(wish, unbroken));
        let unbroken = lengths.and_then(|lengths| Size::unbroken(bench, single, lengths));
        let patience = Patience::of(PATIENCE);
        let strange_focus = library.strange_focus(wish);
        Ok(Self { wish, script, head, open, stock, unbroken, patience, strange_focus })
    }

    fn bench(&self) -> Bench<'_> {
        Bench { head: &self.head, own: self.script.skill.stroke, longest: longest(self.wish) }
    }

    fn of_kind(&self, kind: PartKind) -> &[Stocked<'a>] {
        let of_kind = self.stock.iter().find(|(known, _)| *known == kind);
        of_kind.map_or(&[], |(_, stocked)| stocked.as_slice())
    }

    fn sizes<'e>(&self, stocked: &'e Stocked<'a>, kind: PartKind) -> &'e [Size<'a>] {
        stocked.sizes.get_or_init(|| sizes(self.bench(), stocked.pattern, kind))
    }

    /// The session for the wish, or what would have to give.
    pub fn draft(mut self) -> Result<Drafted, DraftError> {
        let window = self.window();
        let mut unclean = None;
        if let Some(drafted) = self.tried(window, &mut unclean) {
            return Ok(drafted);
        }
        // What a refusal would offer may be what is asked for.
        if let Some(drafted) = self.offered_of_all(window) {
            return Ok(drafted);
        }
        match unclean {
            Some(title) => Err(DraftError::Unclean { title }),
            None => Err(self.refused()),
        }
    }

    /// The session for the wish, if one is soon found.
    pub fn met_soon(&mut self) -> Option<Drafted> {
        self.patience = Patience::of(PATIENCE_OF_ONE_OF_MANY);
        self.tried(self.window(), &mut None)
    }

    fn window(&self) -> Window {
        let seconds = self.wish.time.map_or(u32::MAX, Seconds::get);
        match self.wish.distance {
            None => Window {
                seconds: (seconds.saturating_sub(IDLE_MOST_S), seconds),
                lengths: (1, u32::MAX),
                wished_lengths: None,
                aim: Aim::Best,
            },
            Some(distance) => {
                let (low, wished, high) = pair_around(self.wish, distance);
                Window {
                    seconds: (0, seconds),
                    lengths: (low, high),
                    wished_lengths: Some(wished),
                    aim: Aim::Best,
                }
            }
        }
    }

    /// The first clean session of a window, patterns tried in the variant's order.
    fn tried(&self, window: Window, unclean: &mut Option<String>) -> Option<Drafted> {
        let picks = self.picks();
        for kinds in self.plans() {
            for turn in 0..SIDE_TURNS {
                let Some(sides) = self.sides(&kinds, Some(turn)).map(Sides::new) else { continue };
                for pick in &picks {
                    if self.patience.is_lost() {
                        return None;
                    }
                    for found in self.best(&sides, pick, window) {
                        match self.proved(&found) {
                            Ok(drafted) => return Some(drafted),
                            Err(title) => *unclean = Some(title),
                        }
                    }
                }
            }
        }
        self.last_resort(picks, window)
    }

    fn best<'e>(
        &'e self,
        sides: &Sides<'e, 'a>,
        pick: &Pick<'e, 'a>,
        window: Window,
    ) -> Vec<Found<'a>> {
        let mains = pick.mains.get_or_init(|| {
            Mains::joined(self.bench(), &self.patterns(pick), window, &self.patience)
        });
        best(self.bench(), sides, mains, window, &self.patience)
    }

    /// Where the variant's own warm-ups and cool-downs will not do, as in a short session in a
    /// long pool: everything that will is looked for, and the variant takes its turn in that.
    fn last_resort<'e>(&'e self, picks: Vec<Pick<'e, 'a>>, window: Window) -> Option<Drafted> {
        let picks = shortest_first(picks);
        for kinds in self.plans() {
            let mut all: Vec<(Vec<&str>, Found<'a>)> = Vec::new();
            for sides in self.every_side(&kinds).into_iter().map(Sides::new) {
                for pick in picks.iter().take(NEAREST_MAINS) {
                    let Some(found) = self.best(&sides, pick, window).into_iter().next() else {
                        continue;
                    };
                    let ids = found.parts.iter().map(|(_, size)| size.pattern.id.value.as_str());
                    let ids: Vec<&str> = ids.collect();
                    if !all.iter().any(|(known, _)| *known == ids) {
                        all.push((ids, found));
                    }
                }
            }
            // The same order for every variant.
            all.sort_by(|(a, _), (b, _)| a.cmp(b));
            let turn = usize::try_from(self.wish.variant).unwrap_or(0) % all.len().max(1);
            all.rotate_left(turn);
            if let Some(drafted) = all.iter().find_map(|(_, found)| self.proved(found).ok()) {
                return Some(drafted);
            }
        }
        None
    }

    /// Every warm-up with every cool-down, and whatever else there is beside the main set.
    fn every_side(&self, kinds: &[PartKind]) -> Vec<Vec<Side<'_, 'a>>> {
        let mut all: Vec<Vec<Side<'_, 'a>>> = vec![Vec::new()];
        for kind in kinds.iter().copied().filter(|kind| *kind != PartKind::MainSet) {
            let stocked = self.of_kind(kind).iter().map(|stocked| self.sizes(stocked, kind));
            let choices: Vec<Vec<&Size<'a>>> = match kind {
                PartKind::WarmUp | PartKind::CoolDown => {
                    stocked.map(|sizes| sizes.iter().collect()).collect()
                }
                _ => vec![stocked.flatten().collect()],
            };
            let longer = all.iter().flat_map(|sides| {
                choices.iter().map(move |sizes| {
                    let mut with = sides.clone();
                    with.push(Side { kind, sizes: sizes.clone() });
                    with
                })
            });
            all = longer.collect();
        }
        all
    }

    /// Which parts: a beginner's session has three; a longer one of the others' has more.
    fn plans(&self) -> Plans {
        use PartKind::{CoolDown, MainSet, PostSet, PreSet, WarmUp};
        let plain = vec![WarmUp, MainSet, CoolDown];
        let usual = vec![WarmUp, PreSet, MainSet, CoolDown];
        let full = vec![WarmUp, PreSet, MainSet, PostSet, CoolDown];
        let long = self.about_s() >= LONG_SESSION_S;
        match self.wish.level {
            Level::Beginner => vec![plain],
            _ if long => vec![full, usual, plain],
            // A short improver's session closes with a post set in every other variant.
            Level::Improver if self.wish.variant.is_multiple_of(2) => vec![usual, full, plain],
            _ => vec![full, usual, plain],
        }
    }

    /// About how long the session will take.
    fn about_s(&self) -> u32 {
        let of_distance = |distance: Distance| {
            let swum = self.head.pace.swim_time(distance, [1000, 1000, 1300]);
            swum.map_or(0, Seconds::get)
        };
        let distance = self.wish.distance.map_or(u32::MAX, of_distance);
        self.wish.time.map_or(distance, |time| time.get().min(distance))
    }

    /// The parts beside the main set, each of one pattern, the `turn`th of the variant's order,
    /// or without a turn of any.
    fn sides(&self, kinds: &[PartKind], turn: Option<usize>) -> Option<Vec<Side<'_, 'a>>> {
        let beside = kinds.iter().copied().filter(|kind| *kind != PartKind::MainSet);
        beside
            .map(|kind| {
                let all = self.of_kind(kind);
                let sizes = match turn {
                    Some(turn) => {
                        self.sizes(all.get(turn % all.len().max(1))?, kind).iter().collect()
                    }
                    None => all.iter().flat_map(|stocked| self.sizes(stocked, kind)).collect(),
                };
                Some(Side { kind, sizes })
            })
            .collect()
    }

    /// Main sets of one, two or three patterns, in the order they are tried.
    fn picks<'e>(&'e self) -> Vec<Pick<'e, 'a>> {
        let mut picks = picks(self.of_kind(PartKind::MainSet).len());
        if self.unbroken.is_some() {
            picks.retain(|pick| pick.len() < 3);
            // The swim alone.
            picks.push(Vec::new());
        }
        picks.into_iter().map(|patterns| Pick { patterns, mains: OnceCell::new() }).collect()
    }

    /// The sizes of each of a main set's patterns, those of the swim without a stop first.
    fn patterns<'e>(&'e self, pick: &Pick<'_, '_>) -> Vec<&'e [Size<'a>]> {
        let all = self.of_kind(PartKind::MainSet);
        let swim = self.unbroken.as_ref().map(std::slice::from_ref);
        let chosen = pick.patterns.iter().filter_map(|at| all.get(*at));
        let sized = chosen.map(|stocked| self.sizes(stocked, PartKind::MainSet));
        swim.into_iter().chain(sized).collect()
    }

    /// The text of what was found, once it has passed every check without a finding.
    fn proved(&self, found: &Found<'_>) -> Result<Drafted, String> {
        let mut text = self.script.text(found, false);
        let mut findings = self.findings(&text);
        if findings.iter().any(|finding| finding.rule == &FOCUS_WITHOUT_CUE) {
            text = self.script.text(found, true);
            findings = self.findings(&text);
        }
        // A swim that was wished for may be long for the level, and then the draft says so.
        let meant = |finding: &Finding| self.unbroken.is_some() && finding.rule == &LONG_SWIM;
        if let Some(first) = findings.iter().find(|finding| !meant(finding)) {
            return Err(first.title.clone());
        }
        let chosen = found.parts.iter().map(|(part, size)| Chosen {
            part: *part,
            id: size.pattern.id.value.clone(),
            name: size.pattern.name.clone(),
        });
        let lengths = Lengths::new(found.lengths);
        let unbroken = self.unbroken.as_ref().map(|swim| Lengths::new(swim.lengths));
        Ok(Drafted {
            text,
            warnings: findings,
            strange_focus: self.strange_focus.clone(),
            title: self.script.title(),
            focus: self.script.skill.focus.clone(),
            chosen: chosen.collect(),
            lengths,
            distance: self.wish.pool.distance(lengths),
            seconds: Seconds::new(found.seconds),
            unbroken: unbroken.map(|lengths| self.wish.pool.distance(lengths)),
        })
    }

    fn findings(&self, text: &str) -> Vec<Finding> {
        findings_of(text, self.open).1
    }
}

/// From so many seconds on a session has time for a post set.
const LONG_SESSION_S: u32 = 50 * 60;
/// How often other warm-ups and cool-downs are tried with the same main sets.
const SIDE_TURNS: usize = 4;
/// How many patterns can be the first, and how many the second, of a main set.
const MAIN_FIRSTS: usize = 12;
const MAIN_SECONDS: usize = 5;
/// Of the main sets by their length, so many are tried.
const NEAREST_MAINS: usize = 20;
/// Choices looked at to meet a wish, to say what could be met where it cannot, and to meet one of
/// the many wishes of a block. A usual wish takes some ten thousand; a million take 50 ms or less.
const PATIENCE: u64 = 16_000_000;
const PATIENCE_OF_A_REFUSAL: u64 = 6_000_000;
const PATIENCE_OF_ALL_MAINS: u64 = 24_000_000;
const PATIENCE_OF_ONE_OF_MANY: u64 = 4_000_000;

/// Which patterns make a main set, by their places in the variant's order: each of the first
/// few alone, then with another before or after it, then three.
fn picks(count: usize) -> Vec<Vec<usize>> {
    let mut picks = Vec::new();
    for first in 0..count.min(MAIN_FIRSTS) {
        let then = |step: usize| (first + step) % count;
        picks.push(vec![first]);
        for step in 1..count.min(MAIN_SECONDS + 1) {
            picks.push(vec![first, then(step)]);
            picks.push(vec![then(step), first]);
        }
        for step in 1..count.saturating_sub(1).min(MAIN_SECONDS) {
            picks.push(vec![first, then(step), then(step + 1)]);
            picks.push(vec![then(step + 1), then(step), first]);
        }
    }
    picks
}

/// The most lengths of a swim without a stop.
fn longest(wish: &Wish) -> u32 {
    let length = wish.pool.length().true_length().grid().max(1);
    let lengths = wish.longest.map(|longest| longest.true_length().grid() / length);
    lengths.and_then(|lengths| u32::try_from(lengths).ok()).unwrap_or(u32::MAX)
}

/// Lengths of a swim that is at least so long and ends where it began.
fn out_and_back(wish: &Wish, distance: Distance) -> u32 {
    let pair = wish.pool.distance(Lengths::new(2)).true_length().grid().max(1);
    let pairs = distance.true_length().grid().div_ceil(pair).max(1);
    u32::try_from(pairs.saturating_mul(2)).unwrap_or(u32::MAX)
}

/// Least, nearest and most even lengths within a pair of lengths of a distance.
fn pair_around(wish: &Wish, distance: Distance) -> (u32, u32, u32) {
    let length = wish.pool.length().true_length().grid().max(1);
    let grid = distance.true_length().grid();
    let even =
        u32::try_from(grid.saturating_add(length) / (2 * length) * 2).unwrap_or(u32::MAX).max(2);
    let low = grid.saturating_sub(2 * length).div_ceil(length);
    let high = grid.saturating_add(2 * length) / length;
    let bare = |lengths: u64| u32::try_from(lengths).unwrap_or(u32::MAX);
    (bare(low), even, bare(high))
}

/// A pace per 100 of the pool's unit; seconds are dropped, so that nothing takes longer than
/// was computed.
pub(super) fn pace_in_pool(wish: &Wish) -> Seconds {
    let Pace { per_100, unit } = wish.pace;
    let hundred = |unit| u128::from(Distance::whole(100, unit).true_length().grid());
    let per_100 = u128::from(per_100.get()) * hundred(wish.pool.unit()) / hundred(unit);
    Seconds::new(u32::try_from(per_100).unwrap_or(u32::MAX))
}
