//! A whole block from an ability and a goal: the block file and a file for each session.

mod sizing;
mod text;

use std::collections::BTreeMap;

use thiserror::Error;

use super::check::{Shelf, longest_swim};
use super::dates::{WEEK_DAYS, days_after, days_before, session_dates};
use super::intake::check;
use super::progression::{NoProgression, Step, farthest, progression};
use super::words::Weekday;
use crate::advice::wording::speaks_of;
use crate::check::wording::{CautionKind, cautions_of};
use crate::draft::{
    Booked, DraftError, Drafted, Library, Nearest, Open, Wish, draft_beside, draft_if_met,
};
use crate::intake;
use crate::measure::{Date, Distance, LIMITS, Lengths, Pace, Pool, Seconds, TimeOfDay};
use crate::session::words::{Goal, Level};
use crate::source::Source;
use sizing::{Sizing, sizing};
use text::{block_text, session_file};

/// The name of the block file among those drafted.
pub const BLOCK_FILE: &str = "block.toml";

/// So many variants of a session are tried until one fits its week.
const VARIANTS: u32 = 6;

/// Lengths by which a session may miss what the week wants of it, the rather wished first.
const MISSES: [i64; 8] = [0, 2, -2, 4, -4, 6, 8, 10];

/// What a block is wanted for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BlockWish {
    /// What it is called; "10 weeks to 1,500 m" if left out.
    pub title: Option<String>,
    /// The name of the club file, as it is written into the files.
    pub club: Option<String>,
    /// Swum today without a stop.
    pub from: Distance,
    /// To be swum without a stop at the end.
    pub to: Distance,
    /// Weeks there are.
    pub weeks: u32,
    /// Sessions in each.
    pub sessions: u32,
    /// Whom it is for.
    pub level: Level,
    /// The pool.
    pub pool: Pool,
    /// Steady freestyle.
    pub pace: Pace,
    /// No session takes longer.
    pub time: Option<Seconds>,
    /// A session as it is swum today, if that is known.
    pub session: Option<Distance>,
    /// The most a week may grow, in per cent.
    pub growth_percent: u32,
    /// The most the longest swim may grow from week to week, in per cent.
    pub longest_growth_percent: u32,
    /// The first day of the first week; not needed where there is a day that the block leads to.
    pub begins: Option<Date>,
    /// The day the block leads to: its last week is the seven days before, and easier.
    pub day: Option<Date>,
    /// The days with sessions.
    pub days: Vec<Weekday>,
    /// When sessions start.
    pub starts: Option<TimeOfDay>,
    /// The gear there is.
    pub gear: Vec<String>,
}

/// A file of a drafted block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraftedFile {
    /// Its name, without a folder.
    pub name: String,
    /// Its whole text.
    pub text: String,
}

/// Why a block could not be drafted.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum BlockDraftError {
    /// The weeks do not lead from the one to the other.
    #[error("{error}{}", nearer(*farthest))]
    NoProgression {
        /// Why not.
        error: NoProgression,
        /// The farthest goal that the same weeks lead to.
        farthest: Option<Distance>,
    },
    /// The last swim takes longer than a session may.
    #[error("{} without a stop needs a session of {} or more, {} at this pace, and {}{}", to.spoken(), needs.distance.with_commas(), needs.seconds, limit(*time, *most), in_time(*longest))]
    LongerThanMinutes {
        /// The goal.
        to: Distance,
        /// The least session that holds it.
        needs: Nearest,
        /// The most that a session may take, if minutes were asked for.
        time: Option<Seconds>,
        /// The most that a session is drafted for.
        most: Distance,
        /// The longest swim that such a session holds.
        longest: Option<Distance>,
    },
    /// The goal is more than any set may have.
    #[error("{} without a stop is more than a card says: {} {} at most", to.spoken(), LIMITS.repeat_distance.most, to.unit())]
    PastTheLimit {
        /// The goal.
        to: Distance,
    },
    /// The patterns of the level ask for longer swims than today's.
    #[error("every session for the level {level} has a swim longer than {}; name a lower level, or a longer swim of today", from.spoken())]
    LevelTooHigh {
        /// The level.
        level: Level,
        /// Today's swim.
        from: Distance,
    },
    /// Today's swim is less than a length.
    #[error("{from} is less than a length of {pool}")]
    LessThanALength {
        /// As wished.
        from: Distance,
        /// The pool.
        pool: Pool,
    },
    /// More sessions a week than days.
    #[error("{sessions} sessions a week need {sessions} days; there are {days}")]
    TooFewDays {
        /// Sessions a week.
        sessions: u32,
        /// Days named.
        days: usize,
    },
    /// A session could not be drafted.
    #[error("week {week}, session {session}: {error}")]
    Session {
        /// The week, from 1.
        week: usize,
        /// The session, from 1.
        session: usize,
        /// Why not.
        error: DraftError,
    },
    /// No variant of a session fits its week.
    #[error("week {week}, session {session}: no session of about {wanted} fits the week")]
    NothingFits {
        /// The week, from 1.
        week: usize,
        /// The session, from 1.
        session: usize,
        /// Its distance.
        wanted: Distance,
    },
    /// A title that a binder prints a caution for.
    #[error("no block is drafted with the title \"{title}\": it speaks of {}", speaks_of(*kind))]
    Cautioned {
        /// As wished.
        title: String,
        /// What it speaks of.
        kind: CautionKind,
    },
    /// What was drafted did not pass the checks of a block.
    #[error("what was drafted does not pass the checks: {0}")]
    Unclean(String),
}

fn nearer(farthest: Option<Distance>) -> String {
    farthest.map_or(String::new(), |far| format!("; these lead to {}", far.with_commas()))
}

fn limit(time: Option<Seconds>, most: Distance) -> String {
    match time {
        Some(time) => format!("no session may take longer than {}", time.spoken()),
        None => format!("no session is drafted for more than three hours, {}", most.with_commas()),
    }
}

fn in_time(longest: Option<Distance>) -> String {
    match longest {
        Some(longest) => format!("; inside that the longest swim is {}", longest.with_commas()),
        None => String::new(),
    }
}

/// Drafts a block: the block file first, then the sessions in order. Every file passes the
/// checks without a finding. `club` opens the club file, where one is named.
///
/// The last session of a week holds its longest swim and develops endurance; the others take
/// turns between technique and endurance. Each has one focus, and the focuses of a goal take
/// turns over the weeks. `written` is called after each session.
pub fn draft_block(
    wish: &BlockWish,
    library: &Library,
    club: Open<'_>,
    written: &dyn Fn(),
) -> Result<Vec<DraftedFile>, BlockDraftError> {
    if let Some(title) = &wish.title
        && let Some(kind) = cautions_of(title).first()
    {
        return Err(BlockDraftError::Cautioned { title: title.clone(), kind: *kind });
    }
    let days = wish.days.len();
    if days > 0 && u32::try_from(days).is_ok_and(|days| days < wish.sessions) {
        return Err(BlockDraftError::TooFewDays { sessions: wish.sessions, days });
    }
    let before = u64::from(wish.weeks) * WEEK_DAYS;
    let begins = wish.day.map_or(wish.begins, |day| days_before(day, before));
    let wish = &BlockWish { begins, ..wish.clone() };
    let Sizing { ask, focuses } = sizing(wish, library, club)?;
    let steps = progression(&ask).map_err(|error| {
        let farthest = match error {
            NoProgression::TooFewWeeks { .. } | NoProgression::TooFar => farthest(&ask),
            NoProgression::ThereAlready | NoProgression::Nothing => None,
        };
        let farthest = farthest.map(|lengths| wish.pool.distance(lengths));
        BlockDraftError::NoProgression { error, farthest }
    })?;
    let (turns, files) = (BTreeMap::new(), Vec::new());
    let mut scribe = Scribe { wish, library, club, written, focuses, turns, full: None, files };
    for (index, step) in steps.iter().enumerate() {
        scribe.week(index, step)?;
    }
    let block = DraftedFile { name: BLOCK_FILE.into(), text: block_text(wish, &steps) };
    let files: Vec<DraftedFile> = std::iter::once(block).chain(scribe.files).collect();
    proved(&files, club)?;
    Ok(files)
}

/// Writes the sessions, week by week.
struct Scribe<'a> {
    wish: &'a BlockWish,
    library: &'a Library,
    club: Open<'a>,
    written: &'a dyn Fn(),
    /// Focuses of each goal that take turns.
    focuses: BTreeMap<Goal, Vec<String>>,
    /// How often a focus of each goal was taken.
    turns: BTreeMap<Goal, usize>,
    /// The lengths of the last full week.
    full: Option<u32>,
    files: Vec<DraftedFile>,
}

impl Scribe<'_> {
    fn week(&mut self, index: usize, step: &Step) -> Result<(), BlockDraftError> {
        let most = self.most_lengths(step);
        let first =
            self.wish.begins.and_then(|begins| days_after(begins, index as u64 * WEEK_DAYS));
        let dates = first.map(|first| session_dates(first, &self.wish.days)).unwrap_or_default();
        let mut swum = 0;
        for (at, lengths) in step.sessions.iter().enumerate() {
            let is_last = at + 1 == step.sessions.len();
            // The long swim's session takes up what the others came out over or under.
            let wanted = match is_last {
                true => step.total.get().min(most).saturating_sub(swum),
                false => lengths.get(),
            };
            let later = step.sessions.iter().skip(at + 1).map(|lengths| lengths.get()).sum::<u32>();
            // Where the weeks before came out short, the long swim's session gives way.
            let later = later.saturating_sub(step.total.get().saturating_sub(most));
            let slot = Slot {
                week: index,
                session: at,
                wanted,
                most: most.saturating_sub(swum + later),
                longest: step.longest,
                holds_longest: is_last,
                date: dates.get(at).copied(),
            };
            let drafted = self.session(&slot)?;
            (self.written)();
            swum += drafted.lengths.get();
            let name = session_file(index, at);
            self.files.push(DraftedFile { name, text: drafted.text });
        }
        if !step.easier {
            self.full = Some(swum);
        }
        Ok(())
    }

    /// The most lengths a week may have: the growth over the last full week as it was drafted,
    /// and a lap more than it at the least; nine tenths of it in an easier week.
    fn most_lengths(&self, step: &Step) -> u32 {
        let Some(full) = self.full else { return step.total.get().saturating_add(2) };
        let percent = if step.easier { 90 } else { self.wish.growth_percent.saturating_add(100) };
        let grown = u64::from(full) * u64::from(percent) / 100;
        let grown = u32::try_from(grown).unwrap_or(u32::MAX);
        // The least sessions there are may be more than nine tenths of a small week.
        let least = step.total.get().min(full.saturating_sub(2));
        if step.easier { grown.max(least) } else { grown.max(full.saturating_add(2)) }
    }

    fn session(&mut self, slot: &Slot) -> Result<Drafted, BlockDraftError> {
        let goal = slot.goal();
        let turn = *self.turns.get(&goal).unwrap_or(&0);
        self.turns.insert(goal, turn + 1);
        let focuses = self.focuses.get(&goal).map_or(&[][..], Vec::as_slice);
        let focus = focuses.get(turn % focuses.len().max(1)).cloned();
        let mut unmet = None;
        // First another pattern, then another lap: the distance matters more than the pattern.
        for miss in MISSES {
            let lengths = u32::try_from(i64::from(slot.wanted) + miss).unwrap_or(0);
            if lengths == 0 || lengths > slot.most {
                continue;
            }
            for variant in 0..VARIANTS {
                let variant = u32::try_from(slot.week).unwrap_or(0) + variant;
                let wish = self.wish_for(slot, goal, focus.clone(), variant, lengths);
                match draft_if_met(&wish, self.library, self.club) {
                    Some(drafted) if self.fits(&drafted, slot) => return Ok(drafted),
                    None if unmet.is_none() => {
                        // Asked once: it takes long to find out.
                        unmet = draft_beside(&wish, self.library, self.club).err();
                        if unmet.as_ref().is_some_and(|error| self.is_hopeless(error, lengths)) {
                            return Err(self.none_for(slot, unmet));
                        }
                    }
                    _ => {}
                }
            }
        }
        Err(self.none_for(slot, unmet))
    }

    /// Why there is no session for `slot`.
    fn none_for(&self, slot: &Slot, why: Option<DraftError>) -> BlockDraftError {
        let (week, session) = (slot.week + 1, slot.session + 1);
        let wanted = self.wish.pool.distance(Lengths::new(slot.wanted));
        match why {
            Some(error) => BlockDraftError::Session { week, session, error },
            None => BlockDraftError::NothingFits { week, session, wanted },
        }
    }

    fn wish_for(
        &self,
        slot: &Slot,
        goal: Goal,
        focus: Option<String>,
        variant: u32,
        lengths: u32,
    ) -> Wish {
        let wish = self.wish;
        let longest = wish.pool.distance(slot.longest);
        Wish {
            focus,
            time: wish.time,
            distance: Some(wish.pool.distance(Lengths::new(lengths))),
            gear: wish.gear.clone(),
            variant,
            unbroken: slot.is_long().then_some(longest),
            longest: Some(longest),
            led_up_to: Some(format!(
                "week {} of a block that leads up to it from {}",
                slot.week + 1,
                wish.from.spoken()
            )),
            title: slot.is_long().then(|| self.long_title(longest)),
            date: slot.date,
            club: wish.club.clone(),
            booked: Booked::Needed,
            starts: wish.starts,
            ..Wish::new(wish.level, goal, wish.pool, wish.pace)
        }
    }

    /// "400 m without a stop"; a goal in miles is said as swimmers say it.
    fn long_title(&self, longest: Distance) -> String {
        let goal = self.wish.to;
        let in_miles = goal.spoken() != goal.with_commas();
        let said = match in_miles && longest.true_length() >= goal.true_length() {
            true => goal.spoken(),
            // 66 2/3 is nobody's number; its lengths are.
            false if !longest.sixths().is_multiple_of(6) => match self.wish.pool.lengths(longest) {
                Some(lengths) => format!("{} lengths", lengths.get()),
                None => longest.with_commas(),
            },
            false => longest.with_commas(),
        };
        let mut letters = said.chars();
        let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
        format!("{first}{} without a stop", letters.as_str())
    }

    /// Whether what could be drafted instead is farther off than any miss that is put up with,
    /// so that no other try will do.
    fn is_hopeless(&self, error: &DraftError, lengths: u32) -> bool {
        let DraftError::Distance { below, above, .. } = error else { return false };
        let length = self.wish.pool.length().sixths().max(1);
        let most = MISSES.iter().map(|miss| miss.unsigned_abs()).max().unwrap_or(0);
        [below, above]
            .into_iter()
            .flatten()
            .all(|near| (near.distance.sixths() / length).abs_diff(u64::from(lengths)) > most)
    }

    /// Whether the session is no longer than its week allows, and its swims neither.
    fn fits(&self, drafted: &Drafted, slot: &Slot) -> bool {
        let source = Source::new("drafted", drafted.text.as_str());
        let Some(ready) = intake::take_beside(source, self.club).ready else { return false };
        let plan = &ready.written.plan;
        let longest = plan.pool.distance(longest_swim(plan)).true_length();
        let allowed = self.wish.pool.distance(slot.longest).true_length();
        let long_enough = !slot.is_long() || longest == allowed;
        drafted.lengths.get() <= slot.most && longest <= allowed && long_enough
    }
}

/// One session to be drafted.
struct Slot {
    /// From 0.
    week: usize,
    /// From 0.
    session: usize,
    /// Its lengths.
    wanted: u32,
    /// The most lengths it may have.
    most: u32,
    /// The longest swim of the week.
    longest: Lengths,
    /// Whether it holds that swim.
    holds_longest: bool,
    date: Option<Date>,
}

impl Slot {
    /// Whether the session is written around its longest swim; single lengths are every
    /// session's.
    fn is_long(&self) -> bool {
        self.holds_longest && self.longest.get() > 1
    }

    fn goal(&self) -> Goal {
        if self.holds_longest || self.session % 2 == 1 { Goal::Endurance } else { Goal::Technique }
    }
}

/// Checks what was drafted as a block.
fn proved(files: &[DraftedFile], club: Open<'_>) -> Result<(), BlockDraftError> {
    let text =
        |name: &str| files.iter().find(|file| file.name == name).map(|file| file.text.clone());
    let source = Source::new(BLOCK_FILE, text(BLOCK_FILE).unwrap_or_default());
    let reading = super::read(source, club);
    let mut findings = reading.findings;
    let shelf = Shelf {
        open: &|name| {
            Ok(intake::take_beside(Source::new(name, text(name).unwrap_or_default()), club))
        },
        draft: &|_, _| Err("a drafted block has files only".into()),
    };
    let checked = reading.block.and_then(|block| check(block, &shelf, &mut findings).0);
    let of_sessions = checked.iter().flat_map(|block| block.sessions());
    let first = findings.first().or_else(|| of_sessions.flat_map(|(_, s)| &s.findings).next());
    match first {
        Some(finding) => Err(BlockDraftError::Unclean(finding.title.clone())),
        None => Ok(()),
    }
}
