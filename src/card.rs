//! Stage 4, the card: a plan set in type, as a display list with every item inside the trim.

mod back;
mod compose;
mod details;
mod fit;
mod foot;
mod grid;
mod head;
mod page;
mod reading;
mod rest;
mod rows;
mod share;
mod swim;
mod texts;

pub use back::back;
pub use compose::{Composed, Extras, Fault, compose};
pub use reading::Reading;
