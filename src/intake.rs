//! Files in, checked sessions out: the first stages in one call.

use std::path::Path;

use crate::check::{self, CheckedSession};
use crate::finding::{self, Finding};
use crate::session;
use crate::source::{self, LoadError, Source};

/// What came of one file.
#[derive(Debug)]
pub struct Intake {
    /// The session file, then the club file; findings point into these.
    pub sources: Vec<Source>,
    /// The session, if nothing in it is an error.
    pub session: Option<CheckedSession>,
    /// Everything noticed, in the order of the file.
    pub findings: Vec<Finding>,
    /// Whether the file is a club's defaults and no session at all.
    pub is_club: bool,
}

/// Loads, reads and checks a session file. Only a refusal of the system is an error here;
/// everything wrong with the file itself is a finding.
pub fn open(path: &Path) -> Result<Intake, LoadError> {
    match source::load(path) {
        Ok(source) => Ok(take(source)),
        Err(LoadError::Rejected(rejected)) => {
            let (source, finding) = *rejected;
            Ok(Intake {
                sources: vec![source],
                session: None,
                findings: vec![finding],
                is_club: false,
            })
        }
        Err(error) => Err(error),
    }
}

/// Reads and checks a source at hand; the club file is looked for beside it.
pub fn take(source: Source) -> Intake {
    if session::is_club(&source) {
        return Intake {
            sources: vec![source],
            session: None,
            findings: Vec::new(),
            is_club: true,
        };
    }
    let folder = source.folder();
    let reading = session::read(source, &|name| source::load(&folder.join(name)));
    let mut findings = reading.findings;
    let session = reading.session.and_then(|session| check::check(session, &mut findings));
    finding::in_file_order(&mut findings);
    Intake { sources: reading.sources, session, findings, is_club: false }
}
