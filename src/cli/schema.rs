//! `deckcard schema`

use std::io::{self, Write};

use super::{Exit, Refusal};
use crate::session::schema;

/// Prints the JSON Schema of the session file.
pub(super) fn run() -> Result<Exit, Refusal> {
    writeln!(io::stdout().lock(), "{:#}", schema())?;
    Ok(Exit::Clean)
}
