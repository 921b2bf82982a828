//! The `deckcard` program: [`deckcard::cli`] does all of it. The first page of the library,
//! `src/lib.rs`, says where to open for what.
#![forbid(unsafe_code)]

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(deckcard::cli::run(std::env::args_os()) as u8)
}
