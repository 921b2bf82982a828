//! Painting: cards to bytes.

mod outline;
pub mod pdf;
mod xmp;
