//! Times, bookings and days.

use toml::de::DeValue;

use super::super::rules;
use super::likely::{likely_booking, likely_time, likely_time_of_day, range_of_times};
use super::{Node, Readable};
use crate::finding::Finding;
use crate::measure::{Date, Seconds, TimeError, TimeOfDay};
use crate::reader::keys::Form;
use crate::reader::{offer, quoted};

impl Readable for Seconds {
    const FORM: Form = Form::Time;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text_or_bare_time(Self::FORM, found)?;
        match text.parse() {
            Ok(time) => time_within(node, time, text, found),
            Err(error) => {
                found.push(unreadable_time(node, text, error));
                None
            }
        }
    }
}

pub(super) fn time_within(
    node: Node<'_>,
    time: Seconds,
    text: &str,
    found: &mut Vec<Finding>,
) -> Option<Seconds> {
    let name = node.entry.name;
    match node.entry.bound {
        Some(bound) if !bound.holds(u64::from(time.get())) => {
            let (least, most) = (Seconds::new(bound.least as u32), Seconds::new(bound.most as u32));
            let title = format!(
                "{name} is {text}; it must be from {} to {}",
                least.spoken(),
                most.spoken()
            );
            found.push(Finding::new(&rules::OVER_LIMIT, title).label(node.place, bound.what));
            None
        }
        _ => Some(time),
    }
}

fn unreadable_time(node: Node<'_>, text: &str, error: TimeError) -> Finding {
    let name = node.entry.name;
    let finding = Finding::new(&rules::UNREADABLE_TIME, format!("\"{text}\" is not a time"))
        .label(node.place, "");
    let meant = meant_by(node, text);
    match (error, meant.len()) {
        (TimeError::NoUnit, 1) if text.trim().bytes().all(|byte| byte.is_ascii_digit()) => {
            finding.help(format!("say seconds or minutes: {}", either(name, &meant)))
        }
        (_, 2..) => finding.help(format!("choose one: {}", either(name, &meant))),
        (TimeError::Fraction, 1) if meant[0].contains(':') => {
            finding.help(format!("minutes and seconds have a colon: {}", either(name, &meant)))
        }
        (_, 1) => finding.help(format!("write: {}", either(name, &meant))),
        (TimeError::SecondsPastMinute, _) => {
            finding.help("after the colon, seconds go from 00 to 59; \"90 s\" is read as well")
        }
        (TimeError::Fraction, _) => {
            finding.help("write whole seconds; a pool clock shows no tenths")
        }
        _ => finding.help(format!(
            "times are written \"15 s\", \"1:45\", \":45\" or \"1 min\": {name} = {}",
            node.entry.example
        )),
    }
}

/// What a text may mean, as the key takes it: nothing, a time, or several that it could be.
fn meant_by(node: Node<'_>, text: &str) -> Vec<String> {
    let text = text.trim();
    let booking = matches!(node.entry.form, Form::Booking);
    let mut meant = match range_of_times(text).filter(|_| !booking) {
        Some((least, most)) => vec![least, most],
        None if booking => Vec::from_iter(likely_booking(text)),
        None => Vec::from_iter(likely_time(text)),
    };
    if !booking && !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit()) {
        match text.len() {
            // Two may be seconds and minutes; a hundred and thirty a minute and thirty.
            1 if text != "0" => meant.push(format!("{text} min")),
            3 => meant.insert(0, format!("{}:{}", &text[..1], &text[1..])),
            _ => {}
        }
    }
    meant.retain(|time| {
        time.parse::<Seconds>().is_ok_and(|time| {
            node.entry.bound.is_none_or(|bound| bound.holds(u64::from(time.get())))
        })
    });
    meant
}

/// The help with a number that stands for a time.
pub(super) fn help_with_number(node: Node<'_>, number: &str) -> Option<String> {
    let meant = meant_by(node, number);
    let either = either(node.entry.name, &meant);
    match meant.len() {
        0 => None,
        1 => Some(format!("write: {either}")),
        _ => Some(format!("choose one: {either}")),
    }
}

/// "rest = "10 s" or rest = "15 s"".
fn either(name: &str, meant: &[String]) -> String {
    meant.iter().map(|time| format!("{name} = {}", quoted(time))).collect::<Vec<_>>().join(" or ")
}

/// A length of time that is never read as minutes and seconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Booking(pub Seconds);

impl Readable for Booking {
    const FORM: Form = Form::Booking;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text_or_bare_time(Self::FORM, found)?;
        // "1:30" would be a minute and a half to a swimmer and an hour and a half to a pool office.
        if text.contains(':') {
            found.push(
                Finding::new(
                    &rules::UNREADABLE_TIME,
                    format!("{} \"{text}\" could be minutes or hours", node.entry.name),
                )
                .label(node.place, "")
                .help("write minutes or hours in words: booked = \"90 min\" or booked = \"1 h 30 min\""),
            );
            return None;
        }
        match text.parse() {
            Ok(time) => time_within(node, time, text, found).map(Booking),
            Err(error) => {
                found.push(unreadable_time(node, text, error));
                None
            }
        }
    }
}

impl Readable for TimeOfDay {
    const FORM: Form = Form::TimeOfDay;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text_or_bare_time(Self::FORM, found)?;
        let time = text.parse().ok();
        if time.is_none() {
            let finding =
                Finding::new(&rules::UNREADABLE_TIME, format!("\"{text}\" is not a time of day"))
                    .label(node.place, "");
            let name = node.entry.name;
            found.push(match likely_time_of_day(text) {
                Some(time) => finding.help(format!("write: {name} = \"{time}\"")),
                None if let Some(days) = rules::days_of_month(node.raw) => {
                    finding.help(format!("that month has {days} days"))
                }
                None => finding.help(format!(
                    "write hours and minutes, 00:00 to 23:59: {name} = {}",
                    node.entry.example
                )),
            });
        }
        time
    }
}

impl Readable for Date {
    const FORM: Form = Form::Date;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        if let DeValue::Datetime(at) = node.value
            && let Some(date) = at.date
            && at.time.is_none()
            && let Ok(date) = Date::new(date.year, date.month, date.day)
        {
            return Some(date);
        }
        let finding = Finding::new(&rules::UNREADABLE_DATE, format!("{} is not a date", node.raw))
            .label(node.place, "");
        found.push(match rules::likely_date(node.raw) {
            Some(date) => {
                let help = format!("write: {} = {date}", node.entry.name);
                offer(finding.help(help), node.place, node.raw, date.to_string())
            }
            None if let Some([first, second]) = rules::either_date(node.raw) => {
                finding.help(format!(
                    "choose one: {name} = {first} or {name} = {second}",
                    name = node.entry.name
                ))
            }
            None => finding.help(format!(
                "write year-month-day without quotes: {} = 2027-01-12",
                node.entry.name
            )),
        });
        None
    }
}
