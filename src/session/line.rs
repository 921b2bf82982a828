//! The grammar of a swim line, and its reader: [`swim`] reads a line to a [`Swim`].
//!
//! Capitals never matter, nor do spaces; `x` may be `×` or `*`, a hyphen a dash. A word of another key
//! is an error here, with the key that takes it.

mod differ;
mod token;

use std::ops::Range;

use super::chalk::ChalkError;
use super::swim::{Asked, Course, Differ, Grouped, Legs, Pieces, Swim, Way};
use crate::measure::{Seconds, Unit};
use crate::reader::value::OwnWords;
use crate::session::words::{Mode, Pattern};
use token::{Kind, Term, Token, tokens};

/// The grammar of a swim line, as the reference prints it: ISO/IEC 14977 without its commas.
pub const GRAMMAR: &str = r##"line     = [ number "x" ] course { word } [ legs ] [ differ ] [ groups ] ;
course   = distance
         | distance "-" distance { "-" distance }
         | ( "ladder" | "pyramid" ) distance { [ "-" | "," ] distance }
         | time ;
distance = number [ "m" | "yd" ]
         | number ( "length" | "lengths" | "width" | "widths" )
         | "half a length" ;
number   = digit { digit } [ "1/2" | "1/3" | "2/3" ] ;
time     = number ( "min" | "s" ) [ number "s" ] | number ":" digit digit ;
word     = stroke | mode | movement ;
way      = ( word | effort ) { word | effort } [ "on" time ] ;
legs     = "(" leg { "," leg } ")"
         | turns | "(" turns ")"
         | "broken" distance { "-" distance } [ "," time ]
         | "broken" [ "at" | "every" | "by" ] [ "each" ] distance [ "," time ] ;
leg      = distance [ way ] ;
turns    = way "/" way { "/" way } [ "by" distance ] ;
differ   = some | "," some | ":" some | "(" some ")"
         | ":" run { "," run } | "(" run { "," run } ")"
         | [ "reverse" ] "IM order" ;
some     = which way { "," which way } ;
which    = "odd" | "even" | "every" ordinal | "last" [ number ] | [ "#" ] number [ "-" number ] ;
run      = number way ;
groups   = ( "descend" | "build" ) number "-" number { "," number "-" number } ;"##;

/// The rest between the pieces of a broken swim where the line does not say it. Common practice, no
/// source.
const USUAL_BREAK: Seconds = Seconds::new(10);

/// Modes between slashes. Common practice, no source.
const LETTERS: [(&str, Mode); 2] = [("d", Mode::Drill), ("s", Mode::Swim)];

/// Reads a swim line.
///
/// # Errors
///
/// A [`ChalkError`] with the bytes of the line at fault.
pub fn swim(line: &str) -> Result<Swim, ChalkError> {
    swim_of_club(line, OwnWords::NONE)
}

/// Reads a swim line in which efforts may have words of the club's own.
pub(crate) fn swim_of_club(line: &str, own: &OwnWords) -> Result<Swim, ChalkError> {
    let tokens = tokens(line, own)?;
    let mut reader = Reader { line, tokens: &tokens, at: 0 };
    let swim = reader.line()?;
    match reader.peek() {
        None => Ok(swim),
        Some(token) => Err(reader.unknown(token)),
    }
}

/// The swim line that a text begins with, the longest that ends at one of `ends`, ascending bytes; and
/// which of them it is.
pub(crate) fn longest_swim(text: &str, ends: &[usize], own: &OwnWords) -> Option<(Swim, usize)> {
    let (tokens, _) = token::tokens_to_fault(text, own);
    ends.iter().enumerate().rev().find_map(|(at, end)| {
        let count = tokens.iter().take_while(|token| token.span.end <= *end).count();
        let ends_there = tokens.get(count.checked_sub(1)?)?.span.end == *end;
        let tokens = tokens.get(..count).filter(|_| ends_there)?;
        let mut reader = Reader { line: text, tokens, at: 0 };
        let swim = reader.line().ok()?;
        reader.peek().is_none().then_some((swim, at))
    })
}

/// Whether a word in small letters is one of the trade's: a stroke, a mode, an effort, a pattern.
pub(crate) fn is_term(lower: &str) -> bool {
    token::is_term(lower)
}

/// The tokens of a line and how far they are read.
struct Reader<'a> {
    line: &'a str,
    tokens: &'a [Token],
    at: usize,
}

/// Words of a line that begin something else than a way.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Level {
    /// Behind the distance, where an effort has a key of its own.
    Line,
    /// In a leg, or of some repeats.
    Inner,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<&'a Token> {
        self.tokens.get(self.at)
    }

    fn kind(&self) -> Option<&'a Kind> {
        self.peek().map(|token| &token.kind)
    }

    fn after(&self, count: usize) -> Option<&'a Kind> {
        self.tokens.get(self.at + count).map(|token| &token.kind)
    }

    fn eat_sign(&mut self, sign: char) -> bool {
        let is = matches!(self.kind(), Some(Kind::Sign(found)) if *found == sign);
        self.at += usize::from(is);
        is
    }

    fn is_word(&self, word: &str) -> bool {
        matches!(self.kind(), Some(Kind::Word(found)) if found == word)
    }

    fn eat_word(&mut self, words: &[&str]) -> bool {
        let is = words.iter().any(|word| self.is_word(word));
        self.at += usize::from(is);
        is
    }

    fn unknown(&self, token: &Token) -> ChalkError {
        ChalkError::UnknownWord(self.chunk(token))
    }

    /// A token with all that stands beside it without a space, as a coach would call it a word.
    fn chunk(&self, token: &Token) -> Range<usize> {
        let rest = self.line.get(token.span.start..).unwrap_or_default();
        let end = rest.find(char::is_whitespace).unwrap_or(rest.len());
        token.span.start..(token.span.start + end).max(token.span.end)
    }

    fn line(&mut self) -> Result<Swim, ChalkError> {
        let named = self.eat_word(&["ladder", "pyramid"]);
        let repeats = self.repeats();
        let named = named || self.eat_word(&["ladder", "pyramid"]);
        let course_at = self.at;
        let mut course = self.course(repeats.is_some(), named)?;
        // "4-6 x 75": a choice of two counts is no ladder.
        if let (Course::Ladder(_), Some(Kind::Sign('x')), Some(dash)) =
            (&course, self.kind(), self.tokens.get(course_at + 1))
        {
            return Err(self.unknown(dash));
        }
        let mut swim_way = self.way(Level::Line)?;
        let mut legs = Legs::Whole;
        let (mut differ, mut grouped) = (None, None);
        loop {
            if self.eat_word(&["broken"]) {
                course = self.broken(course, course_at)?;
                let more = self.way(Level::Line)?;
                self.join(&mut swim_way, more)?;
            } else if !swim_way.is_empty() && self.eat_sign('/') {
                legs = self.turns(std::mem::take(&mut swim_way))?;
                swim_way = base_of(&mut legs);
            } else if self.group_pattern().is_some() {
                grouped = self.grouped()?;
            } else if differ.is_none() && self.begins_some() {
                differ = Some(Differ::Some(self.some()?));
            } else if differ.is_none() && matches!(self.kind(), Some(Kind::Term(Term::Order(_)))) {
                differ = self.order();
            } else if self.eat_sign('(') {
                self.brackets(&course, repeats.unwrap_or(1), &mut legs, &mut differ)?;
            } else if differ.is_none() && matches!(self.kind(), Some(Kind::Sign(':'))) {
                self.at += 1;
                self.inside(&course, repeats.unwrap_or(1), &mut legs, &mut differ)?;
            } else if differ.is_none() && self.comma_before_some() {
                self.at += 1;
            } else {
                break;
            }
            let more = self.way(Level::Line)?;
            self.join(&mut swim_way, more)?;
        }
        if swim_way.stroke.is_some() && swim_way.mode == Some(Mode::Swim) {
            swim_way.mode = None;
        }
        Ok(Swim { repeats: repeats.unwrap_or(1), course, way: swim_way, legs, differ, grouped })
    }

    /// Words behind legs or the like count to the whole line.
    fn join(&self, way: &mut Way, more: Way) -> Result<(), ChalkError> {
        let twice = way.stroke.is_some() && more.stroke.is_some()
            || way.mode.is_some() && more.mode.is_some()
            || way.movement.is_some() && more.movement.is_some();
        if twice {
            let last = self.tokens.get(self.at.saturating_sub(1));
            return Err(ChalkError::OneTooMany(last.map_or(0..0, |last| last.span.clone())));
        }
        way.stroke = way.stroke.or(more.stroke);
        way.mode = way.mode.or(more.mode);
        way.movement = way.movement.or(more.movement);
        Ok(())
    }

    /// A number with a times sign behind it.
    fn repeats(&mut self) -> Option<u64> {
        let Some(Kind::Number { whole, sixths: 0 }) = self.kind() else { return None };
        if !matches!(self.after(1), Some(Kind::Sign('x'))) {
            return None;
        }
        self.at += 2;
        Some(*whole)
    }

    fn course(&mut self, repeated: bool, named: bool) -> Result<Course, ChalkError> {
        if let Some(time) = self.time()? {
            return Ok(Course::Timed(time));
        }
        let first = match self.asked()? {
            Some(first) => first,
            None if repeated || named => return Err(ChalkError::NoDistance),
            None => return Err(ChalkError::NoNumber),
        };
        let mut steps = vec![first];
        loop {
            let before = self.at;
            let dash = self.eat_sign('-') || (named && self.eat_sign(','));
            match self.asked()? {
                Some(step) if dash || named => steps.push(step),
                _ => {
                    self.at = before;
                    break;
                }
            }
        }
        match steps.len() {
            1 => Ok(Course::Each(first)),
            _ => Ok(Course::Ladder(steps)),
        }
    }

    /// "1:30", "10 min", "30 s", "1 min 30 s".
    fn time(&mut self) -> Result<Option<Seconds>, ChalkError> {
        let Some(Kind::Number { whole, sixths: 0 }) = self.kind() else { return Ok(None) };
        let number = u32::try_from(*whole).ok();
        let (time, count) = match (self.after(1), self.after(2)) {
            (Some(Kind::Sign(':')), Some(Kind::Number { whole: seconds, sixths: 0 }))
                if self.is_clock() && *seconds < 60 && *whole < 60 =>
            {
                let seconds = u32::try_from(*seconds).ok();
                (number.and_then(|n| n.checked_mul(60)).zip(seconds), 3)
            }
            (Some(Kind::Word(word)), Some(Kind::Number { whole: seconds, sixths: 0 }))
                if is_minutes(word)
                    && matches!(self.after(3), Some(Kind::Word(word)) if is_seconds(word)) =>
            {
                let seconds = u32::try_from(*seconds).ok();
                (number.and_then(|n| n.checked_mul(60)).zip(seconds), 4)
            }
            (Some(Kind::Word(word)), _) if is_minutes(word) => {
                (number.and_then(|n| n.checked_mul(60)).map(|m| (m, 0)), 2)
            }
            (Some(Kind::Word(word)), _) if is_seconds(word) && !self.is_plural() => {
                (number.map(|seconds| (0, seconds)), 2)
            }
            _ => return Ok(None),
        };
        let span = self.peek().map_or(0..0, |token| token.span.clone());
        self.at += count;
        let seconds = time.and_then(|(minutes, seconds)| u32::checked_add(minutes, seconds));
        seconds.map(|seconds| Some(Seconds::new(seconds))).ok_or(ChalkError::TooLarge(span))
    }

    /// Whether a number, a colon and two digits stand together: "1:30", not "12 x 25: 40 free".
    fn is_clock(&self) -> bool {
        let Some([hours, colon, minutes]) = self.tokens.get(self.at..self.at + 3) else {
            return false;
        };
        hours.span.end == colon.span.start
            && colon.span.end == minutes.span.start
            && minutes.span.len() == 2
    }

    /// "8 x 50s free" are fifties; "30s vertical kick" is a time, as is "30 s".
    fn is_plural(&self) -> bool {
        let Some([number, word]) = self.tokens.get(self.at..self.at + 2) else { return false };
        let Kind::Number { whole, .. } = number.kind else { return false };
        let on_the_spot =
            self.tokens.iter().any(|token| matches!(token.kind, Kind::Term(Term::Movement(_))));
        number.span.end == word.span.start
            && matches!(&word.kind, Kind::Word(word) if word == "s")
            && whole.is_multiple_of(25)
            && !on_the_spot
    }

    /// A distance; nothing is read where there is none.
    fn asked(&mut self) -> Result<Option<Asked>, ChalkError> {
        if self.is_word("half") {
            let count = match (self.after(1), self.after(2)) {
                (Some(Kind::Word(a)), Some(Kind::Word(b))) if a == "a" && b == "length" => 3,
                (Some(Kind::Word(length)), _) if length == "length" || length == "lengths" => 2,
                _ => return Ok(None),
            };
            self.at += count;
            return Ok(Some(Asked::HalfLength));
        }
        let Some(token) = self.peek() else { return Ok(None) };
        let Kind::Number { whole, sixths } = token.kind else { return Ok(None) };
        self.at += 1;
        let number = whole
            .checked_mul(6)
            .and_then(|number| number.checked_add(sixths))
            .ok_or(ChalkError::TooLarge(token.span.clone()))?;
        let Some(Kind::Word(word)) = self.kind() else {
            return Ok(Some(Asked::Number(number, None)));
        };
        let is_length = matches!(word.as_str(), "length" | "lengths");
        let asked = match word.as_str() {
            _ if is_length && (whole, sixths) == (0, 3) => Asked::HalfLength,
            "length" | "lengths" if sixths == 0 => Asked::Lengths(whole),
            "width" | "widths" if sixths == 0 => Asked::Widths(whole),
            "length" | "lengths" | "width" | "widths" => {
                return Err(ChalkError::NotWhole(token.span.clone()));
            }
            "s" | "'s" if self.plural_behind(token) => Asked::Number(number, None),
            word => match Unit::from_word(word) {
                Some(unit) => Asked::Number(number, Some(unit)),
                None => return Ok(Some(Asked::Number(number, None))),
            },
        };
        self.at += 1;
        Ok(Some(asked))
    }

    fn plural_behind(&self, number: &Token) -> bool {
        self.peek().is_some_and(|word| word.span.start == number.span.end)
    }

    /// The words of a way. At the level of the line an effort is not taken.
    fn way(&mut self, level: Level) -> Result<Way, ChalkError> {
        let mut way = Way::default();
        while let Some(token) = self.peek() {
            let Kind::Term(term) = &token.kind else { break };
            let twice = match term {
                Term::Stroke(stroke) => way.stroke.replace(*stroke).is_some(),
                Term::Mode(mode) => way.mode.replace(*mode).is_some(),
                Term::Movement(movement) => way.movement.replace(*movement).is_some(),
                Term::Effort(effort) if level == Level::Inner => {
                    way.effort.replace(effort.clone()).is_some()
                }
                _ => break,
            };
            if twice {
                return Err(ChalkError::OneTooMany(token.span.clone()));
            }
            self.at += 1;
        }
        if level == Level::Inner && self.is_word("on") {
            let before = self.at;
            self.at += 1;
            way.on = self.time()?;
            if way.on.is_none() {
                self.at = before;
            }
        }
        Ok(way)
    }

    /// Ways in turn, the first of them read already.
    fn turns(&mut self, first: Way) -> Result<Legs, ChalkError> {
        let mut ways = vec![first];
        loop {
            let Some(token) = self.peek() else { return Err(ChalkError::Unended) };
            let mut way = self.way(Level::Inner)?;
            // Between slashes single letters are modes: k/d/s.
            let letter = LETTERS.iter().find(|(letter, _)| self.is_word(letter));
            if let Some((_, mode)) = letter.filter(|_| way.is_empty()) {
                self.at += 1;
                way.mode = Some(*mode);
            }
            if way.is_empty() {
                return Err(self.unknown(token));
            }
            ways.push(way);
            if !self.eat_sign('/') {
                break;
            }
        }
        let by = if self.eat_word(&["by"]) {
            Some(self.asked()?.ok_or(ChalkError::Unended)?)
        } else {
            None
        };
        Ok(Legs::Turns { ways, by })
    }

    /// "broken 200-100-50-50, 10 s", "broken at each 50".
    fn broken(&mut self, course: Course, course_at: usize) -> Result<Course, ChalkError> {
        let Course::Each(whole) = course else {
            let at = self.tokens.get(course_at).map_or(0..0, |token| token.span.clone());
            return Err(ChalkError::BrokenOf(at));
        };
        let each = self.eat_word(&["at", "every", "by", "into"]) | self.eat_word(&["each"]);
        self.eat_word(&["the"]);
        let Course::Each(first) = self.course(true, false)? else {
            self.at = self.back_to_number(course_at);
            return self.pieces(whole);
        };
        let at = if each { Pieces::Each(first) } else { Pieces::Listed(vec![first]) };
        if matches!(at, Pieces::Listed(_)) {
            let alone = self.tokens.get(self.at.saturating_sub(1));
            return Err(ChalkError::Unpaired(alone.map_or(0..0, |token| token.span.clone())));
        }
        self.break_rest().map(|rest| Course::Broken { whole, at, rest })
    }

    /// The place of the first number behind `broken`.
    fn back_to_number(&self, course_at: usize) -> usize {
        let broken = self
            .tokens
            .iter()
            .skip(course_at)
            .position(|token| matches!(&token.kind, Kind::Word(word) if word == "broken"));
        let from = course_at + broken.unwrap_or(0);
        let number = self
            .tokens
            .iter()
            .skip(from)
            .position(|token| matches!(token.kind, Kind::Number { .. }));
        from + number.unwrap_or(0)
    }

    fn pieces(&mut self, whole: Asked) -> Result<Course, ChalkError> {
        let start = self.peek().map_or(0, |token| token.span.start);
        let Course::Ladder(pieces) = self.course(true, false)? else {
            return Err(ChalkError::Unended);
        };
        let end = self.tokens.get(self.at.saturating_sub(1)).map_or(start, |token| token.span.end);
        adds_up(&pieces, whole, start..end)?;
        let rest = self.break_rest()?;
        Ok(Course::Broken { whole, at: Pieces::Listed(pieces), rest })
    }

    /// The rest between the pieces, behind a comma or not.
    fn break_rest(&mut self) -> Result<Seconds, ChalkError> {
        let before = self.at;
        self.eat_sign(',');
        self.eat_word(&["rest", "with"]);
        match self.time()? {
            Some(rest) => {
                self.eat_word(&["rest"]);
                Ok(rest)
            }
            None => {
                self.at = before;
                Ok(USUAL_BREAK)
            }
        }
    }

    /// A pattern with numbers behind it.
    fn group_pattern(&self) -> Option<Pattern> {
        let Some(Kind::Term(Term::Pattern(pattern))) = self.kind() else { return None };
        let range = matches!(
            (self.after(1), self.after(2), self.after(3)),
            (Some(Kind::Number { .. }), Some(Kind::Sign('-')), Some(Kind::Number { .. }))
        );
        (range && matches!(pattern, Pattern::Descend | Pattern::Build)).then_some(*pattern)
    }

    fn grouped(&mut self) -> Result<Option<Grouped>, ChalkError> {
        let Some(pattern) = self.group_pattern() else { return Ok(None) };
        self.at += 1;
        let mut groups = Vec::new();
        loop {
            let before = self.at;
            if !groups.is_empty() && !self.eat_sign(',') && !self.eat_word(&["and"]) {
                break;
            }
            match self.range() {
                Some((from, to, _)) if from < to => groups.push((from, to)),
                _ => {
                    self.at = before;
                    break;
                }
            }
        }
        Ok((!groups.is_empty()).then_some(Grouped { pattern, groups }))
    }

    /// "1-3" or "5": the two numbers, and the bytes they take.
    fn range(&mut self) -> Option<(u64, u64, Range<usize>)> {
        let first = self.peek()?;
        let Kind::Number { whole: from, sixths: 0 } = first.kind else { return None };
        self.at += 1;
        if let (Some(Kind::Sign('-')), Some(Kind::Number { whole: to, sixths: 0 })) =
            (self.kind(), self.after(1))
        {
            let end = self.tokens.get(self.at + 1).map_or(first.span.end, |last| last.span.end);
            self.at += 2;
            return Some((from, *to, first.span.start..end));
        }
        Some((from, from, first.span.clone()))
    }
}

/// The stroke of the first of several ways is that of all, where no other names one.
fn base_of(legs: &mut Legs) -> Way {
    let mut base = Way::default();
    if let Legs::Turns { ways, .. } = legs
        && ways.iter().skip(1).all(|way| way.stroke.is_none())
        && let Some(first) = ways.first_mut()
        && (first.mode.is_some() || first.effort.is_some())
    {
        base.stroke = first.stroke.take();
    }
    base
}

/// Whether pieces of numbers add up to the whole; those in lengths are held against a pool.
fn adds_up(pieces: &[Asked], whole: Asked, span: Range<usize>) -> Result<(), ChalkError> {
    let Asked::Number(wanted, _) = whole else { return Ok(()) };
    let numbers = pieces.iter().map(|piece| match piece {
        Asked::Number(number, _) => Some(*number),
        _ => None,
    });
    let Some(sum) = numbers.sum::<Option<u64>>() else { return Ok(()) };
    if sum == wanted {
        return Ok(());
    }
    Err(ChalkError::NotTheSum { span, sum_sixths: sum, wanted_sixths: wanted })
}

fn is_minutes(word: &str) -> bool {
    matches!(word, "min" | "mins" | "minute" | "minutes")
}

fn is_seconds(word: &str) -> bool {
    matches!(word, "s" | "sec" | "secs" | "second" | "seconds")
}
