//! `deckcard check FILE…`

use std::path::Path;

use super::reporter::Reporter;
use super::{Input, Refusal, files, write};
use crate::block::{self, BlockIntake};
use crate::finding::{self, FileId, Finding};
use crate::intake::{self, Intake, Ready};
use crate::plan::Version;
use crate::press::{self, Press, Wishes};
use crate::reader::FileKind;
use crate::session::Usual;
use crate::source::{self, Source};
use crate::{draft, fix, stock, words};

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    pub input: Input,
    /// Write the changes that are certain into the files, and list them: quotes around a time,
    /// capitals, a misspelt word. All else stays as it is, byte for byte. As JSON a change is an object
    /// among the findings, with the severity "changed", `before` and `after`
    #[arg(long)]
    fix: bool,
    /// Show the notes too, which are else only counted: what may well be meant so
    #[arg(long)]
    notes: bool,
}

/// Checks every file and reports what is found.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    reporter.with_notes(arguments.notes);
    if arguments.fix && arguments.input.files.iter().any(|file| file == Path::new("-")) {
        return Err(Refusal::FixOfInput);
    }
    let usual = arguments.input.usual.usual();
    for path in files::expand(&arguments.input.files, reporter) {
        let opened =
            intake::open_as_usual(&path, &usual).map_err(Refusal::from).and_then(|intake| {
                if arguments.fix { fixed(&path, intake, &usual, reporter) } else { Ok(intake) }
            });
        match opened {
            Ok(intake) => {
                let Looked { mut sources, findings, ready } = look(intake);
                let findings = proofed(ready.as_ref(), findings, &mut sources);
                reporter.report(&findings, &sources);
            }
            Err(error) => reporter.refused(&error),
        }
    }
    Ok(())
}

/// The file with its certain faults put right, written back if there were any.
fn fixed(
    path: &Path,
    intake: Intake,
    usual: &Usual,
    reporter: &mut Reporter,
) -> Result<Intake, Refusal> {
    let unreadable = intake.findings.iter().any(|finding| source::REFUSALS.contains(&finding.rule));
    let Some(source) = intake.sources.first().filter(|_| !unreadable) else { return Ok(intake) };
    let again = |source: &Source| {
        let intake = intake::take_as_usual(source.clone(), usual);
        match intake.kind {
            // Its sessions are no part of it, and take time to draft.
            FileKind::Block => {
                let folder = source.folder();
                let club = |name: &str| source::file(&folder.join(name));
                block::read(source.clone(), &club).findings
            }
            _ => look(intake).findings,
        }
    };
    let (source, changes) = fix::all(source.clone(), &again);
    if changes.is_empty() {
        reporter.note(format_args!("{}: nothing to change that is certain", path.display()));
        return Ok(intake);
    }
    write::one(path, source.text().as_bytes(), write::ReadOnly::Kept)?;
    changes.iter().for_each(|change| reporter.changed(path, change));
    reporter.note(format_args!("{}: {} put right", path.display(), changes.len()));
    Ok(intake::take_as_usual(source, usual))
}

/// A file of whatever kind, as its own reader sees it.
struct Looked {
    sources: Vec<Source>,
    findings: Vec<Finding>,
    ready: Option<Ready>,
}

fn look(intake: Intake) -> Looked {
    let Intake { sources, ready, mut findings, kind } = intake;
    let found = &mut findings;
    match (sources.first(), kind) {
        (Some(source), FileKind::Block) => {
            let BlockIntake { sources, findings, .. } = block::take(source.clone());
            return Looked { sources, findings, ready };
        }
        (Some(source), FileKind::Stock) => {
            let stock = stock::read(source, FileId::MAIN, None, found);
            found.extend(stock.as_ref().and_then(press::try_stock));
        }
        (Some(source), FileKind::Words) => drop(words::read(source, FileId::MAIN, found)),
        (Some(source), FileKind::Patterns) => draft::check_patterns(source, found),
        (_, FileKind::Session | FileKind::Club) | (None, _) => {}
    }
    Looked { sources, findings, ready }
}

/// The findings, with what the print would find: a missing badge, a sign no font has.
fn proofed(
    ready: Option<&Ready>,
    mut findings: Vec<Finding>,
    sources: &mut Vec<Source>,
) -> Vec<Finding> {
    let Some(Ready { session, written }) = ready else { return findings };
    if let Some(press) = Press::set_up(session, sources, &Wishes::default(), &mut findings) {
        press.cards(written, &mut findings);
        if let Some(pool) = session.other_pool() {
            press.cards(&Version::of(session, pool), &mut findings);
        }
    }
    finding::in_file_order(&mut findings);
    findings
}
