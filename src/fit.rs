//! Fits a session file to a distance, a time, a pool or a level by editing its text: what
//! is not changed stays as the coach wrote it, comments, order and spelling.

use thiserror::Error;

mod chalk_edit;
mod head;

pub(crate) use head::booking;

use crate::check::cue::Swum;
use crate::check::{CheckedLine, CheckedSession, CheckedSet, Timing, each_set};
use crate::finding::Place;
use crate::measure::{Distance, Pace, Pool, Seconds};
use crate::plan::recut::{self, Changed, CutSwim, Impossible, Recut, Target, recut_into_bands};
use crate::reader::quoted;
use crate::session::words::Level;
use crate::source::Source;

/// What a session is to be fitted to; any of these together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wanted {
    /// A time, never passed.
    pub time: Option<Seconds>,
    /// A distance.
    pub distance: Option<Distance>,
    /// Another pool. Alone it gives the version that is printed for that pool.
    pub pool: Option<Pool>,
    /// Another level: parts are drawn into its bands.
    pub level: Option<Level>,
}

/// A session file's text, fitted.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// The whole file.
    pub text: String,
    /// The session it holds, and what is other than it was.
    pub recut: Recut,
    /// What else the coach should know.
    pub notes: Vec<Note>,
}

/// Something besides the sets that is other in a fitted file, or needs a look.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Note {
    /// The level is another.
    Level {
        /// As written.
        from: Level,
        /// As it is now.
        to: Level,
    },
    /// The booking is the time that was wanted.
    Booked {
        /// As written.
        from: Seconds,
        /// As it is now.
        to: Seconds,
    },
    /// A pace is the same, and says of which unit it is, since the pool's is another now.
    PaceKept {
        /// The lane, where it is a lane's.
        lane: Option<String>,
        /// The pace.
        pace: Pace,
    },
    /// Strokes per length were counted in another pool.
    CountStrokesAgain,
    /// More than a minute of the wanted time is left.
    Left(recut::Left),
    /// A set changed beside a cue that names its numbers, a time or lengths.
    CueNamesOthers {
        /// The set as it is now.
        set: CutSwim,
        /// What it names.
        names: &'static str,
        /// Its cue.
        cue: String,
    },
}

impl std::fmt::Display for Note {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Note::Level { from, to } => write!(f, "level: {from} becomes {to}"),
            Note::Booked { from, to } => {
                write!(f, "booked: {} becomes {}", head::booking(*from), head::booking(*to))
            }
            Note::PaceKept { lane: None, pace } => {
                write!(f, "pace: it stays {} per 100 {}", pace.per_100, pace.unit)
            }
            Note::PaceKept { lane: Some(lane), pace } => {
                write!(f, "pace of {lane}: it stays {} per 100 {}", pace.per_100, pace.unit)
            }
            Note::Left(left) => {
                let (unused, takes) = (left.unused.spoken(), left.takes.spoken());
                let more = &left.more;
                match left.ends_away && left.takes <= left.unused {
                    true => write!(
                        f,
                        "{unused} of the time are left: {more} more takes {takes}, and would end at the \
                         far wall"
                    ),
                    false => write!(
                        f,
                        "{unused} of the time are left: the least to add, {more}, takes {takes}"
                    ),
                }
            }
            Note::CueNamesOthers { set, names, cue } => {
                write!(f, "its cue names {names}, change it: {set}, \"{cue}\"")
            }
            Note::CountStrokesAgain => f.write_str(
                "strokes_per_length was counted in the other pool: count again; it has a # before it \
                 until then",
            ),
        }
    }
}

/// Why a session could not be fitted.
#[derive(Debug, Error)]
pub enum FitError {
    /// Nothing was asked.
    #[error("nothing to fit it to: give minutes, a distance, a pool or a level")]
    NothingWanted,
    /// There is no such recut.
    #[error(transparent)]
    Impossible(#[from] Impossible),
    /// The wanted distance takes longer than the wanted time.
    #[error(
        "{} takes {takes}, longer than {wanted}; the most that comes out in that time is {}",
        distance.with_commas(),
        most.with_commas()
    )]
    TooLong {
        /// The distance it has.
        distance: Distance,
        /// How long that takes.
        takes: Seconds,
        /// The time wanted.
        wanted: Seconds,
        /// The longest that comes out in the time wanted.
        most: Distance,
    },
}

/// Fits `session`, which was read from `source`, to what is wanted, by edits of its text. All that
/// is not changed keeps its bytes.
///
/// # Errors
///
/// Where there is no such session: the nearest there is, and why there is none nearer.
pub fn fit(source: &Source, session: &CheckedSession, wanted: &Wanted) -> Result<Fitted, FitError> {
    if *wanted == Wanted::default() {
        return Err(FitError::NothingWanted);
    }
    let pool = wanted.pool.unwrap_or(session.pool.value);
    let mut judged = session.clone();
    if let Some(level) = wanted.level {
        judged.level.value = level;
    }
    // A time that is wanted is how long the lane is had: what is cut for lanes keeps to it too.
    if let (Some(time), Some(booked)) = (wanted.time, &mut judged.booked) {
        booked.value = time;
    }
    let recut = cut(&judged.swum_by(None), pool, wanted)?;
    // A distance that is asked for is swum, and the lane had for as long as it takes.
    if let Some(booked) = &mut judged.booked
        && wanted.distance.is_some()
        && booked.value < recut.seconds
    {
        booked.value = booked_for(recut.seconds);
    }
    let mut editor = Editor {
        source,
        written: session,
        pool,
        settled: vec![],
        edits: vec![],
        new_keys: None,
        notes: vec![],
    };
    editor.head(&judged);
    let first = session.swum_by(None);
    editor.parts(&first, &recut);
    editor.settled = places(&first);
    // What only some lanes swim is cut with all else that they do.
    for lane in session.lanes.iter().filter(|_| session.has_sets_of_lanes()) {
        let (own, its) = (judged.swum_by(Some(lane)), session.swum_by(Some(lane)));
        editor.parts(&its, &cut(&own, pool, wanted)?);
        editor.settled.extend(places(&its));
    }
    editor.cues(&recut);
    let left = wanted.time.and_then(|time| recut::left_of(&recut, time));
    editor.notes.extend(left.filter(|_| wanted.distance.is_none()).map(Note::Left));
    let edits = editor.edits.iter().map(|(place, new)| (place.span(), new.as_str())).collect();
    let (text, _) = source.edited(edits);
    Ok(Fitted { text, recut, notes: editor.notes })
}

/// Lanes are had by five minutes (common practice, no source).
const BOOKED_BY_S: u32 = 300;

/// The shortest booking that holds `time`.
fn booked_for(time: Seconds) -> Seconds {
    Seconds::new(time.get().div_ceil(BOOKED_BY_S).saturating_mul(BOOKED_BY_S))
}

/// The session as wanted.
fn cut(judged: &CheckedSession, pool: Pool, wanted: &Wanted) -> Result<Recut, FitError> {
    let to = |target| match wanted.level {
        Some(_) => recut_into_bands(judged, pool, target),
        None => recut::recut(judged, pool, None, target),
    };
    match (wanted.distance, wanted.time) {
        (Some(distance), time) => {
            let cut = to(Target::Distance(distance))?;
            let Some(wanted) = time.filter(|time| cut.seconds > *time) else { return Ok(cut) };
            let most = to(Target::Time(wanted))?.distance();
            Err(FitError::TooLong { distance: cut.distance(), takes: cut.seconds, wanted, most })
        }
        (None, Some(time)) => Ok(to(Target::Time(time))?),
        (None, None) if wanted.level.is_none() => Ok(recut::for_pool(judged, pool)),
        (None, None) => {
            // At another level too, a booking that was kept is not passed.
            let own = recut::for_pool(judged, judged.pool.value).seconds;
            let booked = judged.booked.as_ref().map(|booked| booked.value);
            Ok(to(booked.filter(|booked| own <= *booked).map_or(Target::Equal, Target::AtMost))?)
        }
    }
}

/// Where the sets and the rounds of a session are written.
fn places(session: &CheckedSession) -> Vec<Place> {
    fn add(lines: &[CheckedLine], into: &mut Vec<Place>) {
        for line in lines {
            match line {
                CheckedLine::Set(set) => into.push(set.place),
                CheckedLine::Rounds { lines, place, .. } => {
                    into.push(*place);
                    add(lines, into);
                }
                CheckedLine::Activity(_) | CheckedLine::Remark(_) => {}
            }
        }
    }
    let mut all = Vec::new();
    session.parts.iter().for_each(|part| add(&part.lines, &mut all));
    all
}

/// Collects edits of a file's text.
struct Editor<'a> {
    source: &'a Source,
    written: &'a CheckedSession,
    pool: Pool,
    /// Sets and rounds that are as they are to be, whatever another lane would make of them.
    settled: Vec<Place>,
    edits: Vec<(Place, String)>,
    /// Lines for the head of the file: keys that were the club's.
    new_keys: Option<String>,
    notes: Vec<Note>,
}

impl Editor<'_> {
    fn parts(&mut self, written: &CheckedSession, cut: &Recut) {
        for (part, cut) in written.parts.iter().zip(&cut.session.parts) {
            self.lines(&part.lines, &cut.lines);
        }
    }

    fn lines(&mut self, written: &[CheckedLine], cut: &[CheckedLine]) {
        for (written, cut) in written.iter().zip(cut) {
            match (written, cut) {
                (CheckedLine::Set(written), CheckedLine::Set(cut)) => self.set(written, cut),
                (
                    CheckedLine::Rounds { count, count_place, lines, place, .. },
                    CheckedLine::Rounds { count: new, lines: cut, .. },
                ) => {
                    if count != new && !self.settled.contains(place) {
                        self.edits.push((*count_place, new.to_string()));
                    }
                    self.lines(lines, cut);
                }
                // A recut never makes one of the other.
                _ => {}
            }
        }
    }

    fn set(&mut self, written: &CheckedSet, cut: &CheckedSet) {
        if self.settled.contains(&written.place) {
            return;
        }
        let moved = self.pool != self.written.pool.value;
        if moved || written.swim != cut.swim {
            let place = written.swim_place;
            let raw = self.source.slice(place.span());
            // A line with an escape in it is chalked anew, like any that does not read back.
            let quoted = raw.starts_with(['"', '\'']);
            let line = if quoted { raw.get(1..raw.len().saturating_sub(1)) } else { Some(raw) };
            let line = line.unwrap_or_default();
            let line = chalk_edit::rechalked(line, cut);
            self.put(place, &line);
        }
        if cut.timing.value != written.timing.value {
            match cut.timing.value {
                Timing::SendOff(every) => self.put(written.timing.place, &every.to_string()),
                Timing::Per100(every) => self.put(written.timing.place, &format!("{every}/100")),
                Timing::Rest(_) | Timing::Unsaid(_) => {}
            }
        }
    }

    /// Sets whose numbers are other than those their cue names.
    fn cues(&mut self, recut: &Recut) {
        let mut sets = Vec::new();
        for part in &self.written.parts {
            each_set(&part.lines, 1, &mut |set, _| sets.push(set));
        }
        for change in &recut.changes {
            let Changed::Swim(changed) = &change.what else { continue };
            let to = changed.to.clone();
            let is = Swum { pool: to.pool, repeats: to.repeats, each: to.each };
            let note = sets.iter().find(|set| set.place == change.place).and_then(|set| {
                let names = set.cue_names.lost(set.swum(self.written.pool.value), is)?;
                let cue = set.cue.as_ref()?.value.clone();
                Some(Note::CueNamesOthers { set: to, names, cue })
            });
            self.notes.extend(note);
        }
    }

    /// Puts `text` in place of a value, in the quotes it had.
    fn put(&mut self, place: Place, text: &str) {
        let written = self.source.slice(place.span());
        // A piece of a set line has no quotes of its own.
        if !written.starts_with(['"', '\'']) {
            if text != written {
                self.edits.push((place, text.to_owned()));
            }
            return;
        }
        // Nothing can be escaped between single quotes.
        let is_plain = !text.chars().any(|c| c == '\'' || c.is_control());
        let text = match written.starts_with('\'') && is_plain {
            true => format!("'{text}'"),
            false => quoted(text),
        };
        if text != written {
            self.edits.push((place, text));
        }
    }
}
