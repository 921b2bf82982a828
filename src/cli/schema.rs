//! `deckcard schema`

use super::{Refusal, answer};
use crate::session::schema;

/// Prints the JSON Schema of the session file.
pub(super) fn run() -> Result<(), Refusal> {
    answer::json(&schema())
}
