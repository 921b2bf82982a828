//! Painting: sheets to bytes, as PDF and as pictures of it.

pub mod pdf;
#[cfg(feature = "pictures")]
pub mod png;
