//! Marks on letters, such as accents: how many one letter can carry on a card.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::{decompose_canonical, is_combining_mark};

use crate::measure::LIMITS;

/// The composed characters of `text` (NFC), each with whether it is a mark too many on its letter.
///
/// A letter that is one character may have any marks of its own: fonts draw it within the line. Marks
/// that are added to it are stacked, and a stack is printed over the rows above and below.
pub(crate) fn weighed(text: &str) -> impl Iterator<Item = (char, bool)> {
    let mut marks = 0;
    text.nfc().map(move |sign| {
        if !is_combining_mark(sign) {
            marks = own_marks(sign);
            return (sign, false);
        }
        marks += 1;
        (sign, marks > LIMITS.marks.most)
    })
}

/// The marks that are part of a letter: 2 of "ấ".
fn own_marks(letter: char) -> u64 {
    let mut marks = 0;
    decompose_canonical(letter, |part| marks += u64::from(is_combining_mark(part)));
    marks
}

/// The first letter with marks too many, and how many are on it.
pub(crate) fn overloaded(text: &str) -> Option<(char, u64)> {
    let (mut letter, mut marks) = (' ', 0);
    let mut signs = weighed(text).peekable();
    let mut is_overloaded = false;
    while let Some((sign, is_surplus)) = signs.next() {
        if !is_combining_mark(sign) {
            (letter, marks) = (sign, own_marks(sign));
            continue;
        }
        marks += 1;
        is_overloaded |= is_surplus;
        let is_last = signs.peek().is_none_or(|(next, _)| !is_combining_mark(*next));
        if is_overloaded && is_last {
            return Some((letter, marks));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_living_languages_carry_what_they_need() {
        // Vietnamese, Greek of the church, Lithuanian, Yoruba, Czech typed letter by letter.
        for text in [
            "nghiêng người về phía trước",
            "ᾧ ᾅδης",
            "ė̃jimas",
            "ọ̀nà",
            "g\u{303}uarani\u{301}",
            "Ru\u{30c}z\u{30c}ena",
        ] {
            assert_eq!(overloaded(text), None, "{text}");
        }
    }

    #[test]
    fn a_stack_of_marks_is_found_with_its_letter() {
        let stack = format!("kick e{} up", "\u{301}".repeat(199));
        assert_eq!(overloaded(&stack), Some(('é', 199)));
        // Two are its own.
        assert_eq!(overloaded("a\u{302}\u{301}\u{301}"), Some(('ấ', 3)));
        // With no letter before them, they are on the blank at the start of the line.
        assert_eq!(overloaded("\u{301}\u{301}\u{301}a"), Some((' ', 3)));
    }
}
