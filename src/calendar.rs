//! A block's sessions as an iCalendar file (RFC 5545), the same bytes for the same block.

use chrono::{NaiveDate, NaiveDateTime, TimeDelta};
use icalendar::{Calendar, Component, Event, EventLike, Property};
use xxhash_rust::xxh3::xxh3_128;

use crate::block::{BlockSession, CheckedBlock, CheckedWeek};
use crate::measure::{Date, Seconds};

/// Every session with a day as an event, in the order of the block.
///
/// Times are floating: 19:15 is 19:15 wherever the pool is. An event lasts as long as the
/// booking, or as the session where no booking is known; without a start it is of the whole day.
/// Sessions without a day are left out; [`undated`] counts them. The identity of an event
/// follows from the block's title, the week and the day, so that a calendar that takes the
/// file in again changes its events and does not double them. Lines are folded and ended as the
/// standard has them.
pub fn ics(block: &CheckedBlock) -> String {
    let mut calendar = Calendar::empty();
    calendar
        .append_property(("VERSION", "2.0"))
        .append_property(("PRODID", "-//deckcard//block of sessions//EN"))
        .append_property(("CALSCALE", "GREGORIAN"))
        .append_property(text("NAME", &block.title.value))
        .append_property(text("X-WR-CALNAME", &block.title.value));
    for (week, session) in block.sessions() {
        if let Some(event) = session.date.and_then(|date| event(block, week, session, date)) {
            calendar.push(event);
        }
    }
    calendar.to_string()
}

/// Sessions that have no day, and so no event.
pub fn undated(block: &CheckedBlock) -> usize {
    block.sessions().filter(|(_, session)| session.date.is_none()).count()
}

/// A property whose value is escaped as text, whatever it is called.
fn text(name: &str, value: &str) -> Property {
    let known = Property::new(name, value);
    if known.value_type().is_some() {
        return known;
    }
    // RFC 5545, 3.3.11: backslash, comma and semicolon are escaped in text.
    let escaped = value.replace('\\', "\\\\").replace(',', "\\,").replace(';', "\\;");
    Property::new(name, escaped)
}

fn event(
    block: &CheckedBlock,
    week: &CheckedWeek,
    session: &BlockSession,
    date: Date,
) -> Option<Event> {
    let (year, month, day) = date.parts();
    let day = NaiveDate::from_ymd_opt(i32::from(year), u32::from(month), u32::from(day))?;
    let midnight = day.and_hms_opt(0, 0, 0)?;
    let mut event = Event::new();
    event
        .uid(&identity(block, week, session, date))
        // The stamp would be the time of writing; the day of the session stays the same.
        .timestamp(midnight.and_utc())
        .summary(&format!(
            "{}, {}",
            session.ready.session.title.value,
            session.distance().with_commas()
        ))
        .description(&description(week, session));
    match session.starts {
        Some(starts) => {
            let begins = after(midnight, starts.since_midnight())?;
            let lasts = session.booked.unwrap_or_else(|| session_minutes(session));
            event.starts(begins).ends(after(begins, lasts)?);
        }
        None => {
            event.starts(day);
        }
    }
    Some(event.done())
}

/// How long the session takes, in whole minutes.
fn session_minutes(session: &BlockSession) -> Seconds {
    session.ready.written.plan.seconds.rounded_up_to(60)
}

fn after(time: NaiveDateTime, seconds: Seconds) -> Option<NaiveDateTime> {
    time.checked_add_signed(TimeDelta::seconds(i64::from(seconds.get())))
}

/// The same for the same place in the same block on the same day.
fn identity(
    block: &CheckedBlock,
    week: &CheckedWeek,
    session: &BlockSession,
    date: Date,
) -> String {
    let place = format!("{}\n{}\n{}\n{date}", block.title.value, week.number, session.number);
    format!("{:032x}@deckcard", xxh3_128(place.as_bytes()))
}

/// What is to be swum, a line each.
fn description(week: &CheckedWeek, session: &BlockSession) -> String {
    let plan = &session.ready.written.plan;
    format!(
        "{}{}\n{} in a pool of {}, {} min\nlongest swim: {}",
        session.called(week),
        plan.focus.as_ref().map(|focus| format!("\nfocus: {}", focus.value)).unwrap_or_default(),
        session.distance().with_commas(),
        plan.pool,
        plan.seconds.minutes_up(),
        session.longest.with_commas(),
    )
}
