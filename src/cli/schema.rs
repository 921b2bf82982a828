//! `deckcard schema [WHAT]`

use super::{Refusal, answer};
use crate::report::json;
use crate::session::schema;

/// Arguments of `schema`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Of what
    #[arg(value_enum, default_value_t)]
    what: What,
}

/// What there is a schema of.
#[derive(Clone, Copy, Debug, Default, clap::ValueEnum)]
enum What {
    /// The session file
    #[default]
    Session,
    /// What show --json prints
    Show,
}

/// Prints a JSON Schema.
pub(super) fn run(arguments: &Arguments) -> Result<(), Refusal> {
    match arguments.what {
        What::Session => answer::json(&schema()),
        What::Show => answer::document(json::SCHEMA),
    }
}
