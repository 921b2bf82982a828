//! A message beside what was understood of it: each of its lines, and what it became.

use std::fmt::Write as _;
use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use crate::finding::{FileId, Finding, Place, Placed, visible};
use crate::forms;
use crate::measure::{Distance, Unit};
use crate::reader::trade_words::TradeWord;
use crate::session::{self, Line, Session};
use crate::source::Source;

/// Letters of the message's own lines; a longer one is cut.
const OWN: usize = 44;
/// Letters of what was understood, before the distance.
const READ: usize = 56;

/// The lines of a message beside what they were read as. Writing to a string cannot fail.
pub fn of_message(source: &Source, session: &Session, findings: &[Finding]) -> String {
    let said = said(session, findings);
    let mut out = format!("{:<OWN$}  as it is read\n", "the message");
    let mut base = 0;
    for line in source.text().split_inclusive('\n') {
        let bytes = base..base + line.len();
        base = bytes.end;
        let written = line.trim_end().replace('\t', " ");
        if written.trim().is_empty() {
            continue;
        }
        let mut rows = said.iter().filter(|item| bytes.contains(&item.at));
        let first = rows.next();
        let otherwise = if session::states_sum(&written) { "a sum" } else { "" };
        row(&mut out, &written, first.map_or(otherwise, |item| &item.text), first);
        let first = first.map_or("", |item| item.text.as_str());
        let others = rows.filter(|item| item.text != first);
        others.for_each(|item| row(&mut out, "", &item.text, Some(item)));
    }
    out
}

fn row(out: &mut String, own: &str, read: &str, item: Option<&Said>) {
    let (own, read) = (cut(&visible::line(own), OWN), cut(&visible::line(read), READ));
    let far = item.and_then(|item| item.far).map_or(String::new(), Distance::with_commas);
    let (own_gap, gap) = (room(&own, OWN), room(&read, READ));
    let line = format!("{own}{own_gap}  {read}{gap}  {far:>9}");
    let _ = writeln!(out, "{}", line.trim_end());
}

/// The spaces that fill a text up to a width of letters.
fn room(text: &str, width: usize) -> String {
    " ".repeat(width.saturating_sub(text.graphemes(true).count()))
}

fn cut(text: &str, most: usize) -> String {
    match text.graphemes(true).count() > most {
        true => text.graphemes(true).take(most - 1).collect::<String>() + "\u{2026}",
        false => text.to_owned(),
    }
}

/// Something that was understood, and the byte of the message it begins at.
struct Said {
    at: usize,
    text: String,
    far: Option<Distance>,
}

fn said(session: &Session, findings: &[Finding]) -> Vec<Said> {
    let mut all = Vec::new();
    head(session, &mut all);
    for part in &session.parts {
        let kind = part.kind.as_ref().map_or("", |kind| kind.value.text());
        let title = part.title.as_ref().map_or(String::new(), |title| format!(": {}", title.value));
        add(&mut all, part.place, format!("[{kind}{title}]"), None);
        lines(session, &part.lines, "", &mut all);
    }
    let off = findings.iter().filter(|finding| finding.rule.id == "kept-off-the-card");
    for label in off.flat_map(|finding| &finding.labels) {
        add(&mut all, label.place, "(kept off the card)".to_owned(), None);
    }
    all.sort_by_key(|item| item.at);
    all
}

fn add(all: &mut Vec<Said>, place: Place, text: String, far: Option<Distance>) {
    let Range { start, end } = place.span();
    if place.file == FileId::MAIN && start < end {
        all.push(Said { at: start, text, far });
    }
}

fn head(session: &Session, all: &mut Vec<Said>) {
    let mut fact = |key: &str, place: Option<Place>, text: Option<String>| {
        if let Some((place, text)) = place.zip(text) {
            add(all, place, format!("{key}: {text}"), None);
        }
    };
    fn of<T: ToString>(placed: Option<&Placed<T>>) -> (Option<Place>, Option<String>) {
        (placed.map(|placed| placed.place), placed.map(|placed| placed.value.to_string()))
    }
    let (place, text) = of(Some(&session.title));
    fact("title", place, text);
    let (place, text) = of(session.date.as_ref());
    fact("date", place, text);
    let (place, text) = of(session.pool.as_ref());
    fact("pool", place, text);
    let (place, text) = of(Some(&session.level));
    fact("level", place, text);
    let (place, text) = of(session.goal.as_ref());
    fact("goal", place, text);
    let (place, text) = of(session.focus.as_ref());
    fact("focus", place, text);
    let booked = session.booked.as_ref();
    fact("booked", booked.map(|it| it.place), booked.map(|it| it.value.spoken()));
    let (place, text) = of(session.starts.as_ref());
    fact("starts", place, text);
    let (place, text) = of(session.pace.as_ref());
    fact("pace", place, text);
    let gear: Vec<&str> = session.gear.iter().map(|gear| gear.value.as_str()).collect();
    fact("gear", session.gear.first().map(|gear| gear.place), Some(gear.join(", ")));
    for lane in &session.lanes {
        let (place, text) = of(Some(&lane.pace));
        fact(&format!("{}: pace", lane.name.value), place, text);
    }
}

fn lines(session: &Session, of: &[Line], indent: &str, all: &mut Vec<Said>) {
    let unit = session.pool.as_ref().map_or(Unit::Metre, |pool| pool.value.unit());
    let pool = session.pool.as_ref().map(|pool| pool.value);
    for line in of {
        let far = session::swum_sixths(std::slice::from_ref(line), pool);
        let far = far.filter(|far| *far > 0).map(|far| Distance::from_sixths(far, unit));
        add(all, session::line_place(line), format!("{indent}{}", forms::line_text(line)), far);
        if let Line::Rounds(rounds) = line {
            lines(session, &rounds.lines, &format!("{indent}  "), all);
        }
    }
}
