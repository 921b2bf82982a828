//! One session file as the sheets of its versions.

use std::path::Path;

use super::Arguments;
use super::batch::Summary;
use crate::check::CheckedSession;
use crate::cli::Refusal;
use crate::cli::tell::Teller;
use crate::finding::{self, Finding};
use crate::intake::{self, Ready};
use crate::measure::Pool;
use crate::paint::pdf::{Made, Meta};
use crate::plan;
use crate::press::Press;
use crate::sheet::Sheet;
use crate::source::Source;

/// What came of one file.
pub(super) struct Taken {
    findings: Vec<Finding>,
    sources: Vec<Source>,
    is_club: bool,
    /// Its versions to print; none where there is an error.
    pub versions: Vec<Version>,
}

/// A session for one pool, laid out.
pub(super) struct Version {
    /// The session's own title.
    pub title: String,
    pub pool: Pool,
    pub meta: Meta,
    pub sheets: Vec<Sheet>,
}

/// Reads, checks and lays out a session file.
pub(super) fn take(
    path: &Path,
    arguments: &Arguments,
    made: Option<Made>,
) -> Result<Taken, Refusal> {
    let intake = intake::open(path)?;
    let mut findings = intake.findings;
    let mut versions = match &intake.ready {
        Some(ready) => versions(ready, arguments, made, &intake.sources, &mut findings),
        None => Vec::new(),
    };
    if findings.iter().any(Finding::is_error) {
        versions.clear();
    }
    finding::in_file_order(&mut findings);
    Ok(Taken { findings, sources: intake.sources, is_club: intake.is_club, versions })
}

impl Taken {
    /// Tells what was found, and counts the session.
    pub fn tell(&self, path: &Path, teller: &mut Teller, summary: &mut Summary) {
        teller.tell(&self.findings, &self.sources);
        if self.is_club {
            teller.note(format_args!("{} is a club file; no card is printed", path.display()));
        } else if self.findings.iter().any(Finding::is_error) {
            summary.failed(path);
        } else {
            summary.printed();
        }
    }
}

fn versions(
    ready: &Ready,
    arguments: &Arguments,
    made: Option<Made>,
    sources: &[Source],
    findings: &mut Vec<Finding>,
) -> Vec<Version> {
    let Ready { session, written } = ready;
    let Some(press) = Press::set_up(session, sources, findings) else { return Vec::new() };
    let mut versions = Vec::new();
    for pool in pools(session, arguments) {
        let cards = if pool == session.pool.value {
            press.cards(written, findings)
        } else {
            press.cards(&plan::Version::of(session, pool), findings)
        };
        let mut meta = press.meta(pool);
        meta.made = made.or(meta.made);
        let sheets = cards.into_iter().map(Sheet::of).collect();
        versions.push(Version { title: session.title.value.clone(), pool, meta, sheets });
    }
    versions
}

/// The pools asked for; both of the session's without a wish.
fn pools(session: &CheckedSession, arguments: &Arguments) -> Vec<Pool> {
    match arguments.pool {
        Some(pool) => vec![pool],
        None if arguments.as_written => vec![session.pool.value],
        None => vec![session.pool.value, session.other_pool],
    }
}
