//! What a command was asked for, on standard output. Unlike a message it must not be lost: where it
//! cannot be written whole, the run ends with an error.

use std::fs;
use std::io::{self, IsTerminal, Write};
use std::path::Path;

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
        false => file(text.as_bytes()),
    }
}

/// A file that is no text.
pub(super) fn bytes(bytes: &[u8], what: &'static str) -> Result<(), Refusal> {
    match io::stdout().is_terminal() {
        true => Err(Refusal::NotForATerminal(what)),
        false => file(bytes),
    }
}

/// Whether standard output was closed before the program began.
///
/// The standard library then opens the null device in its place, for reading and writing, so that no
/// file takes its number; a shell that throws the output away opens it for writing alone. Linux says
/// which of them it is (proc(5), `fdinfo`: the last octal digit of the flags, 2 for both ways).
fn is_closed() -> bool {
    if !cfg!(target_os = "linux") {
        return false;
    }
    let is_null = fs::read_link("/proc/self/fd/1").is_ok_and(|to| to == Path::new("/dev/null"));
    let info = fs::read_to_string("/proc/self/fdinfo/1").unwrap_or_default();
    let flags = info.lines().find_map(|line| line.strip_prefix("flags:"));
    let flags = flags.and_then(|flags| u32::from_str_radix(flags.trim(), 8).ok());
    is_null && flags.is_some_and(|flags| flags & 3 == 2)
}

/// A file that is lost where nobody takes it.
fn file(bytes: &[u8]) -> Result<(), Refusal> {
    match is_closed() {
        true => Err(Refusal::Output(io::Error::other("it is closed"))),
        false => whole(bytes),
    }
}

fn whole(bytes: &[u8]) -> Result<(), Refusal> {
    let mut out = io::stdout().lock();
    // What is left in the buffer would be lost without a word at the end of the run.
    out.write_all(bytes).and_then(|()| out.flush()).map_err(Refusal::Output)
}
