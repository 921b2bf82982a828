//! Closed lists of words that keys take, each list in one table.

use super::nearest;

/// A closed list of words, each with the spellings it is read from.
///
/// The first spelling is the one printed and the only one the file's keys take;
/// the others are abbreviations a swim line may use.
pub trait TradeWord: Copy + PartialEq + Sized + 'static {
    /// What the list is called in a message: "a stroke".
    const WHAT: &'static str;
    /// Every word with its spellings in lower case.
    const ALL: &'static [(Self, &'static [&'static str])];

    /// What each word means, in the same order.
    const MEANINGS: &'static [&'static str];

    /// The word as printed.
    fn text(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(word, _)| *word == self)
            .and_then(|(_, spellings)| spellings.first().copied())
            .unwrap_or_default()
    }

    /// The word any spelling of which is `text`, case-free.
    fn from_any_spelling(text: &str) -> Option<Self> {
        let text = text.to_lowercase();
        Self::ALL
            .iter()
            .find(|(_, spellings)| spellings.contains(&text.as_str()))
            .map(|(word, _)| *word)
    }

    /// The word whose printed form is `text`, case-free.
    fn from_text(text: &str) -> Option<Self> {
        let text = text.trim().to_lowercase();
        Self::ALL
            .iter()
            .find(|(_, spellings)| spellings.first().is_some_and(|it| it.to_lowercase() == text))
            .map(|(word, _)| *word)
    }

    /// All printed forms, in order.
    fn texts() -> impl Iterator<Item = &'static str> {
        Self::ALL.iter().filter_map(|(_, spellings)| spellings.first().copied())
    }
}

/// A message that `text` is no word of a list, with the nearest word or else all of them.
pub fn not_a_word<T: TradeWord>(text: &str) -> String {
    match nearest(text, T::texts()) {
        Some(near) => format!("\"{text}\" is not {}; did you mean \"{near}\"?", T::WHAT),
        None => {
            let all: Vec<&str> = T::texts().collect();
            format!("\"{text}\" is not {}: it is one of {}", T::WHAT, all.join(", "))
        }
    }
}

/// Makes a closed list of words of the files that know it.
macro_rules! trade_words {
    ($(#[$doc:meta])* $name:ident, $what:literal {
        $($(#[doc = $means:literal])+ $variant:ident = $($spelling:literal)|+;)+
    }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[doc = $means])+ $variant,)+ }

        impl $crate::reader::trade_words::TradeWord for $name {
            const WHAT: &'static str = $what;
            const ALL: &'static [(Self, &'static [&'static str])] =
                &[$(($name::$variant, &[$($spelling),+]),)+];
            const MEANINGS: &'static [&'static str] = &[$(concat!($($means),+)),+];
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str($crate::reader::trade_words::TradeWord::text(*self))
            }
        }
    };
}

pub(crate) use trade_words;
