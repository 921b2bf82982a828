//! Words of a swim line that are no stroke and no mode: which key takes them, or what they mean.

use std::ops::Range;

use super::numbers::{self, is_bare_number};
use crate::finding::{Finding, Place};
use crate::reader::trade_words::TradeWord;
use crate::reader::value::likely_time;
use crate::reader::{certain_of, in_words_of_the_trade, nearest, offer};
use crate::session::words::{EffortWord, Mode, Pattern, Stroke};

/// Gear that coaches chalk into a line. The key takes any; common practice, no source.
const GEAR: [&str; 11] = [
    "board",
    "kickboard",
    "kick board",
    "fins",
    "paddles",
    "pull buoy",
    "buoy",
    "snorkel",
    "band",
    "tempo trainer",
    "parachute",
];

/// What stands before a time in a line: a send-off or a rest; common practice, no source.
const BEFORE_ON: [&str; 6] = ["on", "@", "leave", "leaving", "off", "every"];
const BEFORE_REST: [&str; 5] = ["rest", "r", "ri", "+", "rest:"];

/// Words that join others and mean nothing alone.
const JOINS: [&str; 6] = ["with", "w/", "and", "&", "+", "at"];

/// Helps with every word of `line` from the one at `span` on that is no stroke and no mode.
/// `place` is that word's, `whole` the line's.
pub(super) fn explain(
    finding: Finding,
    line: &str,
    span: Range<usize>,
    (place, whole): (Place, Place),
) -> Finding {
    let word = line.get(span.clone()).unwrap_or_default();
    let rest = line.get(span.start..).unwrap_or_default();
    let words: Vec<&str> = rest.split_whitespace().collect();
    let helps = elsewhere(&words);
    if let Some(help) = numbers::explain(line, &span) {
        // Whatever looks like a time alone is part of what was explained.
        let helps = helps.into_iter().filter(|help| !help.contains("\" is a time"));
        return helps.fold(finding.help(help), Finding::help);
    }
    // One word may be misspelt; the others are no concern of it.
    if helps.is_empty() || elsewhere(&words[..1]).is_empty() && certain(word).is_some() {
        return helps.into_iter().fold(misspelt(finding, word, place, whole), Finding::help);
    }
    helps.into_iter().fold(finding, Finding::help)
}

/// A help for each of `words` that another key takes, in their order.
fn elsewhere(words: &[&str]) -> Vec<String> {
    let (mut helps, mut next) = (Vec::new(), 0);
    while next < words.len() {
        let most = 4.min(words.len() - next);
        let known = (1..=most).rev().find_map(|count| {
            let behind = words.get(next + count);
            let bare = is_bare_number(words[next + count - 1]);
            if bare && behind.is_some_and(|word| numbers::is_of_a_swim(word)) {
                return None;
            }
            let text = words[next..next + count].join(" ");
            of_another_key(text.trim_matches([',', ';', '(', ')']).trim()).map(|help| (count, help))
        });
        match known {
            Some((count, help)) => {
                helps.push(help);
                next += count;
            }
            None => next += 1,
        }
    }
    helps
}

/// What another key takes, and what to write there.
fn of_another_key(text: &str) -> Option<String> {
    let lower = text.to_lowercase();
    let joined = JOINS.iter().find_map(|join| lower.strip_prefix(&format!("{join} ")));
    let bare = joined.unwrap_or(&lower).trim();
    if let Some(effort) = EffortWord::from_any_spelling(bare) {
        return Some(format!("\"{text}\" is an effort: write effort = \"{}\"", effort.said()));
    }
    if let Some(pattern) = Pattern::from_any_spelling(bare) {
        return Some(format!("\"{text}\" is a pattern: write pattern = \"{pattern}\""));
    }
    if GEAR.contains(&bare) {
        return Some(format!("\"{text}\" is gear: write gear = [\"{bare}\"]"));
    }
    if bare == "count" || bare == "count strokes" {
        return Some(format!("\"{text}\" is about arm strokes: write strokes = \"count\""));
    }
    if lower == "rounds" || lower == "round" {
        return Some("rounds have a group of their own: { rounds = 3, sets = [ … ] }".to_owned());
    }
    strokes_together(&lower, text).or_else(|| timing(&lower, text)).or_else(|| other(&lower, text))
}

/// A word of another language, or another name of an effort.
fn other(lower: &str, text: &str) -> Option<String> {
    let meant = in_words_of_the_trade(lower)?;
    if let Some(effort) = EffortWord::from_any_spelling(meant) {
        return Some(format!("\"{text}\" is an effort: write effort = \"{}\"", effort.said()));
    }
    let known =
        Stroke::from_any_spelling(meant).is_some() || Mode::from_any_spelling(meant).is_some();
    known.then(|| format!("a swim line is in English words: for \"{text}\" write {meant}"))
}

/// "fly/free": strokes in one word.
fn strokes_together(lower: &str, text: &str) -> Option<String> {
    let parts: Vec<&str> = lower.split(['/', ',', '-', '+']).collect();
    let strokes = parts.len() > 1
        && parts.iter().all(|part| {
            Stroke::from_any_spelling(part).is_some() || Mode::from_any_spelling(part).is_some()
        });
    strokes.then(|| {
        format!("\"{text}\" names several: a set has one stroke and one mode; write a set for each, or rounds of them")
    })
}

/// "on 1:45", "@ 1:45", "rest 20 s", "r20", ":20 rest", "+15".
fn timing(lower: &str, text: &str) -> Option<String> {
    if let Some(added) = lower.strip_prefix('+').map(str::trim).filter(|a| is_bare_number(a)) {
        // A larger one may be a distance, and the numbers of the line have their own help.
        return numbers::is_short(added).then(|| {
            format!("\"{text}\" is a rest: write rest = \"{added} s\"; a swim has a set of its own")
        });
    }
    let after = |key: &str, words: &[&str]| {
        words.iter().find_map(|word| lower.strip_prefix(word).and_then(|time| timed(key, time)))
    };
    let before = lower.strip_suffix("rest").and_then(|time| timed("rest", time));
    if let Some(rest) = before.or_else(|| after("rest", &BEFORE_REST)) {
        return Some(format!("\"{text}\" is a rest: write {rest}"));
    }
    // "every 25" is a distance as often as a time.
    let every = lower.strip_prefix("every").is_some_and(|number| is_bare_number(number.trim()));
    if let Some(on) = after("on", &BEFORE_ON).filter(|_| !every) {
        return Some(format!("\"{text}\" is a send-off: write {on}"));
    }
    if BEFORE_ON.contains(&lower) || BEFORE_REST.contains(&lower) && lower != "+" {
        return Some(
            "rest and send-off have keys of their own: rest = \"20 s\" or on = \"1:45\"".to_owned(),
        );
    }
    let is_time = lower.contains(|c: char| c.is_ascii_digit()) && !is_bare_number(lower);
    let time = is_time.then(|| likely_time(lower)).flatten()?;
    Some(format!("\"{text}\" is a time: write on = \"{time}\" or rest = \"{time}\""))
}

/// The lines to write for a time behind the word for its key: "20", ":45", "130".
fn timed(key: &str, time: &str) -> Option<String> {
    let time = time.trim();
    let meant = likely_time(time).or_else(|| likely_time(time.trim_start_matches(':')))?;
    // A hundred and thirty may be a minute and thirty.
    if time.len() == 3 && is_bare_number(time) {
        let (minutes, seconds) = (time.get(..1)?, time.get(1..)?);
        let clock = likely_time(&format!("{minutes}:{seconds}"));
        let clock = clock.map_or(String::new(), |clock| format!("{key} = \"{clock}\" or "));
        return Some(format!("{clock}{key} = \"{meant}\""));
    }
    Some(format!("{key} = \"{meant}\""))
}

/// All spellings of strokes and modes; abbreviations of two letters are too near to everything.
fn spellings() -> impl Iterator<Item = &'static str> {
    let strokes = Stroke::ALL.iter().flat_map(|(_, spellings)| *spellings);
    let modes = Mode::ALL.iter().flat_map(|(_, spellings)| *spellings);
    strokes.chain(modes).copied().filter(|spelling| spelling.len() > 2)
}

fn certain(word: &str) -> Option<&'static str> {
    certain_of(word, spellings().filter(|spelling| !spelling.contains(' ')))
}

/// Help with a word that is misspelt or belongs nowhere.
fn misspelt(finding: Finding, word: &str, place: Place, whole: Place) -> Finding {
    if let Some(meant) = certain(word) {
        let finding = finding.help(format!("did you mean \"{meant}\"?"));
        // Escapes have moved the bytes of the line where its place is all that is known.
        return match place == whole {
            true => finding,
            false => offer(finding, place, word, meant.to_owned()),
        };
    }
    match nearest(word, spellings()) {
        Some(near) => finding.help(format!("did you mean \"{near}\"?")),
        None => finding
            .help(format!(
                "strokes: {}; modes: {}",
                Stroke::texts().collect::<Vec<_>>().join(", "),
                Mode::texts().collect::<Vec<_>>().join(", ")
            ))
            .help("what the swimmer is to think of is a cue: cue = \"long arms\""),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_of_another_key_says_which() {
        for (words, helps) in [
            ("ez", &["effort = \"ez\""][..]),
            ("Hard", &["effort = \"hard\""]),
            ("negative split", &["pattern = \"negative split\""]),
            ("with fins", &["gear = [\"fins\"]"]),
            ("pull buoy", &["gear = [\"pull buoy\"]"]),
            ("on 1:45", &["on = \"1:45\""]),
            ("@1:45", &["on = \"1:45\""]),
            ("@ 1:45", &["on = \"1:45\""]),
            ("rest 20 s", &["rest = \"20 s\""]),
            ("r20", &["rest = \"20 s\""]),
            ("20 s rest", &["rest = \"20 s\""]),
            (":15 rest", &["rest = \":15\""]),
            ("easy fins rest 15 s", &["\"easy\"", "gear = [\"fins\"]", "rest = \"15 s\""]),
            ("fly/free", &["a set has one stroke"]),
            ("count", &["strokes = \"count\""]),
            ("quietly", &[]),
        ] {
            let words: Vec<&str> = words.split(' ').collect();
            let said = elsewhere(&words);
            assert_eq!(said.len(), helps.len(), "{words:?}: {said:?}");
            for (said, wanted) in said.iter().zip(helps) {
                assert!(said.contains(wanted), "{words:?}: {said}");
            }
        }
    }
}
