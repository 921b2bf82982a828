//! One session file as the cards of its versions.

use std::path::Path;

use super::Arguments;
use crate::check::CheckedSession;
use crate::cli::Refusal;
use crate::cli::pages::{self, Cards};
use crate::cli::reporter::Reporter;
use crate::finding::{self, Finding};
use crate::intake::{self, Intake};
use crate::measure::Pool;
use crate::paint::pdf::Made;
use crate::reader::FileKind;
use crate::source::Source;

/// What one file gave.
pub(super) struct Taken {
    findings: Vec<Finding>,
    sources: Vec<Source>,
    kind: FileKind,
    /// The language of the cards' own words, where nobody who coaches in it has read them over.
    unreviewed: Option<String>,
    /// The cards of its versions; none where there is an error.
    pub documents: Vec<Cards>,
}

/// Reads, checks and lays out a session file.
pub(super) fn take(
    path: &Path,
    arguments: &Arguments,
    made: Option<Made>,
) -> Result<Taken, Refusal> {
    let Intake { mut sources, ready, mut findings, kind } =
        intake::open_as_usual(path, &arguments.input.usual.usual())?;
    let mut documents = match &ready {
        Some(ready) => {
            let wishes = arguments.on.wishes(arguments.back);
            let pools = pools(&ready.session, arguments);
            let two_sided = arguments.sheets.two_sided();
            pages::cards(ready, &pools, two_sided, &wishes, &mut sources, &mut findings)
        }
        None => Vec::new(),
    };
    for cards in &mut documents {
        cards.meta.made = made.or(cards.meta.made);
    }
    finding::in_file_order(&mut findings);
    let unreviewed = documents.iter().find_map(|cards| cards.unreviewed.clone());
    Ok(Taken { findings, sources, kind, unreviewed, documents })
}

impl Taken {
    /// Whether it is a session that can be printed; `None` where it is none.
    pub fn is_printable(&self) -> Option<bool> {
        (self.kind == FileKind::Session).then(|| !self.findings.iter().any(Finding::is_error))
    }

    /// Reports what was found.
    pub fn report(&self, path: &Path, reporter: &mut Reporter) {
        reporter.report(&self.findings, &self.sources);
        if let Some(language) = &self.unreviewed {
            reporter.unreviewed(language);
        }
        if self.kind != FileKind::Session {
            reporter.no_session(path, self.kind);
        }
    }
}

/// The pools asked for; both of the session's without a wish.
fn pools(session: &CheckedSession, arguments: &Arguments) -> Vec<Pool> {
    match arguments.pool {
        Some(pool) => vec![pool],
        None if arguments.as_written => vec![session.pool.value],
        None => session.pools(),
    }
}
