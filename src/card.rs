//! Stage 4, the card: a plan set in type, as a display list with every item inside the trim.
//!
//! `texts` says what is printed, in the words of [`words`](crate::words); `layout` sets it;
//! `size_search` finds the largest type that takes no more cards, `breaks` what goes on which
//! card, and `page` puts one card together.
//!
//! ```
//! use deckcard::card::{Extras, compose};
//! use deckcard::stock::Stock;
//! use deckcard::words::Words;
//! use deckcard::{intake, session, source::Source};
//!
//! let source = Source::new("tuesday.toml", session::SMALLEST);
//! let plan = intake::take(source).ready.unwrap().written.plan;
//! let stock = Stock::named("a6").unwrap().unwrap();
//! let words = Words::named("en").unwrap().unwrap();
//! let composed = compose(&plan, &Extras::default(), &stock, &words);
//! assert!(composed.faults.is_empty());
//! assert_eq!(composed.cards.len(), 1);
//! assert_eq!(composed.cards[0].trim(), stock.trim());
//! ```

mod back;
mod breaks;
mod compose;
mod fault;
mod job;
mod layout;
mod page;
mod reading;
mod size_search;
mod sizes;
mod spacing;
mod texts;

pub use back::back;
pub use compose::{Composed, compose};
pub use fault::Fault;
pub use job::Extras;
pub use reading::Reading;
pub(crate) use texts::set::MOST_POSITIONS;
