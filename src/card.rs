//! Stage 4, the card: a plan set in type, as a display list with every item inside the trim.

mod back;
mod compose;
mod details;
pub mod face;
mod fit;
mod foot;
mod grid;
mod head;
mod page;
pub(crate) mod paragraph;
mod reading;
mod rest;
mod rows;
mod rules;
mod share;
pub mod stock;
mod swim;
mod texts;
pub mod words;

pub use back::back;
pub use compose::{Composed, Extras, Fault, compose};
pub use reading::Reading;
pub use rules::RULES;
pub(crate) use rules::{GLYPH_MISSING, LETTERS, STOCK_UNUSABLE};
