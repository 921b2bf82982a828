//! Times, bookings and days.

use toml::de::DeValue;

use super::super::rules;
use super::{Node, Readable};
use crate::finding::Finding;
use crate::measure::{Date, Seconds, TimeError, TimeOfDay};
use crate::reader::keys::Form;

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

/// "2.00", meant as 2:00.
fn minutes_and_seconds(text: &str) -> Option<String> {
    let (minutes, seconds) = text.trim().split_once('.')?;
    let whole = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let is_clock = minutes.len() == 1 && whole(minutes);
    let is_rest = seconds.len() == 2 && whole(seconds) && seconds < "60";
    (is_clock && is_rest).then(|| format!("{minutes}:{seconds}"))
}

fn unreadable_time(node: Node<'_>, text: &str, error: TimeError) -> Finding {
    let name = node.entry.name;
    let finding = Finding::new(&rules::UNREADABLE_TIME, format!("\"{text}\" is not a time"))
        .label(node.place, "");
    match error {
        TimeError::NoUnit => finding.help(format!(
            "say seconds or minutes: {name} = \"{text} s\" or {name} = \"{text} min\""
        )),
        TimeError::SecondsPastMinute => {
            finding.help("after the colon, seconds go from 00 to 59; \"90 s\" is read as well")
        }
        TimeError::Fraction => match minutes_and_seconds(text) {
            Some(time) => {
                finding.help(format!("minutes and seconds have a colon: {name} = \"{time}\""))
            }
            None => finding.help("write whole seconds; a pool clock shows no tenths"),
        },
        TimeError::TooLarge | TimeError::NotATime => finding.help(format!(
            "times are written \"15 s\", \"1:45\", \":45\" or \"1 min\": {name} = {}",
            node.entry.example
        )),
    }
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
            found.push(
                Finding::new(&rules::UNREADABLE_TIME, format!("\"{text}\" is not a time of day"))
                    .label(node.place, "")
                    .help(format!(
                        "write hours and minutes, 00:00 to 23:59: {} = {}",
                        node.entry.name, node.entry.example
                    )),
            );
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
                finding.help(help).edit(node.place, date.to_string())
            }
            None => finding.help(format!(
                "write year-month-day without quotes: {} = 2027-01-12",
                node.entry.name
            )),
        });
        None
    }
}
