//! How the repeats of a line differ, and what stands in its brackets.

use std::ops::Range;

use super::token::{Kind, Term, Token};
use super::{Level, Reader, adds_up};
use crate::session::chalk::ChalkError;
use crate::session::swim::{Asked, Course, Differ, Legs, Way, Which};

/// Ordinals behind "every": the ending of a number, or the word. Common practice, no source.
const ENDINGS: [&str; 4] = ["st", "nd", "rd", "th"];
const ORDINALS: [(&str, u64); 9] = [
    ("other", 2),
    ("second", 2),
    ("third", 3),
    ("fourth", 4),
    ("fifth", 5),
    ("sixth", 6),
    ("seventh", 7),
    ("eighth", 8),
    ("tenth", 10),
];

/// One entry of a list in brackets or behind a colon.
struct Entry {
    head: Head,
    way: Way,
    span: Range<usize>,
}

/// What an entry begins with.
enum Head {
    /// "1-3", "#4", "odd".
    Which(Which),
    /// A number that may be a distance, a count, or the number of a repeat.
    Number(Asked),
    /// Nothing: a way alone.
    Way,
}

impl Reader<'_> {
    /// Whether "odd", "even", "every 4th" or "last" comes next.
    pub(super) fn begins_some(&self) -> bool {
        let word = |words: &[&str]| words.iter().any(|word| self.is_word(word));
        if word(&["odd", "odds", "even", "evens", "last"]) {
            return true;
        }
        if matches!(self.kind(), Some(Kind::Term(Term::Pattern(_)))) && self.is_even() {
            return true;
        }
        let ordinal = match (self.after(1), self.after(2)) {
            (Some(Kind::Number { .. }), Some(Kind::Word(end))) => ENDINGS.contains(&end.as_str()),
            (Some(Kind::Word(name)), _) => ORDINALS.iter().any(|(known, _)| known == name),
            _ => false,
        };
        word(&["every"]) && ordinal
    }

    fn says_even(&self) -> bool {
        let text = self.peek().and_then(|token| self.line.get(token.span.clone()));
        text.is_some_and(|text| text.eq_ignore_ascii_case("even"))
    }

    /// "even" is a pattern too; behind a line it says which repeats where a way follows.
    fn is_even(&self) -> bool {
        self.says_even()
            && matches!(
                self.after(1),
                Some(Kind::Term(
                    Term::Stroke(_) | Term::Mode(_) | Term::Effort(_) | Term::Movement(_)
                ))
            )
    }

    /// Whether a comma comes next, and then some of the repeats or an order.
    pub(super) fn comma_before_some(&self) -> bool {
        let next = Reader { line: self.line, tokens: self.tokens, at: self.at + 1 };
        matches!(self.kind(), Some(Kind::Sign(',')))
            && (next.begins_some()
                || next.group_pattern().is_some()
                || matches!(next.kind(), Some(Kind::Term(Term::Order(_)))))
    }

    /// "odd free, even back".
    pub(super) fn some(&mut self) -> Result<Vec<(Which, Way)>, ChalkError> {
        let mut some = Vec::new();
        loop {
            let Some(token) = self.peek() else { return Err(ChalkError::Unended) };
            let Some(which) = self.which() else { return Err(self.unknown(token)) };
            some.push((which, self.some_way(token)?));
            let before = self.at;
            let comma = self.eat_sign(',');
            let goes_on = self.begins_some() || comma && self.says_even();
            if !goes_on {
                self.at = before;
                return Ok(some);
            }
        }
    }

    /// The way of some repeats, which says something.
    fn some_way(&mut self, of: &Token) -> Result<Way, ChalkError> {
        let way = self.way(Level::Inner)?;
        match (way.is_empty(), self.peek()) {
            (false, _) => Ok(way),
            (true, Some(token)) if !matches!(token.kind, Kind::Sign(_)) => Err(self.unknown(token)),
            (true, _) => Err(ChalkError::NoWay(of.span.clone())),
        }
    }

    fn which(&mut self) -> Option<Which> {
        if self.eat_word(&["odd", "odds"]) {
            return Some(Which::Odd);
        }
        if self.eat_word(&["evens", "even"]) || self.says_even() {
            self.at += usize::from(matches!(self.kind(), Some(Kind::Term(Term::Pattern(_)))));
            return Some(Which::Even);
        }
        if self.is_word("every") && self.begins_some() {
            self.at += 1;
            let which = match self.kind() {
                Some(Kind::Number { whole, .. }) => {
                    self.at += 2;
                    Which::Every(*whole)
                }
                Some(Kind::Word(name)) => {
                    self.at += 1;
                    Which::Every(ORDINALS.iter().find(|(known, _)| known == name)?.1)
                }
                _ => return None,
            };
            return Some(which);
        }
        if self.eat_word(&["last"]) {
            if let Some(Kind::Number { whole, sixths: 0 }) = self.kind() {
                self.at += 1;
                return Some(Which::Last(*whole));
            }
            self.eat_word(&["one"]);
            return Some(Which::Last(1));
        }
        None
    }

    pub(super) fn order(&mut self) -> Option<Differ> {
        let Some(Kind::Term(Term::Order(reverse))) = self.kind() else { return None };
        self.at += 1;
        Some(Differ::MedleyOrder { reverse: *reverse })
    }

    /// What stands in brackets, with the bracket that ends it.
    pub(super) fn brackets(
        &mut self,
        course: &Course,
        repeats: u64,
        legs: &mut Legs,
        differ: &mut Option<Differ>,
    ) -> Result<(), ChalkError> {
        let open = self.tokens.get(self.at.saturating_sub(1)).map_or(0..0, |t| t.span.clone());
        let left = self.tokens.get(self.at..).unwrap_or_default();
        if !left.iter().any(|token| token.kind == Kind::Sign(')')) {
            return Err(ChalkError::Unclosed(open));
        }
        // "300 (as 4 x 75)" is another set, told with its bracket.
        if self.is_word("as") {
            let end = self.peek().map_or(open.end, |token| token.span.end);
            return Err(ChalkError::UnknownWord(open.start..end));
        }
        self.inside(course, repeats, legs, differ)?;
        if self.eat_sign(')') {
            return Ok(());
        }
        match self.peek() {
            Some(token) => Err(self.unknown(token)),
            None => Err(ChalkError::Unended),
        }
    }

    /// Legs, runs or some of the repeats.
    pub(super) fn inside(
        &mut self,
        course: &Course,
        repeats: u64,
        legs: &mut Legs,
        differ: &mut Option<Differ>,
    ) -> Result<(), ChalkError> {
        let start = self.peek().map_or(self.line.len(), |token| token.span.start);
        if let Some(order) = self.order() {
            *differ = Some(order);
            return Ok(());
        }
        let entries = self.entries()?;
        let end = entries.last().map_or(start, |entry| entry.span.end);
        if let [Entry { head: Head::Way, way, .. }] = entries.as_slice()
            && self.eat_sign('/')
        {
            return self.turns(way.clone()).map(|turns| *legs = turns);
        }
        let is_which = |entry: &Entry| matches!(entry.head, Head::Which(_));
        if entries.iter().any(is_which) {
            let some = entries.into_iter().map(some_of).collect::<Result<Vec<_>, _>>()?;
            *differ = Some(Differ::Some(some));
            return Ok(());
        }
        let parts = entries.into_iter().map(part_of).collect::<Result<Vec<_>, _>>()?;
        match (as_runs(&parts, repeats), as_legs(&parts, course, start..end)) {
            (Some(_), Ok(())) => return Err(ChalkError::TwoReadings(start..end)),
            (Some(runs), Err(_)) => *differ = Some(Differ::Runs(runs)),
            (None, Ok(())) => *legs = Legs::Parts(parts),
            // Metres or yards beside a repeat in lengths are held against a pool.
            (None, Err(_)) if matches!(course, Course::Each(Asked::Lengths(_))) => {
                *legs = Legs::Parts(parts);
            }
            (None, Err(error)) => return Err(error),
        }
        Ok(())
    }

    /// Entries with commas between them, or nothing but a number that begins the next.
    fn entries(&mut self) -> Result<Vec<Entry>, ChalkError> {
        let mut entries = Vec::new();
        loop {
            let Some(token) = self.peek() else { return Err(ChalkError::Unended) };
            let head = self.head()?;
            let way = self.way(Level::Inner)?;
            let at = self.at;
            if matches!(head, Head::Way) && way.is_empty() {
                return Err(self.unknown(token));
            }
            let end = self.tokens.get(at.saturating_sub(1)).map_or(token.span.end, |t| t.span.end);
            entries.push(Entry { head, way, span: token.span.start..end });
            let parted = self.eat_sign(',') || self.eat_word(&["and", "then", "+"]);
            let goes_on = parted
                || self.begins_some()
                || matches!(self.kind(), Some(Kind::Number { .. } | Kind::Sign('#')));
            if !goes_on {
                return Ok(entries);
            }
        }
    }

    fn head(&mut self) -> Result<Head, ChalkError> {
        if self.begins_some() {
            return Ok(self.which().map_or(Head::Way, Head::Which));
        }
        let numbered = self.eat_sign('#') || self.eat_word(&["no", "number", "nos"]);
        if numbered {
            self.eat_word(&["."]);
        }
        let before = self.at;
        match self.range() {
            Some((from, to, _)) if numbered || from != to => {
                Ok(Head::Which(Which::Range(from, to)))
            }
            _ => {
                self.at = before;
                Ok(self.asked()?.map_or(Head::Way, Head::Number))
            }
        }
    }
}

/// An entry among others that say which repeats: a lone number is one of them too.
fn some_of(entry: Entry) -> Result<(Which, Way), ChalkError> {
    let which = match entry.head {
        Head::Which(which) => which,
        Head::Number(Asked::Number(sixths, None)) if sixths.is_multiple_of(6) => {
            Which::Range(sixths / 6, sixths / 6)
        }
        _ => return Err(ChalkError::UnknownWord(entry.span)),
    };
    match entry.way.is_empty() {
        true => Err(ChalkError::NoWay(entry.span)),
        false => Ok((which, entry.way)),
    }
}

fn part_of(entry: Entry) -> Result<(Asked, Way), ChalkError> {
    match entry.head {
        Head::Number(asked) => Ok((asked, entry.way)),
        _ => Err(ChalkError::UnknownWord(entry.span)),
    }
}

/// The parts as so many repeats of each, where their numbers are the repeats of the set.
fn as_runs(parts: &[(Asked, Way)], repeats: u64) -> Option<Vec<(u64, Way)>> {
    let mut runs = Vec::new();
    for (asked, way) in parts {
        match asked {
            Asked::Number(sixths, None) if sixths.is_multiple_of(6) && !way.is_empty() => {
                runs.push((sixths / 6, way.clone()));
            }
            _ => return None,
        }
    }
    let sum = runs.iter().try_fold(0_u64, |sum, (count, _)| sum.checked_add(*count))?;
    let fits = sum > 0 && repeats.is_multiple_of(sum) && runs.iter().all(|(count, _)| *count > 0);
    (fits && repeats > 1).then_some(runs)
}

/// Whether the parts are legs of a repeat.
fn as_legs(parts: &[(Asked, Way)], course: &Course, span: Range<usize>) -> Result<(), ChalkError> {
    let Course::Each(whole) = course else { return Err(ChalkError::LegsOf(span)) };
    let asked: Vec<Asked> = parts.iter().map(|(asked, _)| *asked).collect();
    // Beside a repeat in lengths bare numbers count them, if they count a distance at all.
    let bare = |asked: &Asked| matches!(asked, Asked::Number(_, None));
    let whole = match whole {
        Asked::Lengths(lengths) if asked.iter().all(bare) => {
            Asked::Number(lengths.saturating_mul(6), None)
        }
        _ => *whole,
    };
    adds_up(&asked, whole, span)
}
