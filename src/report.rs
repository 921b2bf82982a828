//! A session or a block on a screen, as the table a coach reads and the JSON a script reads; and
//! the reference page of everything a file may say.

pub mod block;
pub mod cards;
pub mod json;
pub mod reading;
pub mod reference;
pub mod stocks;
pub mod table;

/// A number of things in words: "1 week", "2 weeks". `thing` is a noun whose plural ends in s.
pub(crate) fn counted(count: usize, thing: &str) -> String {
    match count {
        1 => format!("1 {thing}"),
        _ => format!("{count} {thing}s"),
    }
}
