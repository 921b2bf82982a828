//! Text set in type: the embedded fonts, shaping, and paragraphs wrapped to a width.

pub mod face;
pub(crate) mod paragraph;
mod rules;
mod runs;
mod setting;
mod tokens;
mod typesetter;

pub use rules::RULES;
pub(crate) use rules::{GLYPH_MISSING, LETTERS};
pub use typesetter::Typesetter;
