//! Files in, checked sessions out: the first stages in one call.

use std::path::Path;

use crate::check::{self, CheckedSession};
use crate::finding::{self, FileId, Finding};
use crate::plan::Version;
use crate::reader::FileKind;
use crate::session::{SessionReading, Usual};
use crate::source::{self, LoadError, Source};
use crate::{advice, rules, session};

/// One file, as far as it could be read and checked.
#[derive(Debug)]
pub struct Intake {
    /// The session file, then the club file; findings point into these.
    pub sources: Vec<Source>,
    /// The session worked out as written, if nothing in it is an error.
    pub ready: Option<Ready>,
    /// Everything noticed, in the order of the file.
    pub findings: Vec<Finding>,
    /// What the file is, where it is no session at all.
    pub kind: FileKind,
}

/// A session that holds together, worked out as written.
#[derive(Debug)]
pub struct Ready {
    /// The session.
    pub session: CheckedSession,
    /// Its plan, and each lane's, in the pool it is written for.
    pub written: Version,
}

/// Loads, reads and checks a session file; `-` is standard input. Everything wrong with the file
/// itself is a finding.
///
/// # Errors
///
/// Only where the system refuses the file.
pub fn open(path: &Path) -> Result<Intake, LoadError> {
    open_as_usual(path, &Usual::default())
}

/// The same, with what is usual where a message leaves it out.
///
/// # Errors
///
/// Only where the system refuses the file.
pub fn open_as_usual(path: &Path, usual: &Usual) -> Result<Intake, LoadError> {
    match source::load(path) {
        Ok(source) => Ok(take_as_usual(source, usual)),
        refused => of_loaded(refused),
    }
}

/// The same for a file that is loaded already, or was refused.
pub fn of_loaded(loaded: Result<Source, LoadError>) -> Result<Intake, LoadError> {
    match loaded {
        Ok(source) => Ok(take(source)),
        Err(LoadError::Rejected(rejected)) => {
            let (source, finding) = *rejected;
            let (sources, findings) = (vec![source], vec![finding]);
            Ok(Intake { sources, ready: None, findings, kind: FileKind::Session })
        }
        Err(error) => Err(error),
    }
}

/// Reads and checks a source that is loaded already; the club file is looked for beside it.
pub fn take(source: Source) -> Intake {
    let folder = source.folder();
    take_beside(source, &|name| source::file(&folder.join(name)))
}

/// The same, with what is usual where a message leaves it out: its club file is named from where the
/// program runs.
pub fn take_as_usual(source: Source, usual: &Usual) -> Intake {
    of_reading(read_as_usual(source, usual))
}

/// Reads a session and no more, as [`take_as_usual`] does.
pub fn read_as_usual(source: Source, usual: &Usual) -> SessionReading {
    let folder = source.folder();
    let club = |name: &str| match usual.club.as_deref() == Some(name) {
        true => source::file(Path::new(name)),
        false => source::file(&folder.join(name)),
    };
    session::read_as_usual(source, &club, usual)
}

/// The same with a club file that is opened some other way.
pub fn take_beside(source: Source, club: &dyn Fn(&str) -> Result<Source, LoadError>) -> Intake {
    of_reading(session::read(source, club))
}

fn of_reading(reading: SessionReading) -> Intake {
    let mut findings = reading.findings;
    let session = reading.session.and_then(|session| check::check(session, &mut findings));
    let ready = session.map(|session| {
        let written = Version::of(&session, session.pool.value);
        advice::advise(&session, &written, rules::all(), &mut findings);
        Ready { session, written }
    });
    if reading.sources.first().is_some_and(session::is_message) {
        let own =
            |finding: &Finding| finding.place().is_none_or(|place| place.file == FileId::MAIN);
        findings.iter_mut().filter(|finding| own(finding)).for_each(session::as_message);
    }
    finding::in_file_order(&mut findings);
    Intake { sources: reading.sources, ready, findings, kind: reading.kind }
}
