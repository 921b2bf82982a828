//! A message to a session.

use std::ops::Range;
use std::path::Path;

use super::builder::DraftPart;
use super::head::Head;
use super::lines::{Lines, Reach};
use super::plain::Plain;
use super::rules::{
    DATE_WITHOUT_YEAR, HEADINGS_GUESSED, KEPT_OFF, MAY_BE_SWUM, NOT_A_SESSION, TOTAL_DISAGREES,
    USUAL_TAKEN,
};
use super::set::place;
use super::sums::{self, Sum};
use super::{own_words, parts};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::measure::{Distance, LIMITS, Pool, Seconds};
use crate::reader::FileKind;
use crate::reader::rules::{MISSING_KEY, OVER_LIMIT};
use crate::reader::trade_words::TradeWord;
use crate::session::read::{SessionReading, Usual, of_keys, open_club};
use crate::session::{Club, Lane, Line, Part, Session, usual};
use crate::source::{LoadError, Source};

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
    let (club_named, club) = club_of(&source, open, usual, &mut sources, &mut findings);
    let own = usual::words(club.as_ref());
    let club_lanes: Vec<String> =
        club.iter().flat_map(|club| &club.lanes).map(|lane| lane.name.value.clone()).collect();
    let club_pool = club.as_ref().and_then(|club| club.pool.as_ref()).map(|pool| pool.value);
    // Lengths need a pool to be counted, and a pool may be said below them.
    let first = Lines::of(source.text(), &own, club_pool, club_lanes.clone());
    let pool = said_pool(&first.head).or(club_pool);
    let lines = match pool == club_pool {
        true => first,
        false => Lines::of(source.text(), &own, pool, club_lanes),
    };
    let mut lines = lines;
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
            return Some(
                Finding::new(&OVER_LIMIT, format!("{} must be {}", bound.what, bound.range_text()))
                    .label(place(base..base + line.trim_end().len().min(80)), "this is more")
                    .help("is this the right file?"),
            );
        }
        base += line.len();
    }
    None
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
    let swum = parts
        .iter()
        .flat_map(|part| &part.lines)
        .any(|line| matches!(line, Line::Set(_) | Line::Rounds(_)));
    if !swum {
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

/// Tells what was filled in, and what stays unset.
fn told_usual(session: &Session, head: &mut Head, found: &mut Vec<Finding>) {
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

fn no_pool() -> Finding {
    Finding::new(&MISSING_KEY, "the message does not say in which pool it is swum")
        .label(place(0..0), "nothing can be counted in lengths")
        .help("write a line such as \"25 m\" or \"SCY\", or name a club file whose pool is usual: --club club.toml")
}

fn stem(source: &Source) -> String {
    let stem = Path::new(source.path()).file_stem().map(|stem| stem.to_string_lossy().into_owned());
    stem.filter(|stem| !stem.is_empty()).unwrap_or_else(|| "session".to_owned())
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

/// Words behind the last set are talk: they are kept off the card.
fn trailing_talk(parts: &mut [DraftPart], meant: &[usize], kept_off: &mut Vec<Range<usize>>) {
    for part in parts.iter_mut().rev() {
        let is_talk = |line: &mut Line| matches!(line, Line::Remark(remark) if !meant.contains(&remark.place.start));
        while let Some(Line::Remark(remark)) = part.lines.pop_if(is_talk) {
            kept_off.push(remark.place.span());
        }
        if !part.lines.is_empty() {
            break;
        }
    }
    kept_off.sort_by_key(|span| span.start);
}

/// "Warm up - 1000" before sets that come to it, or with a dash before any, is a sum and no swim.
fn settle_sum(part: &mut DraftPart, pool: Option<Pool>) {
    let Some((sum, dash)) = part.maybe_sum.take() else { return };
    let rest = part.lines.get(1..).unwrap_or_default();
    let come_to = sums::sixths(rest, pool, None).unwrap_or(0);
    if come_to == sum.number.saturating_mul(6) || dash && come_to > sum.number.saturating_mul(3) {
        part.lines.drain(..part.lines.len().min(1));
        part.sum = Some(sum);
    }
}

/// What stands before the first heading is the first part's, as land work before the warm-up.
fn before_warm_up(parts: &mut Vec<DraftPart>) {
    let [first, second, ..] = parts.as_mut_slice() else { return };
    let is_warm_up = second.kind == Some(crate::session::words::PartKind::WarmUp);
    if !first.headed && second.headed && is_warm_up {
        let lines = std::mem::take(&mut first.lines);
        second.lines.splice(0..0, lines);
    }
}

/// Parts where a message names none, or names them in its own words.
fn guessed(parts: &mut Vec<DraftPart>, pool: Option<Pool>, found: &mut Vec<Finding>) {
    use crate::session::words::PartKind::{CoolDown, MainSet, WarmUp};
    let unheaded = parts.iter().all(|part| !part.headed);
    if unheaded && let Some(all) = parts.pop() {
        let (first, last) = parts::guess(&all.lines, pool);
        let mut lines = all.lines;
        let tail = lines.split_off(lines.len() - last);
        let main = lines.split_off(first);
        for (kind, lines) in [(WarmUp, lines), (MainSet, main), (CoolDown, tail)] {
            let Some(begins) = lines.first().map(super::builder::line_place) else { continue };
            parts.push(DraftPart { kind: Some(kind), lines, ..DraftPart::at(begins) });
        }
        tell_guess(parts.iter(), found);
        return;
    }
    parts::part_first(parts, pool);
    parts::part_warm_up(parts);
    let unknown: Vec<usize> = parts
        .iter()
        .enumerate()
        .filter(|(_, part)| part.kind.is_none())
        .map(|(at, _)| at)
        .collect();
    parts::give_kinds(parts, pool);
    tell_guess(unknown.iter().filter_map(|at| parts.get(*at)), found);
}

fn tell_guess<'p>(parts: impl Iterator<Item = &'p DraftPart>, found: &mut Vec<Finding>) {
    let mut finding: Option<Finding> = None;
    for part in parts {
        let Some(kind) = part.kind else { continue };
        let so_far = finding
            .take()
            .unwrap_or_else(|| Finding::new(&HEADINGS_GUESSED, "parts go by their place"));
        finding = Some(so_far.label(part.place, format!("read as the {}", kind.text())));
    }
    found.extend(finding.map(|finding| {
        finding.help(
            "write a heading where it is another part: Warm-up, Pre-set, Main, Post set, Cool-down",
        )
    }));
}

/// Whether a line is told already as one that may be swum.
fn is_warned_of(span: &Range<usize>, found: &[Finding]) -> bool {
    let warned = found.iter().filter(|finding| std::ptr::eq(finding.rule, &raw const MAY_BE_SWUM));
    warned.filter_map(Finding::place).any(|place| place.start == span.start)
}

fn told_off(kept_off: &[Range<usize>], found: &mut Vec<Finding>) {
    let Some(first) = kept_off.first() else { return };
    let lines = if kept_off.len() == 1 {
        "a line is".to_owned()
    } else {
        format!("{} lines are", kept_off.len())
    };
    let mut finding = Finding::new(&KEPT_OFF, format!("{lines} kept off the card"))
        .label(place(first.clone()), "");
    for span in kept_off.iter().skip(1) {
        finding = finding.label(place(span.clone()), "");
    }
    found.push(finding);
}

/// Stated sums that are not what was read.
fn disagreements(
    parts: &[DraftPart],
    sums: &[(Sum, Reach)],
    pool: Option<Pool>,
    lane: Option<&str>,
    found: &mut Vec<Finding>,
) {
    let far = |parts: &[DraftPart]| {
        parts
            .iter()
            .filter_map(|part| sums::sixths(&part.lines, pool, lane))
            .fold(0, u64::saturating_add)
    };
    let wanted = |sum: &Sum| match (sum.lengths, pool) {
        (true, Some(pool)) => sum.number.saturating_mul(pool.length().sixths()),
        _ => sum.number.saturating_mul(6),
    };
    let agrees = |sum: &Sum, come_to: u64| wanted(sum).abs_diff(come_to) <= sum.within * 6;
    for part in parts {
        if let Some(sum) = &part.sum {
            let come_to = far(std::slice::from_ref(part));
            if !agrees(sum, come_to) {
                found.push(disagrees(
                    sum,
                    part.kind.map_or("the part", TradeWord::text),
                    come_to,
                    pool,
                ));
            }
        }
    }
    for (sum, reach) in sums {
        let so_far = parts.get(..reach.part.min(parts.len())).unwrap_or_default();
        let session = far(so_far);
        let part = so_far.last().map_or(0, |part| {
            let lines = part.lines.get(..reach.lines.min(part.lines.len())).unwrap_or_default();
            sums::sixths(lines, pool, lane).unwrap_or(0)
        });
        let lines = so_far
            .last()
            .and_then(|part| part.lines.get(reach.lines.checked_sub(1)?))
            .and_then(|line| sums::sixths(std::slice::from_ref(line), pool, lane));
        let fits = agrees(sum, session)
            || !sum.whole && (agrees(sum, part) || lines.is_some_and(|line| agrees(sum, line)));
        if !fits && sum.whole {
            found.push(disagrees(sum, "the session", session, pool));
        } else if !fits {
            let kind = so_far.last().and_then(|part| part.kind).map_or("the part", TradeWord::text);
            found.push(disagrees(sum, kind, part, pool));
        }
    }
}

fn disagrees(sum: &Sum, of: &str, come_to: u64, pool: Option<Pool>) -> Finding {
    let unit = pool.map_or(crate::measure::Unit::Metre, Pool::unit);
    let come_to = Distance::from_sixths(come_to, unit);
    let of = if of.starts_with("the ") { of.to_owned() } else { format!("the {of}") };
    let unit = if sum.lengths { " lengths" } else { "" };
    Finding::new(
        &TOTAL_DISAGREES,
        format!("{of} comes to {}, not {}{unit}", come_to.with_commas(), sum.number),
    )
    .label(place(sum.at.clone()), "as stated")
    .help("correct the sum, or the set that is missing or written twice")
}

/// The session of its facts, read as a session file's head is; its places are those of the message.
fn head_session(
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
    let moved = |place: Place| match place.file == FileId::MAIN {
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
    let mut keys = format!("[[lane]]\nname = {}\n", serde_json::Value::from(name));
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
            keys.push_str(&format!("gap = {}\n", serde_json::Value::from(gap.trim())));
        } else if lower.contains("strokes") {
            keys.push_str(&format!("strokes_per_length = {}\n", number()));
        } else if lower.contains("stretch") || lower.contains("fill") {
            keys.push_str("stretch = true\n");
        } else {
            let pace = lower
                .trim_start_matches("pace")
                .trim_start_matches([':', ' '])
                .trim_end_matches("/100");
            keys.push_str(&format!("pace = {}\n", serde_json::Value::from(pace.trim())));
        }
    }
    keys
}

/// Lanes that only sets name take the session's pace.
fn lanes_of(session: &mut Session, named: Vec<Placed<String>>) {
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
