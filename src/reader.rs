//! Reads any TOML file of this program: a session, a club, a block, a stock, words, patterns.
//!
//! Everything wrong in a file is reported at once, each fault with its place, and every value that
//! can be read keeps its place. A reader of one kind of file goes through these, in this order:
//!
//! | file | its job |
//! |---|---|
//! | `syntax` | TOML to a tree; what broken TOML means in everyday words; which kind of file it is |
//! | `table` | a table of the tree by its keys: each once, the missing and the misspelt reported |
//! | `value` | a value as the type its key has: texts, times, figures |
//! | [`keys`] | what a key and a table are; the keys of a kind of file are declared by who reads it |
//! | [`trade_words`] | closed lists of words, as strokes and efforts |
//! | `spelling` | the word that was probably meant |
//! | `marks` | how many marks one letter can carry |
//! | `other_words` | words of other names and languages for those of the trade |
//! | `certain` | which changes to a coach's words lose nothing |
//! | `quote` | a text as TOML has it in quotes |
//! | [`schema`] | the JSON Schema of a file, from its table of keys |
//! | `rules` | the findings that all these share |
//!
//! A new key is one line in the tables of its file, as `session/keys.rs`, and one where that file
//! is read, as `session/read.rs`. A new kind of value is a [`keys::Form`] and a type in `value`
//! that says how it is read.

pub(crate) mod certain;
pub mod keys;
mod marks;
mod other_words;
mod quote;
pub(crate) mod rules;
pub mod schema;
mod spelling;
pub(crate) mod syntax;
pub(crate) mod table;
pub mod trade_words;
pub(crate) mod value;

pub use certain::loses_nothing;
pub(crate) use certain::{is_slip, offer};
pub(crate) use marks::weighed;
pub(crate) use other_words::{in_words_of_the_trade, key_of_name};
pub(crate) use quote::{quoted, quoted_list};
pub use rules::RULES;
pub(crate) use spelling::certain_of;
pub use spelling::nearest;
pub use syntax::FileKind;
pub(crate) use table::root_reader;
