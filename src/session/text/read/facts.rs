//! The head of a session from a message's facts, and what stands in for those it leaves out.

use std::ops::Range;
use std::path::Path;

use super::super::head::Head;
use super::super::plain::Plain;
use super::super::rules::{DATE_WITHOUT_YEAR, USUAL_TAKEN};
use super::super::set::place;
use crate::finding::{FileId, Finding, Place, Placed};
use crate::measure::Seconds;
use crate::reader::quoted;
use crate::reader::rules::MISSING_KEY;
use crate::session::read::of_keys;
use crate::session::{Club, Lane, Session};
use crate::source::Source;

/// Tells what was filled in, and what stays unset.
pub(super) fn told_usual(session: &Session, head: &mut Head, found: &mut Vec<Finding>) {
    let of_club = session.club.as_ref().is_some_and(|club| club.level.is_some());
    if !head.has("level") && !of_club {
        let level = session.level.value;
        found.push(
            Finding::new(&USUAL_TAKEN, format!("no level is said: {level} is taken"))
                .label(place(0..0), "")
                .help("write a line such as \"advanced\" where it is another"),
        );
    }
    if session.date.is_none()
        && let Some(day) = head.day.take()
    {
        found.push(
            Finding::new(&DATE_WITHOUT_YEAR, "the date stays unset, for it has no year")
                .label(place(day), "")
                .help("write it with its year: 19 Jan 2027"),
        );
    }
}

pub(super) fn no_pool() -> Finding {
    Finding::new(&MISSING_KEY, "the message does not say in which pool it is swum")
        .label(place(0..0), "nothing can be counted in lengths")
        .help("write a line such as \"25 m\" or \"SCY\", or name a club file whose pool is usual: --club club.toml")
}

pub(super) fn stem(source: &Source) -> String {
    let stem = Path::new(source.path()).file_stem().map(|stem| stem.to_string_lossy().into_owned());
    stem.filter(|stem| !stem.is_empty()).unwrap_or_else(|| "session".to_owned())
}

/// The session of its facts, read as a session file's head is; its places are those of the message.
pub(super) fn head_session(
    head: &Head,
    lanes: &[(Placed<String>, Plain)],
    club: Option<Club>,
    found: &mut Vec<Finding>,
) -> Session {
    let mut text = String::new();
    let mut from: Vec<(Range<usize>, Range<usize>)> = Vec::new();
    for (key, value, at) in head.entries.iter().filter(|(key, ..)| !matches!(*key, "club" | "year"))
    {
        let start = text.len();
        text.push_str(&format!("{key} = {value}\n"));
        from.push((start..text.len(), at.clone()));
    }
    for (name, said) in lanes {
        let start = text.len();
        text.push_str(&lane_keys(&name.value, said));
        from.push((start..text.len(), name.place.start..said.whole().end));
    }
    let source = Source::new("", text);
    let mut wrong = Vec::new();
    let mut session = of_keys(&source, club, &mut wrong);
    // What stands in for a fact has no bytes, and no place in the message.
    let moved = |place: Place| match place.file == FileId::MAIN && place.start < place.end {
        true => {
            let span = from
                .iter()
                .find(|(span, _)| span.contains(&place.start))
                .map_or(0..0, |(_, at)| at.clone());
            Place::new(FileId::MAIN, span)
        }
        false => place,
    };
    for mut finding in wrong {
        finding.edit = None;
        finding.labels.iter_mut().for_each(|label| label.place = moved(label.place));
        found.push(finding);
    }
    session.move_places(&moved);
    session
}

/// "pace 3:00, 5 swimmers, 10 s apart" as the keys of a lane.
fn lane_keys(name: &str, said: &Plain) -> String {
    let mut keys = format!("[[lane]]\nname = {}\n", quoted(name));
    for piece in said.text().split([',', ';']).map(str::trim).filter(|piece| !piece.is_empty()) {
        let lower = piece.to_lowercase();
        let number = || {
            lower
                .split_whitespace()
                .find(|word| word.bytes().all(|byte| byte.is_ascii_digit()))
                .unwrap_or("0")
                .to_owned()
        };
        if lower.contains("swimmer") {
            keys.push_str(&format!("swimmers = {}\n", number()));
        } else if let Some(gap) = lower.strip_suffix("apart").or_else(|| lower.strip_suffix("gap"))
        {
            keys.push_str(&format!("gap = {}\n", quoted(gap.trim())));
        } else if lower.contains("strokes") {
            keys.push_str(&format!("strokes_per_length = {}\n", number()));
        } else if lower.contains("stretch") || lower.contains("fill") {
            keys.push_str("stretch = true\n");
        } else {
            let pace = lower
                .trim_start_matches("pace")
                .trim_start_matches([':', ' '])
                .trim_end_matches("/100");
            keys.push_str(&format!("pace = {}\n", quoted(pace.trim())));
        }
    }
    keys
}

/// Lanes that only sets name take the session's pace.
pub(super) fn lanes_of(session: &mut Session, named: Vec<Placed<String>>) {
    for name in named {
        let known =
            session.lanes.iter().any(|lane| lane.name.value.eq_ignore_ascii_case(&name.value));
        if !known {
            let none = Placed::new(Seconds::ZERO, name.place);
            let pace = session.pace.clone().unwrap_or(none);
            let pace_unit = session.pace_unit;
            session.lanes.push(Lane {
                name,
                pace,
                pace_unit,
                swimmers: None,
                gap: None,
                stretch: None,
                strokes_per_length: None,
            });
        }
    }
}
