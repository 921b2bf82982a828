//! What a command was asked for, on standard output. Unlike a message it must not be lost: where it
//! cannot be written whole, the run ends with an error.

use std::io::{self, IsTerminal, Write};

use serde_json::Value;

use super::Refusal;
use crate::finding::visible;

/// A table or a page for people: no sign of its data steers a terminal.
pub(super) fn page(text: &str) -> Result<(), Refusal> {
    whole(visible::lines(text).as_bytes())
}

/// A value for scripts.
pub(super) fn json(value: &Value) -> Result<(), Refusal> {
    whole(format!("{}\n", visible::json(&format!("{value:#}"))).as_bytes())
}

/// A text that is a file: byte for byte, but for a terminal, which it must not steer.
pub(super) fn document(text: &str) -> Result<(), Refusal> {
    match io::stdout().is_terminal() {
        true => page(&text.replace("\r\n", "\n")),
        false => whole(text.as_bytes()),
    }
}

/// A file that is no text.
pub(super) fn bytes(bytes: &[u8], what: &'static str) -> Result<(), Refusal> {
    match io::stdout().is_terminal() {
        true => Err(Refusal::NotForATerminal(what)),
        false => whole(bytes),
    }
}

fn whole(bytes: &[u8]) -> Result<(), Refusal> {
    let mut out = io::stdout().lock();
    // What is left in the buffer would be lost without a word at the end of the run.
    out.write_all(bytes).and_then(|()| out.flush()).map_err(Refusal::Output)
}
