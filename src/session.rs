//! Stage 1, the session as written.
pub mod words;
