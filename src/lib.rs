//! Turns a swimming coach's session file into large-type cards.
#![forbid(unsafe_code)]

pub mod card;
pub mod check;
pub mod finding;
pub mod fit;
pub mod lanes;
pub mod measure;
pub mod plan;
pub mod session;
pub mod source;
