//! Reads any TOML file of this program: its syntax, its tables by their keys, its values, each with
//! its place and with everything wrong told at once.
//!
//! What the keys are is for each kind of file to say, in tables made of [`keys`].

pub mod keys;
mod quote;
pub(crate) mod rules;
pub mod schema;
mod spelling;
pub(crate) mod syntax;
pub(crate) mod table;
pub mod trade_words;
pub(crate) mod value;

pub(crate) use quote::{quoted, quoted_list};
pub use rules::RULES;
pub use spelling::nearest;
pub use syntax::FileKind;
pub(crate) use table::root_reader;
