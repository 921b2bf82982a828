//! Fits a session file to a distance, a time, a pool or a level by editing its text: what
//! is not changed stays as the coach wrote it, comments, order and spelling.

use std::ops::Range;

use thiserror::Error;
use toml::de::{DeTable, DeValue};

mod chalk_edit;

use crate::check::{CheckedLine, CheckedSession, CheckedSet, Timing};
use crate::measure::{Distance, Pace, Pool, Seconds, Unit};
use crate::plan::recut::{Impossible, Recut, Target, recut};
use crate::session::words::Level;
use crate::source::Source;

/// What a session is to be fitted to; any of these together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wanted {
    /// A time, never passed.
    pub time: Option<Seconds>,
    /// A distance.
    pub distance: Option<Distance>,
    /// Another pool.
    pub pool: Option<Pool>,
    /// Another level, by whose bands the recut is judged.
    pub level: Option<Level>,
}

/// A session file's text, fitted.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// The whole file.
    pub text: String,
    /// The session it holds, and what is other than it was.
    pub recut: Recut,
    /// What the coach should look at besides.
    pub notes: Vec<Note>,
}

/// Something a fitted file needs a look at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Note {
    /// The pace is now per 100 of the other unit.
    PaceConverted {
        /// As written.
        from: Seconds,
        /// As it is now.
        to: Seconds,
    },
    /// Strokes per length were counted in another pool.
    CountStrokesAgain,
    /// The file has a changed value that could not be edited.
    SeeByHand,
}

impl std::fmt::Display for Note {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Note::PaceConverted { from, to } => {
                write!(f, "the pace {from} is now {to}, per 100 of the new pool's unit")
            }
            Note::CountStrokesAgain => {
                f.write_str("strokes_per_length was counted in the other pool: count again")
            }
            Note::SeeByHand => f.write_str("a changed value could not be found in the file"),
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
    #[error("{distance} takes {takes}, longer than {wanted}")]
    TooLong {
        /// The distance it came to.
        distance: Distance,
        /// How long that takes.
        takes: Seconds,
        /// The time wanted.
        wanted: Seconds,
    },
}

/// Fits `session`, which was read from `source`.
pub fn fit(source: &Source, session: &CheckedSession, wanted: &Wanted) -> Result<Fitted, FitError> {
    if *wanted == Wanted::default() {
        return Err(FitError::NothingWanted);
    }
    let pool = wanted.pool.unwrap_or(session.pool.value);
    let mut judged = session.clone();
    if let Some(level) = wanted.level {
        judged.level.value = level;
    }
    judged.pace = converted(session.pace, pool.unit());
    let recut = match (wanted.distance, wanted.time) {
        (Some(distance), time) => {
            let cut = recut(&judged, pool, None, Target::Distance(distance))?;
            if let Some(wanted) = time.filter(|time| cut.seconds > *time) {
                let (distance, takes) = (cut.distance(), cut.seconds);
                return Err(FitError::TooLong { distance, takes, wanted });
            }
            cut
        }
        (None, Some(time)) => recut(&judged, pool, None, Target::Time(time))?,
        (None, None) => recut(&judged, pool, None, Target::Equal)?,
    };
    let mut editor = Editor::new(source, session, pool);
    editor.head(&judged);
    editor.parts(&recut.session);
    let (text, notes) = editor.done();
    Ok(Fitted { text, recut, notes })
}

/// A pace per 100 of `unit`. Seconds are dropped, not rounded up, so that every send-off
/// that could be made still can.
fn converted(pace: Pace, unit: Unit) -> Pace {
    if pace.unit == unit {
        return pace;
    }
    let hundred = |unit| u128::from(Distance::whole(100, unit).true_length().grid());
    let per_100 = u128::from(pace.per_100.get()) * hundred(unit) / hundred(pace.unit);
    Pace { per_100: Seconds::new(u32::try_from(per_100).unwrap_or(u32::MAX)), unit }
}

/// Collects edits of a file's bytes.
struct Editor<'a> {
    source: &'a Source,
    written: &'a CheckedSession,
    pool: Pool,
    root: DeTable<'a>,
    edits: Vec<(Range<usize>, String)>,
    notes: Vec<Note>,
}

impl<'a> Editor<'a> {
    fn new(source: &'a Source, written: &'a CheckedSession, pool: Pool) -> Self {
        // It was read before, so it parses; a fault would only leave values unedited.
        let (root, _) = DeTable::parse_recoverable(source.text());
        let root = root.into_inner();
        Self { source, written, pool, root, edits: Vec::new(), notes: Vec::new() }
    }

    /// The keys at the head of the file, and the lanes.
    fn head(&mut self, judged: &CheckedSession) {
        let span_of = |root: &DeTable<'a>, key: &str| root.get(key).map(|value| value.span());
        if judged.level.value != self.written.level.value {
            let level = span_of(&self.root, "level");
            self.quoted(level, &judged.level.value.to_string());
        }
        let home = self.written.pool.value;
        if self.pool == home {
            return;
        }
        let (pool, pace) = (span_of(&self.root, "pool"), span_of(&self.root, "pace"));
        self.quoted(pool, &self.pool.to_string());
        if judged.pace != self.written.pace {
            let (from, to) = (self.written.pace.per_100, judged.pace.per_100);
            self.quoted(pace, &to.to_string());
            self.notes.push(Note::PaceConverted { from, to });
            for lane in &self.written.lanes {
                let pace = Pace { per_100: lane.pace.value, unit: home.unit() };
                let per_100 = converted(pace, self.pool.unit()).per_100;
                self.quoted(Some(lane.pace.place.span()), &per_100.to_string());
            }
        }
        // The file's other pool may be the very one it is fitted to.
        if let Some(also) = span_of(&self.root, "also")
            && self.written.other_pool == self.pool
        {
            self.quoted(Some(also), &home.to_string());
        }
        let lanes_count = self.written.lanes.iter().any(|lane| lane.strokes_per_length.is_some());
        if self.written.strokes_per_length.is_some() || lanes_count {
            self.notes.push(Note::CountStrokesAgain);
        }
    }

    /// Every set line, beside its place in the tree.
    fn parts(&mut self, cut: &CheckedSession) {
        let mut changes = Vec::new();
        let tables = array(self.root.get("part").map(|part| part.get_ref()));
        for ((part, cut), table) in self.written.parts.iter().zip(&cut.parts).zip(tables) {
            let lines = array(table.get("sets").map(|sets| sets.get_ref()));
            for ((line, cut), table) in part.lines.iter().zip(&cut.lines).zip(lines) {
                self.line(line, cut, table, &mut changes);
            }
        }
        for change in changes {
            match change {
                TextChange::Bare(span, text) => self.edits.push((span, text)),
                TextChange::Quoted(span, text) => self.quoted(Some(span), &text),
                TextChange::Lost => self.notes.push(Note::SeeByHand),
            }
        }
    }

    fn line(
        &self,
        written: &CheckedLine,
        cut: &CheckedLine,
        table: &DeTable<'_>,
        changes: &mut Vec<TextChange>,
    ) {
        match (written, cut) {
            (CheckedLine::Set(written), CheckedLine::Set(cut)) => {
                self.set(written, cut, table, changes);
            }
            (
                CheckedLine::Rounds { count, lines, .. },
                CheckedLine::Rounds { count: new, lines: cut, .. },
            ) => {
                if count != new {
                    let rounds = table.get("rounds").map(|rounds| rounds.span());
                    changes.push(match rounds {
                        Some(span) => TextChange::Bare(span, new.to_string()),
                        None => TextChange::Lost,
                    });
                }
                let tables = array(table.get("sets").map(|sets| sets.get_ref()));
                for ((line, cut), table) in lines.iter().zip(cut).zip(tables) {
                    self.line(line, cut, table, changes);
                }
            }
            _ => changes.push(TextChange::Lost),
        }
    }

    fn set(
        &self,
        written: &CheckedSet,
        cut: &CheckedSet,
        table: &DeTable<'_>,
        changes: &mut Vec<TextChange>,
    ) {
        let moved = self.pool != self.written.pool.value;
        if moved || (written.repeats, written.each) != (cut.repeats, cut.each) {
            let swim = table.get("swim").and_then(|swim| {
                let line = chalk_edit::rechalked(swim.get_ref().as_str()?, cut, self.pool);
                Some(TextChange::Quoted(swim.span(), line))
            });
            changes.push(swim.unwrap_or(TextChange::Lost));
        }
        if let Timing::SendOff(every) = cut.timing.value
            && cut.timing.value != written.timing.value
        {
            let on = table.get("on").map(|on| TextChange::Quoted(on.span(), every.to_string()));
            changes.push(on.unwrap_or(TextChange::Lost));
        }
    }

    /// Puts `text` in place of a value, in the quotes it had.
    fn quoted(&mut self, span: Option<Range<usize>>, text: &str) {
        let Some(span) = span else {
            self.notes.push(Note::SeeByHand);
            return;
        };
        let quote = match self.source.slice(span.clone()).chars().next() {
            Some('\'') => '\'',
            _ => '"',
        };
        let text = format!("{quote}{text}{quote}");
        if text != self.source.slice(span.clone()) {
            self.edits.push((span, text));
        }
    }

    /// The edited text.
    fn done(mut self) -> (String, Vec<Note>) {
        let edits = self.edits.iter().map(|(span, new)| (span.clone(), new.as_str())).collect();
        let (text, _) = self.source.edited(edits);
        self.notes.dedup();
        (text, self.notes)
    }
}

/// A change of a value, before it is put into the text.
enum TextChange {
    Bare(Range<usize>, String),
    Quoted(Range<usize>, String),
    Lost,
}

/// The tables of a list.
fn array<'t, 'd>(value: Option<&'t DeValue<'d>>) -> Vec<&'t DeTable<'d>> {
    let items = value.and_then(|value| value.as_array());
    items.into_iter().flatten().filter_map(|item| item.get_ref().as_table()).collect()
}
