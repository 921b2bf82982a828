//! `deckcard check FILE…`

use super::tell::Teller;
use super::{Exit, Input, Refusal, files};
use crate::finding::{self, Finding};
use crate::intake::{self, Ready};
use crate::plan::Version;
use crate::press::Press;
use crate::source::Source;

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
            Ok(intake) => {
                let findings = proofed(intake.ready.as_ref(), intake.findings, &intake.sources);
                teller.tell(&findings, &intake.sources);
            }
            Err(error) => teller.refused(&error),
        }
    }
    Ok(teller.finish())
}

/// The findings, with what the print would find: a missing badge, a sign no font has.
fn proofed(ready: Option<&Ready>, mut findings: Vec<Finding>, sources: &[Source]) -> Vec<Finding> {
    let Some(Ready { session, written }) = ready else { return findings };
    if let Some(press) = Press::set_up(session, sources, &mut findings) {
        press.cards(written, &mut findings);
        press.cards(&Version::of(session, session.other_pool), &mut findings);
    }
    finding::in_file_order(&mut findings);
    findings
}
