//! Edits of the keys at the head of a session file, and of its lanes.

use super::{Editor, Note};
use crate::check::CheckedSession;
use crate::finding::{FileId, Place};
use crate::measure::{Pace, Pool, Seconds, Unit};
use crate::reader::keys::Entry;
use crate::reader::quoted;
use crate::session::is_message;
use crate::session::keys::session as key;

/// A booking as a file has it: minutes, and never a colon.
pub(crate) fn booking(time: Seconds) -> String {
    match (time.get() / 60, time.get() % 60) {
        (minutes, 0) => format!("{minutes} min"),
        (minutes, seconds) => format!("{minutes} min {seconds} s"),
    }
}

/// A pace as a file has it, where a bare one is read as per 100 of `bare`.
fn pace_text(pace: Pace, bare: Unit) -> String {
    match pace.unit == bare {
        true => pace.per_100.to_string(),
        false => format!("{} per 100 {}", pace.per_100, pace.unit),
    }
}

impl Editor<'_> {
    /// The keys at the head of the file, and the lanes, as `judged` has them.
    pub(super) fn head(&mut self, judged: &CheckedSession) {
        let (from, to) = (&self.written.level, judged.level.value);
        if from.value != to {
            self.notes.push(Note::Level { from: from.value, to });
            self.put_key(&key::LEVEL.entry, from.place, &to.to_string());
        }
        if let (Some(from), Some(to)) = (&self.written.booked, &judged.booked)
            && from.value != to.value
        {
            self.notes.push(Note::Booked { from: from.value, to: to.value });
            self.put_key(&key::BOOKED.entry, from.place, &booking(to.value));
        }
        let home = self.written.pool.value;
        if self.pool != home {
            let pool = self.pool.to_string();
            self.put_key(&key::POOL.entry, self.written.pool.place, &pool);
            self.paces(home);
            self.other_pool(home);
            self.strokes();
        }
        if let Some(keys) = self.new_keys.take() {
            let title = self.written.title.place.end;
            let line = self.source.text().get(title..).and_then(|rest| rest.find('\n'));
            // Behind the line of the title, which every session has.
            let end = line.map_or(self.source.text().len(), |at| title + at);
            self.edits.push((Place::new(FileId::MAIN, end..end), keys));
        }
    }

    /// Puts a value of the head in place of another; where that is the club's, which is for all of
    /// its sessions, the key is written into this one.
    fn put_key(&mut self, key: &Entry, place: Place, text: &str) {
        // What a message leaves out has no place in it.
        let is_message = is_message(self.source);
        let is_written = place.file == FileId::MAIN && place.start < place.end;
        match (is_written, is_message) {
            (true, _) => self.put(place, text),
            (false, true) => {
                let keys = self.new_keys.get_or_insert_default();
                *keys += &format!("\n{}: {text}", key.name);
            }
            (false, false) => {
                let keys = self.new_keys.get_or_insert_default();
                *keys += &format!("\n{} = {}", key.name, quoted(text));
            }
        }
    }

    /// Every pace stays what it is: one per 100 of the other unit says so.
    fn paces(&mut self, home: Pool) {
        // The club's says of which unit it is, and so do its lanes'.
        if self.written.pace_place.file != FileId::MAIN {
            self.lanes_by_the_pool(home);
            return;
        }
        let own = self.written.pace;
        let (was, is) = (pace_text(own, home.unit()), pace_text(own, self.pool.unit()));
        if was != is {
            self.put(self.written.pace_place, &is);
            self.notes.push(Note::PaceKept { lane: None, pace: own });
        }
        for lane in &self.written.lanes {
            // A bare pace of a lane is of the unit that the session's has, which stays.
            let pace = self.written.pace_of(Some(lane));
            if was != is && lane.pace_unit.is_none() {
                let name = Some(lane.name.value.clone());
                self.notes.push(Note::PaceKept { lane: name, pace });
            }
        }
    }

    /// Bare paces of the session's own lanes are of its pool where the session's is the club's.
    fn lanes_by_the_pool(&mut self, home: Pool) {
        if home.unit() == self.pool.unit() {
            return;
        }
        for lane in &self.written.lanes {
            let pace = self.written.pace_of(Some(lane));
            let place = lane.pace.place;
            let is_bare = !self.source.slice(place.span()).contains("100");
            if place.file == FileId::MAIN && is_bare {
                self.put(place, &pace_text(pace, self.pool.unit()));
                self.notes.push(Note::PaceKept { lane: Some(lane.name.value.clone()), pace });
            }
        }
    }

    /// The file's other pool may be the very one it is fitted to.
    fn other_pool(&mut self, home: Pool) {
        if let Some(also) = self.written.also_place
            && self.written.other_pool == Some(self.pool)
        {
            self.put(also, &home.to_string());
        }
    }

    /// Counts of strokes a length, taken in another pool, are put behind a #.
    fn strokes(&mut self) {
        let session = self.written.strokes_per_length.iter();
        let lanes = self.written.lanes.iter().flat_map(|lane| &lane.strokes_per_length);
        // A club's count is of its own pool, and not taken up in another.
        let places = session.chain(lanes).map(|count| count.place);
        let places: Vec<Place> = places.filter(|place| place.file == FileId::MAIN).collect();
        for place in &places {
            self.take_out(*place);
        }
        if !places.is_empty() {
            self.notes.push(Note::CountStrokesAgain);
        }
    }

    /// Takes a key with its value out: on a line of its own it becomes a comment.
    fn take_out(&mut self, value: Place) {
        let text = self.source.text();
        let line = text.get(..value.start).and_then(|before| before.rfind('\n'));
        let line = line.map_or(0, |at| at + 1);
        let before = text.get(line..value.start).unwrap_or_default();
        let key = before.rfind([',', '{']).map(|at| at + 1);
        match key {
            None => {
                let start = line + (before.len() - before.trim_start().len());
                let sign = if is_message(self.source) { "// " } else { "# " };
                self.edits.push((Place { start, end: start, ..value }, sign.to_owned()));
            }
            // In a table in curly brackets, with the comma before it or after it.
            Some(key) => {
                let comma = before.get(key - 1..key) == Some(",");
                let after = text.get(value.end..).unwrap_or_default();
                let next = after.trim_start().starts_with(',');
                let (start, end) = match (comma, next) {
                    (true, _) => (line + key - 1, value.end),
                    (false, true) => {
                        (line + key, value.end + after.find(',').map_or(0, |at| at + 1))
                    }
                    (false, false) => (line + key, value.end),
                };
                self.edits.push((Place { start, end, ..value }, String::new()));
            }
        }
    }
}
