//! Wording of a pattern file that calls for a caution: a draft prints none, so none is made with
//! it, and the coach is to know.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::pattern::{Cues, PatternFile, SetPattern, Skill};
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

/// The file without what calls for a caution: cues and titles are left out one by one, a pattern
/// or a skill where nothing else is left or where it is named so.
pub(super) fn without_cautions(mut file: PatternFile) -> PatternFile {
    file.patterns.retain(is_plain);
    file.skills.retain_mut(keeps_plain);
    file
}

fn is_silent(text: &str) -> bool {
    cautions_of(text).is_empty()
}

fn is_plain(pattern: &SetPattern) -> bool {
    is_silent(&pattern.name) && pattern.sets().filter_map(|set| set.cue.as_deref()).all(is_silent)
}

/// Leaves out what is not; whether the skill can still be drafted.
fn keeps_plain(skill: &mut Skill) -> bool {
    let Cues { easy, drill, swim, fast, kick, pull, scull, count } = &mut skill.cues;
    for texts in [easy, drill, swim, fast, kick, pull, scull, count, &mut skill.titles] {
        texts.retain(|text| is_silent(text));
    }
    is_silent(&skill.focus) && !skill.titles.is_empty() && !skill.cues.swim.is_empty()
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
