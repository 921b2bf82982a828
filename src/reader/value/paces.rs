//! A pace, bare or with the 100 it is for.

use super::super::rules;
use super::{Node, Readable};
use crate::finding::Finding;
use crate::measure::{Seconds, Unit};
use crate::reader::keys::Form;

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
