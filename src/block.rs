//! Weeks of sessions that build on each other.
//!
//! | stage | type | guarantees | made by |
//! |---|---|---|---|
//! | as written | [`Block`] | keys known, values of the right kind, each with its place | [`read`] |
//! | checked | [`CheckedBlock`] | every session opened, checked and worked out, its date known where one can be; totals and longest swims computed | [`check`] |
//!
//! [`open`] does both. [`progression`] computes weeks from an ability to a goal; it knows of no
//! file. Files are opened through functions the caller hands in, so a block can be read from
//! anywhere.

mod advice;
mod check;
mod dates;
pub mod drafting;
mod intake;
pub mod keys;
pub mod progression;
mod read;
pub(crate) mod rules;
mod wish;
pub mod words;

pub use check::Shelf;
pub(crate) use check::longest_swim;
pub use dates::{days_after, days_between, weekday};
pub use intake::{BlockIntake, check, open, take};
pub use read::{Reading, read};

use crate::finding::{Finding, Place, Placed};
use crate::intake::Ready;
use crate::measure::{Date, Distance, Pool, Seconds, TimeOfDay, TrueLength, Unit};
use crate::session::words::{Goal, Level};
use crate::session::{Allow, Club};
use crate::source::Source;
use words::Weekday;

/// A block as the coach wrote it.
#[derive(Clone, Debug)]
pub struct Block {
    /// What it is called; none where that could not be read.
    pub title: Option<Placed<String>>,
    /// The club file's name, as written.
    pub club_file: Option<Placed<String>>,
    /// The club's defaults.
    pub club: Option<Club>,
    /// What it is for, in the coach's words.
    pub note: Option<Placed<String>>,
    /// Swum without a stop today.
    pub from: Option<Placed<Distance>>,
    /// To be swum without a stop at the end.
    pub goal: Option<Placed<Distance>>,
    /// The first day of the first week.
    pub begins: Option<Placed<Date>>,
    /// The days with sessions.
    pub days: Vec<Placed<Weekday>>,
    /// When sessions start.
    pub starts: Option<Placed<TimeOfDay>>,
    /// How long the lane is booked.
    pub booked: Option<Placed<Seconds>>,
    /// The most a week may grow, in per cent.
    pub growth: Option<Placed<u32>>,
    /// The most the longest swim may grow, in per cent.
    pub longest_growth: Option<Placed<u32>>,
    /// The pool of drafted sessions.
    pub pool: Option<Placed<Pool>>,
    /// The level of drafted sessions.
    pub level: Option<Placed<Level>>,
    /// The pace of drafted sessions, per 100 of their pool's unit.
    pub pace: Option<Placed<Seconds>>,
    /// The gear there is for drafted sessions.
    pub gear: Vec<Placed<String>>,
    /// Warnings the coach means.
    pub allow: Vec<Allow>,
    /// Weeks in order.
    pub weeks: Vec<Week>,
}

/// A week as written.
#[derive(Clone, Debug)]
pub struct Week {
    /// Its first day, where it is stated.
    pub date: Option<Placed<Date>>,
    /// The coach's own name for it.
    pub title: Option<Placed<String>>,
    /// Whether it is meant to be easier.
    pub easier: Option<Placed<bool>>,
    /// Its sessions in order.
    pub sessions: Vec<Entry>,
    /// Whether all of it could be read; what seems missing may only be misspelt.
    pub read_whole: bool,
    /// Where the week is written.
    pub place: Place,
}

/// A session of a week.
#[derive(Clone, Debug)]
pub enum Entry {
    /// A file.
    File(NamedFile),
    /// A wish to draft.
    Wish(Box<WishEntry>),
}

/// A session that is a file.
#[derive(Clone, Debug)]
pub struct NamedFile {
    /// Its name, relative to the block file.
    pub file: Placed<String>,
    /// Its day, where the block says it.
    pub date: Option<Placed<Date>>,
    /// When it starts, where the block says it.
    pub starts: Option<Placed<TimeOfDay>>,
}

/// A session to be drafted.
#[derive(Clone, Debug)]
pub struct WishEntry {
    /// What it develops.
    pub goal: Placed<Goal>,
    /// The one skill it attends to.
    pub focus: Option<Placed<String>>,
    /// How many minutes it fills.
    pub minutes: Option<Placed<u32>>,
    /// Its distance.
    pub distance: Option<Placed<Distance>>,
    /// A swim without a stop in it.
    pub unbroken: Option<Placed<Distance>>,
    /// Its pool.
    pub pool: Option<Placed<Pool>>,
    /// Its level.
    pub level: Option<Placed<Level>>,
    /// Its pace.
    pub pace: Option<Placed<Seconds>>,
    /// The gear there is.
    pub gear: Option<Vec<Placed<String>>>,
    /// Which of the sessions that meet the wish.
    pub variant: Option<Placed<u32>>,
    /// Its day.
    pub date: Option<Placed<Date>>,
    /// When it starts.
    pub starts: Option<Placed<TimeOfDay>>,
    /// Where the wish is written.
    pub place: Place,
}

/// A block whose sessions are all there and without errors; only [`check`] makes one.
#[derive(Debug)]
pub struct CheckedBlock {
    pub(crate) title: Placed<String>,
    pub(crate) club: Option<Club>,
    pub(crate) note: Option<Placed<String>>,
    pub(crate) from: Option<Placed<Distance>>,
    pub(crate) goal: Option<Placed<Distance>>,
    pub(crate) weeks: Vec<CheckedWeek>,
}

impl CheckedBlock {
    /// What it is called.
    pub fn title(&self) -> &Placed<String> {
        &self.title
    }

    /// The club's defaults.
    pub fn club(&self) -> Option<&Club> {
        self.club.as_ref()
    }

    /// What it is for, in the coach's words.
    pub fn note(&self) -> Option<&Placed<String>> {
        self.note.as_ref()
    }

    /// Swum without a stop at its begin.
    pub fn from(&self) -> Option<&Placed<Distance>> {
        self.from.as_ref()
    }

    /// To be swum without a stop at its end.
    pub fn goal(&self) -> Option<&Placed<Distance>> {
        self.goal.as_ref()
    }

    /// Weeks in order.
    pub fn weeks(&self) -> &[CheckedWeek] {
        &self.weeks
    }
}

/// A week with its sessions worked out.
#[derive(Debug)]
pub struct CheckedWeek {
    /// From 1.
    pub number: u32,
    /// Its first day, if known.
    pub date: Option<Date>,
    /// The coach's own name for it.
    pub title: Option<Placed<String>>,
    /// Whether it is an easier week: lighter than the last full one by a tenth or more (a choice
    /// of this program), or lighter and marked so.
    pub easier: bool,
    /// Its sessions in order.
    pub sessions: Vec<BlockSession>,
    /// The distance of all its sessions.
    pub total: TrueLength,
    /// By how much it is longer than the last full week, in tenths of a per cent, rounded
    /// half away from zero; none for the first week.
    pub growth_permille: Option<i64>,
    /// The longest swim without a stop of any of its sessions.
    pub longest: TrueLength,
}

/// A session of a week, worked out as written.
#[derive(Debug)]
pub struct BlockSession {
    /// In its week, from 1.
    pub number: u32,
    /// The file's name as the block has it; none where the session is drafted.
    pub file: Option<String>,
    /// Its day, if known.
    pub date: Option<Date>,
    /// When it starts, if known.
    pub starts: Option<TimeOfDay>,
    /// How long the lane is booked, if known.
    pub booked: Option<Seconds>,
    /// The session file, then its club file; its findings point into these.
    pub sources: Vec<Source>,
    /// The session and its plans.
    pub ready: Ready,
    /// What was noticed in the session itself: warnings.
    pub findings: Vec<Finding>,
    /// The longest swim without a stop.
    pub longest: Distance,
}

impl BlockSession {
    /// Its whole distance.
    pub fn distance(&self) -> Distance {
        self.ready.written.plan.distance()
    }

    /// "week 3, session 2" is the name of the second session of week 3.
    pub fn called(&self, week: &CheckedWeek) -> String {
        format!("week {}, session {}", week.number, self.number)
    }
}

impl CheckedBlock {
    /// Every session with its week, in order.
    pub fn sessions(&self) -> impl Iterator<Item = (&CheckedWeek, &BlockSession)> {
        self.weeks.iter().flat_map(|week| week.sessions.iter().map(move |session| (week, session)))
    }

    /// The unit all its sessions are swum in; none where there are both, or no sessions.
    pub fn unit(&self) -> Option<Unit> {
        let mut units = self.sessions().map(|(_, session)| session.distance().unit());
        let first = units.next()?;
        units.all(|unit| unit == first).then_some(first)
    }

    /// A total as text, in the unit all sessions share, else in metres to the nearest:
    /// "1,500 m".
    pub fn in_words(&self, length: TrueLength) -> String {
        length.in_unit(self.unit().unwrap_or(Unit::Metre)).with_commas()
    }
}
