//! `deckcard check FILE…`

use super::tell::Teller;
use super::{Exit, Input, Refusal, files};
use crate::check::CheckedSession;
use crate::finding::{self, Finding};
use crate::intake;
use crate::press::Press;
use crate::report::Version;
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
                let findings = proofed(intake.session.as_ref(), intake.findings, &intake.sources);
                teller.tell(&findings, &intake.sources);
            }
            Err(error) => teller.refused(&error),
        }
    }
    Ok(teller.finish())
}

/// The findings, with what the print would find: a missing badge, a sign no font has.
fn proofed(
    session: Option<&CheckedSession>,
    mut findings: Vec<Finding>,
    sources: &[Source],
) -> Vec<Finding> {
    let Some(session) = session else { return findings };
    if let Some(press) = Press::set_up(session, sources, &mut findings) {
        for pool in [session.pool.value, session.other_pool] {
            press.cards(&Version::of(session, pool), &mut findings);
        }
    }
    finding::in_file_order(&mut findings);
    findings
}
