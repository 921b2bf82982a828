//! The `deckcard` program: arguments in, an exit code out.
#![forbid(unsafe_code)]

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(deckcard::cli::run(std::env::args_os()) as u8)
}
