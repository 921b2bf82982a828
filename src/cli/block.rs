//! `deckcard block check|show|draft|schema`

mod draft;

use std::collections::BTreeSet;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};

use super::reporter::Reporter;
use super::{Exit, Format, Refusal};
use crate::block::drafting::BLOCK_FILE;
use crate::block::{self, BlockIntake, keys};
use crate::finding::Finding;
use crate::reader::schema;
use crate::report;
use crate::source::Source;

/// What to do with a block.
#[derive(Debug, Args)]
pub(super) struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Check a block and its sessions
    Check {
        #[command(flatten)]
        input: Input,
        /// Show the notes too, which are else only counted
        #[arg(long)]
        notes: bool,
    },
    /// Show a block's weeks: totals, growth, the longest swim without a stop
    Show {
        #[command(flatten)]
        input: Input,
        /// Print JSON
        #[arg(long)]
        json: bool,
    },
    /// Write a whole block: from what can be swum today to what is wanted
    Draft(draft::Arguments),
    /// Print a JSON Schema of the block file, for editors
    Schema,
}

#[derive(Debug, Args)]
struct Input {
    /// The block file, or the folder of a block.toml; - is standard input
    file: PathBuf,
    /// How findings are shown on standard error
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// Runs one of the block's commands.
pub(super) fn run(arguments: &Arguments) -> Result<Exit, Refusal> {
    match &arguments.command {
        Command::Check { input, notes } => {
            let mut reporter = Reporter::new(input.format).of_block().with_notes(*notes);
            report(&opened(&block_file(&input.file)?)?, &mut reporter);
            Ok(reporter.finish())
        }
        Command::Show { input, json } => show(input, *json),
        Command::Draft(arguments) => draft::run(arguments),
        Command::Schema => {
            let schema = schema::of(&keys::BLOCK, "A block of swimming sessions");
            writeln!(io::stdout().lock(), "{schema:#}")?;
            Ok(Exit::Clean)
        }
    }
}

fn show(input: &Input, json: bool) -> Result<Exit, Refusal> {
    let mut reporter = Reporter::of_print(input.format).of_block();
    let intake = opened(&block_file(&input.file)?)?;
    report(&intake, &mut reporter);
    if let Some(block) = &intake.checked {
        let mut out = io::stdout().lock();
        if json {
            let value = report::block::json(block, &intake.findings, &intake.sources);
            writeln!(out, "{value:#}")?;
        } else {
            write!(out, "{}", report::block::table(block))?;
        }
    }
    Ok(reporter.finish())
}

/// The block file named, or in the folder named the one that `block draft` writes.
pub(super) fn block_file(path: &Path) -> Result<PathBuf, Refusal> {
    if path == Path::new("-") || !path.is_dir() {
        return Ok(path.to_owned());
    }
    let file = path.join(BLOCK_FILE);
    match file.is_file() {
        true => Ok(file),
        false => Err(Refusal::NoBlockInFolder(path.display().to_string())),
    }
}

/// Opens a block; a file of another kind is refused.
pub(super) fn opened(path: &Path) -> Result<BlockIntake, Refusal> {
    let intake = block::open(path)?;
    match intake.other {
        Some(kind) => Err(Refusal::no_block(path, kind)),
        None => Ok(intake),
    }
}

/// Reports what is found in a block, then in each of its sessions, every file once.
pub(super) fn report(intake: &BlockIntake, reporter: &mut Reporter) {
    reporter.report(&intake.findings, &intake.sources);
    let mut reported = BTreeSet::new();
    let mut once = |findings: &[Finding], sources: &[Source]| {
        if sources.first().is_some_and(|source| reported.insert(source.path().to_owned())) {
            reporter.report(findings, sources);
        }
    };
    for failed in &intake.failed {
        once(&failed.findings, &failed.sources);
    }
    for (_, session) in intake.checked.iter().flat_map(|block| block.sessions()) {
        once(&session.findings, &session.sources);
    }
}
