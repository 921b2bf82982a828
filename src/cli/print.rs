//! `deckcard print FILE…`

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use super::sheets::SheetOptions;
use super::stocks::OnStock;
use super::tell::Teller;
use super::{Exit, Input, Refusal, files, pages, preview, write};
use crate::check::CheckedSession;
use crate::finding::{self, Finding};
use crate::intake::{self, Intake};
use crate::measure::Pool;

/// Arguments of `print`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    input: Input,
    /// Where the PDFs go; beside each session file without it
    #[arg(short, long, value_name = "DIR")]
    output: Option<PathBuf>,
    /// Print the version for this pool only, as in "25 yd"
    #[arg(long, value_parser = super::pool, conflicts_with = "as_written")]
    pool: Option<Pool>,
    /// Print the written version only
    #[arg(long, conflicts_with = "duplex")]
    as_written: bool,
    #[command(flatten)]
    on: OnStock,
    /// Also print a page of lines for times and stroke counts, for the back of the card
    #[arg(long)]
    back: bool,
    /// Write a picture (PNG) of every page beside its PDF
    #[arg(long)]
    preview: bool,
    // Last, for its heading in the help.
    #[command(flatten)]
    sheets: SheetOptions,
}

/// Prints every session that is without errors, and tells of the others.
pub(super) fn run(arguments: &Arguments) -> Result<Exit, Refusal> {
    let mut teller = Teller::new(arguments.input.format);
    if let Some(folder) = &arguments.output {
        fs::create_dir_all(folder)
            .map_err(|error| Refusal::Write { path: folder.display().to_string(), error })?;
    }
    let mut printed = BTreeSet::new();
    for path in files::expand(&arguments.input.files)? {
        match intake::open(&path) {
            Ok(intake) if intake.is_club => {
                teller.tell(&intake.findings, &intake.sources);
                teller.note(format_args!("{} is a club file; no card is printed", path.display()));
            }
            Ok(intake) if intake.is_block => {
                teller.note(format_args!("{} is a block; no card is printed", path.display()));
            }
            Ok(intake) => {
                if let Err(refusal) = print(&path, intake, arguments, &mut printed, &mut teller) {
                    teller.refused(&refusal);
                }
            }
            Err(error) => teller.refused(&error),
        }
    }
    Ok(teller.finish())
}

fn print(
    path: &Path,
    mut intake: Intake,
    arguments: &Arguments,
    printed: &mut BTreeSet<PathBuf>,
    teller: &mut Teller,
) -> Result<(), Refusal> {
    let mut findings = intake.findings;
    let files = match &intake.ready {
        Some(ready) => {
            let pools = pools(&ready.session, arguments);
            let wishes = arguments.on.wishes(arguments.back);
            let sheets = &arguments.sheets;
            pages::documents(ready, &pools, sheets, &wishes, &mut intake.sources, &mut findings)?
        }
        None => Vec::new(),
    };
    finding::in_file_order(&mut findings);
    teller.tell(&findings, &intake.sources);
    if findings.iter().any(Finding::is_error) {
        return Ok(());
    }
    for document in files {
        let stem = pages::target(path, arguments.output.as_deref(), &document.name);
        let path = stem.with_added_extension("pdf");
        if !printed.insert(path.clone()) {
            return Err(Refusal::SameTarget(path.display().to_string()));
        }
        if let Some(language) = &document.unreviewed {
            teller.note_once(format!(
                "the card's words in \"{language}\" have not been read over by a coach who speaks it"
            ));
        }
        write::whole(&path, &document.bytes)?;
        teller.note(format_args!("wrote {}", path.display()));
        if arguments.preview {
            preview::write_every_page(&stem, &document.bytes, teller)?;
        }
    }
    Ok(())
}

/// The pools asked for; both of the session's without a wish.
fn pools(session: &CheckedSession, arguments: &Arguments) -> Vec<Pool> {
    match arguments.pool {
        Some(pool) => vec![pool],
        None if arguments.as_written => vec![session.pool.value],
        None => vec![session.pool.value, session.other_pool],
    }
}
