//! Turns a swimming coach's session file into large-type cards.
//!
//! Data flows one way. Each stage has one type, and a value of it is the proof of what the
//! stage guarantees; no later stage asks again.
//!
//! | stage | type | what it guarantees |
//! |---|---|---|
//! | [`source`] | [`source::Source`] | The file was read whole: UTF-8, within the limit, its line starts known. |
//! | [`session`] | [`session::Session`] | Keys are known, values are of the right kind, and each has its place in the file. |
//! | [`check`] | [`check::CheckedSession`] | Every swim is whole lengths and can make its send-off, numbers are in bounds, there is a main set. |
//! | [`plan`] | [`plan::Plan`] | Whole lengths and seconds for one pool and one pace; card, table and JSON need nothing else. |
//! | [`card`] | [`card::Card`] | A display list in points, every item inside the trim and with its place in the file. |
//! | [`sheet`] | [`sheet::Sheet`] | Cards placed on paper, each inside it. |
//! | [`paint`] | bytes | The same cards give the same PDF, byte for byte. |
//!
//! Beside the road:
//!
//! | module | what it does |
//! |---|---|
//! | [`measure`] | Seconds, lengths, distances and pools in exact numbers; every limit in one table. |
//! | [`finding`] | What was noticed, as data with places; drawn for people, one a line, or as JSON. |
//! | [`advice`] | What an experienced coach would notice in a session and its plans: warnings, a file for each theme. |
//! | [`intake`] | The stages from file to advice in one call. |
//! | [`draft`] | Sessions from a wish, out of a library of patterns. |
//! | [`block`] | Weeks of sessions that build on each other: read, checked, drafted. |
//! | [`calendar`] | A block's sessions as an iCalendar file. |
//! | [`binder`] | A block on paper: contents, charts, cards in order, pages to log them on. |
//! | [`handout`] | A lane club's week on strips of office paper, with the pool's notice behind. |
//! | [`fit`] | Fits a session file to a distance, a time or a pool by editing its text. |
//! | [`fix`] | The edits that are certainly right, made to the text of a session file. |
//! | [`lanes`] | A roster of swimmers split into lanes. |
//! | [`report`] | A worked session as a table for the screen and as JSON. |
//! | [`press`] | Stock, words, badge and cautions brought together with plans, so that cards can be composed and painted. |
//! | [`rules`] | Every rule there is, gathered from the stages that find by them. |
//! | [`cli`] | Arguments to stages, stages to exit codes. |
//!
//! Everything down to [`plan`] knows nothing of paper, of the clock or of printing.
#![forbid(unsafe_code)]

pub mod advice;
pub mod binder;
pub mod block;
pub mod calendar;
pub mod card;
pub mod check;
pub mod cli;
pub mod draft;
pub mod drawing;
pub mod finding;
pub mod fit;
pub mod fix;
pub mod handout;
pub mod intake;
pub mod lanes;
pub mod measure;
pub mod paint;
pub mod plan;
pub mod press;
pub mod reader;
pub mod report;
pub mod rules;
pub mod session;
pub mod sheet;
pub mod source;
pub mod stock;
pub mod typeset;
pub mod words;
