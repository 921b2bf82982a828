//! Turns a swimming coach's session file into large-type cards.
//!
//! To use the library in a program of your own, begin at the [`guide`]: it goes from the text of a
//! session to a PDF, with an example for each step, and says which features to choose.
//!
//! # The stages
//!
//! Data flows one way. Each stage has one type. From [`source::Source`] on, a value of a stage says
//! that what the table promises is so; its fields cannot be changed outside the crate, and no later
//! stage asks again. Only [`session::Session`] is open data: what a coach wrote, right or wrong.
//!
//! | stage | type | what it guarantees | made by |
//! |---|---|---|---|
//! | [`source`] | [`source::Source`] | A whole text in UTF-8, its line starts known; from a file, within the limit. | [`source::load`], [`source::Source::new`] |
//! | [`session`] | [`session::Session`] | Nothing but its types: values are of the right kind, and each has its place in the file. | [`session::read`] |
//! | [`check`] | [`check::CheckedSession`] | Every swim is whole lengths and can make its send-off, numbers are in bounds, there is a main set. | [`check::check`] |
//! | [`plan`] | [`plan::Plan`] | Whole lengths and seconds for one pool and one pace, with sums that hold; card, table and JSON need nothing else. | [`plan::make`], [`plan::Plan::new`] |
//! | [`card`] | [`drawing::Card`] | A display list in points, every item inside the trim. | [`card::compose`], [`drawing::Card::new`] |
//! | [`sheet`] | [`sheet::Sheet`] | Cards placed on paper, each inside it. | [`sheet::impose`], [`sheet::Sheet::new`] |
//! | [`paint`] | bytes | The same cards give the same PDF, byte for byte. | [`paint::pdf::write`] |
//!
//! So this does not compile:
//!
//! ```compile_fail
//! fn change(mut plan: deckcard::plan::Plan) -> deckcard::plan::Plan {
//!     plan.parts.clear();
//!     plan
//! }
//! ```
//!
//! and this does:
//!
//! ```
//! fn look(plan: deckcard::plan::Plan) -> usize {
//!     plan.parts().len()
//! }
//! ```
//!
//! [`block::CheckedBlock`] is to a block of weeks what a checked session and its plan are to a
//! session: every session is opened, checked and worked out, and the sums of the weeks hold.
//!
//! # What the stages share
//!
//! | module | what it holds | for example |
//! |---|---|---|
//! | [`measure`] | Seconds, lengths, distances, pools and lengths on paper in exact numbers; every limit. | a limit: `measure/bounds.rs` |
//! | [`finding`] | What is wrong or worth a second look, as data with places; drawn for people, one a line, or as JSON. | how a finding looks: `finding/human.rs` |
//! | [`reader`] | Reads any TOML file of this program by its tables of keys: values with their places, misspelt keys, what broken TOML means. | how a time is read: `reader/value/times.rs` |
//! | [`drawing`] | What is drawn: the display list and its pieces, badge and clock face. | the look of the dial: `drawing/dial.rs` |
//! | [`typeset`] | The fonts, shaping, and paragraphs wrapped to a width. | where a line may break: `typeset/paragraph.rs` |
//! | [`stock`] | Kinds of card: size, margins, reading distance, holes. | where holes are punched: `stock/holes.rs` |
//! | [`words`] | The card's own words in each language; the wording itself is in `templates/words`. | which words there are: `words/tables.rs` |
//!
//! # Beside the stages
//!
//! | module | what it does |
//! |---|---|
//! | [`advice`] | What an experienced coach would notice in a session and its plans: warnings and notes, a file for each theme. |
//! | [`intake`] | The stages from file to advice in one call. |
//! | [`draft`] | Sessions from a wish, out of a library of patterns. |
//! | [`block`] | Weeks of sessions that build on each other: read, checked, drafted. |
//! | [`calendar`] | A block's sessions as an iCalendar file. |
//! | [`binder`] | A block on paper: contents, charts, cards in order, pages to log them on. |
//! | [`handout`] | A lane club's week on strips of office paper, with the pool's notice behind. |
//! | [`fit`] | Fits a session file to a distance, a time or a pool by editing its text. |
//! | [`forms`] | A session as a message and as TOML, each written from the other. |
//! | [`fix`] | The edits that are certainly right, made to the text of a session file. |
//! | [`lanes`] | A roster of swimmers split into lanes. |
//! | [`report`] | A worked session as a table for the screen and as JSON. |
//! | [`press`] | Stock, words, badge and cautions brought together with plans, so that cards can be composed and painted. |
//! | [`rules`] | Every rule there is, gathered from the stages that find by them. |
//! | [`cli`] | Arguments to stages, stages to exit codes. |
//!
//! Everything down to [`plan`] knows nothing of paper, of the clock or of printing.
//!
//! # Where to open for what
//!
//! | to change | open |
//! |---|---|
//! | a key of a session file | its line in `session/keys.rs`, its field in `session.rs`, then `session/read.rs`, which takes it; a kind of value in `reader/value.rs` and beside it |
//! | the spellings of strokes, modes and efforts | `session/words.rs` |
//! | a limit | `measure/bounds.rs` |
//! | an error of a set, a part or the pools | the check in `check/`, its record in `check/rules.rs` |
//! | a warning | the file of its theme in `advice/` |
//! | times, send-offs, sums | `plan/timing.rs`, `plan/figures.rs`; factors in `check/speed.rs` |
//! | a rest's wording on the card | the words in `templates/words/`, how they are put together in `card/texts/set.rs` |
//! | where a rest lies on the card | `card/layout/rest.rs` |
//! | the look of the dial | `drawing/dial.rs` |
//! | the size of type, what goes on which card | `card/size_search.rs`, `card/breaks.rs` |
//! | a card stock | `templates/cards/`; its keys in `stock/file.rs` |
//! | crop marks, backs | `sheet/marks.rs`, `sheet/duplex.rs` |
//!
//! DEVELOPERS.md has a longer table, and says how to add each of these with its test.
//!
#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod advice;
pub mod binder;
pub mod block;
#[cfg(feature = "calendar")]
pub mod calendar;
pub mod card;
pub mod check;
#[cfg(feature = "cli")]
pub mod cli;
pub mod draft;
pub mod drawing;
pub mod finding;
pub mod fit;
pub mod fix;
pub mod forms;
pub mod guide;
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
