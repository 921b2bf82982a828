//! The phrase lists that come with the program, one file a language, made ready for looking up.

use std::collections::HashMap;
use std::sync::LazyLock;

use thiserror::Error;

use super::CautionKind;
use super::phrase::{Atom, Form, Numbers, PhraseFault, ends, may_begin, parse};
use super::tokens::Token;

/// The files, by language.
const FILES: [(&str, &str); 4] = [
    ("en", include_str!("../../../templates/cautions/en.txt")),
    ("es", include_str!("../../../templates/cautions/es.txt")),
    ("fr", include_str!("../../../templates/cautions/fr.txt")),
    ("de", include_str!("../../../templates/cautions/de.txt")),
];

/// Every list, ready. What a test would have found wrong with a file is left out.
pub(super) static LISTS: LazyLock<Vec<List>> =
    LazyLock::new(|| FILES.iter().map(|(_, text)| read(text).0).collect());

/// The phrases of one language.
#[derive(Debug, Default)]
pub(super) struct List {
    numbers: Numbers,
    phrases: Vec<Phrase>,
    /// Which phrases can begin with a word, by its first two letters.
    by_word: HashMap<[u8; 2], Vec<usize>>,
    /// Which can begin with a number.
    by_number: Vec<usize>,
    /// Which can begin with any word: `*sprung`.
    by_any: Vec<usize>,
}

/// A phrase with what it speaks of.
#[derive(Debug)]
struct Phrase {
    kind: CautionKind,
    /// Whether it is harmless, and silences what is said inside it.
    is_harmless: bool,
    atoms: Vec<Atom>,
}

/// Where a text says a phrase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Said {
    pub kind: CautionKind,
    pub is_harmless: bool,
    /// The first token, and one past the last.
    pub from: usize,
    pub to: usize,
}

impl Said {
    /// Whether the harmless phrase `other` has all of this inside it.
    pub fn is_inside(&self, other: &Said) -> bool {
        self.kind == other.kind && other.from <= self.from && self.to <= other.to
    }
}

impl List {
    /// Every phrase the text says: one with a caution as short as it can be read, a harmless one
    /// as long.
    pub fn said(&self, tokens: &[Token], into: &mut Vec<Said>) {
        for (from, token) in tokens.iter().enumerate() {
            for at in self.candidates(token) {
                let Some(phrase) = self.phrases.get(at) else { continue };
                if !may_begin(&phrase.atoms, token, &self.numbers) {
                    continue;
                }
                let ends = ends(&phrase.atoms, tokens, from, &self.numbers);
                let to = if phrase.is_harmless { ends.last() } else { ends.first() };
                let Some(&to) = to else { continue };
                let (kind, is_harmless) = (phrase.kind, phrase.is_harmless);
                into.push(Said { kind, is_harmless, from, to });
            }
        }
    }

    fn candidates(&self, token: &Token) -> impl Iterator<Item = usize> {
        let none: &[usize] = &[];
        let (word, number) = match token {
            Token::Word(word) => {
                let numbers = if self.numbers.contains_key(word) { &self.by_number } else { none };
                let words = self.by_word.get(&key(word)).map_or(none, Vec::as_slice);
                (words, numbers)
            }
            Token::Number(_) => (none, self.by_number.as_slice()),
            _ => (none, none),
        };
        let any = if matches!(token, Token::Word(_)) { self.by_any.as_slice() } else { none };
        word.iter().chain(number).chain(any).copied()
    }

    fn add(&mut self, phrase: Phrase) {
        let at = self.phrases.len();
        let beginnings = match phrase.atoms.first() {
            Some(Atom::Words(forms, _)) => forms.as_slice(),
            _ => &[Form::Number(0, u32::MAX)],
        };
        for form in beginnings {
            let list = match form {
                Form::Exact(word) | Form::Starts(word) => {
                    self.by_word.entry(key(word)).or_default()
                }
                Form::Number(..) => &mut self.by_number,
                Form::Ends(_) | Form::Slash | Form::Comma | Form::Colon | Form::Question => {
                    &mut self.by_any
                }
            };
            if list.last() != Some(&at) {
                list.push(at);
            }
        }
        self.phrases.push(phrase);
    }
}

/// The first two bytes of a word; every word of a list that begins with a star at its end has two.
fn key(word: &str) -> [u8; 2] {
    let mut bytes = word.bytes();
    [bytes.next().unwrap_or(0), bytes.next().unwrap_or(0)]
}

/// What is wrong with a line of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub(super) enum ListFault {
    #[error(transparent)]
    Phrase(#[from] PhraseFault),
    #[error("there is no such heading")]
    Heading,
    #[error("a line before the first heading")]
    NoHeading,
    #[error("numbers are written: 5 five fifth")]
    Number,
    #[error("named words are written once, with words: @name = one|other")]
    Named,
    #[error("a word with a star at its end has two letters or more")]
    Short,
}

#[derive(Clone, Copy)]
enum Under {
    Nothing,
    Numbers,
    Phrases(CautionKind, bool),
}

/// Reads a list: what it says, and what is wrong with it, by lines.
pub(super) fn read(text: &str) -> (List, Vec<(usize, ListFault)>) {
    let (mut list, mut faults) = (List::default(), Vec::new());
    let mut named: HashMap<&str, &str> = HashMap::new();
    let mut under = Under::Nothing;
    for (index, line) in text.lines().enumerate() {
        let line = line.split('#').next().unwrap_or_default().trim();
        let fault = if line.is_empty() {
            None
        } else if let Some(heading) = line.strip_prefix('[').and_then(|it| it.strip_suffix(']')) {
            heading_of(heading).map(|found| under = found).err()
        } else if let Some((name, words)) = definition(line) {
            let is_whole = !name.is_empty() && words.split('|').all(|word| !word.trim().is_empty());
            let is_new = is_whole && named.insert(name, words).is_none();
            (!is_new).then_some(ListFault::Named)
        } else {
            add_line(line, under, &named, &mut list).err()
        };
        faults.extend(fault.map(|fault| (index + 1, fault)));
    }
    (list, faults)
}

/// The two sides of `@name = one|other`; an `@` alone begins a phrase.
fn definition(line: &str) -> Option<(&str, &str)> {
    let (name, words) = line.strip_prefix('@')?.split_once('=')?;
    Some((name.trim(), words.trim()))
}

fn heading_of(heading: &str) -> Result<Under, ListFault> {
    let (name, is_harmless) = match heading.split_once(',') {
        Some((name, harmless)) if harmless.trim() == "harmless" => (name.trim(), true),
        Some(_) => return Err(ListFault::Heading),
        None => (heading, false),
    };
    let kind = match name {
        "numbers" => return Ok(Under::Numbers),
        "breath" => CautionKind::BreathHold,
        "dive" => CautionKind::Dive,
        "upright" => CautionKind::Upright,
        _ => return Err(ListFault::Heading),
    };
    Ok(Under::Phrases(kind, is_harmless))
}

fn add_line(
    line: &str,
    under: Under,
    named: &HashMap<&str, &str>,
    list: &mut List,
) -> Result<(), ListFault> {
    match under {
        Under::Nothing => Err(ListFault::NoHeading),
        Under::Numbers => {
            let mut words = line.split_whitespace();
            let number = words.next().and_then(|digits| digits.parse().ok());
            let number: u32 = number.ok_or(ListFault::Number)?;
            list.numbers.extend(words.map(|word| (word.to_owned(), number)));
            Ok(())
        }
        Under::Phrases(kind, is_harmless) => {
            let atoms = parse(line, &|name| named.get(name).copied())?;
            if atoms.iter().any(is_short) {
                return Err(ListFault::Short);
            }
            list.add(Phrase { kind, is_harmless, atoms });
            Ok(())
        }
    }
}

fn is_short(atom: &Atom) -> bool {
    let short = |form: &Form| matches!(form, Form::Starts(word) if word.len() < 2);
    matches!(atom, Atom::Words(forms, _) if forms.iter().any(short))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::wording::tokens::tokens;

    #[test]
    fn every_list_of_the_program_can_be_read() {
        for (language, text) in FILES {
            let (list, faults) = read(text);
            assert!(faults.is_empty(), "{language}.txt: {faults:?}");
            assert!(list.phrases.len() > 40, "{language}.txt: {} phrases", list.phrases.len());
            for kind in [CautionKind::BreathHold, CautionKind::Dive, CautionKind::Upright] {
                for is_harmless in [false, true] {
                    let of_kind =
                        |phrase: &&Phrase| phrase.kind == kind && phrase.is_harmless == is_harmless;
                    assert!(
                        list.phrases.iter().any(|phrase| of_kind(&phrase)),
                        "{language} {kind:?}"
                    );
                }
            }
        }
    }

    /// A word with an accent or a capital in a list would never be said.
    #[test]
    fn lists_are_written_as_texts_are_seen() {
        for (language, text) in FILES {
            let (list, _) = read(text);
            let words = list.phrases.iter().flat_map(|phrase| &phrase.atoms);
            for atom in words {
                let Atom::Words(forms, _) = atom else { continue };
                for form in forms {
                    let (Form::Exact(word) | Form::Starts(word) | Form::Ends(word)) = form else {
                        continue;
                    };
                    assert_eq!(tokens(word), [Token::Word(word.clone())], "{language}: {word}");
                }
            }
            for word in list.numbers.keys() {
                assert_eq!(tokens(word), [Token::Word(word.clone())], "{language}: {word}");
            }
        }
    }

    #[test]
    fn what_is_wrong_with_a_list_is_named_with_its_line() {
        let faults = |text: &str| read(text).1;
        assert_eq!(faults("no air"), [(1, ListFault::NoHeading)]);
        assert_eq!(faults("[dives]"), [(1, ListFault::Heading)]);
        assert_eq!(faults("[numbers]\nfive 5"), [(2, ListFault::Number)]);
        for wrong in ["@x =", "@ = one", "@x = one||other", "@x = one|"] {
            assert_eq!(faults(wrong), [(1, ListFault::Named)], "{wrong}");
        }
        assert_eq!(faults("@x = one\n@x = other"), [(2, ListFault::Named)]);
        let phrase = |fault| [(2, ListFault::Phrase(fault))];
        assert_eq!(faults("[dive]\n@starts blocks"), phrase(PhraseFault::Name));
        assert_eq!(faults("[dive]\n.. blocks"), phrase(PhraseFault::Beginning));
        assert_eq!(faults("[breath]\nbreathe <5"), phrase(PhraseFault::Range));
        assert_eq!(faults("[breath]\nb* air"), [(2, ListFault::Short)]);
    }
}
