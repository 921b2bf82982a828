//! Lines of a lane.

use super::super::plain::Plain;
use super::super::set::place;
use super::super::word::Word;
use super::Lines;
use super::written::Written;
use crate::finding::Placed;

impl Lines<'_> {
    /// The lanes that words begin with: "Lane 1:", those that are known by name, or one that is said to
    /// have a pace.
    pub(super) fn lane_label(&self, words: &[Word<'_>]) -> Option<(Vec<String>, usize)> {
        if let Some(label) = lane_label(words) {
            return Some(label);
        }
        let colon = words.iter().take(12).position(|word| word.text == ":")?;
        let named: Vec<String> = words
            .get(..colon)?
            .split(|word| matches!(word.text, "," | "&" | "and" | "+"))
            .map(|name| name.iter().map(|word| word.text).collect::<Vec<_>>().join(" "))
            .collect();
        let known = |name: &String| {
            self.lane_facts.iter().any(|(lane, _)| lane.value.eq_ignore_ascii_case(name))
                || self.club_lanes.iter().any(|lane| lane.eq_ignore_ascii_case(name))
        };
        let defined = words.get(colon + 1).is_some_and(|word| word.is_any(&["pace"])) && colon > 0;
        (!named.is_empty() && (named.iter().all(known) || defined && named.len() == 1))
            .then_some((named, colon + 1))
    }

    /// A line of a lane.
    pub(super) fn of_lane(
        &mut self,
        plain: &Plain,
        words: &[Word<'_>],
        (names, taken): (Vec<String>, usize),
        line: &Written,
    ) {
        let end = words.get(taken - 1).map_or(0, |word| word.span.end);
        let name_at = place(plain.source(0..end));
        // Another lane on the same line.
        let next = (taken..words.len())
            .find(|at| words.get(*at..).is_some_and(|words| self.lane_label(words).is_some()));
        let until =
            next.and_then(|at| words.get(at)).map_or(plain.text().len(), |word| word.span.start);
        let rest = plain.slice(end..until);
        let named: Vec<Placed<String>> =
            names.into_iter().map(|name| Placed::new(name, name_at)).collect();
        let sets = super::super::word::words(rest.text());
        let is_fact = sets.first().is_some_and(|word| word.is_any(&["pace", "swimmers"]))
            || rest.text().contains("/100")
            || rest.text().contains("swimmers");
        if is_fact {
            self.lane_facts.extend(named.into_iter().map(|name| (name, rest.clone())));
        } else if !rest.is_blank() {
            for name in &named {
                if self.lanes.iter().all(|known| known.value != name.value) {
                    self.lanes.push(name.clone());
                }
            }
            self.lane = named;
            self.sentence(&rest, line, false);
            self.lane.clear();
        }
        if next.is_some() {
            self.sentence(&plain.slice(until..plain.text().len()), line, false);
        }
    }
}

/// The lanes that words begin with, and how many words name them: "Lane 1:", "A:", "ALL LANES".
pub(super) fn lane_label(words: &[Word<'_>]) -> Option<(Vec<String>, usize)> {
    let first = words.first()?;
    let colon = |at: usize| words.get(at).is_some_and(|word| word.text == ":");
    if first.is_any(&["all", "everyone", "everybody"]) {
        let lanes = usize::from(words.get(1).is_some_and(|word| word.is_any(&["lanes"])));
        let ends = words.get(1 + lanes).is_none_or(|word| word.text == ":");
        let taken = 1 + lanes + usize::from(colon(1 + lanes));
        return (ends && (lanes > 0 || taken > 1)).then(|| (Vec::new(), taken));
    }
    if first.is_any(&["lane", "group", "lanes", "squad"]) && colon(2) {
        let name = words.get(1)?;
        let named = name.text.chars().count() <= 2 && name.text.chars().all(char::is_alphanumeric);
        let mut kind = first.text.to_lowercase();
        if let Some(letter) = kind.get_mut(..1) {
            letter.make_ascii_uppercase();
        }
        return named.then(|| (vec![format!("{kind} {}", name.text)], 3));
    }
    let letter = first.text.len() == 1 && matches!(first.text, "A" | "B" | "C" | "D" | "E" | "F");
    (letter && colon(1)).then(|| (vec![first.text.to_owned()], 2))
}
