//! `deckcard check FILE…`

use super::tell::Teller;
use super::{Exit, Input, Refusal, files};
use crate::intake;

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    input: Input,
}

/// Checks every file and tells what is found.
pub(super) fn run(arguments: &Arguments) -> Result<Exit, Refusal> {
    let mut teller = Teller::new(arguments.input.format);
    for path in files::expand(&arguments.input.files)? {
        match intake::open(&path) {
            Ok(intake) => teller.tell(&intake.findings, &intake.sources),
            Err(error) => teller.refused(&error),
        }
    }
    Ok(teller.finish())
}
