//! From a wish to a session: which patterns are tried in which order, and the proof that what
//! they came to is clean.

use std::cell::OnceCell;

use super::library::Library;
use super::pattern::{PatternLine, RestRange, SetPattern, SwimRange, Think};
use super::script::Script;
use super::search::{Found, Side, Window, best};
use super::size::{Bench, Size, sizes};
use super::{Chosen, DraftError, Drafted, Nearest, Open, Wish};
use crate::advice::advise;
use crate::check::{CheckedSession, check};
use crate::finding::{FileId, Finding};
use crate::measure::{Distance, Lengths, Pace, Seconds};
use crate::plan::Version;
use crate::session::read;
use crate::session::words::{Effort, Level, Mode, PartKind, Stroke};
use crate::source::Source;

/// A session ends at most so many seconds before the time wished.
const IDLE_MOST_S: u32 = 90;

/// The parts a session may be made of, the rather wished first.
type Plans = Vec<Vec<PartKind>>;

/// Everything a wish is worked on with.
pub(super) struct Engine<'a> {
    wish: &'a Wish,
    script: Script<'a>,
    head: CheckedSession,
    open: Open<'a>,
    /// Patterns for each part, the variant's first.
    stock: Vec<(PartKind, Vec<Stocked<'a>>)>,
    unbroken: Option<Size<'a>>,
}

/// A pattern with its sizes, which are worked out when it is first tried.
struct Stocked<'a> {
    pattern: &'a SetPattern,
    sizes: OnceCell<Vec<Size<'a>>>,
}

/// The pattern of a single swim, which no file can hold: its distance is the wish's.
pub(super) fn single_swim() -> SetPattern {
    let swim = SwimRange {
        repeats: vec![1],
        each: vec![100],
        stroke: Some(Stroke::Free),
        mode: Mode::Swim,
    };
    let set = PatternLine {
        rounds: Vec::new(),
        sets: Vec::new(),
        swim: Some(swim),
        rest: Some(RestRange::Seconds(60, 60)),
        on: None,
        effort: Some(Effort::Steady),
        pattern: None,
        think: Some(Think::Swim),
        cue: None,
        strokes: None,
        fixed: true,
        gear: Vec::new(),
        at_hand: Vec::new(),
    };
    SetPattern {
        id: "one-swim".to_owned(),
        name: "One swim, no stop".to_owned(),
        why:
            "The long swim comes first, on fresh arms: set off slower than feels right and finish \
              with the stroke you began with."
                .to_owned(),
        parts: vec![PartKind::MainSet],
        levels: Vec::new(),
        skills: Vec::new(),
        sets: vec![set],
    }
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
        let bench = Bench { head: &head, own: script.skill.stroke };
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
        Ok(Self { wish, script, head, open, stock, unbroken })
    }

    fn bench(&self) -> Bench<'_> {
        Bench { head: &self.head, own: self.script.skill.stroke }
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
        match unclean {
            Some(title) => Err(DraftError::Unclean { title }),
            None => Err(self.refused()),
        }
    }

    fn window(&self) -> Window {
        let seconds = self.wish.time.map_or(u32::MAX, Seconds::get);
        match self.wish.distance {
            None => Window {
                seconds: (seconds.saturating_sub(IDLE_MOST_S), seconds),
                lengths: (1, u32::MAX),
                wished_lengths: None,
            },
            Some(distance) => {
                let (low, wished, high) = pair_around(self.wish, distance);
                Window { seconds: (0, seconds), lengths: (low, high), wished_lengths: Some(wished) }
            }
        }
    }

    /// The first clean session of a window, patterns tried in the variant's order.
    fn tried(&self, window: Window, unclean: &mut Option<String>) -> Option<Drafted> {
        for kinds in self.plans() {
            for turn in 0..SIDE_TURNS {
                let Some(sides) = self.sides(&kinds, Some(turn)) else { continue };
                for main in self.mains() {
                    for found in best(self.bench(), &sides, &main, window) {
                        match self.proved(&found) {
                            Ok(drafted) => return Some(drafted),
                            Err(title) => *unclean = Some(title),
                        }
                    }
                }
            }
        }
        self.last_resort(window)
    }

    /// Where the variant's own warm-ups and cool-downs will not do, as in a short session in a
    /// long pool: everything that will is looked for, and the variant takes its turn in that.
    fn last_resort(&self, window: Window) -> Option<Drafted> {
        for kinds in self.plans() {
            let mut all: Vec<(Vec<&str>, Found<'a>)> = Vec::new();
            for sides in self.every_side(&kinds) {
                for main in self.mains_by_length() {
                    let Some(found) = best(self.bench(), &sides, &main, window).into_iter().next()
                    else {
                        continue;
                    };
                    let ids = found.parts.iter().map(|(_, size)| size.pattern.id.as_str());
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

    /// Main sets of one pattern first, then of two.
    fn mains_by_length(&self) -> impl Iterator<Item = Vec<&[Size<'a>]>> {
        let mut all: Vec<Vec<&[Size<'a>]>> = self.mains().collect();
        all.sort_by_key(Vec::len);
        all.into_iter().take(NEAREST_MAINS)
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
    fn mains(&self) -> impl Iterator<Item = Vec<&[Size<'a>]>> {
        let all = self.of_kind(PartKind::MainSet);
        let mut picks = picks(all.len());
        if self.unbroken.is_some() {
            picks.retain(|pick| pick.len() < 3);
            // The swim alone.
            picks.push(Vec::new());
        }
        picks.into_iter().map(move |pick| {
            let swim = self.unbroken.as_ref().map(std::slice::from_ref);
            let chosen = pick.iter().filter_map(|at| all.get(*at));
            let sized = chosen.map(|stocked| self.sizes(stocked, PartKind::MainSet));
            swim.into_iter().chain(sized).collect()
        })
    }

    /// The text of what was found, once it has passed every check without a finding.
    fn proved(&self, found: &Found<'_>) -> Result<Drafted, String> {
        let mut text = self.script.text(found, false);
        let mut findings = self.findings(&text);
        if findings.iter().any(|finding| finding.rule.id == FOCUS_UNSPOKEN) {
            text = self.script.text(found, true);
            findings = self.findings(&text);
        }
        if let Some(first) = findings.first() {
            return Err(first.title.clone());
        }
        let chosen = found.parts.iter().map(|(part, size)| Chosen {
            part: *part,
            id: size.pattern.id.clone(),
            name: size.pattern.name.clone(),
        });
        let lengths = Lengths::new(found.lengths);
        let unbroken = self.unbroken.as_ref().map(|swim| Lengths::new(swim.lengths));
        Ok(Drafted {
            text,
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

    /// Why there is no such session: the nearest there are.
    fn refused(&mut self) -> DraftError {
        let (wish, about) = (self.wish, self.about_lengths());
        let swim = self.unbroken.take();
        if let (Some(swim), Some(asked)) = (&swim, wish.unbroken) {
            self.unbroken = Some(swim.clone());
            if let Some(needs) = self.nearest(swim.lengths, true, |_| true)
                && !self.holds(needs)
            {
                let unbroken = wish.pool.distance(Lengths::new(out_and_back(wish, asked)));
                return DraftError::Unbroken { unbroken, needs };
            }
        }
        if let (Some(wanted), Some(time)) = (wish.distance, wish.time) {
            let (_, wished, _) = pair_around(wish, wanted);
            if let Some(quickest) = self.at_lengths(wished)
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
        let below = self.nearest(about, false, |near| near.seconds < wanted);
        let above = self.nearest(about, true, |near| near.seconds > wanted);
        DraftError::Time { wanted, below, above }
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
        all.filter_map(|lengths| self.at_lengths(lengths)).find(|near| wanted(*near))
    }

    /// A quick session of exactly so many lengths.
    fn at_lengths(&self, lengths: u32) -> Option<Nearest> {
        let window = Window {
            seconds: (0, u32::MAX),
            lengths: (lengths, lengths),
            wished_lengths: Some(lengths),
        };
        for kinds in self.plans() {
            let Some(sides) = self.sides(&kinds, None) else { continue };
            for main in self.mains_by_length() {
                let found = best(self.bench(), &sides, &main, window);
                let quickest = found.iter().map(|found| found.seconds).min();
                if let Some(seconds) = quickest {
                    let distance = self.wish.pool.distance(Lengths::new(lengths));
                    return Some(Nearest { distance, seconds: Seconds::new(seconds) });
                }
            }
        }
        None
    }
}

/// From here on a session has room for a post set.
const LONG_SESSION_S: u32 = 50 * 60;
/// How often other warm-ups and cool-downs are tried with the same main sets.
const SIDE_TURNS: usize = 4;
/// How many patterns can be the first, and how many the second, of a main set.
const MAIN_FIRSTS: usize = 12;
const MAIN_SECONDS: usize = 5;
/// Where a wish cannot be met, what could be is looked for this far and among so many.
const FARTHEST_LENGTHS: u32 = 500;
const NEAREST_MAINS: usize = 20;

/// The id of the rule on a focus that no cue speaks of.
const FOCUS_UNSPOKEN: &str = "focus-without-cue";
/// Findings about a session's sums, which the head alone cannot answer for.
const SUMS: [&str; 3] = ["over-booked", "under-booked", "part-share"];

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

fn findings_of(text: &str, open: Open<'_>) -> (Option<CheckedSession>, Vec<Finding>) {
    let reading = read(Source::new("draft.toml", text), open);
    let mut findings = reading.findings;
    let session = reading.session.and_then(|session| check(session, &mut findings));
    if let Some(session) = &session {
        advise(session, &Version::of(session, session.pool.value), &mut findings);
    }
    (session, findings)
}

/// A plain session with the wish's head, checked: bands, factors and changeover are asked
/// of it, and a head that could never pass is told before anything is sought.
fn head(script: &Script<'_>, open: Open<'_>) -> Result<CheckedSession, DraftError> {
    let head = script.head(&[]);
    let part = |kind: &str, repeats: u32, cue: &str| {
        format!(
            "[[part]]\nkind = \"{kind}\"\nsets = [{{ swim = \"{repeats} x 2 lengths\", rest = \"20 s\"{cue} }}]\n"
        )
    };
    // The focus itself as a cue, taken from the head's own line.
    let focus = head.lines().find_map(|line| line.strip_prefix("focus")).unwrap_or_default();
    let cue = format!(", cue{focus}");
    let text =
        [head.clone(), part("warm-up", 1, ""), part("main set", 4, &cue), part("cool-down", 1, "")]
            .concat();
    let (session, findings) = findings_of(&text, open);
    let about_head = findings.into_iter().find(|finding| {
        let place = finding.place();
        !SUMS.contains(&finding.rule.id)
            && place.is_none_or(|place| {
                place.file != FileId::SESSION || place.span().start < head.len()
            })
    });
    match (session, about_head) {
        (Some(session), None) => Ok(session),
        (_, Some(finding)) => {
            Err(DraftError::Head { title: finding.title, help: finding.help.into_iter().next() })
        }
        (None, None) => {
            Err(DraftError::Head { title: "this wish makes no session".to_owned(), help: None })
        }
    }
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
/// it was reckoned.
pub(super) fn pace_in_pool(wish: &Wish) -> Seconds {
    let Pace { per_100, unit } = wish.pace;
    let hundred = |unit| u128::from(Distance::whole(100, unit).true_length().grid());
    let per_100 = u128::from(per_100.get()) * hundred(wish.pool.unit()) / hundred(unit);
    Seconds::new(u32::try_from(per_100).unwrap_or(u32::MAX))
}
