//! Painting: cards to bytes.

pub mod pdf;
