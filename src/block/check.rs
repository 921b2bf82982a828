//! Opens the sessions of a block, puts them on their days and adds up the weeks.

use super::dates::{self, WEEK_DAYS};
use super::{Block, BlockSession, CheckedWeek, Entry, NamedFile, WishEntry, rules};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::intake::Intake;
use crate::measure::{Date, Lengths, Seconds, TimeOfDay, TrueLength};
use crate::plan::Plan;
use crate::reader::FileKind;
use crate::session::words::Mode;
use crate::source::LoadError;

/// Where the sessions of a block come from.
pub struct Shelf<'a> {
    /// Opens a session file by its name as written.
    pub open: &'a dyn Fn(&str) -> Result<Intake, LoadError>,
    /// Drafts a session; an error says in words what would have to give.
    pub draft: &'a dyn Fn(&Block, &WishEntry) -> Result<Intake, String>,
}

/// A week as far as its sessions could be opened.
pub(super) struct Looked<'a> {
    pub written: &'a super::Week,
    pub checked: CheckedWeek,
    /// Whether all its sessions are there, so that its totals are true.
    pub whole: bool,
}

/// Opens the sessions of every week, puts them on their days and adds up the weeks. With the
/// weeks come the sessions that have errors, so that these can be reported as well.
pub(super) fn look<'b>(
    block: &'b Block,
    shelf: &Shelf<'_>,
    findings: &mut Vec<Finding>,
) -> (Vec<Looked<'b>>, Vec<Intake>) {
    let mut failed = Vec::new();
    let mut weeks: Vec<Looked<'_>> = Vec::new();
    let mut begins = None;
    for (index, week) in block.weeks.iter().enumerate() {
        begins = first_day(block, week, begins, index == 0, findings);
        let mut builder = WeekBuilder { block, begins, shelf, findings, failed: &mut failed };
        let sessions = builder.sessions(week);
        let whole = week.read_whole && sessions.len() == week.sessions.len();
        let number = u32::try_from(index + 1).unwrap_or(u32::MAX);
        let checked = summed(week, number, begins, sessions, &weeks);
        weeks.push(Looked { written: week, checked, whole });
    }
    (weeks, failed)
}

/// The first day of a week: as stated, or seven days after the one before.
fn first_day(
    block: &Block,
    week: &super::Week,
    before: Option<Date>,
    is_first: bool,
    findings: &mut Vec<Finding>,
) -> Option<Date> {
    let follows = before.and_then(|before| dates::days_after(before, WEEK_DAYS));
    let Some(stated) = &week.date else {
        return if is_first { block.begins.as_ref().map(|begins| begins.value) } else { follows };
    };
    let (earliest, label) = if is_first {
        (block.begins.as_ref().map(|begins| begins.value), "the block begins")
    } else {
        (follows, "the week before ends")
    };
    if let Some(earliest) = earliest
        && dates::days_between(earliest, stated.value).is_some_and(|days| days < 0)
    {
        findings.push(
            Finding::new(
                &rules::BLOCK_DATES,
                format!("the week from {} begins before {label}", stated.value),
            )
            .label(stated.place, format!("{earliest} at the earliest"))
            .help(format!("write: date = {earliest}")),
        );
    }
    Some(stated.value)
}

/// Opens the sessions of one week.
struct WeekBuilder<'a> {
    block: &'a Block,
    begins: Option<Date>,
    shelf: &'a Shelf<'a>,
    findings: &'a mut Vec<Finding>,
    failed: &'a mut Vec<Intake>,
}

impl WeekBuilder<'_> {
    fn sessions(&mut self, week: &super::Week) -> Vec<BlockSession> {
        let days: Vec<_> = self.block.days.iter().map(|day| day.value).collect();
        let usual = self.begins.map(|first| dates::session_dates(first, &days)).unwrap_or_default();
        let mut sessions: Vec<BlockSession> = Vec::new();
        for (index, entry) in week.sessions.iter().enumerate() {
            let opened = match entry {
                Entry::File(file) => self.opened(file),
                Entry::Wish(wish) => self.drafted(wish),
            };
            let Some(intake) = opened else { continue };
            let number = u32::try_from(index + 1).unwrap_or(u32::MAX);
            let Some(session) = self.placed(entry, intake, number, usual.get(index).copied())
            else {
                continue;
            };
            self.check_date(entry, &session, sessions.last().and_then(|before| before.date));
            sessions.push(session);
        }
        sessions
    }

    fn opened(&mut self, file: &NamedFile) -> Option<Intake> {
        let name = &file.file;
        match (self.shelf.open)(&name.value) {
            Ok(intake) => Some(intake),
            Err(error) => {
                self.findings.push(
                    Finding::new(
                        &rules::SESSION_MISSING,
                        format!("the session \"{}\" cannot be opened", name.value),
                    )
                    .label(name.place, error.to_string())
                    .help("its name is looked for from the block file's folder on"),
                );
                None
            }
        }
    }

    fn drafted(&mut self, wish: &WishEntry) -> Option<Intake> {
        match (self.shelf.draft)(self.block, wish) {
            Ok(intake) => Some(intake),
            Err(reason) => {
                self.findings.push(
                    Finding::new(
                        &rules::WISH_UNMET,
                        format!("no session is drafted here: {reason}"),
                    )
                    .label(wish.place, "this wish"),
                );
                None
            }
        }
    }

    /// The session with its day; none, and a finding, where it has errors.
    fn placed(
        &mut self,
        entry: &Entry,
        intake: Intake,
        number: u32,
        usual: Option<Date>,
    ) -> Option<BlockSession> {
        if intake.ready.is_none() {
            self.findings.push(fails(entry, &intake));
            self.failed.push(intake);
            return None;
        }
        let Intake { sources, ready, findings, .. } = intake;
        let ready = ready?;
        let session = &ready.session;
        let (date, starts) = (entry.date(), entry.starts());
        let fallback = |own: Option<TimeOfDay>, of_block: &Option<Placed<TimeOfDay>>| {
            own.or(of_block.as_ref().map(|starts| starts.value))
        };
        Some(BlockSession {
            number,
            file: entry.file().map(|file| file.value.clone()),
            date: date.map(|date| date.value).or(session.date).or(usual),
            starts: starts
                .map(|starts| starts.value)
                .or_else(|| fallback(session.starts, &self.block.starts)),
            booked: booked(entry, session.booked.as_ref(), self.block.booked.as_ref()),
            longest: ready.written.plan.pool.distance(longest_swim(&ready.written.plan)),
            sources,
            ready,
            findings,
        })
    }

    /// A session's day against its week, its own file and the session before it.
    fn check_date(&mut self, entry: &Entry, session: &BlockSession, before: Option<Date>) {
        let Some(date) = session.date else { return };
        let place = entry.date().map_or(entry.place(), |date| date.place);
        let mut report = |title: String, label: String| {
            self.findings.push(Finding::new(&rules::BLOCK_DATES, title).label(place, label));
        };
        if let Some(own) = session.ready.session.date.filter(|own| *own != date) {
            report(
                format!("the session is on {date} here and on {own} in its file"),
                String::new(),
            );
        }
        let after = self.begins.and_then(|begins| dates::days_between(begins, date));
        if let (Some(begins), Some(after)) = (self.begins, after)
            && !(0..7).contains(&after)
        {
            let last = dates::days_after(begins, WEEK_DAYS - 1).unwrap_or(begins);
            report(
                format!("the session on {date} is not in its week"),
                format!("the week goes from {begins} to {last}"),
            );
        }
        if let Some(before) = before
            && dates::days_between(before, date).is_some_and(|days| days < 0)
        {
            report(
                format!("the session on {date} is before the one above it"),
                format!("the one above is on {before}"),
            );
        }
    }
}

/// A file's own booking comes first; a wish has none of its own, and its draft has but the
/// minutes wished.
fn booked(
    entry: &Entry,
    own: Option<&Placed<Seconds>>,
    of_block: Option<&Placed<Seconds>>,
) -> Option<Seconds> {
    let booked = match entry {
        Entry::File(_) => own.or(of_block),
        Entry::Wish(_) => of_block.or(own),
    };
    booked.map(|booked| booked.value)
}

impl Entry {
    /// Where it is written.
    pub fn place(&self) -> Place {
        match self {
            Entry::File(file) => file.file.place,
            Entry::Wish(wish) => wish.place,
        }
    }

    /// The file's name, where it is one.
    pub fn file(&self) -> Option<&Placed<String>> {
        match self {
            Entry::File(file) => Some(&file.file),
            Entry::Wish(_) => None,
        }
    }

    fn date(&self) -> Option<&Placed<Date>> {
        match self {
            Entry::File(file) => file.date.as_ref(),
            Entry::Wish(wish) => wish.date.as_ref(),
        }
    }

    fn starts(&self) -> Option<&Placed<TimeOfDay>> {
        match self {
            Entry::File(file) => file.starts.as_ref(),
            Entry::Wish(wish) => wish.starts.as_ref(),
        }
    }
}

fn fails(entry: &Entry, intake: &Intake) -> Finding {
    let name = entry.file().map_or("drafted here", |file| file.value.as_str());
    let errors = intake.findings.iter().filter(|finding| finding.is_error()).count();
    let first = intake.findings.iter().find(|finding| finding.is_error());
    let (title, label) = match first {
        _ if intake.kind != FileKind::Session => {
            (format!("\"{name}\" is {} and no session", intake.kind), String::new())
        }
        Some(first) if errors > 1 => (
            format!("the session \"{name}\" has {errors} errors"),
            format!("the first: {}", at_line(first, intake)),
        ),
        Some(first) => (format!("the session \"{name}\" has an error"), at_line(first, intake)),
        None => (format!("the session \"{name}\" cannot be read"), String::new()),
    };
    Finding::new(&rules::SESSION_FAILS, title)
        .label(entry.place(), label)
        .help(format!("deckcard check {name} reports all of it"))
}

/// "line 17: 60 m is not a whole number of lengths".
fn at_line(finding: &Finding, intake: &Intake) -> String {
    let place = finding.place().filter(|place| place.file == FileId::MAIN);
    match (place, intake.sources.first()) {
        (Some(place), Some(source)) => {
            format!("line {}: {}", source.position(place.start).line, finding.title)
        }
        _ => finding.title.clone(),
    }
}

/// The longest swim without a stop: one repeat, or all repeats where they have no rest.
/// Kick, pull, drill and scull are not counted.
pub(crate) fn longest_swim(plan: &Plan) -> Lengths {
    let sets = plan.parts.iter().flat_map(|part| part.sets());
    let swims = sets.filter(|set| set.mode() == Mode::Swim).map(|set| {
        let repeats = if set.rest() == Seconds::ZERO { set.repeats() } else { 1 };
        set.longest().get().saturating_mul(repeats)
    });
    Lengths::new(swims.max().unwrap_or(0))
}

/// The sums of a week, and whether it is an easier one.
fn summed(
    week: &super::Week,
    number: u32,
    date: Option<Date>,
    sessions: Vec<BlockSession>,
    before: &[Looked<'_>],
) -> CheckedWeek {
    let none = TrueLength::from_grid(0);
    let lengths = sessions.iter().map(|session| session.distance().true_length());
    let total = lengths.fold(none, TrueLength::plus);
    let longest = sessions.iter().map(|session| session.longest.true_length()).max();
    let last_full = last_full(before).map(|full| full.checked.total);
    let marked = week.easier.as_ref().is_some_and(|easier| easier.value);
    let easier = match last_full {
        Some(full) => {
            let lighter = u128::from(total.grid()) * 10 <= u128::from(full.grid()) * 9;
            lighter || (marked && total < full)
        }
        None => marked,
    };
    CheckedWeek {
        number,
        date,
        title: week.title.clone(),
        easier,
        sessions,
        total,
        growth_permille: last_full.and_then(|full| permille_more(full, total)),
        longest: longest.unwrap_or(none),
    }
}

/// The last week before that was not an easier one.
pub(super) fn last_full<'a, 'b>(before: &'a [Looked<'b>]) -> Option<&'a Looked<'b>> {
    before.iter().rev().find(|week| !week.checked.easier)
}

/// By how many thousandths `now` is more than `before`, rounded half away from zero.
fn permille_more(before: TrueLength, now: TrueLength) -> Option<i64> {
    let (before, now) = (i128::from(before.grid()), i128::from(now.grid()));
    let twice = (now - before) * 2000;
    let rounded = if twice >= 0 { twice + before } else { twice - before };
    i64::try_from(rounded.checked_div(2 * before)?).ok()
}
