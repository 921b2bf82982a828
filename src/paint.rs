//! Painting: sheets to bytes, as PDF and as pictures of it.

mod outline;
pub mod pdf;
pub mod png;
mod xmp;
