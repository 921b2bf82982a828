//! The tokens of a swim line: numbers, signs, and the words of the trade, the longest spelling first.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::LazyLock;

use crate::reader::trade_words::TradeWord;
use crate::reader::value::OwnWords;
use crate::session::chalk::ChalkError;
use crate::session::words::{Effort, EffortWord, Mode, Movement, Pattern, Stroke};

/// A piece of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub kind: Kind,
    /// Its bytes in the line.
    pub span: Range<usize>,
}

/// What a piece of a line is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A whole number and sixths.
    Number { whole: u64, sixths: u64 },
    /// A word of the trade.
    Term(Term),
    /// Any other word, in small letters.
    Word(String),
    /// A sign; `x` for any times sign, `-` for any dash.
    Sign(char),
}

/// A word of the trade.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Term {
    Stroke(Stroke),
    Mode(Mode),
    Movement(Movement),
    Effort(EffortWord),
    Pattern(Pattern),
    /// One stroke of a medley a repeat; whether freestyle comes first.
    Order(bool),
}

/// Spellings of the order of a medley's strokes. Common practice, no source.
const ORDERS: [(&str, bool); 8] = [
    ("im order", false),
    ("in im order", false),
    ("medley order", false),
    ("frim order", true),
    ("reverse im order", true),
    ("reverse medley order", true),
    ("reverse im", true),
    ("im order reversed", true),
];

/// The most words a spelling has.
const MOST_WORDS: usize = 4;

/// Fractions behind or in place of a whole number, in sixths.
const FRACTIONS: [(&str, u64); 8] = [
    ("1/2", 3),
    ("1/3", 2),
    ("2/3", 4),
    ("1/6", 1),
    ("5/6", 5),
    ("\u{bd}", 3),
    ("\u{2153}", 2),
    ("\u{2154}", 4),
];

/// Parts a line.
pub(super) fn tokens(line: &str, own: &OwnWords) -> Result<Vec<Token>, ChalkError> {
    match tokens_to_fault(line, own) {
        (tokens, None) => Ok(tokens),
        (_, Some(fault)) => Err(fault),
    }
}

/// The tokens of a line up to the first fault, and that.
pub(super) fn tokens_to_fault(line: &str, own: &OwnWords) -> (Vec<Token>, Option<ChalkError>) {
    let mut tokens: Vec<Token> = Vec::new();
    let mut at = 0;
    while let Some(rest) = line.get(at..).filter(|rest| !rest.is_empty()) {
        let Some(first) = rest.chars().next() else { break };
        if first.is_whitespace() {
            at += first.len_utf8();
            continue;
        }
        let number = match number(line, at, &tokens, own) {
            Ok(number) => number,
            Err(fault) => return (tokens, Some(fault)),
        };
        let token = number
            .or_else(|| term(line, at, own))
            .or_else(|| sign(first, rest, at, &tokens))
            .unwrap_or_else(|| word(line, at));
        at = token.span.end.max(at + first.len_utf8());
        tokens.push(token);
    }
    (tokens, None)
}

/// A number with the fraction behind it, or a fraction alone.
fn number(
    line: &str,
    at: usize,
    before: &[Token],
    own: &OwnWords,
) -> Result<Option<Token>, ChalkError> {
    let rest = line.get(at..).unwrap_or_default();
    let digits = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    // A percentage is an effort, and a fraction is not a number with a slash.
    if term(line, at, own).is_some() {
        return Ok(None);
    }
    if let Some((sign, sixths)) = fraction(rest) {
        let alone = !matches!(before.last().map(|token| &token.kind), Some(Kind::Sign('/')));
        if alone {
            let span = at..at + sign.len();
            return Ok(Some(Token { kind: Kind::Number { whole: 0, sixths }, span }));
        }
    }
    if digits == 0 {
        return Ok(None);
    }
    let tail = rest.get(digits..).unwrap_or_default();
    let parted =
        tail.starts_with(['.', ',']) && tail.chars().nth(1).is_some_and(|c| c.is_ascii_digit());
    if parted {
        let end = tail.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',');
        return Err(ChalkError::NotWhole(at..at + digits + end.unwrap_or(tail.len())));
    }
    let text = rest.get(..digits).unwrap_or_default();
    let whole = text.parse().map_err(|_| ChalkError::TooLarge(at..at + digits))?;
    let behind = tail.trim_start();
    let (sixths, end) = match fraction(behind) {
        Some((sign, sixths)) => (sixths, at + rest.len() - behind.len() + sign.len()),
        None => (0, at + digits),
    };
    Ok(Some(Token { kind: Kind::Number { whole, sixths }, span: at..end }))
}

fn fraction(text: &str) -> Option<(&'static str, u64)> {
    let found = FRACTIONS.iter().find(|(sign, _)| text.starts_with(sign))?;
    let ends = !text.get(found.0.len()..)?.starts_with(|c: char| c.is_ascii_digit());
    ends.then_some(*found)
}

/// The longest words from `at` on that are one of the trade's.
fn term(line: &str, at: usize, own: &OwnWords) -> Option<Token> {
    let rest = line.get(at..)?;
    let mut ends = Vec::new();
    let mut end = 0;
    for _ in 0..MOST_WORDS {
        let from = end + rest.get(end..)?.len() - rest.get(end..)?.trim_start().len();
        let word = rest.get(from..)?;
        let length = word.find(|c: char| c.is_whitespace() || is_sign(c)).unwrap_or(word.len());
        if length == 0 {
            break;
        }
        end = from + length;
        ends.push(end);
    }
    ends.into_iter().rev().find_map(|end| {
        let text = rest.get(..end)?.split_whitespace().collect::<Vec<_>>().join(" ");
        Some(Token { kind: Kind::Term(term_of(&text, own)?), span: at..at + end })
    })
}

/// Every spelling of the trade's words in small letters; one that two lists have is of the first.
static TERMS: LazyLock<HashMap<&'static str, Term>> = LazyLock::new(|| {
    let mut terms: HashMap<&'static str, Term> = HashMap::new();
    let mut add = |word: &'static str, term: Term| {
        terms.entry(word).or_insert(term);
    };
    ORDERS.iter().for_each(|(order, reverse)| add(order, Term::Order(*reverse)));
    each_spelling::<Stroke>(&mut |word, stroke| add(word, Term::Stroke(stroke)));
    each_spelling::<Mode>(&mut |word, mode| add(word, Term::Mode(mode)));
    each_spelling::<Movement>(&mut |word, movement| add(word, Term::Movement(movement)));
    each_spelling::<Effort>(&mut |word, effort| add(word, Term::Effort(EffortWord::of(effort))));
    EffortWord::all()
        .for_each(|(word, effort)| add(word, Term::Effort(EffortWord::own(word, effort))));
    each_spelling::<Pattern>(&mut |word, pattern| add(word, Term::Pattern(pattern)));
    terms
});

fn each_spelling<T: TradeWord>(add: &mut dyn FnMut(&'static str, T)) {
    for (word, spellings) in T::ALL {
        spellings.iter().for_each(|spelling| add(spelling, *word));
    }
}

/// Whether a word in small letters is one of the trade's.
pub(super) fn is_term(lower: &str) -> bool {
    TERMS.contains_key(lower)
}

fn term_of(text: &str, own: &OwnWords) -> Option<Term> {
    if own.counts(text).is_some() {
        return EffortWord::from_club_spelling(text, own).map(Term::Effort);
    }
    let lower = text.to_lowercase();
    let known = TERMS.get(lower.as_str()).cloned();
    // "80%" is spelled with a space in the list.
    known.or_else(|| {
        lower.contains('%').then(|| EffortWord::from_any_spelling(&lower).map(Term::Effort))?
    })
}

fn is_sign(sign: char) -> bool {
    matches!(sign, '(' | ')' | ',' | '/' | ':' | '-' | '\u{2013}' | '\u{2012}' | '\u{d7}' | '*')
}

fn sign(first: char, rest: &str, at: usize, before: &[Token]) -> Option<Token> {
    let behind = rest.chars().nth(1);
    let after_number = matches!(before.last().map(|token| &token.kind), Some(Kind::Number { .. }));
    let kind = match first {
        // The x of a word is none: it stands behind a number, and before one or a space.
        'x' | 'X' if after_number && behind.is_none_or(|c| !c.is_alphabetic()) => 'x',
        '\u{d7}' | '*' => 'x',
        '-' | '\u{2013}' | '\u{2012}' => '-',
        '(' | ')' | ',' | '/' | ':' | '#' => first,
        _ => return None,
    };
    Some(Token { kind: Kind::Sign(kind), span: at..at + first.len_utf8() })
}

/// Any other word: letters, or one sign.
fn word(line: &str, at: usize) -> Token {
    let rest = line.get(at..).unwrap_or_default();
    let letters = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
    let first = rest.chars().next().map_or(0, char::len_utf8);
    let end = at + letters.max(first);
    let text = line.get(at..end).unwrap_or_default().to_lowercase();
    Token { kind: Kind::Word(text), span: at..end }
}
