//! Wordings that call for a caution on the card: holding the breath, and dives.
//!
//! Extended breath-holding and over-breathing before swimming under water are dangerous at
//! any depth, for good swimmers too (American Red Cross and YMCA of the USA, joint statement,
//! 27 May 2015; Boyd et al., CDC MMWR 64(19):518-521, 2015; RLSS UK guidance statement
//! GS005, 2020). Breathing every 5, 7 or 9 strokes as "hypoxic training" is named among
//! them (YMCA bulletin, 2011).

use unicode_segmentation::UnicodeSegmentation;

use super::{CheckedSession, each_set};
use crate::finding::{Place, Placed};

/// What a wording asks a caution for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CautionKind {
    /// Holding the breath.
    BreathHold,
    /// A dive or a start from above the water.
    Dive,
}

/// A wording that calls for a caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The set it is printed beside.
    pub set: Place,
    /// The text it was found in.
    pub text: Place,
    /// Which.
    pub kind: CautionKind,
}

/// Phrases as runs of whole words; `*` is any rest of a word.
const BREATH_HOLD: &[&str] = &[
    "no breath*",
    "without breath*",
    "without a breath",
    "zero breath*",
    "hold* breath",
    "hold* your breath",
    "hold* the breath",
    "hold* a breath",
    "breath hold*",
    "breath control",
    "hypox*",
    "underwater",
    "under water",
    "lungbuster*",
    "lung buster*",
    "apnea",
    "apnoea",
    "one breath",
    "1 breath",
    "two breaths",
    "2 breaths",
    "few* breath*",
    "don't breathe",
    "do not breathe",
    "not breathing",
];

/// As above.
const DIVE: &[&str] = &[
    "dive",
    "dives",
    "diving",
    "off the block*",
    "off block*",
    "from the block*",
    "starting block*",
    "block start*",
    "racing start*",
    "grab start*",
    "track start*",
    "standing start*",
];

/// Breathing every so many strokes is named as hypoxic training from here on.
const STROKES_A_BREATH: u32 = 5;

/// The cautions a line of text calls for.
pub fn cautions_of(text: &str) -> Vec<CautionKind> {
    let words: Vec<String> = text.to_lowercase().unicode_words().map(str::to_owned).collect();
    let mut kinds = Vec::new();
    if BREATH_HOLD.iter().any(|phrase| says(&words, phrase)) || breathes_seldom(&words) {
        kinds.push(CautionKind::BreathHold);
    }
    if DIVE.iter().any(|phrase| says(&words, phrase)) {
        kinds.push(CautionKind::Dive);
    }
    kinds
}

/// Every caution of a session: from cues, from the titles and the focus.
///
/// A part's title speaks for its first set, the session's title and focus for the first
/// set of all.
pub fn cautions(session: &CheckedSession) -> Vec<Caution> {
    let mut cautions: Vec<Caution> = Vec::new();
    let mut whole = vec![&session.title, &session.focus];
    for part in &session.parts {
        let mut heading = part.title.as_ref();
        each_set(&part.lines, 1, &mut |set, _| {
            let texts = whole.drain(..).chain(heading.take()).chain(&set.cue);
            for text in texts {
                add(&mut cautions, set.place, text);
            }
        });
    }
    cautions
}

fn add(cautions: &mut Vec<Caution>, set: Place, text: &Placed<String>) {
    for kind in cautions_of(&text.value) {
        // One caution of a kind is enough beside one set.
        if !cautions.iter().any(|known| known.set == set && known.kind == kind) {
            cautions.push(Caution { set, text: text.place, kind });
        }
    }
}

/// Whether the words hold the phrase's words in a row.
fn says(words: &[String], phrase: &str) -> bool {
    let is = |word: &String, wanted: &str| match wanted.strip_suffix('*') {
        Some(start) => word.starts_with(start),
        None => word == wanted,
    };
    let (first, others) = phrase.split_once(' ').map_or((phrase, None), |(a, b)| (a, Some(b)));
    words.iter().enumerate().filter(|(_, word)| is(word, first)).any(|(at, _)| {
        let mut after = words.iter().skip(at + 1);
        let mut others = others.into_iter().flat_map(|others| others.split(' '));
        others.all(|wanted| after.next().is_some_and(|word| is(word, wanted)))
    })
}

/// "breathe every 7", "breathing every 7th stroke", "breathe 5-7-9".
fn breathes_seldom(words: &[String]) -> bool {
    let breathes = words.iter().position(|word| word.starts_with("breath"));
    let Some(at) = breathes else { return false };
    let after = words.iter().skip(at + 1).take(5);
    after
        .take_while(|word| {
            word.as_str() == "every"
                || word.as_str() == "each"
                || word.as_str() == "on"
                || word.starts_with(|c: char| c.is_ascii_digit())
                || number(word).is_some()
        })
        .any(|word| number(word).is_some_and(|strokes| strokes >= STROKES_A_BREATH))
}

/// The number a word says: "7", "7th", "seven".
fn number(word: &str) -> Option<u32> {
    const NUMBERS: [&str; 10] =
        ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    let digits = word.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let said = || {
        let word = word.strip_suffix("th").unwrap_or(word);
        NUMBERS.iter().position(|number| *number == word).and_then(|n| u32::try_from(n).ok())
    };
    digits.parse().ok().or_else(said)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// "8 x 25 underwater, no breath", "breathe every 7" and "hypoxic 5-7-9" call for the
    /// caution, "breathe every 3" does not: after the Red Cross and YMCA joint statement
    /// (2015), the RLSS UK statement GS005 (2020) and the YMCA bulletin (2011).
    #[test]
    fn breath_holding_is_understood_in_its_usual_wordings() {
        for text in [
            "underwater, no breath",
            "no breath in the last 10 m",
            "breathe every 7",
            "breathing every 5th stroke",
            "breathe every seven strokes",
            "Hypoxic 5-7-9",
            "lungbusters",
            "hold your breath to the flags",
            "one breath a length",
            "breathe 3-5-7",
        ] {
            assert_eq!(cautions_of(text), [CautionKind::BreathHold], "{text}");
        }
    }

    #[test]
    fn dives_are_understood_in_their_usual_wordings() {
        for text in ["dive start", "off the block", "from the blocks", "racing start, then glide"] {
            assert_eq!(cautions_of(text), [CautionKind::Dive], "{text}");
        }
    }

    #[test]
    fn harmless_wordings_stay_silent() {
        for text in [
            "breathe every 3",
            "know your count under the flags",
            "bilateral breathing",
            "hold the pace",
            "breathe out all the time",
            "three strong kicks off each wall",
            "loose feet, fins stay under",
            "breathe low, 8 of 10 effort",
            "divers do not hurry",
        ] {
            assert_eq!(cautions_of(text), [], "{text}");
        }
    }
}
