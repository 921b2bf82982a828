//! What begins with no set: clauses of the set before, words on it, remarks, talk.

use super::super::plain::Plain;
use super::super::rules::MAY_BE_SWUM;
use super::super::set::place;
use super::super::word::{Word, words};
use super::super::{set, sets, times};
use super::rounds::between_rounds;
use super::written::Written;
use super::{Lines, set_free};
use crate::finding::{Finding, Placed};
use crate::measure::LIMITS;
use crate::session::Line;
use crate::session::rules::WORDS_KEPT_AS_CUE;

/// The most words of a line that is nothing but clauses.
const MOST_OF_CLAUSES: usize = 12;

impl Lines<'_> {
    /// Warns of words that may be swum and are not.
    pub(super) fn held_in(&mut self, text: &str, at: crate::finding::Place) {
        if sets::may_hold_set(text).is_some() || speaks_of_rounds(text) {
            self.found.push(
                Finding::new(
                    &MAY_BE_SWUM,
                    format!("\"{text}\" speaks of a distance, and is not counted"),
                )
                .label(at, "")
                .help("if it is to be swum, begin a line with it"),
            );
        }
    }

    /// A sentence that begins with no set.
    pub(super) fn no_set(
        &mut self,
        plain: &Plain,
        words: &[Word<'_>],
        line: &Written,
        continues: bool,
    ) {
        if self.builder.in_rounds()
            && let Some(rest) = between_rounds(plain)
            && self.builder.rest_between(rest)
        {
            return;
        }
        if let Some(rest) = between_rounds(plain)
            && let Some(between @ None) = self.builder.last_rounds().map(|rounds| &mut rounds.rest)
        {
            *between = Some(rest);
            return;
        }
        if self.clauses(plain) {
            return;
        }
        let at_head = self.builder.parts.is_empty() && !self.builder.in_rounds();
        let of_repeats = is_of_repeats(words);
        let labelled = words.get(1).is_some_and(|word| word.text == ":");
        if !of_repeats
            && (!at_head || labelled)
            && let Some((before, sets)) = lead_in(plain, words)
        {
            if !self.clauses(&before) && !before.is_blank() {
                self.talk(&before, line, continues);
            }
            return self.sets(&sets, line);
        }
        self.talk(plain, line, continues);
    }

    /// Clauses on a line of their own are the last set's.
    pub(super) fn clauses(&mut self, plain: &Plain) -> bool {
        // Sentences are longer.
        let few = plain.text().split_whitespace().count() <= MOST_OF_CLAUSES;
        if !few || self.builder.last_set().is_none() {
            return false;
        }
        let Some(said) = set::clauses_alone(plain, self.own) else { return false };
        let Some(set) = self.builder.last_set() else { return false };
        let rest = said.rest.as_ref().map(|rest| Placed::new(rest.value.counts(), rest.place));
        set.rest_after = set.rest_after.take().or(rest);
        set.on = set.on.take().or(said.on);
        set.effort = set.effort.take().or(said.effort);
        set.pattern = set.pattern.take().or(said.pattern);
        set.strokes = set.strokes.take().or(said.strokes);
        set.gear.extend(said.gear);
        true
    }

    /// Words: facts at the head, a word on the set before, a remark between sets.
    pub(super) fn talk(&mut self, plain: &Plain, line: &Written, continues: bool) {
        let at = place(plain.whole());
        if self.builder.parts.is_empty() {
            return self.at_head(plain, continues);
        }
        self.head.spoken(plain);
        let text = plain.text().trim().to_owned();
        if text.chars().count() as u64 > LIMITS.text_characters.most / 2 {
            self.held_in(&text, at);
            self.kept_off.push(plain.whole());
            return;
        }
        let inside = continues || line.indent > self.last_indent || is_of_repeats(&words(&text));
        if inside && let Some(set) = self.builder.last_set() {
            let whole =
                set.cue.as_ref().map_or(text.clone(), |cue| format!("{}; {text}", cue.value));
            let start = set.cue.as_ref().map_or(at.start, |cue| cue.place.start.min(at.start));
            set.cue = Some(Placed::new(whole, place(start..at.end)));
            self.found.push(
                Finding::new(&WORDS_KEPT_AS_CUE, format!("\"{text}\" is kept as a cue"))
                    .label(at, "on the set before it"),
            );
            // Lines of some repeats add no distance to the set.
            if !is_of_repeats(&words(&text)) {
                self.held_in(&text, at);
            }
            return;
        }
        self.held_in(&text, at);
        self.builder.push(Line::Remark(Placed::new(text, at)));
    }

    /// A line before the session: a fact, the title, talk.
    pub(super) fn at_head(&mut self, plain: &Plain, continues: bool) {
        self.head.spoken(plain);
        if self.head.facts(plain) {
            return;
        }
        // Behind a greeting a title stands right above the facts.
        let first = self.kept_off.is_empty() || self.before_facts && set_free(plain.text());
        if !continues && !self.head.has("title") && first && is_title(plain.text()) {
            self.head.title(plain);
            return;
        }
        self.held_in(plain.text(), place(plain.whole()));
        self.kept_off.push(plain.whole());
    }

    /// A line in quotes is a remark, whatever it says.
    pub(super) fn meant(&mut self, remark: &Plain) {
        let at = place(remark.whole());
        self.meant.push(at.start);
        self.builder.push(Line::Remark(Placed::new(remark.text().to_owned(), at)));
    }
}

/// The words of a line that is nothing but words in quotes.
pub(super) fn in_quotes(plain: &Plain) -> Option<Plain> {
    let inner = plain.text().strip_prefix('"')?.strip_suffix('"')?;
    (!inner.contains('"') && !inner.is_empty()).then(|| plain.slice(1..1 + inner.len()))
}

/// Whether words say how often something is swum: "3 rds", "twice".
fn speaks_of_rounds(text: &str) -> bool {
    let words = words(text);
    (0..words.len()).any(|at| words.get(at..).and_then(times::often).is_some())
}

/// "1-4 @ 1:10", "#5 fast", "odds drill", "no. 1 fly": of some repeats of the set before.
fn is_of_repeats(words: &[Word<'_>]) -> bool {
    words.first().is_some_and(|word| {
        let range = word.text.split('-').all(super::super::word::is_number) && word.text.len() < 6;
        word.text.starts_with('#')
            || word.is_any(&[
                "odd", "odds", "even", "evens", "no.", "no", "last", "first", "1st", "2nd", "hold",
            ])
            || range && word.text.contains('-')
    })
}

/// A lead-in before sets on a line: "1 min rest, then 6 x 50", "Straight in, 400 easy".
fn lead_in(plain: &Plain, words: &[Word<'_>]) -> Option<(Plain, Plain)> {
    let at = (1..words.len()).find(|at| {
        let before =
            words.get(at - 1).is_some_and(|word| word.is_any(&[",", "then", ":", "-", "do"]));
        let behind = words.get(*at).and_then(|word| plain.text().get(word.span.start..));
        before && behind.is_some_and(sets::begins_set)
    })?;
    let word = words.get(at)?;
    let mut until = at;
    while until > 0
        && words.get(until - 1).is_some_and(|word| word.is_any(&[",", "then", ":", "-", "and"]))
    {
        until -= 1;
    }
    let end = words.get(until.checked_sub(1)?)?.span.end;
    let before = plain.slice(0..end);
    let few = until <= 4;
    few.then(|| (before, plain.slice(word.span.start..plain.text().len())))
}

/// Whether a first line names the session: a few words that neither greet nor end like a sentence.
fn is_title(text: &str) -> bool {
    const GREETINGS: [&str; 16] = [
        "hi", "hello", "hey", "dear", "morning", "evening", "good", "ok", "right", "rite", "g'day",
        "hallo", "guys", "team", "from", "subject",
    ];
    let words = words(text);
    let greets = words.first().is_some_and(|word| word.is_any(&GREETINGS));
    let sentence = text.ends_with(['.', '?', ','])
        || words
            .iter()
            .any(|word| word.is_any(&["i", "you", "u", "me", "my", "cant", "please", "pls"]));
    !greets
        && !sentence
        && words.len() <= 10
        && text.chars().count() <= 60
        && text.contains(char::is_alphabetic)
}
