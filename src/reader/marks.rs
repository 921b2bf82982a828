//! Marks on letters, such as accents: how many one letter can carry on a card.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use crate::measure::LIMITS;

/// The composed characters of `text` (NFC), each with whether it is a mark too many on its letter.
///
/// Marks of European letters are composed into them. What is left is stacked, and a stack is printed
/// over the rows above and below.
pub(crate) fn weighed(text: &str) -> impl Iterator<Item = (char, bool)> {
    let mut marks = 0_u64;
    text.nfc().map(move |sign| {
        marks = if is_combining_mark(sign) { marks + 1 } else { 0 };
        (sign, marks > LIMITS.marks.most)
    })
}

/// The first letter with marks too many, and how many are on it besides its own.
pub(crate) fn overloaded(text: &str) -> Option<(char, usize)> {
    let signs: Vec<(char, bool)> = weighed(text).collect();
    let surplus = signs.iter().position(|(_, is_surplus)| *is_surplus)?;
    let letter = signs.iter().take(surplus).rposition(|(sign, _)| !is_combining_mark(*sign));
    let behind = signs.iter().skip(letter.map_or(0, |letter| letter + 1));
    let count = behind.take_while(|(sign, _)| is_combining_mark(*sign)).count();
    Some((letter.and_then(|at| signs.get(at)).map_or(' ', |(sign, _)| *sign), count))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_living_languages_carry_what_they_need() {
        // Vietnamese, Greek of the church, Lithuanian, Yoruba, Czech typed letter by letter.
        for text in
            ["nghiêng người về phía trước", "ᾧ ᾅδης", "ė̃jimas", "ọ̀nà", "Ru\u{30c}z\u{30c}ena"]
        {
            assert_eq!(overloaded(text), None, "{text}");
        }
    }

    #[test]
    fn a_stack_of_marks_is_found_with_its_letter() {
        // The first acute is composed into the é; by hand, 198 of 199 are left.
        let stack = format!("kick e{} up", "\u{301}".repeat(199));
        assert_eq!(overloaded(&stack), Some(('é', 198)));
        // With no letter before them, they are on the blank at the start of the line.
        assert_eq!(overloaded("\u{301}\u{301}\u{301}a"), Some((' ', 3)));
    }
}
