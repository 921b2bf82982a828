//! The library of patterns and skills: read from the program's own files and a club's.

use thiserror::Error;

use super::{DraftError, Wish};
use crate::session::words::{Goal, Level};

/// Patterns and skills to draft from.
#[derive(Clone, Debug, Default)]
pub struct Library {}

/// Why a pattern file could not be used.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum LibraryError {
    /// Not TOML, a key wrong or missing; the reader's own words, with the line.
    #[error("{0}")]
    Unreadable(String),
}

impl Library {
    /// The program's own patterns.
    pub fn built_in() -> Result<Self, LibraryError> {
        Ok(Self::default())
    }

    /// These and those of a club's own pattern file, given as its text. The club's come first.
    pub fn with(self, own: &str) -> Result<Self, LibraryError> {
        let _ = own;
        Ok(self)
    }

    /// Skills that serve as a focus for a goal at a level, in the order in which variants
    /// take them.
    pub fn focuses(&self, goal: Goal, level: Level) -> Vec<&str> {
        let _ = (goal, level);
        Vec::new()
    }

    pub(super) fn check(&self, _wish: &Wish) -> Result<(), DraftError> {
        Ok(())
    }
}
