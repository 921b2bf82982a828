//! Turns a swimming coach's session file into large-type cards.
#![forbid(unsafe_code)]

pub mod card;
pub mod finding;
pub mod measure;
pub mod paint;
pub mod plan;
pub mod session;
