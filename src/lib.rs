//! Turns a swimming coach's session file into large-type cards.
#![forbid(unsafe_code)]

pub mod advice;
pub mod card;
pub mod check;
pub mod cli;
pub mod finding;
pub mod fix;
pub mod intake;
pub mod measure;
pub mod paint;
pub mod plan;
pub mod press;
pub mod report;
pub mod rules;
pub mod session;
pub mod source;
