//! `deckcard check FILE…`

use std::path::Path;

use super::reporter::Reporter;
use super::{Input, Refusal, files, write};
use crate::finding::{self, FileId, Finding};
use crate::intake::{self, Intake, Ready};
use crate::plan::Version;
use crate::press::{self, Press, Wishes};
use crate::reader::FileKind;
use crate::source::Source;
use crate::{block, draft, fix, stock, words};

/// A file with more faults than this is not put right by a machine.
const MOST_FIXES: usize = 1000;

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    pub input: Input,
    /// Write the changes that are certain into the session files: quotes around a time, a
    /// misspelt word, the nearest whole length. All else stays as it is, byte for byte
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
    for path in files::expand(&arguments.input.files, reporter) {
        let opened = intake::open(&path).map_err(Refusal::from).and_then(|intake| {
            if arguments.fix { fixed(&path, intake, reporter) } else { Ok(intake) }
        });
        match opened {
            Ok(intake) if intake.kind == FileKind::Block => {
                if let Some(source) = intake.sources.into_iter().next() {
                    let block = block::take(source);
                    reporter.report(&block.findings, &block.sources);
                }
            }
            Ok(mut intake) => {
                read_by_its_own(&mut intake);
                let findings = proofed(intake.ready.as_ref(), intake.findings, &mut intake.sources);
                reporter.report(&findings, &intake.sources);
            }
            Err(error) => reporter.refused(&error),
        }
    }
    Ok(())
}

/// The file with its certain faults put right, written back if there were any.
fn fixed(path: &Path, mut intake: Intake, reporter: &Reporter) -> Result<Intake, Refusal> {
    let mut count = 0;
    // What is put right can uncover the next fault: the quotes first, then the time in them.
    while let Some((text, applied)) = fix::apply(&intake) {
        count += applied;
        let path =
            intake.sources.first().map(|source| source.path().to_owned()).unwrap_or_default();
        intake = intake::take(Source::new(path, text));
        if count > MOST_FIXES {
            break;
        }
    }
    if count > 0
        && let Some(source) = intake.sources.first()
    {
        write::one(path, source.text().as_bytes(), write::ReadOnly::Kept)?;
        reporter.note(format_args!("{}: {count} put right", path.display()));
    }
    Ok(intake)
}

/// What is wrong with a file that has a reader of its own.
fn read_by_its_own(intake: &mut Intake) {
    let (Some(source), found) = (intake.sources.first(), &mut intake.findings) else { return };
    match intake.kind {
        FileKind::Stock => {
            let stock = stock::read(source, FileId::MAIN, None, found);
            found.extend(stock.as_ref().and_then(press::try_stock));
        }
        FileKind::Words => drop(words::read(source, FileId::MAIN, found)),
        FileKind::Patterns => draft::check_patterns(source, found),
        FileKind::Session | FileKind::Club | FileKind::Block => {}
    }
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
        press.cards(&Version::of(session, session.other_pool), &mut findings);
    }
    finding::in_file_order(&mut findings);
    findings
}
