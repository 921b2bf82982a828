//! `deckcard completions SHELL`

use clap::CommandFactory;
use clap_complete::Shell;

use super::{Refusal, answer};

/// Arguments of `completions`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The shell that is to complete commands and options
    shell: Shell,
}

/// Prints the completions of a shell.
pub(super) fn run(arguments: &Arguments) -> Result<(), Refusal> {
    let mut script = Vec::new();
    // The generator takes a refusal of its output for a fault of the program.
    let mut command = super::Arguments::command();
    clap_complete::generate(arguments.shell, &mut command, "deckcard", &mut script);
    answer::document(&String::from_utf8_lossy(&script))
}
