//! A message to a session.

mod arranged;
mod disagree;
mod facts;

use std::path::Path;

use super::builder::DraftPart;
use super::head::Head;
use super::lines::{Lines, head_of};
use super::own_words;
use super::plain::is_unseen;
use super::rules::{NOT_A_SESSION, UNSEEN_SIGN, USUAL_TAKEN};
use super::set::place;
use crate::finding::{Finding, Placed};
use crate::measure::{LIMITS, Pool};
use crate::reader::FileKind;
use crate::reader::rules::OVER_LIMIT;
use crate::session::read::{SessionReading, Usual, open_club};
use crate::session::{Club, Part, Session, usual};
use crate::source::{LoadError, Source};
use arranged::{before_warm_up, guessed, is_warned_of, told_off, trailing_talk, without_swims};
use disagree::{disagreements, settle_sum};
use facts::{head_session, lanes_of, no_pool, stem, told_usual};

/// Whether a source is a message and no TOML: by its name, else by what is written.
pub(crate) fn is_message(source: &Source) -> bool {
    let ending =
        Path::new(source.path()).extension().map(|ending| ending.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("toml") => false,
        Some("txt" | "md" | "text") => true,
        _ => !looks_like_toml(source.text()),
    }
}

/// Whether a line is a table's heading or a key with a value in quotes or brackets.
fn looks_like_toml(text: &str) -> bool {
    let mut says = false;
    for line in
        text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'))
    {
        says = true;
        let key = line.split_once('=').is_some_and(|(key, value)| {
            let key = key.trim();
            let bare = !key.is_empty()
                && key
                    .chars()
                    .all(|sign| sign.is_alphanumeric() || matches!(sign, '_' | '-' | '.' | '"'));
            bare && value.trim_start().starts_with(['"', '\'', '[', '{', '\u{201c}'])
        });
        if key || line.starts_with("[[") || line.starts_with('[') && line.ends_with(']') {
            return true;
        }
    }
    !says
}

/// Reads a message. A club file that it names is opened, or else `club.toml` beside it.
pub(crate) fn read(
    source: Source,
    open: &dyn Fn(&str) -> Result<Source, LoadError>,
    usual: &Usual,
) -> SessionReading {
    let mut findings = Vec::new();
    let mut sources = Vec::new();
    if let Some(too_long) = too_long(&source) {
        let (sources, findings) = (vec![source], vec![too_long]);
        return SessionReading { sources, session: None, findings, kind: FileKind::Session };
    }
    findings.extend(unseen(&source));
    let (club_named, club) = club_of(&source, open, usual, &mut sources, &mut findings);
    let own = usual::words(club.as_ref());
    let club_lanes: Vec<String> =
        club.iter().flat_map(|club| &club.lanes).map(|lane| lane.name.value.clone()).collect();
    let club_pool = club.as_ref().and_then(|club| club.pool.as_ref()).map(|pool| pool.value);
    // Lengths need a pool to be counted, and a pool may be said below them.
    let guess = said_pool(&head_of(source.text())).or(club_pool);
    let mut lines = Lines::of(source.text(), &own, guess, club_lanes.clone());
    let pool = said_pool(&lines.head).or(club_pool);
    if pool != guess {
        lines = Lines::of(source.text(), &own, pool, club_lanes);
    }
    if let Some(pace) = &usual.pace {
        lines.head.usual_pace(pace);
    }
    let session = assembled(&source, lines, club, pool, &mut findings)
        .map(|session| Session { club_named, ..session });
    sources.insert(0, source);
    SessionReading { sources, session, findings, kind: FileKind::Session }
}

/// A text that is longer than any message.
fn too_long(source: &Source) -> Option<Finding> {
    let mut base = 0;
    for (at, line) in source.text().split_inclusive('\n').enumerate() {
        let (bound, value) = match LIMITS.message_lines.holds(at as u64 + 1) {
            true => (&LIMITS.message_line, line.chars().count().max(1) as u64),
            false => (&LIMITS.message_lines, at as u64 + 1),
        };
        if !bound.holds(value) {
            let shown = line.char_indices().nth(80).map_or(line.trim_end().len(), |(at, _)| at);
            return Some(
                Finding::new(&OVER_LIMIT, format!("{} must be {}", bound.what, bound.range_text()))
                    .label(place(base..base + shown), "this is more")
                    .help("is this the right file?"),
            );
        }
        base += line.len();
    }
    None
}

/// A sign that nobody sees and that hides or turns what is beside it. It is read over.
fn unseen(source: &Source) -> Option<Finding> {
    let signs = source.text().char_indices().skip(1);
    let mut unseen = signs.filter(|(_, sign)| is_unseen(*sign));
    let (at, sign) = unseen.next()?;
    let more = unseen.count();
    let others = if more == 0 { String::new() } else { format!(", and {more} more") };
    Some(
        Finding::new(
            &UNSEEN_SIGN,
            format!("a sign that is not seen, U+{:04X}{others}, is read over", u32::from(sign)),
        )
        .label(place(at..at + sign.len_utf8()), "here")
        .help("type the line again if it reads otherwise than it looks"),
    )
}

fn said_pool(head: &Head) -> Option<Pool> {
    let stated = head
        .entries
        .iter()
        .find(|(key, ..)| *key == "pool")
        .and_then(|(_, pool, _)| pool.trim_matches('"').parse().ok());
    stated.or(head.spoken_pool.as_ref().map(|(pool, _)| *pool))
}

/// The club that a line `club: FILE` names, or the one beside.
fn club_of(
    source: &Source,
    open: &dyn Fn(&str) -> Result<Source, LoadError>,
    usual: &Usual,
    sources: &mut Vec<Source>,
    found: &mut Vec<Finding>,
) -> (Option<Placed<String>>, Option<Club>) {
    let named = source.text().lines().find_map(|line| {
        let (key, name) = line.split_once(':')?;
        (key.trim().eq_ignore_ascii_case("club") && !name.trim().is_empty()).then(|| name.trim())
    });
    if let Some(name) = named {
        if name.eq_ignore_ascii_case("none") {
            return (None, None);
        }
        let start = name.as_ptr() as usize - source.text().as_ptr() as usize;
        let name = Placed::new(name.to_owned(), place(start..start + name.len()));
        let club = open_club(&name, open, sources, found);
        return (Some(name), club);
    }
    if let Some(name) = &usual.club {
        let name = Placed::new(name.clone(), place(0..0));
        let club = open_club(&name, open, sources, found);
        return (Some(name), club);
    }
    if source.path() == "standard input" {
        return (None, None);
    }
    let name = Placed::new("club.toml".to_owned(), place(0..0));
    let Ok(beside) = open(&name.value) else { return (None, None) };
    let club = open_club(&name, &|_| Ok(beside.clone()), sources, found);
    if let Some(club) = &club {
        found.push(
            Finding::new(
                &USUAL_TAKEN,
                format!("the usual values of {} are taken from {}", club.name.value, beside.path()),
            )
            .label(place(0..0), ""),
        );
    }
    (Some(name), club)
}

/// The session of what was read.
fn assembled(
    source: &Source,
    lines: Lines<'_>,
    club: Option<Club>,
    pool: Option<Pool>,
    found: &mut Vec<Finding>,
) -> Option<Session> {
    let Lines {
        mut head, builder, found: read, mut kept_off, lanes, lane_facts, sums, meant, ..
    } = lines;
    found.extend(read);
    let mut parts = builder.parts;
    trailing_talk(&mut parts, &meant, &mut kept_off);
    parts.iter_mut().for_each(|part| settle_sum(part, pool));
    before_warm_up(&mut parts);
    parts.retain(|part| !part.lines.is_empty());
    without_swims(&mut parts);
    if !parts.iter().any(DraftPart::is_swum) {
        if !found.iter().any(Finding::is_error) {
            found.push(not_a_session(source));
        }
        return None;
    }
    guessed(&mut parts, pool, found);
    let lane = lanes.first().map(|lane| lane.value.as_str());
    disagreements(&parts, &sums, pool, lane, found);
    kept_off.retain(|span| !is_warned_of(span, found));
    told_off(&kept_off, found);
    if !head.has("pool")
        && let Some((pool, at)) = head.spoken_pool.take()
    {
        head.entries.push(("pool", format!("\"{pool}\""), at));
    }
    let title = head.has("title");
    let mut session = head_session(&head, &lane_facts, club, found);
    if !title {
        let name =
            session.date.as_ref().map_or_else(|| stem(source), |date| date.value.to_string());
        session.title = Placed::new(name, place(0..0));
    }
    session.parts = parts.into_iter().map(part_of).collect();
    own_words::restore(&mut session, source.text());
    told_usual(&session, &mut head, found);
    session.at_usual_pace = session.pace.is_none() && !head.has("pace");
    lanes_of(&mut session, lanes);
    if session.pool.is_none() && !head.has("pool") {
        found.push(no_pool());
    }
    Some(session)
}

fn part_of(part: DraftPart) -> Part {
    let kind = part.kind.map(|kind| Placed::new(kind, part.place));
    Part { kind, title: part.title, keep: part.keep, lines: part.lines, place: part.place }
}

fn not_a_session(source: &Source) -> Finding {
    Finding::new(&NOT_A_SESSION, "nothing here is a set")
        .label(place(0..0), format!("{} lines were read", source.text().lines().count()))
        .help("a set begins with a count or a distance: 4 x 50 free, rest 20 s")
}
