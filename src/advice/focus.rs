//! One focus, and cues that serve it.

use unicode_segmentation::UnicodeSegmentation;

use super::{Subject, advice};
use crate::finding::{Finding, Severity};
use crate::reader::quoted;

advice! {
    SEVERAL_FOCUSES by several_focuses {
        id: "several-focuses",
        severity: Severity::Note,
        summary: "the focus names more than one skill",
        why: "A swimmer can attend to one thing at a time; given two, most attend to neither. Two words \
              are often one skill, so this is a note.",
        unworried: "If the two words are one skill, as in \"touch and turn\".",
        before: "focus = \"high elbow and quick feet\"",
        after: "focus = \"high elbow\"",
        source: "One focus a session; common practice, no source.",
    }

    pub(crate) FOCUS_WITHOUT_CUE by focus_without_cue {
        id: "focus-without-cue",
        severity: Severity::Note,
        summary: "no cue speaks of the focus",
        why: "What is at the head of the card and in none of its sets is forgotten by the second \
              length.",
        unworried: "If a cue says it in other words. The program only looks for words in common, so this \
                    is a note.",
        before: "focus = \"kick from the hip\" ... cue = \"look down\"",
        after: "focus = \"kick from the hip\" ... cue = \"kick from the hip, toes long\"",
        source: "Common practice, no source.",
    }
}

/// Words and signs that join two skills.
const JOINS: [&str; 6] = [" and ", ", ", " + ", " & ", " / ", "; "];

fn several_focuses(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let Some(focus) = &subject.session.focus else { return };
    let Some(at) = JOINS.iter().filter_map(|join| focus.value.find(join)).min() else { return };
    let first = focus.value.get(..at).unwrap_or_default().trim();
    found.push(
        Finding::new(&SEVERAL_FOCUSES, "the focus names more than one skill")
            .label(focus.place, "")
            .help(format!("keep one for tonight: focus = {}", quoted(first))),
    );
}

/// Letters that words must share at their start to count as the same: kick, kicks, kicking.
const STEM_LETTERS: usize = 4;

fn focus_without_cue(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let Some(focus) = &subject.session.focus else { return };
    let wanted = stems(&focus.value);
    let spots = subject.spots();
    let cues = || spots.iter().filter_map(|spot| spot.set.cue.as_ref());
    // A focus of little words only cannot be looked for.
    if wanted.is_empty() || cues().any(|cue| stems(&cue.value).iter().any(|s| wanted.contains(s))) {
        return;
    }
    let finding =
        Finding::new(&FOCUS_WITHOUT_CUE, format!("no cue speaks of the focus \"{}\"", focus.value))
            .label(focus.place, "");
    found.push(finding.help(format!("write in a main set: cue = {}", quoted(&focus.value))));
}

/// Words that carry no skill of their own.
const LITTLE: [&str; 16] = [
    "the", "and", "from", "with", "that", "for", "your", "into", "over", "under", "all", "out",
    "off", "one", "two", "per",
];

/// The beginnings of the words of `text` that carry meaning, in lower case; words with a beginning
/// in common are taken for one: kick, kicks and kicking.
pub(crate) fn stems(text: &str) -> Vec<String> {
    text.to_lowercase()
        .unicode_words()
        .filter(|word| word.chars().count() >= 3 && !LITTLE.contains(word))
        .map(|word| word.chars().take(STEM_LETTERS).collect())
        .collect()
}
