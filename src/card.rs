//! Stage 4, the card: a plan set in type, as a display list with every item inside the trim.

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
