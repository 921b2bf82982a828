//! A session or a block on a screen, as the table a coach reads and the JSON a script reads; and
//! the reference page of everything a file may say.

pub mod block;
pub mod cards;
pub mod json;
pub mod reference;
pub mod stocks;
pub mod table;
