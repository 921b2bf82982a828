//! A phrase of a list, and where a line of text says it.

use super::tokens::Token;

/// Breathing every so many strokes is named as hypoxic training from here on (YMCA bulletin,
/// 2011: every 5, 7 or 9).
const STROKES_A_BREATH: u32 = 5;
/// A number beyond this counts something else than strokes.
const MOST_STROKES: u32 = 20;
/// So many words may be between the two halves of a phrase with a gap.
const GAP: usize = 3;

/// The words of a language that say a number.
pub(super) type Numbers = std::collections::HashMap<String, u32>;

/// One way to write a word of a phrase.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Form {
    /// Letter for letter.
    Exact(String),
    /// `hold*`
    Starts(String),
    /// `*tauchen`
    Ends(String),
    /// `<2-4>`, `<5+>`, or bare digits.
    Number(u32, u32),
    /// A slash.
    Slash,
    /// A comma.
    Comma,
    /// A colon.
    Colon,
    /// A question mark.
    Question,
}

/// A piece of a phrase.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Atom {
    /// Any of these; it may be missing where the flag says so.
    Words(Vec<Form>, bool),
    /// `..`: up to three words.
    Gap,
    /// `,`: a comma that may be missing.
    Comma,
    /// `<seldom>`: a number of strokes, or several, of which one is five or more.
    Seldom,
    /// `<odds>`: a list of odd numbers with slashes, as 3/5/7.
    Odds,
}

/// Why a line of a list is no phrase.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub(super) enum PhraseFault {
    #[error("a range is written <2-4> or <5+>")]
    Range,
    #[error("a phrase begins with a word or a number")]
    Beginning,
    #[error("what a phrase ends with may not be missing")]
    End,
    #[error("no words have this name")]
    Name,
}

/// Reads a phrase; `named` gives the words behind an `@name`.
pub(super) fn parse<'n>(
    line: &str,
    named: &dyn Fn(&str) -> Option<&'n str>,
) -> Result<Vec<Atom>, PhraseFault> {
    let mut atoms = Vec::new();
    for written in line.split_whitespace() {
        let inner = written.strip_prefix('(').and_then(|inner| inner.strip_suffix(')'));
        atoms.push(match written {
            ".." => Atom::Gap,
            "," => Atom::Comma,
            "<seldom>" => Atom::Seldom,
            "<odds>" => Atom::Odds,
            _ => Atom::Words(forms(inner.unwrap_or(written), named)?, inner.is_some()),
        });
    }
    let holds = |atom: Option<&Atom>| {
        matches!(atom, Some(Atom::Words(_, false) | Atom::Seldom | Atom::Odds))
    };
    match (holds(atoms.first()), holds(atoms.last())) {
        (false, _) => Err(PhraseFault::Beginning),
        (true, false) => Err(PhraseFault::End),
        (true, true) => Ok(atoms),
    }
}

fn forms<'n>(
    written: &str,
    named: &dyn Fn(&str) -> Option<&'n str>,
) -> Result<Vec<Form>, PhraseFault> {
    let mut all = Vec::new();
    for one in written.split('|') {
        match one.strip_prefix('@') {
            Some(name) => {
                let words = named(name).ok_or(PhraseFault::Name)?;
                for word in words.split('|') {
                    all.push(form(word.trim())?);
                }
            }
            None => all.push(form(one)?),
        }
    }
    Ok(all)
}

fn form(written: &str) -> Result<Form, PhraseFault> {
    if let Some(range) = written.strip_prefix('<') {
        let range = range.strip_suffix('>').ok_or(PhraseFault::Range)?;
        let number = |digits: &str| digits.parse().map_err(|_| PhraseFault::Range);
        return match (range.strip_suffix('+'), range.split_once('-')) {
            (Some(least), _) => Ok(Form::Number(number(least)?, u32::MAX)),
            (None, Some((least, most))) => Ok(Form::Number(number(least)?, number(most)?)),
            (None, None) => Err(PhraseFault::Range),
        };
    }
    match written {
        "/" => return Ok(Form::Slash),
        "," => return Ok(Form::Comma),
        ":" => return Ok(Form::Colon),
        "?" => return Ok(Form::Question),
        _ => {}
    }
    if let Ok(number) = written.parse() {
        return Ok(Form::Number(number, number));
    }
    // "25s" is 25 and a letter behind it.
    if let Some(Ok(number)) = written.strip_suffix('*').map(str::parse) {
        return Ok(Form::Number(number, number));
    }
    Ok(match (written.strip_suffix('*'), written.strip_prefix('*')) {
        (Some(start), _) => Form::Starts(start.to_owned()),
        (None, Some(end)) => Form::Ends(end.to_owned()),
        (None, None) => Form::Exact(written.to_owned()),
    })
}

/// Whether a phrase may begin with `token`: what is asked of most is soon said.
pub(super) fn may_begin(atoms: &[Atom], token: &Token, numbers: &Numbers) -> bool {
    match atoms.first() {
        Some(Atom::Words(forms, _)) => forms.iter().any(|form| is(form, token, numbers)),
        _ => true,
    }
}

/// Every place at which the phrase may end that begins at `at`, one past its last token.
pub(super) fn ends(atoms: &[Atom], tokens: &[Token], at: usize, numbers: &Numbers) -> Vec<usize> {
    let mut open = vec![at];
    for atom in atoms {
        let mut next: Vec<usize> = Vec::new();
        for at in open {
            step(atom, tokens, at, numbers, &mut next);
        }
        next.sort_unstable();
        next.dedup();
        open = next;
    }
    open
}

fn step(atom: &Atom, tokens: &[Token], at: usize, numbers: &Numbers, next: &mut Vec<usize>) {
    let token = tokens.get(at);
    match atom {
        Atom::Words(forms, may_miss) => {
            if *may_miss {
                next.push(at);
            }
            if token.is_some_and(|token| forms.iter().any(|form| is(form, token, numbers))) {
                next.push(at + 1);
            }
        }
        Atom::Gap => {
            let words = tokens.iter().skip(at).take(GAP);
            let words = words.take_while(|token| is_filler(token)).count();
            next.extend(at..=at + words);
        }
        Atom::Comma => {
            next.push(at);
            if token == Some(&Token::Comma) {
                next.push(at + 1);
            }
        }
        Atom::Seldom => next.extend(seldom(tokens, at, numbers)),
        Atom::Odds => next.extend(odds(tokens, at)),
    }
}

/// A word that may be in a gap: none that begins another thought.
fn is_filler(token: &Token) -> bool {
    matches!(token, Token::Word(word) if !LINKS.contains(&word.as_str()))
}

/// Words that begin another thought, in the four languages.
const LINKS: [&str; 30] = [
    "and", "then", "&", "+", "before", "after", "but", "or", "y", "luego", "antes", "despues",
    "pero", "o", "et", "puis", "avant", "apres", "mais", "ou", "und", "dann", "danach", "vor",
    "nach", "aber", "oder", "for", "para", "pour",
];

fn is(form: &Form, token: &Token, numbers: &Numbers) -> bool {
    match (form, token) {
        (Form::Exact(exact), Token::Word(word)) => word == exact,
        (Form::Starts(start), Token::Word(word)) => word.starts_with(start.as_str()),
        (Form::Ends(end), Token::Word(word)) => word.ends_with(end.as_str()),
        (Form::Number(least, most), _) => {
            number(token, numbers).is_some_and(|number| (*least..=*most).contains(&number))
        }
        (Form::Slash, Token::Slash)
        | (Form::Comma, Token::Comma)
        | (Form::Colon, Token::Colon)
        | (Form::Question, Token::Question) => true,
        _ => false,
    }
}

/// The number a token says.
fn number(token: &Token, numbers: &Numbers) -> Option<u32> {
    match token {
        Token::Number(number) => Some(*number),
        Token::Word(word) => numbers.get(word).copied(),
        _ => None,
    }
}

/// The end of "7", "3, 5, 7", "3 to 5": numbers of strokes of which one is five or more. A comma
/// alone goes on with a list only where its numbers go up or down by one or two.
fn seldom(tokens: &[Token], at: usize, numbers: &Numbers) -> Option<usize> {
    let mut last = strokes(tokens, at, numbers)?;
    let mut most = last;
    let mut end = at + 1;
    while let Some((next, is_joined)) = joint(tokens, end) {
        let Some(number) = strokes(tokens, next, numbers) else { break };
        if !is_joined && last.abs_diff(number) > 2 {
            break;
        }
        last = number;
        most = most.max(number);
        end = next + 1;
    }
    (most >= STROKES_A_BREATH).then_some(end)
}

/// A number that may count strokes: "5 x 50", "7 lengths" and "6 kicks" do not.
fn strokes(tokens: &[Token], at: usize, numbers: &Numbers) -> Option<u32> {
    let number = number(tokens.get(at)?, numbers).filter(|number| *number <= MOST_STROKES)?;
    let counts_else = matches!(tokens.get(at + 1), Some(Token::Word(word))
        if NO_STROKES.iter().any(|other| word.starts_with(other)) || NO_STROKES_WHOLE.contains(&word.as_str()));
    (!counts_else).then_some(number)
}

/// Where the next number of a list would be, and whether more than a comma leads to it.
fn joint(tokens: &[Token], at: usize) -> Option<(usize, bool)> {
    let is_word = |at: usize, words: &[&str]| matches!(tokens.get(at), Some(Token::Word(word)) if words.contains(&word.as_str()));
    let mut next = at;
    // "7th", "5s", "7er" and "3 strokes" are numbers too.
    while is_word(next, &SUFFIXES) && next < at + 2 {
        next += 1;
    }
    if tokens.get(next) == Some(&Token::Slash) {
        return Some((next + 1, true));
    }
    let comma = tokens.get(next) == Some(&Token::Comma);
    next += usize::from(comma);
    let word = is_word(next, &JOINTS);
    next += usize::from(word);
    (comma || word).then_some((next, word))
}

/// What may follow a number of strokes before the next one: 5th, 7s, 7er, 5e, 3 strokes.
const SUFFIXES: [&str; 10] = ["th", "s", "er", "ers", "e", "eme", "a", "o", "stroke", "strokes"];
/// Words that join numbers, in the four languages.
const JOINTS: [&str; 16] = [
    "and", "or", "then", "to", "&", "+", "und", "oder", "bis", "dann", "et", "ou", "puis", "y",
    "a", "hasta",
];
/// What a number counts that does not count strokes, by how the word begins, in the four
/// languages; and such words as they are.
const NO_STROKES: [&str; 14] = [
    "length", "longueur", "largo", "bahn", "kick", "metre", "meter", "yard", "minut", "second",
    "sekund", "repe", "round", "times",
];
const NO_STROKES_WHOLE: [&str; 6] = ["x", "m", "yd", "km", "min", "sec"];

/// The end of "3/5/7/9": three or more odd numbers from 3 to 11 with slashes, each the next one
/// up or down, as counts of strokes are written and hardly anything else.
fn odds(tokens: &[Token], at: usize) -> Option<usize> {
    let odd = |at: usize| match tokens.get(at) {
        Some(Token::Number(number @ (3 | 5 | 7 | 9 | 11))) => Some(*number),
        _ => None,
    };
    let mut last = odd(at)?;
    let mut count = 1;
    let mut end = at + 1;
    while tokens.get(end) == Some(&Token::Slash)
        && let Some(next) = odd(end + 1).filter(|next| last.abs_diff(*next) == 2)
    {
        last = next;
        count += 1;
        end += 2;
    }
    // "1/3/5" and "3/5/7/20" are lists of something else.
    let alone = tokens.get(end) != Some(&Token::Slash)
        && at.checked_sub(1).and_then(|before| tokens.get(before)) != Some(&Token::Slash);
    (count >= 3 && alone).then_some(end)
}
