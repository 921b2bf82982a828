//! A line of text as the phrase lists see it: words and numbers without accents or capitals,
//! slashes kept, pauses marked.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// A piece of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Token {
    /// A word in small letters, without accents and apostrophes.
    Word(String),
    /// Digits.
    Number(u32),
    /// What joins alternatives and lists: `u/w`, `under/overs`, `3/5/7`, `3-5-7`.
    Slash,
    /// A comma.
    Comma,
    /// A colon that is not between digits.
    Colon,
    /// A question mark: only a phrase with one goes on across it.
    Question,
    /// The end of a sentence, a bracket or a dash: no phrase goes on across it.
    Stop,
}

/// The pieces of `text` in order.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let signs: Vec<char> = plain(text).collect();
    let mut out: Vec<Token> = Vec::new();
    let mut at = 0;
    while let Some(&sign) = signs.get(at) {
        let end = run_end(&signs, at);
        if sign.is_ascii_digit() {
            let digits: String = signs.iter().take(end).skip(at).collect();
            out.push(Token::Number(digits.parse().unwrap_or(u32::MAX)));
        } else if sign.is_alphanumeric() {
            word(signs.iter().take(end).skip(at), &mut out);
        } else {
            let shortened = sign == '.'
                && matches!(out.last(), Some(Token::Word(word)) if SHORTENED.contains(&word.as_str()));
            out.extend((!shortened).then(|| mark(&signs, at)).flatten());
        }
        at = end;
    }
    out
}

/// Words that are shortened with a point, which then ends no sentence.
const SHORTENED: [&str; 8] = ["vert", "vertic", "resp", "br", "max", "min", "u", "w"];

/// Small letters without accents; signs that cannot be seen are left out.
fn plain(text: &str) -> impl Iterator<Item = char> {
    let unseen =
        |c: &char| matches!(c, '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{2060}' | '\u{feff}');
    let letters = text.nfkd().filter(move |c| !is_combining_mark(*c) && !unseen(c));
    letters.flat_map(char::to_lowercase).flat_map(|letter| {
        let spelt = match letter {
            'ß' => ['s', 's'],
            'œ' => ['o', 'e'],
            'æ' => ['a', 'e'],
            'ø' => ['o', '\0'],
            other => [other, '\0'],
        };
        spelt.into_iter().filter(|letter| *letter != '\0')
    })
}

fn is_apostrophe(sign: char) -> bool {
    matches!(sign, '\'' | '’' | '‘' | 'ʼ' | '`' | '´')
}

/// One past the run of digits or of letters at `at`; of any other sign, one past it.
fn run_end(signs: &[char], at: usize) -> usize {
    let is_digit = |place: usize| signs.get(place).is_some_and(char::is_ascii_digit);
    let is_letter = |place: usize| {
        signs.get(place).is_some_and(|sign| sign.is_alphanumeric() && !sign.is_ascii_digit())
    };
    let mut end = at + 1;
    if is_digit(at) {
        while is_digit(end) {
            end += 1;
        }
    } else if is_letter(at) {
        let joins = |place: usize| {
            signs.get(place).is_some_and(|sign| is_apostrophe(*sign)) && is_letter(place + 1)
        };
        while is_letter(end) || joins(end) {
            end += 1;
        }
    }
    end
}

/// A word; "l'eau" is two, "don't" is one.
fn word<'a>(letters: impl Iterator<Item = &'a char>, out: &mut Vec<Token>) {
    let written: String = letters.collect();
    let pieces: Vec<&str> = written.split(is_apostrophe).collect();
    match pieces.as_slice() {
        [article, rest] if article.chars().count() == 1 || *article == "qu" => {
            out.push(Token::Word((*article).to_owned()));
            out.push(Token::Word((*rest).to_owned()));
        }
        _ => out.push(Token::Word(pieces.concat())),
    }
}

/// What a sign between words is, if it is anything.
fn mark(signs: &[char], at: usize) -> Option<Token> {
    let before = at.checked_sub(1).and_then(|before| signs.get(before)).copied();
    let after = signs.get(at + 1).copied();
    let is_digit = |sign: Option<char>| sign.is_some_and(|sign| sign.is_ascii_digit());
    let between_digits = is_digit(before) && is_digit(after);
    match *signs.get(at)? {
        '/' | '\\' | '|' | '→' | '>' => Some(Token::Slash),
        '-' | '‐' | '‑' | '–' | '—' | '−' => dash(signs, at),
        ',' | '.' | ':' if between_digits => Some(Token::Slash),
        ',' | '、' | '،' => Some(Token::Comma),
        // "jeden 5. Zug": the point of an ordinal ends nothing.
        '.' if is_digit(before) && next_after_space(signs, at).is_some_and(char::is_alphabetic) => {
            None
        }
        '&' | '+' | '@' | '#' => signs.get(at).map(|sign| Token::Word(sign.to_string())),
        ':' => Some(Token::Colon),
        '×' | '*' => Some(Token::Word("x".to_owned())),
        '?' => Some(Token::Question),
        '.' | ';' | '!' | '¿' | '¡' | '(' | ')' | '[' | ']' | '{' | '}' | '\n' | '\r' | '…'
        | '•' | '·' | '"' | '“' | '”' | '„' | '«' | '»' => Some(Token::Stop),
        _ => None,
    }
}

/// A dash between numbers makes a list of them, one inside a word nothing, one with space
/// around it ends a phrase.
fn dash(signs: &[char], at: usize) -> Option<Token> {
    let mut before = signs.iter().take(at).rev().skip_while(|sign| sign.is_whitespace());
    let is_digit = |sign: Option<char>| sign.is_some_and(|sign| sign.is_ascii_digit());
    if is_digit(before.next().copied()) && is_digit(next_after_space(signs, at)) {
        return Some(Token::Slash);
    }
    let spaced = |place: Option<usize>| {
        place.and_then(|place| signs.get(place)).is_none_or(|sign| sign.is_whitespace())
    };
    let is_long = matches!(signs.get(at), Some('–' | '—'));
    (is_long || spaced(at.checked_sub(1)) || spaced(at.checked_add(1))).then_some(Token::Stop)
}

fn next_after_space(signs: &[char], at: usize) -> Option<char> {
    signs.iter().skip(at + 1).find(|sign| !sign.is_whitespace()).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> String {
        let each = tokens(text).into_iter().map(|token| match token {
            Token::Word(word) => word,
            Token::Number(number) => format!("#{number}"),
            Token::Slash => "/".to_owned(),
            Token::Comma => ",".to_owned(),
            Token::Colon => ":".to_owned(),
            Token::Question => "?".to_owned(),
            Token::Stop => ".".to_owned(),
        });
        each.collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn shorthand_with_slashes_is_kept() {
        assert_eq!(shown("25 U/W, under/overs"), "#25 u / w , under / overs");
        assert_eq!(shown("3/5/7/9"), "#3 / #5 / #7 / #9");
        assert_eq!(shown("3 - 5–7"), "#3 / #5 / #7");
        assert_eq!(shown("15m"), "#15 m");
        assert_eq!(shown("7er-Zug"), "#7 er zug");
    }

    #[test]
    fn accents_and_capitals_are_of_no_matter() {
        assert_eq!(shown("APNÉE à l’eau"), "apnee a l eau");
        assert_eq!(shown("don’t, Stöße"), "dont , stosse");
        assert_eq!(shown("Ｎｏ air"), "no air");
        assert_eq!(shown("under\u{ad}water"), "underwater");
    }

    #[test]
    fn ends_of_sentences_part_phrases_and_ordinals_do_not() {
        assert_eq!(shown("no. Air"), "no . air");
        assert_eq!(shown("jeden 5. Zug"), "jeden #5 zug");
        assert_eq!(shown("easy - no air"), "easy . no air");
        assert_eq!(shown("breath-hold"), "breath hold");
    }

    #[test]
    fn a_number_too_large_to_count_is_a_number() {
        assert_eq!(tokens("99999999999"), [Token::Number(u32::MAX)]);
    }
}
