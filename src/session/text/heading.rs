//! The headings of the parts of a session, and their usual short forms.

use super::word::{Word, is_number};
use crate::session::words::PartKind;

/// Headings by what they say, longest first where one begins another. Common practice, no source.
pub(super) const HEADINGS: &[(&str, PartKind)] = &[
    ("warm-up set", PartKind::WarmUp),
    ("warm-up", PartKind::WarmUp),
    ("warming-up", PartKind::WarmUp),
    ("warm up", PartKind::WarmUp),
    ("warming up", PartKind::WarmUp),
    ("warmup", PartKind::WarmUp),
    ("w/up", PartKind::WarmUp),
    ("w/u", PartKind::WarmUp),
    ("w.u.", PartKind::WarmUp),
    ("wu", PartKind::WarmUp),
    ("wup", PartKind::WarmUp),
    ("to start", PartKind::WarmUp),
    ("pre-main", PartKind::PreSet),
    ("pre main", PartKind::PreSet),
    ("pre-set", PartKind::PreSet),
    ("pre set", PartKind::PreSet),
    ("preset", PartKind::PreSet),
    ("build up", PartKind::PreSet),
    ("build-up", PartKind::PreSet),
    ("prep", PartKind::PreSet),
    ("pre", PartKind::PreSet),
    ("build", PartKind::PreSet),
    ("post-main", PartKind::PostSet),
    ("post main", PartKind::PostSet),
    ("post-set", PartKind::PostSet),
    ("post set", PartKind::PostSet),
    ("sub set", PartKind::PostSet),
    ("sub-set", PartKind::PostSet),
    ("subset", PartKind::PostSet),
    ("post", PartKind::PostSet),
    ("main set", PartKind::MainSet),
    ("main-set", PartKind::MainSet),
    ("mainset", PartKind::MainSet),
    ("main bit", PartKind::MainSet),
    ("main part", PartKind::MainSet),
    ("main", PartKind::MainSet),
    ("m/s", PartKind::MainSet),
    ("ms", PartKind::MainSet),
    ("core", PartKind::MainSet),
    ("cool-down", PartKind::CoolDown),
    ("cool down", PartKind::CoolDown),
    ("cooldown", PartKind::CoolDown),
    ("cooling down", PartKind::CoolDown),
    ("warm-down", PartKind::CoolDown),
    ("warm down", PartKind::CoolDown),
    ("warmdown", PartKind::CoolDown),
    ("swim-down", PartKind::CoolDown),
    ("swim down", PartKind::CoolDown),
    ("swimdown", PartKind::CoolDown),
    ("loosen down", PartKind::CoolDown),
    ("to finish", PartKind::CoolDown),
    ("finish", PartKind::CoolDown),
    ("cool", PartKind::CoolDown),
    ("c/d", PartKind::CoolDown),
    ("w/d", PartKind::CoolDown),
    ("s/d", PartKind::CoolDown),
    ("cd", PartKind::CoolDown),
    ("wd", PartKind::CoolDown),
    ("sd", PartKind::CoolDown),
];

/// The headings of a part, as a message may have them.
pub(crate) fn message_headings(kind: PartKind) -> impl Iterator<Item = &'static str> {
    HEADINGS.iter().filter(move |(_, of)| *of == kind).map(|(name, _)| *name)
}

/// Headings that say a theme and no part: its kind goes by its place. Common practice, no source.
const THEMES: [&str; 26] = [
    "kick",
    "kicks",
    "kicking",
    "legs",
    "pull",
    "arms",
    "drill",
    "drills",
    "drill set",
    "skills",
    "technique",
    "sprint",
    "sprints",
    "speed",
    "im",
    "aerobic",
    "threshold",
    "kick set",
    "pull set",
    "sprint set",
    "starts",
    "k",
    "p",
    "s",
    "swim",
    "speed set",
];

/// What a heading says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Heading {
    /// The part, where it says so.
    pub kind: Option<PartKind>,
    /// How many words it takes.
    pub words: usize,
}

/// The heading that `words` begin with: of the table, or a theme before a colon, a count or the end.
pub(super) fn heading(words: &[Word<'_>]) -> Option<Heading> {
    let kind = |text: &str| HEADINGS.iter().find(|(name, _)| *name == text).map(|(_, kind)| *kind);
    // "Set 2": a part that says no more.
    if let [set, number, rest @ ..] = words
        && set.is_any(&["set", "block", "part"])
        && number.text.len() == 1
        && rest.first().is_none_or(|word| word.text == ":" || word.text == "-")
    {
        return Some(Heading { kind: None, words: 2 });
    }
    for count in (1..=3.min(words.len())).rev() {
        let text = joined(words.get(..count)?);
        let behind = words.get(count);
        if let Some(kind) = kind(&text)
            && ends_heading(words, count, count > 1 || text.contains('/') || text.len() < 3)
        {
            let more = label(words.get(count..).unwrap_or_default());
            return Some(Heading { kind: Some(kind), words: count + more });
        }
        let is_theme = THEMES.contains(&text.as_str());
        let dashed = behind.is_some_and(|word| word.text == "-")
            && words.get(count + 1).is_some_and(|word| is_number(word.text));
        let alone = behind.is_none_or(|word| word.text == ":") || dashed;
        let counted = behind.is_some_and(|word| is_number(word.text))
            && words.get(count + 1).is_some_and(|word| word.is_times());
        if is_theme && (alone || counted) && !(text.len() == 1 && alone) {
            return Some(Heading { kind: None, words: count });
        }
    }
    None
}

/// "Main A", "Main set 2": a letter or a single digit behind a heading names it.
fn label(words: &[Word<'_>]) -> usize {
    let Some(first) = words.first() else { return 0 };
    let is_label = first.text.len() == 1
        && (first.text.chars().all(|sign| matches!(sign, 'A'..='D' | '1'..='9')));
    let ends = words.get(1).is_none_or(|word| matches!(word.text, ":" | "-" | "(" | "="));
    usize::from(is_label && ends)
}

/// Whether a heading may end here: before a sign, a number, another word of a set, or the end.
fn ends_heading(words: &[Word<'_>], count: usize, sure: bool) -> bool {
    let Some(next) = words.get(count) else { return true };
    let sign = matches!(next.text, ":" | "-" | "(" | "=" | "," | "." | "x" | ";");
    let swum = is_number(next.text)
        || next.is_times()
        || matches!(next.text, "broken" | "ladder" | "pyramid");
    let labelled = next.text.len() == 1 && next.text.chars().all(|sign| sign.is_ascii_uppercase());
    sign || swum || labelled || sure && words.len() <= count + 3
}

fn joined(words: &[Word<'_>]) -> String {
    let words: Vec<String> = words.iter().map(|word| word.text.to_lowercase()).collect();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::super::word::words;
    use super::*;

    #[test]
    fn headings_are_told_from_sets_and_sentences() {
        use PartKind::{CoolDown, MainSet, PreSet, WarmUp};
        for (line, wanted) in [
            ("Warm-up", Some((Some(WarmUp), 1))),
            ("w/u: 500 (300 swim", Some((Some(WarmUp), 1))),
            ("wu 400", Some((Some(WarmUp), 1))),
            ("Warm up = 600", Some((Some(WarmUp), 2))),
            ("MAIN (x 3)", Some((Some(MainSet), 1))),
            ("Main A", Some((Some(MainSet), 2))),
            ("Main set 2: 8 x 50", Some((Some(MainSet), 3))),
            ("main 6 x 100 fc", Some((Some(MainSet), 1))),
            ("Pre - 4 x 50", Some((Some(PreSet), 1))),
            ("Cool - 200", Some((Some(CoolDown), 1))),
            ("Kick 8 x 50 w/ board", Some((None, 1))),
            ("Kick", Some((None, 1))),
            ("k 6 x 50 115", Some((None, 1))),
            ("Kick from the hip", None),
            ("build up over the week please", None),
            ("200 easy", None),
            ("main thing is to be on time", None),
        ] {
            let found = heading(&words(line)).map(|heading| (heading.kind, heading.words));
            assert_eq!(found, wanted, "{line}");
        }
    }
}
