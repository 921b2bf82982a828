//! A pace, bare or with the 100 it is for.

use super::super::rules;
use super::{Node, Readable};
use crate::finding::Finding;
use crate::measure::{Seconds, Unit};
use crate::reader::keys::Form;
use crate::reader::quoted;

/// A pace as written: "2:10", or "2:10 per 100 yd" where it is not per 100 of the pool's unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WrittenPace {
    /// The time per 100.
    pub per_100: Seconds,
    /// Of which unit, where it says so.
    pub unit: Option<Unit>,
}

impl Readable for WrittenPace {
    const FORM: Form = Form::Time;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text_or_bare_time(Self::FORM, found)?;
        let Some((time, per)) = text.split_once("per").or_else(|| text.split_once('/')) else {
            return Seconds::read(node, found).map(|per_100| Self { per_100, unit: None });
        };
        let unit = per.trim().strip_prefix("100").map(str::trim);
        let unit = match unit {
            Some("") => Some(None),
            Some(word) => Unit::from_word(word).map(Some),
            None => None,
        };
        match (time.trim().parse::<Seconds>(), unit) {
            (Ok(time), Some(unit)) => {
                let per_100 = super::times::time_within(node, time, text, found)?;
                Some(Self { per_100, unit })
            }
            _ => {
                if let Some(help) = of_another_distance(node, time.trim(), per.trim()) {
                    let title = format!("\"{text}\" is not a pace");
                    found.push(
                        Finding::new(&rules::UNREADABLE_TIME, title)
                            .label(node.place, "a pace is the time for 100")
                            .help(help),
                    );
                    return None;
                }
                let example = node.entry.example.trim_matches('"');
                found.push(
                    Finding::new(&rules::UNREADABLE_TIME, format!("\"{text}\" is not a pace"))
                        .label(node.place, "")
                        .help(format!(
                            "write: {name} = \"{example}\", or {name} = \"{example} per 100 yd\" \
                             where the pool is in metres",
                            name = node.entry.name
                        )),
                );
                None
            }
        }
    }
}

/// What to write for "2:10 per 50": the same pace for 100, where that is whole seconds.
fn of_another_distance(node: Node<'_>, time: &str, per: &str) -> Option<String> {
    let name = node.entry.name;
    let seconds: Seconds = time.parse().ok()?;
    let end = per.find(|c: char| !c.is_ascii_digit()).unwrap_or(per.len());
    let distance = per.get(..end)?.parse::<u64>().ok().filter(|distance| *distance > 0);
    let unit = per.get(end..)?.trim();
    let (Some(distance), true) = (distance, unit.is_empty() || Unit::from_word(unit).is_some())
    else {
        return Some(format!("if it is the time for 100, write: {name} = {}", quoted(time)));
    };
    let hundredfold = u64::from(seconds.get()).checked_mul(100)?;
    let per_100 = hundredfold / distance;
    let whole = hundredfold.is_multiple_of(distance);
    let inside = node.entry.bound.is_none_or(|bound| bound.holds(per_100));
    (whole && inside).then(|| {
        let (minutes, seconds) = (per_100 / 60, per_100 % 60);
        let unit = if unit.is_empty() { String::new() } else { format!(" per 100 {unit}") };
        format!("write: {name} = \"{minutes}:{seconds:02}{unit}\"")
    })
}
