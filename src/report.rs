//! A session or a block on a screen: the table a coach reads, and the JSON a script reads.

pub mod block;
pub mod cards;
pub mod json;
pub mod stocks;
pub mod table;
