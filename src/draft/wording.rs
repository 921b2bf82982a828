//! Wording of a pattern file that calls for a caution: a draft prints none, so none is made with
//! it, and the coach is to know.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::advice::wording::finding;
use crate::check::wording::cautions_of;
use crate::finding::{FileId, Finding, Place};

/// Keys whose texts get on to a card: of a skill, of its cues, of a pattern, of a set.
const PRINTED: [&str; 12] = [
    "focus", "titles", "name", "cue", "easy", "drill", "swim", "fast", "kick", "pull", "scull",
    "count",
];

/// Adds a finding for each text of the file that a card would print with a caution.
pub(super) fn wordings(file: &DeTable<'_>, found: &mut Vec<Finding>) {
    for (key, value) in file.iter() {
        look(key.get_ref(), value, found);
    }
}

fn look(key: &str, value: &Spanned<DeValue<'_>>, found: &mut Vec<Finding>) {
    match value.get_ref() {
        DeValue::String(text) if PRINTED.contains(&key) => {
            let place = Place::new(FileId::MAIN, value.span());
            let kinds = cautions_of(text).into_iter();
            found.extend(kinds.map(|kind| finding(kind, place, "no draft is made with it")));
        }
        DeValue::Array(items) => items.iter().for_each(|item| look(key, item, found)),
        DeValue::Table(table) => wordings(table, found),
        _ => {}
    }
}
