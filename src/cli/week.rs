//! `deckcard print --week FILE…`: the weekly hand-out of a lane club.

use std::path::{Path, PathBuf};

use super::reporter::Reporter;
use super::{Exit, Refusal, write};
use crate::finding::{self, Finding};
use crate::handout::{Gathered, gather};
use crate::intake::{self, Intake, Ready};
use crate::measure::Pool;
use crate::paint::pdf::{self, Made, Meta};
use crate::reader::FileKind;
use crate::report::counted;
use crate::session::Usual;
use crate::sheet::Paper;
use crate::source::Source;

/// What a hand-out is made of.
pub(super) struct Job<'a> {
    pub files: Vec<PathBuf>,
    pub paper: Option<Paper>,
    pub usual: Usual,
    pub pool: Option<Pool>,
    pub folder: Option<&'a Path>,
    /// When the file says it was made, whatever the sessions' days.
    pub made: Option<Made>,
}

/// Lays out the sessions of a week, if none of them has an error.
pub(super) fn run(job: &Job, reporter: &mut Reporter) -> Result<(), Refusal> {
    let mut intakes = Vec::new();
    for path in &job.files {
        match intake::open_as_usual(path, &job.usual) {
            Ok(intake) if intake.kind != FileKind::Session => {
                reporter.report(&intake.findings, &intake.sources);
                reporter.no_session(path, intake.kind);
            }
            Ok(intake) => intakes.push(intake),
            Err(error) => reporter.refused(&error.into()),
        }
    }
    // In the order of their days; those without one keep their places, at the end.
    intakes.sort_by_key(|intake| {
        let date = intake.ready.as_ref().and_then(|ready| ready.session.date);
        (date.is_none(), date)
    });
    let mut findings: Vec<Vec<Finding>> =
        intakes.iter_mut().map(|intake| std::mem::take(&mut intake.findings)).collect();
    let mut sources: Vec<Vec<Source>> =
        intakes.iter_mut().map(|intake| std::mem::take(&mut intake.sources)).collect();
    let gathered = gathered(job, &intakes, &mut sources, &mut findings, reporter);
    for (sources, findings) in sources.iter().zip(&mut findings) {
        finding::in_file_order(findings);
        reporter.report(findings, sources);
    }
    if reporter.worst() > Exit::Clean || findings.iter().flatten().any(Finding::is_error) {
        return Ok(());
    }
    let Some(Gathered { handout, name, meta, .. }) = gathered else { return Ok(()) };
    let meta = Meta { made: job.made.or(meta.made), ..meta };
    let bytes = pdf::write(&handout.sheets, &[], &meta)?;
    let beside = job.files.first().and_then(|file| file.parent());
    let path = job.folder.or(beside).unwrap_or(Path::new("")).join(name);
    let wrote = write::one(&path, &bytes, write::ReadOnly::Kept)?;
    // Pages are fronts and backs by turns.
    let sheets = counted(handout.sheets.len() / 2, "sheet");
    reporter.note(format_args!("{wrote}: {sheets} printed on both sides"));
    Ok(())
}

/// The hand-out; what a person should know about it besides is noted.
fn gathered(
    job: &Job,
    intakes: &[Intake],
    sources: &mut [Vec<Source>],
    findings: &mut [Vec<Finding>],
    reporter: &mut Reporter,
) -> Option<Gathered> {
    let ready: Option<Vec<&Ready>> = intakes.iter().map(|intake| intake.ready.as_ref()).collect();
    let paper = job.paper.unwrap_or(Paper::A4);
    let gathered = gather(&ready?, job.pool, paper, sources, findings)?;
    if let Some(language) = &gathered.unreviewed_language {
        reporter.unreviewed(language);
    }
    if let Some((first, last)) = gathered.longer_than_a_week {
        reporter.note(format_args!(
            "warning: the sessions are from {first} to {last}, which is more than a week; all are \
             on one hand-out"
        ));
    }
    for title in &gathered.undated {
        reporter.note(format_args!(
            "warning: \"{title}\" has no day, and others of the week have one: it is printed last, \
             without a day; give it one, as in date = 2027-01-14"
        ));
    }
    Some(gathered)
}
