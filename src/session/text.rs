//! A session as text: a message as a coach sends it.
//!
//! Line by line: a heading opens a part, a line that begins with a count or a distance is sets, a line
//! that says how often opens rounds, a stated sum is held against what was read; anything else is a fact
//! at the head, a word on the set before it, or talk that stays off the card. What could be swum and is
//! not read is an error or a warning.

mod alike;
mod builder;
mod head;
mod heading;
mod help;
mod lines;
mod moved;
mod own_words;
mod parts;
mod plain;
mod read;
mod rules;
mod set;
mod sets;
mod sums;
mod times;
mod word;

pub(crate) use alike::{reads_as, reads_as_title};
pub(crate) use builder::line_place;
pub(crate) use heading::message_headings;
pub(crate) use help::as_message;
pub(crate) use read::is_message;
pub(super) use read::read;
pub(crate) use rules::RULES;
pub(crate) use sums::{states_sum, swum_sixths};
